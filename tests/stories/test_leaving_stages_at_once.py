"""Two changes of stage recorded in one moment: note and brood page show the brood, nothing divides by a time of nought."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    "changes",
    [("R2 pupated 2", "R2 emerged 1 female"), ("R2 moulted 2 to L6", "R2 pupated 2")],
)
def test_two_changes_in_one_moment_leave_a_note(
    story: Story, tmp_path: Path, changes: tuple[str, str]
) -> None:
    tell(
        story,
        """
        brood Q-1 taxon='Melitaea athalia'
        R2 set up rearing
        R2 stocked 3 L5 Q-1
        """,
    )
    story.later(days=9)
    story.type(*changes)
    ran = story.shell("export", "note", "Q-1", str(tmp_path / "note.md"))
    assert ran.status == 0, ran.err
    assert "Melitaea athalia" in (tmp_path / "note.md").read_text(encoding="utf-8")


async def test_two_changes_in_one_moment_leave_the_brood_page_open(story: Story) -> None:
    tell(
        story,
        """
        brood Q-1 taxon='Melitaea athalia'
        R2 set up rearing
        R2 stocked 3 L5 Q-1
        """,
    )
    story.later(days=9)
    story.type("R2 pupated 2", "R2 emerged 1 female")
    async with story.screens() as screen:
        await screen.press("z", "enter")
        assert "Melitaea athalia" in screen.text
