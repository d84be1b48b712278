"""A number that is spelled before stems, buds or leaves counts them: it is no part of a plant's name."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-06-01 07:05").type("R6 10 L3 Aglais io on Urtica dioica 3 stems")
    return story.later(hours=5)


@pytest.mark.parametrize(
    ("line", "asked"),
    {
        "R6 host in three buds of Urtica dioica": "3 buds, or 3 stems?",
        "R6 host in four fresh leaves of Urtica dioica": "4 leaves, or 4 stems?",
        "R6 host in Urtica dioica three buds": "3 buds, or 3 stems?",
        "R6 host in one bud of Urtica dioica": "1 bud, or 1 stem?",
        "K9 wild female Pieris napi on three buds of Cardamine pratensis": "3 buds, or 3 stems?",
        "R7 ten L2 Pieris napi on Cardamine pratensis two leaves": "2 leaves, or 2 stems?",
    }.items(),
)
def test_spelled_numbers_of_parts_are_asked_of_as_figures_are(
    bench: Story, line: str, asked: str
) -> None:
    assert asked in bench.refused(line)


@pytest.mark.parametrize(
    "line", ["R6 host in two nettle", "R6 host in two of nettle", "R6 host in nettle two stems"]
)
def test_so_many_stems_of_a_plant(bench: Story, line: str) -> None:
    assert "host in: nettle, batch B, 2 stems" in bench.type(line)[0]


def test_a_name_in_quotes_keeps_its_number(bench: Story) -> None:
    assert "host in: two nettle" in bench.type('R6 host in "two nettle"')[0]
