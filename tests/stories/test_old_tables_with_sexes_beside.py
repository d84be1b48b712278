"""Old tables that tell the sexes of those that emerged beside their number: in a remark, or in a column of both."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Actias verrina"


def emerged(story: Story) -> Counter[str]:
    """How many emerged of each sex."""
    found: Counter[str] = Counter()
    for line in story.on_disk():
        if line["what"] == "emerged":
            found[line.get("sex", "")] += line["number"]
    return found


@pytest.mark.parametrize(
    "remark",
    [
        *("1 M, 3 W", "1♂ 3♀", "1 Männchen, 3 Weibchen", "3 f + 1 m", "1M 3H", "1 m, 3 h"),
        *("1m 3v", "3 v, 1 m", "1 mannetje, 3 wijfjes"),
    ],
)
def test_sexes_in_a_remark_that_add_up_are_the_sexes(
    story: Story, tmp_path: Path, remark: str
) -> None:
    table = f"""Datum;Dose;Was;Anzahl;Art;Bemerkung
3.5.2021;1;Eier;6;{SPECIES};
10.5.2021;1;geschlüpft;6;;
1.6.2021;1;verpuppt;6;;
14.6.2021;1;Falter geschlüpft;4;;{remark}
15.6.2021;1;Falter;2;;1 M verkrüppelt
"""
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert emerged(story) == {"male": 1, "female": 3, "": 2}


@pytest.mark.parametrize(("first", "second"), [("8/7", "8 M 7 F"), ("8 M 7 F", "8+7")])
def test_a_column_of_sexes_with_numbers_of_both_counts_both(
    story: Story, tmp_path: Path, first: str, second: str
) -> None:
    table = f"""Espèce;Mère;Pondu;Œufs;Éclosion;Larves;Imagos;Sexe (M/F)
{SPECIES};F1;2019-05-03;20;2019-05-14;18;15;{first}
{SPECIES};F2;2019-05-13;20;2019-05-24;18;16;{second}
"""
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert emerged(story) == {"male": 16, "female": 14, "": 1}
