"""Under which of several kept lots frass was, or which of those that were moved, is said not to be known."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell, there

BENCH = """
    K1 set up laying
    K1 founder W1 Melitaea cinxia female
    K1 host in ribwort leaf 3 stems water
    K1 host out held
    K1 host in ribwort leaf 2 stems batch B water
    K1 host out held
    E2 set up eggs
    E2 20 eggs Melitaea cinxia
    R2 set up rearing
    R3 set up rearing
    R3 6 L3 Melitaea cinxia
    R3 6 L4 Vanessa atalanta
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-06-01 07:05"), BENCH)
    return story.later(hours=5)


@pytest.mark.parametrize(
    "line",
    [
        "K1 frass trace not known",
        "K1 frass trace, not known which lot",
        "K1 frass trace lot not known",
        "K1 frass trace lot=not known",
        "K1 frass plain under which is not known",
    ],
)
def test_frass_under_one_of_several_lots_ends_none(bench: Story, line: str) -> None:
    bench.type(line)
    assert not bench.on_disk()[-1].get("lots")
    assert [one.frass for one in bench.desk.bench.containers["K1"].held] == ["perhaps"] * 2


def test_of_eggs_on_record_nobody_knows_either(bench: Story) -> None:
    assert bench.type("E2 frass trace not known")[0].startswith("E2 frass: a little")


@pytest.mark.parametrize(
    "line",
    ["R3 moved 4 to R2, arrived 3, not known", "R3 moved 4 to R2, arrived three, not known"],
)
def test_how_many_arrived_ends_with_a_comma(bench: Story, line: str) -> None:
    bench.type(line)
    assert sum(lot.number for lot in bench.desk.bench.containers["R2"].lots) == 3
    assert there(bench, "R2")
