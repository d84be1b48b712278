"""A page that draws no curve says of whom: dead that came in grown are in none, yet they died."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

LISTED = "R4\t10 L3 Cucullia torvana\tmullein\t11 Jul\track 1\nP2\t6 pupae Cucullia torvana\t\t1 Jul\track 2\n"


async def test_the_dead_of_those_that_came_in_grown_are_told_beside_those_laid_here(
    story: Story,
) -> None:
    story.at("2027-07-12 18:05")
    assert story.shell("begin", "--list", "-", typed=LISTED).status == 0
    story.reopen()
    story.type(
        "R4 died 2",
        "P2 emerged 2 female",
        "C5 set up pairing",
        "P2 moved 1 female to C5",
        "C5 host in mullein",
    )
    story.type("C5 searched 12")
    async with story.screens((100, 40)) as screen:
        await screen.press("z", "enter")
        assert (
            "survival: none of those laid here died yet; 2 died that were not laid here: in no curve"
            in screen.words
        )
        assert "none died yet" not in screen.words


async def test_where_none_died_it_says_so(story: Story) -> None:
    story.at("2027-07-12 18:05")
    assert story.shell("begin", "--list", "-", typed=LISTED).status == 0
    story.reopen()
    async with story.screens((100, 40)) as screen:
        await screen.press("z", "enter")
        assert "survival: none died yet" in screen.words


GROWN = """
P2 set up pupation
K8 set up pairing
brood A-1 taxon='Leptidea torva'
P2 stocked A-1 pupa 6
"""


@pytest.fixture
def grown(story: Story) -> Story:
    """Six pupae; five emerged, of which one died, and one was let go."""
    tell(story.at("2027-07-10 08:00"), GROWN)
    story.at("2027-07-16 08:00").type("P2 emerged 4")
    story.at("2027-07-18 08:00").type("P2 emerged 1", "P2 died 1 adult", "P2 released 1 at Heath")
    return story


async def test_where_only_adults_died_no_page_says_that_none_did(
    grown: Story, tmp_path: Path
) -> None:
    async with grown.screens((100, 40)) as screen:
        await screen.press("z", "enter")
        assert "survival: none died before the adult; 1 died as adult: in no curve" in screen.words
    grown.reopen()
    note, season, plot = (str(tmp_path / name) for name in ("n.md", "s.md", "p.svg"))
    assert grown.shell("export", "note", "A-1", note).status == 0
    assert grown.shell("export", "season", season).status == 0
    for file in (note, season):
        told = Path(file).read_text()
        assert "None died before the adult; 1 died as adult: in no curve." in told
        assert "None died, so" not in told
    refused = grown.shell("export", "plot", "A-1", plot, "--plot", "survival")
    assert refused.status == 1
    assert "none died before the adult; 1 died as adult" in refused.err


async def test_adults_have_no_share_of_what_killed_them(grown: Story, tmp_path: Path) -> None:
    grown.type("P2 died 1 more adult old age")

    def told() -> str:
        grown.reopen()
        file = tmp_path / "n.md"
        assert grown.shell("export", "note", "A-1", str(file), "--replace").status == 0
        return file.read_text()

    living = told()
    assert "adult: cause not recorded 1, old age 1; 2 still in it, no share yet." in living
    assert "| adult: old age |" not in living
    grown.type("P2 died 2 adult old age")
    dead = told()
    assert "adult: cause not recorded 1, old age 3; no share of adults." in dead
    assert "What killed them, one cause after another" not in dead
    table = tmp_path / "life.csv"
    ran = grown.shell("export", "csv", str(table), "--table", "life-table")
    assert ran.status == 0, ran.err
    (adult,) = [row for row in table.read_text().splitlines() if ",adult," in row]
    assert ",4,1,0,0,,,," in adult


def test_stock_and_events_say_alike_since_when(grown: Story, tmp_path: Path) -> None:
    import pandas as pd

    grown.type("P2 moved 1 adult to K8")
    grown.reopen()
    found = {}
    for table in ("stock", "events"):
        file = tmp_path / f"{table}.csv"
        assert grown.shell("export", "csv", str(file), "--table", table).status == 0
        found[table] = pd.read_csv(file)
    now = found["events"].query("fate == 'in it now' and stage == 'adult'")
    first = now.groupby("container")["from"].min()
    stock = found["stock"].query("stage == 'adult'").set_index("container")["since"]
    assert stock.to_dict() == first.to_dict()
    assert set(stock.index) == {"P2", "K8"}
