"""A plant that is changed says before Enter what becomes of the old stems, also where none said so."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    "line", ["K3 host changed", "K3 host changed 3 stems", "K3 violet changed 3", "K3 host out"]
)
def test_of_a_laying_cup_they_are_kept_and_it_says_so(story: Story, line: str) -> None:
    story.type("30 Apr 08:00 K3 1 female Boloria dia on violet")

    assert "K3 host out: fate kept, batch A, plant violet" in story.preview(line)
    assert "K3 host out: violet A, kept" in story.type(line)[0]


def test_where_no_female_sat_on_them_they_are_discarded_and_it_says_so(story: Story) -> None:
    story.type("30 Apr 08:00 R3 5 L5 Boloria dia on violet")

    assert "R3 host out: fate discarded" in story.preview("R3 host changed 3 stems")
