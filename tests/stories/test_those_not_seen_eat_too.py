"""Larvae that a count did not find may sit in the plant: what food is worth counts them, as its hours do."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_food_is_worth_what_it_keeps_of_those_not_seen(story: Story) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        R6 set up rearing
        R6 24 L5 Aglia tau on Tilia cordata
        R6 host changed 20 stems Tilia cordata
        """,
    )
    story.at("2027-06-01 20:00").type("R6 counted 6", "R6 host changed 7 stems Tilia cordata held")
    food = story.later(hours=18).due("R6")["food"]
    assert "enough for about 7.0 h" in food["arithmetic"]  # of 24
    assert "24 larvae that eat at stake" in food["worth"]
