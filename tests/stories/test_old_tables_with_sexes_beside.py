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


@pytest.mark.parametrize(
    ("remark", "sex"),
    [
        *(("12 males, 0 females", "male"), ("12♂ 0♀", "male"), ("0m 12f", "female")),
        *(("12M 0H", "male"), ("12 f", "female"), ("all females", "female")),
        *(("alle Weibchen", "female"), ("todos machos", "male")),
    ],
)
def test_none_of_a_sex_is_none(story: Story, tmp_path: Path, remark: str, sex: str) -> None:
    table = f"""Date;Pot;What happened;Number;Species;Notes
2 May 2023;P1;laid;12;{SPECIES};
12 May 2023;P1;hatched;12;;
14 June 2023;P1;pupated;12;;
1 July 2023;P1;emerged;12;;{remark}
"""
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert emerged(story) == {sex: 12}


@pytest.mark.parametrize(("of_each", "sexes"), [("6:7", (16, 13)), ("1:1", (0, 0))])
def test_a_ratio_that_adds_up_is_of_so_many(
    story: Story, tmp_path: Path, of_each: str, sexes: tuple[int, int]
) -> None:
    table = f"""Brood;Species;Laid;Eggs;Larvae;Pupae;Sex ratio (m:f);Adults
B1;{SPECIES};2021-05-01;20;18;14;{of_each};13
B2;{SPECIES};2021-05-03;30;24;18;10:6;16
"""
    ran = imported(
        story, tmp_path, "old.csv", table, "--as", "1:1=not known", "--as", "10:6=not known"
    )
    assert ran.status == 0, ran.err + ran.out
    assert (emerged(story)["male"], emerged(story)["female"]) == sexes
