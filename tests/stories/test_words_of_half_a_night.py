"""What a keeper types half awake, read by rules: who did it, what was done with the plant, and words that say only how."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    shelf set up sill barrier=moat
    K1 set up laying shelf=sill
    K1 founder W1 Melitaea cinxia female
    K1 founder W2 Melitaea cinxia female
    K1 host in ribwort leaf 3 stems water
    K2 set up laying shelf=sill
    K2 founder W3 Melitaea cinxia female
    K2 host in speedwell leaf 2 stems water
    K2 host out held
    K2 host in speedwell leaf 2 stems water
    E1 set up eggs shelf=sill
    E1 12 eggs Melitaea cinxia
    R1 set up rearing shelf=sill
    R1 8 L3 larvae Melitaea cinxia
    R1 host in ribwort leaf 3 stems water
    R2 set up rearing
    R2 5 L5 larvae Melitaea cinxia
    S3 set up rearing
    S3 1 L2 larva Melitaea cinxia
    P1 set up pupation
    P1 6 pupae Melitaea cinxia
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-06-01 07:05"), BENCH)
    return story.later(hours=5)


READ = {
    # who drank, and who would not
    "K1 neither drank": "K1 refused",
    "K1 neither of them fed": "K1 refused",
    "K2 would not feed": "K2 refused",
    "K2 not interested": "K2 refused",
    "K1 W2 still not drinking": "K1 refused 1, female W2",
    "K1 only W1 drank": "K1 drank, W1",
    "K1 W1 drank, W2 did not": "K1 drank, W1; K1 refused 1, female W2",
    "K1 W1 drank a lot, W2 nothing": "K1 drank, W1; K1 refused 1, female W2; K1 note 'a lot'",
    "K1 both fed well": "K1 drank, 2; K1 note 'well'",
    "K2 fed from a pin": "K2 drank; K2 note 'from a pin'",
    "K2 sipped": "K2 drank",
    "K2 honey changed": "K2 feeder changed honey",
    "K2 new sugar water": "K2 feeder changed sugar water",
    # a death that begins with how it was met
    "R1 found 1 drowned": "R1 died 1 larva, drowned",
    "R1 found 2 squashed": "R1 died 2 larvae, injury",
    # how they looked
    "R1 1 dead, black and soft": "R1 died 1 larva; R1 note 'black and soft'",
    "R1 1 dead dry": "R1 died 1 larva, dry",
    "P1 1 fem out wings ok": "P1 emerged 1, female (1 of 6); P1 note 'wings ok'",
    # the plant that stands there, and what was done with it
    "R1 leaf put in": "R1 host in: ribwort leaf, batch A",
    "R1 added leaf": "R1 host in: ribwort leaf, batch A",
    "R1 new leaf from the garden": "R1 host in: ribwort leaf, batch A, the garden",
    "R1 host in ribwort leaf water 1": "R1 host in: ribwort leaf, batch A, 1 stem",
    "R1 leaves added, 4 stems": "R1 host in: ribwort leaves, batch A, 4 stems",
    "R1 food new, 5 stems": "R1 host in: ribwort leaf, batch A, 5 stems",
    "R1 2 more stems": "R1 host in: ribwort leaf, batch A, 2 stems",
    "R1 3 stems added": "R1 host in: ribwort leaf, batch A, 3 stems",
    "R1 more food": "R1 host in: ribwort leaf, batch A",
    "R1 given ribwort": "R1 host in: ribwort, batch A",
    "R1 old stems thrown away": "R1 host out: ribwort A, discarded, 3 stems",
    # how it looks
    "R1 leaf dry": "R1 host limp",
    "R1 plant wilting": "R1 host limp",
    "R1 leaves ok": "R1 host fresh",
    "R1 stems still fresh": "R1 host fresh",
    "R1 still enough": "R1 host seen, plenty left",
    "R1 nothing left to eat": "R1 host seen, none left",
    # eggs
    "K1 still no eggs": "K1 searched, none found, naked eye",
    "E1 egg batch 12": "E1 counted 12 eggs; E1 note 'batch'",
    "E1 3 out of the egg": "E1 hatched 3",
    "E1 all but 2 hatched": "E1 hatched 10",
    "R1 all but one L4": "R1 moulted 7 to L4",
    "E1 all out": "E1 hatched 12",
    "E1 eggs darker": "E1 looked, darkening",
    # larvae and pupae
    "R2 died 1 prepupa": "R2 died 1 larva",
    "R2 one prepupa dead": "R2 died 1 larva",
    "R2 1 prepupa": "R2 looked, 1 hanging up",
    "R2 1 hanging from the lid": "R2 looked, 1 hanging up; R2 note 'from the lid'",
    "R2 one has pupated": "R2 pupated 1 (1 of 5)",
    "R1 1 died in moult": "R1 died 1 larva, moult",
    "R1 2 found dead under the stem": "R1 died 2 larvae; R1 note 'under the stem'",
    "R1 3 in moult": "R1 looked, 3 not moving",
    "R1 1 squashed by the lid": "R1 died 1 larva, injury; R1 note 'by the lid'",
    "R1 all alive": "R1 looked, as usual",
    "P1 6 chrysalises": "P1 counted 6 pupae",
    # ants and light
    "K1 an ant above the water": "shelf sill barrier breached, 1 ant above",
    "K1 ant above water": "shelf sill barrier breached, 1 ant above",
    "K1 bridged by a leaf": "shelf sill barrier bridged; K1 note 'by a leaf'",
    "sill moat nearly dry": "shelf sill barrier low",
    "K1 out of the sun": "K1 into shade",
}


@pytest.mark.parametrize(("line", "told"), READ.items())
def test_it_is_read(bench: Story, line: str, told: str) -> None:
    assert bench.type(line) == [told]


def test_so_many_left_is_a_count(bench: Story) -> None:
    assert bench.type("R1 only 7 left")[0].startswith("R1 counted 7 larvae (1 fewer")


@pytest.mark.parametrize("line", ["K2 eggs 3, unsure 1", "K2 3 eggs, 1 unsure"])
def test_those_unsure_stand_beside_those_found(bench: Story, line: str) -> None:
    bench.type(line)
    assert (bench.on_disk()[-1]["found"], bench.on_disk()[-1]["unsure"]) == (3, 1)


def test_a_note_keeps_its_little_words(bench: Story) -> None:
    bench.type("R1 note only a test")
    assert bench.on_disk()[-1]["text"] == "only a test"


ASKED = {
    "S3 leaf put in": "which plant? As: S3 host in ribwort leaf 3 stems",
    "K2 old stems out": "which are out? As: K2 host out speedwell; K2 kept stems binned",
    "R1 old leaf taken out": "which are out? As: R1 host out ribwort; or as a note",
    "R1 fresh leaves 3": "3 leaves, or 3 stems? As: R1 host in ribwort leaf -- 3 leaves; R1 host in",
    "R1 3 new leaves": "3 leaves, or 3 stems?",
    "R1 leaves in 3": "3 leaves, or 3 stems?",
    "R1 leaves changed, 3": "As: R1 host changed ribwort -- 3 leaves; R1 host changed ribwort 3 stems",
    "R1 host in 3 buds of speedwell": "R1 host in speedwell bud -- 3 buds",
    "R1 1 fresh leaf": "1 leaf, or 1 stem?",
    # what a refusal says would be right can be
    "K1 searched half only": "how many eggs? As: K1 searched 0 -- half only; K1 6 eggs",
    "E1 2 gone mouldy": "dead of it, or are they there still? As: E1 died 2 mould",
    "K2 moved to": "to which container? As: K2 moved all to K1",
    "R1 moved 3 to": "to which container? As: R1 moved 3 to K1",
    "R1 cooler": "how warm, or what was done? As: R1 air 31C",
    "room hot": "how warm, or what was done? As: room air 31C",
    "R1 cup changed": "As: R1 cleaned; R1 moved all to new Z9",
    "K2 lot 1 frass": "how much? As: K2 frass trace lot=1",
    "R2 wasp cocoons": "out of one that stands there, or an intruder? As: R2 parasitoid 1",
    "R1 not feeding": "R1 not moving; R1 suspect not eating",
    "R1 3 died in R2": "'in' does not fit 'died'",
}


@pytest.mark.parametrize(("line", "asked"), ASKED.items())
def test_what_is_not_clear_is_asked(bench: Story, line: str, asked: str) -> None:
    assert asked in bench.refused(line)


@pytest.mark.parametrize(
    ("line", "aid"),
    [
        ("K1 5 eggs seen", "naked eye"),
        ("K1 eggs seen 5", "naked eye"),
        ("K1 5 eggs seen by eye", "naked eye"),
        ("K1 5 seen eye", "naked eye"),
        ("K1 5 seen by lens", "lens"),
    ],
)
def test_eggs_seen_where_they_are_searched_for_are_found(bench: Story, line: str, aid: str) -> None:
    assert f"K1 searched, 5 found, {aid}" in bench.type(line)[0]


@pytest.mark.parametrize("line", ["search kept K2 0", "K2 search kept 0", "K2 searched 0 kept"])
def test_a_search_of_the_kept_is_of_the_kept_stems(bench: Story, line: str) -> None:
    assert bench.type(line)[0].startswith("K2 searched, none found, naked eye, lot K2 ")


def test_eggs_that_are_gone_did_not_escape(bench: Story) -> None:
    asked = bench.refused("E1 2 gone")
    assert "E1 died 2" in asked
    assert "escaped" not in asked


def test_a_letter_is_the_sex_of_one_that_is_moved(bench: Story) -> None:
    assert "female" in bench.preview("K2 f to K1")


def test_one_more_that_died_is_no_count(bench: Story) -> None:
    bench.type("R1 1 larva dead", "R1 1 more larva dead")
    assert bench.desk.bench.containers["R1"].count("larva") == 6
