"""Young larvae found under a kept lot that is named are of that lot."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def kept(story: Story) -> Story:
    story.type("K1 1 female Pieris napi on garlic mustard", "H1 set up host store")
    for _ in range(2):
        story.later(hours=26).type("K1 host out held garlic mustard held_in=H1 sure")
        story.type("K1 host in garlic mustard")
    return story.later(days=6)


@pytest.mark.parametrize(
    "line",
    ["H1 3 larvae lot 2", "H1 hatched 3 lot 2", "H1 3 larvae under lot 2", "H1 3 larvae lot=2"],
)
def test_they_are_of_that_lot(kept: Story, line: str) -> None:
    kept.type(line)
    first, second = kept.desk.bench.containers["H1"].held
    assert kept.desk.bench.containers["H1"].count("larva") == 3
    assert first.frass == ""
    said = [one for one in kept.on_disk() if one["what"] in ("frass", "hatched")]
    assert [(one["what"], one["lots"]) for one in said] == [
        ("frass", [second.lot]),
        ("hatched", [second.lot]),
    ]


def test_a_lot_that_is_not_kept_is_named(kept: Story) -> None:
    assert kept.refused("H1 3 larvae lot 7") == "no lot 7 is kept in H1; there are: 1, 2"
    assert "on which kept stems?" in kept.refused("H1 3 larvae")
