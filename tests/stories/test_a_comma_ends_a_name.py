"""A comma, a dash or two end the name of a species; what follows is a note. And a cup with its animals in one line."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

WAYS = ["Iolana iolas, carried cool", "Iolana iolas - carried cool", "Iolana iolas -- carried cool"]


def species(story: Story) -> set[str]:
    return {founder.taxon for founder in story.desk.bench.founders.values()}


def notes(story: Story) -> list[str]:
    return [line["text"] for line in story.on_disk() if line["what"] == "note"]


@pytest.mark.parametrize("said", WAYS)
def test_at_the_third_question(story: Story, said: str) -> None:
    story.shell(
        "begin",
        typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\nK3 laying\n3 females {said}\n\n",
    )
    story.reopen()
    assert species(story) == {"Iolana iolas"}
    assert notes(story) == ["carried cool"]
    assert story.desk.bench.containers["K3"].females == 3


@pytest.mark.parametrize("said", WAYS)
def test_in_a_pasted_list(story: Story, said: str) -> None:
    ran = story.shell("begin", "--list", "-", typed=f"K3  3 females {said}  -  Sat  sill 2\n")
    assert ran.status == 0, ran.err
    story.reopen()
    assert species(story) == {"Iolana iolas"}
    assert notes(story) == ["carried cool"]


@pytest.mark.parametrize("said", WAYS)
def test_at_the_prompt(story: Story, said: str) -> None:
    story.type("K3 set up laying", f"K3 founder W2 {said}", f"K3 2 females {said}")
    assert species(story) == {"Iolana iolas"}
    assert notes(story) == ["carried cool", "carried cool"]
    assert story.desk.bench.containers["K3"].females == 3


@pytest.mark.parametrize(
    "said",
    ["Iolana iolas female, carried cool", "Iolana iolas, female, carried cool", "female Iolana iolas, worn"],
)  # fmt: skip
def test_what_is_of_the_record_stays_there(story: Story, said: str) -> None:
    story.type("K3 set up laying", f"K3 founder W2 {said}")
    founder = story.desk.bench.founders["W2"]
    assert (founder.taxon, founder.sex) == ("Iolana iolas", "female")
    assert founder.wear == ("worn" if "worn" in said else "")
    assert notes(story) == ([] if "worn" in said else ["carried cool"])


def test_the_year_of_whoever_named_it_belongs_to_the_name(story: Story) -> None:
    name = "Iolana iolas (Ochsenheimer, 1816)"
    story.type("K3 set up laying", f"K3 founder W2 {name}, carried cool")
    assert species(story) == {name}
    assert notes(story) == ["carried cool"]


def test_of_a_brood_too(story: Story) -> None:
    story.type("brood I-1 taxon=Iolana iolas, carried cool")
    assert story.desk.bench.broods["I-1"].taxon == "Iolana iolas"


def test_a_cup_and_its_animals_in_one_line(story: Story) -> None:
    shown = story.preview("B3 2 females Iolana iolas on Colutea and Astragalus -- in the shade")
    assert shown.partition("  ")[2].startswith("B3 set up: purpose laying")
    story.type("B3 2 females Iolana iolas on Colutea and Astragalus -- in the shade")
    cup = story.desk.bench.containers["B3"]
    assert (cup.purpose, cup.females, len(cup.hosts)) == ("laying", 2, 2)
    story.type("R4 5 L3 Iolana iolas on Colutea", "E4 40 eggs Iolana iolas")
    bench = story.desk.bench
    assert (bench.containers["R4"].purpose, bench.containers["R4"].count("larva")) == ("rearing", 5)
    assert (bench.containers["E4"].purpose, bench.containers["E4"].count("egg")) == ("eggs", 40)
    assert "first start" not in str(story.on_disk())


def test_a_time_of_the_catch_behind_the_name_is_no_part_of_it(story: Story) -> None:
    story.at("2027-06-10 08:00").type("B3 2 females Iolana iolas caught yesterday 14:20")
    assert species(story) == {"Iolana iolas"}
    assert {line["caught"][:16] for line in story.on_disk() if line["what"] == "founder"} == {
        "2027-06-09T14:20"
    }


@pytest.mark.parametrize("line", ["B3 2 females", "B3 5 larvae", "B3 2 ladies Iolana iolas", "2 females Iolana iolas", "B3 2 L5 moulted L4", "K2 2 L5 moulted L4"])  # fmt: skip
def test_what_says_no_species_or_no_cup_is_asked_about(story: Story, line: str) -> None:
    story.type("K2 set up laying")
    story.refused(line)
    assert "B3" not in story.desk.bench.containers


def test_a_comma_with_a_number_word_behind_the_name_is_a_note_too(story: Story) -> None:
    story.type("K5 2 females Melitaea cinxia, one worn, on Plantago lanceolata 4 sprigs")
    assert species(story) == {"Melitaea cinxia"}
    assert notes(story) == ["one worn"]
    assert story.desk.bench.containers["K5"].hosts[0].sprigs == 4


def test_a_cup_that_does_not_stand_is_named_as_such(story: Story) -> None:
    story.type("K2 set up laying")
    assert "no container is called K5; there are K2; to set it up: K5 set up laying" in (
        story.refused("K5 on sill")
    )
    assert "K5 does not stand yet; say how many, what and which species" in story.refused(
        "K5 2 females"
    )
