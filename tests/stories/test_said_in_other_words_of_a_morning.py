"""Words of a morning for what has a word already."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-05-10 08:00").type(
        "K1 1 female Papilio machaon on fennel",
        "K1 1 female Papilio machaon",
        "K1 changed barrier=moat",
        "R2 6 larvae Papilio machaon",
    )
    return story.later(hours=2)


@pytest.mark.parametrize(
    "line",
    ["K1 1 dead not known which", "K1 1 died not told apart", "K1 died 1 nobody knows which"],
)
def test_which_of_them_nobody_knows(bench: Story, line: str) -> None:
    bench.type(line)
    died = bench.on_disk()[-1]
    assert (died["what"], died["number"], died["which"]) == ("died", 1, "not known")


@pytest.mark.parametrize("line", ["K1 moat filled up", "K1 moat refilled"])
def test_a_moat_filled_up(bench: Story, line: str) -> None:
    bench.type(line)
    assert bench.on_disk()[-1]["what"] == "topped up"


@pytest.mark.parametrize("line", ["R2 some still before moult", "R2 still before moult"])
def test_some_still_before_a_moult_are_not_moving(bench: Story, line: str) -> None:
    bench.type(line)
    assert (bench.on_disk()[-1]["what"], bench.on_disk()[-1]["sign"]) == ("looked", "still")
