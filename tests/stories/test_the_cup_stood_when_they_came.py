"""A cup is set up on record as somebody thinks of it, and its animals came before that."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story
from tests.stories.test_from_nothing_to_the_first_check import typed


def stands(story: Story) -> list[str]:
    """Each set-up that counts, and each founder, with its time."""
    lines = story.on_disk()
    struck: set[str] = set()
    for line in reversed(lines):  # a strike that is crossed out crosses out nothing
        if line["what"] == "struck" and line["id"] not in struck:
            struck.add(line["entry"])
    return [
        f"{line['what']} {line['at'][:16]}"
        for line in lines
        if line["what"] in ("set up", "founder") and line["id"] not in struck
    ]


BOTH = ["set up 2027-05-09T15:30", "founder 2027-05-09T15:30", "founder 2027-05-09T15:30"]


async def test_at_the_first_start(story: Story) -> None:
    story.at("2027-05-10 18:00")
    async with story.screens() as screen:
        await screen.press("a", "enter", "enter", "enter")
        await typed(screen, "K2 laying")
        await typed(screen, "2 females Melitaea cinxia on plantain yesterday 15:30")
    assert stands(story) == BOTH


@pytest.mark.parametrize(
    "line",
    [
        "K2 2 females Melitaea cinxia on plantain yesterday 15:30",
        "K2 yesterday 15:30 2 females Melitaea cinxia on plantain",
    ],
)
def test_at_the_prompt(story: Story, line: str) -> None:
    story.at("2027-05-10 18:00").type("K2 set up laying shelf=A place=2")
    shown = story.preview(line)
    assert "2 females" in shown or "founder" in shown
    story.type(line)
    assert stands(story) == BOTH
    story.at("2027-05-10 18:10").type("K2 drank yesterday 16:00")
    assert "nothing wrong was found" in story.shell("check").out
    assert "shelf A place 2" in story.type("undo", "undo")[1], "the set-up keeps all it said"


def test_undo_brings_the_set_up_back(story: Story) -> None:
    story.at("2027-05-10 18:00").type("K2 set up laying")
    story.type("K2 2 females Melitaea cinxia on plantain yesterday 15:30", "undo")
    assert stands(story) == ["set up 2027-05-10T18:00"]
    assert "was set up later" in story.refused("K2 host in plantain yesterday 15:30")


def test_in_a_list(story: Story) -> None:
    story.at("2027-05-10 18:00").type("K2 set up laying")
    listed = story.folder.with_name("bench.txt")
    listed.write_text("K2 2 females Melitaea cinxia on plantain yesterday 15:30\n")
    ran = story.shell("begin", "--list", str(listed))
    assert ran.status == 0, ran.err + ran.out
    assert stands(story) == BOTH


def test_of_a_cup_that_holds_animals_it_is_a_mistake(story: Story) -> None:
    story.at("2027-05-10 18:00").type("K2 1 female Melitaea cinxia on plantain")
    refused = story.refused("K2 2 females Melitaea cinxia on plantain yesterday 15:30")
    assert "K2 was set up later, on Mon 10 May 18:00" in refused
