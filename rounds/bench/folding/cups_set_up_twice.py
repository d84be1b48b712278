"""One code that two laptops apart gave to two containers: the later stands under a code of its own.

Each line says which set-up the containers that it names had when it was written (``cups``), so that
it means the same one under whatever code that goes now, on every laptop alike.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from msgspec.structs import replace

from rounds.bench.entry_ids import first_id
from rounds.bench.plants_of import taxa_in
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container
from rounds.entries.base import Entry

LONGEST = 24  # letters of a code
PARENTS = ("mothers", "fathers")  # fields of a brood
NAMES = ("container", "to", "into", "sources", "held_in", "inside")  # fields with codes of them

_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def with_cups(bench: Bench, entry: Entry) -> Entry:
    """An entry that says which line set its containers up and which one its animals came in by;
    on the bench before it."""
    cups = [(code, entry.id) for code in entry.containers] if entry.sets_up else []
    for code in _codes_in(entry, NAMES):
        there = bench.containers.get(code)
        if there is not None and there.set_up:
            cups.append((code, there.set_up))
    for code in _codes_in(entry, (*entry.names_animals, *PARENTS)):
        if begun := _begun(bench, code):
            cups.append((code, begun.id))
    return replace(entry, cups=tuple(cups)) if cups else entry


def as_it_stands(bench: Bench, entry: Entry) -> Entry:
    """An entry with the codes under which the containers that it means stand; on the bench before
    it."""
    for code, set_up in entry.cups:
        there = bench.containers.get(code)
        if there is None and (one := code_of_animals(bench, code, set_up)):
            if one != code:
                entry = _renamed(entry, code, one, entry.names_animals)
            continue
        if there is None or there.set_up != set_up:
            own = _own_code(bench, entry, code, set_up)
            if own != code:
                entry = _renamed(entry, code, own, NAMES)
    return entry


def means_others(bench: Bench, entry: Entry) -> bool:
    """Whether an entry means a container that stands under another code than it says, or not."""
    return any(
        there.set_up != set_up
        for code, set_up in entry.cups
        if (there := bench.containers.get(code)) is not None
    )


def told_of(bench: Bench, container: Container) -> str:
    """That a container goes by another code than its label has, in words."""
    code = container.code
    what = ", ".join(
        (
            container.purpose,
            *([f"shelf {container.shelf}"] if container.shelf else []),
            count(container.count(), "animal"),
            *filter(None, taxa_in(bench, container)),
        )
    )
    letters = code.rstrip(f"0123456789{_LETTERS}") or "X"
    new = bench.free_code(letters)
    other = (
        f"take another, as: {new} set up {container.purpose}, then {code} moved all to {new}, then"
        f" {code} closed"
        if container.lots
        else f"where it is put away, as: {code} closed"
    )
    return (
        f"two containers had the code {container.said}: the one{_since(container)} ({what}) is"
        f" {code} now; write it on the label and say so, as: {code} note {code} is on the"
        f" label; or {other}"
    )


def _since(container: Container) -> str:
    """When and by whom it was set up: that tells it from the other, whichever of them stood
    first."""
    at = container.logged
    by = f" by {container.set_up_by}" if container.set_up_by else ""
    return f" set up {at.day} {at:%b %H:%M}{by}" if at else ""


def free_code(bench: Bench, code: str) -> str:
    """The code with a letter behind it that nobody else has."""
    used = bench.founders.keys() | bench.broods.keys() | bench.containers.keys()
    letters = (one + two for one in ("", *_LETTERS) for two in _LETTERS[1:])
    tried = (f"{code[: LONGEST - len(letter)]}{letter}" for letter in letters)
    return next(one for one in tried if one not in used)


def _own_code(bench: Bench, entry: Entry, code: str, set_up: str) -> str:
    """Under which code the container stands, or comes to stand, that was set up by that line."""
    if set_up == entry.id:
        there = bench.containers.get(code)
        return code if there is None or there.is_made_up else _told(bench, code)
    for one in bench.containers.values():
        if one.set_up == set_up:
            return one.code
    washed = bench.washed.pop(set_up, None)
    if washed is None:
        return code  # its set-up was crossed out
    # One laptop closed it while another went on with it.
    said = washed.said or washed.code
    own = said if said not in bench.containers else _told(bench, said)
    bench.closed.pop(own, None)
    bench.containers[own] = replace(
        washed, code=own, said=said if own != said else "", since=entry.at
    )
    return own


def _told(bench: Bench, code: str) -> str:
    own = free_code(bench, code)
    bench.relabel.append(own)
    return own


def _codes_in(entry: Entry, names: Iterable[str]) -> Iterable[str]:
    """The codes that stand in these fields, each once."""
    said = (getattr(entry, name, "") for name in names)
    return dict.fromkeys(
        code for codes in said for code in ((codes,) if isinstance(codes, str) else codes or ())
    )


def _begun(bench: Bench, code: str) -> Entry | None:
    return bench.founders.get(code) or bench.broods.get(code)


def code_of_animals(bench: Bench, code: str, begun: str) -> str:
    """The code that animals go by which came in, or whose brood was begun, by that line; empty
    where it counts no more."""
    first = first_id(begun)
    there = _begun(bench, code)
    if there is not None and first_id(there.id) == first:
        return code
    lines = (*bench.founders.items(), *bench.broods.items())
    return next((own for own, line in lines if first_id(line.id) == first), "")


def renamed(entry: Entry, names: Iterable[str], meant: Callable[[str], str]) -> Entry:
    """An entry with the codes that are meant by those in these fields."""
    other: dict[str, Any] = {}
    for name in names:
        said = getattr(entry, name, "") or ""
        codes = meant(said) if isinstance(said, str) else tuple(map(meant, said))
        if codes != said:
            other[name] = codes
    return replace(entry, **other) if other else entry


def _renamed(entry: Entry, code: str, own: str, names: Iterable[str]) -> Entry:
    return renamed(entry, names, lambda one: own if one == code else one)
