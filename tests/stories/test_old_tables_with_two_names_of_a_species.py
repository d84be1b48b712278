"""Old tables that call the species of one brood or cup by two names: it is asked whether it is one."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import broods, imported

NAPI, RAPAE = "Pieris orata", "Pieris verrina"
CUPS = f"""Date,Cup,Species,What,Number
2021-05-01,K1,{NAPI},eggs laid,20
2021-05-02,K2,{RAPAE},eggs laid,10
2021-05-08,K1,{RAPAE},hatched,18
2021-05-09,K2,{RAPAE},hatched,9
2021-06-01,K1,{NAPI},pupated,15
"""
ABOUT = f"{NAPI} and {RAPAE}"


def taxa(story: Story) -> dict[str, str]:
    return {code: one.taxon for code, one in story.desk.bench.broods.items()}


def test_a_cup_of_two_names_is_asked_about(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", CUPS)
    assert ran.status == 1
    assert f"K1 is {NAPI} in line 2 and {RAPAE} in line 4, though no new ones came" in ran.err
    assert f"--as '{ABOUT}={NAPI}' (or {RAPAE}, or two species)" in ran.err


@pytest.mark.parametrize("answer", [NAPI, RAPAE])
def test_it_is_one_species_in_that_cup_alone(story: Story, tmp_path: Path, answer: str) -> None:
    ran = imported(story, tmp_path, "old.csv", CUPS, "--as", f"{ABOUT}={answer}")
    assert ran.status == 0, ran.err
    assert taxa(story) == {"K1/21A": answer, "K2/21A": RAPAE}


def test_of_two_species_the_line_cannot_be(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", CUPS, "--as", f"{ABOUT}=two species")
    assert ran.status == 1
    assert f"line 4 cannot be read: {RAPAE}, but K1/21 holds {NAPI} by the lines before" in ran.out


def test_two_species_that_came_to_one_cup_are_not_asked_about(story: Story, tmp_path: Path) -> None:
    table = f"{CUPS.splitlines()[0]}\n2021-05-01,K1,{NAPI},eggs laid,20\n2021-05-01,K1,{RAPAE},eggs laid,9\n"
    assert imported(story, tmp_path, "old.csv", table).status == 0
    assert sorted(taxa(story).values()) == [NAPI, RAPAE]


EVENTS = f"""Datum;Zucht;Art;Was;Anzahl
3.5.2021;B1;{NAPI};Eier gelegt;20
9.5.2021;B1;Bergfalter;geschlüpft;18
1.6.2021;B1;{NAPI};verpuppt;15
"""
ANIMALS = f"""Nr;Zucht;Art;Eiablage;Tage Ei;Tage Raupe
1;B1;{NAPI};3.5.2021;8;30
2;B1;Bergfalter;3.5.2021;8;31
"""


@pytest.mark.parametrize("table", [EVENTS, ANIMALS])
def test_a_brood_by_its_common_and_its_latin_name_is_one(
    story: Story, tmp_path: Path, table: str
) -> None:
    ran = imported(story, tmp_path, "alt.csv", table, "--dates", "day-first")
    assert ran.status == 1
    assert f"B1 is {NAPI} in line 2 and Bergfalter in line 3" in ran.err
    said = ("--dates", "day-first", "--as", f"{NAPI} and Bergfalter={NAPI}")
    ran = imported(story, tmp_path, "alt.csv", table, *said)
    assert ran.status == 0, ran.err
    assert broods(story) == ["B1"]
    assert taxa(story) == {"B1": NAPI}
