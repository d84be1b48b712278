"""Larvae put where another plant stands than their species has eaten on record: asked once, never silently, and food told of where they are."""

from __future__ import annotations

import pytest

from tests.stories.telling import Screen, Story, tell

BENCH = """
taxon Aglais inventa instars=5
taxon Smerinthus inventus instars=5
R2 set up rearing
R2 founder AGL-1, Aglais inventa larva
R2 stocked 9 L3 AGL-1
R2 host in nettle leaf water
R5 set up rearing
R5 founder SME-1, Smerinthus inventus larva
R5 host in sallow leaf water
R6 set up rearing
"""
ASKED = "Aglais inventa ate nettle so far; sallow stands in R5; if they are to go there, add: sure"


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-05-02 08:00"), BENCH)
    story.later(hours=1)
    return story


@pytest.mark.parametrize(
    "line",
    ["R2 moved 4 L3 to R5", "R2 split 4 L3 into R5", "R5 merged from R2"],
)
def test_it_is_asked_once_and_taken_with_sure(bench: Story, line: str) -> None:
    assert ASKED in bench.refused(line)
    bench.type(f"{line} sure")
    bench.later(hours=1)
    bench.type("R2 stocked 3 L3 AGL-1", "R2 moved 2 L3 to R5")  # it is on record now


def test_a_file_of_lines_says_it_too_and_loses_nothing(bench: Story) -> None:
    ran = bench.shell("log", "-", typed="R2 moved 4 L3 to R5\nR6 note all well\n")
    assert ran.status == 1
    assert ASKED in ran.out + ran.err
    ran = bench.shell("log", "-", typed="R2 moved 4 L3 to R5 sure\n")
    assert ran.status == 0, ran.err


@pytest.mark.parametrize(
    "lines",
    [
        ["R2 moved 4 L3 to R6"],  # nothing stands there
        ["R5 host in nettle leaf water", "R2 moved 4 L3 to R5"],  # theirs stands there too
        ["R6 host in nettle leaf water", "R2 moved 4 L3 to R6"],
        [
            "R2 moulted 1 to L4",
            "R2 host out binned sure",
            "R6 host in nettle leaf",
            "R2 moved 3 to R6 L3",
        ],
        ["R5 moved 1 larva to new R9"],
    ],
)
def test_where_nothing_is_in_doubt_nothing_is_asked(bench: Story, lines: list[str]) -> None:
    bench.type(*lines)


async def test_the_question_stands_under_the_line_and_what_was_typed_stays(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.type("R2 moved 4 L3 to R5")
        assert "sallow stands in R5" in screen.words
        await screen.press(*("space", *"sure"), "enter")
        assert "saved" in screen.words
    assert bench.on_disk()[-1]["sure"] is True


def hours_of_food(story: Story, cup: str) -> tuple[str, str]:
    """When food of a cup falls due and when harm may come, as local day and time."""
    story.at("2027-05-05 06:00")
    food = story.due(cup)["food"]
    return food["due"][5:16], food["harm"][5:16]


@pytest.mark.parametrize("old_cup", ["2027-05-02 08:30", "2027-05-03 07:00"])
def test_food_of_those_moved_is_as_old_as_the_plant_where_they_are(
    story: Story, old_cup: str
) -> None:
    """What stood in the cup they came from, however fresh, says nothing of the plant they sit on now."""
    tell(story.at("2027-05-02 08:00"), BENCH)
    story.type("R6 host in nettle leaf water")
    story.at(old_cup).type("R2 host in nettle leaf water")
    story.at("2027-05-03 10:00").type("R2 moved 4 L3 to R6")
    assert "food" in story.due("R6")  # cut 26 h ago
    due, harm = hours_of_food(story, "R6")
    assert due == "05-03T08:00"
    assert harm >= "05-04T06:00"  # but they were not hungry when they came


def test_those_moved_to_a_plant_put_in_just_before_have_food_from_it(story: Story) -> None:
    tell(story.at("2027-05-02 08:00"), BENCH)
    story.at("2027-05-04 06:00").type("R6 host in nettle leaf water")
    story.at("2027-05-04 06:10").type("R2 moved 4 L3 to R6")
    assert "food" not in story.due("R6")
    assert hours_of_food(story, "R6")[0] == "05-05T06:00"


TWO = """
R2 host in sallow leaf water
R7 set up rearing
R7 founder SME-2, Smerinthus inventus larva
R7 host in sallow leaf water
"""


@pytest.mark.parametrize(
    ("seen", "asked"),
    [
        ([], True),  # sallow was only offered, beside the nettle that they ate
        (["R2 host seen plenty"], True),
        (["R2 host seen sallow half left"], False),
        (["R2 frass plain"], False),
    ],
)
def test_a_plant_once_offered_is_not_eaten_yet(
    story: Story, seen: list[str], *, asked: bool
) -> None:
    tell(story.at("2027-05-02 08:00"), BENCH)
    tell(story.later(hours=30), TWO)
    story.later(hours=2)
    story.type(*seen)
    if asked:
        assert "Aglais inventa ate nettle so far; sallow stands in R7" in story.refused(
            "R2 moved 4 L3 to R7"
        )
    else:
        story.type("R2 moved 4 L3 to R7")


def test_a_plant_that_stood_a_day_with_them_is_eaten(story: Story) -> None:
    tell(story.at("2027-05-02 08:00"), BENCH)
    tell(story.later(hours=30), TWO)
    story.later(hours=25).type("R2 moved 4 L3 to R7")


async def stop_at(screen: Screen, cup: str) -> None:
    """Pass over what is asked until something is asked at a cup."""
    for _ in range(12):
        if screen.where == cup:
            return
        await screen.press("minus", "m")
    pytest.fail(screen.text)


async def test_it_is_asked_in_a_round_and_the_cup_they_came_to_tells_of_it(bench: Story) -> None:
    """A line typed at a stop is asked about as any other; both stops tell of it in the next round."""
    bench.at("2027-05-03 07:10")
    async with bench.screens() as screen:
        await screen.press("r")
        await stop_at(screen, "R2")
        asked = screen.checks
        await screen.type("R2 moved 4 L3 to R5")
        assert "sallow stands in R5; if they are to go there, add: sure" in screen.words
        assert "9 L3 Aglais inventa" in screen.words
        await screen.press(*("space", *"sure"), "enter")
        assert (screen.where, screen.checks) == ("R2", asked)
        assert "5 L3 Aglais inventa" in screen.words
    bench.at("2027-05-04 07:10")
    async with bench.screens() as screen:
        await screen.press("r")
        for cup, told in (("R2", "moved 4 larvae L3 to R5"), ("R5", "R2 moved 4 larvae")):
            await stop_at(screen, cup)
            (before,) = [row for row in screen.text.splitlines() if "before" in row]
            assert told in " ".join(before.split()), screen.text
            assert ("R2 moved" in before) == (cup == "R5")


async def test_stems_that_came_from_another_cup_are_told_at_the_one_that_keeps_them(
    story: Story,
) -> None:
    tell(
        story.at("2027-05-02 08:00"),
        "K2 set up laying\nK2 founder AGL-1, Aglais inventa female\nK2 host in nettle leaf water\n"
        "E2 set up eggs\nE2 20 eggs Aglais inventa",
    )
    story.later(hours=10).type("K2 searched 3", "K2 host out held in E2")
    story.at("2027-05-04 07:10")
    async with story.screens() as screen:
        await screen.press("r")
        await stop_at(screen, "E2")
        (before,) = [row for row in screen.text.splitlines() if "before" in row]
        assert "K2 host out" in before


def test_a_plant_renewed_is_the_plant_they_ate(story: Story) -> None:
    lines = """
        1 May 08:00 R2 6 L3 Polygonia egea on Parietaria judaica
        1 May 08:01 R3 9 L5 Polygonia egea on Parietaria judaica
        1 May 08:02 R4 4 L3 Polygonia egea on Urtica membranacea
        2 May 08:10 R2 host changed 2 stems Parietaria judaica old discarded
        2 May 08:11 R3 host changed 2 stems Parietaria judaica old discarded
        """
    tell(story.at("2027-05-03 07:50"), lines)
    story.type("R2 moved 2 larvae to R3")
