"""Survival of a brood whose eggs were laid over some days stays near the share that lives."""

from __future__ import annotations

from tests.stories.telling import Story, survival, tell


def begin(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story,
        "L3 set up laying\nL3 founder W4, Polyommatus icarus female\nL3 host in Lotus corniculatus",
    )
    story.at("2027-06-11 07:00").type("L3 searched 3 lens")
    story.at("2027-06-13 07:00").type("L3 searched 17 lens")
    story.type("E1 set up eggs", "L3 moved 20 eggs to E1")
    story.at("2027-06-17 07:00").type("E1 hatched 20")
    story.at("2027-06-20 07:00").type("E1 died 3 L1")


def test_seventeen_of_twenty_live(story: Story) -> None:
    begin(story)
    for day in (20, 21):
        story.at(f"2027-06-{day} 08:00")
        rows = survival(story, "W4/A")
        assert rows
        assert 0.75 <= rows[-1][-3] <= 0.9, rows
