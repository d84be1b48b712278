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


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("K6 2 eggs on acetosa, none scutatus", [2, 0]),
        ("K6 2 eggs on acetosa and 3 scutatus", [2, 3]),
        ("K6 5 eggs, 2 on acetosa, 3 rumex scutatus", [2, 3]),
    ],
)
def test_each_plant_has_its_eggs(story: Story, line: str, found: list[int]) -> None:
    story.at("2029-08-03 08:37").type(
        "K6 1 female Lycaena tityrus from Monte Bar on Rumex acetosa, Rumex scutatus", line
    )
    searches = [one for one in story.on_disk() if one["what"] == "searched"]
    assert [one.get("found", 0) for one in searches] == found
    assert [one["plant"] for one in searches] == ["Rumex acetosa", "Rumex scutatus"]


def test_the_instar_of_one_that_is_found_again(story: Story) -> None:
    story.at("2029-08-03 08:37").type("R3 12 L4 Lycaena tityrus on sorrel", "R3 counted 11")
    assert "'L3' does not fit" in story.refused("R3 settled found 1 L3")
    assert story.type("R3 settled found 1 L4") == ["R3 settled found, 1, larva"]
    assert [lot.number for lot in story.desk.bench.containers["R3"].lots] == [12]


def test_a_pair_seen_before_its_cup_stood(story: Story) -> None:
    story.at("2029-08-03 08:00").type("P1 6 pupae Smerinthus ocellatus")
    story.at("2029-08-03 22:00").type("P1 emerged 1 female, 1 male")
    story.at("2029-08-04 07:10").type("C1 pairing", "P1 moved 1 female, 1 male to C1")
    asked = story.refused("C1 paired yesterday 22:10")
    assert asked.endswith("say the cup in which they were seen, as: P1 paired 2029-08-03 22:10")
    assert story.type("P1 paired 2029-08-03 22:10")[0].startswith("P1 paired female SME-29-01")
