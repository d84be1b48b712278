"""From an empty book to the first answered check: Enter alone does it, and few keys with names."""

from __future__ import annotations

import pytest
from rich.console import RenderableType
from textual import events
from textual.screen import Screen as TextualScreen
from textual.widgets import Input

from rounds.screens.app import RoundsApp
from rounds.screens.bench_screen import BenchScreen
from tests.stories.telling import Screen, Story


async def typed(screen: Screen, text: str) -> int:
    """Type a line and Enter; how many keys that took."""
    keys = [{" ": "space"}.get(sign, sign) for sign in text]
    await screen.press(*keys, "enter")
    return len(keys) + 1


async def test_enter_alone_leads_to_the_first_check(story: Story) -> None:
    story.at("2027-05-01 18:00")
    async with story.screens() as screen:
        await screen.press("a")
        await screen.press(*["enter"] * 5)
        assert "stop 1 of 1" in screen.text
        assert "K2   1 female Lepidoptera" in screen.text
        assert "waits" in screen.text, "what is next is on screen"
        await screen.press("space")
    assert [line["what"] for line in story.on_disk()] == [
        "setting",  # the zone of this machine
        "set up",
        "founder",
        "round started",
        "drank",
    ]
    story.type("LEP-27-01 is Boloria dia")


@pytest.mark.parametrize(
    ("line", "code", "purpose"),
    [
        ("1 female B. dia", "K2", "laying"),
        ("41 eggs Boloria dia", "E2", "eggs"),
        ("5 L5 Boloria dia on violet", "R2", "rearing"),
        ("6 pupae Boloria dia", "P2", "pupation"),
        ("violet in water", "S2", "host store"),
    ],
)
async def test_code_and_purpose_come_from_what_is_in_it(
    story: Story, line: str, code: str, purpose: str
) -> None:
    story.at("2027-05-01 18:00")
    async with story.screens() as screen:
        keys = 5 + await typed_start(screen, line)
        for _ in range(6):
            if screen.check:
                await screen.press("space")
                keys += 1
                break
            await screen.press("enter")
            keys += 1
    assert keys <= 40, keys
    stood = next(entry for entry in story.on_disk() if entry["what"] == "set up")
    assert (stood["container"], stood["purpose"]) == (code, purpose)


async def typed_start(screen: Screen, line: str) -> int:
    """Begin, take what is usual for place, units and container, and type what is in it."""
    await screen.press("a", *["enter"] * 4)
    return await typed(screen, line)


async def test_what_is_not_understood_sets_nothing_up(story: Story) -> None:
    async with story.screens() as screen:
        await typed_start(screen, "eggs Boloria dia")
        assert "say how many first" in screen.text
    assert [line["what"] for line in story.on_disk()] == []


async def test_a_refused_answer_is_kept_and_the_next_one_replaces_it(story: Story) -> None:
    async with story.screens() as screen:
        await screen.press("a", *["enter"] * 3)
        await typed(screen, "L2 lying")
        assert "say what L2 is for" in screen.text
        assert "L2 lying" in screen.text, "what was typed stays to be mended"
        await typed(screen, "L4 laying")
        assert "L4 stands: laying" in screen.text
    assert "L4" in {entry.get("container") for entry in story.on_disk()}


async def test_a_refused_answer_is_mended_at_its_end(story: Story) -> None:
    async with story.screens() as screen:
        await screen.press("a", *["enter"] * 3)
        await typed(screen, "L2")
        await screen.press("end")
        await typed(screen, " laying")
        assert "L2 stands: laying" in screen.text


async def test_the_first_thing_drawn_is_the_question_and_no_early_key_answers_it(
    story: Story,
) -> None:
    """Keys typed while the program starts were meant for no question that could be read."""
    drawn: list[str] = []

    class Watched(RoundsApp):
        def _display(
            self, screen: TextualScreen[object], renderable: RenderableType | None
        ) -> None:
            if screen is self.screen and renderable is not None:
                drawn.append(type(screen).__name__)
            super()._display(screen, renderable)

    app = Watched(story.at("2027-05-01 18:00").desk, greet=True)
    app.post_message(events.Key("r", "r"))
    app.post_message(events.Key("x", "x"))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        screen = Screen(app, pilot)
        assert set(drawn) == {"FirstStartScreen"}, drawn
        answer = app.screen.query_one("#wanted", Input)
        assert answer.value == "", screen.text
        await screen.press("h", "u", "t")
        assert answer.value == "hut", screen.text
        await screen.press("escape")
        assert isinstance(app.screen, BenchScreen)
        assert "container" in screen.text


@pytest.mark.parametrize(
    ("said", "stands"),
    [
        ("K2 2 females Pieris napi on garlic mustard", "K2, 2 females Pieris napi"),
        ("K2 two females Pieris napi on garlic mustard", "K2, 2 females Pieris napi"),
        ("K2 a female Pieris napi on garlic mustard", "K2, 1 female Pieris napi"),
        ("E2 40 eggs Pieris napi", "E2, 40 eggs Pieris napi"),
        ("R1 3 larvae Pieris napi", "R1, 3 larvae Pieris napi"),
    ],
)
def test_what_stands_first_may_be_said_with_its_animals(
    story: Story, said: str, stands: str
) -> None:
    story.at("2027-05-14 18:00")

    begun = story.shell("begin", typed=f"Hill\n\n\n{said}\n\n\n")

    assert "crashed" not in begun.out + begun.err
    assert stands in story.shell("shelves").out
    assert "Lepidoptera" not in story.shell("shelves").out


def test_a_list_line_without_a_code_says_that_a_code_comes_first(story: Story) -> None:
    ran = story.shell("begin", "--list", "-", typed="2f Argynnis paphia\n")
    assert "no code yet: type one first, as: K2  2f Argynnis paphia" in ran.err + ran.out
