"""After one of two unmarked females died, what is laid since is a new brood, whether it is known which of them died or not."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_what_the_one_left_lays_is_no_longer_the_brood_of_both(story: Story) -> None:
    story.at("2027-06-01 18:30")
    tell(
        story,
        "K2 set up laying\nK2 founder W2 'Boloria lapidata' female\nK2 founder W3 'Boloria lapidata' female\nK2 host in viola",
    )
    story.at("2027-06-03 07:10").type("K2 died 1 not known")
    assert "brood W2+/A" in story.at("2027-06-03 07:11").type("K2 searched 6")[0]
    assert "brood W2+/A" in story.at("2027-06-03 07:12").type("K2 searched 2")[0], "the same visit"
    assert "brood W2+/B" in story.at("2027-06-04 07:11").type("K2 searched 5")[0]
    assert "brood W2+/B" in story.at("2027-06-05 07:11").type("K2 searched 5")[0]
