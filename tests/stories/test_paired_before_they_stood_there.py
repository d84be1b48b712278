"""A pairing at a time when the cup was empty: told who was where then, and since when they are together."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_it_is_told_who_was_where(story: Story) -> None:
    story.at("2027-06-08 08:00")
    tell(
        story,
        """
        C4 set up pairing
        K2 wild female Boloria dia from Heath
        H2 1 male Boloria dia
        """,
    )
    story.at("2027-06-09 10:05").type("K2 moved 1 female to C4", "H2 moved 1 to C4")
    assert story.at("2027-06-09 15:05").refused("C4 paired yesterday") == (
        "C4 held no adults on Tue 08 Jun 12:00: BOL-27-01 was in K2, BOL-27-02 was in H2;"
        " together since Wed 09 Jun 10:05; if they paired after that, as: C4 paired"
    )
    assert "held no adults on Wed 09 Jun 09:30" in story.refused("C4 paired 09:30")
    story.type("C4 paired 11:00")


def test_more_than_two_hours_ahead_is_the_day_before(story: Story) -> None:
    story.at("2027-06-08 08:00").type("P7 7 pupae Melitaea diamina")
    story.at("2027-06-09 15:05")
    assert "16:50 is ahead of now" in story.refused("P7 1 male emerged 16:50")
    assert "Tue 17:50" in story.preview("P7 1 male emerged 17:50")
    story.type("P7 1 male emerged 17:50")
    assert story.on_disk()[-1]["at"].startswith("2027-06-08T17:50")
