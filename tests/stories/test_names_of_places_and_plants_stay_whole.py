"""A name of a place is read whole, and a plant is no shelf: what a line names is what it records."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    shelf set up sill barrier=moat
    K1 set up laying shelf=sill
    K1 founder W1 Melitaea cinxia female from Dry Hill
    K1 host in ribwort leaf 3 stems water
    E4 set up eggs shelf=sill
    E4 20 eggs Melitaea cinxia
    R1 set up rearing shelf=sill
    R1 8 L3 larvae Melitaea cinxia
    R1 host in ribwort leaf 3 stems water
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-06-01 07:05"), BENCH)
    return story.later(hours=5)


@pytest.mark.parametrize(
    ("line", "field", "name"),
    [
        ("E4 preserved 1 in Museum Dry Hill", "depository", "Museum Dry Hill"),
        ("E4 preserved 1 in Dry Hill Museum", "depository", "Dry Hill Museum"),
        ("W1 released at Female Bank", "place", "Female Bank"),
        ("K1 founder W9 Melitaea cinxia female from Worn Hill", "place", "Worn Hill"),
        ("K1 founder W9 Melitaea cinxia female from Mill Worn Hill", "place", "Mill Worn Hill"),
    ],
)
def test_a_word_of_a_name_says_nothing_else(bench: Story, line: str, field: str, name: str) -> None:
    bench.type(line)
    said = bench.on_disk()[-1]
    assert said[field] == name
    assert not said.get("cause")
    assert not said.get("wear")
    assert not said.get("voucher")


@pytest.mark.parametrize("line", ["R9 set up rearing on ribwort", "R9 set up rearing on Ribwort"])
def test_a_plant_is_no_shelf_of_a_new_cup(bench: Story, line: str) -> None:
    assert "R9 set up rearing; then R9 host in ribwort" in bench.refused(line)


@pytest.mark.parametrize("line", ["R1 changed on ribwort", "R1 on ribwort", "R1 moved to ribwort"])
def test_a_plant_is_no_shelf_of_one_that_stands(bench: Story, line: str) -> None:
    assert "R1 host in ribwort" in bench.refused(line)


def test_a_shelf_that_is_called_like_a_plant_is_named_as_a_shelf(bench: Story) -> None:
    bench.type("R9 set up rearing shelf ribwort", "R1 moved to ribwort")
    assert bench.on_disk()[-1]["shelf"] == "ribwort"


@pytest.mark.parametrize(
    ("line", "shelf"),
    [
        ("E4 moved all to new S2 garden", "garden"),
        ("E4 moved all to new S2 in the garden", "garden"),
        ("E4 moved all to new S2 on balcony", "balcony"),
    ],
)
def test_where_a_new_cup_stands_is_no_note(bench: Story, line: str, shelf: str) -> None:
    asked = bench.refused(line)
    assert f"S2 set up eggs shelf={shelf}; then E4 moved all to" in asked
    assert "--" not in asked


@pytest.mark.parametrize(
    "line",
    [
        "K1 1 female Melitaea cinxia, garlic mustard",
        "K9 2 females Melitaea cinxia, ribwort leaf",
        "E4 12 eggs Melitaea cinxia, garlic mustard",
    ],
)
def test_a_plant_behind_a_comma_is_no_note_unasked(bench: Story, line: str) -> None:
    before = bench.on_disk()
    plant = line.partition(", ")[2]
    assert f"{line.partition(',')[0]} on {plant}" in bench.refused(line)
    assert bench.on_disk() == before


def test_a_plant_behind_a_comma_is_asked_about_at_the_first_start(story: Story) -> None:
    typed = "My bench\n49.2N 0.4W Europe/Paris\n1\nK2 laying\n2 females Boloria dia, dog violet\n\n"
    ran = story.shell("begin", typed=typed)
    ways = [f"2 females Boloria dia {behind} dog violet" for behind in ("on", "from", "--")]
    assert f"As: {'; or '.join(ways)}" in ran.out
    assert not [line for line in story.on_disk() if line["what"] in ("founder", "note")]


@pytest.mark.parametrize("how", ["worn", "carried cool", "slightly chipped", "one worn"])
def test_how_they_are_behind_a_comma_is_no_plant(bench: Story, how: str) -> None:
    bench.type(f"K1 1 female Melitaea cinxia, {how}")
