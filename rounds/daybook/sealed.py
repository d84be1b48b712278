"""A value kept in a file of this machine's memory behind a digest of it: what was torn or changed
reads as nothing."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import TypeVar

import msgspec

from rounds.daybook.digests import blake2b
from rounds.daybook.safe_files import NOT_DECODED, put_lines, read_plain

_DIGEST = 16  # bytes
T = TypeVar("T")


def read_sealed(path: Path, kind: type[T]) -> T | None:
    """What was kept there; None where it is not as it was written, or not there."""
    try:
        data = read_plain(path).removesuffix(b"\n")
        if digest_of(data[_DIGEST:]) != data[:_DIGEST]:
            return None
        return msgspec.msgpack.decode(data[_DIGEST:], type=kind)
    except (OSError, *NOT_DECODED):
        return None


def keep_sealed(path: Path, value: object) -> None:
    """Keep a value where it can be kept; it may be lost with the power."""
    data = msgspec.msgpack.encode(value)
    with contextlib.suppress(OSError):
        put_lines(path, [digest_of(data) + data], lasting=False)


def digest_of(data: bytes) -> bytes:
    """The digest by which data is known again."""
    return blake2b(data, digest_size=_DIGEST).digest()
