"""What says something else in a line is no new plant, species or place; real names with such words are."""

from __future__ import annotations

import pytest

from rounds.app.prompt_line import say_phrase
from rounds.entries.names import known_plants, known_species
from rounds.entries.phrase.foreign_words import no_name, own_words
from rounds.entries.place_words import HOUSE_AND_GARDEN
from tests.stories.telling import Story, tell


@pytest.fixture
def cups(story: Story) -> Story:
    """A cup with one female, on sorrel, and one for larvae."""
    tell(
        story,
        """
        D2 1 female Lycaena tityrus from Tannmoos
        D2 host in sorrel
        R5 set up rearing
        """,
    )
    return story.later(hours=1)


def plants(story: Story, container: str) -> list[str]:
    """The plants that stand in a container, each with its part."""
    return [f"{host.plant} {host.part}".strip() for host in story.desk.bench.containers[container].hosts]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "stands"),
    [
        ("R5 host in sorrel leaf and bud", ["sorrel leaf and bud"]),
        ("R5 host in leaf and bud of sorrel", ["sorrel leaf and bud"]),
        ("R5 host in sorrel leaf and dock", ["sorrel leaf", "dock"]),
        ("R5 host in sorrel leaf, dock", ["sorrel leaf", "dock"]),
        ("R5 host in sorrel and dock leaf", ["sorrel leaf", "dock leaf"]),
        ("R5 host in sorrel leaf and buds of dock", ["sorrel leaf", "dock buds"]),
        ("R5 host in sorrel leaf and 3 sprigs", ["sorrel leaf"]),
        ("R5 host in sorrel leaf, bud and flower", ["sorrel leaf bud and flower"]),
        ("R5 host in sorrel leaf, buds of dock", ["sorrel leaf", "dock buds"]),
    ],
)
def test_a_part_is_of_the_plant_it_is_said_of(cups: Story, line: str, stands: list[str]) -> None:
    cups.type(line)
    assert plants(cups, "R5") == stands


@pytest.mark.parametrize(
    ("line", "word", "meant"),
    [
        ("R5 host in sorrel, worn", "worn", "R5 host in sorrel -- worn"),
        ("R5 host in sorrel whole plant", "whole plant", "R5 host in sorrel -- whole plant"),
        ("R5 host in sorrel worn", "worn", "R5 host in sorrel -- worn"),
        ("R5 host in sorrel and some other", "other", "-- other"),
        ("D2 founder W7 Lycaena tityrus female at light", "light", "D2 founder W7 Lycaena tityrus female -- light"),
        ("D2 one more in the corner", "the corner", "D2 one more -- the corner"),
    ],
)  # fmt: skip
def test_the_words_are_named_and_where_they_belong(
    cups: Story, line: str, word: str, meant: str
) -> None:
    asked = cups.refused(line)
    assert f"'{word}'" in asked
    assert meant in asked


def test_no_word_of_the_tool_is_a_name_by_itself() -> None:
    for word in own_words():
        assert no_name(word) == word
        assert no_name(word, of_place=True) == ("" if word in HOUSE_AND_GARDEN else word)


def test_no_word_of_the_tool_becomes_one_unasked(cups: Story) -> None:
    of_plants, of_species = (
        dict(known_plants(cups.desk.bench)),
        dict(known_species(cups.desk.bench)),
    )
    for place, word in enumerate(sorted(own_words())):
        if place % 7:
            continue
        say_phrase(cups.desk, f"R5 host in sorrel, {word}")
        say_phrase(cups.desk, f"D2 founder W9 {word} female")
        say_phrase(cups.desk, f"taxon {word}")
    assert set(known_plants(cups.desk.bench)) == {*of_plants}
    assert set(known_species(cups.desk.bench)) == {*of_species}


@pytest.mark.parametrize(
    "plant",
    [
        *("old man's beard", "water mint", "wood sage", "rest-harrow", "sweet violet", "dead-nettle"),
        *("box", "sun spurge", "wall rocket", "garden cress", "cut-leaved geranium", "black spleenwort"),
        *("tree of heaven", "lily of the valley", "star of Bethlehem", "ground ivy", "winter heliotrope"),
    ],
)  # fmt: skip
def test_a_plant_that_is_called_so_is_one(cups: Story, plant: str) -> None:
    cups.type(f"R5 host in {plant}")
    assert plants(cups, "R5") == [plant]


def test_what_is_in_double_quotes_is_one_and_is_known_from_then_on(cups: Story) -> None:
    cups.type('R5 host in "worn"', "R5 host in sorrel, worn")
    assert plants(cups, "R5") == ["worn", "sorrel", "worn"] or "worn" in plants(cups, "R5")


@pytest.mark.parametrize(
    ("line", "place"),
    [
        ("K8 1 female Boloria dia at Wood on 12.04 7.06", "Wood"),
        ("K8 1 female Boloria dia at Wood on 12 Apr", "Wood"),
        ("K8 1 female Boloria dia from the garden", "the garden"),
        ("K8 1 female Boloria dia from under the bridge", "under the bridge"),
        ('K8 1 female Boloria dia at "light"', "light"),
    ],
)
def test_a_place_ends_before_what_says_when(cups: Story, line: str, place: str) -> None:
    cups.type(line)
    founder = next(
        one for one in cups.on_disk() if one["what"] == "founder" and one["taxon"] == "Boloria dia"
    )
    assert founder["place"] == place  # fmt: skip


def test_a_species_that_was_typed_short_is_asked_about_in_full(story: Story) -> None:
    story.type("K4 1 female B. selene from Tannmoos")
    asked = story.refused("K5 1 female Boloria selene from Tannmoos")
    assert "'B. selene' is on record" in asked
    assert "first: taxon Boloria selene" in asked
    assert "'B. selene' is on record" in story.refused("K5 1 female Boloria selena")
    story.type("taxon Boloria selene", "K5 1 female Boloria selene", "K5 1 female B. selene")
    assert {one.taxon for one in story.desk.bench.founders.values()} == {"Boloria selene"}


@pytest.mark.parametrize("day", ["3.4.2027", "on 3.4.2027", ", 3.4.2027", ", 2027-04-03", ", 3.4."])
def test_a_day_in_figures_behind_a_place_is_that_of_the_catch(cups: Story, day: str) -> None:
    cups.type(f"D2 founder W4 Lycaena tityrus female from Mill ditch {day}".replace(" ,", ","))
    founder = cups.desk.bench.founders["W4"]
    assert (founder.place, f"{founder.caught:%Y-%m-%d}") == ("Mill ditch", "2027-04-03")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("R5 new food, old out", "host out: dock B, discarded; R5 host in: dock"),
        ("R5 bin lot 1", "kept stems out: sorrel A, discarded"),
        ("bench is called Garden", "setting bench: Garden"),
        ("F2 drank 1, other refused", "F2 drank, 1; F2 refused 1"),
    ],
)
def test_everyday_lines_are_read_as_they_are_meant(cups: Story, line: str, says: str) -> None:
    cups.type(
        "R5 host in sorrel", "R5 host out kept", "R5 host in dock", "F2 2 females Boloria dia"
    )
    cups.later(hours=20)
    assert says in cups.type(line)[0]


def test_a_letter_behind_the_name_is_males_or_metres(story: Story) -> None:
    asked = story.refused("K8 2 females Boloria dia 3 m")
    assert "'3 m': males, or metres?" in asked
    story.type("K8 2 females, 3 males Boloria dia", "K8 2 females Boloria dia from Tannmoos, 3 m")
    assert len(story.desk.bench.founders) == 7


def test_so_many_of_two_cups_at_once_are_said_each_by_itself(cups: Story) -> None:
    assert "as: L1 1 female Boloria dia" in cups.refused("L1-L2 1 female Boloria dia")


def test_a_drink_too_many_is_told(story: Story) -> None:
    story.type("F2 2 females Boloria dia")
    told = [story.later(minutes=5).type("F2 drank 1")[0] for _ in range(3)]
    assert ["all of them had drunk by 07:15" in one for one in told] == [False, False, True]


async def test_a_barrier_is_found_by_its_name(story: Story) -> None:
    story.type("shelf set up sill moat", "F2 set up laying barrier=grease")
    async with story.screens() as screen:
        await screen.press("comma", *"moat")
        assert "shelf sill" in screen.words
    async with story.screens() as screen:
        await screen.press("comma", *"grease")
        assert "container F2" in screen.words


@pytest.mark.parametrize(
    ("behind", "word"),
    [
        ("and released", "released"),
        ("with a male", "male"),
        ("with 2 males", "males"),
        ("in the morning", "morning"),
        (", 14 C", "C"),
    ],
)
def test_what_else_is_told_is_no_part_of_a_place(cups: Story, behind: str, word: str) -> None:
    line = f"D2 founder W4 Lycaena tityrus female at Wood {behind}".replace(" ,", ",")
    asked = cups.refused(line)
    assert f"'{word}' is no part of a name" in asked
    assert f"D2 founder W4 Lycaena tityrus female at Wood{',' * (word == 'C')} -- {word}" in asked


@pytest.mark.parametrize("line", ["sorrel or dock", "sorrel not dock", "sorrel, big leaves"])
def test_one_of_two_plants_is_none(cups: Story, line: str) -> None:
    assert "is no" in cups.refused(f"R5 host in {line}")


def test_a_word_of_the_line_is_no_museum_and_no_place_of_eggs(cups: Story) -> None:
    cups.type("R5 4 larvae Lycaena tityrus")
    assert "as: R5 preserved 1 -- worn" in cups.refused("R5 preserved 1 in worn")
    for line in ("D2 3 eggs on worn", "D2 3 eggs on the worn", "D2 searched 0 on all"):
        assert "is no name" in cups.refused(line)
    cups.type("D2 3 eggs on leaf", "D2 searched 3 on lid")


def test_a_note_is_no_way_out_of_a_time_before_the_cup(cups: Story) -> None:
    cups.type("R5 4 larvae Lycaena tityrus")
    assert "as a note beside it" in cups.refused("R5 1 dead virus")
    assert "as a note beside it" not in cups.refused("R5 1 dead virus -3d")


def test_nobody_pairs_with_itself(cups: Story) -> None:
    cups.type("P1 2 adults Lycaena tityrus")
    assert "P1 paired LYC-27-02 with LYC-27-03" in cups.refused("P1 paired")
    cups.type("P2 1 pupa Lycaena tityrus", "P2 1 emerged")
    assert "with wild" in cups.refused("P2 paired")
