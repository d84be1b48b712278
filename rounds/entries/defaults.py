"""What the bench itself can add to what was said, so that a keeper need not type it."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from rounds.bench.kept_lots import called_kept, names_meant
from rounds.bench.state import Bench
from rounds.entries.base import Entry, Said, Saying
from rounds.entries.names import with_known_names
from rounds.entries.which_animals import completed_by_stock

MARKED = ("brood", "female", "male")  # fields in which an animal may be named by its mark


def completed(bench: Bench, kind: type[Entry], fields: Said, at: datetime) -> list[Saying]:
    """What was said with what the bench knows added, and any entry that must stand before it.

    Animals named by their marks get their codes, names are those that the book knows already,
    animals that leave or grow get the stage that is meant; the rest is each kind's own.
    """
    said = dict(fields) | _by_their_marks(bench, fields)
    container = bench.at(str(said.get("container", "")))
    named_here = kind.named_here(container, said) if container else {}
    said = with_known_names(bench, kind, said | named_here)
    return completed_by_those_here(bench, kind, said, at)


def completed_by_those_here(
    bench: Bench, kind: type[Entry], said: Said, at: datetime
) -> list[Saying]:
    """What was said, completed by what stands there."""
    return kind.defaults(bench, completed_by_stock(bench, kind, said), at)


def with_lots(bench: Bench, said: dict[str, Any]) -> dict[str, Any]:
    """Kept lots said by digit get their names, and those of ``kept`` too; but of several of these
    it is asked which of them bears the eggs that were seen."""
    container = bench.at(str(said.get("container", "")))
    if container is None or not said.get("lots"):
        return said
    if (kept := called_kept(bench, container, said["lots"])) is None:
        return said | {"lots": names_meant(container, said["lots"])}
    keeper, lots = kept
    is_plain = len(lots) == 1 or not (said.get("found") or said.get("unsure"))
    names = tuple(held.lot for held in lots) if lots and is_plain else said["lots"]
    return said | {"container": keeper.code, "lots": names}


def _by_their_marks(bench: Bench, fields: Said) -> dict[str, str]:
    """The codes of animals that were named by their marks."""
    said = {name: str(fields.get(name) or "") for name in MARKED}
    found = {
        name: bench.marked(word)
        for name, word in said.items()
        if word and word not in bench.founders and word not in bench.broods
    }
    return {name: code for name, code in found.items() if code}
