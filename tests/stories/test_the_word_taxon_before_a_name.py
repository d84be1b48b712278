"""The word taxon before a species is the field's name, and no part of the species' name."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize("name", ["taxon 'Parasa lepida'", 'taxon "Parasa lepida"', "taxon Parasa lepida", "taxon='Parasa lepida'"])  # fmt: skip
def test_of_a_founder(story: Story, name: str) -> None:
    story.at("2027-05-02 09:00").type("K2 set up laying")
    story.type(f"K2 founder W9 {name} female worn at Sandhof")
    founder = story.desk.bench.founders["W9"]
    told = (founder.taxon, founder.sex, founder.wear, founder.place)
    assert told == ("Parasa lepida", "female", "worn", "Sandhof")


@pytest.mark.parametrize("name", ["taxon 'Parasa lepida'", "taxon Parasa lepida"])
def test_of_a_brood(story: Story, name: str) -> None:
    story.at("2027-05-02 09:00").type(f"brood PL-27/A {name}")
    assert story.desk.bench.taxon_of("PL-27/A") == "Parasa lepida"


def test_said_alone(story: Story) -> None:
    story.at("2027-05-02 09:00").type("K2 set up laying", "K2 founder W9 taxon 'Parasa lepida'")
    assert story.desk.bench.founders["W9"].taxon == "Parasa lepida"
    story.type("K2 note the taxon 'lepida' is not sure")
    assert story.on_disk()[-1]["text"] == "the taxon 'lepida' is not sure"
