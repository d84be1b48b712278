"""The neighbour's sheet: what to do at each visit, with which plant from where, what is normal, and when to telephone."""

from __future__ import annotations

import html
import json
import re
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell, tell_demo

BENCH = """
setting bench Marl Cottage bench
setting evening 19:00
shelf set up A
taxon Smerinthus ocellata instars=5
taxon Leptidea sinapis instars=5
K2 set up laying shelf A
K2 founder SIN-1, Leptidea sinapis female
K2 host in vetchling leaf water
E5 set up eggs shelf A
E5 stocked 12 eggs SIN-1
R2 set up rearing shelf A
R2 founder OCE-1, Smerinthus ocellata larva
R2 host in sallow leaf damp paper
P2 set up pupation shelf A
P2 stocked 4 pupae SIN-1
W2 set up overwintering shelf A
W2 stocked 3 pupae SIN-1
S7 set up host store shelf A
S7 host in sallow leaf fridge
"""
TO = ("--from", "2027-05-02 08:00", "--to", "2027-05-04 12:00")
VISITS = ["Sun 2 May 19:00", "Mon 3 May 07:00", "Mon 3 May 19:00", "Tue 4 May 07:00"]


def told(story: Story, *more: str) -> tuple[str, str]:
    """The sheet as plain text, and what the command says to the keeper besides."""
    ran = story.shell("sheet", *(more or TO))
    assert ran.status == 0, ran.err
    return ran.out, ran.err


BOXES: dict[str, bool | str] = {"[": True, "(": "look", "-": False}


def places(sheet: str) -> dict[str, tuple[str, list[list[bool | str]]]]:
    """By the first word of each numbered place: all its words, and the boxes of each of its rows."""
    found: dict[str, tuple[str, list[list[bool | str]]]] = {}
    name = ""
    for line in sheet.splitlines():
        words = (
            re.sub(r" +(\[ +\]|\( +\)|--(?= |$))", "", line).strip()
            if line[:3].strip().isdigit() or line[:3] == "   "
            else ""
        )
        if line[:3].strip().isdigit() and not words.startswith("Visits"):
            words = words.split(None, 1)[1]
            name = words.split()[0].rstrip(".:")
            found[name] = "", []
        elif not line.startswith("   ") or ("[" not in line and not words):
            name = ""
        if name:
            text, rows = found[name]
            signs = re.findall(r"\[ +\]|\( +\)|--(?= |$)", line[30:])
            boxes = [BOXES[sign[0]] for sign in signs]
            found[name] = f"{text} {words}".strip(), [*rows, boxes] if boxes else rows
    return found


def test_every_visit_has_its_day_its_hour_and_a_box_at_each_place(story: Story) -> None:
    tell(story, BENCH)
    sheet, _ = told(story)

    lines = sheet.splitlines()
    hours = next(line for line in lines if line.count(":00") == 4 and "19:00 07:00" in line)
    days, dates = lines[lines.index(hours) - 2], lines[lines.index(hours) - 1]
    columns = [
        " ".join(parts)
        for parts in zip(days.split(), re.findall(r"\d+ May", dates), hours.split(), strict=True)
    ]
    assert columns == VISITS
    rows = [row for _, found in places(sheet).values() for row in found]
    assert rows
    assert all(len(row) == 4 for row in rows)


def test_each_cup_says_which_plant_and_where_it_stands_or_leaves_a_blank_and_warns(
    story: Story,
) -> None:
    tell(story, BENCH)
    sheet, warned = told(story)

    assert "Open, add fresh sallow from S7: 1 stem." in places(sheet)["R2"][0]
    assert "sallow stands in S7 on shelf A." in " ".join(sheet.split())
    assert "one small leaf of vetchling from ____________" in places(sheet)["E5"][0]
    assert "no store of vetchling is on record: 'S7 host in vetchling' puts it there" in warned


def test_a_plant_nobody_knows_is_a_blank_and_never_that_of_another_species(story: Story) -> None:
    tell(story, BENCH)
    story.type("E6 set up eggs shelf A", "E6 founder XX-1, Anthocharis cardamines egg")
    assert "one small leaf of ____________ from ____________" in places(told(story)[0])["E6"][0]


def test_without_a_telephone_number_there_is_a_blank_and_a_warning(story: Story) -> None:
    tell(story, BENCH)
    sheet, warned = told(story)
    assert "Telephone: ____________" in sheet
    assert "no telephone number" in warned
    assert "'setting phone 01234 567890'" in warned

    story.type("setting phone 01234 567890")
    sheet, warned = told(story)
    assert "Telephone: 01234 567890" in sheet
    assert "telephone" not in warned


async def test_the_keepers_own_page_shows_the_same_sheet_and_the_same_warnings(
    story: Story,
) -> None:
    tell(story, BENCH)
    async with story.screens(size=(100, 100)) as screen:
        await screen.press("b")
        shown = " ".join(screen.text.split())
        assert "! no telephone number: the sheet has a blank for it" in shown
        assert "! no store of vetchling is on record" in shown
        assert "R2 on shelf A: 1 caterpillar." in shown


def test_nothing_says_how_the_program_reckons(story: Story) -> None:
    tell(story, BENCH)
    sheet, _ = told(story)
    for words in (
        "forecast",
        "every ",
        "once a day",
        "each round",
        "%",
        " 24 h",
        " h ",
        "SIN-1",
        "OCE-1",
        "LATE",
        "urgent",
    ):
        assert words not in sheet.replace("fresh every", "")


def test_what_is_not_to_be_disturbed_is_looked_at_and_nothing_opens_it(story: Story) -> None:
    tell(story, BENCH)
    story.at("2027-05-02 07:30").type("R2 leave be +5d -- moulting")
    words, rows = places(told(story)[0])["R2"]
    assert "Look from outside. Do not move it. Open it only for leaves." in words
    assert "Leaves gone? Lift the lid, touch none" in words
    # looked at, and a fresh stem set beside where leaves are gone
    assert rows == [["look"] * 4, [True] * 4]
    assert "Open," not in words


def test_after_it_may_be_disturbed_again_it_is_fed_at_the_next_visit(story: Story) -> None:
    tell(story, BENCH)
    story.at("2027-05-02 07:30").type("R2 leave be +20h -- moulting")
    words, rows = places(told(story)[0])["R2"]
    assert (
        "Look from outside. Until Mon 3 May 07:00 do not move it, open it only for leaves." in words
    )
    assert "Open, add fresh sallow from S7: 1 stem." in words
    assert "Leaves gone? Lift the lid" in words
    # set beside only if leaves are gone; fed once it may be opened, then each day
    assert rows == [
        ["look", False, "look", False],
        [False, True, False, True],
        [True, False, False, False],
    ]


@pytest.mark.parametrize(
    ("line", "code", "normal"),
    [
        (
            "E5 looked darkening",
            "E5",
            "No fresh leaf in? Open, lay in one small leaf of vetchling",
        ),
        ("P2 looked colouring", "P2", "Wings out? Do not touch, telephone."),
        ("R2 looked still", "R2", "It changes its skin, does not move: normal."),
    ],
)
def test_what_looks_alarming_and_is_normal_is_said_beside_it(
    story: Story, line: str, code: str, normal: str
) -> None:
    tell(story, BENCH)
    story.at("2027-05-01 07:30").type(line)
    sheet, _ = told(story)
    assert normal in places(sheet)[code][0]
    assert "a pupa that shakes, darkens, colours" in " ".join(sheet.split())
    assert "if any is dark" not in sheet


def test_darkening_eggs_get_a_leaf_and_are_looked_at_at_every_visit(story: Story) -> None:
    tell(story, BENCH)
    story.at("2027-05-02 07:30").type("E5 looked darkening")
    words, rows = places(told(story)[0])["E5"]
    assert all(any(boxes) for boxes in zip(*rows, strict=True))
    assert "No fresh leaf in? Open, lay in one small leaf of vetchling" in words


def test_what_is_asked_follows_from_what_falls_due_by_each_visit(story: Story) -> None:
    """R2 was fed at 08:00 on leaving and wants food daily at its first instar: at the visits by which a day is over."""
    tell(story, BENCH)
    story.at("2027-05-02 07:30").type("R2 host seen plenty", "E5 lid opened")
    found = places(told(story)[0])
    assert "Open, add fresh sallow from S7: 1 stem." in found["R2"][0]
    # looked at once a day, fed after a day
    assert found["R2"][1] == [["look", True, "look", True]]
    assert "Lift the lid" in found["E5"][0]
    assert [False, False, False, True] in found["E5"][1]  # 48 hours after 07:30


def test_helpers_boxes_are_what_the_due_list_shows_at_each_visit(story: Story) -> None:
    """The visits are played through: food is due within the early hours of a visit just where its row has a box."""
    tell(story, BENCH)
    story.at("2027-05-01 20:00").type("R2 looked")
    story.at("2027-05-02 08:00").type("R2 host seen plenty")
    (row,) = places(told(story)[0])["R2"][1]
    for number, visit in enumerate(
        ["2027-05-02 19:00", "2027-05-03 07:00", "2027-05-03 19:00", "2027-05-04 07:00"]
    ):
        story.at(visit)
        rows = json.loads(story.shell("due", "--json", "--within", "3h").out)["due"]
        listed = {row["check"] for row in rows if row["where"] == "R2"}
        assert ("food" in listed) == (row[number] is True), visit
        assert ("look" in listed and "food" not in listed) == (row[number] == "look"), visit
        if "look" in listed:
            story.type("R2 looked")
        if row[number] is True:
            story.type("R2 host in sallow leaf water")


def test_places_with_nothing_to_do_are_one_line_at_the_end(story: Story) -> None:
    tell(story, BENCH)
    sheet, _ = told(story)
    assert "Leave alone, nothing to do: W2 on shelf A." in sheet
    assert "W2" not in places(sheet)


def test_hairs_and_hands(story: Story) -> None:
    tell(story, BENCH)
    story.type(
        "taxon Smerinthus ocellata instars=5 hairs",
        "Q7 set up quarantine",
        "Q7 stocked 2 larvae OCE-1",
        "Q7 host in sallow leaf",
    )
    sheet, _ = told(story)
    assert "Hairs and sap can sting" in " ".join(sheet.split())
    assert "Gloves: hairs sting." in places(sheet)["R2"][0]
    lines = sheet.splitlines()
    quarantine = next(number for number, line in enumerate(lines) if "Q7 at" in line)
    assert lines[quarantine - 1].endswith(" Wash your hands. ---")


def test_a_long_absence_has_its_sheets_of_few_visits_each_with_all_that_is_needed(
    story: Story,
) -> None:
    tell(story, BENCH)
    sheet, _ = told(story, "--from", "2027-05-02 08:00", "--to", "2027-05-07 12:00")
    assert sheet.count("Wash your hands before") == 2
    assert "Visits: 1 Sun 2 May 19:00; 2 Mon 3 May 07:00" in " ".join(sheet.split())
    assert max(map(len, sheet.splitlines())) <= 80


def test_an_absence_without_a_visit_asks_for_nothing(story: Story) -> None:
    tell(story, BENCH)
    sheet, _ = told(story, "--from", "2027-05-02 08:00", "--to", "2027-05-02 18:00")
    assert "The keeper is back before the next visit: nothing to do." in sheet
    assert "[ ]" not in sheet


def test_the_page_to_print_says_the_same_words(story: Story, tmp_path: Path) -> None:
    tell(story, BENCH)
    file = tmp_path / "sheet.html"
    assert story.shell("sheet", *TO, "--html", str(file)).status == 0
    page = html.unescape(re.sub(r"<[^>]+>", " ", file.read_text().split("</style>")[1]))
    words = " ".join(page.split())
    for text, _ in places(told(story)[0]).values():
        for sentence in text.split(". "):
            assert sentence in words
    for visit in VISITS:
        assert visit in words
    boxes = sum(row.count(True) for _, rows in places(told(story)[0]).values() for row in rows)
    assert file.read_text().count('<td class="box"><span></span></td>') == boxes


def test_a_bench_of_23_fits_on_two_pages_of_80_by_60(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    tell_demo(story)
    assert len(list(story.desk.bench.standing())) == 23
    sheet, _ = told(story, "--from", "+1h", "--to", "+2d")

    lines = sheet.splitlines()
    assert max(map(len, lines)) <= 80
    heads = [number for number, line in enumerate(lines) if "sheet, page " in line]
    assert [lines[number][-11:] for number in heads] == [f"page {number} of 2" for number in (1, 2)]
    assert heads == [0, 60]
    assert not re.search(
        r"^ {20,}(\[   \]|\(   \)|--) .*[])]$", sheet, re.M
    )  # no box without words
    assert len(lines) <= 120
