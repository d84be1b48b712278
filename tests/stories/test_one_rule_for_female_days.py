"""Female-days are one account: kept stems, the page of who laid on what, the table and the note say the same."""

from __future__ import annotations

import csv
from pathlib import Path

from tests.stories.telling import Story, tell

REARED = """
taxon 'Pieris orata'
brood A-1 taxon='Pieris orata'
K2 set up laying
E3 set up eggs
K2 stocked 2 adults A-1
K2 host in cress leaf water batch=C sprigs=3
"""


async def pages(story: Story) -> tuple[str, str]:
    """The page of who laid on what, by rows; and in one line, with every number behind the chance of the kept stems."""
    async with story.screens((150, 60)) as screen:
        await screen.press("i")
        return screen.text, " ".join(screen.text.split())


async def test_adults_whose_sex_was_not_said_count_alike_on_both_pages(story: Story) -> None:
    tell(story, REARED)
    story.later(days=2)
    tell(story, "K2 searched 0\nK2 host out cress held in E3")
    laying, kept = await pages(story)
    assert "4.0 days of adults whose sex is not known count as no female-days" in laying
    assert (
        "4.0 female-days, 4.0 of them of adults whose sex is not known, taken for females" in kept
    ), kept


async def test_of_females_and_others_each_has_its_own_days(story: Story, tmp_path: Path) -> None:
    tell(story, REARED + "K2 founder W-7, Pieris orata female")
    story.later(days=2)
    tell(story, "K2 searched 0\nK2 host out cress held in E3")
    laying, kept = await pages(story)
    assert "4.0 days of adults whose sex is not known count as no female-days" in laying
    assert "6.0 female-days, 4.0 of them of adults whose sex is not known" in kept, kept
    file = tmp_path / "laying.csv"
    assert story.shell("export", "csv", str(file), "--table", "laying").status == 0
    rows = list(csv.DictReader(file.read_text(encoding="utf-8-sig").splitlines()))
    assert [(row["host"], row["effort (female-days)"]) for row in rows] == [("cress", "2")]


async def test_the_dark_counts_nowhere(story: Story) -> None:
    tell(story, REARED.replace("2 adults A-1", "2 adults A-1 female"))
    story.later(days=1)
    tell(story, "K2 light dark")
    story.later(days=3)
    tell(story, "K2 light sun\nK2 searched 0\nK2 host out cress held in E3")
    laying, kept = await pages(story)
    assert any(line.split()[:2] == ["cress", "2.0"] for line in laying.splitlines()), laying
    assert "that any egg was laid: 2.0 female-days, " in kept


async def test_a_sex_that_is_told_holds_from_then_on(story: Story) -> None:
    tell(story, REARED)
    story.later(days=2)
    tell(story, "K2 sexed 2 female")
    story.later(days=1)
    tell(story, "K2 searched 0\nK2 host out cress held in E3")
    laying, kept = await pages(story)
    assert "4.0 days of adults whose sex is not known count as no female-days" in laying
    assert any(line.split()[:2] == ["cress", "2.0"] for line in laying.splitlines()), laying
    assert "6.0 female-days, 4.0 of them of adults whose sex is not known" in kept
