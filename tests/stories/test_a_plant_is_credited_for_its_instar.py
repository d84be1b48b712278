"""A plant is credited with the moults and pupations of those that had it, not with all that came later."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_a_specimen_keeps_its_brood import table
from tests.stories.test_leaving_pins_and_permits import rows_of


def note_of(story: Story, folder: Path) -> str:
    """The note of the only brood."""
    (brood,) = story.desk.bench.broods
    story.reopen()
    ran = story.shell("export", "note", brood, str(folder / "n.md"))
    assert ran.status == 0, ran.err
    return (folder / "n.md").read_text()


def plants_told(story: Story, folder: Path) -> dict[str, dict[str, str]]:
    """The plants of each record of the archive by their grade, as it has them."""
    told: dict[str, dict[str, str]] = {}
    for row in rows_of(story, folder):
        for pair in filter(None, row["associatedTaxa"].split(" | ")):
            grade, plant = json.loads(
                f"[{pair.replace(chr(34) + ':' + chr(34), chr(34) + ',' + chr(34))}]"
            )
            told.setdefault(f"{row['lifeStage']} {row['eventDate'][:10]}", {})[plant] = grade
    return told


def begun(story: Story) -> None:
    tell(story, "R2 6 L2 'Lycaena vella' on Rumex")
    story.later(days=4)


def changed_after_a_moult(story: Story, *, moved: bool) -> None:
    """Six that had Rumex in L2 and Polygonum since."""
    begun(story)
    tell(story, "R2 moulted 6 to L3\nR2 host changed to Polygonum")
    if moved:
        story.later(days=1)
        tell(story, "R3 set up rearing\nR3 host in Polygonum leaf water\nR2 moved 6 L3 to R3")
    story.later(days=5)
    tell(story, f"{'R3' if moved else 'R2'} moulted 6 to L4")
    story.later(days=5)
    tell(story, f"{'R3' if moved else 'R2'} pupated 6")


@pytest.mark.parametrize("moved", [False, True])
def test_note_archive_and_events_tell_the_same_plants(
    story: Story, tmp_path: Path, moved: bool
) -> None:
    changed_after_a_moult(story, moved=moved)
    note = note_of(story, tmp_path)
    assert "fed on Rumex: 6 moults" in note
    assert "fed on Polygonum: 6 moults" in note
    assert "pupated, fed on Polygonum: 6 animals" in note
    assert "pupated, fed on Rumex" not in note
    assert "another plant beside it" not in note
    grades = [
        grade for plants in plants_told(story, tmp_path).values() for grade in plants.values()
    ]
    assert not [grade for grade in grades if "several" in grade]
    rows = table(story, tmp_path, "events")
    assert [(row["stage"], row["plant"]) for row in rows if row["fate"] == "went on"] == [
        ("L2", "Rumex"),
        ("L3", "Polygonum"),
        ("L4", "Polygonum"),
    ]


def test_both_are_told_where_both_stood_for_days(story: Story, tmp_path: Path) -> None:
    begun(story)
    tell(story, "R2 host changed to Polygonum, old looked over")
    story.later(days=2)
    tell(story, "R2 moulted 6 to L3")
    note = note_of(story, tmp_path)
    assert "fed on Rumex: 6 moults, some with another plant beside it" in note
    assert "fed on Polygonum: 6 moults, some with another plant beside it" in note


def test_a_plant_put_in_just_before_the_moult_was_seen_fed_none_of_it(
    story: Story, tmp_path: Path
) -> None:
    begun(story)
    tell(story, "R2 host changed to Polygonum, old looked over")
    story.later(minutes=2)
    tell(story, "R2 moulted 6 to L3")
    note = note_of(story, tmp_path)
    assert "fed on Rumex: 6 moults" in note
    assert "fed on Polygonum" not in note


def test_larvae_without_a_plant_as_they_pupate_had_the_one_before(
    story: Story, tmp_path: Path
) -> None:
    begun(story)
    tell(story, "R2 moulted 6 to L4")
    story.later(days=5)
    tell(story, "P2 set up for pupation\nR2 moved 6 L4 to P2")
    story.later(days=1)
    tell(story, "P2 pupated 6")
    story.later(days=10)
    tell(story, "P2 emerged 6")
    note = note_of(story, tmp_path)
    assert "pupated, fed on Rumex: 6 animals" in note
    assert "adult, fed on Rumex: 6 animals" in note
