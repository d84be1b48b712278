"""Ids that sort by time, never go back, and read well."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Final

from rounds.bench.entry_ids import ALPHABET, CHANCE_LENGTH, TIME_LENGTH, time_of_id
from rounds.bench.old_records import CONTENT_LENGTH, TAG_LENGTH, tag_of
from rounds.daybook.digests import blake2b
from rounds.entries.validation import AHEAD_ALLOWED

MAXIMUM_MS: Final = len(ALPHABET) ** TIME_LENGTH - 1


def new_id(now_ms: int, entropy: bytes, last: str) -> str:
    """An id greater than the last one that was made here, even where the clock went back; always of
    one length.

    Args:
        now_ms: the present instant in ms since 1970.
        entropy: random bytes; eight are enough.
        last: the last id that was made here, or empty. What is no id of this kind, or has no later
            one, steers nothing.
    """
    time_part = _written(max(0, min(now_ms, MAXIMUM_MS)), TIME_LENGTH)
    chance = _written(
        int.from_bytes(entropy, "big") % len(ALPHABET) ** CHANCE_LENGTH, CHANCE_LENGTH
    )
    fresh = f"{time_part}-{chance}"
    made = time_of_id(last)
    if fresh > last or made is None or made >= MAXIMUM_MS:
        return fresh
    return f"{_written(made + 1, TIME_LENGTH)}-{chance}"


class NewIds:
    """Ids of what is said at a desk, each behind all that are there, so that what was said in one
    instant keeps its order.

    Args:
        entropy: gives that many random bytes.
    """

    def __init__(self, entropy: Callable[[int], bytes]) -> None:
        self._entropy = entropy
        self._last = ""

    @property
    def is_begun(self) -> bool:
        """Whether one was made or followed."""
        return bool(self._last)

    def next(self, now: datetime, instead_of: str = "") -> str:
        """The next id; of a line that stands instead of another, one in its place."""
        self._last = new_id(_ms(now), self._entropy(8), self._last)
        return id_instead_of(instead_of, self._last) if instead_of else self._last

    def just_before(self, now: datetime) -> str:
        """An id of what stands before all that is said in that instant."""
        return new_id(_ms(now) - 1, self._entropy(8), "")

    def follow(self, ids: Iterable[str], now: datetime) -> None:
        """Order the next ids after these.

        An id of another form, or of a clock that is far ahead, steers nothing.
        """
        latest = _ms(now + AHEAD_ALLOWED)
        for one in sorted((one for one in ids if one > self._last), reverse=True):
            made = time_of_id(one)
            if made is not None and made <= latest:
                self._last = one
                return


def id_of_content(at_ms: int, content: bytes, tag: str) -> str:
    """The id of a line that is taken from old records: the same line has the same id whenever it
    comes in.

    Args:
        at_ms: when it happened, in ms since 1970, and so its place among lines of one instant.
        content: all that it says.
        tag: the mark of the records that it is from, as ``tag_for`` makes it.
    """
    digest = int.from_bytes(blake2b(content, digest_size=8).digest(), "big")
    chance = _written(digest % len(ALPHABET) ** CONTENT_LENGTH, CONTENT_LENGTH)
    return f"{_written(max(0, min(at_ms, MAXIMUM_MS)), TIME_LENGTH)}-{chance}{tag}"


def tag_for(name: str) -> str:
    """The mark of some records, from their name."""
    digest = blake2b(name.encode(), digest_size=8).digest()
    return _written(int.from_bytes(digest, "big") % len(ALPHABET) ** TAG_LENGTH, TAG_LENGTH)


def content_of(entry_id: str) -> str:
    """The part of an id that says when what was said, of a line from old records: the same for the
    same line from whatever records."""
    return entry_id[:-TAG_LENGTH] if tag_of(entry_id) else entry_id


def id_instead_of(old: str, made: str) -> str:
    """An id that stands where another stood among all entries of its instant, from an id just made
    here.

    Where the other is no id of this kind, it is that one.
    """
    begun = old[: TIME_LENGTH + 1 + CHANCE_LENGTH]
    return f"{begun}-{made[-CHANCE_LENGTH:]}" if time_of_id(begun) is not None else made


def _written(value: int, length: int) -> str:
    signs = []
    for _ in range(length):
        value, rest = divmod(value, len(ALPHABET))
        signs.append(ALPHABET[rest])
    return "".join(reversed(signs))


def _ms(instant: datetime) -> int:
    """Milliseconds since 1970."""
    return round(instant.timestamp() * 1000)
