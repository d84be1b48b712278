"""Animals followed through the entries agree with the bench's own counts, whatever the entries are."""

from __future__ import annotations

from collections import Counter
from typing import Any

from hypothesis import example, given, settings
from hypothesis import strategies as st

from rounds.app.desk import Desk
from rounds.bench.movements import NOT_SEEN, stage_name
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.tallies.broods import balance
from rounds.tallies.cohorts import Course
from rounds.tallies.lifespans import female_lives
from rounds.tallies.pedigree import family_tree, inbreeding
from rounds.tallies.stages import causes, durations, stage_counts, survival_to_adult
from tests.added_up import tallies_of
from tests.bench.strategies import CODES, START, entries_of, histories
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import Clock
from tests.plain_fold import fold

STOCK_KINDS = [
    "FounderIntake", "BroodBegun", "Stocked", "Moved", "Split", "Merged", "Searched", "Counted", "Settled", "Hatched", "Moulted",
    "Pupated", "Emerged", "Died", "Escaped", "Missing", "Released", "Preserved", "SetUp", "Closed",
]  # fmt: skip


@st.composite
def stock_histories(draw: st.DrawFn) -> list[Entry]:
    """Entries about animals only, so that most of them change a number."""
    from rounds.entries import registry as kinds

    names = draw(st.lists(st.sampled_from(STOCK_KINDS), min_size=5, max_size=40))
    return [draw(entries_of(getattr(kinds, name), number)) for number, name in enumerate(names)]


def as_counted(
    found: Course,
) -> tuple[Counter[tuple[str, str, str]], Counter[tuple[str, str, str]]]:
    """Who is alive and who is not seen, by container, brood and stage."""
    alive: Counter[tuple[str, str, str]] = Counter()
    for cohort in found.alive:
        alive[cohort.stays[-1].container, cohort.brood, cohort.stage] += cohort.number
    not_seen: Counter[tuple[str, str, str]] = Counter()
    for cohort in found.not_seen:
        not_seen["", cohort.brood, cohort.stage] += cohort.number
    return alive, not_seen


@given(st.one_of(histories(most=40), stock_histories()))
@settings(max_examples=120, deadline=None)
def test_they_agree_with_the_bench_and_the_balance_balances(entries: list[Entry]) -> None:
    found, bench = tallies_of(entries).course, fold(entries)
    alive, not_seen = as_counted(found)
    by_bench: Counter[tuple[str, str, str]] = Counter()
    for container in bench.containers.values():
        for lot in container.lots:
            by_bench[container.code, lot.brood, stage_name(lot.stage, lot.instar)] += lot.number
    short: Counter[tuple[str, str, str]] = Counter()
    for one in bench.shortfalls:
        short["", one.brood, stage_name(one.stage, one.instar)] += one.number

    assert alive == by_bench
    assert not_seen == short
    for code in CODES:
        both = balance(found, [code])
        assert both.in_all == both.accounted, code


def lines(*told: tuple[type[Entry], dict[str, Any]]) -> list[Entry]:
    """Entries of one minute, in the order in which they stand."""
    return [
        kind(id=f"id{number:05d}", at=START, logged=START, container="A2", **said)
        for number, (kind, said) in enumerate(told)
    ]


A, B = CODES[1:]
# A founder under a brood's code, with an animal of the other: which of them was meant nobody knows.
ONE_OF_BOTH = lines(
    (k.FounderIntake, {"code": A, "taxon": "x", "stage": "larva"}),
    (k.Stocked, {"brood": B, "stage": "larva", "number": 1}),
    (k.Preserved, {"number": 1, "among": (A, B)}),
    (k.Escaped, {"number": 1, "among": (A, B)}),
)
# Of one of each that nobody could tell apart, both are said to be of the one brood.
MORE_OF_ONE_THAN_CAME = lines(
    (k.Stocked, {"brood": B, "stage": "larva", "number": 1, "instar": 2}),
    (k.Stocked, {"brood": A, "stage": "larva", "number": 1}),
    (k.Pupated, {"number": 1, "which": "not known", "among": (A, B)}),
    (k.Moved, {"to": "A3", "number": 2, "brood": B}),
)
# A larva of an instar that only a count tells.
INSTAR_TOLD_LATER = lines(
    (k.Stocked, {"brood": A, "stage": "larva", "number": 1}),
    (k.Counted, {"number": 1, "instar": 1, "method": "estimate"}),
)


@given(st.one_of(histories(most=40), stock_histories()))
@example(INSTAR_TOLD_LATER)
@example(ONE_OF_BOTH)
@example(MORE_OF_ONE_THAN_CAME)
@settings(max_examples=60, deadline=None)
def test_no_history_makes_the_tables_stumble(entries: list[Entry]) -> None:
    back = tallies_of(entries).look_back()
    found, warmth = back.course, back.warmth
    for broods in ([CODES[1]], CODES):
        for count in stage_counts(found, broods):
            gone = count.passed + count.died + count.left + count.kept
            assert count.entered == gone + count.not_seen + count.here + count.either, count
            assert count.either == 0 or broods != CODES, (
                "of all broods together nobody need tell one from another"
            )
            assert count.either == 0 or (count.is_unsure and count.came_through is None), count
        for one in durations(found, broods, warmth):
            assert one.least - 1e-9 <= one.mean <= one.most + 1e-9
        causes(found, broods)
        survival_to_adult(found, broods, START)
    female_lives(found, START)
    assert sorted(node.code for node in family_tree(found.bench)) == sorted(
        {*found.bench.broods, *found.bench.founders}
    )
    for mother in CODES:
        for father in CODES:
            related = inbreeding(found.bench, mother, father)
            assert 0 <= related.least <= related.most <= 1


def test_those_who_began_first_end_first_and_carry_when_they_were_laid(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN + "L2 host in violet leaf\nL2 searched 0")
    clock.on(days=1)
    tell(desk, clock, "L2 searched 4\nL2 moved 4 eggs to E3")
    clock.on(days=1)
    tell(desk, clock, "L2 searched 6\nL2 moved 6 eggs to E3")
    clock.on(days=3)
    tell(desk, clock, "E3 hatched 5")
    first, second = tallies_of(desk.entries(whole=True)).course.passages

    assert [(one.cohort.number, one.to) for one in (first, second)] == [(4, "L1"), (1, "L1")]
    assert (
        round((first.at - first.cohort.begun).total_seconds() / 86400, 1) == 4.5
    )  # laid in the day before the first search
    assert round((second.at - second.cohort.begun).total_seconds() / 86400, 1) == 3.5
    assert [stay.container for stay in first.cohort.stays] == ["L2", "E3"]
    assert first.cohort.stays[1].places == ("E3", "")


def test_what_was_not_seen_comes_back_with_its_past(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 10 eggs QUE-26-02/A\nE3 hatched 10\nE3 counted 8")
    short = tallies_of(desk.entries(whole=True)).course
    assert balance(short, ["QUE-26-02/A"]).became == {"alive": {"L1": 8}, NOT_SEEN: {"L1": 2}}
    clock.on(days=1)
    tell(desk, clock, "E3 counted 9")
    tell(desk, clock, "E3 settled dead 1")
    settled = tallies_of(desk.entries(whole=True)).course

    assert balance(settled, ["QUE-26-02/A"]).became == {"alive": {"L1": 9}, "died": {"L1": 1}}
    assert {
        cohort.hatched is None for cohort in settled.alive if cohort.brood == "QUE-26-02/A"
    } == {False}


def test_struck_lines_do_not_count(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 10 eggs QUE-26-02/A\nE3 died 3 eggs")
    desk.strike_last("another cup")

    assert balance(tallies_of(desk.entries(whole=True)).course, ["QUE-26-02/A"]).became == {
        "alive": {"egg": 10}
    }
