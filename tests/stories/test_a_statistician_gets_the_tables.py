"""A statistician rebuilds a brood from the tables alone, with pandas, scipy and lifelines, and finds what the pages say."""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from lifelines import KaplanMeierFitter
from scipy.stats import beta, chi2

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of

DEATHS = ["died", "missing", "dead"]


def tables_of(story: Story, tmp_path: Path) -> dict[str, pd.DataFrame]:
    """Every table of the ZIP."""
    story.reopen()
    ran = story.shell("export", "csv", str(tmp_path / "all.zip"), "--replace")
    assert ran.status == 0, ran.err
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        return {
            name.removesuffix(".csv"): pd.read_csv(archive.open(name))
            for name in archive.namelist()
        }


def a_season(story: Story) -> None:
    """Three females on two plants; one brood goes through with losses, one warm and one cool brood as far as larvae."""
    tell(
        story,
        """
        taxon 'Pieris orata' instars=3
        setting names KM Karin Maas
        K2 K3 set up laying
        K2 founder A-1, 'Pieris orata' female at 'Mill lane' collector=KM caught=2027-04-28 province=Veluna
        K2 host in cress leaf water
        K3 founder A-2, 'Pieris orata' female
        K3 host in charlock leaf water
        air 20
        """,
    )
    story.later(days=1)
    tell(story, "K2 searched 12 lens\nK3 searched 0\nair 20")
    story.later(hours=9)
    tell(story, "K3 searched 4")
    story.later(hours=15)
    tell(
        story,
        "K2 searched 8 lens\nK3 searched 10\nair 20\nK2 host out cress held\nK2 host in charlock leaf water",
    )
    story.type("shelf set up B", "E2 set up eggs", "E3 set up eggs shelf=B")
    tell(story, "K2 moved 20 eggs to E2\nK3 moved 14 eggs to E3")
    tell(story, "shelf B air 15")
    for day in range(1, 22):
        for _ in range(2):
            story.later(hours=12)
            tell(story, "air 20\nshelf B air 15\nE3 air 15")
        if day == 4:
            tell(story, "E2 host in cress leaf water\nE2 died 2 eggs dry\nE2 hatched 15")
        if day == 5:
            tell(story, "E2 died 1 egg mould\nE2 hatched 2")
        if day == 8:
            tell(story, "E2 moulted 10 L2\nE2 died 1 larva disease instar=1")
        if day == 9:
            tell(story, "E2 moulted 6 L2\nE3 hatched 12\nE3 died 2 eggs dry")
        if day == 12:
            tell(story, "E2 moulted 16 L3\nE2 died 2 larvae mould")
        if day == 13:
            tell(story, "E2 preserved 2 larvae voucher=V7 depository='Town museum'")
        if day == 16:
            tell(story, "E2 pupated 9")
        if day == 17:
            tell(story, "E2 pupated 3")
    story.later(days=8)
    tell(story, "air 20\nE2 died 1 pupa disease\nE2 emerged 6\nE2 host out cress")
    story.later(days=1)
    tell(story, "air 20\nE2 emerged 2\nE2 released 1 adult")


@pytest.fixture
def season(story: Story) -> Story:
    a_season(story)
    return story


def events_of(tables: dict[str, pd.DataFrame], brood: str) -> pd.DataFrame:
    events = tables["events"]
    mine = events[events["brood"] == brood].copy()
    for name in ("from", "from (latest)", "to", "laid from", "laid to"):
        mine[name] = pd.to_datetime(mine[name], utc=True)
    return mine


def test_survival_comes_out_of_the_events_to_the_digit(season: Story, tmp_path: Path) -> None:
    mine = events_of(tables_of(season, tmp_path), "A-1/A")
    ends = mine[mine["fate"] != "went on"]
    laid = ends["laid from"] + (ends["laid to"] - ends["laid from"]) / 2
    age = (ends["to"] - laid) / pd.Timedelta(days=1)
    grown = ends["stage"] == "adult"  # alive to the end of the curve, as the note says
    fitter = KaplanMeierFitter()
    fitter.fit(
        age.where(~grown, age.max() + 1),
        ends["fate"].isin(DEATHS) & ~grown,
        weights=ends["number"],
    )
    note = note_of(season, tmp_path, "A-1/A")
    steps = [line.split() for line in note.split("## Survival")[1].split("## ")[0].splitlines()]
    told = [(float(one[0]), float(one[1])) for one in steps if one and one[-1][:1].isdigit()]
    assert len(told) == 7  # at the age of 0, and six ages of death
    for days, share in told[1:]:
        assert fitter.predict(days + 0.05) == pytest.approx(share, abs=0.0006)


def test_the_stage_table_comes_out_of_the_events(season: Story, tmp_path: Path) -> None:
    tables = tables_of(season, tmp_path)
    mine = events_of(tables, "A-1/A")
    rows = tables["life-table"]
    rows = rows[rows["brood"] == "A-1/A"].set_index("stage")
    assert list(rows.index) == ["egg", "L1", "L2", "L3", "pupa", "adult"]
    for stage, row in rows.iterrows():
        here = mine[mine["stage"] == stage]
        by_fate = here.groupby("fate")["number"].sum()
        assert here["number"].sum() == row["entered"]
        assert by_fate.get("went on", 0) == row["went on"]
        assert sum(by_fate.get(fate, 0) for fate in DEATHS) == row["died"]
        assert by_fate.get("in it now", 0) == row["in it now"]
        assert by_fate.get("preserved", 0) == row["kept as specimens"]
        known = row["went on"] + row["died"]
        if row["share that went on"] == row["share that went on"]:
            low = beta.ppf(
                0.025, row["went on"], known - row["went on"] + 1
            )  # Clopper & Pearson 1934
            assert row["lower 95 % limit"] == pytest.approx(low)
    causes = mine[mine["fate"] == "died"].groupby(["stage", "cause"])["number"].sum()
    assert causes.to_dict() == {
        ("L1", "disease suspected"): 1,
        ("L3", "mould"): 2,
        ("egg", "dry"): 2,
        ("egg", "mould"): 1,
        ("pupa", "disease suspected"): 1,
    }


def test_laying_rates_come_out_of_the_days(season: Story, tmp_path: Path) -> None:
    tables = tables_of(season, tmp_path)
    days = tables["laying-days"]
    sums = days.groupby(["host", "container"])[["effort (female-days)", "eggs", "searches"]].sum()
    laying = tables["laying"].set_index(["host", "container"])
    for key, row in laying.iterrows():
        effort, eggs = sums.loc[key, "effort (female-days)"], sums.loc[key, "eggs"]
        assert effort == pytest.approx(row["effort (female-days)"], abs=1e-4)
        assert (eggs, sums.loc[key, "searches"]) == (row["eggs"], row["searches"])
        if effort:
            assert row["eggs per female-day"] == pytest.approx(eggs / effort)
            high = chi2.ppf(0.975, 2 * (eggs + 1)) / 2 / effort  # Garwood 1936
            assert row["upper exact two-sided 95 % limit (eggs per female-day)"] == pytest.approx(
                high
            )
    found = tables["searches"].groupby("container")["found"].sum()
    assert (
        found.to_dict() == days.groupby("container")["eggs"].sum().to_dict() == {"K2": 20, "K3": 14}
    )


def test_durations_and_thresholds_come_out_of_the_events(season: Story, tmp_path: Path) -> None:
    tables = tables_of(season, tmp_path)
    points = []
    for brood in ("A-1/A", "A-2/A"):
        mine = events_of(tables, brood)
        timed = mine[(mine["timed"] == "yes") & (mine["stage"] == "egg")]
        begun = timed["from"] + (timed["from (latest)"] - timed["from"]) / 2
        days = (timed["to"] - begun) / pd.Timedelta(days=1)
        mean = np.average(days, weights=timed["number"])
        warm = np.average(timed["mean temperature (C)"], weights=timed["number"])
        rows = tables["durations"]
        told = rows[(rows["brood"] == brood) & (rows["stage"] == "egg")].iloc[0]
        assert mean == pytest.approx(told["mean (days)"])
        assert np.median(days.repeat(timed["number"])) == pytest.approx(told["median (days)"])
        assert warm == pytest.approx(told["mean temperature (C)"])
        points.append((warm, 1 / mean))
    slope, intercept = np.polyfit(*zip(*points, strict=True), 1)  # the line of Campbell et al. 1974
    own = tables["thresholds"]
    own = own[own["basis"].str.startswith("own broods") & (own["stage"] == "egg")].iloc[0]
    assert own["lower threshold (C)"] == pytest.approx(-intercept / slope)
    assert own["thermal constant (degree-days)"] == pytest.approx(1 / slope)


def test_founders_broods_specimens_and_kept_stems_have_a_row_each(
    season: Story, tmp_path: Path
) -> None:
    tables = tables_of(season, tmp_path)
    first = tables["founders"].set_index("founder").loc["A-1"]
    assert (first["place"], first["province"], first["collector"]) == (
        "Mill lane",
        "Veluna",
        "Karin Maas",
    )
    assert first["fate"] == "on the bench"
    brood = tables["broods"].set_index("brood").loc["A-1/A"]
    assert (brood["mothers"], brood["came"], brood["adults"], brood["alive"]) == ("A-1", 20, 8, 10)
    kept = tables["specimens"]
    assert kept["catalogue number"].tolist() == ["V7.1", "V7.2"]
    assert set(kept["depository"]) == {"Town museum"}
    stems = tables["kept-stems"].set_index("source").loc["K2"]
    assert (stems["host"], stems["females"]) == ("cress", "A-1")
    assert stems["female-days (female-days)"] == pytest.approx(2.0)


def test_every_column_stands_in_the_dictionary_and_no_cell_holds_json(
    season: Story, tmp_path: Path
) -> None:
    tables = tables_of(season, tmp_path)
    told = tables["dictionary"]
    assert list(zip(told["table"], told["column"], strict=True)) == [
        (name, column) for name, frame in tables.items() for column in frame.columns
    ]
    for _, row in told.iterrows():
        cells = tables[row["table"]][row["column"]]
        assert row["meaning"]
        assert (row["missing"] != "never empty") or not cells.isna().any(), (
            row["table"],
            row["column"],
        )
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        for name in archive.namelist():
            whole = archive.read(name)
            assert whole.startswith(b"\xef\xbb\xbf"), name
            for line in csv.reader(io.StringIO(whole.decode("utf-8-sig"))):
                assert not any(cell.startswith(("{", "[")) for cell in line), name


def test_a_protected_place_is_in_no_table(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        """
        taxon 'Melitaea celans' protected
        K2 set up laying
        K2 founder A-1, 'Melitaea celans' female place='Sorrel bluff' latitude=51.9471 longitude=0.2049
        K2 host in cress leaf water
        """,
    )
    story.later(days=1)
    tell(story, "K2 searched 5\nK2 released 1 adult 'Sorrel bluff'")
    tables_of(story, tmp_path)
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        whole = "".join(archive.read(name).decode("utf-8-sig") for name in archive.namelist())
    assert "Sorrel" not in whole
    assert "51.9471" not in whole
    assert "51.95" in whole
