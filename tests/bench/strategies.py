"""Hypothesis strategies for entries of every kind, made from the kinds' own types."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

import msgspec
from hypothesis import strategies as st
from msgspec import inspect

from rounds.entries.base import Entry
from rounds.entries.registry import KINDS, CrossedOut
from rounds.entries.schema import OWN

START = datetime(2026, 5, 1, 6, 0, tzinfo=UTC)
CONTAINERS = ["A2", "A3", "A4"]
CODES = ["QA-26-02", "QA-26-02/A", "QA-26-02/B"]
NAMED = {
    "container": CONTAINERS,
    "to": CONTAINERS,
    "held_in": CONTAINERS,
    "inside": ["", *CONTAINERS],
    "shelf": ["", "S"],
    "brood": ["", *CODES],
    "code": CODES,
    "female": CODES,
    "male": CODES,
    "plant": ["violet", "sorrel"],
    "batch": ["", "A", "B"],
    "check": ["drink", "ants", "look"],
    "zone": ["Europe/Paris"],
}


def _value(name: str, kind: inspect.Type) -> st.SearchStrategy[Any]:
    if isinstance(kind, inspect.Metadata):
        return _value(name, kind.type)
    if name in NAMED and isinstance(kind, inspect.StrType):
        return st.sampled_from([one for one in NAMED[name] if len(one) >= (kind.min_length or 0)])
    if isinstance(kind, inspect.UnionType):
        return st.one_of(*(_value(name, one) for one in kind.types))
    if isinstance(kind, inspect.NoneType):
        return st.none()
    if isinstance(kind, inspect.LiteralType):
        return st.sampled_from(kind.values)
    if isinstance(kind, inspect.IntType):
        low = kind.ge if kind.ge is not None else 0
        return st.integers(low, min(low + 6, kind.le if kind.le is not None else low + 6))
    if isinstance(kind, inspect.FloatType):
        low = kind.ge if kind.ge is not None else (0.5 if kind.gt is not None else -5)
        return st.integers(int(low), int(low) + 9).map(
            lambda one: max(float(one), 0.5 if kind.gt is not None else one)
        )
    if isinstance(kind, inspect.BoolType):
        return st.booleans()
    if isinstance(kind, inspect.DateTimeType):
        return st.integers(0, 60 * 24 * 5).map(lambda minutes: START + timedelta(minutes=minutes))
    if isinstance(kind, inspect.VarTupleType):
        if isinstance(kind.item_type, inspect.IntType):
            return st.lists(st.integers(0, 4), min_size=1, max_size=3).map(tuple)
        codes = CONTAINERS if name in ("into", "sources") else CODES
        return st.lists(st.sampled_from(codes), min_size=1, max_size=2).map(tuple)
    return st.sampled_from(["x", "morning"])


@cache
def _said(kind: type[Entry]) -> st.SearchStrategy[dict[str, Any]]:
    """All fields of a kind but the id; made once, for that takes longer than to draw from it."""
    info = inspect.type_info(kind)
    assert isinstance(info, inspect.StructType)
    fields = {one.name: _value(one.name, one.type) for one in info.fields if one.name not in OWN}
    return st.fixed_dictionaries(
        {
            "at": st.integers(0, 60 * 24 * 4).map(
                lambda minutes: START + timedelta(minutes=minutes)
            ),
            "logged": st.just(START),
            **fields,
        }
    )


def entries_of(kind: type[Entry], number: int) -> st.SearchStrategy[Entry]:
    """Entries of one kind; the number makes the id, so that ids grow with it."""
    return _said(kind).map(lambda values: kind(id=f"id{number:05d}", **values))


_ANY_KIND = st.sampled_from([one for one in KINDS if one is not CrossedOut])


@st.composite
def histories(draw: st.DrawFn, most: int = 25, strikes: bool = True) -> list[Entry]:
    """Any entries of any kinds, with strikes of some of them and strikes of strikes."""
    count = draw(st.integers(1, most))
    found: list[Entry] = []
    for number in range(count):
        found.append(draw(entries_of(draw(_ANY_KIND), number)))
    if strikes:
        for number in range(count, count + draw(st.integers(0, 4))):
            target = draw(st.sampled_from(found)).id
            found.append(
                CrossedOut(
                    id=f"id{number:05d}", at=START + timedelta(days=5), logged=START, entry=target
                )
            )
    return found


def plain(bench: Any) -> Any:
    """A bench as plain data, to compare; what a kept one has not read yet stands there as well."""
    return msgspec.json.decode(msgspec.json.encode(bench))
