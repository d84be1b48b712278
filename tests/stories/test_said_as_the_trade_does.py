"""Lines in the words of the trade, and of a keeper half awake."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-06-01 08:00").type("shelf set up sill moat", "K1 set up laying shelf=sill")
    story.type("K1 2 females Celastrina argiolus on ivy", "R3 5 L3 Aglais io on nettle")
    return story.later(hours=4)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("K1 host in holly in bud", "K1 host in: holly bud"),
        ("K1 host changed ivy in bud", "host in: ivy bud"),
        ("R3 food new, old out", "R3 host out: nettle B, discarded"),
        ("sill bridged", "shelf sill barrier bridged"),
        ("shelf sill dirty", "shelf sill barrier dirty"),
        ("K1 drank 1, the other would not", "K1 drank, 1; K1 refused 1"),
        ("K1 1 drank, 1 wouldn't", "K1 drank, 1; K1 refused 1"),
        ("bench Gannel End", "setting bench: Gannel End"),
        ("K9 2 females Celastrina argiolus on ivy in bud", "K9 host in: ivy bud"),
        ("K1 note ivy in bud", "K1 note 'ivy in bud'"),
    ],
)
def test_it_is_taken(bench: Story, line: str, told: str) -> None:
    assert told in bench.type(line)[0]


def test_a_leaf_is_asked_for_by_the_plant_of_that_species(bench: Story) -> None:
    bench.type("E1 set up eggs", "E1 6 eggs Celastrina argiolus")
    assert "E1 host in ivy leaf" in bench.refused("E1 leaf in")
