"""What was read on a cup once the brood had left it says nothing of the brood: neither in the note nor in its mean temperatures."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story
from tests.stories.test_leaving_note import note_of
from tests.stories.test_tables_with_a_column_each import table_of


def moved(story: Story) -> Story:
    """Larvae at 20 C go to another cup; then the empty one stands in the sun."""
    story.at("2027-05-01 07:00")
    story.type("R1 8 L3 'Aglais urticae' on Urtica dioica 5 stems", "R1 air 20 humidity=60")
    story.later(hours=10).type("R1 air 20 humidity=61")
    story.later(minutes=10).type("R1 moved all larvae to new R2", "R2 air 20 humidity=62")
    return story.later(hours=5)


def test_the_note_has_none_of_it(story: Story, tmp_path: Path) -> None:
    moved(story).type("R1 air 41 humidity=12", "R2 air 21 humidity=63")
    note = note_of(story, tmp_path, "AGL-27-01")
    assert "lowest 20 C, highest 21 C" in note
    assert "Humidity read: 60 to 63 %, 4 readings." in note


def test_nor_have_its_mean_temperatures(story: Story, tmp_path: Path) -> None:
    """In their fourth instar they were at 20 C throughout; the last hour in the first cup was not
    read until it stood in the sun."""
    story.at("2027-05-01 07:00")
    story.type("R1 8 L3 'Aglais urticae' on Urtica dioica 5 stems", "R1 air 20")
    story.later(days=2).type("R1 air 20", "R1 moulted 8 to L4")
    story.later(hours=8).type("R1 moved all larvae to new R2", "R2 air 20")
    story.later(hours=1).type("R1 air 41")
    for _ in range(4):
        story.later(hours=12).type("R2 air 20")
    story.type("R2 moulted 8 to L5")
    rows = table_of(story, tmp_path, "durations").set_index("stage")
    (column,) = [one for one in rows if one.startswith("mean temperature")]
    assert rows.loc["larva", column] == 20
