"""Plain words for what is done each day are read as what they mean, or asked about with what would be right."""

from __future__ import annotations

from typing import Any

import pytest

from tests.stories.telling import Story, tell

BENCH = """
L3 set up laying
E1 set up eggs
B1 set up eggs
brood A1 taxon="Polyommatus icarus"
L3 founder W4 "Polyommatus icarus"
L3 host in "Lotus corniculatus" 3 sprigs
E1 stocked 20 eggs A1
R2 set up rearing
R3 set up rearing
R4 set up rearing
R5 set up rearing
R2 stocked 15 L1 A1
R3 stocked 5 L4 A1
R2 host in "Lotus corniculatus" leaf 2 sprigs
R3 host in "Lotus corniculatus" leaf 2 sprigs
R3 host in "Onobrychis viciifolia" leaf 1 sprigs
"""


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-06-10 08:00")
    tell(story, BENCH)
    return story.at("2027-06-11 08:00")


def last(story: Story, number: int = 1) -> list[dict[str, Any]]:
    kept = [
        {
            name: value
            for name, value in one.items()
            if name not in ("id", "at", "logged", "by", "round")
        }
        for one in story.on_disk()
    ]
    return kept[-number:]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("L3 searched none", {"what": "searched", "container": "L3", "found": 0}),
        ("L3 searched, none found", {"what": "searched", "container": "L3", "found": 0}),
        (
            "L3 searched no eggs lens",
            {"what": "searched", "container": "L3", "found": 0, "aid": "lens"},
        ),
        ("L3 moved into shade", {"what": "light", "container": "L3", "to": "shade"}),
        ("L3 moved into the shade", {"what": "light", "container": "L3", "to": "shade"}),
        ("L3 put in sun", {"what": "light", "container": "L3", "to": "sun"}),
        ("L3 ant in the cup", {"what": "barrier", "container": "L3", "state": "ants"}),
        (
            "L3 3 ants in the cup",
            {"what": "barrier", "container": "L3", "state": "ants", "ants_above": 3},
        ),
        ("B1 0 frass", {"what": "frass", "container": "B1", "level": "none"}),
        ("B1 frass 0", {"what": "frass", "container": "B1", "level": "none"}),
        ("R3 3 prepupae", {"what": "looked", "container": "R3", "sign": "hanging", "number": 3}),
        ("R3 1 prepupa", {"what": "looked", "container": "R3", "sign": "hanging", "number": 1}),
        (
            "E1 collapsed 1",
            {"what": "died", "container": "E1", "number": 1, "cause": "collapsed", "stage": "egg"},
        ),
        (
            "E1 1 egg collapsed",
            {"what": "died", "container": "E1", "number": 1, "cause": "collapsed", "stage": "egg"},
        ),
        (
            "R3 2 drowned",
            {"what": "died", "container": "R3", "number": 2, "cause": "drowned", "stage": "larva"},
        ),
        (
            "R4 leaf in Lotus corniculatus",
            {"what": "host in", "container": "R4", "plant": "Lotus corniculatus", "part": "leaf"},
        ),
        (
            "R4 leaves in Lotus corniculatus 2 sprigs",
            {"what": "host in", "plant": "Lotus corniculatus", "part": "leaf", "sprigs": 2},
        ),
        (
            "R2 split 8 L1 to R4, 7 L1 to R5",
            {
                "what": "split",
                "container": "R2",
                "into": ["R4", "R5"],
                "numbers": [8, 7],
                "instar": 1,
            },
        ),
        (
            "R2 moved 8 to R4, 7 to R5",
            {"what": "split", "container": "R2", "into": ["R4", "R5"], "numbers": [8, 7]},
        ),
        (
            "R2 split 8 into R4 and 7 into R5",
            {"what": "split", "container": "R2", "into": ["R4", "R5"], "numbers": [8, 7]},
        ),
    ],
)
def test_it_is_read(bench: Story, line: str, said: dict[str, Any]) -> None:
    bench.type(line)
    assert said.items() <= last(bench)[0].items(), last(bench)


@pytest.mark.parametrize(
    "line", ["R2 leaf added", "R2 new leaf added", "R2 new leaf", "R2 food added"]
)
def test_more_of_the_plant_that_stands_there(bench: Story, line: str) -> None:
    bench.type(line)
    (said,) = last(bench)
    assert (said["what"], said["plant"], said["part"]) == ("host in", "Lotus corniculatus", "leaf")
    assert len(bench.desk.bench.containers["R2"].hosts) == 2


def test_new_leaf_where_none_stands_is_asked_about(bench: Story) -> None:
    assert "which plant?" in bench.refused("E1 new leaf added")
    assert "which plant?" in bench.refused("R3 new leaf")
    assert "host in" in bench.refused("R3 new leaf")


@pytest.mark.parametrize("line", ["R2-R4 food changed, old looked over", "R2 R4 leaf changed sure"])
def test_food_changed_in_several(bench: Story, line: str) -> None:
    bench.type('R4 host in "Lotus corniculatus" leaf 1 sprigs', "R3 host out Onobrychis binned")
    bench.later(hours=4).type(line)
    for code in ("R2", "R4"):
        (host,) = bench.desk.bench.containers[code].hosts
        assert (host.plant, host.part, host.put_in) == (
            "Lotus corniculatus",
            "leaf",
            bench.desk.now(),
        )


def test_food_changed_in_a_laying_cup_keeps_the_old_stems(bench: Story) -> None:
    bench.type("L3 food changed")
    cup = bench.desk.bench.containers["L3"]
    assert len(cup.hosts) == 1
    assert len([held for one in bench.desk.bench.containers.values() for held in one.held]) == 1


def test_another_plant_in_place_of_the_one_there(bench: Story) -> None:
    bench.type("R2 food changed Onobrychis viciifolia old looked over 2 sprigs")
    (host,) = bench.desk.bench.containers["R2"].hosts
    assert (host.plant, host.sprigs) == ("Onobrychis viciifolia", 2)


def test_two_things_in_one_line_are_told_apart(bench: Story) -> None:
    line = bench.refused("E1 6 hatched, 1 dead")
    assert "one thing a line" in line
    assert "E1 6 hatched" in line
    assert "E1 1 dead" in line
