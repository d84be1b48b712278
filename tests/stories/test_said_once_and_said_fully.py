"""A field is said once, a cause is one of those that there are, one permit and one number a specimen: else it is asked."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
permit P-1 females=3
permit P-2 females=4
K2 set up laying
K2 founder W1, 'Pieris orata' female
K2 host in cress
E3 set up eggs
brood A-1/A taxon='Pieris orata'
E3 stocked 12 eggs A-1/A
R3 set up rearing
R3 stocked 6 L2 A-1/A
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story, BENCH)
    return story


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("K2 founder W2, 'Pieris orata' female permit=P-1 permit=P-2", "permit was given twice"),
        ("E3 preserved 1 egg voucher=V1 voucher=V3", "voucher was given twice"),
        ("E3 died 1 egg cause=dry cause=mould", "cause was given twice"),
        ("R3 moulted 2 number=3", "number was given twice: 2 and 3; give one"),
        ("plan mist every 6h every_h=8", "every_h was given twice: 6 and 8; give one"),
        ("taxon 'Pieris orata' grid_degrees=0.5 grid=0.1", "twice: 0.5 and 0.1; give one"),
        ("taxon 'Pieris orata' protected protected=no", "protected was given twice: yes and no"),
        ("taxon 'Pieris orata' protected=no protected", "protected was given twice: no and yes"),
        ("permit P-3 females=3 expires=2027-09-30 expires=2027-10-30", "expires was given twice"),
        ("K2 founder W3 'Pieris orata' female caught=2026-05-01 caught=2026-05-11", "given twice"),
        ("setting phone=123 phone=456", "setting phone=123; then setting phone=456"),
        ("setting latitude=50.1 longitude=7", "setting latitude=50.1; then setting longitude=7"),
        ("taxon 'Pieris orata' hairs hairs=no", "stinging was given twice: yes and no"),
        ("taxon 'Pieris orata' no_adult_food no_adult_food=no", "no_adult_food was given twice"),
        ("plant nettle irritant irritant=no", "irritant was given twice: yes and no"),
        ("E3 preserved 2 eggs voucher=V5,V5", "V5 is given to two of them"),
        ("permit P-1, P-2 expires 8 Oct", "one permit a line"),
        ("permit P-1 P-2 expires 8 Oct", "one permit a line"),
    ],
)
def test_what_is_given_twice_is_asked(bench: Story, line: str, asked: str) -> None:
    assert asked in bench.refused(line)


def test_a_number_given_again_is_asked(bench: Story) -> None:
    bench.type("E3 preserved 1 egg voucher=V1")
    assert "v1 is the number of a specimen from E3" in bench.refused("E3 preserved 1 egg v1")


@pytest.mark.parametrize(
    ("line", "cause"),
    [
        ('E3 died 1 egg cause="dry"', "dry"),
        ('E3 died 1 egg cause="disease suspected"', "disease suspected"),
        ("E3 died 1 egg cause=not known", "unknown"),
        ('E3 died 1 egg cause="not known"', "unknown"),
        ("E3 died 1 egg, cause not known", "unknown"),
        ("R3 died 1 larva L2, injury", "injury"),
        ("R3 died 1 larva L2, cause not known", "unknown"),
    ],
)
def test_a_cause_in_any_of_its_forms(bench: Story, line: str, cause: str) -> None:
    bench.type(line)
    assert bench.on_disk()[-1]["cause"] == cause


@pytest.mark.parametrize("cause", ["flood", '"flood"', "'eaten by mice'"])
def test_a_cause_that_is_none_is_refused_with_those_that_there_are(
    bench: Story, cause: str
) -> None:
    refusal = bench.refused(f"E3 died 1 egg cause={cause}")
    assert "\n" not in refusal
    assert "it can be ants, cold" in refusal
    assert refusal.endswith("unhatched, unknown")


def test_one_not_known_which_has_no_cause(bench: Story) -> None:
    bench.type("K2 founder W2, 'Pieris orata' female", "K2 died 1 not known")
    died = bench.on_disk()[-1]
    assert (died["which"], died.get("cause", "")) == ("not known", "")


@pytest.mark.parametrize(
    "line", ["K2 searched 0 unsure", "K2 searched 0 eggs unsure", "K2 0 eggs unsure"]
)
def test_none_unsure_is_none_found(bench: Story, line: str) -> None:
    bench.later(days=1).type(line)
    searched = bench.on_disk()[-1]
    assert (searched["what"], searched["found"], searched.get("unsure", 0)) == ("searched", 0, 0)


@pytest.mark.parametrize(
    ("line", "lines"),
    [
        ("room 18/31 22/24", "room air 18/31; then room air 22/24"),
        ("sill 3/12 5/9", "sill air 3/12; then sill air 5/9"),
        ("K2 air 20/30 22/23", "K2 air 20/30; then K2 air 22/23"),
        ("room 22/24 low=15", "room air 22/24; then room air low=15"),
        ("room 22 to 31, 23 to 24", "room air 22 to 31; then room air 23 to 24"),
        ("room min 15 min 17", "room air min 15; then room air min 17"),
        ("room 22C 24C", "room air 22C; then room air 24C"),
        ("room 70F 75F", "room air 70F; then room air 75F"),
        ("room 45% 50%", "room air 45%; then room air 50%"),
        ("room 21.4C temperature=24", "room air 21.4C; then room air temperature=24"),
        ("K2 in the sun 34 C 36 C", "K2 in the sun 34 C; then K2 air 36 C"),
    ],
)
def test_a_second_reading_does_not_replace_the_first(bench: Story, line: str, lines: str) -> None:
    tell(bench, "shelf set up sill")
    assert f"one reading a line: {lines}" in bench.refused(line)
    for one in lines.split("; then "):
        bench.type(f"{one} sure" if "sun" not in one else one)


def test_a_lowest_without_a_highest_is_told(bench: Story) -> None:
    assert bench.type("room air low=15") == ["room air lowest 15 C"]
