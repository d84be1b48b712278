"""Several lines pasted at the prompt: all are taken in order, none vanishes unsaid."""

from __future__ import annotations

from textual import events

from tests.stories.telling import Screen, Story, tell


async def paste(screen: Screen, text: str) -> None:
    """As a terminal hands on what was pasted."""
    screen.app.post_message(events.Paste(text))
    await screen.pilot.pause()


def begun(story: Story) -> Story:
    tell(
        story,
        "K2 set up laying\nK3 set up laying\nK2 founder W2 'Aglais vera' female\nK3 founder W3 'Aglais vera' female",
    )
    return story


def said(story: Story) -> list[str]:
    return [f"{one.get('container', '')} {one['what']}" for one in story.on_disk()[5:]]


async def test_all_lines_are_taken_in_order(story: Story) -> None:
    begun(story)
    async with story.screens((110, 30)) as screen:
        await screen.press("t", "ctrl+u")
        await paste(screen, "K2 drank 1\r\n\r\nK3 misted\nK3 note two of them\n")
        assert "K2 drank 1 ⏎ K3 misted ⏎ K3 note two of them" in screen.text
        assert "3 lines" in screen.message
        assert said(story) == []
        await screen.press("enter")
        assert "3 lines saved" in screen.message
    assert said(story) == ["K2 drank", "K3 misted", "K3 note"]


async def test_the_first_that_is_refused_stays_in_the_prompt_with_the_rest(story: Story) -> None:
    begun(story)
    async with story.screens((110, 30)) as screen:
        await screen.press("t", "ctrl+u")
        await paste(screen, "K2 drank 1\nK9 frobnicated\nK3 misted")
        await screen.press("enter")
        assert "1 of 3 lines saved" in screen.message
        assert "⏎ K3 misted" in screen.text
        assert "K2 drank 1 ⏎" not in screen.text
        assert said(story) == ["K2 drank"]
        await screen.press(
            "home",
            *(["delete"] * len("K9 frobnicated")),
            "K",
            "2",
            " ",
            "m",
            "i",
            "s",
            "t",
            "e",
            "d",
            "enter",
        )
        assert said(story) == ["K2 drank", "K2 misted", "K3 misted"]


async def test_escape_leaves_them_to_be_called_back(story: Story) -> None:
    begun(story)
    async with story.screens((110, 30)) as screen:
        await screen.press("t", "ctrl+u")
        await paste(screen, "K2 drank 1\nK3 misted")
        await screen.press("escape", "t", "up")
        assert "K2 drank 1 ⏎ K3 misted" in screen.text
        await screen.press("enter")
    assert said(story) == ["K2 drank", "K3 misted"]


async def test_the_code_that_was_begun_is_of_the_first_line(story: Story) -> None:
    begun(story)
    async with story.screens((110, 30)) as screen:
        screen.highlight("K2")
        await screen.press("t")
        await paste(screen, "misted\nK3 misted")
        await screen.press("enter")
    assert said(story) == ["K2 misted", "K3 misted"]


async def test_words_of_several_lines_are_held_together(story: Story) -> None:
    begun(story)
    async with story.screens((110, 30)) as screen:
        await screen.press("y", "x")
        await paste(screen, "it was\nthe other cup")
        await screen.press("enter")
    assert story.on_disk()[-1]["why"] == "it was the other cup"
