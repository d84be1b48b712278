"""Who descends from whom, and how inbred offspring would be, against textbook values and their range where parents are open.

Source of the textbook values: Falconer & Mackay 1996, Introduction to Quantitative Genetics, 4th ed., chapter 5, from memory:
full sibs 1/4, half sibs 1/8, parent with offspring 1/4, first cousins 1/16, double first cousins 1/8.
"""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk, Refusal
from rounds.bench.state import Bench
from rounds.shell.log import say_phrase
from rounds.tallies.pedigree import DEFAULT_LIMIT, family_tree, inbreeding, inbreeding_limit
from tests.bench.test_stories import tell
from tests.conftest import Clock

FOUNDERS = "L2 set up laying\n" + "\n".join(
    f"L2 founder {code} taxon='Boloria dia' {sex}"
    for code, sex in (
        ("F-2", "female"),
        ("F-3", "female"),
        ("F-4", "female"),
        ("M-2", "male"),
        ("M-3", "male"),
    )
)


@pytest.fixture
def bench(desk: Desk, clock: Clock) -> Bench:
    """Three mothers, two fathers, their broods, and broods of those."""
    return tell(
        desk,
        clock,
        FOUNDERS
        + """
        brood A-2 mothers=F-2 fathers=M-2
        brood B-2 mothers=F-3 fathers=M-2
        brood C-2 mothers=F-4 fathers=M-3
        brood D-2 mothers=A-2 fathers=C-2
        brood E-2 mothers=A-2 fathers=C-2
        brood W-2 mothers=F-4
        brood X-2 mothers=F-4
        brood Y-2 mothers=F-2,F-3
        brood N-2 taxon='Boloria dia'
        brood G-2 mothers=A-2 fathers=A-2
        brood H-2 mothers=F-2 fathers=M-2,wild
        brood I-2 mothers=H-2 fathers=H-2
        brood J-2 mothers=A-2 fathers=M-3,wild
        """,
    )


@pytest.mark.parametrize(
    ("mother", "father", "least", "most"),
    [
        ("A-2", "A-2", 0.25, 0.25),  # full sibs
        ("A-2", "B-2", 0.125, 0.125),  # half sibs, one father
        ("F-2", "A-2", 0.25, 0.25),  # parent with offspring
        ("A-2", "C-2", 0.0, 0.0),  # unrelated
        (
            "D-2",
            "E-2",
            0.125,
            0.125,
        ),  # double first cousins: their parents are brothers and sisters on both sides
        ("N-2", "N-2", 0.25, 0.25),  # a brood of unknown parents is still brothers and sisters
        ("N-2", "A-2", 0.0, 0.0),
        ("W-2", "X-2", 0.125, 0.25),  # one mother, mated in the wild: by one male or by two
        ("W-2", "W-2", 0.25, 0.25),
        ("Y-2", "Y-2", 0.0, 0.25),  # of one mother, or of two that are unrelated
        ("Y-2", "F-2", 0.0, 0.25),
        ("G-2", "G-2", 0.375, 0.375),  # full sibs two generations running: Wright 1921
        ("F-2", "M-2", 0.0, 0.0),
        ("H-2", "H-2", 0.125, 0.25),
        # of full or half sibs: (1/2 + 1/2 + 2 f) / 4 with f 1/8 or 1/4
        ("I-2", "I-2", 0.3125, 0.375),
        ("J-2", "J-2", 0.125, 0.25),  # half sibs by one mother, a sister of others
    ],
)
def test_inbreeding_is_the_textbooks(
    bench: Bench, mother: str, father: str, least: float, most: float
) -> None:
    found = inbreeding(bench, mother, father)

    assert (found.least, found.most) == pytest.approx((least, most))
    assert found.sure == (least == most)
    assert bool(found.why) == (least != most)


def test_it_says_what_the_doubt_is(bench: Bench) -> None:
    assert (
        inbreeding(bench, "Y-2", "Y-2").why == "depends on which of F-2, F-3 is the mother in Y-2"
    )
    assert (
        inbreeding(bench, "W-2", "X-2").why
        == "depends on whether the same unknown male fathered both broods"
    )


def test_the_tree_has_each_code_once_under_its_first_parent(bench: Bench) -> None:
    told = [
        f"{'  ' * len(node.last)}{node.code}{' x ' + ' '.join(node.beside) if node.beside else ''}"
        for node in family_tree(bench)
    ]

    assert told == [
        "F-2", "  A-2 x M-2", "    D-2 x C-2", "    E-2 x C-2", "    G-2", "    J-2 x M-3", "  H-2 x M-2", "    I-2", "  Y-2 x F-3", "F-3", "  B-2 x M-2", "F-4", "  C-2 x M-3", "  W-2", "  X-2",
        "M-2", "M-3", "N-2",
    ]  # fmt: skip


def test_the_limit_is_the_keepers_else_the_default_and_says_which(desk: Desk, clock: Clock) -> None:
    assert inbreeding_limit(desk.bench) == (DEFAULT_LIMIT, False)
    tell(desk, clock, "setting inbreeding 0.0625")
    assert inbreeding_limit(desk.bench) == (0.0625, True)
    for nonsense in ("much", "7", "nan"):
        refused = say_phrase(desk, f"setting inbreeding {nonsense}")
        assert isinstance(refused, Refusal)
        desk.bench.settings["inbreeding"] = nonsense  # as an older book may have it
        assert inbreeding_limit(desk.bench) == (DEFAULT_LIMIT, False)


def test_a_planned_pairing_stands_until_they_are_seen_coupled(
    desk: Desk, clock: Clock, bench: Bench
) -> None:
    tell(
        desk,
        clock,
        "pairing planned A-2 with A-2 -- none others left\npairing planned A-2 with C-2\npairing planned A-2 with C-2",
    )
    assert [(one.female, one.male, one.why) for one in desk.bench.planned] == [
        ("A-2", "A-2", "none others left"),
        ("A-2", "C-2", ""),
    ]
    tell(desk, clock, "L2 paired A-2 with C-2 sure")
    assert [(one.female, one.male) for one in desk.bench.planned] == [("A-2", "A-2")]
    refused = say_phrase(desk, "pairing planned A-2 with Q")
    assert isinstance(refused, Refusal)
    assert "no brood is called Q" in refused.line
    del bench


def test_a_brood_among_its_own_forebears_is_said(bench: Bench) -> None:
    bench.broods["A-2"] = bench.broods["D-2"]
    bench.broods["D-2"] = bench.broods["E-2"]

    assert "its own ancestors" in inbreeding(bench, "A-2", "D-2").why
    assert {node.code for node in family_tree(bench)} >= {"A-2", "D-2"}


def test_founders_are_unrelated_unless_it_was_said(desk: Desk, clock: Clock, bench: Bench) -> None:
    assert inbreeding(bench, "F-2", "M-3").most == 0
    after = tell(desk, clock, "related F-2 with M-3 full sibs\nrelated F-2 with F-3 half sibs")
    assert inbreeding(after, "F-2", "M-3").most == 0.25
    # Their young: A-2 is F-2's by M-2, C-2 is F-4's by M-3, F-2's brother: first cousins.
    assert inbreeding(after, "A-2", "C-2").most == 0.0625
    # A-2 and B-2 share their father, and their mothers are half sisters: (1/2 + 1/8) / 4.
    assert inbreeding(after, "A-2", "B-2").most == 0.15625
    again = tell(desk, clock, "related M-3 with F-2 unrelated")
    assert inbreeding(again, "A-2", "C-2").most == 0
    for typed, why in (
        ("related A-2 with F-2", "is a brood"),
        ("related F-2 with F-2", "two founders"),
        ("related F-2 with Q", "no founder"),
    ):
        refused = say_phrase(desk, typed)
        assert isinstance(refused, Refusal)
        assert why in refused.line
