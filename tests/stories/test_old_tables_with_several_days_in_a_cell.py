"""A cell of an old table that tells of several days: from the first laying to the last, else their middle, told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Pieris verrina"
HEAD = "brood;species;laid;eggs;hatched;larvae;pupated;pupae;emerged;adults"


def durations(story: Story, tmp_path: Path) -> dict[str, float]:
    took = table_of(story, tmp_path, "durations")
    return dict(zip(took["stage"], took["mean (days)"], strict=True))


@pytest.mark.parametrize(
    ("laid", "emerged"),
    [
        ("3-5 May 2016", "16-20 Jun 2016"),
        ("3.5.-5.5.2016", "16.6.-20.6.2016"),
        ("3.-5.5.2016", "16.6–20.6.2016"),
        ("3. bis 5.5.2016", "16.6. bis 20.6.2016"),
        ("2016-05-03/2016-05-05", "2016-06-16 - 2016-06-20"),
        ("3 au 5 mai 2016", "16 au 20 juin 2016"),
        ("du 3 au 5 mai 2016", "du 16 au 20 juin 2016"),
        ("vom 3. bis 5. Mai 2016", "zwischen 16. und 20. Juni 2016"),
        ("May 3-5, 2016", "Jun 16-20, 2016"),
    ],
)
def test_they_are_the_first_and_last_day_of_laying_or_their_middle(
    story: Story, tmp_path: Path, laid: str, emerged: str
) -> None:
    rows = f"{HEAD}\nA;{SPECIES};{laid};20;12.5.2016;18;6.6.2016;17;{emerged};16\n"
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert f"'{emerged}' is taken for 18 Jun 2016, its middle" in ran.out
    (brood,) = table_of(story, tmp_path, "broods").to_dict("records")
    assert (brood["laid from"][:10], brood["laid to"][:10]) == ("2016-05-03", "2016-05-05")
    assert durations(story, tmp_path) == {
        "egg": 8.0,
        "larva": 25.0,
        "pupa": 12.0,
        "egg to adult": 45.0,
    }


def test_days_without_a_year_have_that_of_all(story: Story, tmp_path: Path) -> None:
    rows = f"brood;species;laid;eggs;hatched;larvae\nA;{SPECIES};3.-5.5.;20;12.5.;18\n"
    ran = imported(story, tmp_path, "old.csv", rows, "--year", "2016")
    assert ran.status == 0, ran.err + ran.out
    (brood,) = table_of(story, tmp_path, "broods").to_dict("records")
    assert (brood["laid from"][:10], brood["laid to"][:10]) == ("2016-05-03", "2016-05-05")


def test_of_a_notebook_too(story: Story, tmp_path: Path) -> None:
    rows = (
        f"date;cup;species;what;number\n3.-5.5.2016;1;{SPECIES};laid;20\n12.5.2016;1;;hatched;9\n"
    )
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert "'3.-5.5.2016' is taken for 04 May 2016, its middle" in ran.out


@pytest.mark.parametrize(
    ("cell", "middle"),
    [
        ("15 et 16 mai 2019", "16 May 2019 00:00"),
        ("15. und 17. Mai 2019", "16 May 2019"),
        ("mi-mai 2019", "15 May 2019"),
        ("Mitte Mai 2019", "15 May 2019"),
        ("mid-May 2019", "15 May 2019"),
    ],
)
def test_days_in_words_are_their_middle(
    story: Story, tmp_path: Path, cell: str, middle: str
) -> None:
    rows = f"{HEAD}\nA;{SPECIES};1.5.2019;20;{cell};18;;;;\n"
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert f"'{cell}' is taken for {middle}, its middle" in ran.out
