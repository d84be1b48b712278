"""A species that the book knows is named by its epithet alone, before or behind the animals."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, there


@pytest.fixture
def begun(story: Story) -> Story:
    story.at("2027-08-03 20:00")
    story.type(
        "K5 wild female Lycaena virgaureae from Heath on Rumex acetosa 2 stems",
        "K3 set up laying",
    )
    return story


@pytest.mark.parametrize(
    "line",
    [
        "K3 virgaureae fem",
        "K3 virgaureae, female",
        "K3 a wild virgaureae fem.",
        "K3 virgaureae 1 fem",
        "K3 L. virgaureae fem",
    ],
)
def test_it_is_a_wild_female_of_it(begun: Story, line: str) -> None:
    begun.type(line)
    assert [lot.sex for lot in begun.desk.bench.containers["K3"].lots] == ["female"]
    assert {one.taxon for one in begun.desk.bench.founders.values()} == {"Lycaena virgaureae"}


def test_young_ones_and_a_new_cup(begun: Story) -> None:
    begun.type("R4 6 virgaureae L2", "K9 virgaureae fem from Heath on acetosa")
    assert there(begun, "R4")[0].startswith("6 L2")
    assert [host.plant for host in begun.desk.bench.containers["K9"].hosts] == ["Rumex acetosa"]


def test_where_two_fit_it_is_asked(begun: Story) -> None:
    begun.type("K7 wild female Boloria virgaureae from Heath")
    for line in ("K3 virgaureae fem", "K3 virgaureae"):
        told = begun.refused(line)
        assert "K3 1 female Lycaena virgaureae; or K3 1 female Boloria virgaureae" in told


def test_a_name_alone_asks_what_came(begun: Story) -> None:
    assert begun.refused("K3 virgaureae").endswith("As: K3 1 female Lycaena virgaureae")
    assert begun.refused("K3 wild virgaureae").endswith("As: K3 1 female Lycaena virgaureae")
