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
        f"K1 host out: plantain A, {fate}; K1 host in: kidney vetch, batch B"
    ]


@pytest.mark.parametrize("plants", ["kept", "discarded", "plantain, kept", "plantain and kept"])
def test_nothing_is_called_kept(laying: Story, plants: str) -> None:
    refused = laying.refused(f"K1 host in {plants}")
    assert "is no plant" in refused
    lines = refused.partition("as: ")[2].split("; with nothing taken out: ")
    assert [line.split()[:2] for line in lines] == [["K1", "host"]] * 2
    laying.type(*lines)


@pytest.mark.parametrize(
    ("line", "fate"),
    [
        ("Y1 ash new 4 stems, old looked over", "discarded"),
        ("Y1 new ash 4 stems, old ones kept", "kept"),
        ("Y1 new ash 4 stems, wilted ones kept", "kept"),
        ("Y1 ash 4 new stems, old one kept", "kept"),
        ("Y1 host in ash 4 stems, old kept", "kept"),
        ("Y1 ash put in 4 stems, the old looked over and thrown away", "discarded"),
        ("Y1 old looked over, new ash 4 stems", "discarded"),
        ("Y1 old ash kept, new ash 4 stems", "kept"),
    ],
)
def test_with_a_new_plant_it_is_read_wherever_it_stands(story: Story, line: str, fate: str) -> None:
    story.at("2031-06-11 18:00").type("Y1 20 L1 Euphydryas maturna on ash")
    assert story.at("2031-06-13 07:00").type(line) == [
        f"Y1 host out: ash A, {fate}; Y1 host in: ash, batch B, 4 stems"
    ]


@pytest.mark.parametrize("old", ["old thrown away", "old removed", "wilted ones out", "old out"])
def test_what_may_bear_young_larvae_is_asked_about(story: Story, old: str) -> None:
    story.at("2031-06-11 18:00").type("Y1 20 L1 Euphydryas maturna on ash")
    told = story.at("2031-06-13 07:00").refused(f"Y1 new ash 3 stems, {old}")
    assert "20 young larvae may be on it" in told
