"""How a plant is kept in one cup says nothing of another, and its number in a question stays."""

from __future__ import annotations

from tests.stories.telling import Story


async def test_new_added_takes_no_pot_over_from_another_cup(story: Story) -> None:
    story.type("K1 1 female Pieris napi", "K1 host in garlic mustard potted")
    story.later(hours=1).type("R1 6 L2 Pieris napi")
    story.later(hours=1)
    async with story.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("food", "R1")
        await screen.press("a", "enter")
    came = [one for one in story.on_disk() if one["what"] == "host in"][-1]
    assert (came["container"], came["plant"]) == ("R1", "garlic mustard")
    assert came.get("kept", "water") == "water"


async def test_new_added_keeps_the_pot_of_its_own_cup(story: Story) -> None:
    story.type("R1 6 L2 Pieris napi", "R1 host in garlic mustard potted")
    story.type("K1 1 female Pieris napi on garlic mustard")
    story.later(hours=30).type("R1 host eaten")
    async with story.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("food", "R1")
        await screen.press("a", "enter")
    came = [one for one in story.on_disk() if one["what"] == "host in"][-1]
    assert (came["container"], came["kept"]) == ("R1", "potted")


async def test_which_plant_keeps_its_number(story: Story) -> None:
    story.type("K2 2 females Pieris napi on garlic mustard, cuckooflower")
    story.later(hours=26).type("K2 host out garlic mustard held sure", "K2 host in garlic mustard")
    assert story.desk.bench.containers["K2"].hosts[0].plant == "cuckooflower"
    story.later(hours=1)
    async with story.screens((100, 40)) as screen:
        screen.highlight("K2")
        await screen.press("e", "3", "enter")
        assert "1 garlic mustard 2 cuckooflower" in screen.words
        await screen.press("escape", "escape", "h", "a")
        assert "which plant? 1 garlic mustard 2 cuckooflower" in screen.words


def test_a_day_alone_that_is_today_is_now_while_noon_is_ahead(story: Story) -> None:
    story.at("2027-06-08 06:40").type("K2 1 female Pieris napi on garlic mustard")
    story.at("2027-06-08 07:30").type("8 Jun K2 drank")
    assert story.on_disk()[-1]["at"].startswith("2027-06-08T07:30")
    story.later(minutes=5).type("K2 looked today", "today K2 drank")
    assert {one["at"][:16] for one in story.on_disk()[-2:]} == {"2027-06-08T07:35"}
    story.at("2027-06-08 18:30").type("8 Jun K2 looked")
    assert story.on_disk()[-1]["at"].startswith("2027-06-08T12:00")
    assert "ahead of now" in story.refused("8 Jun 19:30 K2 looked")
