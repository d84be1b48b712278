"""A round that was left ends at its last answer, says what it left open, and the next one begins."""

from __future__ import annotations

import pytest

from tests.stories.telling import Screen, Story, tell

BENCH = """
shelf set up B barrier=moat
K2 set up laying shelf=B place=3
K2 founder MOR-27-01, Melitaea cinxia female
K2 host in plantain leaf water 3 sprigs
brood MOR-27-01/A mothers=MOR-27-01 laid_from=-1d laid_to=-1d
E3 set up eggs shelf=B place=1
E3 stocked 20 eggs MOR-27-01/A
R4 set up rearing shelf=B place=2
R4 host in plantain leaf water 4 sprigs
R4 stocked 9 L3 MOR-27-01/A
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """Three cups on a shelf with a moat, since eight in the morning; it is six in the evening."""
    story.at("2027-05-01 08:00")
    tell(story, BENCH)
    return story.at("2027-05-01 18:00")


def kinds_on_disk(story: Story) -> list[str]:
    """The kinds of all entries, in the order in which they were written."""
    return [entry["what"] for entry in story.on_disk()]


async def answer_a_few(screen: Screen) -> None:
    """Begin the evening's round, read the room, see the moat full, look at the eggs."""
    await screen.press("r", *"20/24", "enter", "space", "s")


async def walk_on(screen: Screen, most: int = 60) -> None:
    """Give the usual answer to all that is asked, up to the end of the walk."""
    special = {"room": [*"20/24", "enter"], "eggs": ["0"], "count": ["c"]}
    for _ in range(most):
        if not screen.check and "Enter ends the round" in screen.text:
            return
        if not screen.check:
            await screen.press("enter")
            continue
        await screen.press(*special.get(screen.check, ["space"]))
    raise AssertionError(screen.text)


async def test_the_next_morning_r_begins_the_mornings_round(bench: Story) -> None:
    async with bench.screens() as screen:
        await answer_a_few(screen)
        assert "evening round" in screen.text
    bench.reopen()
    bench.at("2027-05-02 07:05")
    async with bench.screens() as screen:
        await screen.press("r")
        assert "morning round" in screen.text
        assert "The evening round ended Sat 18:00, at its last answer." in screen.text
        assert "It left open: K2." in screen.text
        assert screen.check == "room", "what was answered last night does not stand as done"
        await walk_on(screen)
        await screen.press("enter")
        assert "The walk is done" not in screen.text
    assert kinds_on_disk(bench).count("round started") == 2
    assert kinds_on_disk(bench)[-1] == "round finished"


async def test_a_line_about_no_cup_answers_nothing(bench: Story) -> None:
    """Four hours after the last answer a species is told of: the round ended with the answer."""
    async with bench.screens() as screen:
        await answer_a_few(screen)
    bench.at("2027-05-01 22:00").type("taxon 'Melitaea cinxia' hairs")
    bench.reopen()
    bench.at("2027-05-02 07:05")
    async with bench.screens() as screen:
        await screen.press("r")
        assert "The evening round ended Sat 18:00, at its last answer." in screen.text


async def test_a_round_left_at_its_end_page_is_over_the_next_morning(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r")
        await walk_on(screen)
    bench.reopen()
    bench.at("2027-05-02 07:05")
    async with bench.screens() as screen:
        await screen.press("r")
        assert "morning round" in screen.text
        assert (
            "The evening round ended Sat 18:00, at its last answer. It left nothing open."
            in screen.text
        )


async def test_within_six_hours_of_the_last_answer_it_goes_on_at_its_stop(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
    bench.reopen()
    bench.later(hours=5)
    async with bench.screens() as screen:
        await screen.press("r", "space")
        assert screen.check == "drink"
    bench.reopen()
    bench.later(hours=5, minutes=55)  # nearly eleven hours after it began
    async with bench.screens() as screen:
        await screen.press("r")
        assert "evening round" in screen.text
        assert screen.check == "drink"
        await screen.press("s")
        began = [entry["id"] for entry in bench.on_disk() if entry["what"] == "round started"]
        assert bench.on_disk()[-1]["round"] == began[-1]


async def test_the_screen_left_in_front_over_night_goes_back_to_the_bench(bench: Story) -> None:
    async with bench.screens() as screen:
        await answer_a_few(screen)
        bench.at("2027-05-02 07:05")
        await screen.press("space")  # an answer to last evening's question is kept
        assert kinds_on_disk(bench)[-1] == "drank"
        assert "The evening round ended Sat 18:00, at its last answer." in screen.text
        await screen.press("r")
        assert "morning round" in screen.text
        assert screen.check == "room"


async def test_the_end_page_left_in_front_over_night_does_not_trap(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r")
        await walk_on(screen)
        bench.at("2027-05-02 07:05")
        await screen.press("enter")
        assert "no round is open" not in screen.text
        assert "It left nothing open. r begins the next." in " ".join(screen.message.split())
        await screen.press("r")
        assert "morning round" in screen.text


def test_on_lines_too(bench: Story) -> None:
    bench.plain(["20/24", " "])
    bench.reopen()
    bench.at("2027-05-02 07:05")
    printed = bench.plain([])
    told = "\n".join(printed)
    assert "morning round started" in told
    assert "The evening round ended Sat 18:00, at its last answer." in told
    assert "It left open: K2. It is asked in the next round." in told
    assert "The round is open; it goes on at the room" in printed[-1]


def test_two_laptops_agree_when_the_other_begins_the_morning(bench: Story) -> None:
    bench.plain(["20/24", " ", " "])
    other = bench.on_other_laptop()
    bench.at("2027-05-02 07:05")
    told = "\n".join(other.plain(["19/22"]))
    assert "The evening round ended Sat 18:00, at its last answer." in told
    bench.desk.hear()
    bench.later(minutes=1)
    printed = bench.plain([])
    assert "Morning round, stop" in "\n".join(printed)
    assert "it goes on at R4" in printed[-1]
    assert kinds_on_disk(bench).count("round started") == 2


def test_a_line_said_of_a_round_that_ended_says_so(bench: Story) -> None:
    bench.plain(["20/24", " ", " "])
    bench.at("2027-05-02 07:05")
    refused = bench.refused("skipped container=R4 check=look why=asleep")
    assert (
        refused
        == "the evening round ended Sat 01 May 18:00, at its last answer; begin the next one first"
    )


async def test_what_was_answered_since_was_left_open_all_the_same(bench: Story) -> None:
    async with bench.screens() as screen:
        await answer_a_few(screen)
    bench.at("2027-05-02 05:00").type("K2 drank", "K2 looked", "K2 searched 0", "K2 host seen")
    bench.at("2027-05-02 07:05")
    async with bench.screens() as screen:
        await screen.press("r")
        assert "It left open: K2. All of it was answered since." in screen.words
