"""Eggs found where two plants stand, nobody knows on which: neither they nor their time make a rate of either."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from tests.stories.telling import Story, tell

TREFOIL, SAINFOIN = "Lotus corniculatus", "Onobrychis viciifolia"


def cup(story: Story) -> None:
    """A day with eggs on one of both, then a day with eggs on the trefoil alone."""
    story.at("2027-06-10 08:00")
    tell(
        story,
        f"""
        L3 set up laying
        L3 founder W4 "Polyommatus icarus" female
        L3 host in "{TREFOIL}"
        L3 host in "{SAINFOIN}"
        """,
    )
    story.at("2027-06-11 08:00").type("L3 searched 8 not known")
    story.at("2027-06-12 08:00").type(f"L3 searched 6 on {TREFOIL}", f"L3 searched 0 on {SAINFOIN}")


def table(story: Story, name: str, tmp_path: Path) -> pd.DataFrame:
    file = tmp_path / f"{name}.csv"
    assert story.shell("export", "csv", str(file), "--table", name, "--replace").status == 0
    return pd.read_csv(file)


async def page(story: Story) -> str:
    async with story.screens((140, 70)) as screen:
        await screen.press("i")
        return screen.text


async def test_their_time_is_in_no_rate(story: Story, tmp_path: Path) -> None:
    cup(story)
    rows = table(story, "laying", tmp_path).set_index("host")
    assert rows.loc[TREFOIL, "effort (female-days)"] == pytest.approx(1, abs=0.01)
    assert rows.loc[TREFOIL, "eggs per female-day"] == pytest.approx(6, abs=0.1)
    assert rows.loc[TREFOIL, "eggs on one of several plants"] == 8
    left_out = "time in which eggs in doubt were laid (female-days)"
    assert rows.loc[TREFOIL, left_out] == pytest.approx(1, abs=0.01)
    shown = await page(story)
    row = next(
        line for line in shown.splitlines() if line.strip().startswith("Lotus") and "[" in line
    )
    assert "59 %     6  10.14 (" in row
    assert "8 eggs more may be on it" in " ".join(shown.split())
    assert "1.0 when 8 eggs on one of several plants were laid" in " ".join(shown.split())


def test_the_days_still_add_up(story: Story, tmp_path: Path) -> None:
    cup(story)
    rows = table(story, "laying", tmp_path).set_index("host")
    days = table(story, "laying-days", tmp_path).groupby("host").sum(numeric_only=True)
    for plant in (TREFOIL, SAINFOIN):
        effort = "effort (female-days)"
        assert days.loc[plant, effort] == pytest.approx(rows.loc[plant, effort], abs=0.01)
        assert days.loc[plant, "in no rate (female-days)"] == pytest.approx(1, abs=0.01)


async def test_no_share_is_found_where_no_search_told_any(story: Story, tmp_path: Path) -> None:
    story.at("2027-06-10 08:00")
    tell(
        story,
        f"""
        L3 set up laying
        L3 founder W4 "Polyommatus icarus" female
        L3 host in "{TREFOIL}"
        L3 host in "{SAINFOIN}"
        """,
    )
    story.at("2027-06-11 08:00").type("L3 searched 8 not known")
    rows = table(story, "laying", tmp_path).set_index("host")
    assert pd.isna(rows.loc[SAINFOIN, "share of eggs that searches find, as reckoned"])
    assert "100 %" not in await page(story)


def test_of_kept_stems_too(story: Story, tmp_path: Path) -> None:
    story.at("2027-06-10 08:00")
    tell(
        story,
        f"""
        L3 set up laying
        L3 founder W4 "Polyommatus icarus" female
        L3 host in "{TREFOIL}"
        L3 host in "{SAINFOIN}"
        """,
    )
    story.at("2027-06-12 08:00").type(
        "L3 searched 0 lens", f'L3 host out "{TREFOIL}" kept', f'L3 host out "{SAINFOIN}" kept'
    )
    story.at("2027-06-13 08:00").type("L3 searched 5 lot=1,2")
    rows = table(story, "laying", tmp_path).set_index("host")
    for plant in (TREFOIL, SAINFOIN):
        assert rows.loc[plant, "effort (female-days)"] == pytest.approx(0, abs=0.01)
        assert rows.loc[plant, "eggs on one of several plants"] == 5
