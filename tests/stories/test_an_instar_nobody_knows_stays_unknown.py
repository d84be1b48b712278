"""Of which instar a larva was that a count did not see nobody knows, and dying makes nobody wiser."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story
from tests.stories.test_leaving_note import note_of


def listed(story: Story) -> Story:
    story.at("2027-07-12 18:05")
    ran = story.shell(
        "begin", "--list", "-", typed="R4\t10 L3 + 4 L4 Cucullia torvana\tmullein\t11 Jul\track 1\n"
    )
    assert ran.status == 0, ran.err
    story.reopen()
    return story


def instars(story: Story) -> dict[int, int]:
    return {lot.instar: lot.number for lot in story.desk.bench.containers["R4"].lots}


def test_the_one_that_is_missing_is_of_no_known_instar(story: Story, tmp_path: Path) -> None:
    (told,) = listed(story).type("R4 counted 13")
    assert "1 fewer than on record, not known which instar, missing until" in told
    assert sum(instars(story).values()) == 13
    assert [(one.instar, one.number) for one in story.desk.bench.shortfalls] == [(0, 1)]
    story.type("R4 died 1 missing")
    note = note_of(story, tmp_path, next(iter(story.desk.bench.broods)))
    assert "died: 1 (1 L4)" not in note
    assert "died: 1 (1 larva" in note


def test_those_that_turn_up_again_are_as_they_were(story: Story) -> None:
    listed(story).type("R4 counted 13", "R4 settled found 1")
    assert sum(instars(story).values()) == 14


def test_all_of_one_instar_are_known(story: Story) -> None:
    listed(story).type("R4 counted 3 L4")
    assert [(one.instar, one.number) for one in story.desk.bench.shortfalls] == [(4, 1)]


def test_all_missing_are_known(story: Story) -> None:
    listed(story).type("R4 counted 0")
    assert sorted((one.instar, one.number) for one in story.desk.bench.shortfalls) == [
        (3, 10),
        (4, 4),
    ]


def test_one_that_does_not_arrive_is_of_no_known_instar(story: Story) -> None:
    listed(story).type("R7 set up rearing", "R4 moved 14 not known to R7, arrived 13")
    assert [(one.instar, one.number) for one in story.desk.bench.shortfalls] == [(0, 1)]
    assert {lot.instar: lot.number for lot in story.desk.bench.containers["R7"].lots} == {
        0: 1,
        3: 9,
        4: 3,
    }
