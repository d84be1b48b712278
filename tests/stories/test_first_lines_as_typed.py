"""First lines of animals and plants in the orders and words of a keeper: no word ends silently in the name of a species, a plant or a place."""

from __future__ import annotations

from typing import Any

import pytest

from tests.stories.telling import Story

SPECIES = "Zerynthia montana"
STANDING = ("D2 set up laying", "R4 set up rearing", "E3 set up eggs", "F5 set up pupation")


@pytest.fixture
def keeper(story: Story) -> Story:
    story.at("2027-06-01 08:00").type(*STANDING)
    return story.at("2027-06-10 18:00")  # a Thursday


def recorded(keeper: Story, line: str) -> dict[str, dict[str, Any]]:
    """What a line records, by kind; every new name stands in the preview before."""
    shown, before = keeper.preview(line), len(keeper.on_disk())
    keeper.type(line)
    entries = {entry["what"]: entry for entry in keeper.on_disk()[before:]}
    for entry in entries.values():
        for field in ("taxon", "plant", "found_on", "place"):
            assert str(entry.get(field, "")) in shown
    return entries


def check(entries: dict[str, dict[str, Any]], kind: str, **wanted: str) -> None:
    """One entry says just these of its names, times and places, and no other."""
    fields = ("taxon", "place", "found_on", "caught", "collector", "wear", "plant", "part", "cut")
    fields = (*fields, "source", "kept", "origin", "sprigs", "instar", "number")
    entry = entries[kind]
    for field in fields:
        said = str(entry.get(field, ""))
        if field in wanted:
            size = len(wanted[field]) if field in ("caught", "cut") else None
            assert said[:size] == wanted[field], (field, entry)
        elif field not in ("cut", "kept", "number"):
            assert not said, (field, entry)


# Of a female: what is typed behind her name, and what is recorded of her; 'note' is the note.
FOUND: dict[str, dict[str, str]] = {
    "": {},
    "at Mill ditch caught 2 Jun 12:10 carried cool": {
        "place": "Mill ditch",
        "caught": "2027-06-02T12:10",
        "note": "carried cool",
    },
    "carried cool at Mill ditch": {"place": "Mill ditch", "note": "carried cool"},
    "transported cool": {"note": "transported cool"},
    "from Mill ditch transported in a cool box": {
        "place": "Mill ditch",
        "note": "transported in a cool box",
    },
    "in a cool box": {"note": "in a cool box"},
    "from Mill ditch in a cool box": {"place": "Mill ditch", "note": "in a cool box"},
    "in a cool box from Mill ditch": {"place": "Mill ditch", "note": "in a cool box"},
    "driven 3 h": {"note": "driven 3 h"},
    "from Mill ditch driven 3 h": {"place": "Mill ditch", "note": "driven 3 h"},
    "at Mill ditch, carried cool and dark": {
        "place": "Mill ditch",
        "note": "carried cool and dark",
    },
    "kept cool at 8 C caught 5 Jun at Mill ditch": {
        "place": "Mill ditch",
        "caught": "2027-06-05T12:00",
        "note": "kept cool at 8 C",
    },
    "caught Monday": {"caught": "2027-06-07T12:00"},
    "caught Monday 14:20": {"caught": "2027-06-07T14:20"},
    "caught Saturday 5 Jun": {"caught": "2027-06-05T12:00"},
    "caught Sat 5 Jun 14:20 at Mill ditch": {
        "place": "Mill ditch",
        "caught": "2027-06-05T14:20",
    },
    "caught 5 June 2027 at Mill ditch": {"place": "Mill ditch", "caught": "2027-06-05T12:00"},
    "caught this morning at 9:30": {"caught": "2027-06-10T09:30"},
    "caught this morning at 9:30 at Mill ditch": {
        "place": "Mill ditch",
        "caught": "2027-06-10T09:30",
    },
    "caught at Mill ditch this morning at 9:30": {
        "place": "Mill ditch",
        "caught": "2027-06-10T09:30",
    },
    "caught at Mill ditch yesterday 14:00": {
        "place": "Mill ditch",
        "caught": "2027-06-09T14:00",
    },
    "netted at Mill ditch yesterday 14:00": {
        "place": "Mill ditch",
        "caught": "2027-06-09T14:00",
    },
    "found Monday": {"caught": "2027-06-07T12:00"},
    "found on birthwort": {"found_on": "birthwort"},
    "found on birthwort Monday": {"found_on": "birthwort", "caught": "2027-06-07T12:00"},
    "found Monday on birthwort": {"found_on": "birthwort", "caught": "2027-06-07T12:00"},
    "found on birthwort at Mill ditch Monday 9:00": {
        "found_on": "birthwort",
        "place": "Mill ditch",
        "caught": "2027-06-07T09:00",
    },
    "found on the birthwort near Mill ditch, in a glassine envelope": {
        "found_on": "birthwort",
        "place": "Mill ditch",
        "note": "in a glassine envelope",
    },
    "from Mill ditch": {"place": "Mill ditch"},
    "near Mill ditch": {"place": "Mill ditch"},
}


@pytest.mark.parametrize("said", FOUND)
@pytest.mark.parametrize("line", ["D2 founder W1 {} female {}", "L6 1 female {} {}"])
def test_a_female_caught(keeper: Story, line: str, said: str) -> None:
    entries = recorded(keeper, line.format(SPECIES, said))
    wanted = dict(FOUND[said])
    assert entries.get("note", {}).get("text", "") == wanted.pop("note", "")
    check(entries, "founder", taxon=SPECIES, **wanted)
    assert entries["founder"]["at"][:10] == "2027-06-10"
    assert "host in" not in entries


# Lines of other animals, whole, with what is recorded of the kind named.
OTHERS: list[tuple[str, str, dict[str, str]]] = [
    ("D2 founder W1 Zerynthia montana caught 5 Jun at Mill ditch by KM carried cool, worn", "founder", {"taxon": SPECIES, "place": "Mill ditch", "caught": "2027-06-05", "collector": "KM", "wear": "worn"}),
    ("D2 founder W1 female Zerynthia montana in a jar, from Mill ditch", "founder", {"taxon": SPECIES, "place": "Mill ditch"}),
    ("D2 founder W1 Zerynthia montana found, worn", "founder", {"taxon": SPECIES, "wear": "worn"}),
    ("D2 founder W1 Zerynthia montana female found", "founder", {"taxon": SPECIES}),
    ("D2 founder W1 Zerynthia montana larva found on birthwort", "founder", {"taxon": SPECIES, "found_on": "birthwort"}),
    ("L6 2 females Zerynthia montana from Mill ditch on birthwort 3 stems", "host in", {"plant": "birthwort", "sprigs": "3"}),
    ("L6 2 females Zerynthia montana caught at Mill ditch Tuesday 14:20 on birthwort", "host in", {"plant": "birthwort"}),
    ("L6 2 females Zerynthia montana since Tuesday", "founder", {"taxon": SPECIES}),
    ("L6 2 females Zerynthia montana in a cool box on birthwort flower buds", "host in", {"plant": "birthwort", "part": "flower buds"}),
    ("R7 12 larvae Zerynthia montana found on birthwort Saturday 5 Jun", "stocked", {"found_on": "birthwort", "caught": "2027-06-05T12:00", "number": "12"}),
    ("R7 12 larvae Zerynthia montana found on birthwort at Mill ditch", "stocked", {"place": "Mill ditch", "found_on": "birthwort", "number": "12"}),
    ("R7 12 larvae Zerynthia montana found at Mill ditch on birthwort", "host in", {"plant": "birthwort"}),
    ("R7 12 larvae Zerynthia montana Saturday 5 Jun", "brood", {"taxon": SPECIES}),
    ("R7 12 L3 Zerynthia montana from Mill ditch on birthwort since yesterday", "stocked", {"origin": "Mill ditch", "instar": "3"}),
    ("R7 8 larvae of Zerynthia montana L3 on mullein flower spikes", "stocked", {"instar": "3"}),
    ("R7 8 larvae of Zerynthia montana L3 on mullein flower spikes", "host in", {"plant": "mullein", "part": "flower spikes"}),
    ("E6 about 40 eggs Zerynthia montana on cowslip leaf, found Sunday", "host in", {"plant": "cowslip", "part": "leaf"}),
    ("L6 2 females of Zerynthia montana caught by AB at Mill ditch yesterday 15:00", "founder", {"taxon": SPECIES, "place": "Mill ditch", "collector": "AB", "caught": "2027-06-09T15:00"}),
    ("L6 2 females of Zerynthia montana at Mill ditch by AB", "founder", {"taxon": SPECIES, "place": "Mill ditch", "collector": "AB"}),
    ("R7 12 L3 Zerynthia montana carried cool from Mill ditch", "stocked", {"origin": "Mill ditch", "instar": "3"}),
    ("R7 12 L3 Zerynthia montana on birthwort young leaves yesterday", "host in", {"plant": "birthwort", "part": "young leaves"}),
    ("E6 20 eggs Zerynthia montana found on birthwort Monday", "stocked", {"found_on": "birthwort", "caught": "2027-06-07T12:00", "number": "20"}),
    ("E6 20 eggs Zerynthia montana from Mill ditch in a pill box", "stocked", {"origin": "Mill ditch", "number": "20"}),
    ("F6 6 pupae Zerynthia montana dug up at Mill ditch", "stocked", {"place": "Mill ditch", "number": "6"}),
    ("F6 6 pupae Zerynthia montana posted in a tin, from Mill ditch", "stocked", {"origin": "Mill ditch", "number": "6"}),
    ("D2 host in spurge since yesterday", "host in", {"plant": "spurge"}),
    ("D2 host in spurge since Tuesday", "host in", {"plant": "spurge"}),
    ("D2 host in spurge since 9:00", "host in", {"plant": "spurge"}),
    ("D2 host in spurge 3 stems since Sat 5 Jun", "host in", {"plant": "spurge", "sprigs": "3"}),
    ("D2 host in 3 stems of spurge from Mill ditch", "host in", {"plant": "spurge", "sprigs": "3", "source": "Mill ditch"}),
    ("D2 host in spurge flower buds cut yesterday 18:00", "host in", {"plant": "spurge", "part": "flower buds", "cut": "2027-06-09T18:00"}),
    ("D2 host in young leaves of spurge", "host in", {"plant": "spurge", "part": "young leaves"}),
    ("D2 host in spurge cut at Mill ditch yesterday 18:00", "host in", {"plant": "spurge", "source": "Mill ditch", "cut": "2027-06-09T18:00"}),
    ("D2 host in spurge in a pot", "host in", {"plant": "spurge", "kept": "potted"}),
    ('D2 host in "spurge wet"', "host in", {"plant": "spurge wet"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("L6 2 females Zerynthia montana Cold Bank", "Zerynthia montana from Cold Bank"),
        ("D2 founder W1 Zerynthia montana Cold Bank", "from Cold Bank"),
        ("D2 founder W1 Zerynthia montana female Cold Bank", "from Cold Bank"),
    ],
)
def test_a_place_behind_the_epithet_is_asked_about(keeper: Story, line: str, said: str) -> None:
    assert f"a place is said as: {said}" in keeper.refused(line)
    place = recorded(keeper, line.replace(" Cold Bank", " from Cold Bank"))["founder"]["place"]
    assert place == "Cold Bank"


@pytest.mark.parametrize("name", ["Zerynthia montana (Esper, 1783)", "Zerynthia montana L.", "Zerynthia montana alpina"])  # fmt: skip
def test_who_named_it_belongs_to_the_name(keeper: Story, name: str) -> None:
    assert recorded(keeper, f"L6 2 females {name}")["founder"]["taxon"] == name
    assert recorded(keeper, f"D2 founder W1 {name}")["founder"]["taxon"] == name


# What is told of them beside, and where they come from.
BESIDE: dict[str, tuple[str, str]] = {
    "L6 3 females Zerynthia montana from Mill ditch caught Fri 4 Jun 15:10 in a cool box, two of them worn": (
        "Mill ditch",
        "in a cool box, two of them worn",
    ),
    "L6 1 female Zerynthia montana at Mill ditch, one wing torn": ("Mill ditch", "one wing torn"),
    "L6 1 female Zerynthia montana at Mill ditch, Northshire": ("Mill ditch, Northshire", ""),
    "F6 6 pupae Zerynthia montana in moss": ("", "in moss"),
    "F6 6 pupae Zerynthia montana in damp moss from Mill ditch": ("Mill ditch", "in damp moss"),
}


@pytest.mark.parametrize("line", BESIDE)
def test_what_is_told_of_them_is_a_note_and_no_place(keeper: Story, line: str) -> None:
    entries = recorded(keeper, line)
    came = entries.get("founder") or entries["stocked"]
    place = came.get("place") or came.get("origin", "")
    assert (place, entries.get("note", {}).get("text", "")) == BESIDE[line]


@pytest.mark.parametrize("code", ["E3", "E6"])
def test_eggs_from_a_cup_of_the_bench_are_on_record_there(keeper: Story, code: str) -> None:
    keeper.type("D2 founder W1 Zerynthia montana")
    asked = keeper.refused(f"{code} 9 eggs Zerynthia montana from D2")
    search, moved = asked.partition("as: ")[2].split(", then ")
    keeper.type(search, moved)
    assert keeper.desk.bench.containers[code].count("egg") == 9


@pytest.mark.parametrize(("line", "kind", "wanted"), OTHERS)
def test_animals_and_plants_that_come_in(
    keeper: Story, line: str, kind: str, wanted: dict[str, str]
) -> None:
    check(recorded(keeper, line), kind, **wanted)


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("D2 host in spurge since yesterday", "2027-06-09"),
        ("D2 host in spurge since Tuesday", "2027-06-08"),
        ("D2 host in spurge since Sat 5 Jun", "2027-06-05"),
        ("L6 2 females Zerynthia montana since Tuesday", "2027-06-08"),
        ("R7 12 larvae Zerynthia montana found on birthwort Saturday 5 Jun", "2027-06-05"),
        ("R7 12 larvae Zerynthia montana Saturday 5 Jun", "2027-06-05"),
        ("E6 20 eggs Zerynthia montana found Monday", "2027-06-07"),
    ],
)
def test_the_day_is_that_of_the_line(keeper: Story, line: str, day: str) -> None:
    assert {entry["at"][:10] for entry in recorded(keeper, line).values()} == {day}


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("D2 host in spurge wet", "wet"),
        ("D2 host in spurge wilted", "wilted"),
        ("D2 host in spurge soaked yesterday", "soaked"),
        ("D2 host in spurge since it rained", "since"),
        ("D2 founder W1 Zerynthia montana female at Mill ditch until the rain", "until"),
        ("R4 host in spurge washed", "washed"),
        ("R4 host in spurge same as before", "before"),
    ],
)
def test_a_word_of_something_else_is_asked_about(keeper: Story, line: str, word: str) -> None:
    asked = keeper.refused(line)
    assert f"'{word}' is no part of a name" in asked
    assert keeper.preview(line) == asked
    keeper.type(asked.partition("as: ")[2].partition("; if it is")[0])
    assert word in next(entry for entry in keeper.on_disk() if entry["what"] == "note")["text"]


@pytest.mark.parametrize("line", ["L6 1 female Zerynthia montana laid in the night", "E6 20 eggs Zerynthia montana laid in the box on the way"])  # fmt: skip
def test_also_of_a_cup_that_does_not_stand(keeper: Story, line: str) -> None:
    assert "'laid' is not understood behind 'Zerynthia montana'" in keeper.refused(line)


@pytest.mark.parametrize("name", ["wet spurge", "leaf beet", "winter heliotrope", "cut-leaved geranium"])  # fmt: skip
def test_a_name_that_has_such_a_word_in_it_is_a_name(keeper: Story, name: str) -> None:
    keeper.type(f'R4 host in "{name} wet"', f"R4 host in {name} wet")
    assert {entry["plant"] for entry in keeper.on_disk() if entry["what"] == "host in"} == {
        f"{name} wet"
    }


@pytest.mark.parametrize(
    ("line", "wear", "note"),
    [
        ("W6 1 wild gravid female Zerynthia montana on spurge", "", "gravid"),
        ("W6 1 gravid wild female Zerynthia montana on spurge", "", "gravid"),
        ("W6 wild gravid female Zerynthia montana on spurge", "", "gravid"),
        ("W6 gravid female Zerynthia montana on spurge", "", "gravid"),
        ("W6 1 female Zerynthia montana worn on spurge", "worn", ""),
        ("W6 1 female Zerynthia montana very worn on spurge", "very worn", ""),
        ("W6 1 wild female Zerynthia montana fresh, mated on spurge", "fresh", "mated"),
    ],
)
def test_how_she_is_is_said_of_her_and_is_no_part_of_a_name(
    keeper: Story, line: str, wear: str, note: str
) -> None:
    entries = recorded(keeper, line)
    check(entries, "founder", taxon=SPECIES, **({"wear": wear} if wear else {}))
    assert entries["founder"]["sex"] == "female"
    assert entries["host in"]["plant"] == "spurge"
    assert entries.get("note", {}).get("text", "") == note
    assert {entry.get("container", "W6") for entry in entries.values()} == {"W6"}


@pytest.mark.parametrize(
    ("state", "wear", "note"),
    [
        ("worn", "worn", ""),
        ("fresh", "fresh", ""),
        ("gravid", "", "gravid"),
        ("mated", "", "mated"),
    ],
)
def test_also_where_she_comes_in_by_her_code(
    keeper: Story, state: str, wear: str, note: str
) -> None:
    entries = recorded(keeper, f"D2 founder W1 Zerynthia montana {state}")
    check(entries, "founder", taxon=SPECIES, **({"wear": wear} if wear else {}))
    assert entries.get("note", {}).get("text", "") == note


@pytest.mark.parametrize(
    "line",
    [
        "1 wild gravid female Zerynthia montana on spurge",
        "gravid female Zerynthia montana on spurge",
        "1 female Zerynthia montana worn on spurge",
        "20 eggs Zerynthia montana",
    ],
)
def test_animals_without_a_container_are_asked_for_it(keeper: Story, line: str) -> None:
    asked = keeper.refused(line)
    assert asked == f"into which container? Say it first, as: K2 {line}"
    keeper.type(asked.partition("as: ")[2])
    came = [one for one in keeper.on_disk() if one["what"] in ("founder", "stocked")]
    assert [one["container"] for one in came] == ["K2"]


@pytest.mark.parametrize(
    ("typed", "word"),
    [
        ("R5 1 female Melitaea cinxia voucher=P7", "voucher=P7"),
        ("E8 20 eggs Papilio machaon laid=28May", "laid=28May"),
        ("R2 6 L3 Vanessa borealis on Trifolium sure", "sure"),
    ],
)
def test_a_field_or_a_word_of_the_tool_ends_no_name(story: Story, typed: str, word: str) -> None:
    refused = story.refused(typed)
    assert f"'{word}'".casefold() in refused.casefold()
    assert story.on_disk() == []
