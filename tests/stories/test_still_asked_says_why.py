"""An answer that changes nothing leaves the question where it is: that is said, with the key that ends it."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BENCH = """
shelf set up sill moat
K2 set up laying shelf=sill place=1
K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
sill moat dry
"""


async def test_a_moat_dry_as_before_says_why_it_stays(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), BENCH)
    async with story.at("2027-05-02 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        await screen.press("space")
        assert "saved, still asked: p topped up, - passes over; u undo" in screen.words
        await screen.press("space")
        assert "shelf sill ants: Space or e recorded that less than a minute ago" in screen.words


def test_on_lines_the_same_answer_is_recorded_once(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), BENCH)
    story.at("2027-05-02 18:05")
    printed: list[str] = []
    for _ in range(12):
        printed = story.plain(["q"])
        if any("ant barrier" in line for line in printed):
            break
        story.plain(["- m", "q"])
    before = len(story.on_disk())
    printed = story.plain([" ", " ", " ", "q"])
    assert len(story.on_disk()) == before + 1, printed
    assert any(
        "Still asked: key p, topped up; or minus and a reason passes over." in one
        for one in printed
    )
    assert any("recorded that less than a minute ago" in one for one in printed)
