"""Two broods in one cup: a count, and what became of the missing, may be said although nobody knows of which of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

CUP = """
brood A taxon='Pieris orata'
brood B taxon='Pieris orata'
R4 set up rearing
R4 stocked 6 larvae L2 A
R4 stocked 6 larvae L2 B
"""


@pytest.fixture
def cup(story: Story) -> Story:
    """Six larvae of each of two broods, a day later."""
    tell(story, CUP)
    return story.later(days=1)


def lots(story: Story) -> list[tuple[str, int]]:
    """Which broods are in the cup, and how many of each."""
    return [(lot.brood, lot.number) for lot in story.desk.bench.containers["R4"].lots]


def missing(story: Story) -> list[tuple[str, int]]:
    """Of which broods how many are missing."""
    return [(one.brood, one.number) for one in story.desk.bench.shortfalls]


def test_fewer_than_on_record_are_missing_of_either(cup: Story) -> None:
    assert "say which were counted" in cup.refused("R4 counted 5")
    told = cup.type("R4 counted 5 not known")[0]
    assert "7 fewer than on record" in told
    assert "not known which" in told
    assert lots(cup) == [("A or B", 5)]
    assert missing(cup) == [("A or B", 7)]
    cup.reopen()
    assert lots(cup) == [("A or B", 5)]


def test_as_many_as_on_record_stay_what_they_are(cup: Story) -> None:
    cup.type("R4 counted 12 not known")
    assert lots(cup) == [("A", 6), ("B", 6)]


def test_more_than_on_record_are_of_either(cup: Story) -> None:
    cup.type("R4 counted 13 not known")
    assert lots(cup) == [("A or B", 13)]


def test_of_several_missing_it_is_not_known_which_died(cup: Story) -> None:
    cup.type("R4 missing 2 A", "R4 missing 3 B")
    assert "brood=A, brood=B or not known" in cup.refused("R4 settled dead 1")
    told = cup.later(days=1).type("R4 settled dead 1 not known")[0]
    assert "1 of A or B dead, not known which" in told
    assert sum(number for _, number in missing(cup)) == 4
    assert {brood for brood, _ in missing(cup)} == {"A or B"}
    cup.type("R4 settled found 4")
    assert missing(cup) == []
    assert lots(cup) == [("A", 4), ("A or B", 4), ("B", 3)]


def test_one_that_was_missing_and_found_may_be_of_either(cup: Story) -> None:
    cup.type("R4 missing 2 A", "R4 missing 3 B", "R4 settled found 1 not known")
    assert lots(cup) == [("A", 4), ("A or B", 1), ("B", 3)]


def test_a_missing_one_found_dead_may_be_of_either(cup: Story) -> None:
    cup.type("R4 missing 2 A", "R4 missing 3 B", "R4 died 1 missing not known")
    assert sum(number for _, number in missing(cup)) == 4
    assert lots(cup) == [("A", 4), ("B", 3)]


async def test_the_page_of_the_broods_balances(cup: Story, tmp_path: Path) -> None:
    cup.type("R4 counted 5 not known", "R4 settled dead 2 not known")
    cup.reopen()
    ran = cup.shell("export", "csv", str(tmp_path / "all.zip"))
    assert ran.status == 0, ran.err
    assert cup.shell("check").status == 0
    async with cup.screens((120, 40)) as screen:
        await screen.press("z")
        assert "A" in screen.text
