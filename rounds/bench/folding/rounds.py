"""Rounds: what an entry that is said in one answers."""

from __future__ import annotations

from rounds.bench.state import Bench, Round
from rounds.entries.base import Entry


def round_of(bench: Bench, round_id: str) -> Round | None:
    for one in reversed(bench.rounds):
        if one.id == round_id:
            return one
    return None


def in_round(bench: Bench, entry: Entry, *, answers: bool) -> None:
    """An entry that belongs to a walk: what it answered counts only while no later walk has
    begun.

    Args:
        answers: whether checks of its place count from it.
    """
    walk = round_of(bench, entry.round)
    if walk is None:
        return
    where = getattr(entry, "container", "") or getattr(entry, "shelf", "")
    if where or entry.answers:  # a species or a setting told of meanwhile is no step of the walk
        walk.answered = max(walk.answered, entry.at)
    walk.spoken = entry.logged
    if walk is bench.open_round:
        walk.said.append(entry.id)
        if answers:
            walk.done.append((where, entry.what))
