"""Who lets animals go from a cup that is marked suspect is told so, at the prompt and by ``rounds log``."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def suspect(story: Story) -> Story:
    """Two adults in a cup that is suspect, and one in a cup that is not."""
    tell(
        story,
        """
        brood A1 taxon="Aglia tau"
        P5 set up emergence
        P5 stocked 5 pupae brood=A1
        P5 emerged 2 females
        P6 set up emergence
        P6 stocked 5 pupae brood=A1
        P6 emerged 2 females
        P5 suspect mould
        """,
    )
    return story


SAID = "P5 is marked suspect (mould): let nothing go from it"


def test_the_prompt_says_it(suspect: Story) -> None:
    assert SAID in suspect.preview("P5 released 1")
    assert "suspect" not in suspect.preview("P6 released 1")


def test_rounds_log_says_it(suspect: Story) -> None:
    told = suspect.shell("log", "-", typed="P5 released 1\nP5 released 1\nP6 released 1\n").err
    assert told.count(SAID) == 1
    assert told.count("as the permit says") == 1
    assert "suspect" not in suspect.shell("log", "P6", "released", "1").err
