"""Founders of whom nobody knows which they are stay founders in every table; where all ended alike, each did."""

from __future__ import annotations

from tests.stories.telling import Story, tell
from tests.stories.test_a_permits_return_adds_up import TWO_WILD, returned
from tests.stories.test_mixed_broods_of_one_permit import rows_of


def test_one_that_died_not_known_which_was_a_founder(story: Story) -> None:
    tell(story, TWO_WILD)
    story.later(days=1).type("K2 died 1 not known")
    told = [(one["brood"], one["founder"]) for one in rows_of(story, "events")]
    assert ("W1 or W2", "yes") in told
    assert {founder for _, founder in told} == {"yes"}
    assert [one["fate"] for one in rows_of(story, "founders")] == ["not known"] * 2


def test_of_two_that_both_died_each_died(story: Story) -> None:
    story.at("2027-05-01 07:05")
    tell(story, TWO_WILD)
    story.later(days=1).type("K2 died 1 not known")
    story.later(days=1).type("K2 died 1 female")
    assert [(one["fate"], one["ended"]) for one in rows_of(story, "founders")] == [("died", "")] * 2
    assert {one["fate"] for one in returned(story, "P-12")["Taken from the wild"]} == {
        "died 2 May 2027 or 3 May 2027, not known which"
    }


def test_both_on_one_day_died_that_day(story: Story) -> None:
    story.at("2027-05-01 07:05")
    tell(story, TWO_WILD)
    story.later(days=1).type("K2 died 1 not known", "K2 died 1 more female")
    told = rows_of(story, "founders")
    assert [(one["fate"], one["ended"][:10]) for one in told] == [("died", "2027-05-02")] * 2
    assert {one["fate"] for one in returned(story, "P-12")["Taken from the wild"]} == {
        "died 2 May 2027"
    }


def test_one_released_and_one_died_is_not_known_of_each(story: Story) -> None:
    tell(story, TWO_WILD)
    story.later(days=1).type("K2 died 1 not known")
    story.later(days=1).type("K2 released 1 adult 'Sorrel bluff'")
    assert [one["fate"] for one in rows_of(story, "founders")] == ["not known"] * 2


def test_a_specimen_of_two_females_is_a_female(story: Story) -> None:
    tell(story, TWO_WILD)
    story.later(days=1).type("K2 preserved 1 adult V7 not known")
    (one,) = rows_of(story, "specimens")
    assert (one["brood"], one["sex"]) == ("W1 or W2", "female")
