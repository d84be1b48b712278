"""Eggs found were laid between the last search of an earlier visit and this one, on every page and in the archive."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_pins_and_permits import rows_of
from tests.stories.test_whose_eggs import page

SPECIES = "'Boloria lapidata'"


def laying(story: Story) -> None:
    story.at("2027-06-01 18:30")
    tell(story, f"K2 set up laying\nK2 founder W2 {SPECIES} female\nK2 host in viola\nroom 22")


def egg_dates(story: Story, tmp_path: Path) -> list[str]:
    """When the eggs of each search were laid, by the archive."""
    return [row["eventDate"] for row in rows_of(story, tmp_path) if row["lifeStage"] == "egg"]


@pytest.mark.parametrize(
    ("changed", "where"),
    [(("host changed",), " on gauze"), (("host out binned sure", "host in viola"), "")],
)
async def test_the_forecast_does_not_begin_with_the_plant_that_was_put_in_just_now(
    story: Story, changed: tuple[str, ...], where: str
) -> None:
    laying(story)
    story.at("2027-06-02 18:30").type("K2 searched 0")
    story.at("2027-06-04 07:10").type(*(f"K2 {one}" for one in changed))
    story.at("2027-06-04 07:11").type(f"K2 4 eggs{where}")
    ahead = " ".join((await page(story, ".", "w")).split())
    assert "begun between Wed 2 18:30 and 07:11 today" in ahead


def test_the_second_search_of_a_visit_looks_back_to_the_visit_before(
    story: Story, tmp_path: Path
) -> None:
    laying(story)
    story.at("2027-06-02 18:30").type("K2 searched 0")
    story.at("2027-06-04 07:10").type("K2 4 eggs on gauze")
    story.at("2027-06-04 07:11").type("K2 2 eggs on paper")
    assert egg_dates(story, tmp_path) == [
        "2027-06-02T18:30+02:00/2027-06-04T07:10+02:00",
        "2027-06-02T18:30+02:00/2027-06-04T07:11+02:00",
    ]


@pytest.mark.parametrize("by_key", [False, True])
async def test_what_was_not_sure_was_laid_before_it_was_seen(
    story: Story, tmp_path: Path, by_key: bool
) -> None:
    laying(story)
    story.at("2027-06-02 18:30").type("K2 searched 0")
    story.at("2027-06-04 07:10").type("K2 searched 2 unsure lens")
    story.at("2027-06-04 18:40")
    if by_key:
        async with story.screens((110, 60)) as screen:
            screen.highlight("K2")
            await screen.press("e", "y")
    else:
        story.type("K2 confirmed 2")
    brood = story.desk.bench.broods["W2/A"]
    assert (f"{brood.laid_from:%d %H:%M}", f"{brood.laid_to:%d %H:%M}") == ("02 18:30", "04 07:10")
    assert "begun between Wed 2 18:30 and 07:10 today" in " ".join(
        (await page(story, ".", "down")).split()
    )
    assert egg_dates(story, tmp_path) == ["2027-06-02T18:30+02:00/2027-06-04T07:10+02:00"]


async def test_found_late_on_stems_that_had_left_the_cup(story: Story, tmp_path: Path) -> None:
    story.at("2027-06-01 18:30")
    tell(
        story,
        f"K2 set up laying\nK2 founder W2 {SPECIES} female\nK2 host in viola\nS6 set up host store\nroom 23",
    )
    story.at("2027-06-04 07:10").type("K2 searched 0")
    story.at("2027-06-04 07:11").type("K2 host out held", "K2 host in viola")
    story.at("2027-06-04 07:12").type("K2 stems lot 1 to S6")
    story.at("2027-06-05 07:12").type("K2 searched 9")
    story.at("2027-06-07 07:12").type("S6 searched 3 lens lot=1")
    async with story.screens((110, 60)) as screen:
        await screen.press(".")
        seen = ""
        for _ in range(8):
            seen += " ".join(screen.text.split())
            await screen.press("down")
    assert "3 of W2/A, begun between Tue 1 18:30 and Fri 4 07:11" in seen
    assert "laid Tue 1 Jun 18:30 to Sat 5 Jun 07:12" in " ".join(
        (await page(story, "z", row="code W2/A")).split()
    )
    assert egg_dates(story, tmp_path)[-1] == "2027-06-01T18:30+02:00/2027-06-04T07:11+02:00"
