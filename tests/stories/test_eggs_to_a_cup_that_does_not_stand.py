"""A word like a code is no place on a plant: eggs that go to a cup that does not stand are asked about, not counted anew."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def laying(story: Story) -> Story:
    tell(story, 'K3 set up laying\nK3 founder W2 "Melitaea vespina" female\nK3 host in plantain')
    return story.later(hours=2)


@pytest.mark.parametrize(
    "line", ["K3 5 eggs to E3", "K3 5 eggs in E3", "K3 searched 5 E3", "K3 searched 5 on E3"]
)
def test_it_is_asked_and_nothing_is_counted(laying: Story, line: str) -> None:
    laying.type("K3 searched 5")
    before = len(laying.on_disk())
    asked = laying.refused(line)
    assert "E3 does not stand" in asked
    assert "K3 moved 5 eggs to new E3" in asked
    assert len(laying.on_disk()) == before


def test_the_line_that_is_shown_sets_the_cup_up_and_moves_them(laying: Story) -> None:
    laying.type("K3 searched 5", "K3 moved 5 eggs to new E3")
    cup = laying.desk.bench.containers["E3"]
    assert (cup.purpose, cup.count("egg"), laying.desk.bench.containers["K3"].count("egg")) == (
        "eggs",
        5,
        0,
    )
    assert "found just now, as: K3 2 eggs to new E4" in laying.refused("K3 moved 2 eggs to E4")


@pytest.mark.parametrize("where", ["leaf", "gauze", "L2", "the wall"])
def test_places_on_a_plant_are_taken(laying: Story, where: str) -> None:
    laying.type(f"K3 5 eggs on {where}")


def test_stems_are_not_kept_in_a_cup_that_does_not_stand(laying: Story) -> None:
    """It is refused with the line that sets the cup up; once it stands the stems go there."""
    refused = laying.refused("K3 host out held in E9")
    assert refused == "E9 does not stand; there is K3; to set it up first, say: E9 set up eggs"
    laying.type("E9 set up eggs", "K3 host out held in E9")
    assert [held.plant for held in laying.desk.bench.containers["E9"].held] == ["plantain"]


@pytest.mark.parametrize(
    "line",
    [
        "K3 5 eggs in E3",
        "K3 5 eggs to E3",
        "K3 5 eggs into E3",
        "K3 searched 5 in E3",
        "K3 eggs 5 in E3",
        "K3 found 5 eggs, now in E3",
        "K3 5 eggs put in cup E3",
    ],
)
def test_eggs_found_here_go_to_the_cup_that_stands(laying: Story, line: str) -> None:
    laying.type("E3 set up eggs", line)
    bench = laying.desk.bench
    assert (bench.containers["E3"].count("egg"), bench.containers["K3"].count("egg")) == (5, 0)
    search = next(one for one in laying.on_disk() if one["what"] == "searched")
    assert (search["container"], search["found"], search.get("where", "")) == ("K3", 5, "")
    assert bench.broods[bench.containers["E3"].lots[0].brood].mothers == ("W2",)


def test_where_some_are_on_record_it_is_asked_which_are_meant(laying: Story) -> None:
    laying.type("E3 set up eggs", "K3 searched 5")
    asked = laying.refused("K3 5 eggs in E3")
    assert "found just now, or of those on record in K3?" in asked
    assert (
        "K3 searched 5, then K3 moved 5 eggs to E3; or, of those on record: K3 moved 5 eggs to E3"
        in asked
    )
