"""Entries as text that is read once they are asked for: of what a checkpoint holds a start asks for
few, and of all kinds a line is of one."""

from collections.abc import Iterable
from functools import cache
from typing import cast

from msgspec import Raw, ValidationError, json

from rounds.entries.base import Entry, kinds

_BEGINS = b'{"what":"'  # as each line that we write


@cache
def _kinds() -> dict[bytes, type[Entry]]:
    return {str(kind.__struct_config__.tag).encode(): kind for kind in kinds()}


def entry_of(text: bytes) -> Entry | None:
    """The entry that stands there; None where the text does not begin with the name of a kind.

    Raises:
        msgspec.MsgspecError: it is no entry of that kind.
    """
    if not text.startswith(_BEGINS):
        return None
    kind = _kinds().get(text[len(_BEGINS) : text.find(b'"', len(_BEGINS))])
    return None if kind is None else json.decode(text, type=kind)


def read(texts: Iterable[Raw]) -> list[Entry]:
    """The entries that were written down so.

    Raises:
        msgspec.MsgspecError: one of them is none.
    """
    return [_written(bytes(text)) for text in texts]


def _written(text: bytes) -> Entry:
    entry = entry_of(text)
    if entry is None:
        raise ValidationError("of no kind of entry")
    return entry


class ReadLate(dict[str, Entry]):
    """Entries by a name; what is still text is read as it is asked for."""

    def __getitem__(self, name: str) -> Entry:
        one: Entry | Raw = super().__getitem__(name)
        if isinstance(one, Raw):
            (one,) = read([one])
            self[name] = one
        return one

    def get(self, name: str, default: object = None) -> Entry | None:  # type: ignore[override]
        """As of any dictionary."""
        return self[name] if name in self else cast("Entry | None", default)

    def values(self) -> list[Entry]:  # type: ignore[override]
        """As of any dictionary."""
        return [self[name] for name in self]

    def items(self) -> list[tuple[str, Entry]]:  # type: ignore[override]
        """As of any dictionary."""
        return [(name, self[name]) for name in self]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, dict) and dict(self.items()) == dict(other.items())

    __hash__ = None
