"""Entries as they are written: one JSON object a line, and back."""

from __future__ import annotations

from typing import Any

import msgspec

from rounds.bench.kinds import KIND_BY_NAME, AnyEntry, Entry

_reader: msgspec.json.Decoder[AnyEntry] = msgspec.json.Decoder(AnyEntry)


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
        entry: Entry = _reader.decode(line)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as trouble:
        if _is_of_a_newer_version(line):
            return None
        raise NotRead(str(trouble)) from None
    if entry.at.tzinfo is None or entry.logged.tzinfo is None:
        raise NotRead("its times have no offset from UTC")
    return entry


def write(entry: Entry) -> dict[str, Any]:
    """The entry as a JSON object: what the daybook keeps."""
    written: dict[str, Any] = msgspec.to_builtins(entry)
    return written


def _is_of_a_newer_version(line: bytes) -> bool:
    try:
        named = msgspec.json.decode(line, type=_Named)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return False
    return named.what not in KIND_BY_NAME
