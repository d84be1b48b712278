"""The same keys at two questions that follow each other: a number counts the larvae only where the question asks how many there are."""

from __future__ import annotations

from tests.stories.telling import Story


def test_stems_are_not_taken_for_larvae_at_the_next_question(story: Story) -> None:
    story.at("2027-05-01 07:00").type("R3 8 L5 'Aglais urticae' on Urtica dioica 5 stems")
    story.later(hours=27).type("room 21", "R3 looked")
    printed = "\n".join(story.plain(["s", "2c", "2c", "c", "q"]))
    assert "2 stems" in printed, printed
    assert "'cleaned' takes no number, and 2 was typed" in printed, printed
    container = story.desk.bench.containers["R3"]
    assert (container.count(), "cleaned" in container.last) == (8, True)
