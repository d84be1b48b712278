"""The females of one catch come in one after the other: the first in full, the others 'same again'."""

from __future__ import annotations

from tests.stories.telling import Story

FIRST = "K2 founder W2 Boloria dia female at Tannmoos collector=KM permit=P-12 latitude=47.31 longitude=8.9 caught -5h"
OF_THE_CATCH = ("taxon", "place", "latitude", "longitude", "caught", "collector", "permit")


def test_the_next_female_of_a_catch_is_same_again(story: Story) -> None:
    story.type("permit P-12 females=9", "K2-K5 set up laying", FIRST)
    story.later(minutes=4)
    story.type("K3 same again", "K4 same again W7", "K5 founder W8 same", "K5 one more")

    came = [line for line in story.on_disk() if line["what"] == "founder"]
    assert [(line["container"], line["code"]) for line in came] == [
        ("K2", "W2"),
        ("K3", "W3"),
        ("K4", "W7"),
        ("K5", "W8"),
        ("K5", "W9"),
    ]
    for line in came[1:]:
        assert {name: line.get(name) for name in OF_THE_CATCH} == {
            name: came[0].get(name) for name in OF_THE_CATCH
        }
    assert came[1]["at"] > came[0]["at"], (
        "she came in when it was said, and was caught when the first was"
    )


def test_what_is_said_beside_same_again_is_hers_alone(story: Story) -> None:
    story.type("permit P-12 females=9", "K2-K3 set up laying", FIRST, "K3 same again worn male")
    last = story.on_disk()[-1]
    assert (last["sex"], last["wear"], last["place"]) == ("male", "worn", "Tannmoos")
    assert "Boloria dia" in story.preview("K3 same again")
    assert "W4" in story.preview("K3 same again")


def test_same_as_nothing_is_asked_for(story: Story) -> None:
    story.type("K2 set up laying")
    assert "none came in yet" in story.refused("K2 same again")
