"""Lines that are typed in the first days of a book: none seen, a cup for a pair, a cup that is
closed while one is missing, a count that a colleague's line came before."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize("line", ["K1 none seen lens", "K1 none seen", "K1 none seen on sorrel"])
def test_none_seen_is_a_search(story: Story, line: str) -> None:
    story.at("2029-08-03 08:37").type("K1 1 female Lycaena tityrus from Monte Bar on sorrel")
    assert story.type(line)[-1].partition("K1 searched, ")[2].startswith("none found")


def test_none_seen_where_larvae_are_stays_asked_about(story: Story) -> None:
    story.at("2029-08-03 08:37").type("R3 12 L4 Lycaena tityrus on sorrel")
    assert story.preview("R3 none seen").startswith("nothing of what?")


@pytest.mark.parametrize("line", ["C1 pairing", "C1 pairing on sill", "C1 eggs"])
def test_a_new_cup_and_what_it_is_for(story: Story, line: str) -> None:
    assert story.at("2029-08-03 08:37").type(line)[0].startswith("C1 set up for ")


def test_a_cup_closed_while_one_is_missing_says_so(story: Story) -> None:
    story.at("2029-08-03 08:37").type("R3 1 L4 Lycaena tityrus on sorrel", "R3 counted 0")
    assert "(1 still missing from it; " in story.later(hours=1).type("R3 closed")[0]
    story.type("R4 set up rearing")
    assert story.type("R4 closed") == ["R4 closed"]


def test_check_finds_what_the_screens_count(story: Story) -> None:
    """A colleague moved larvae out before a count that was typed without knowing of it."""
    bench = story.at("2029-08-03 08:37")
    bench.type("R1 20 L4 Lycaena tityrus on sorrel", "R2 set up rearing")
    other = bench.on_other_laptop()
    bench.at("2029-08-03 18:20").type("R1 counted 19", "R1 settled found 1", "R1 counted 20")
    bench.at("2029-08-03 18:10")
    other.type("R1 moved 8 to R2")
    bench.at("2029-08-03 19:00").reopen()
    unfit = len(bench.desk.bench.misfits)
    assert unfit < len(bench.desk.bench.oddities)
    checked = bench.shell("check").out
    found = checked.partition(" found:")[2]
    assert found.count("disagreement") == unfit
    assert checked.count("disagreement") == len(bench.desk.bench.oddities)
