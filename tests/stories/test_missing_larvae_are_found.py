"""Larvae that were missing are found, said with their stage or instar, which is noted where nobody knew it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def short(story: Story) -> Story:
    """Ten larvae in two instars, of which a count found eight."""
    story.at("2027-06-01 07:05").type("R1 10 L3 Aglais io on nettle 3 stems", "R1 moulted 4 L4")
    story.later(hours=12).type("R1 counted 8")
    return story.later(hours=12)


@pytest.mark.parametrize(
    "line",
    ["R1 found 2 larvae", "R1 found two", "R1 found 2 missing", "R1 found 2 of them", "R1 2 found"],
)
def test_those_that_were_missing_are_found(short: Story, line: str) -> None:
    assert short.type(line) == ["R1 settled found, 2"]
    assert short.desk.bench.containers["R1"].count("larva") == 10


@pytest.mark.parametrize("line", ["R1 found 2 L4", "R1 found 2 larvae L4"])
def test_their_instar_is_noted(short: Story, line: str) -> None:
    assert "R1 note 'in L4'" in short.type(line)[0]


def test_where_none_is_missing_it_is_asked_what_was_found(short: Story) -> None:
    short.type("R1 found 2 larvae")
    assert "eggs, or an animal that was missing" in short.refused("R1 found 2 larvae")
