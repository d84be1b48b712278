"""Codes that an old table calls in words nobody listed: where animals went, and of which laying they are."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import broods, imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Melitaea orata"


@pytest.mark.parametrize(
    ("where", "warmth", "words", "answers"),
    [
        ("Pasa a", "Tª (ºC)", ("puesta", "nacen", "traslado", "pupan"), ()),
        ("Pasa a", "Temp", ("puesta", "nacen", "pasan a jaula", "pupan"), ("pasan a jaula=moved",)),
        ("Przeniesione", "T °C", ("laid", "hatched", "tipped", "pupated"), ("tipped=moved",)),
        ("Then in", "Temp", ("laid", "hatched", "moved", "pupated"), ()),
    ],
)
def test_where_they_went_is_known_by_the_containers_in_it(
    story: Story,
    tmp_path: Path,
    where: str,
    warmth: str,
    words: tuple[str, ...],
    answers: tuple[str, ...],
) -> None:
    laid, hatched, moved, pupated = words
    text = f"""Fecha;Caja;Especie;Suceso;Nº;{where};{warmth}
2022-05-01;T1;{SPECIES};{laid};20;;20,5
2022-05-10;T1;;{hatched};12;;
2022-05-10;T1;;{moved};12;J1a;
2022-05-12;T1;;{hatched};8;;
2022-05-12;T1;;{moved};8;J1b;
2022-06-10;J1a;;{pupated};12;;21
2022-06-13;J1b;;{pupated};8;;
"""
    ran = imported(story, tmp_path, "cuaderno.csv", text)
    if answers:
        asked = answers[0].removesuffix("=moved")
        assert f"--as '{asked}=moved'" in ran.err  # what is likely, for all of them went somewhere
        ran = imported(story, tmp_path, "cuaderno.csv", text, "--as", answers[0])
    assert ran.status == 0, ran.err + ran.out
    took = table_of(story, tmp_path, "durations").set_index("stage")
    assert took["number"]["larva"] == 20
    assert took["mean (days)"]["larva"] == pytest.approx((12 * 31 + 8 * 32) / 20)
    readings = [line["temperature_c"] for line in story.on_disk() if "temperature_c" in line]
    assert sorted(readings) == [20.5, 21]


@pytest.mark.parametrize(
    ("heading", "code"),
    [
        ("Ponte", "ponte {}"),
        ("Puesta", "puesta {}"),
        ("Gelege", "Gelege {}"),
        ("Laying", "{} wild"),
    ],
)
def test_layings_in_words_are_broods(story: Story, tmp_path: Path, heading: str, code: str) -> None:
    rows = [
        f"{number};{code.format('AB'[number % 2])};2022-06-0{1 + number % 2};9;{30 + number};18;no\n"
        for number in range(1, 7)
    ]
    head = f"No.;{heading};Laid;Egg days;Larva days;Pupa days;Died\n"
    text = head + "".join(rows) + "mean;;;9;33,5;18;\n"
    options = ("--species", SPECIES, "--as", "mean=sum")
    ran = imported(story, tmp_path, "animals.csv", text, *options)
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == sorted(code.format(one).replace(" ", "-") for one in "AB")
    assert sum(line["what"] == "emerged" for line in story.on_disk()) == 6
