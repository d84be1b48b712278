"""The helper's sheet where something could die: no plant on record, a cup not to be disturbed, eggs that hatch, jars, heat."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_sheet_for_the_neighbour import places

BEGIN = """
setting evening 19:00
setting phone 01234
taxon "Vanessa lunaria" short=lunaria
brood A2 taxon=lunaria
shelf set up A
"""
BLANK = "____________"
TO = (
    "--from",
    "2027-05-08 07:30",
    "--to",
    "2027-05-10 12:00",
)  # 8 May 19:00, 9 May 07:00 and 19:00, 10 May 07:00


@pytest.fixture
def bench(story: Story) -> Story:
    """A brood with nothing on the bench yet, on 8 May 2027 at 07:30."""
    story.at("2027-05-08 07:30")
    tell(story, BEGIN)
    return story


def sheet_of(story: Story, *more: str) -> tuple[dict[str, tuple[str, list[list[bool]]]], str]:
    """What stands at each place, and what the keeper is told besides."""
    ran = story.shell("sheet", *(more or TO))
    assert ran.status == 0, ran.err
    return places(ran.out), ran.err


# --- no plant on record ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "code", "stems"),
    [
        ("R3 set up rearing shelf A\nR3 stocked 6 L4 A2", "R3", "2 stems"),
        ("H3 set up hatchlings shelf A\nH3 stocked 5 L1 A2", "H3", "1 stem"),
        (
            "R4 set up rearing shelf A\nR4 stocked 6 L4 A2\nR4 host in nettle leaf water\nR4 host out binned",
            "R4",
            "2 stems",
        ),
    ],
)
def test_caterpillars_without_a_plant_on_record_get_one_all_the_same(
    bench: Story, lines: str, code: str, stems: str
) -> None:
    tell(bench, lines)
    found, warned = sheet_of(bench)
    words, rows = found[code]
    assert f"Open, add fresh {BLANK} from {BLANK}: {stems}." in words
    assert "Do not open" not in words
    assert [True, "look", True, "look"] in rows  # at the first visit, then each day
    assert (
        f"no plant is on record for {code}: write on the sheet which one, and where it stands"
        in warned
    )


def test_a_female_without_a_plant_gets_one_that_lasts_as_any_does(bench: Story) -> None:
    tell(bench, "K1 set up laying shelf A\nK1 founder W1, lunaria female\nK1 drank")
    found, warned = sheet_of(bench)
    words, rows = found["K1"]
    assert f"Open, add fresh {BLANK} from {BLANK}: 1 stem." in words
    assert [True, False, False, False] in rows  # it keeps two days and more
    assert "no plant is on record for K1" in warned


# --- not to be disturbed --------------------------------------------------------------------------------------------------


def test_the_keeper_hears_of_a_female_whom_thirst_endangers_behind_a_closed_lid(
    bench: Story,
) -> None:
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf water\nK2 drank",
    )
    tell(bench, "K2 leave be +40h -- laying")
    found, warned = sheet_of(bench)
    words, _ = found["K2"]
    assert "Look from outside. Until Mon 10 May 07:00 do not open or move it." in words
    assert (
        "K2 is not to be disturbed until Sun 9 May 23:30, and is in danger (drink) from about Sun 9 May 14:30"
        in warned
    )
    assert "gauze" not in words


def test_a_female_under_gauze_drinks_through_it(bench: Story) -> None:
    tell(
        bench,
        "K2 set up laying shelf A lid=gauze\nK2 founder W1, lunaria female\nK2 host in nettle leaf water\nK2 drank",
    )
    tell(bench, "K2 leave be +40h -- laying")
    words, rows = sheet_of(bench)[0]["K2"]
    assert "Lay a wet sugar pad on the gauze" in words
    assert [True, True, True, False] in rows  # looked at and given to drink until it may be opened


async def test_the_keepers_page_warns_of_it_too(bench: Story) -> None:
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf water\nK2 drank",
    )
    tell(bench, "K2 leave be +47h -- laying")
    async with bench.screens(size=(140, 100)) as screen:
        await screen.press("b")
        assert (
            "! K2 is not to be disturbed until Mon 10 May 06:30, and is in danger (drink)"
            in " ".join(screen.text.split())
        )


def test_moulting_larvae_get_a_stem_beside_them_and_the_keeper_a_warning(bench: Story) -> None:
    tell(
        bench,
        "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water\nS1 set up host store shelf A",
    )
    tell(bench, "S1 host in nettle leaf fridge 20 stems\nR5 looked not moving\nR5 leave be +48h")
    found, warned = sheet_of(bench)
    words, rows = found["R5"]
    assert (
        "Leaves gone? Lift the lid, touch none, set in beside them fresh nettle from S1: 3 stems."
        in words
    )
    assert [True] * 4 in rows
    assert "They change their skin, do not move: normal." in words
    assert (
        "R5 is not to be disturbed until Mon 10 May 07:30, and is in danger (food) from about Mon 10 May 06:30"
        in warned
    )


def test_a_cup_left_alone_for_a_moult_says_that_they_change_their_skin(bench: Story) -> None:
    tell(
        bench,
        "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water\nR5 leave be +9h -- moulting",
    )
    assert "They change their skin, do not move: normal." in sheet_of(bench)[0]["R5"][0]


def test_a_cup_not_to_be_disturbed_is_looked_at_through_the_lid_at_every_visit(
    bench: Story,
) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 12 eggs A2\nE5 leave be +5d -- new")
    words, rows = sheet_of(bench)[0]["E5"]
    assert "Look from outside. Do not move it. Open it only for leaves." in words
    assert rows == [["look"] * 4, [True] * 4]


def test_cleaning_comes_back_once_it_may_be_disturbed(bench: Story) -> None:
    tell(
        bench,
        "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water\nR5 leave be +20h -- moulting",
    )
    words, rows = sheet_of(bench)[0]["R5"]
    assert "brush out frass" in words
    assert [False, True, False, True] in rows or [False, False, True, False] in rows


def test_the_round_asks_what_the_sheet_asks_of_a_closed_cup(bench: Story) -> None:
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf water\nK2 drank",
    )
    tell(bench, "K2 leave be +40h -- laying")
    bench.at("2027-05-09 07:05")
    told = "\n".join(bench.plain(["20/24", " ", " ", " ", " ", "q"]))
    assert "Leave the lid on." in told
    assert "Does the lid stay on? If you opened it: Did she drink?" in told
    for opening in ("How many eggs found", "How is the feeder?", "Do you change one thing"):
        assert opening not in told


def test_the_round_gives_a_drink_through_gauze_and_a_stem_beside(bench: Story) -> None:
    tell(
        bench,
        "K2 set up laying shelf A lid=gauze\nK2 founder W1, lunaria female\nK2 host in nettle leaf water\nK2 drank",
    )
    tell(
        bench,
        "K2 leave be +40h -- laying\nR5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water",
    )
    tell(bench, "R5 leave be +40h -- moulting")
    bench.at("2027-05-09 07:05")
    told = "\n".join(bench.plain(["20/24", *" " * 12, "q"]))
    assert "A drink through the gauze, the lid on?" in told
    assert "fresh set beside them" in told


# --- eggs -----------------------------------------------------------------------------------------------------------------


def test_light_eggs_of_which_nobody_knows_when_they_hatch_are_looked_at_at_every_visit(
    bench: Story,
) -> None:
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf water",
    )
    tell(
        bench,
        "S1 set up host store shelf A\nS1 host in nettle leaf fridge\nE5 set up eggs shelf A\nE5 stocked 12 eggs A2",
    )
    words, rows = sheet_of(bench)[0]["E5"]
    assert (
        "Dark or hatched, no fresh leaf in? Open, lay in one small leaf of nettle from S1." in words
    )
    assert [True] * 4 in rows
    assert "normal" not in words


def test_eggs_that_are_forecast_are_looked_at_once_a_day_until_the_first_may_hatch(
    bench: Story,
) -> None:
    tell(
        bench,
        "constants taxon='Vanessa lunaria' stage=egg lower=10 constant=100\nroom air 20C\nE5 set up eggs shelf A",
    )
    tell(bench, "brood A3 taxon=lunaria laid_from=-2h laid_to=-1h\nE5 stocked 12 eggs A3")
    _, rows = sheet_of(bench)[0]["E5"]
    assert [True] * 4 not in rows
    bench.at("2027-05-16 07:30").type("room air 20C")
    words, rows = sheet_of(bench, "--from", "now", "--to", "2027-05-18 12:00")[0]["E5"]
    assert [True] * 4 in rows
    assert (
        f"Dark or hatched, no fresh leaf in? Open, lay in one small leaf of {BLANK} from {BLANK}."
        in words
    )


def test_dark_eggs_get_their_leaf_at_the_first_visit(bench: Story) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 12 eggs A2\nE5 looked darkening")
    words, rows = sheet_of(bench)[0]["E5"]
    assert f"No fresh leaf in? Open, lay in one small leaf of {BLANK} from {BLANK}." in words
    assert rows[0] == [True] * 4


def test_eggs_with_a_leaf_in_get_a_fresh_one_beside_it_once_any_is_out(
    bench: Story,
) -> None:
    tell(bench, "E5 set up eggs shelf A\nE5 stocked 22 eggs A2\nE5 host in nettle leaf dry")
    words, rows = sheet_of(bench, "--from", "2027-05-08 07:30", "--to", "2027-05-12 08:30")[0]["E5"]
    assert "Dark or hatched, no fresh leaf in? Open, lay in one small leaf of nettle from" in words
    assert rows[0] == [True] * 8


# --- gloves, places, jars -------------------------------------------------------------------------------------------------


def test_a_plant_that_irritates_wants_gloves_before_it_is_touched(bench: Story) -> None:
    tell(
        bench,
        "plant nettle water 60 irritant\nR5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water",
    )
    words, _ = sheet_of(bench)[0]["R5"]
    assert words.index("Gloves: sap irritates.") < words.index("Open, add fresh nettle")


def test_a_place_apart_says_its_own_limits_warm_and_cold(bench: Story) -> None:
    tell(
        bench,
        "shelf set up porch apart hot=28 cold=4\nR5 set up rearing shelf porch\nR5 stocked 10 L3 A2",
    )
    tell(
        bench,
        "R5 host in nettle leaf water\nR6 set up rearing shelf A\nR6 stocked 10 L3 A2\nR6 host in nettle leaf water",
    )
    ran = bench.shell("sheet", *TO)
    told = " ".join(ran.out.replace("[   ]", "").split())
    assert (
        "Shelf porch. Write the temperature into the box. Over 28 C: shade it, telephone. Under 4 C: telephone."
        in told
    )
    assert (
        "The room. Write the temperature into the box. Over 30 C: curtain shut, door open (shut to open a cup), telephone."
        in told
    )


def test_the_keeper_is_warned_where_the_jar_holds_less_than_the_visits_want(bench: Story) -> None:
    tell(
        bench,
        "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water\nS1 set up host store shelf A",
    )
    tell(bench, "S1 host in nettle leaf fridge 2 stems")
    found, warned = sheet_of(bench)
    assert "Open, add fresh nettle from S1: 3 stems." in found["R5"][0]
    assert "S1 holds 2 stems of nettle on record, the sheet asks for 6: cut more" in warned
    bench.type("S1 host in nettle leaf fridge 20 stems")
    assert "S1 holds" not in sheet_of(bench)[1]


def test_suspects_have_their_own_tools_and_all_is_taken_from_the_jars_before(bench: Story) -> None:
    tell(
        bench,
        "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water\nR5 suspect limp",
    )
    ran = bench.shell("sheet", *TO)
    assert "Own tools." in places(ran.out)["R5"][0]
    lines = ran.out.splitlines()
    washed = lines.index(
        f"--- Wash your hands. Take only the tools kept for these, from {BLANK}. ---"
    )
    assert lines[washed - 1] == "--- From the jars take all needed below; do not go back. ---"


def test_larvae_that_eat_each_other_are_not_put_together(bench: Story) -> None:
    bench.type('taxon "Vanessa lunaria" short=lunaria cannibalistic')
    tell(bench, "R5 set up rearing shelf A\nR5 stocked 1 L3 A2\nR5 host in nettle leaf water")
    assert "It eats others: add none." in sheet_of(bench)[0]["R5"][0]


# --- what is due on leaving -----------------------------------------------------------------------------------------------


def test_what_is_due_on_leaving_is_said_to_the_keeper_and_stands_at_the_first_visit(
    bench: Story,
) -> None:
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf water\nK2 drank",
    )
    bench.at("2027-05-09 16:30")
    ran = bench.shell("sheet", "--to", "2027-05-11 12:00")
    assert ran.err.splitlines()[0] == "rounds: before you leave: K2 drink, in danger"
    words, rows = places(ran.out)["K2"]
    assert "hold each to it until it drinks" in words
    assert rows[0][0]


def test_the_worst_is_named_first_and_no_more_than_eight(bench: Story) -> None:
    for number in range(1, 13):
        tell(bench, f"R{number} set up rearing shelf A\nR{number} stocked 3 L3 A2")
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf water\nK2 drank",
    )
    bench.at("2027-05-09 16:30")
    err = bench.shell("sheet", "--to", "2027-05-11 12:00").err
    named = [line for line in err.splitlines() if line.startswith("rounds: before you leave: ")]
    assert len(named) == 8
    assert all("in danger" in line for line in named)
    assert re.search(r"^rounds: and \d+ more: rounds due$", err, re.MULTILINE)


def test_what_was_done_before_leaving_is_not_named(bench: Story) -> None:
    tell(
        bench,
        "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water\nR5 looked\nroom air 20C",
    )
    assert "before you leave" not in sheet_of(bench)[1]


# --- words, folder, times, paper ------------------------------------------------------------------------------------------


def test_where_pads_stand_is_a_blank_until_it_is_on_record(bench: Story) -> None:
    tell(
        bench,
        "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf potted",
    )
    ran = bench.shell("sheet", *TO)
    assert (
        f"Sugar pads and solution: {BLANK}. Hold a butterfly by all four wings, shut, its feet on the pad; hold no moth with a stout body, let it walk onto the pad. Will not drink: the pad stays in."
        in " ".join(ran.out.split())
    )
    assert "'setting pads fridge door'" in ran.err
    bench.type("setting pads fridge door")
    ran = bench.shell("sheet", *TO)
    assert "Sugar pads and solution: fridge door." in ran.out
    assert "setting pads" not in ran.err


def test_a_potted_plant_is_watered_and_looked_at_at_every_visit(bench: Story) -> None:
    tell(bench, "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf potted")
    words, rows = sheet_of(bench)[0]["R5"]
    assert "Potted nettle: water if dry. Limp, bare? Telephone." in words
    assert rows[0] == [True] * 4


def test_leaves_stay_in_and_more_is_a_reason_to_ring_and_more_is_normal(bench: Story) -> None:
    tell(bench, "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water")
    told = " ".join(bench.shell("sheet", *TO).out.replace("[   ]", "").replace(" -- ", " ").split())
    assert "brush out frass; touch none that does not move." in told
    assert "Whatever is in a cup stays in: old plants and leaves" in told
    ring = told.split("Telephone, touch nothing:")[1].split("Seen by")[0]
    for reason in ("dead", "outside its cup", "will not drink twice", "mould", "ants", "runs out"):
        assert reason in ring
    normal = told.split("Normal:")[1].split("Tick a box")[0]
    for one in ("wanders", "spins", "shrinks", "changes its skin"):
        assert one in normal


def test_one_row_never_says_twice_which_plant(bench: Story) -> None:
    tell(
        bench, "K2 set up laying shelf A\nK2 founder W1, lunaria female\nK2 host in nettle leaf dry"
    )
    bench.at("2027-05-09 07:30")
    words, _ = sheet_of(bench, "--from", "now", "--to", "2027-05-09 21:00")[0]["K2"]
    assert f"Open, add fresh nettle from {BLANK}: 1 stem." in words
    assert words.count("nettle") == 1
    assert "limp? Open" not in words


def test_what_stands_in_another_and_what_is_left_alone_says_on_which_shelf(bench: Story) -> None:
    tell(bench, "R3 set up rearing shelf A\nR3 stocked 10 L3 A2\nR3 host in nettle leaf potted")
    tell(
        bench,
        "H2 set up hatchlings inside R3\nH2 stocked 5 L1 A2\nW2 set up overwintering shelf A\nW2 stocked 3 pupae A2",
    )
    ran = bench.shell("sheet", *TO)
    assert "H2 in R3 on shelf A" in " ".join(ran.out.split())
    assert "Leave alone, nothing to do: W2 on shelf A." in ran.out


def test_a_folder_without_a_bench_is_refused(bench: Story, tmp_path: Path) -> None:
    empty = tmp_path / "elsewhere"
    empty.mkdir()
    ran = bench.shell("sheet", "--to", "+2d", "--book", str(empty))
    assert ran.status == 2
    assert not ran.out
    assert f"there is no book in {empty}" in ran.err
    assert not list(empty.iterdir())


def test_a_round_five_minutes_after_leaving_is_no_visit(bench: Story) -> None:
    tell(bench, "R5 set up rearing shelf A\nR5 stocked 10 L3 A2\nR5 host in nettle leaf water")
    _, rows = sheet_of(bench, "--from", "2027-05-08 18:55", "--to", "2027-05-10 12:00")[0]["R5"]
    assert {len(row) for row in rows} == {3}


def test_each_page_to_print_has_the_telephone_at_its_head_and_when_to_call_at_its_foot(
    bench: Story, tmp_path: Path
) -> None:
    for number in range(1, 60):
        tell(
            bench,
            f"R{number} set up rearing shelf {'AB'[number % 2]}\nR{number} stocked 3 L3 A2\nR{number} host in nettle leaf water",
        )
        bench.type(f"R{number} suspect -- pale")
    text = bench.shell("sheet", *TO).out
    assert text.count("sheet, page ") > 1
    file = tmp_path / "sheet.html"
    assert bench.shell("sheet", *TO, "--html", str(file)).status == 0
    page = html.unescape(file.read_text())
    assert "thead { display: table-header-group }" in page
    assert "tfoot { display: table-footer-group }" in page
    assert "Telephone: 01234" in page.split("<thead>")[1].split("</thead>")[0]
    assert "Telephone, touch nothing:" in page.split("<tfoot>")[1].split("</tfoot>")[0]
