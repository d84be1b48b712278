"""Footer and key page name only what does something where one stands."""

from __future__ import annotations

from textual.containers import VerticalScroll
from textual.widgets import TextArea

from tests.stories.telling import Screen, Story, tell_demo


def footer(screen: Screen) -> str:
    return screen.text.splitlines()[-1]


async def test_on_the_pages_of_the_demo(story: Story) -> None:
    tell_demo(story.at("2027-05-17 18:00"))
    async with story.screens() as screen:
        await screen.press("question_mark")
        assert "map beside it" not in screen.text, screen.text
        await screen.press("escape", "8")
        await screen.pilot.pause()
        trace = screen.app.screen.query_one("#trace", VerticalScroll)
        for _ in range(12):
            assert ("read on" in footer(screen)) == (trace.max_scroll_y > 0), screen.text
            await screen.press("down")
            await screen.pilot.pause()
        await screen.press("escape", "full_stop", "c")
        await screen.pilot.pause()
        assert "Enter" not in footer(screen), screen.text
        assert "should have happened" not in screen.text, screen.text
        await screen.press("c", "escape", "6", "question_mark")
        learned = screen.text
        assert ("take over" in learned) == ("do not ask again" in learned)
        await screen.press("escape")
        assert ("take over" in footer(screen)) == ("take over" in learned), learned


async def test_on_the_list_page_escape_closes_the_help_first(story: Story) -> None:
    async with story.screens() as screen:
        await screen.press("escape", "l", "f1")
        assert "Esc back to the list" in screen.words
        assert "Esc leave" not in screen.words
        await screen.press("escape")
        assert "Esc leave" in screen.words


async def test_a_field_too_many_says_what_to_delete(story: Story) -> None:
    async with story.screens() as screen:
        row = "K2  40e Boloria dia  ash  now  sill  x"
        await screen.press("escape", "l", *("space" if one == " " else one for one in row))
        assert "K2: delete what is after the place: 'x'" in screen.words, screen.text
        await screen.press("backspace", "backspace", "backspace", "tab", *"K3")
        assert "delete" not in screen.words, screen.text
        assert screen.app.screen.query_one("#table", TextArea).cursor_location[0] == 1
