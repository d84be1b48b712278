"""Two drank and one refused: one line, an entry each, both told."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def keeper(story: Story) -> Story:
    story.at("2027-06-02 07:10").type("K1 3 females Hyles gallii on bedstraw")
    return story.at("2027-06-02 18:10")


@pytest.mark.parametrize(
    "line",
    [
        "K1 drank 2, 1 refused",
        "K1 2 drank, 1 refused",
        "K1 2 drank and one refused",
        "K1 two females drank, 1 refused",
        "K1 drank, 1 refused",
        "K1 drank 2, 1 refused -20m",
    ],
)
def test_one_line_is_an_entry_each(keeper: Story, line: str) -> None:
    shown = keeper.preview(line)
    (told,) = keeper.type(line)
    drank, refused = keeper.on_disk()[-2:]
    assert (drank["what"], drank["number"]) == ("drank", 2)
    assert (refused["what"], refused["number"]) == ("refused", 1)
    assert drank["at"] == refused["at"]
    assert "refused: number 1" in shown
    assert "drank, 2; K1 refused 1" in told


@pytest.mark.parametrize("line", ["K1 drank 2, 2 refused", "K1 drank, 3 refused"])
def test_no_more_than_stand_there(keeper: Story, line: str) -> None:
    before = len(keeper.on_disk())
    assert "K1 holds 3 on record" in keeper.refused(line)
    assert len(keeper.on_disk()) == before
