"""A plant that is changed, and what comes out goes to a cup of kept stems in the same line."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def laying(story: Story) -> Story:
    """A female with violet, whose earlier stems are kept with her."""
    story.type("K2 1 female Boloria dia on violet", "E2 set up eggs")
    story.later(days=2).type("K2 host changed violet")
    return story.later(days=2)


@pytest.mark.parametrize(
    ("line", "where"),
    [
        ("K2 violet changed, kept in new S2", "S2"),
        ("K2 host changed violet, old kept in new S2", "S2"),
        ("K2 host changed, old stems to new S2", "S2"),
        ("K2 host in violet, old stems put in new S2", "S2"),
        ("K2 cut host, old stems kept in E2", "E2"),
        ("K2 host changed violet 3 stems kept in E2", "E2"),
    ],
)
def test_the_old_go_there(laying: Story, line: str, where: str) -> None:
    laying.type(line)
    (held,) = laying.desk.bench.at(where).held
    assert (held.plant, held.source) == ("violet", "K2")
    assert len(laying.desk.bench.at("K2").held) == 1, "the earlier ones stay with her"
    assert [host.kept for host in laying.desk.bench.at("K2").hosts] == ["water"]


def test_the_old_by_its_name_beside_the_new(laying: Story) -> None:
    laying.type("K2 host changed heartsease, violet kept in new S2")
    assert [host.plant for host in laying.desk.bench.at("K2").hosts] == ["heartsease"]
    assert [held.plant for held in laying.desk.bench.at("S2").held] == ["violet"]


def test_in_the_fridge_are_the_old_and_not_the_fresh(laying: Story) -> None:
    laying.type("K2 violet changed, kept in the fridge")
    assert [host.kept for host in laying.desk.bench.at("K2").hosts] == ["water"]
    assert laying.on_disk()[-1]["text"] == "kept in the fridge"


def test_a_cup_that_does_not_stand_is_called_new(laying: Story) -> None:
    told = laying.refused("K2 violet changed, kept in S9")
    assert told == "no container is called S9; as: K2 host changed violet kept in new S9"
