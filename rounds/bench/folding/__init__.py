"""The fold: one entry after another, in the order of when each happened, added to the bench."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import msgspec

from rounds.bench.folding.codes_given_twice import as_meant
from rounds.bench.folding.eating import note_eating
from rounds.bench.folding.female_days import accrue_female_days
from rounds.bench.folding.looks_made import count_answer
from rounds.bench.folding.rounds import in_round
from rounds.bench.folding.stage_completions import is_written_up, looked_at
from rounds.bench.state import MAX_CHANGES, Bench, Event
from rounds.entries.base import Entry


def effective_strikes(strikes: dict[str, str]) -> frozenset[str]:
    """The ids of all entries that do not count.

    A strike counts unless one that counts strikes it. Which of two ids is the greater says nothing,
    for others make ids of any form and clocks are set; only where strikes go round in a circle the
    greatest id counts
    first.

    Args:
        strikes: id of each strike, with the id of what it strikes.
    """
    out: set[str] = set()
    unsettled = Counter(
        target for strike, target in strikes.items() if target in strikes and target != strike
    )
    settled = [strike for strike in strikes if not unsettled[strike]]
    for strike in settled:  # it grows: a strike is settled once all that strike it are
        target = strikes[strike]
        if strike not in out and target != strike:
            out.add(target)
        unsettled[target] -= 1
        if target in strikes and target != strike and not unsettled[target]:
            settled.append(target)
    for strike in sorted(strikes.keys() - set(settled), reverse=True):
        if strike not in out:
            out.add(strikes[strike])
    return frozenset(out)


def effective_entries(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that were not struck, each once, in the order in which things happened."""
    known = sorted({entry.id: entry for entry in entries}.values(), key=lambda entry: entry.order)
    struck = effective_strikes({one.id: one.crosses_out for one in known if one.crosses_out})
    return [entry for entry in known if entry.id not in struck]


def strikes_that_turn(strikes: dict[str, str], entry_id: str) -> list[str]:
    """What must be crossed out, that crossing out an entry does what it says.

    A line that several crossed out is brought back only where all of them are; where several
    brought it back, it is crossed out again only where all of these are.

    Args:
        strikes: id of each strike, with the id of what it strikes.
        entry_id: of the entry that is crossed out.

    Returns:
        The ids; the entry's own alone where it is no strike, or counts no more.
    """
    chain = [entry_id]
    while chain[-1] in strikes and strikes[chain[-1]] not in chain:
        chain.append(strikes[chain[-1]])
    out = effective_strikes(strikes)
    if len(chain) == 1 or entry_id in out:
        return [entry_id]
    brings_back = len(chain) % 2 == 0
    if not brings_back and chain[-1] in out:
        return [entry_id]
    target = chain[-1] if brings_back else chain[1]
    standing = [one for one, of in strikes.items() if of == target and one not in out]
    then = effective_strikes(strikes | {f"{entry_id} {one}": one for one in standing})
    return standing if brings_back or chain[-1] in then else [chain[-1]]


def apply(bench: Bench, entry: Entry) -> list[Event]:
    """Add one entry that counts to the bench.

    Entries must come in the order of ``Entry.order``.
        Returns:
            Who stood with plants up to then, what the entry moved, and which kept stems are gone.
    """
    return apply_as_meant(bench, as_meant(bench, entry))


def apply_as_meant(bench: Bench, entry: Entry) -> list[Event]:
    """As ``apply``, of an entry with the codes by which the bench knows its animals."""
    bench.entries += 1
    bench.newest = entry.at
    bench.began = entry.logged if bench.began is None else min(bench.began, entry.logged)
    code: str = getattr(entry, "container", "")
    result: list[Event] = (
        accrue_female_days(bench, code, entry) if code and entry.changes_company else []
    )
    note_eating(bench, entry)
    counts_here = entry.counts_here(bench)
    if entry.answers and counts_here:
        count_answer(bench, entry)
    result += entry.effect(bench) or ()
    container = bench.containers.get(code) if code else None
    if container:
        if counts_here:
            container.last[entry.what] = entry
        if entry.gravity and getattr(entry, "found", 1):
            container.changes[entry.id] = entry
            if len(container.changes) > MAX_CHANGES:
                del container.changes[next(iter(container.changes))]
    if entry.is_look:
        for seen in filter(None, map(bench.containers.get, entry.containers)):
            looked_at(seen, entry.at)
    if entry.round:
        in_round(bench, entry, answers=counts_here)
    return result


def stands_for(entry: Entry, other: Entry) -> bool:
    """Whether the first of two different lines under one id counts, whichever of them was read
    first."""
    if entry.order != other.order:
        return entry.order < other.order
    return entry != other and msgspec.json.encode(entry) < msgspec.json.encode(other)


def says_the_same(entry: Entry, other: Entry) -> bool:
    """Whether two lines under one id say the same: of old records that two keepers wrote up, it is
    no matter who did so when."""
    if entry == other:
        return True
    alike = msgspec.structs.replace(
        other, logged=entry.logged, by=entry.by, part_of=entry.part_of, cups=entry.cups
    )
    return is_written_up(entry) and is_written_up(other) and entry == alike
