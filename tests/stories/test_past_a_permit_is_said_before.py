"""A line that goes past a permit's limit says so before it is written, and once it is."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def full(story: Story) -> Story:
    """A permit of two females and ten eggs, of which both and nine came in."""
    story.at("2027-06-01 07:05").type(
        "permit X-1 Aglais io 2 females 10 eggs until 2027-12-31",
        "K5 2 wild females Aglais io permit X-1 on nettle",
    )
    story.later(hours=12).type("K5 9 eggs")
    return story.later(hours=12)


@pytest.mark.parametrize(
    ("line", "told"),
    {
        "K6 wild female Aglais io permit X-1": "3 of 2 females",
        "K5 2 eggs": "11 of 10 eggs taken",
        "K7 30 eggs Aglais io wild permit X-1": "39 of 10 eggs taken",
    }.items(),
)
def test_what_is_past_the_limit_is_told_with_the_line(full: Story, line: str, told: str) -> None:
    words = f"PAST THE LIMIT of permit X-1: {told}"
    assert words in full.preview(line)
    assert words in full.type(line)[0]


@pytest.mark.parametrize("line", ["K6 wild male Aglais io permit X-1", "K5 1 egg"])
def test_what_is_within_it_is_not(full: Story, line: str) -> None:
    assert "PAST" not in full.preview(line)
