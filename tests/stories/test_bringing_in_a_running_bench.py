"""A bench that already runs is listed on one page, pasted, or read from a file: all of it or nothing."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.widgets import TextArea

from tests.stories.telling import ZONE, Screen, Story

LISTED = """\
code  holds                       plant       since      place
K2    2 females Leptidea sinapis  vetchling   Sat        sill 2
K3    same                        same        same       sill 3
K4    1 female Boloria selene     dog violet  23 May     sill 4
E3    41 eggs L. sinapis                      yesterday  A 2
E4    28 eggs B. selene dark                  yesterday  A 3
R5    5 L5 L. sinapis             vetchling   23:30      B 4
R6-R7 same                        same        same       B 5
P2    6 pupae L. sinapis                      20 May     B 7
"""
CODES = ["K2", "K3", "K4", "E3", "E4", "R5", "R6", "R7", "P2"]
KEYS = {"\n": "enter", "\t": "tab", " ": "space"}


def keys(text: str) -> list[str]:
    """A text as the keys that type it."""
    return [KEYS.get(sign, sign) for sign in text]


def typed(screen: Screen) -> str:
    """What stands in the table."""
    return screen.app.screen.query_one(TextArea).text


def listed(story: Story) -> dict[str, list[dict[str, Any]]]:
    """What was recorded, by container."""
    found: dict[str, list[dict[str, Any]]] = {}
    for one in story.on_disk():
        found.setdefault(one.get("container", ""), []).append(one)
    return found


def when(entry: dict[str, Any]) -> str:
    """The local time at which something happened."""
    return datetime.fromisoformat(entry["at"]).astimezone(ZONE).strftime("%d %b %H:%M")


def holds(story: Story) -> dict[str, list[tuple[int, str, int]]]:
    """What stands in each container."""
    standing = story.desk.bench.standing()
    return {one.code: [(lot.number, lot.stage, lot.instar) for lot in one.lots] for one in standing}


HELD = {
    "K2": [(1, "adult", 0), (1, "adult", 0)],
    "K3": [(1, "adult", 0), (1, "adult", 0)],
    "K4": [(1, "adult", 0)],
    "E3": [(41, "egg", 0)],
    "E4": [(28, "egg", 0)],
    "R5": [(5, "larva", 5)],
    "R6": [(5, "larva", 5)],
    "R7": [(5, "larva", 5)],
    "P2": [(6, "pupa", 0)],
}


@pytest.fixture
def evening(story: Story) -> Story:
    """A Thursday evening, and an empty book."""
    return story.at("2027-05-27 19:04")


async def test_the_empty_bench_offers_the_page_and_a_paste_is_recorded_whole(
    evening: Story,
) -> None:
    async with evening.screens() as screen:
        assert "a bench that already runs" in screen.text
        await screen.press("l")
        assert "0 containers; nothing is recorded" in screen.text
        screen.app.post_message(events.Paste(LISTED))
        await screen.pilot.pause()
        assert "9 containers; nothing is recorded" in screen.text
        assert "NEW names: Leptidea sinapis, Boloria selene; vetchling, dog violet." in screen.text
        assert "NEW shelves: sill, A, B." in screen.text
        assert evening.on_disk() == []
        lines = screen.text.splitlines()
        heads = next(line for line in lines if line.startswith(" code")).rstrip()
        eggs = next(line for line in lines if line.startswith(" E3"))
        assert [heads.index(name) for name in ("plant", "since")] == [
            eggs.index(" - ") + 1,
            eggs.index("yesterday"),
        ]
        await screen.press("f10")
        assert "K2" in screen.text
        assert "saved" in screen.message
    assert holds(evening) == HELD
    told = listed(evening)
    assert [when(told[code][0]) for code in CODES] == [
        "22 May 12:00", "22 May 12:00", "23 May 12:00", "26 May 12:00", "26 May 12:00", "26 May 23:30", "26 May 23:30",
        "26 May 23:30", "20 May 12:00",
    ]  # fmt: skip
    for code in CODES:
        began = {
            when(one)
            for one in told[code]
            if one["what"] in ("set up", "founder", "stocked", "host in")
        }
        assert began == {when(told[code][0])}, (
            f"set up, stocked and host in stand at one time: {code}"
        )
    places = {code: (told[code][0].get("shelf"), told[code][0].get("place")) for code in CODES}
    assert places == {"K2": ("sill", 2), "K3": ("sill", 3), "K4": ("sill", 4), "E3": ("A", 2), "E4": ("A", 3), "R5": ("B", 4),
                      "R6": ("B", 5), "R7": ("B", 6), "P2": ("B", 7)}  # fmt: skip
    assert [one["sign"] for one in told["E4"] if one["what"] == "looked"] == ["darkening"]
    hosts = {
        code: [one["plant"] for one in told[code] if one["what"] == "host in"] for code in CODES
    }
    assert hosts["R7"] == ["vetchling"]
    assert hosts["E3"] == hosts["P2"] == [], "eggs and pupae have no plant unless it is said"
    broods = {
        code: [one["brood"] for one in told[code] if one["what"] == "stocked"]
        for code in ("R5", "R6", "R7", "E3")
    }
    assert broods["R5"] == broods["R6"] == broods["R7"] != broods["E3"], "'same' is the same brood"


async def test_one_undo_takes_the_whole_list_back(evening: Story) -> None:
    async with evening.screens() as screen:
        await screen.press("l")
        screen.app.post_message(events.Paste(LISTED))
        await screen.pilot.pause()
        await screen.press("f10", "u")
    assert not list(evening.desk.bench.standing())


async def test_twelve_cups_take_at_most_eight_keys_a_cup_beyond_their_names(evening: Story) -> None:
    rows = [
        ("L2", "1f Leptidea sinapis", "vetchling", "Sat", "sill"), ("L3", "", "", "", ""), ("L4", "", "", "", ""),
        ("L5", "1f Boloria selene", "dog violet", "Sun", ""), ("L6", "", "", "", ""),
        ("E2", "41e Leptidea sinapis", "", "Tue", "A"), ("E3", "28e Boloria selene", "", "Wed", ""),
        ("R2", "5L5 Leptidea sinapis", "vetchling", "22:30", "B"), ("R3-R4", "", "", "", ""),
        ("P2", "6p Leptidea sinapis", "", "Mon", "C"), ("P3", "4p Boloria selene", "", "", ""),
    ]  # fmt: skip
    pressed = keys("\n".join("\t".join(row).rstrip("\t") for row in rows))
    names = sum(
        len(name) for row in rows for name in (row[0], row[1].partition(" ")[2], row[2], row[4])
    )
    async with evening.screens() as screen:
        await screen.press("l", *pressed)
        assert "12 containers; nothing is recorded" in screen.text, screen.text
        await screen.press("f10")
    assert len(holds(evening)) == 12
    assert [one.place for one in evening.desk.bench.standing() if one.shelf == "sill"] == [
        1,
        2,
        3,
        4,
        5,
    ], "as they are listed"
    assert holds(evening)["L4"] == [(1, "adult", 0)]
    assert (len(pressed) + 2 - names) / 12 <= 8


async def test_tab_on_an_empty_line_writes_the_next_code(evening: Story) -> None:
    """Twelve cups of one species, each with its own number: six keys a cup, its code among them."""
    more = "".join(f"\n\t{number}L5" for number in (9, 8, 7, 6, 5, 9, 8, 7, 6, 5, 4))
    pressed = keys(f"R2\t9L5 Boloria dia\tviola\t07:00\tsill{more}")
    async with evening.screens() as screen:
        await screen.press("l", *pressed)
        assert "12 containers; nothing is recorded" in screen.text, screen.text
        await screen.press("f10")
    assert list(holds(evening)) == [f"R{number}" for number in (*range(2, 10), *range(22, 26))]
    assert holds(evening)["R25"] == [(4, "larva", 5)]
    names = len("Boloria dia") + len("viola") + len("sill")
    assert (len(pressed) + 2 - names) / 12 <= 6.5


async def test_twelve_cups_take_at_most_eight_keys_a_cup_with_all_that_is_typed(
    evening: Story,
) -> None:
    """From ``list`` at the prompt to F10, names too: a line that begins with animals gets the next
    code, and the fields stand under their headings while it is typed."""
    rows = ["1f", "3f", "22e", "40e", "31e", "6L3", "9L4", "12L2", "5L5", "6p", "4p"]
    opens, first = keys("tlist\n"), "A3\t2f Melitaea athalia\tcow-wheat\tSat\tsill"
    async with evening.screens() as screen:
        await screen.press(*opens, *keys(first))
        head, _, below = screen.text.partition("code ")[2].partition("\n")
        line = below.partition("\n")[0].removeprefix(" ")
        for heading, field in (
            ("holds", "2f "),
            ("plant", "cow-"),
            ("since", "Sat"),
            ("place", "sill"),
        ):
            assert line.index(field) == f"code {head}".index(heading), screen.text
        await screen.press(*keys("\n1f"))
        assert "A4: laying; 1 female Melitaea athalia; cow-wheat" in screen.words
        await screen.press(*keys("\n" + "\n".join(rows[1:])))
        assert "12 containers; nothing is recorded" in screen.text, screen.text
        await screen.press("f10")
    assert list(holds(evening)) == [f"A{number}" for number in (*range(3, 10), *range(22, 27))]
    assert holds(evening)["A9"] == [(6, "larva", 3)]
    pressed = len(opens) + len(first) + len("\n" + "\n".join(rows)) + 1
    assert pressed / 12 <= 8


async def test_a_bare_code_below_a_line_without_a_time_repeats_it(evening: Story) -> None:
    async with evening.screens() as screen:
        await screen.press("l", *keys("R2\t9L5 Boloria dia\tviola\nR4\n"))
        assert "2 containers; nothing is recorded" in screen.text, screen.text


async def test_tab_passes_a_field_over_with_what_stands_for_it(evening: Story) -> None:
    """One backspace then takes the gap back."""
    async with evening.screens() as screen:
        await screen.press("l", *keys("K2\t2f Boloria dia\t\tSat\tsill\nE2\t40e\t\tTue"))
        rows = typed(screen).splitlines()
        assert [re.split(r"\s{2,}", row) for row in rows] == [
            ["K2", "2f Boloria dia", "-", "Sat", "sill"],
            ["E2", "40e", "-", "Tue"],
        ]
        assert rows[0].index("Sat") == rows[1].index("Tue")
        await screen.press("tab", "backspace")
        assert typed(screen).endswith("Tue")
        await screen.press(*keys("  B 2"))
        assert typed(screen).splitlines()[1].index("B 2") == rows[0].index("sill")


async def test_the_next_code_is_one_that_nobody_has(evening: Story) -> None:
    evening.type("R3 set up rearing", "R3 2 L5 Boloria dia")
    async with evening.screens() as screen:
        await screen.type("list")
        await screen.press(*keys("R2\t9L5 Boloria dia\tviola\n\t\n\t"))
        assert "R4" in typed(screen)
        assert "R5" in typed(screen)
        assert "R3" not in typed(screen)


async def test_a_line_to_mend_keeps_back_the_rest_and_f2_says_yes(evening: Story) -> None:
    async with evening.screens() as screen:
        await screen.press("l", *keys("K2\t1 female Leptidea sinapis\nP2\t6 pupea L. sinapis"))
        assert "1 container, 1 to correct; nothing is recorded" in screen.text
        assert "P2: 'pupea' is not known. Is it pupae?" in screen.text, screen.text
        await screen.press("f10")
        assert "P2: please answer" in screen.text
        assert evening.on_disk() == []
        await screen.press("f2")
        assert "2 containers; nothing is recorded" in screen.text
        await screen.press("f10")
    assert holds(evening)["P2"] == [(6, "pupa", 0)]


async def test_a_slip_in_a_name_is_asked_about_and_does_not_become_a_species(
    evening: Story,
) -> None:
    async with evening.screens() as screen:
        await screen.press(
            "l",
            *keys(
                "K2\t1 female Leptidea sinapis\tvetchling\nK3\t1 female Leptidea sinapsis\tvetchlign"
            ),
        )
        assert "perhaps Leptidea sinapis" in screen.text
        await screen.press("f2")
        assert "perhaps vetchling" in screen.text
        await screen.press("f2", "f10")
    assert {one["taxon"] for one in evening.on_disk() if one["what"] == "founder"} == {
        "Leptidea sinapis"
    }
    assert {one["plant"] for one in evening.on_disk() if one["what"] == "host in"} == {"vetchling"}


async def test_what_was_typed_is_there_again_after_leaving(evening: Story) -> None:
    async with evening.screens() as screen:
        await screen.press("l", *keys("K2  2 females Leptidea sinapis\nqq"), "escape")
        assert evening.on_disk() == []
        await screen.press("l")
        assert typed(screen).endswith("qq"), "the same letter twice is text"
        assert "2 females Leptidea sinapis" in typed(screen)
        await screen.press("f1")
        assert "One line per container" in screen.text


async def test_a_bench_that_stands_takes_more_by_the_word_list(evening: Story) -> None:
    evening.type(
        "shelf set up sill", "K2 set up laying shelf=sill place=2", "K2 founder W1 Boloria female"
    )
    async with evening.screens() as screen:
        await screen.type("list")
        await screen.press(
            *keys("K2\t1 female Leptidea sinapis\nK3\t1 female Leptidea sinapis\t\t\tsill 2")
        )
        assert "K2: K2 stands already, and not empty" in screen.text
        assert "K3: place sill 2 is taken by K2; it gets sill 3." in screen.text
    assert [one["what"] for one in evening.on_disk()] == [
        "setting",
        "shelf set up",
        "set up",
        "founder",
    ]


def test_the_shell_reads_the_same_table_from_a_file_or_from_standard_input(
    evening: Story, tmp_path: Path
) -> None:
    file = tmp_path / "bench.txt"
    file.write_text(LISTED)
    ran = evening.shell("begin", "--list", str(file))
    assert (ran.status, ran.err) == (0, ""), ran.err
    assert (
        "K2: laying; 2 females Leptidea sinapis; vetchling; since 22 May 12:00; sill 2" in ran.out
    )
    assert "NEW names: Leptidea sinapis, Boloria selene; vetchling, dog violet." in ran.out
    assert "9 containers are saved" in ran.out
    evening.reopen()
    assert holds(evening) == HELD

    again = evening.shell("begin", "--list", "-", typed="Z2\t3 eggs\nK2\tsame\n")
    assert again.status == 1
    assert "line 1, Z2: 3 eggs of which species?" in again.err
    assert "line 2, K2: " in again.err
    assert "nothing is recorded" in again.err
    added = evening.shell("begin", "--list", "-", typed="Z2\t3 eggs Leptidea sinapis\n")
    assert added.status == 0
    evening.reopen()
    assert len(holds(evening)) == 10


def test_fields_with_one_space_between_them_are_no_hidden_note(evening: Story) -> None:
    line = "P1  6 pupae Leptidea sinapis - - C 1\n"
    ran = evening.shell("begin", "--list", "-", typed=line)
    assert ran.status == 1
    assert "two spaces or a tab stand between fields" in ran.err
    right = "P1  6 pupae Leptidea sinapis  -  -  C 1\n"
    assert evening.shell("begin", "--list", "-", typed=right).status == 0
    evening.reopen()
    cup = evening.desk.bench.containers["P1"]
    assert (cup.shelf, cup.place) == ("C", 1)
    assert not any(
        entry["what"] == "note" and "C 1" in entry["text"] for entry in evening.on_disk()
    )


def test_a_table_of_a_spreadsheet_names_its_own_columns(evening: Story) -> None:
    table = (
        "Cup\tFor\tHow many\tStage\tSpecies\tHost plant\tSince\n"
        "7\tlaying\t2\tfemales\tLeptidea sinapis\tvetchling\t-5d\n"
        "7b\trearing\t12\tL3\tLeptidea sinapis\tvetchling\t?\n"
    )
    ran = evening.shell("begin", "--list", "-", typed=table)
    assert (ran.status, ran.err) == (0, "")
    assert holds(evening) == {"7": [(1, "adult", 0), (1, "adult", 0)], "7b": [(12, "larva", 3)]}
    notes = [one for one in evening.on_disk() if one["what"] == "note"]
    assert [(one["container"], one["text"]) for one in notes] == [
        ("7b", "listed as it ran; since when it runs is not known")
    ]


def test_a_table_without_headings_may_have_purpose_what_and_how_many(evening: Story) -> None:
    table = "L2\tlaying\tfemales Leptidea sinapis\t2\tvetchling\tSat\nW2\toverwintering\tpupae\t40\t\t-60d\n"
    ran = evening.shell("begin", "--list", "-", typed=table)
    assert (ran.status, ran.err) == (0, "")
    purposes = {one.code: one.purpose for one in evening.desk.bench.standing()}
    assert purposes == {"L2": "laying", "W2": "overwintering"}
    assert holds(evening)["W2"] == [(40, "pupa", 0)]


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ("K2\t2 females", "2 females of which species?"),
        ("K2\t2 females L. sinapis", "write the genus out the first time"),
        ("K2", "what is in it, or what is it for?"),
        ("K2\t0 eggs Leptidea sinapis", "0 is not a number of animals"),
        ("K2\teggs Leptidea sinapis", "how many eggs?"),
        ("K2\t5 L5 Leptidea sinapis\tvetchling\tsomeday", "'someday' is not a time"),
        ("K2\t5 L5 Leptidea sinapis\tvetchling\ttomorrow", "ahead of now"),
        ("K2\tlaying\nk2\tlaying", "K2 stands already"),
        ("K2\tsame", "as what?"),
        ("K2\tlaying\tviolet\t-2d\tsill 2\tmore", "delete what is after the place: 'more'"),
        ("", "no container is listed yet"),
    ],
)
def test_what_cannot_be_read_is_told_at_its_line_and_nothing_is_recorded(
    evening: Story, table: str, told: str
) -> None:
    ran = evening.shell("begin", "--list", "-", typed=table)
    assert ran.status == 1
    assert told in ran.err
    assert evening.on_disk() == []


def test_an_empty_cup_that_stands_is_filled_by_the_list(evening: Story) -> None:
    evening.type("shelf set up A", "L2 set up laying shelf=A place=1", "R5 set up holding")
    evening.later(minutes=10)
    table = "L2\t2 females Leptidea sinapis\tvetchling\tnow\tA 1\nR5\t14 L3 Leptidea sinapis\tvetchling\tnow\tA 2\n"
    ran = evening.shell("begin", "--list", "-", typed=table)
    assert (ran.status, ran.err) == (0, "")
    evening.reopen()
    assert holds(evening) == {"L2": [(1, "adult", 0), (1, "adult", 0)], "R5": [(14, "larva", 3)]}
    stands = {
        one.code: (one.purpose, one.shelf, one.place) for one in evening.desk.bench.standing()
    }
    assert stands == {"L2": ("laying", "A", 1), "R5": ("rearing", "A", 2)}
    assert [one["what"] for one in evening.on_disk()].count("set up") == 2
    again = evening.shell("begin", "--list", "-", typed=table)
    assert "L2 stands already, and not empty" in again.err


def test_a_cup_that_stood_empty_until_now_is_filled_from_then_and_the_list_is_noted(
    evening: Story,
) -> None:
    evening.type("L2 1 female Leptidea sinapis", "L2 died 1")
    ran = evening.shell(
        "begin", "--list", "-", typed="L2\t2 females Leptidea sinapis\tvetchling\tSat\n"
    )
    assert (ran.status, ran.err) == (0, "")
    assert "L2 stands there, empty until" in ran.out
    evening.reopen()
    assert evening.desk.bench.containers["L2"].females == 2
    (note,) = [one["text"] for one in evening.on_disk() if one["what"] == "note"]
    assert note.startswith("listed with what it holds since ")
    assert evening.shell("check").status == 0


def test_a_cup_is_filled_once_in_a_list(evening: Story) -> None:
    evening.type("L2 set up laying")
    ran = evening.shell(
        "begin",
        "--list",
        "-",
        typed="L2\t2 females Leptidea sinapis\nl2\t3 females Leptidea sinapis\n",
    )
    assert "line 2" in ran.err
    assert "L2 stands already" in ran.err


def test_a_code_that_was_closed_later_is_told_at_its_line_and_nothing_is_recorded(
    evening: Story,
) -> None:
    evening.type("R5 set up rearing", "R5 closed")
    before = evening.on_disk()
    ran = evening.shell(
        "begin", "--list", "-", typed="R5\t14 L3 Boloria lapidata\tviola\t20 May\tA 2\n"
    )
    assert ran.status == 1
    assert "line 1, R5: since: another R5 stood here until" in ran.err
    assert evening.on_disk() == before
    assert (
        evening.shell(
            "begin", "--list", "-", typed="R5\t14 L3 Boloria lapidata\tviola\tnow\tA 2\n"
        ).status
        == 0
    )
    evening.reopen()
    assert holds(evening)["R5"] == [(14, "larva", 3)]
    assert not any("not fit" in line.lower() for line in evening.shell("due").err.splitlines())


async def test_escape_closes_the_help_and_leaves_the_list(evening: Story) -> None:
    async with evening.screens() as screen:
        await screen.press("l", *keys("K2  2"), "f1")
        assert "F2 says yes to a question" in screen.words
        await screen.press("escape")
        assert "F2 says yes to a question" not in screen.words
        assert typed(screen).startswith("K2"), "the list stands as it was"
        await screen.press("escape")
        assert "Nothing stands" in screen.text


@pytest.mark.parametrize("page", ["v", "y", "p", "full_stop", "i", "z", "6", "8", "k", "b", "m"])
async def test_escape_closes_the_help_on_every_page_and_no_more(evening: Story, page: str) -> None:
    evening.type("K2 set up laying")
    async with evening.screens() as screen:
        await screen.press(page)
        below = screen.app.screen
        await screen.press("question_mark")
        assert screen.app.screen is not below
        await screen.press("escape")
        assert screen.app.screen is below


def test_a_spreadsheet_of_the_running_bench_is_read(evening: Story, tmp_path: Path) -> None:
    """Written by another package, with a true date in a cell."""
    openpyxl = pytest.importorskip("openpyxl")
    pytest.importorskip("python_calamine")
    book = openpyxl.Workbook()
    for row in (
        ["code", "holds", "plant", "since", "place"],
        ["K2", "2 females Leptidea sinapis", "vetchling", datetime(2027, 5, 22, 9, 30), "sill 2"],
        ["E3", "41 eggs L. sinapis", "-", datetime(2027, 5, 26, 7, 0), "A 2"],
    ):
        book.active.append(row)
    book.save(tmp_path / "bench.xlsx")
    ran = evening.shell("begin", "--list", str(tmp_path / "bench.xlsx"))
    assert ran.status == 0, ran.err
    evening.reopen()
    assert holds(evening) == {"K2": HELD["K2"], "E3": HELD["E3"]}
    (set_up,) = [one for one in listed(evening)["K2"] if one["what"] == "set up"]
    assert when(set_up) == "22 May 09:30"


async def test_twelve_mixed_cups_take_at_most_eight_keys_a_cup_beyond_names(evening: Story) -> None:
    """Two species in turn, each on its own plant, at their own times and places, some under codes
    of their own: a plant is said once for each species."""
    lines = (
        "R2\t9L5 Boloria dia\tviola\t07:00\tsill",
        "R3-R5\t8L5",
        "K2\t2f Boloria selene\tdog violet\tSat\tA",
        "\t1f dia",
        "\t1f selene",
        "E2\t41e dia\t\tTue\tB",
        "\t28e selene",
        "R6\t7L5 dia\t\t22:30\tsill",
        "\t6L4 selene",
        "P2\t6p dia\t\tMon\tC",
    )
    pressed = keys("\n".join(lines))
    async with evening.screens() as screen:
        await screen.press("l", *pressed)
        assert "12 containers; nothing is recorded" in screen.text, screen.text
        await screen.press("f10")
    on = {one.code: [host.plant for host in one.hosts] for one in evening.desk.bench.standing()}
    assert on["K3"] == on["R6"] == on["R5"] == ["viola"]
    assert on["K2"] == on["K4"] == on["R7"] == ["dog violet"]
    rows = [one.split("\t") for one in lines]
    cells = [(row[0], row[1].partition(" ")[2], *row[2:3], *row[4:5]) for row in rows]
    names = sum(len(cell) for row in cells for cell in row)
    assert (len(pressed) + 2 - names) / 12 <= 8


async def test_a_list_typed_and_not_recorded_is_there_at_the_next_start(story: Story) -> None:
    """Escape and ``q`` without a word must not throw a table away; once recorded it is gone."""
    rows = "B2  3f Euphydryas maturna  ash  Sat  sill\nB3  12L3\nB4  40e"
    async with story.screens() as screen:
        await screen.press("l", *keys(rows), "escape")
        assert "3 lines typed, not recorded yet" in screen.words
        await screen.press("q")
    story.reopen()
    async with story.screens() as screen:
        await screen.press("l")
        assert [row.split()[0] for row in typed(screen).splitlines()] == ["B2", "B3", "B4"]
        await screen.press("ctrl+c")  # with the page in front
    story.reopen()
    async with story.screens() as screen:
        await screen.press("l", "f10")
        assert {"B2", "B3", "B4"} <= set(holds(story))
        await screen.type("list")
        assert typed(screen) == ""
    story.reopen()
    async with story.screens() as screen:
        await screen.type("list")
        assert typed(screen) == ""
