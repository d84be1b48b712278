"""Several kinds of animals in one container at the start: all of them are taken, or it is asked; none is lost in a name."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

SPECIES = "Saturnia montis"
MIXED = [
    ("1f 1m Saturnia montis", ["1 adult female", "1 adult male"]),
    ("1 female 1 male Saturnia montis", ["1 adult female", "1 adult male"]),
    ("2 females Saturnia montis and 1 male", ["1 adult female", "1 adult female", "1 adult male"]),
    (
        "2 females Saturnia montis, 1 male Saturnia montis",
        ["1 adult female", "1 adult female", "1 adult male"],
    ),
    ("one male and a female Saturnia montis", ["1 adult female", "1 adult male"]),
    ("3 L3 4 L4 Saturnia montis", ["3 larva L3", "4 larva L4"]),
    ("3 L3 + 4 L4 larvae Saturnia montis", ["3 larva L3", "4 larva L4"]),
    ("4 female pupae Saturnia montis", ["4 pupa female"]),
    ("2 male pupae 1 female pupa Saturnia montis", ["1 pupa female", "2 pupa male"]),
    ("4 pupae 3 males Saturnia montis", ["1 adult male", "1 adult male", "1 adult male", "4 pupa"]),
]


def animals(story: Story, code: str) -> list[str]:
    """Each lot of a container in words."""
    lots = story.desk.bench.containers[code].lots
    parts = [
        (str(lot.number), lot.stage, f"L{lot.instar}" if lot.instar else "", lot.sex)
        for lot in lots
    ]
    return sorted(" ".join(filter(None, one)) for one in parts)


def taxa(story: Story) -> set[str]:
    """Every species of founders and broods."""
    bench = story.desk.bench
    return {one.taxon for one in (*bench.founders.values(), *bench.broods.values())}


@pytest.mark.parametrize(("holds", "there"), MIXED)
def test_a_listed_container_holds_all_that_its_line_says(
    story: Story, holds: str, there: list[str], tmp_path: object
) -> None:
    ran = story.shell("begin", "--list", "-", typed=f"U8  {holds}  -  yesterday  D 1\n")
    assert ran.status == 0, ran.err
    assert animals(story, "U8") == there
    assert taxa(story) == {SPECIES}


@pytest.mark.parametrize(("holds", "there"), MIXED)
def test_the_third_question_takes_all_that_is_said(
    story: Story, holds: str, there: list[str]
) -> None:
    ran = story.shell(
        "begin", typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\nU8 laying\n{holds}\n\n"
    )
    assert "Not taken" not in ran.out
    assert animals(story, "U8") == there
    assert taxa(story) == {SPECIES}


NOT_UNDERSTOOD = [
    ("2 females Saturnia montis 1", "'1'"),
    ("2 females Saturnia montis 3 butterflies", "'3'"),
    ("2 females Saturnia male", "'male'"),
]


@pytest.mark.parametrize(("holds", "word"), NOT_UNDERSTOOD)
def test_a_word_that_belongs_to_no_name_is_asked_about(story: Story, holds: str, word: str) -> None:
    listed = story.shell("begin", "--list", "-", typed=f"U8  {holds}  -  yesterday  D 1\n")
    assert listed.status == 1
    assert f"{word} is not understood" in listed.err
    asked = story.shell(
        "begin", typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\nU8 laying\n{holds}\n\n"
    )
    assert f"Not taken: {word} is not understood" in asked.out
    assert not [line for line in story.on_disk() if line["what"] in ("founder", "stocked", "brood")]


def test_animals_behind_the_plant_are_asked_about(story: Story) -> None:
    holds = "2 females Saturnia montis on birch and 1 male"
    asked = story.shell(
        "begin", typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\nU8 laying\n{holds}\n\n"
    )
    assert (
        "Not taken: say all the animals before the plant, as: 2 females, 1 male Boloria dia on violet"
        in asked.out
    )
    assert not [line for line in story.on_disk() if line["what"] in ("founder", "host in")]


def test_each_species_of_a_line_is_that_of_its_own_animals(story: Story) -> None:
    held = "1f 1m Boloria dia, 4 eggs Boloria selene, 2 L3, 3 eggs Boloria dia"
    ran = story.shell("begin", "--list", "-", typed=f"U8  {held}  -  Sat  D 1\n")
    assert ran.status == 0, ran.err
    bench = story.desk.bench
    there = [
        (lot.number, lot.stage, lot.sex, bench.taxon_of(lot.brood))
        for lot in bench.containers["U8"].lots
    ]
    assert sorted(there) == [
        (1, "adult", "female", "Boloria dia"),
        (1, "adult", "male", "Boloria dia"),
        (2, "larva", "", "Boloria selene"),
        (3, "egg", "", "Boloria dia"),
        (4, "egg", "", "Boloria selene"),
    ]


async def test_the_list_page_shows_and_records_the_male(story: Story) -> None:
    async with story.screens(size=(100, 30)) as screen:
        await screen.press("l")
        for letter in "U8  1f 1m Saturnia montis  -  yesterday  D 1":
            await screen.press("space" if letter == " " else letter)
        assert "1 female Saturnia montis, 1 male Saturnia montis" in screen.text
        await screen.press("f10")
    assert animals(story, "U8") == ["1 adult female", "1 adult male"]
    assert story.desk.bench.containers["U8"].purpose == "laying"
