"""A line that brings an animal in names it; what was forgotten is asked, and 'same again' is as the one beside it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

TWO_CUPS = """
    K2 set up laying
    K3 set up laying
    K2 founder SA Saturnia montis female place="Weir Bank" permit=P-1
    K3 founder HA Hyles vespera female place="Mill Lane" permit=P-2
    """


@pytest.mark.parametrize(
    "said",
    [
        "Saturnia montis female",
        '"Saturnia montis" female',
        "Saturnia montis",
        "Hyles vespera wild male at 'Mill Lane'",
    ],
)
def test_a_code_that_was_forgotten_is_asked(story: Story, said: str) -> None:
    story.type("K2 set up laying")
    refused = story.refused(f"K2 founder {said}")
    assert "code" in refused
    assert not story.desk.bench.founders
    tell(story, f"taxon 'Saturnia montis'\ntaxon 'Hyles vespera'\nK2 founder W1 {said}")
    assert "code" in story.refused(f"K2 founder {said}"), "a known species is no code either"


def test_the_example_that_it_gives_is_taken(story: Story) -> None:
    tell(story, TWO_CUPS)
    refused = story.refused("K2 founder Saturnia montis female")
    example = refused.partition("as: ")[2]
    assert "K2 founder SA2 Saturnia montis" in example
    story.type(example)


def test_a_name_of_ones_own_stays_a_code(story: Story) -> None:
    tell(story, TWO_CUPS)
    story.type("K2 founder Anna montis female")
    assert story.desk.bench.founders["Anna"].taxon == "Saturnia montis"


def test_a_range_is_no_animal(story: Story) -> None:
    story.type("K2 set up laying")
    refused = story.refused("K2 founder S8-S9 Saturnia montis female")
    assert "S8-S9" in refused
    assert "same again" in refused
    tell(story, "K2 founder QUE-26-03 Saturnia montis female\nK2 founder S8 Saturnia montis")


def test_same_again_is_as_the_one_in_this_cup(story: Story) -> None:
    tell(story, TWO_CUPS)
    told = story.type("K2 same again")[0]
    assert "SA2, Saturnia montis, female, Weir Bank, P-1" in told
    told = story.type("K3 same again")[0]
    assert "HA2, Hyles vespera, female, Mill Lane, P-2" in told


def test_same_again_in_an_empty_cup_is_as_the_last_that_came(story: Story) -> None:
    tell(story, TWO_CUPS + "K4 set up laying\n")
    assert "HA2, Hyles vespera" in story.type("K4 same again")[0]


async def test_a_mother_that_is_crossed_out_is_told(story: Story) -> None:
    tell(
        story,
        "K2 set up laying\nK2 founder HA Hyles vespera female\nK2 founder HM Hyles vespera male\nK2 paired HA HM",
    )
    story.later(hours=20).type("K2 searched 5")
    before = story.shell("check").out
    assert "does not fit" not in before
    ids = {line["code"]: line["id"] for line in story.on_disk() if line["what"] == "founder"}
    for code in ("HA", "HM"):
        story.type(f"struck {ids[code]}")
    story.reopen()
    said = " ".join(one.words for one in story.desk.bench.misfits)
    assert "HA" in said
    assert "HM" in said
    shown = " ".join(story.shell("check").out.split())
    assert "HA" in shown
    assert "came in" in shown
