"""A keeper who knows better gives a date for any change; it holds until the change has come."""

from __future__ import annotations

from typing import Any

from tests.stories.telling import Story, tell

EGGS = """
room air 20C
brood A-1 taxon='Pieris orata'
E1 set up eggs
E1 stocked 12 eggs A-1
"""


def coming(story: Story, code: str, change: str) -> Any:
    container = story.desk.bench.containers[code]
    return next(
        (one for one in story.desk.foresight.coming(container) if one.change == change), None
    )


def day(at: Any) -> str:
    return f"{at:%m-%d}"


async def test_a_date_for_hatching_goes_before_the_one_reckoned(story: Story) -> None:
    tell(story, EGGS)
    reckoned = coming(story, "E1", "hatch").half
    story.type(
        "E1 expected hatch on 2027-05-20 until 2027-05-22 why='they hatched on the 21st last year'"
    )
    own = coming(story, "E1", "hatch")
    assert own.half != reckoned
    assert day(own.last) == "05-22"
    async with story.screens(size=(140, 50)) as screen:
        await screen.press(".", "right", "right", "w")
        text = " ".join(screen.text.split())
    assert "the keeper's own date, given by KM: they hatched on the 21st last year" in text
    leaf = [one for one in story.desk.dues() if one.check == "leaf" and one.where == "E1"]
    assert leaf
    assert leaf[0].due <= own.first  # the leaf is in before it
    first = own.first.astimezone(story.desk.zone)
    assert f"{first:%m-%d %H:%M}" == "05-20 00:00"  # as a day alone is said, which begins at night


def test_a_resting_pupa_has_the_keepers_date_and_no_other(story: Story) -> None:
    tell(story, "brood A-1 taxon='Pieris orata'\nP1 set up overwintering\nP1 stocked 5 pupae A-1")
    assert coming(story, "P1", "emergence") is None
    story.type("P1 expected emergence on 2028-04-20")
    assert day(coming(story, "P1", "emergence").half) == "04-20"


def test_it_ends_when_the_change_has_come(story: Story) -> None:
    tell(
        story,
        "room air 20C\nbrood A-1 taxon='Pieris orata'\nR1 set up rearing\nR1 stocked 4 L2 A-1",
    )
    story.type("R1 expected moult on 2027-05-09")
    assert coming(story, "R1", "moult").own
    story.later(days=3).type("R1 moulted 4 to L3")
    assert not coming(story, "R1", "moult").own


def test_what_cannot_be_is_refused(story: Story) -> None:
    tell(story, EGGS)
    assert "no pupae of any brood are in E1" in story.refused("E1 expected emergence on 2027-06-01")
    assert "before the first" in story.refused("E1 expected hatch on 2027-06-03 until 2027-06-01")


def test_eggs_of_any_species_have_a_date(story: Story) -> None:
    tell(
        story,
        "room air 20C\nbrood X-1 taxon='Fictus nullus'\nE2 set up eggs\nE2 stocked 9 eggs X-1",
    )
    found = coming(story, "E2", "hatch")
    assert found.half is not None
    assert "a guess from" in found.need.words
