"""Entries as they are written: one JSON object a line, and back."""

from __future__ import annotations

from functools import cache
from typing import Any

import msgspec

from rounds import late
from rounds.bench.instants import wrong_instant
from rounds.entries.as_text import entry_of
from rounds.entries.entry_factory import encoded_names, in_plain_words
from rounds.entries.names import letters_apart
from rounds.entries.piecewise import Piecewise
from rounds.entries.registry import KIND_BY_NAME, AnyEntry, Entry
from rounds.entries.schema import describe

_MISSING = late.pattern(r"^Object missing required field `(\w+)`$")
_UNKNOWN = "Object contains unknown field"
_BYTE = late.pattern(r"\(byte (\d+)\)")
_NOT_JSON = "a quote, comma or bracket is missing there, or stands there too many"


@cache
def _reader() -> msgspec.json.Decoder[AnyEntry]:
    return msgspec.json.Decoder(AnyEntry)


class _Named(msgspec.Struct):
    what: str
    id: str


class NotRead(ValueError):
    """A line that is not an entry; the text is the reason, in one line."""


def read(line: bytes) -> Entry | None:
    """The entry on a line, or None for a kind that only a newer version knows.

    Raises:
        NotRead: the line is not an entry of a known kind.
    """
    try:
        entry = entry_of(line) or _reader().decode(line)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as trouble:
        if str(trouble).startswith(_UNKNOWN):
            return _of_known_fields(line)
        if _is_of_a_newer_version(line):
            return None
        raise NotRead(_why_not(line, trouble)) from None
    wrong = (
        _said_twice(line)
        or wrong_instant(entry)
        or (entry.says_unknown() if isinstance(entry, Piecewise) else "")
    )
    if wrong:
        raise NotRead(wrong)
    return entry


_fields_of = msgspec.json.Decoder(dict[str, msgspec.Raw]).decode
_compact = msgspec.json.Encoder().encode


def _said_twice(line: bytes) -> str:
    """Why an object on a line cannot be read that has a field twice, of which nobody knows which
    holds; empty where it has each once.

    A line as we write it, but for its end, is as long as each of its fields once; only a longer one
    is read slowly.
    """
    if len(line) - len(_compact(_fields_of(line))) < 2:
        return ""
    import json  # only here: of our lines none comes so far

    seen: set[str] = set()
    for name, _ in json.loads(line, object_pairs_hook=list):
        if name in seen:
            return f"says '{name}' twice; leave the one that holds"
        seen.add(name)
    return ""


def _of_known_fields(line: bytes) -> Entry | None:
    """The entry on a line that has fields unknown to its kind: another version may know them, and
    they are passed over; but one that stands for another whose letters are damaged is told.

    Raises:
        NotRead: a field that it says it has, or one a letter away, is missing.
    """
    try:
        if twice := _said_twice(line):
            raise NotRead(twice)
        values: dict[str, Any] = msgspec.json.decode(line, type=dict[str, Any])
        known = KIND_BY_NAME[values["what"]].__struct_encode_fields__
        strange = [name for name in values if name not in known and name != "what"]
        without = msgspec.json.encode(
            {name: values[name] for name in values if name not in strange}
        )
    except (msgspec.MsgspecError, UnicodeError, RecursionError) as trouble:
        raise NotRead(_why_not(line, trouble)) from None
    missing = set(known) - values.keys()
    entry = read(without)
    called = encoded_names(type(entry)) if entry else {}
    said = {called[name] for name, _ in entry.says} if isinstance(entry, Piecewise) else set()
    for name in strange:
        for other in sorted(missing):
            if other in said or letters_apart(name, other, 1) == 1:
                raise NotRead(f"has no '{other}' and a field '{name}', which its kind has not")
    return entry


def _why_not(line: bytes, trouble: Exception) -> str:
    """Why a line is no entry, in the words of a keeper."""
    if isinstance(trouble, UnicodeDecodeError):
        return "is no UTF-8 text"
    if isinstance(trouble, RecursionError):
        return "holds one thing within another too often to be an entry"
    missing = _MISSING.match(str(trouble))
    if missing:
        return f"has no '{missing[1]}'"
    try:
        values: dict[str, Any] = msgspec.json.decode(line, type=dict[str, Any])
    except UnicodeDecodeError:
        return "is no UTF-8 text"
    except RecursionError:
        return "holds one thing within another too often to be an entry"
    except msgspec.MsgspecError:
        place = _BYTE.search(str(trouble))
        return f"is broken{f' at byte {place[1]}' if place else ''}: {_NOT_JSON}"
    kind = KIND_BY_NAME.get(str(values.get("what")))
    if kind is None:
        return f"is of no kind of entry: '{values.get('what')}'"
    return in_plain_words(kind, values, str(trouble))


def write(entry: Entry) -> dict[str, Any]:
    """The entry as a JSON object: what the daybook keeps.

    What was not said is left out, but a choice is always written, so that a line reads whole
    without the kinds at hand; of what is said bit by bit all that was said, also 'no'.
    """
    written: dict[str, Any] = msgspec.to_builtins(entry)
    said = dict(entry.says) if isinstance(entry, Piecewise) else {}
    encoded = encoded_names(type(entry))
    for name in said or _choices(type(entry)):
        value = getattr(entry, name)
        if value if not said else value is not None:
            written[encoded[name]] = msgspec.to_builtins(value)
    return written


@cache
def _choices(kind: type[Entry]) -> tuple[str, ...]:
    return tuple(field.name for field in describe(kind).fields if field.shape == "choice")


def _is_of_a_newer_version(line: bytes) -> bool:
    try:
        named = msgspec.json.decode(line, type=_Named)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return False
    return named.what not in KIND_BY_NAME
