"""Two females, one of them entered as 'A or B': eggs of either have a row of their own, and their days are in no rate."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_whose_eggs import page

ROW = ["effort (female-days)", "eggs"]


def cup(story: Story, second: str) -> None:
    """W2 and W3 a day together with one plant; 18 eggs, nobody knows whose."""
    tell(
        story,
        f"""
        taxon 'Melitaea rubida'
        taxon 'Melitaea celans'
        plant speedwell kept=water hours=48
        L2 set up laying
        L2 founder W2 'Melitaea rubida' female
        L2 founder W3 "{second}" female
        L2 host in speedwell
        """,
    )
    story.later(days=1).type("L2 searched 18 not known")


def laying(story: Story, tmp_path: Path) -> dict[str, dict[str, object]]:
    """The rows of the table of laying, by females."""
    story.reopen()
    assert (
        story.shell(
            "export", "csv", str(tmp_path / "laying.csv"), "--table", "laying", "--replace"
        ).status
        == 0
    )
    rows = pd.read_csv(tmp_path / "laying.csv").fillna("").to_dict("records")
    found = {row["females"]: row for row in rows}
    assert len(found) == len(rows)
    return found


@pytest.mark.parametrize(
    "second", ["Melitaea rubida or Melitaea celans", "Melitaea rubida or celans", "Melitaea celans"]
)
def test_they_have_a_row_of_their_own(story: Story, tmp_path: Path, second: str) -> None:
    cup(story, second)
    rows = laying(story, tmp_path)
    assert set(rows) == {"W2", "W3", "W2 W3"}
    assert (rows["W2 W3"]["eggs"], rows["W2 W3"]["eggs per female-day"]) == (18, "")
    for code, other in (("W2", "W3"), ("W3", "W2")):
        assert (rows[code]["eggs"], rows[code]["eggs per female-day"]) == (0, "")
        assert rows[code]["females of other species beside them"] == other
        assert rows[code]["eggs in doubt"] == 18


@pytest.mark.parametrize(
    "second", ["Melitaea rubida or Melitaea celans", "Melitaea rubida or celans", "Melitaea celans"]
)
async def test_their_day_is_in_no_rate(story: Story, tmp_path: Path, second: str) -> None:
    cup(story, second)
    story.later(days=1).type("L2 searched 12 brood=W2")
    rows = laying(story, tmp_path)
    assert [rows["W2"][name] for name in ROW] == [1, 12]
    assert rows["W2"]["eggs per female-day"] == 12
    assert rows["W2"]["time in which eggs in doubt were laid (female-days)"] == 1
    assert rows["W3"]["eggs"] == 0
    async with story.screens((130, 60)) as screen:
        await screen.press("i")
        shown = " ".join(screen.text.split())
    assert "18 eggs more may be of it" in shown
    assert "W2 alone" not in shown
    assert "1.0 when 18 eggs of one or another were laid, which do not count" in shown


def test_eggs_of_a_brood_of_the_one_that_is_not_sure_are_hers(story: Story, tmp_path: Path) -> None:
    cup(story, "Melitaea rubida or Melitaea celans")
    story.later(days=1).type("L2 searched 5 brood=W3")
    rows = laying(story, tmp_path)
    assert [rows["W3"][name] for name in ROW] == [1, 5]
    assert rows["W3"]["eggs per female-day"] == 5


async def test_the_second_epithet_alone_has_no_days_of_its_own(story: Story) -> None:
    tell(
        story,
        """
        L2 set up laying
        L2 founder W3 "Melitaea gemina or similina" female
        L2 host in Veronica water
        """,
    )
    story.later(days=1).type("L2 searched 18")
    shown = await page(story, "i")
    assert "Melitaea gemina or similina, day by day" in shown
    assert not [row for row in shown.splitlines() if row.strip().startswith("similina, day by day")]
