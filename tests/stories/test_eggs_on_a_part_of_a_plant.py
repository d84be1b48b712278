"""Eggs told with the plant and its part are laid on that plant, though another stands beside it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    "said",
    [
        "L2 searched 9 on Lathyrus latifolius buds",
        "L2 searched 9 on lathyrus buds by lens",
        "L2 searched 9 Lathyrus latifolius buds",
        "L2 9 eggs on Lathyrus latifolius buds",
        "L2 searched 9 on Lathyrus latifolius",
    ],
)
async def test_the_laying_page_counts_them_for_that_plant(story: Story, said: str) -> None:
    story.at("2027-06-02 18:00").type(
        "L2 set up laying",
        "L2 founder W1 Lampides boeticus female",
        "L2 host in Lathyrus latifolius buds",
        "L2 host in Colutea arborescens",
    )
    story.at("2027-06-03 07:00").type("L2 drank", "room 20/24", said)
    assert dict(story.desk.bench.laid["Lampides boeticus"]).keys() == {"Lathyrus latifolius"}
    async with story.screens() as screen:
        await screen.press("i")
        assert "which plant?" not in screen.text
        assert "nobody knows which" not in screen.text


def test_of_stems_that_just_came_out_they_are_on_what_is_kept(story: Story) -> None:
    story.at("2027-06-02 18:00").type(
        "L2 set up laying",
        "L2 founder W1 Lampides boeticus female",
        "L2 host in Lathyrus latifolius buds",
        "L2 host in Colutea arborescens",
    )
    story.at("2027-06-03 07:00").type("L2 host out Colutea arborescens kept")
    story.type("L2 searched 9 on Colutea arborescens buds")
    searched = next(one for one in reversed(story.on_disk()) if one["what"] == "searched")
    assert searched["lots"]
