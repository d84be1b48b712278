"""Days of a bench told at the prompt alone: females brought in cool, their plants, stems kept, larvae that moult."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

FIRST_DAY = """
K3 set up laying
K3 3 females Limenitis sylvana from Alder carr caught Fri 4 Jun 15:10 carried in a cool box
K3 host in honeysuckle young leaves 4 stems cut at Alder carr yesterday 18:00
E4 set up eggs
B2 14 L2 Eriogaster montana from Fell gate on blackthorn twigs
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-06-05 07:00"), FIRST_DAY)
    return story.at("2027-06-05 19:00")


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("K3 one of them drank by hand", "drank, 1, hand-fed"),
        ("K3 the female LIM-27-02 drank", "drank, LIM-27-02"),
        ("K3 female LIM-27-02 died", "LIM-27-02"),
        ("the female LIM-27-02 drank", "drank, LIM-27-02"),
        ("K3 honeysuckle limp", "host limp, honeysuckle"),
        ("B2 blackthorn eaten", "host eaten, blackthorn"),
        ("K3 12 C", "12"),
        ("B2 5 of them moulted to L3", "5"),
    ],
)
def test_as_it_is_said_in_the_evening(bench: Story, line: str, shown: str) -> None:
    before = len(bench.on_disk())
    assert shown in bench.type(line)[0]
    assert len(bench.on_disk()) == before + 1


@pytest.mark.parametrize("line", ["K3 host out kept stems to E4", "K3 host out old stems to E4", "K3 kept stems to E4"])  # fmt: skip
def test_kept_stems_go_and_fresh_ones_stay(bench: Story, line: str) -> None:
    bench.type("K3 host changed young leaves, old stems kept", line)
    cups = bench.desk.bench.containers
    assert [held.batch for held in cups["E4"].held] == ["A"]
    assert [host.part for host in cups["K3"].hosts] == ["young leaves"]


def test_where_none_are_kept_old_stems_are_asked_about(bench: Story) -> None:
    told = bench.refused("K3 host out old stems")
    assert "of the old stems, as: K3 host changed honeysuckle, old kept" in told
    assert bench.desk.bench.containers["K3"].hosts


def test_another_thing_that_happened_is_no_part_of_a_plant(bench: Story) -> None:
    line = "K3 host in fly honeysuckle leaves, honeysuckle out kept"
    assert "'out' is another thing that happened: one thing a line" in bench.refused(line)


def test_a_comma_behind_a_part_ends_the_plant(bench: Story) -> None:
    bench.type("B2 host in birch leaves, sallow young leaves")
    assert [host.plant for host in bench.desk.bench.containers["B2"].hosts] == [
        "blackthorn",
        "birch",
        "sallow",
    ]


def test_no_part_of_a_plant_is_offered_where_none_fits(bench: Story) -> None:
    asked = bench.refused("B2 larvae eat birch")
    assert "leaflet" not in asked
    assert "'eat' does not fit 'counted'" in asked


def test_a_shelf_that_nothing_guards(story: Story) -> None:
    story.at("2027-06-05 07:00").type("shelf sill set up, no barrier")
    assert story.desk.bench.shelves["sill"].barrier == "none"


@pytest.mark.parametrize(
    ("said", "plant", "part"),
    [
        ("more honeysuckle", "honeysuckle", ""),
        ("another honeysuckle leaf", "honeysuckle", "leaf"),
        ("2 more stems of honeysuckle", "honeysuckle", "stems"),
        ("new honeysuckle young leaves", "honeysuckle", "young leaves"),
        ("same honeysuckle", "honeysuckle", ""),
        ("honeysuckle as well", "honeysuckle", ""),
        ("honeysuckle too", "honeysuckle", ""),
        ("honeysuckle about 18:30", "honeysuckle", ""),
        ("honeysuckle - from Alder carr", "honeysuckle", ""),
        ("a few stems of honeysuckle", "honeysuckle", "stems"),
        ("New Zealand flax leaf", "New Zealand flax", "leaf"),
    ],
)
def test_small_words_are_no_part_of_a_plant(bench: Story, said: str, plant: str, part: str) -> None:
    bench.type(f"K3 host in {said}")
    put_in = bench.on_disk()[-1]
    assert (put_in["plant"], put_in.get("part", "")) == (plant, part)


def test_another_plant_instead_is_asked_about(bench: Story) -> None:
    asked = bench.refused("K3 host in primrose instead of honeysuckle")
    assert "'instead' is another thing that happened" in asked


def test_eggs_are_found_at_one_moment(bench: Story) -> None:
    assert "when they were found" in bench.refused("K3 3 eggs on a leaf since yesterday")
    bench.type("K3 3 eggs on a leaf")
    assert bench.on_disk()[-1]["where"] == "leaf"
