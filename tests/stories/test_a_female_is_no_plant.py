"""A female as she is typed first thing in the morning comes in as one, and a word that tells of
animals is never part of a plant's name unasked; a species is one in small letters too."""

from __future__ import annotations

import pytest

from rounds.app.first_start import FirstStart
from tests.stories.telling import Story


def started(story: Story, held: str) -> tuple[Story, str]:
    """A new book whose questions are answered with Enter, up to what K5 holds; what is said of
    that answer."""
    start = FirstStart(story.at("2029-08-03 08:37").desk, lambda folder: folder)
    assert [start.take(answer) for answer in ("", "", "", "K5 laying")] == [""] * 4
    return story, start.take(held)


def plants(story: Story) -> list[str]:
    return [host.plant for one in story.desk.bench.standing() for host in one.hosts]


def females(story: Story) -> list[tuple[str, str]]:
    return [(one.taxon, one.sex) for one in story.desk.bench.founders.values()]


@pytest.mark.parametrize(
    "typed",
    [
        "wild stauropus fagi fem",
        "stauropus fagi, fem.",
        "wild caught stauropus fagi (fem)",
        "Stauropus fagi f.",
        "1 wild fem stauropus fagi",
        "wild stauropus fagi female from Val Colla",
        "female stauropus fagi",
    ],
)
def test_a_female_at_the_first_start_comes_in(story: Story, typed: str) -> None:
    begun, refused = started(story, typed)
    assert (refused, plants(begun)) == ("", [])
    assert females(begun) == [("Stauropus fagi", "female")]
    assert story.elsewhere().type(f"K5 {typed}")[0].startswith("K5 set up for laying; K5 founder")


@pytest.mark.parametrize(
    "typed",
    ["wild stauropus fagi", "caught fagi", "sorrel fem", "larvae fagi", "none scutatus"],
)
def test_words_of_animals_are_of_no_plant_unasked(story: Story, typed: str) -> None:
    begun, refused = started(story, typed)
    assert refused
    assert plants(begun) == []
    assert begun.refused(f"K5 host in {typed}")
    begun.type(f'K5 host in "{typed}"', f"K5 host in {typed} 2 stems")  # then it is known
    assert set(plants(begun)) == {typed}


def test_a_place_behind_her_is_asked_about(story: Story) -> None:
    begun, refused = started(story, "wild stauropus fagi fem, val colla")
    assert "1 wild female stauropus fagi from val colla" in refused
    assert (plants(begun), females(begun)) == ([], [])


def test_females_are_no_plant_that_is_put_in(story: Story) -> None:
    bench = story.at("2029-08-03 08:37")
    bench.type("K6 set up laying")
    line = "2 wild females lycaena tityrus from Monte Bar on sorrel"
    assert "'wild' tells of animals" in bench.refused(f"K6 host in {line}")
    assert plants(bench) == []
    bench.type(f"K6 {line}")
    assert females(bench) == [("Lycaena tityrus", "female")] * 2
    assert plants(bench) == ["sorrel"]


def test_a_taxon_in_small_letters_is_the_known_one(story: Story) -> None:
    bench = story.at("2029-08-03 08:37")
    bench.type("R5 8 L3 Melitaea diamina on plantain", "taxon melitaea diamina gregarious")
    assert list(bench.desk.bench.taxa) == ["Melitaea diamina"]
    assert {one.taxon for one in bench.desk.bench.broods.values()} == {"Melitaea diamina"}
    bench.type("taxon boloria selene gregarious")
    assert "Boloria selene" in bench.desk.bench.taxa


@pytest.mark.parametrize(
    ("line", "species"),
    [
        ("R7 9 pupae smerinthus ocellatus", "Smerinthus ocellatus"),
        (
            "R7 1 wild female lycaena tityrus from Monte Bar wear fresh on rumex acetosa 2 stems",
            "Lycaena tityrus",
        ),
    ],
)
def test_a_genus_in_small_letters_is_one(story: Story, line: str, species: str) -> None:
    bench = story.at("2029-08-03 08:37")
    bench.type("R7 set up rearing", line)
    named = [*bench.desk.bench.founders.values(), *bench.desk.bench.broods.values()]
    assert {one.taxon for one in named} == {species}
    assert "dark" in bench.refused("R7 2 larvae dark brown")


def test_one_more_wild_female(story: Story) -> None:
    bench = story.at("2029-08-03 08:37")
    bench.type("K1 1 female Lycaena tityrus from Monte Bar on sorrel")
    bench.type("K1 one more wild female L. tityrus from Monte Bar", "K1 another wild female")
    assert females(bench) == [("Lycaena tityrus", "female")] * 3
