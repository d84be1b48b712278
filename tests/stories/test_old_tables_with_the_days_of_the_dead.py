"""Old tables of animals with the days of each stage: in which stage and on which day the dead died."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Aglia verrina"
LIVING = "8,36,60,no"
HEAD = "animal,species,laid,days as egg,days as larva,total,died\n"


def animals(story: Story, tmp_path: Path, *rows: str, options: Sequence[str] = ()) -> Ran:
    """Animals laid on one day, with what stands behind it."""
    text = HEAD + "".join(f"{n},{SPECIES},2018-06-03,{row}\n" for n, row in enumerate(rows, 1))
    return imported(story, tmp_path, "alt.csv", text, *options)


def died(story: Story) -> list[tuple[str, str]]:
    """The stage of each that died, and the day."""
    lines = [line for line in story.on_disk() if line["what"] == "died"]
    return [(line["stage"], line["at"][:10]) for line in lines]


@pytest.mark.parametrize(
    ("row", "stage", "day"),
    [
        ("0,0,9,yes", "egg", "2018-06-12"),
        ("8,0,20,yes", "larva", "2018-06-23"),
        (",,9,yes", "egg", "2018-06-12"),
        ("8,36,44,yes", "larva", "2018-07-17"),
        ("8,36,50,yes", "pupa", "2018-07-23"),
    ],
)
def test_zeros_are_stages_that_were_not_reached(
    story: Story, tmp_path: Path, row: str, stage: str, day: str
) -> None:
    ran = animals(story, tmp_path, LIVING, row)
    assert ran.status == 0, ran.err + ran.out
    assert died(story) == [(stage, day)]
    assert "not written" not in ran.out


def test_days_that_are_more_than_those_in_all_are_to_mend(story: Story, tmp_path: Path) -> None:
    ran = animals(story, tmp_path, LIVING, "8,36,40,yes")
    assert ran.status == 1
    assert "line 3 cannot be read: 40 days in all are fewer than the 44 of its stages" in ran.out


def test_neither_day_nor_stage_is_not_known(story: Story, tmp_path: Path) -> None:
    ran = animals(
        story,
        tmp_path,
        LIVING,
        ",,9,yes",
        ",,,yes",
        options=("--as", "dead without days=not known"),
    )
    assert ran.status == 0, ran.err + ran.out
    assert died(story) == [("egg", "2018-06-12")]
    assert "died, in which stage is not written: line 4" in ran.out
    assert any(line.get("text") == "1 died, not written in which stage" for line in story.on_disk())


def test_where_the_days_of_a_stage_tell_that_it_was_gone_through(
    story: Story, tmp_path: Path
) -> None:
    """Others of the dead have days in all that go on behind those of their stages."""
    ran = animals(story, tmp_path, LIVING, "6,,,yes", ",,9,yes", "7,,20,yes")
    assert ran.status == 0, ran.err + ran.out
    assert sorted(died(story)) == [
        ("egg", "2018-06-12"),
        ("larva", "2018-06-23"),
        ("larva", "2018-07-17"),
    ]
    assert stages(story, tmp_path)["larva"] == (3, 2)
    assert (
        "died, on which day is not written, taken when the last of their brood went on, or the last that is: line 3"
        in ran.out
    )


def test_where_they_tell_both_it_is_asked(story: Story, tmp_path: Path) -> None:
    ran = animals(story, tmp_path, LIVING, "6,,,yes", "7,,20,yes", "8,20,28,yes")
    assert ran.status == 1
    assert "did they die in the stage behind it (after it)" in ran.err


def test_the_dead_without_any_days_are_asked_about_once(story: Story, tmp_path: Path) -> None:
    """They died as eggs, says who wrote no days of them; else nobody knows."""
    rows = (LIVING, ",,,yes", "8,,20,yes", ",,,yes", "8,36,44,yes")
    ran = animals(story, tmp_path, *rows)
    assert ran.status == 1
    assert (
        "2 that died have no days, as line 3: as eggs, or not known? Say it with --as 'dead without"
        " days=eggs' or --as 'dead without days=not known'" in ran.err
    )
    ran = animals(story, tmp_path, *rows, options=("--as", "dead without days=eggs"))
    assert ran.status == 0, ran.err + ran.out
    assert sorted(stage for stage, _ in died(story)) == ["egg", "egg", "larva", "larva"]
    assert stages(story, tmp_path)["egg"] == (5, 2)


def test_an_answer_takes_no_animal_back_into_the_egg(story: Story, tmp_path: Path) -> None:
    """What a yes means is said of all; what a row tells by its days stays so."""
    rows = (LIVING, ",,,yes", "8,,20,yes", "8,36,50,yes")
    ran = animals(story, tmp_path, *rows, options=("--as", "yes=died as egg"))
    assert ran.status == 0, ran.err + ran.out
    assert sorted(stage for stage, _ in died(story)) == ["egg", "larva", "pupa"]
