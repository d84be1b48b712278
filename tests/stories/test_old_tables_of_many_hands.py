"""Tables as different people write them come in by few questions; survival and durations are those of the table.

What is true is worked out from the table's own numbers by pandas.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict
from pathlib import Path

import pandas as pd
import pytest

from tests.stories.tables_of_many_hands import (
    SPECIES,
    AnimalOf,
    BroodOf,
    EventOf,
    animals_of,
    broods_of,
    english_animals,
    english_broods,
    english_events,
    events_of,
    french_animals,
    french_broods,
    french_events,
    german_animals,
    german_broods,
    german_events,
)
from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

STAGES = ("egg", "larva", "pupa")


def taken_in(story: Story, path: Path, *answers: str, options: Sequence[str] = ()) -> None:
    """Take in a table by these answers to what it asks, and no others."""
    said: list[str] = [*options]
    for answer in ("", *answers):
        said += ["--as", answer] if answer else []
        ran = story.shell("import", str(path), "--yes", *said)
        story.reopen()
        if answer != (answers or ("",))[-1]:
            assert ran.status == 1
    assert ran.status == 0, ran.err + ran.out


@pytest.mark.parametrize(
    ("write", "name", "code", "answers"),
    [
        (german_broods, "zucht.xlsx", "Z{}", ["Summe=sum"]),
        (french_broods, "elevage.csv", "E{}", ["TOTAL=sum", "empty Espèce=as above"]),
        (english_broods, "broods.csv", "{}", ["Average=sum"]),
    ],
)
async def test_broods_in_one_row_each(
    story: Story,
    tmp_path: Path,
    write: Callable[[Path, Sequence[BroodOf]], None],
    name: str,
    code: str,
    answers: list[str],
) -> None:
    broods = broods_of(9)
    write(tmp_path / name, broods)
    taken_in(story, tmp_path / name, *answers)
    life = table_of(story, tmp_path, "life-table").astype({"brood": str})
    took = table_of(story, tmp_path, "durations").astype({"brood": str})
    life, took = (one.set_index(["brood", "stage"]) for one in (life, took))
    for one in broods:
        brood = code.format(one.number)
        assert story.desk.bench.broods[brood].taxon == one.taxon
        for place, stage in enumerate(STAGES):
            went = life.loc[(brood, stage), ["entered", "went on", "share that went on"]].tolist()
            entered, on = one.counts[place : place + 2]
            assert went[:2] == [entered, on]
            assert went[2] == pytest.approx(on / entered, abs=1e-9)
            assert took.loc[
                (brood, stage), ["number", "mean (days)", "mean temperature (C)"]
            ].tolist() == [
                on,
                one.took[place],
                one.celsius,
            ]
    first = next(one for one in broods if one.number == 2)
    async with story.screens((110, 60)) as screen:
        await screen.press("z")
        screen.highlight(f"code {code.format(2)}")
        await screen.press("enter")
        for place, stage in enumerate(STAGES):
            entered, on = first.counts[place : place + 2]
            died = str(entered - on) if entered > on else "-"
            assert f" {stage} {entered} {died} " in screen.words
        read = screen.words
        for _ in range(8):
            await screen.press("space")
            read += screen.words
    for days in first.took:
        assert f"{code.format(2)} at {first.celsius:g} C: {days:.1f} d" in read


@pytest.mark.parametrize(
    ("write", "name", "answers"),
    [
        (
            english_animals,
            "animals.xlsx",
            ["mean=sum", "last days of the dead=after it", "dead without days=eggs"],
        ),
        (german_animals, "tiere.csv", []),
        (french_animals, "suivi.xlsx", []),
    ],
)
def test_animals_in_one_row_each(
    story: Story,
    tmp_path: Path,
    write: Callable[[Path, Sequence[AnimalOf]], None],
    name: str,
    answers: list[str],
) -> None:
    animals = animals_of(36)
    write(tmp_path / name, animals)
    taken_in(story, tmp_path / name, *answers, options=("--species", SPECIES[0]))
    true = pd.DataFrame(
        [(one.laid, one.celsius, *[*one.took, None, None, None][:3]) for one in animals],
        columns=["laid", "celsius", *STAGES],
    )
    life = table_of(story, tmp_path, "life-table").groupby("stage")[["entered", "went on"]].sum()
    entered = len(animals)
    for stage in STAGES:
        on = int(true[stage].notna().sum())
        assert life.loc[stage].tolist() == [entered, on]
        entered = on
    took = table_of(story, tmp_path, "durations")
    means = true.groupby(["laid", "celsius"])[list(STAGES)].mean()
    for stage in STAGES:
        told = sorted(took[took.stage == stage]["mean (days)"])
        assert told == pytest.approx(sorted(means[stage].dropna()), abs=0.005)
    assert len(story.desk.bench.broods) == len(means)


@pytest.mark.parametrize(
    ("write", "name", "answers"),
    [
        (german_events, "buch.csv", []),
        (english_events, "diary.xlsx", ["empty Date=as above"]),
        (french_events, "carnet.csv", ["total=sum"]),
    ],
)
def test_events_in_one_row_each(
    story: Story,
    tmp_path: Path,
    write: Callable[[Path, Sequence[EventOf]], None],
    name: str,
    answers: list[str],
) -> None:
    events = events_of(5)
    write(tmp_path / name, events)
    taken_in(story, tmp_path / name, *answers)
    true = pd.DataFrame([asdict(one) for one in events])
    true["number"] = true["number"].fillna(0)
    sums = true.pivot_table(index="cup", columns="what", values="number", aggfunc="sum")
    true["ordinal"] = [one.toordinal() for one in true.day]
    true["weighed"] = true.ordinal * true.number
    means = true.groupby(["cup", "what"])[["weighed", "number"]].sum()
    means = (means.weighed / means.number).unstack()
    life = table_of(story, tmp_path, "life-table").set_index(["brood", "stage"])
    took = table_of(story, tmp_path, "durations").set_index(["brood", "stage"])["mean (days)"]
    assert len(story.desk.bench.broods) == len(sums)
    for brood in story.desk.bench.broods:
        cup = brood.partition("/")[0]
        for stage, came, went in (
            ("egg", "laid", "hatched"),
            ("larva", "hatched", "pupated"),
            ("pupa", "pupated", "emerged"),
        ):
            told = life.loc[(brood, stage), ["entered", "went on"]].tolist()
            assert told == [sums.loc[cup, came], sums.loc[cup, went]]
        days = means.loc[cup]
        assert took[brood, "egg"] == pytest.approx(days.hatched - days.laid, abs=0.005)
        assert took[brood, "pupa"] == pytest.approx(days.emerged - days.pupated, abs=0.005)


def test_a_share_and_a_remark_are_told_as_left_out(story: Story, tmp_path: Path) -> None:
    english_broods(tmp_path / "broods.csv", broods_of(6))
    ran = story.shell("import", str(tmp_path / "broods.csv"), "--dry-run", "--as", "Average=sum")
    assert "columns that are left out: Hatch rate %" in ran.out
    french_broods(tmp_path / "elevage.csv", broods_of(6))
    said = ("--as", "TOTAL=sum", "--as", "empty Espèce=as above")
    ran = imported(
        story, tmp_path, "x.csv", (tmp_path / "elevage.csv").read_text("cp1252"), *said, "--dry-run"
    )
    assert "left out, for they hold a remark alone: line 10" in ran.out
