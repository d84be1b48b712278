"""Words that say what becomes of the old stems stand where a plant is named, and are never one."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def laying(story: Story) -> Story:
    story.at("2027-05-10 09:00")
    tell(
        story,
        """
        K1 set up laying
        K1 1 female Melitaea cinxia on plantain
        """,
    )
    return story


@pytest.mark.parametrize(
    ("said", "fate"),
    [
        ("kept", "kept"),
        ("old kept", "kept"),
        ("old stems kept", "kept"),
        ("kept stems", "kept"),
        ("discarded", "discarded"),
        ("old discarded", "discarded"),
        ("thrown away", "discarded"),
        ("the old one kept", "kept"),
    ],
)
def test_a_plant_is_changed_and_the_old_goes_there(laying: Story, said: str, fate: str) -> None:
    assert laying.type(f"K1 host changed kidney vetch, {said}") == [
        f"K1 host out: plantain A, {fate}; K1 host in: kidney vetch, water, batch B"
    ]


@pytest.mark.parametrize("plants", ["kept", "discarded", "plantain, kept", "plantain and kept"])
def test_nothing_is_called_kept(laying: Story, plants: str) -> None:
    refused = laying.refused(f"K1 host in {plants}")
    assert "is no plant" in refused
    lines = refused.partition("as: ")[2].split("; with nothing taken out: ")
    assert [line.split()[:2] for line in lines] == [["K1", "host"]] * 2
    laying.type(*lines)
