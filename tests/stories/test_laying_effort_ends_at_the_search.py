"""Who laid on what: only time that a search looked at is effort, and a plant never searched has no rate."""

from __future__ import annotations

import io
import re
from pathlib import Path
from zipfile import ZipFile

import pandas as pd
import pytest
from scipy.stats import chi2

from tests.laying_limits import limits_laid
from tests.stories.telling import Story, tell

HERS = """
taxon 'Pieris orata'
K2 set up laying
K2 founder A-1, Pieris orata female
K2 host in cress leaf water batch=C
"""


async def page(story: Story) -> str:
    async with story.screens((130, 60)) as screen:
        await screen.press("i")
        return screen.text


def row(text: str, plant: str) -> str:
    """The line of the table on the page that is of a plant."""
    return next(line for line in text.splitlines() if line.split()[:1] == [plant])


def table(story: Story, tmp_path: Path) -> pd.DataFrame:
    file = tmp_path / "laying.csv"
    assert story.shell("export", "csv", str(file), "--table", "laying", "--replace").status == 0
    return pd.read_csv(file).set_index("host")


FINDS = 0.6  # of the eggs there one search with a lens, as is taken for granted
VALUE, UPPER = "eggs per female-day", "upper exact two-sided 95 % limit (eggs per female-day)"


async def test_a_plant_never_searched_says_so_everywhere(story: Story, tmp_path: Path) -> None:
    tell(story, HERS + "K2 host in charlock leaf water")
    story.later(days=5)
    tell(story, "K2 searched 9 lens plant=cress")
    shown, rows = await page(story), table(story, tmp_path)
    assert "none: under" not in shown
    assert "none found in 5.0 female-days" not in shown
    assert "not searched" in row(shown, "charlock")
    assert f"{1.8 / FINDS:.2f}" in row(shown, "cress")
    words = " ".join(shown.split())
    assert "charlock: 5.0 female-days not searched: whether eggs are on it nobody knows." in words
    assert "female-days: those that a search looked at" in words
    assert pd.isna(rows.loc["charlock", UPPER])
    assert rows.loc["cress", UPPER] == pytest.approx(
        chi2.ppf(0.975, 20) / 2 / 5, abs=0.01
    )  # Garwood 1936
    note = tmp_path / "note.md"
    assert story.shell("export", "note", "A-1/A", str(note)).status == 0
    of_charlock = next(
        line for line in note.read_text().splitlines() if line.startswith("| charlock")
    )
    assert "not searched" in of_charlock
    assert "none: under" not in of_charlock


async def test_a_rate_does_not_fall_while_the_keeper_is_away(story: Story, tmp_path: Path) -> None:
    tell(story, HERS)
    story.later(days=4)
    tell(story, "K2 searched 40 lens")
    story.later(days=6)
    shown = await page(story)
    assert f"{10 / FINDS:.2f}" in row(shown, "cress")
    assert "and 6.0 not searched yet, which do not count" in " ".join(shown.split())
    assert table(story, tmp_path).loc["cress", VALUE] == pytest.approx(10, abs=0.01)
    tell(story, "K2 searched 0 lens")
    assert table(story, tmp_path).loc["cress", VALUE] == pytest.approx(4, abs=0.01)


async def test_stems_searched_after_they_came_out_bring_their_own_days(
    story: Story, tmp_path: Path
) -> None:
    tell(story, HERS + "E3 set up eggs")
    story.later(days=3)
    tell(story, "K2 host out cress held in E3\nK2 host in cress leaf water batch=D")
    story.later(days=2)
    assert "not searched" in row(await page(story), "cress")
    tell(story, "E3 searched 6 lens")
    assert f"{2 / FINDS:.2f}" in row(
        await page(story), "cress"
    )  # the two days of the fresh stems wait for their own search
    assert table(story, tmp_path).loc["cress", "effort (female-days)"] == pytest.approx(3, abs=0.01)


async def test_a_search_that_names_no_plant_and_finds_none_is_of_all_that_stand_there(
    story: Story,
) -> None:
    tell(story, HERS + "K2 host in charlock leaf water")
    story.later(days=5)
    tell(story, "K2 searched 0 lens")
    shown = await page(story)
    upper = limits_laid(0, 5, FINDS)[1]
    for plant in ("cress", "charlock"):
        told = re.search(r"none: under ([\d.]+)", row(shown, plant))
        assert told, row(shown, plant)
        assert float(told[1]) == pytest.approx(upper, rel=0.01)
    assert "host not known" not in shown


async def test_eggs_on_nobody_knows_which_plant_are_no_none_on_either(story: Story) -> None:
    tell(story, HERS + "K2 host in charlock leaf water")
    story.later(days=5)
    tell(story, "K2 searched 7 lens not known")
    shown = await page(story)
    assert "none: under" not in shown
    assert "none found in 5.0 female-days" not in shown
    assert "which plant?" in row(shown, "cress")
    assert "7" in next(line for line in shown.splitlines() if "host not known" in line)


def test_the_archive_tells_the_same_effort(story: Story, tmp_path: Path) -> None:
    tell(story, HERS)
    story.later(days=4)
    tell(story, "K2 searched 40 lens")
    story.later(days=6)
    assert story.shell("export", "dwca", str(tmp_path / "a.zip")).status == 0
    with ZipFile(tmp_path / "a.zip") as archive:
        name = next(one for one in archive.namelist() if "easurement" in one)
        facts = pd.read_csv(io.BytesIO(archive.read(name)), sep="\t", dtype=str)
    effort = facts[facts["measurementType"].str.startswith("laying effort")]
    assert [float(one) for one in effort["measurementValue"]] == [pytest.approx(4, abs=0.01)]


LID_AND_PLANT = ("2 eggs on lid, 20 on cress", "20 eggs on cress, 2 on lid")


@pytest.mark.parametrize("line", LID_AND_PLANT)
def test_eggs_beside_the_plant_leave_its_day_in_the_rate_in_either_order(
    story: Story, line: str
) -> None:
    story.at("2027-05-01 07:00")
    tell(story, "K2 set up laying\nK2 founder W1 'Pieris orata' female\nK2 host in cress")
    story.later(days=1).type(f"K2 {line}")
    rows = pd.read_csv(io.StringIO(story.shell("export", "csv", "-", "--table", "laying").out))
    rows = rows.set_index("host")
    assert rows.loc["cress", "effort (female-days)"] == 1
    assert rows.loc["cress", ["eggs", "searches", "eggs per female-day"]].tolist() == [20, 1, 20]
    assert rows.loc["host not known", ["eggs", "searches"]].tolist() == [2, 1]
    assert rows["time in which eggs in doubt were laid (female-days)"].sum() == 0


def test_eggs_beside_the_plant_alone_leave_its_day_to_the_next_search(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, "K2 set up laying\nK2 founder W1 'Pieris orata' female\nK2 host in cress")
    story.later(days=1).type("K2 2 eggs on lid")
    story.later(days=1).type("K2 9 eggs on cress")
    rows = pd.read_csv(io.StringIO(story.shell("export", "csv", "-", "--table", "laying").out))
    rows = rows.set_index("host")
    assert rows.loc["cress", ["effort (female-days)", "eggs"]].tolist() == [2, 9]


def test_eggs_on_the_gauze_of_one_that_needs_no_plant_count_in_its_rate(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(
        story,
        """
        taxon 'Pieris orata' lays_without_plant
        K2 set up laying
        K2 founder W1 'Pieris orata' female
        """,
    )
    story.later(days=1).type("K2 12 eggs on gauze")
    rows = pd.read_csv(io.StringIO(story.shell("export", "csv", "-", "--table", "laying").out))
    rows = rows.set_index("host")
    assert rows.loc["no plant", ["effort (female-days)", "eggs"]].tolist() == [1, 12]


async def test_days_without_a_search_share_what_the_next_one_found(story: Story) -> None:
    story.at("2027-05-01 18:00").type(
        "K3 1 wild female Boloria dia from Heath on Viola hirta", "K3 searched 0"
    )
    story.at("2027-05-04 06:00").type("K3 searched 11")
    async with story.screens((100, 60)) as screen:
        await screen.press("i")
        await screen.pilot.pause()
        text = screen.text
    stars = {
        day: row.count("*")
        for row in text.splitlines()
        for day in ("Sun 2", "Mon 3", "Tue 4")
        if row.strip().startswith(day)
    }
    assert len(stars) == 3, text
    assert stars["Sun 2"] == stars["Mon 3"] == stars["Tue 4"] > 0, text
