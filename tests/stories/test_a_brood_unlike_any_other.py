"""A stage that went by in hours, as a slip or a wrong brood makes it, teaches what it can; it breaks no page and no command."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_pupae_that_emerge_within_hours_leave_the_bench_readable(story: Story) -> None:
    story.at("2027-05-01 07:05")
    tell(
        story,
        """
        R5 set up rearing
        brood B taxon='Boloria inventa'
        R5 counted 3 pupae brood=B
        """,
    )
    story.later(hours=4).type("R5 emerged 2 sure")
    story.later(hours=2)
    assert story.shell("due").status == 0
    assert "R5" in story.shell("due", "--within", "72h").out
