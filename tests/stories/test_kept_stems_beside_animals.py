"""Stems that are kept in a cup with animals in it are told on the shelves too."""

from __future__ import annotations

from tests.stories.telling import Story


def test_shelves_tell_kept_stems_beside_animals(story: Story) -> None:
    story.at("2027-06-01 08:00").type("K6 set up laying", "R2 5 L3 Pieris napi on garlic mustard")
    story.type("K6 1 female Pieris napi", "K6 host in garlic mustard 3 stems")
    story.later(hours=10).type("K6 host changed, old kept")
    assert "1 female Pieris napi, 3 kept stems" in story.shell("shelves").out
    story.type("K6 kept stems to R2")
    assert "5 L3 Pieris napi, 3 kept stems" in story.shell("shelves").out
