"""A page is opened in the very moment in which the app looks at what others wrote and tells what it met."""

from __future__ import annotations

from typing import Any

import pytest

from rounds.screens.app import RoundsApp
from tests.stories.telling import Story


@pytest.fixture
def ticks_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever page is opened, both clocks of the app tick before it has drawn a line."""
    push = RoundsApp.push_screen

    def pushed(app: RoundsApp, *pages: Any, **named: Any) -> Any:
        opened = push(app, *pages, **named)
        app.hear()
        app.changed()
        return opened

    monkeypatch.setattr(RoundsApp, "push_screen", pushed)


@pytest.mark.parametrize(
    "key",
    [
        "full_stop",
        "y",
        "i",
        "z",
        "p",
        "v",
        "k",
        "b",
        "m",
        "equals_sign",
        "2",
        "r",
        "question_mark",
        "comma",
    ],
)
async def test_what_is_wrong_with_the_book_is_told_and_no_page_falls(
    story: Story, ticks_at_once: None, key: str
) -> None:
    story.type("K2 set up laying", "K2 founder W2 'Boloria dia'")
    story.folder.chmod(0o755)
    story.reopen()
    async with story.screens() as screen:
        assert "others may read this book (mode 755)" in screen.text
        await screen.press(key)
        await screen.pilot.pause()
        assert screen.text.strip()
        assert screen.app.trouble is None


async def test_it_is_told_on_the_page_as_soon_as_that_is_drawn(
    story: Story, ticks_at_once: None
) -> None:
    story.type("K2 set up laying", "K2 founder W2 'Boloria dia'")
    async with story.screens() as screen:
        other = story.on_other_laptop()
        other.type("K2 note 'from afar'")
        await screen.press("y")
        await screen.pilot.pause()
        assert "from afar" in screen.text
