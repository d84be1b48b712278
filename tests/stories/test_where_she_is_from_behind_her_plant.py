"""A place that is said behind the plant is where the animals are from, and no plant is lost in a
place."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

_BY_KIND = {"founder": "place", "stocked": "origin"}


@pytest.mark.parametrize(
    ("line", "where", "plant", "source"),
    [
        ("K2 1 female Melitaea didyma on toadflax at Wald", "Wald", "toadflax", ""),
        (
            "K2 1 female Melitaea didyma on toadflax near Long Mead, worn",
            "Long Mead",
            "toadflax",
            "",
        ),
        ("K2 1 female Melitaea didyma on toadflax from Wald", "Wald", "toadflax", "Wald"),
        ("R2 10 L3 Melitaea didyma on plantain 3 stems from nest", "nest", "plantain", "nest"),
        ("R2 10 L3 Melitaea didyma from Dry Hill, plantain 3 stems", "Dry Hill", "plantain", ""),
        ("R2 10 L3 Melitaea didyma from Dry Hill, ribwort", "Dry Hill", "ribwort", ""),
        ("K2 1 female Melitaea didyma on toadflax from garden", "", "toadflax", "garden"),
        ("K2 1 female Melitaea didyma on toadflax at 6:50", "", "toadflax", ""),
    ],
)
def test_it_is_theirs(story: Story, line: str, where: str, plant: str, source: str) -> None:
    story.at("2027-06-20 07:00").type("K9 set up laying", "K9 host in ribwort")
    story.later(minutes=5).type(line)
    rows = {row["what"]: row for row in story.on_disk() if row.get("container") != "K9"}
    came = next(name for name in _BY_KIND if name in rows)
    assert rows[came].get(_BY_KIND[came], "") == where
    assert (rows["host in"]["plant"], rows["host in"].get("source", "")) == (plant, source)


def test_a_comma_behind_a_new_code_is_none_of_it(story: Story) -> None:
    story.at("2027-06-20 07:00").type("K2, 1 female Melitaea didyma wild caught")
    assert [*story.desk.bench.containers] == ["K2"]


def test_a_genus_alone_is_the_one_plant_of_it_that_is_known(story: Story) -> None:
    story.at("2027-06-20 07:00").type("R2 10 L3 Melitaea didyma on Plantago lanceolata 3 stems")
    assert "Plantago lanceolata" in story.type("R2 host in plantago 2 stems")[0]
    story.type("R3 10 L3 Melitaea didyma on Plantago major 3 stems")
    asked = "'plantago' can be Plantago lanceolata or Plantago major; type which"
    assert asked in story.refused("R2 host in plantago 2 stems")
