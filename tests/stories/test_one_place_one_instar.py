"""A second place or instar in a line is asked about, and no animals are called like an instar."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_old_tables_taken_in_again import imported


@pytest.mark.parametrize(
    "line",
    [
        "K3 1 female Boloria dia from Heide caught 9 Apr, place=Moor",
        "K3 1 female Boloria dia at Moor, place=Heide",
        "K3 1 female Boloria dia place=Moor at Heide",
        "K3 founder F1 female Boloria dia from Moor place=Heide",
        "R7 30 larvae Boloria dia from Moor place=Heide",
    ],
)
def test_a_second_place_is_asked_about(story: Story, line: str) -> None:
    tell(story, "K3 set up laying\nR7 set up rearing")
    assert "place was given twice: " in story.refused(line)


def test_the_same_place_twice_is_one(story: Story) -> None:
    tell(story, "K3 set up laying\nK3 1 female Boloria dia at Moor Heide, place='Moor Heide'")
    (founder,) = story.desk.bench.founders.values()
    assert founder.place == "Moor Heide"


@pytest.mark.parametrize(
    "line", ["R8 30 larvae Boloria dia L3 L4", "R8 30 L3 larvae L4 Boloria dia"]
)
def test_a_second_instar_is_asked_about(story: Story, line: str) -> None:
    assert "L3 or L4? Say of each how many there are" in story.refused(line)


def test_no_animals_are_called_like_an_instar(story: Story, tmp_path: Path) -> None:
    tell(story, "R7 set up rearing\nK3 set up laying")
    for line in ("brood L4 taxon='Boloria dia'", "K3 founder L2 female Boloria dia"):
        assert "is an instar; animals need a name that no instar has" in story.refused(line)
    rows = "date;brood;what happened;number;species\n1.5.2021;L4;hatched;30;Aglais io\n"
    ran = imported(story, tmp_path, "old.csv", f"{rows}5.6.2021;L4;pupated;18;Aglais io\n")
    assert ran.status == 0, ran.err
    assert list(story.desk.bench.broods) == ["L4-21"]
