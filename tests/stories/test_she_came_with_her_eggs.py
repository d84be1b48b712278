"""A female that comes in with eggs she has laid: the brood is hers."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    "line",
    [
        "K5 1 female Boloria dia from Wood, laid 3 eggs",
        "K5 1 female Boloria dia from Wood which has laid three eggs on violet",
        "K5 1 female Boloria dia on violet, laid 3 eggs",
    ],
)
def test_the_brood_is_hers(story: Story, line: str) -> None:
    (told,) = story.at("2027-05-27 08:00").type(line)
    assert "laid'" not in told
    bench = story.desk.bench
    assert bench.containers["K5"].count("egg") == 3
    assert bench.broods["BOL-27-01/A"].mothers == ("BOL-27-01",)
    story.later(hours=9).type("K5 2 eggs")
    assert bench.containers["K5"].count("egg") == 5
    assert story.shell("check").status == 0


def test_they_were_laid_since_she_was_caught(story: Story) -> None:
    story.at("2027-05-27 08:00")
    story.type("K5 1 female Boloria dia caught yesterday 15:00 at Wood, laid 3 eggs")
    brood = story.desk.bench.broods["BOL-27-01/A"]
    assert brood.laid_from
    assert brood.laid_to
    assert [f"{at:%d %H:%M}" for at in (brood.laid_from, brood.laid_to)] == ["26 15:00", "27 08:00"]


def test_eggs_of_one_of_two_species_are_asked_about(story: Story) -> None:
    told = story.refused("K9 1 female Boloria dia, 1 female Pieris napi, laid 3 eggs")
    assert "whose eggs" in told
    assert "some eggs" not in story.refused("K9 1 female Boloria dia, laid some eggs")
