"""Words after ' -- ' are recorded with whatever the line says."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
shelf set up sill barrier=moat
brood GG taxon='Boloria inventa'
G2 set up rearing
G3 set up rearing
G4 set up laying shelf=sill
G5 set up emergence
G5 stocked 4 pupae GG
G3 stocked 8 L3 GG
G3 host in violet leaf
G4 founder W1 'Boloria inventa'
G4 host in violet leaf
G6 set up eggs
G6 stocked 9 eggs GG
permit P-1 eggs=100
"""
LINES = (
    "G2 closed", "G2 changed holding", "G2 set up rearing again", "G3 moved 2 to G2", "G3 split into G2 2", "G2 merged sources=G3",
    "G3 counted 8", "G3 counted 7", "G3 died 1 dry", "G3 escaped 1", "G3 missing 1", "G3 preserved 1 V2", "G3 moulted 2 to L4",
    "G6 hatched 3", "G3 pupated 2 sure", "G5 emerged 1 female", "G5 parasitoid 2", "G4 released 1 at heath", "G4 drank", "G4 refused",
    "G4 offered", "G4 searched 3", "G4 host seen limp", "G4 host out held", "G3 host in violet leaf", "sill barrier full",
    "room air 20", "G4 light shade", "G4 release by +2d", "G3 suspect limp", "G3 cleaned", "G3 misted",
    "hands washed", "taxon 'Boloria inventa' hairs", "brood GH taxon='Boloria inventa'", "G2 founder W9 'Boloria inventa'",
    "permit P-1 closed", "setting bell on", "shelf set up porch apart", "G4 paired W1 wild",
)  # fmt: skip


@pytest.mark.parametrize("line", LINES)
def test_a_note_goes_with_every_kind(story: Story, line: str) -> None:
    tell(story, BENCH)
    story.later(hours=4)
    if line.startswith("G2 set up"):
        story.type("G2 closed")
        line = "G2 set up rearing"
    before = len(story.on_disk())
    story.type(f"{line} -- cracked, see drawer")
    said = story.on_disk()[before:]
    notes = [one for one in said if one["what"] == "note"]
    assert len(notes) == 1
    assert str(notes[0]["text"]).endswith("cracked, see drawer")
    assert len(said) > 1


def test_several_closed_together_keep_their_note(story: Story) -> None:
    tell(story, "G2 G3 set up rearing\nG2 G3 closed -- cracked")
    notes = [one for one in story.on_disk() if one["what"] == "note"]
    assert not story.desk.bench.containers
    assert [one["text"] for one in notes] == ["cracked (G3 too)"]
    assert notes[0]["container"] == "G2"
