"""Eggs found on a plant that is known and stands not in the cup on record: it is asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def cups(story: Story) -> Story:
    story.type(
        "30 Apr 08:00 L3 1 female Boloria dia",
        "30 Apr 09:00 R2 5 L3 Boloria selene on Galium verum",
    )
    return story


@pytest.mark.parametrize(
    "line",
    [
        "L3 searched 12 on Galium verum",
        "L3 12 eggs on galium verum",
        "L3 searched 2 unsure on Galium verum",
    ],
)
def test_where_no_plant_stands(cups: Story, line: str) -> None:
    assert cups.refused(line) == (
        "Galium verum does not stand in L3 on record, nor any other plant; first say when it came,"
        " as: L3 host in Galium verum 07:05; if it was so, add 'sure'"
    )
    cups.type(f"{line} sure")


def test_put_in_first_it_is_on_it(cups: Story) -> None:
    cups.type("L3 host in Galium verum 06:00", "L3 searched 12 on Galium verum")
    assert [host.eggs for host in cups.desk.bench.at("L3").hosts] == [12]


def test_a_place_is_a_place(cups: Story) -> None:
    cups.type("L3 searched 3 on the lid", "L3 searched 2 on twig")
