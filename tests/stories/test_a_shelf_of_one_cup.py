"""A shelf that only a cup names is known to the line that sets the next one up on it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize("where", ["on shelf sill", "on sill", "sill", "shelf sill", "Sill"])
def test_a_cup_is_set_up_on_it(story: Story, where: str) -> None:
    story.at("2027-05-29 07:00").type("R3 set up rearing shelf=sill")
    story.type(f"K8 set up laying {where}")
    assert story.on_disk()[-1]["shelf"].casefold() == "sill"
    story.type(f"R3 changed {where}")


def test_a_word_that_no_cup_has_as_its_shelf_is_asked(story: Story) -> None:
    story.at("2027-05-29 07:00").type("R3 set up rearing shelf=sill")
    assert "does not fit" in story.refused("K8 set up laying ledge")
