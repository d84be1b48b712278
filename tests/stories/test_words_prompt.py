"""The prompt opens with a code begun: the same code typed again, or another, is the one that is meant."""

from __future__ import annotations

from tests.stories.telling import Screen, Story, tell


async def typed_after(screen: Screen, line: str) -> None:
    """Type a line after what the prompt begins with, as the README shows it."""
    await screen.press("t")
    await screen.pilot.press(*("space" if letter == " " else letter for letter in line))
    await screen.press("enter")


async def test_a_code_typed_again_or_another_is_meant(story: Story) -> None:
    tell(
        story,
        """
        shelf set up sill moat 1
        K2 K3 set up laying shelf=sill
        K2 founder W2 Boloria dia female
        K3 founder W3 Boloria dia female
        """,
    )
    async with story.screens() as screen:
        for line, what, where in (
            ("K2 drank", "drank", "K2"),
            ("drank", "drank", "K2"),
            ("K3 misted", "misted", "K3"),
            ("k3 drank", "drank", "K3"),
            ("12 eggs", "searched", "K2"),
            ("fed K3", "drank", "K3"),
            ("W3 died", "died", "K3"),
            ("sill moat full", "barrier", None),
            ("room 21", "air", None),
            ("hands washed", "hands washed", None),
            ("K4 set up laying", "set up", "K4"),
            ("setting bench My bench", "setting", None),
        ):
            screen.highlight("K2")
            await typed_after(screen, line)
            written = story.on_disk()[-1]
            assert (written["what"], written.get("container")) == (what, where), (
                line,
                screen.message,
            )


async def test_both_codes_are_meant_where_the_begun_one_was_deleted(story: Story) -> None:
    story.type("K2 K3 set up laying")
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.type("K2 K3 misted")
        assert [line["container"] for line in story.on_disk()[-2:]] == ["K2", "K3"]
