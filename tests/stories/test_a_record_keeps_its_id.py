"""A founder whose name is known later stays the same record in the archive, so that no scheme keeps her twice."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_pins_and_permits import rows_of

CAUGHT = """
    K2 set up laying
    K2 founder W3 "Polyommatus sp." female place="Bank A" caught=2027-04-28
    """


def hers(story: Story, tmp_path: Path) -> dict[str, str]:
    """The one row of the catch of W3."""
    (row,) = [one for one in rows_of(story, tmp_path) if one["basisOfRecord"] == "HumanObservation"]
    return row


def test_her_name_is_bettered_in_one_line_and_again(story: Story, tmp_path: Path) -> None:
    tell(story, CAUGHT)
    before = hers(story, tmp_path)
    for name in ("Polyommatus icarus", "Polyommatus thersites"):
        story.later(days=2)
        tell(story, f"W3 is '{name}'")
        after = hers(story, tmp_path)
        assert after["scientificName"] == name
        assert (after["occurrenceID"], after["eventID"]) == (
            before["occurrenceID"],
            before["eventID"],
        )


@pytest.mark.parametrize("laid", [True, False])
def test_her_line_crossed_out_and_typed_again_by_hand(
    story: Story, tmp_path: Path, laid: bool
) -> None:
    tell(story, CAUGHT)
    before = hers(story, tmp_path)
    (line,) = [one["id"] for one in story.on_disk() if one["what"] == "founder"]
    story.later(days=2)
    if laid:
        tell(story, "K2 host in lotus leaf water\nK2 searched 8")
    story.desk.strike(line, "named better")
    caught = "" if laid else 'place="Bank A" caught=2027-04-28'
    tell(story, f'K2 founder W3 "Polyommatus icarus" female {caught}')
    after = hers(story, tmp_path)
    assert after["scientificName"] == "Polyommatus icarus"
    assert (after["occurrenceID"], after["eventID"]) == (before["occurrenceID"], before["eventID"])


def test_a_code_that_was_free_again_is_of_another_animal(story: Story, tmp_path: Path) -> None:
    tell(story, CAUGHT)
    before = hers(story, tmp_path)
    (line,) = [one["id"] for one in story.on_disk() if one["what"] == "founder"]
    story.desk.strike(line, "flew off before she was in the cup")
    story.later(days=2)
    tell(story, 'K2 founder W3 "Polyommatus icarus" female place="Bank B"')
    assert hers(story, tmp_path)["occurrenceID"] != before["occurrenceID"]


def test_no_two_records_have_one_id_when_the_old_line_is_brought_back(
    story: Story, tmp_path: Path
) -> None:
    tell(story, CAUGHT)
    story.later(days=2)
    tell(story, "W3 is 'Polyommatus icarus'")
    (struck,) = [one["id"] for one in story.on_disk() if one["what"] == "struck"]
    story.desk.strike(struck, "both")
    ids = [one["occurrenceID"] for one in rows_of(story, tmp_path)]
    assert len(ids) == len(set(ids))


def organisms(story: Story, tmp_path: Path) -> tuple[set[str], set[str]]:
    """The names of the animals and broods of the archive, and of all that they are offspring of."""
    rows = rows_of(story, tmp_path)
    named = {row["organismID"] for row in rows} - {""}
    return named, {row["associatedOrganisms"] for row in rows} - {""}


def test_an_animal_of_another_book_has_another_name_under_the_same_code(
    story: Story, tmp_path: Path
) -> None:
    other = story.elsewhere()
    for one in (story, other):
        tell(one, CAUGHT)
        one.later(days=2)
        tell(one, "K2 host in lotus leaf water\nK2 searched 8")
    first, second = organisms(story, tmp_path), organisms(other, tmp_path)
    assert len(first[0]) == len(second[0]) == 2
    assert first[0].isdisjoint(second[0])
    assert first[1]
    assert first[1].isdisjoint(second[1])
    story.later(days=3).type("K2 drank")
    assert organisms(story, tmp_path) == first
    assert organisms(story.on_other_laptop(), tmp_path) == first
