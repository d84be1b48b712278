"""In a terminal too narrow for all columns, a line that is cut ends with a sign that says so."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_the_plan_in_forty_columns(story: Story) -> None:
    story.type("C2 set up rearing")
    async with story.screens((40, 10)) as screen:
        await screen.press("p")
        rows = screen.text.splitlines()
        heading = next(row for row in rows if row.strip().startswith("check"))
        assert heading.endswith("…")
        first = next(row for row in rows if row.startswith(">"))
        assert first.rstrip(" ▁▇█").endswith("…")
