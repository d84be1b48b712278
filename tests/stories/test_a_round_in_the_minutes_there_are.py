"""A round in some minutes: what saves most is asked first, the page says what it leaves out, and what cannot wait is taken."""

from __future__ import annotations

import re

import rounds
from rounds.screens.round_screen import RoundScreen
from rounds.screens.short_round_screen import ShortRoundScreen
from tests.stories.telling import Story, tell, tell_demo

BENCH = """
shelf set up A moat
L2 set up laying shelf=A place=1
L2 founder W2 Boloria dia female
L2 host in violet leaf water
L3 set up laying shelf=A place=2
L3 founder W3 Boloria dia female
L3 host in violet leaf water
L3 drank
R4 set up rearing shelf=A place=3
brood B1 taxon='Boloria dia'
R4 stocked 6 L4 B1
R4 host in violet leaf water
R4 cleaned
E3 set up eggs shelf=A place=4
E3 stocked 20 eggs B1
shelf A moat full
"""


def a_bench(story: Story) -> None:
    """A bench on the evening of the next day: W2 has not drunk since she came, W3 has this morning."""
    story.at("2027-05-01 07:05")
    tell(story, BENCH)
    story.at("2027-05-02 07:30").type("L3 drank", "R4 host seen plenty", "L3 host fresh")
    story.at("2027-05-02 19:02")


def plan_of(printed: list[str], word: str) -> dict[str, str]:
    """What a round on lines says that it takes, or leaves out: by place and checks, why."""
    told = [
        line.removeprefix(f"{word}: ").split("; ", 1)
        for line in printed
        if line.startswith(f"{word}: ")
    ]
    return dict(told)


async def test_a_number_and_r_show_what_is_taken_and_left_and_enter_begins(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("4", "r")
        assert isinstance(screen.app.screen, ShortRoundScreen)
        assert "a round in 4 minutes" in screen.text
        assert "left out until" in screen.text
        await screen.press("enter")
        assert isinstance(screen.app.screen, RoundScreen)
    begun = story.on_disk()[-1]
    assert begun["what"] == "round started"
    assert begun["minutes"] == 4
    assert begun["later"]


async def test_left_and_right_change_the_minutes_and_a_takes_all(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("1", "1", "r")
        assert "a round in 11 minutes" in screen.text
        await screen.press("right")
        assert "a round in 15 minutes" in screen.text
        await screen.press("left", "left", "left", "left")
        assert "a round in 1 minute " in screen.text
        await screen.press("a")
        assert isinstance(screen.app.screen, RoundScreen)
    assert "later" not in story.on_disk()[-1]


async def test_a_digit_that_opens_a_page_is_one_of_a_number_that_was_begun(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("1", "8", "r")
        assert "a round in 18 minutes" in screen.text
        await screen.press("escape", "1", "7", "backspace", "1", "r")
        assert "a round in 11 minutes" in screen.text


async def test_a_number_is_forgotten_by_another_key_and_nought_is_refused(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("3", "down", "0", "r")
        assert screen.message == "a round needs at least 1 minute"
        await screen.press("3", "s", "r")
        assert isinstance(screen.app.screen, RoundScreen)
    assert "minutes" not in story.on_disk()[-1]


async def test_a_number_says_that_an_open_round_goes_on(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("r", "escape", "1", "5")
        assert "r goes on: a round is open" in screen.text
        assert "begins" not in screen.text.splitlines()[-1]
        await screen.press("r")
        assert isinstance(screen.app.screen, RoundScreen)


async def test_a_number_that_is_forgotten_is_told_no_more(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        for key in ("e", "down", "space"):
            await screen.press("2", "5")
            assert "number 25_" in screen.text
            await screen.press(key)
            assert "number 25_" not in screen.text, key
            await screen.press("escape")
        await screen.press("1", "x", "2", "5", "backspace")
        assert "number 2_" in screen.text
        await screen.press("r")
        assert isinstance(screen.app.screen, ShortRoundScreen)


def test_what_is_urgent_or_in_danger_is_never_left_out_and_the_page_says_that_it_takes_longer(
    story: Story,
) -> None:
    a_bench(story)
    story.later(hours=20)

    printed = story.plain([])
    story.type("round finished")
    story.later(minutes=1)
    in_a_minute = story.shell("round", "--plain", "--minutes", "1").out.splitlines()

    assert any("What cannot wait takes" in line for line in in_a_minute), in_a_minute
    pressing = {row["where"] for row in story.due().values() if row["standing"] == "red"}
    assert pressing
    taken = " ".join(plan_of(in_a_minute, "Taken"))
    assert all(where in taken for where in pressing)
    assert printed


def test_what_is_taken_is_asked_before_what_is_left_and_the_rest_follows(story: Story) -> None:
    a_bench(story)
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock)
    plan = book.round_plan(minutes=4)
    taken = {(one.where, one.check) for one in plan.taken}
    left = {(one.where, one.check) for one in plan.left}
    assert taken
    assert left

    walk = book.round(minutes=4)
    asked: list[tuple[str, str]] = []
    while walk.question is not None and walk.question.check:
        assert walk.stop is not None
        asked.append((walk.stop.where, walk.question.check))
        walk.skip("no time") if asked.count(asked[-1]) < 3 else walk.leave()

    first_left = min(place for place, one in enumerate(asked) if one in left)
    assert set(asked[:first_left]) == taken
    assert set(asked) == taken | left


def test_time_is_left_for_what_the_round_brings_up(story: Story) -> None:
    """Whoever is out of time loses the end of the walk, where the females are."""
    a_bench(story)
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock)
    plan = book.round_plan(minutes=5)
    assert plan.left
    assert plan.seconds <= 0.9 * 5 * 60


def test_a_round_that_was_broken_off_goes_on_with_what_it_took(story: Story) -> None:
    a_bench(story)
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock)
    left = {(one.where, one.check) for one in book.round_plan(minutes=4).left}
    book.round(minutes=4).leave()

    again = rounds.open_book(story.folder, keeper="KM", clock=story.clock).round()

    assert again.stop is not None
    assert again.question is not None
    assert (again.stop.where, again.question.check) not in left


def test_a_check_that_becomes_urgent_meanwhile_is_left_no_more(story: Story) -> None:
    a_bench(story)
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock)
    left = {(one.where, one.check) for one in book.round_plan(minutes=2).left}
    assert ("A", "ants") in left
    book.round(minutes=2).leave()
    book.record("shelf A moat dry")
    walk = book.round()

    assert walk.stop is not None
    assert walk.question is not None
    while walk.stop.where == "room":
        walk.skip("no time")
    assert (walk.stop.where, walk.question.check) == ("A", "ants")


def test_minutes_that_are_no_number_are_refused_in_one_line(story: Story) -> None:
    a_bench(story)
    for typed in ("0", "-5", "soon"):
        ran = story.shell("round", "--plain", f"--minutes={typed}")
        assert ran.status == 2
        assert f"'{typed}' is no number of minutes; a whole number from 1 to 1440, as 15" in ran.err


def test_each_line_names_its_evidence_and_the_sum_is_said(story: Story) -> None:
    a_bench(story)
    for day in range(36):
        story.later(hours=24).type(
            *(["R4 cleaned"] if day % 3 == 1 else []),
            "L2 drank",
            "L3 drank",
            "R4 host seen plenty",
            "L2 host fresh",
            "L3 host fresh",
        )
    story.later(hours=48)

    printed = story.shell("round", "--plain", "--minutes", "5").out.splitlines()

    left = plan_of(printed, "Left out")
    assert left["R4, clean"].endswith("; nothing found in 12 looks.")
    assert any(line.startswith("Left out in all: ") for line in printed)


def test_a_line_left_out_says_of_whom_and_since_when_it_is_late(story: Story) -> None:
    tell_demo(story.at("2026-11-28 12:05"))
    assert story.due("R5")["food"]["state"] == "late"

    left = plan_of(story.shell("round", "--plain", "--minutes", "10").out.splitlines(), "Left out")

    (food,) = [why for what, why in left.items() if "R5" in what and what.endswith(", food")]
    assert re.match(r"R5 late since (\w+ )?\d\d:\d\d", food), left


async def test_the_title_counts_what_was_taken_then_the_rest_by_itself(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("4", "r")
        takes = re.search(r"(\d+) of \d+ stops, about (\d+) min", screen.text)
        assert takes is not None, screen.text
        await screen.press("enter")
        assert f"stop 1 of {takes[1]} " in screen.text, screen.text
        assert f"about {takes[2]} min" in screen.text
        numbers: list[tuple[int, int]] = []
        while "into the 4 minutes is done" not in screen.text:
            number = re.search(r"stop (\d+) of (\d+)", screen.text)
            assert number is not None, screen.text
            numbers.append((int(number[1]), int(number[2])))
            page = screen.app.screen.page  # type: ignore[attr-defined]
            usual = page.question is not None and page.question.usual is not None
            await screen.press(
                *(["enter"] if page.question is None else ["space"] if usual else ["a"])
            )
            assert len(numbers) < 60, screen.text
        assert numbers == sorted(numbers)
        assert {of for _, of in numbers} == {int(takes[1])}
        left = re.search(r"(\d+) checks? at (\d+) stops left out", screen.text)
        assert left is not None, screen.text
        assert "what that may cost" in screen.text
        assert "Enter goes on with it. Esc ends the round" in screen.text
        assert "skipped" not in screen.text
        await screen.press("enter")
        assert re.search(rf"the rest +stop 1 of {left[2]} ", screen.text), screen.text


async def test_a_short_round_ends_where_its_minutes_end(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("4", "r", "enter")
        for _ in range(60):
            if "into the 4 minutes is done" in screen.text:
                break
            page = screen.app.screen.page  # type: ignore[attr-defined]
            usual = page.question is not None and page.question.usual is not None
            await screen.press(
                *(["enter"] if page.question is None else ["space"] if usual else ["a"])
            )
        await screen.press("escape")
        assert type(screen.app.screen).__name__ == "BenchScreen"
    assert story.on_disk()[-1]["what"] == "round finished"


async def test_a_stop_passed_over_does_not_set_the_number_back(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("r")
        numbers, skipped = [], 0
        for _ in range(90):
            number = re.search(r"round   stop (\d+) of (\d+)", screen.text)
            if number is None:
                break
            numbers.append(int(number[1]))
            page = screen.app.screen.page  # type: ignore[attr-defined]
            if page.question is None:
                await screen.press("enter")
            elif screen.check == "room":
                await screen.press("2", "1", "enter")
            elif skipped < 3 and numbers[-1] > 1:
                skipped += 1
                await screen.press("z", "m")
            else:
                usual = page.question.usual
                none = "0" if re.search(r"0  (none|nothing yet)", screen.text) else "a"
                opens_prompt = usual is None or usual.prompt is not None
                await screen.press(none if opens_prompt else "space")
        assert skipped == 3, (numbers, screen.text)
        assert numbers == sorted(numbers), numbers
        assert "passed over before   stop 1 of 3" in screen.text, screen.text


async def test_a_number_is_forgotten_on_leaving_its_page(story: Story) -> None:
    a_bench(story)
    for size in ((80, 24), (120, 40)):
        async with story.screens(size) as screen:
            await screen.press("1", "5", "r", "escape")
            await screen.pilot.pause()
            assert "number 15_" not in screen.text


async def test_what_the_minutes_leave_out_is_not_called_skipped(story: Story) -> None:
    a_bench(story)
    async with story.screens() as screen:
        await screen.press("1", "r", "enter")
        for _ in range(30):
            assert "skipped" not in screen.text
            if "left out" in screen.text:
                return
            await screen.press("enter" if not screen.check else "space")
    raise AssertionError(screen.text)


def test_a_change_of_plant_that_is_not_due_is_left_for_the_first_drinks(story: Story) -> None:
    story.at("2027-05-11 18:00")
    for place in range(1, 6):
        tell(
            story,
            f"S{place} set up laying place={place}\nS{place} founder W{place} Boloria dia female\nS{place} host in violet leaf water",
        )
    story.at("2027-05-12 07:05")
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock)
    taken = {(one.where, one.check) for one in book.round_plan(minutes=8).taken}
    assert any(check == "drink" for _, check in taken), taken
    assert not any(check == "change" for _, check in taken), taken


def test_what_is_not_due_yet_goes_along_where_there_is_time(story: Story) -> None:
    """A round of an hour takes all that a whole one asks, not only what was due as it began."""
    a_bench(story)
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock)
    whole = {(one.where, one.check) for one in book.round_plan(minutes=0).taken}
    plan = book.round_plan(minutes=60)
    assert {(one.where, one.check) for one in plan.taken} == whole
    assert not plan.left
