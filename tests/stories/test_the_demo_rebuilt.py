"""Every brood of the demo, rebuilt from its tables with pandas alone, and the whole book, restored in another home, say the same."""

from __future__ import annotations

import re
from pathlib import Path

import pandas as pd
import pytest
from scipy.stats import beta

from tests.laying_limits import limits_laid
from tests.stories.telling import Story, tell_demo
from tests.stories.test_a_statistician_gets_the_tables import DEATHS, events_of, tables_of
from tests.stories.test_leaving_note import note_of, table
from tests.stories.test_leaving_season_plots_and_permit import exported, tables_in
from tests.stories.test_life_table_says_what_is_known import page

LIMITS = "eggs laid a female-day, two-sided 95 % limits"
STAGES = ["egg", "L1", "L2", "L3", "L4", "L5", "larva", "pupa", "adult"]


@pytest.fixture
def demo(story: Story) -> Story:
    tell_demo(story)
    return story


def life_of(events: pd.DataFrame) -> dict[str, tuple[str, ...]]:
    """Stage by stage as the note says it: entered, died, there now, share with its limits."""
    rows = {}
    for stage in STAGES:
        here = events[events["stage"] == stage]
        if here.empty:
            continue
        fates = here.groupby("fate")["number"].sum()
        died = int(sum(fates.get(fate, 0) for fate in DEATHS))
        went_on, now = int(fates.get("went on", 0)), int(fates.get("in it now", 0))
        known = went_on + died
        if stage == "adult" or not known:
            share = "-"
        elif now:
            share = f"{went_on} of {known}; {now} still in it"
        else:  # Clopper & Pearson 1934
            low = beta.ppf(0.025, went_on, died + 1)
            high = beta.ppf(0.975, went_on + 1, died) if died else 1.0
            share = f"{went_on / known:.2f} ({low:.2f} to {high:.2f})"
        number = int(here["number"].sum())
        rows[stage] = (str(number), str(died or "-"), str(now or "-"), share)
    return rows


def durations_of(events: pd.DataFrame) -> dict[str, tuple[str, ...]]:
    """How long each instar and the egg took, as the note says it: how many, mean, least, most, how warm."""
    timed = events[events["timed"] == "yes"].copy()
    middle = timed["from"] + (timed["from (latest)"] - timed["from"]) / 2
    timed["days"] = (timed["to"] - middle) / pd.Timedelta(days=1)
    rows = {}
    for stage, here in timed.groupby("stage"):
        number = here["number"].sum()
        mean = (here["days"] * here["number"]).sum() / number
        warm = (here["mean temperature (C)"] * here["number"]).sum() / number
        told = (mean, here["days"].min(), here["days"].max(), warm)
        rows[str(stage)] = (str(number), *(f"{one:.1f}" for one in told))
    return rows


def told_stages(rows: list[list[str]]) -> dict[str, tuple[str, ...]]:
    return {row[0]: (row[1], row[2], row[7], row[8]) for row in rows if row[0] in STAGES}


async def test_every_brood_comes_out_of_the_events(demo: Story, tmp_path: Path) -> None:
    tables = tables_of(demo, tmp_path)
    for brood in demo.desk.bench.broods:
        events = events_of(tables, brood)
        life, took = life_of(events), durations_of(events)
        note = note_of(demo, tmp_path, brood)
        assert told_stages(table(note, "Stage by stage")) == life, brood
        if took:
            lasted = {row[0]: tuple(row[1:6]) for row in table(note, "How long each stage took")}
            assert {stage: lasted[stage] for stage in took} == took, brood
        words = " ".join((await page(demo, brood)).split())
        for stage, (entered, died, _, share) in life.items():
            assert f"{stage} {entered} {died} " in words, (brood, stage)
            assert share in words, (brood, stage)


def test_every_species_of_the_season_comes_out_of_the_events(demo: Story, tmp_path: Path) -> None:
    tables = tables_of(demo, tmp_path)
    text = exported_text(demo, tmp_path, "season")
    for taxon, broods in tables["broods"].groupby("taxon")["brood"]:
        events = pd.concat([events_of(tables, brood) for brood in broods])
        title = next(
            line[3:]
            for line in text.splitlines()
            if line.startswith(f"## {taxon}: ") and "brood" in line
        )
        assert told_stages(table(text, title)[len(broods) + 1 :]) == life_of(events), taxon
        took = durations_of(events)
        lasted = {
            row[0]: tuple(row[1:6]) for row in table(text, f"{taxon}: how long each stage took")
        }
        assert {stage: lasted[stage] for stage in took} == took, taxon


def test_the_laying_rates_come_out_of_the_days(demo: Story, tmp_path: Path) -> None:
    tables = tables_of(demo, tmp_path)
    days = (
        tables["laying-days"]
        .groupby(["taxon", "host"])[["effort (female-days)", "eggs", "searches"]]
        .sum()
    )
    laying = (
        tables["laying"]
        .groupby(["taxon", "host"])[["effort (female-days)", "eggs", "searches"]]
        .sum()
    )
    pd.testing.assert_frame_equal(days, laying, check_exact=False, atol=2e-4, rtol=0)
    season = tables_in(exported_text(demo, tmp_path, "season"))
    record = demo.desk.reckoning.tallies.on_hosts(demo.desk.now())
    for (taxon, host), row in days.iterrows():
        (told,) = [one for one in season[f"{taxon}: laying"] if one["plant"] == host]
        effort, eggs = row["effort (female-days)"], row["eggs"]
        (on,) = [one for one in record if (one.taxon, one.plant) == (taxon, host)]
        low, high = limits_laid(int(eggs), effort, on.share_found or 1.0, on.share_counted)
        share = float(told["share found"].removesuffix("%")) / 100  # to the percent
        laid = [float(one) for one in re.findall(r"[\d.]+", told[LIMITS])]
        assert float(told["effort (female-days)"]) == pytest.approx(effort, abs=0.051)
        assert (told["eggs found"], told["searches"]) == (f"{eggs:.0f}", f"{row['searches']:.0f}")
        expected = [eggs / effort / share, low, high] if eggs else [high]
        assert laid == pytest.approx(expected, rel=0.03), (taxon, host)


def exported_text(story: Story, tmp_path: Path, what: str, *words: str) -> str:
    exported(story, what, *words, str(tmp_path / "told.md"), "--replace")
    return (tmp_path / "told.md").read_text()


def test_a_backup_restored_in_another_home_says_all_the_same(
    demo: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    demo.type("setting names KM Karin Maas", "K7 note 'back up today'")
    assert demo.shell("backup", str(tmp_path / "whole.zip")).status == 0
    home = Story(tmp_path / "other home" / "book", monkeypatch, laptop="cccc3333")
    home.clock = demo.clock
    ran = home.shell("merge", str(tmp_path / "whole.zip"))
    assert ran.status == 0, ran.err
    here, there = tables_of(demo, tmp_path), tables_of(home, tmp_path)
    for name, frame in here.items():
        pd.testing.assert_frame_equal(frame, there[name], obj=name)
    assert exported_text(demo, tmp_path, "season") == exported_text(home, tmp_path, "season")
    for brood in demo.desk.bench.broods:
        assert note_of(demo, tmp_path, brood) == note_of(home, tmp_path, brood)
    for what in ("occurrences", "permit"):
        told = [
            exported(one, what, *(("WP-118",) if what == "permit" else ()), "-")
            for one in (demo, home)
        ]
        assert told[0] == told[1], what
    assert home.shell("check").status == 0
    for command in ("due", "shelves"):
        assert demo.shell(command).out == home.shell(command).out, command
