"""What a question or a reason says of hours is what is done."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def test_all_well_says_when_warmth_is_asked_about_again(story: Story) -> None:
    story.at("2027-06-12 18:33")
    tell(
        story,
        "R3 set up rearing\nbrood W4/A taxon='Polyommatus icarus'\nR3 stocked 4 L2 brood=W4/A\nroom 24/31",
    )
    story.later(minutes=2)
    async with story.screens((110, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("heat", "")
        assert "asked again in an hour, if all is well in two" in screen.text
        await screen.press("space")
    assert "heat" not in story.later(minutes=110).due()
    assert "heat" in story.later(minutes=20).due()


async def test_a_late_hatch_says_the_times_that_count(story: Story) -> None:
    story.at("2027-06-10 20:00")
    tell(
        story,
        "L3 set up laying\nL3 founder W4, Polyommatus icarus female\nL3 host in Lotus corniculatus\nroom air 24C",
    )
    story.at("2027-06-11 07:00").type(
        "L3 searched 9 lens", "E1 set up eggs", "L3 moved 9 eggs to E1"
    )
    for _ in range(30):
        story.later(hours=24).type("room air 24C")
        if story.due("E1").get("hatch late", {}).get("standing") == "red":
            break
    due = story.due("E1")["hatch late"]
    assert due["standing"] == "red"
    async with story.screens((140, 50)) as screen:
        await screen.press("r")
        await screen.walk_to("hatch late", "E1")
        text = " ".join(screen.text.split())
    assert "late after 15 d" not in text
    assert "urgent after 20 d" not in text
    assert "urgent from" in text
