"""A count that misses some of several instars says not which: it takes nobody for another, and once all are found they are as they were."""

from __future__ import annotations

from tests.stories.telling import Story


def held(story: Story) -> dict[int, int]:
    """How many larvae of each instar are on record; 0 is one that nobody knows."""
    return {lot.instar: lot.number for lot in story.desk.bench.containers["R1"].lots}


def mixed(story: Story, third: int, fourth: int) -> Story:
    story.at("2027-05-01 07:00")
    story.type(f"R1 {third + fourth} L3 'Aglais urticae' on Urtica dioica 5 stems")
    story.later(days=3).type(f"R1 moulted {fourth} to L4")
    return story.later(hours=2)


def test_of_those_that_are_left_nobody_knows_the_instar(story: Story) -> None:
    (told,) = mixed(story, 3, 5).type("R1 counted 2")
    assert "not known which instar" in told
    assert held(story) == {0: 2}
    story.type("R1 settled found 6")
    assert held(story) == {3: 3, 4: 5}
    story.type("R1 died 1 L4")
    assert held(story) == {3: 3, 4: 4}


def test_those_beyond_the_missing_are_sure_and_all_come_back(story: Story) -> None:
    mixed(story, 11, 5).type("R1 counted 12")
    assert held(story) == {0: 4, 3: 7, 4: 1}
    since = {lot.instar: lot.since for lot in story.desk.bench.containers["R1"].lots}
    story.later(hours=1).type("R1 counted 10")
    assert held(story) == {0: 5, 3: 5}
    story.type("R1 settled found 2")
    assert held(story) == {0: 7, 3: 5}, "some are missing still"
    story.reopen()
    story.type("R1 counted 16")
    assert held(story) == {3: 11, 4: 5}
    now = {lot.instar: lot.since for lot in story.desk.bench.containers["R1"].lots}
    assert now == {3: since[3], 4: since[4]}


def test_once_one_of_them_died_nobody_knows_for_good(story: Story) -> None:
    mixed(story, 3, 5).type("R1 counted 2", "R1 settled dead 1", "R1 settled found 5")
    assert held(story) == {0: 7}


def test_they_are_fed_as_the_oldest_that_they_may_be(story: Story) -> None:
    story.at("2027-05-01 07:00")
    story.type("R1 8 L4 'Aglais urticae' on Urtica dioica 5 stems")
    story.later(days=3).type("R1 moulted 5 to L5", "R1 counted 2", "R1 food plenty")
    story.later(hours=25)
    assert "last instar" in story.due("R1")["food"]["rule"]
