"""Young larvae seen at one lot of the kept stems in the laying cup, where eggs are on record too."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def cup(story: Story) -> Story:
    """A laying cup with two lots of kept stems, and five eggs found on the violet in use."""
    story.at("2027-05-10 08:00").type("K5 1 female Boloria dia on violet")
    story.at("2027-05-12 08:00").type("K5 host changed violet")
    story.at("2027-05-14 08:00").type("K5 host changed violet")
    story.at("2027-05-16 08:00").type("K5 searched 5")
    return story.at("2027-05-22 08:00")


@pytest.mark.parametrize(
    ("line", "number"),
    [
        ("K5 3 larvae lot 1", 3),
        ("K5 hatched 1 lot 1", 1),
        ("K5 hatched 1 from lot 1", 1),
        ("K5 1 hatched on lot=1", 1),
        ("K5 lot 1: 2 larvae", 2),
        ("K5 lot 1 hatched 2", 2),
        ("K5 two young larvae on kept lot 1 at 7:40", 2),
    ],
)
def test_they_are_of_eggs_that_nobody_found(cup: Story, line: str, number: int) -> None:
    first, second = (held.lot for held in cup.desk.bench.at("K5").held)
    cup.type(line)
    here = cup.desk.bench.at("K5")
    assert (here.count("larva"), here.count("egg")) == (number, 5), "those in use hatch later"
    seen = cup.on_disk()[-1]
    assert (seen["what"], seen["lots"], second) == ("hatched", [first], here.held[1].lot)


def test_eggs_that_were_found_on_that_lot_hatch_first(cup: Story) -> None:
    cup.type("K5 searched 2 lot 1", "K5 3 larvae lot 1")
    here = cup.desk.bench.at("K5")
    assert (here.count("larva"), here.count("egg")) == (3, 5)
    hidden = [line for line in cup.on_disk() if line["what"] == "stocked"]
    assert [line["number"] for line in hidden] == [1]


def test_on_which_of_several_is_asked_with_a_line_that_works(cup: Story) -> None:
    assert "K5 3 larvae lot 1" in cup.refused("K5 3 larvae on kept stems")
    cup.type("K5 frass trace", "K5 3 larvae on the old stems")
    assert cup.desk.bench.at("K5").count("larva") == 3
    assert cup.desk.bench.at("K5").count("egg") == 5


def test_a_lot_that_is_not_there_is_said(cup: Story) -> None:
    assert "no lot 4 is kept in K5; there are: 1, 2" in cup.refused("K5 3 larvae lot 4")


def test_those_on_record_or_more_of_them(cup: Story) -> None:
    cup.type("K5 3 larvae lot 1")
    asked = cup.refused("K5 2 larvae lot 2")
    assert "K5 2 more larvae lot 2" in asked
    assert "K5 counted 2 larvae" in asked
    cup.type("K5 2 more larvae lot 2")
    assert cup.desk.bench.at("K5").count("larva") == 5


async def test_frass_under_old_stems_is_not_blamed_on_eggs_in_use(cup: Story) -> None:
    cup.type("K5 frass trace lot=1")
    async with cup.screens() as screen:
        await screen.press("r")
        await screen.walk_to("turn", "K5")
        assert "eggs on record" not in screen.text
