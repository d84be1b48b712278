"""Two species in one cup, each with a plant of its own: every plant there is named, and each species elsewhere gets what it ate."""

from __future__ import annotations

import pytest

from rounds.checks.supplies import supplies
from tests.stories.telling import Story


@pytest.fixture
def mixed(story: Story) -> Story:
    """Larvae of two species in one cup, and eggs of the first by themselves."""
    story.at("2027-05-01 08:00")
    for line in (
        "R2 5 L3 Brenthis daphne on bramble",
        "R2 4 L3 Melitaea cinxia on plantain",
        "E2 20 eggs Brenthis daphne",
    ):
        story.type(line)
        story.later(minutes=1)
    return story


def row(out: str, code: str) -> str:
    """What the sheet says of a place, the boxes left out."""
    words = " ".join(out.replace("[   ]", "").replace("--", "").split())
    return words.split(f" {code} at ")[1].split(" at ____________: ")[0]


def test_the_sheet_names_both_and_the_eggs_get_their_own(mixed: Story) -> None:
    out = mixed.shell("sheet", "--to", "+2d").out
    assert "Open, lay in one small leaf of bramble from" in row(out, "E2")
    assert "plantain" not in row(out, "E2")
    assert "fresh bramble from ____________: 2 stems and plantain from ____________: 1 stem" in row(
        out, "R2"
    )


async def test_the_supplies_count_each_plant(mixed: Story) -> None:
    mixed.later(hours=20)
    async with mixed.screens((100, 40)) as screen:
        await screen.press("k")
        assert "bramble: R2 5 L3-L4 x 0.25 a day = 2" in screen.words
        assert "plantain: R2 4 L3-L4 x 0.25 a day = 1" in screen.words


async def test_the_leaf_put_in_is_of_their_own_plant(mixed: Story) -> None:
    mixed.type("E2 eggs darkening")
    async with mixed.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("leaf", "E2")
        await screen.press("a")
    assert [host.plant for host in mixed.desk.bench.containers["E2"].hosts] == ["bramble"]


def test_plants_of_one_line_are_both_named(story: Story) -> None:
    story.at("2027-05-01 08:00")
    story.type("R2 5 L3 Laothoe populi on poplar, aspen", "E2 20 eggs Laothoe populi")
    out = story.shell("sheet", "--to", "+3d").out
    for code in ("R2", "E2"):
        assert "poplar from" in row(out, code)
        assert "and aspen from" in row(out, code)


def test_once_one_plant_stands_for_both_it_alone_is_named(mixed: Story) -> None:
    mixed.type("R2 host out bramble binned", "R2 host out plantain binned", "R2 host in violet")
    out = mixed.shell("sheet", "--to", "+2d").out
    assert "violet from" in row(out, "E2")
    assert "violet from" in row(out, "R2")
    assert "bramble" not in out
    assert "plantain" not in out


def test_a_leaf_of_another_species_plant_is_not_offered(story: Story) -> None:
    story.type("E1 set up eggs", "E1 10 eggs Pieris napi")
    story.type("K9 1 female Polyommatus icarus on Lotus corniculatus")
    asked = story.refused("E1 leaf in")
    assert asked.startswith("which plant? None of Pieris napi is on record")
    assert "Lotus" not in asked


def to_cut(story: Story) -> dict[str, float]:
    needs = supplies(story.desk.bench, story.desk.moment(), story.desk.dues()).tomorrow
    return {need.of: need.number for need in needs if need.what == "sprigs"}


def test_each_eats_its_own_still_once_both_were_renewed(story: Story) -> None:
    """In whatever order they are put in anew: 20 last instars take 20 stems a day, 20 of L3 some 5."""
    lines = (
        "R2 20 L5 Zerynthia cassandra on Aristolochia lutea",
        "R2 20 L3 Iphiclides feisthamelii on Prunus spinosa",
        "R2 host changed 10 stems Aristolochia lutea",
        "R2 host in 10 stems Prunus spinosa",
    )
    for line in lines:
        story.type(line)
        story.later(minutes=1)
        if line == lines[1]:
            before = to_cut(story)
    assert before["Aristolochia lutea"] > 2 * before["Prunus spinosa"] > 0
    assert to_cut(story) == before
