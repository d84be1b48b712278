"""Young animals that were taken from the wild under a permit count against its limits, as far as it sets one of their stage."""

from __future__ import annotations

import pytest

from rounds.bench.permits import uses
from tests.stories.telling import Story, tell
from tests.stories.test_a_permits_return_adds_up import returned

PERMIT = "permit P-7 'Melitaea celans' females=2 eggs=30 eggs_kept=20\n"


def used(story: Story) -> dict[str, tuple[int, str]]:
    bench = story.desk.bench
    return {use.what: (use.used, use.state) for use in uses(bench, bench.permits["P-7"])}


@pytest.mark.parametrize(
    "line",
    ["R1 40 eggs Melitaea celans permit P-7", "R1 40 eggs Melitaea celans at Fen permit P-7"],
)
def test_eggs_taken_from_the_wild_are_eggs_taken(story: Story, line: str) -> None:
    tell(story, PERMIT + line)
    assert used(story)["eggs taken"] == (40, "PAST")
    to = story.folder.parent / "p.md"
    assert story.shell("export", "permit", "P-7", str(to)).status == 0
    assert "40 of 30 eggs taken, PAST THE LIMIT" in to.read_text()
    (taken,) = returned(story, "P-7")["Taken from the wild"]
    assert taken["what"] == "40 eggs"
    story.type("R1 hatched 30", "R1 released 15 larvae at Fen")
    assert used(story)["eggs kept"] == (25, "PAST")


def test_larvae_are_no_eggs_and_are_told_beside(story: Story) -> None:
    tell(story, f"{PERMIT}K2 set up laying\nK2 founder W1 Melitaea celans permit P-7")
    story.type("K2 10 eggs", "R1 6 larvae Melitaea celans at Fen permit P-7")
    story.type("R1 released 4 larvae at Fen")
    assert used(story) == {
        "females": (1, ""),
        "eggs taken": (10, ""),
        "eggs kept": (10, ""),
        "larvae taken (no limit)": (6, ""),
    }
    first = returned(story, "P-7")["Taken from the wild"]
    assert [one["what"] for one in first] == ["female, adult", "6 larvae"]


async def test_their_permit_is_told_where_they_stand(story: Story) -> None:
    tell(story, PERMIT + "R1 40 eggs Melitaea celans at Fen permit P-7")
    async with story.screens((120, 30)) as screen:
        screen.highlight("R1")
        await screen.pilot.pause()
        assert "P-7: 0 of 2 females, 40 of 30 eggs taken, PAST THE LIMIT" in screen.words
