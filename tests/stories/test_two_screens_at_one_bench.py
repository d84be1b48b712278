"""Two keepers answer at two screens on one bench: what one answers moves no question under the other's hand."""

from __future__ import annotations

import pytest

from rounds.screens.app import RoundsApp
from tests.stories.telling import Screen, Story, tell


@pytest.fixture
def three_cups(story: Story) -> Story:
    """Three cups of larvae, of which the morning asks how all is."""
    story.type("brood A1 taxon='Aglia tau'")
    for code in ("R2", "R3", "R4"):
        story.type(f"{code} set up rearing", f"{code} stocked 1 L3 brood=A1")
        story.type(f"{code} host in Fagus sylvatica kept=dry")
    story.type("room 20")
    return story.at("2027-05-02 07:05")


def heard(screen: Screen) -> None:
    app = screen.app
    assert isinstance(app, RoundsApp)
    app.hear()


async def at_r3(screen: Screen) -> None:
    await screen.press("r")
    for _ in range(20):
        if screen.where == "R3":
            return
        await screen.press("minus", "m")
    pytest.fail(screen.text)


def other(story: Story) -> Story:
    another = story.on_other_laptop()
    another.keeper = "BK"
    return another


def said_of(story: Story, code: str) -> list[str]:
    return [
        str(line)
        for line in story.on_disk()
        if line.get("container") == code and str(line["at"]) > "2027-05-02T05:04"
    ]


async def test_anothers_answers_leave_the_stop_in_front(three_cups: Story) -> None:
    async with three_cups.screens() as screen:
        await at_r3(screen)
        tell(other(three_cups), "R3 host seen fresh\nR3 looked\nR3 counted 1")
        before = said_of(three_cups, "R3")
        heard(screen)
        await screen.pilot.pause()
        assert "BK answered R3 07:05" in screen.words
        assert screen.app.screen.query("#stop")
        assert screen.where == ""
        assert " R3 " in screen.text
        await screen.press("space")
        assert screen.where == "R4"
        assert "BK answered" not in screen.words
        assert said_of(three_cups, "R3") == before
        await screen.press("space")
    assert said_of(three_cups, "R4")


async def test_where_one_of_its_checks_stays_open_the_next_key_goes_on_to_it(
    three_cups: Story,
) -> None:
    async with three_cups.screens() as screen:
        await at_r3(screen)
        checks = screen.checks
        assert len(checks) > 1
        tell(other(three_cups), "R3 looked\nR3 host seen fresh")
        heard(screen)
        await screen.press("space")
        assert said_of(three_cups, "R4") == []


async def test_an_answer_elsewhere_leaves_the_question_as_it_is(three_cups: Story) -> None:
    async with three_cups.screens() as screen:
        await at_r3(screen)
        asked = screen.checks
        tell(other(three_cups), "R2 host seen fresh\nR2 looked\nR2 counted 1")
        heard(screen)
        await screen.pilot.pause()
        assert (screen.where, screen.checks) == ("R3", asked)
        assert "BK answered" not in screen.words


@pytest.mark.parametrize(
    ("key", "line"), [("x", "R3 counted 1"), ("1", "R3 counted 1"), ("g", "R3 died 1\nR3 closed")]
)
async def test_no_key_writes_behind_anothers_answer(three_cups: Story, key: str, line: str) -> None:
    async with three_cups.screens() as screen:
        await at_r3(screen)
        tell(other(three_cups), "R3 host seen fresh\nR3 looked\n" + line)
        heard(screen)
        before = three_cups.on_disk()
        assert "BK answered R3 07:05; any key goes on" in screen.words
        await screen.press(key)
        assert three_cups.on_disk() == before
        assert screen.where == "R4"


async def test_what_the_clock_changes_is_nobodys_answer(three_cups: Story) -> None:
    async with three_cups.screens() as screen:
        await at_r3(screen)
        asked = screen.checks
        app = screen.app
        assert isinstance(app, RoundsApp)
        three_cups.later(hours=3)
        app.time_goes_by()
        await screen.pilot.pause()
        assert "answered R3" not in screen.words
        if screen.checks != asked:
            assert "something else is asked of R3 now" in screen.words
        before = said_of(three_cups, "R2")
        await screen.press("x")
        assert said_of(three_cups, "R2") == before
