"""What is said of some of those that died is a remark; said of all of them it is what they died of."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    R4 set up rearing
    R4 12 L3 Melitaea cinxia
    R4 host in ribwort leaf 3 stems water
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-06-01 07:05"), BENCH)
    return story.later(hours=5)


@pytest.mark.parametrize(
    ("line", "recorded"),
    {
        "R4 2 dead, one black": "R4 died 2 larvae; R4 note 'one black'",
        "R4 2 dead (one black)": "R4 died 2 larvae; R4 note 'one black'",
        "R4 two dead, one of them black": "R4 died 2 larvae; R4 note 'one of them black'",
        "R4 2 dead one black one green": "R4 died 2 larvae; R4 note 'one black one green'",
        "R4 3 found dead, 1 drowned": "R4 died 3 larvae; R4 note '1 drowned'",
        "R4 2 dead, one under the lid": "R4 died 2 larvae; R4 note 'one under the lid'",
        "R4 dead 3, 1 mould": "R4 died 3 larvae; R4 note '1 mould'",
        "R4 2 dead, both drowned": "R4 died 2 larvae, drowned",
        "R4 2 dead, both black": "R4 died 2 larvae; R4 note 'both black'",
    }.items(),
)
def test_a_number_behind_the_dead_is_no_second_count(
    bench: Story, line: str, recorded: str
) -> None:
    assert bench.type(line) == [recorded]


@pytest.mark.parametrize(
    "line", ["R4 2 dead, 1 missing", "R4 2 dead, 3 moulted", "R4 2 dead, 1 L2"]
)
def test_other_animals_are_told_on_a_line_of_their_own(bench: Story, line: str) -> None:
    assert "one thing a line: R4 2 dead; then R4 " in bench.refused(line)


def test_more_of_the_dead_are_said_beside_their_number(bench: Story) -> None:
    bench.type("R4 2 dead, one black")
    asked = bench.refused("R4 two dead, one black")
    assert asked.endswith("as: R4 two more dead, one black")
