"""Eggs told with the plant and its part are laid on that plant, though another stands beside it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    "said",
    [
        "L2 searched 9 on Lathyrus latifolius buds",
        "L2 searched 9 on lathyrus buds by lens",
        "L2 searched 9 Lathyrus latifolius buds",
        "L2 9 eggs on Lathyrus latifolius buds",
        "L2 searched 9 on Lathyrus latifolius",
    ],
)
async def test_the_laying_page_counts_them_for_that_plant(story: Story, said: str) -> None:
    story.at("2027-06-02 18:00").type(
        "L2 set up laying",
        "L2 founder W1 Lampides boeticus female",
        "L2 host in Lathyrus latifolius buds",
        "L2 host in Colutea arborescens",
    )
    story.at("2027-06-03 07:00").type("L2 drank", "room 20/24", said)
    assert dict(story.desk.bench.laid["Lampides boeticus"]).keys() == {"Lathyrus latifolius"}
    async with story.screens() as screen:
        await screen.press("i")
        assert "which plant?" not in screen.text
        assert "nobody knows which" not in screen.text


def test_of_stems_that_just_came_out_they_are_on_what_is_kept(story: Story) -> None:
    story.at("2027-06-02 18:00").type(
        "L2 set up laying",
        "L2 founder W1 Lampides boeticus female",
        "L2 host in Lathyrus latifolius buds",
        "L2 host in Colutea arborescens",
    )
    story.at("2027-06-03 07:00").type("L2 host out Colutea arborescens kept")
    story.type("L2 searched 9 on Colutea arborescens buds")
    searched = next(one for one in reversed(story.on_disk()) if one["what"] == "searched")
    assert searched["lots"]


CUP = """
L2 set up laying
L2 founder W4 "Lampides boeticus"
L2 host in Lathyrus latifolius flower buds
L2 host in Colutea arborescens
"""
PEA, SENNA = "Lathyrus latifolius", "Colutea arborescens"


@pytest.fixture
def cup(story: Story) -> Story:
    story.at("2027-06-10 08:00")
    tell(story, CUP)
    return story.at("2027-06-12 08:00")


def found(story: Story) -> list[tuple[str, str, int]]:
    return [
        (one.get("plant", ""), one.get("where", ""), one["found"])
        for one in story.on_disk()
        if one["what"] == "searched"
    ]


@pytest.mark.parametrize(
    ("line", "plant", "where"),
    [
        ("L2 searched 9 on Lathyrus latifolius buds", PEA, "buds"),
        ("L2 searched 9 on Lathyrus latifolius flower buds", PEA, "flower buds"),
        ("L2 searched 9 on colutea buds by lens", SENNA, "buds"),
        ("L2 searched 9 on the colutea buds lens", SENNA, "buds"),
        ("L2 searched 9 colutea bud, lens", SENNA, "bud"),
        ("L2 searched 9 in Lathyrus flower buds", PEA, "flower buds"),
        ("L2 searched 9 on latifolius buds and leaves", PEA, "buds and leaves"),
        ("L2 searched 9 on colutea shoot tips", SENNA, "shoot tips"),
        ("L2 searched 9 on colutea young leaves", SENNA, "young leaves"),
        ("L2 searched 9 on young colutea leaves", SENNA, "young leaves"),
        ("L2 searched 9 on colutea seed heads", SENNA, "seed heads"),
        ("L2 searched 9 on underside of colutea leaves", SENNA, "underside of leaves"),
        ("L2 searched 9 on underside of leaves of Lathyrus", PEA, "underside of leaves"),
        ("L2 searched 9 on buds of Lathyrus latifolius", PEA, "buds"),
        ("L2 searched 9 on the leaves of the colutea", SENNA, "leaves"),
        ("L2 9 eggs on Lathyrus leaf", PEA, "leaf"),
        ("L2 9 eggs Lathyrus latifolius shoot", PEA, "shoot"),
        ("L2 laid 9 on C. arborescens flower", SENNA, "flower"),
        ("9 eggs on the Lathyrus buds in L2", PEA, "buds"),
        ("L2 searched 9 on Lathyrus latifolius", PEA, ""),
        ("L2 searched 9 lathyrus", PEA, ""),
        ("L2 searched 9 host=lathyrus", PEA, ""),
        ("L2 searched 9 host=Lathyrus latifolius", PEA, ""),
        ("L2 searched 9 host=Lathyrus latifolius buds", PEA, "buds"),
        ("L2 searched 9 plant=colutea buds", SENNA, "buds"),
        ("L2 searched 9 on buds plant=colutea", SENNA, "buds"),
    ],
)
def test_they_are_of_the_plant_that_bears_the_part(
    cup: Story, line: str, plant: str, where: str
) -> None:
    cup.type(line)
    assert found(cup) == [(plant, where, 9)]


def test_none_found_is_of_that_plant_alone(cup: Story) -> None:
    cup.type(
        "L2 searched 0 on the colutea buds", "L2 searched 4 on Lathyrus buds, 2 on Colutea buds"
    )
    assert found(cup) == [(SENNA, "buds", 0), (PEA, "buds", 4), (SENNA, "buds", 2)]


@pytest.mark.parametrize("name", ["Lathirus buds", "Lathyrs buds", "Lathirus latifolius buds"])
def test_a_slip_in_its_name_is_asked_about(cup: Story, name: str) -> None:
    assert "perhaps Lathyrus" in cup.refused(f"L2 searched 9 on {name}")
    assert found(cup) == []


@pytest.mark.parametrize(
    "part", ["buds", "flower buds", "young leaves", "seed heads", "underside of leaves"]
)
def test_a_part_alone_is_of_the_plant_that_stands_there(cup: Story, part: str) -> None:
    asked = cup.refused(f"L2 searched 9 on {part}")
    assert f"{part} of which plant?" in asked
    assert f"L2 searched 9 on {SENNA} {part}" in asked
    cup.type(f"L2 searched 9 on {SENNA} {part}", "L2 host out Colutea discarded sure")
    cup.later(hours=2)
    cup.type(f"L2 searched 3 on the {part}")
    assert found(cup) == [(SENNA, part, 9), (PEA, part, 3)]


def test_where_no_plant_stands_a_part_is_a_place(story: Story) -> None:
    story.at("2027-06-10 08:00").type(
        "L2 set up laying", "L2 founder W4 Lampides boeticus", "L2 searched 9 on buds"
    )
    assert found(story) == [("", "buds", 9)]


def test_two_that_the_word_fits_are_asked_about(cup: Story) -> None:
    cup.type("L2 host in Lathyrus pratensis")
    assert f"{PEA} or Lathyrus pratensis" in cup.refused("L2 searched 9 on Lathyrus buds")


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("L2 host seen Lathyrus latifolius buds limp", f"limp, {PEA}"),
        ("L2 host seen colutea flower buds limp", f"limp, {SENNA}"),
        ("L2 host out colutea buds", f"out: {SENNA}"),
        ("L2 host out buds of the colutea", f"out: {SENNA}"),
        ("L2 host changed Lathyrus buds", f"host in: {PEA}"),
    ],
)
def test_it_is_that_plant_whatever_is_said_of_it(cup: Story, line: str, shown: str) -> None:
    assert shown in cup.type(line)[0]


@pytest.mark.parametrize(
    ("said", "plant", "part"),
    [
        ("Lathyrus niger flower buds", "Lathyrus niger", "flower buds"),
        ("Lathyrus niger young leaves 3 stems", "Lathyrus niger", "young leaves"),
        ("tender leaf of Lathyrus niger", "Lathyrus niger", "tender leaf"),
        ("buds of Lathyrus niger", "Lathyrus niger", "buds"),
        ("flower buds Lathyrus niger", "Lathyrus niger", "flower buds"),
        ("leaf beet", "leaf beet", ""),
        ("bird cherry shoot tips", "bird cherry", "shoot tips"),
    ],
)
def test_a_part_is_no_word_of_a_plant_put_in(
    story: Story, said: str, plant: str, part: str
) -> None:
    story.at("2027-06-10 08:00").type("K2 set up rearing", f"K2 host in {said}")
    put_in = story.on_disk()[-1]
    assert (put_in["plant"], put_in.get("part", "")) == (plant, part)
