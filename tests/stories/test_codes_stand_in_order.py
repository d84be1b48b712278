"""Codes are listed as a keeper counts: W2 before W10."""

from __future__ import annotations

from rounds.bench.codes import in_order
from tests.stories.telling import Story
from tests.stories.test_leaving_season_plots_and_permit import tables_in


def test_numbers_in_codes_are_numbers() -> None:
    codes = ["W10", "W2", "w1b", "W1", "B", "7/24", "10/24", "W2/A"]
    assert sorted(codes, key=in_order) == ["7/24", "10/24", "B", "W1", "w1b", "W2", "W2/A", "W10"]


async def test_the_page_of_broods_lists_them_so(story: Story) -> None:
    for code in ("W10", "W2", "W21", "W1"):
        story.type(f"L{code[1:]} set up laying")
        story.type(f"L{code[1:]} founder {code} Pieris verrina female")
    async with story.screens((100, 40)) as screen:
        await screen.press("z")
        places = [screen.words.index(f" {code} female") for code in ("W1", "W2", "W10", "W21")]
    assert places == sorted(places)


def test_the_season_lists_broods_so(story: Story) -> None:
    for code in ("W10", "W2", "W21"):
        story.type(f"L{code[1:]} set up laying", f"brood {code}/A taxon='Pieris verrina'")
        story.type(f"L{code[1:]} stocked {code}/A 6 larvae")
    story.type("L10 moved 6 to L2", "L2 died 1 not known")
    to = story.folder.parent / "season.md"
    assert story.shell("export", "season", str(to)).status == 0
    (rows,) = (
        rows for name, rows in tables_in(to.read_text()).items() if name.endswith("3 broods")
    )
    names = [row["brood"] for row in rows]
    assert names[:3] == ["W2/A", "W10/A", "W21/A"]
