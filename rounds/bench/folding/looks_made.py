"""What the answers to a question found, by stage, hours since the last answer and plant, and how
long they took.

Kept on the bench as the entries go by, so that nobody reads the book again for it. Answers of one
place within half an hour are one look. How long an answer took is known in a round alone: from the
line before it, typed in the same round.
"""

from __future__ import annotations

from bisect import bisect_right
from datetime import datetime, timedelta

from rounds.bench.folding.rounds import round_of
from rounds.bench.folding.stage_completions import is_written_up
from rounds.bench.state import Bench, Container, Look, Looks, Round, Shelf
from rounds.entries.base import Entry

ONE_LOOK = timedelta(minutes=30)  # our estimate
# nobody needs longer for an answer: the keeper was away; our estimate
A_PAUSE = timedelta(minutes=15)
STEP_S = 10.0  # from one stop to the next; our estimate
# answers after about as many hours are alike: half a day, a day, two, more
SPANS_H = 9.0, 18.0, 30.0, 54.0
OF_PLANTS = frozenset({"host"})  # questions whose answers differ by plant
OF_EACH_FEMALE = frozenset({"drink"})


def stage_words(container: Container) -> str:
    """Of what stage those are whom a question is about most: adults where any is, else the most."""
    if container.count("adult"):
        return "adult"
    if not container.lots:
        return "kept stems" if container.held else ""
    most = max(container.lots, key=lambda lot: (lot.number, lot.instar))
    if most.stage != "larva" or not most.instar:
        return most.stage
    return "L1-L2" if most.instar < 3 else "L3-L4" if most.instar < 5 else "last instars"


def key_of(question: str, container: Container | None, hours: float) -> str:
    """Among which answers one is counted that is given so many hours after the last."""
    stage = stage_words(container) if container else ""
    host = container.oldest_cut if container and question in OF_PLANTS else None
    return f"{question}|{stage}|{bisect_right(SPANS_H, hours)}|{host.plant if host else ''}"


def count_answer(bench: Bench, entry: Entry) -> None:
    """Count an answer.

    Args:
        bench: as it stands before the entry.
    """
    place = _place(bench, entry)
    if place is None or is_written_up(entry):
        return
    before, unusual = place.answered.get(entry.answers), entry.unusual(bench)
    if before is not None and entry.at - before.at < ONE_LOOK:
        counts = bench.looks_made.get(before.key)
        if counts is not None and unusual and not before.found:
            counts.found += 1
        place.answered[entry.answers] = Look(before.at, before.key, before.found or unusual)
        return
    container = place if isinstance(place, Container) else None
    if before is None:
        place.answered[entry.answers] = Look(entry.at, "", unusual)
        _time(bench, entry, key_of(entry.answers, container, 0.0), container)
        return
    key = key_of(entry.answers, container, (entry.at - before.at) / timedelta(hours=1))
    counts = bench.looks_made.setdefault(key, Looks())
    counts.made += 1
    counts.found += unusual
    counts.first, counts.last = counts.first or entry.at, entry.at
    place.answered[entry.answers] = Look(entry.at, key, unusual)
    _time(bench, entry, key, container)


def _place(bench: Bench, entry: Entry) -> Container | Shelf | None:
    code = getattr(entry, "container", "")
    return bench.at(code) if code else bench.shelves.get(getattr(entry, "shelf", ""))


def _time(bench: Bench, entry: Entry, key: str, container: Container | None) -> None:
    walk = round_of(bench, entry.round) if entry.round else None
    took = _seconds(walk, entry) if walk is not None else None
    if took is None:
        return
    counts = bench.looks_made.setdefault(key, Looks())
    counts.timed += 1
    counts.seconds += took / max(
        1, container.females if container and entry.answers in OF_EACH_FEMALE else 1
    )


def _seconds(walk: Round, entry: Entry) -> float | None:
    """How long it took from the line before it in the round, without the way to another stop; None
    after a pause."""
    took: timedelta = entry.logged - (walk.spoken or entry.logged)
    if not timedelta(0) < took <= A_PAUSE:
        return None
    where = getattr(entry, "container", "") or getattr(entry, "shelf", "")
    is_next_stop = not walk.done or walk.done[-1][0] != where
    return max(1.0, took.total_seconds() - (STEP_S if is_next_stop else 0.0))


def seconds_made(bench: Bench, question: str) -> tuple[int, float]:
    """How many answers to a question were timed, and how many seconds they took in all."""
    result = [counts for key, counts in bench.looks_made.items() if key.startswith(f"{question}|")]
    return sum(looks.timed for looks in result), sum(one.seconds for one in result)


def since_last(bench: Bench, question: str, where: str, now: datetime) -> float | None:
    """How many hours ago a question was last answered at a place; None where it never was."""
    place = bench.at(where) or bench.shelves.get(where)
    last = place.answered.get(question) if place is not None else None
    return (now - last.at) / timedelta(hours=1) if last is not None else None
