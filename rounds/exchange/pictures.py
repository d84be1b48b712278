"""Pictures of the book as they leave it: without what a camera wrote into them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from rounds.bench.plurals import and_more
from rounds.daybook.bare_picture import PNG, CannotLeave, bare_file
from rounds.daybook.photos import path_of
from rounds.entries.registry import Photo
from rounds.exchange.source import Source
from rounds.views.words import literal

MAX_NAMED = 5


@dataclass(frozen=True, slots=True)
class BookPicture:
    """A picture that can leave: its line, its name, its media type and its bytes."""

    entry: Photo
    name: str
    media_type: str
    data: bytes


def pictures(source: Source, brood: str = "") -> Iterator[BookPicture]:
    """Every picture of the book that can leave it, or those of one brood; the source remembers what
    the others are."""
    for entry in source.counting:
        if isinstance(entry, Photo) and brood in ("", entry.brood):
            name = PurePosixPath(entry.file).name
            try:
                data = bare_file(path_of(source.desk.book.folder, entry.file))
            except CannotLeave as wrong:
                source.pictures_left.setdefault(str(wrong), []).append(name)
            else:
                kind = "image/png" if data.startswith(PNG) else "image/jpeg"
                yield BookPicture(entry, name, kind, data)


def left_warnings(source: Source) -> Iterator[str]:
    """Which pictures an export could not take, and why, a line each."""
    for why, names in source.pictures_left.items():
        named = literal(", ".join(names[:MAX_NAMED])) + and_more(len(names), MAX_NAMED)
        are = "is" if len(names) == 1 else "are"
        yield (
            f"pictures left out: {len(names):,} {are} {why}: {named}; a JPEG of it leaves, as:"
            " rounds photo FILE --for K7"
        )


def photo_stage(entry: Photo) -> str:
    """The stage that a picture shows: ``L4`` where the instar was said."""
    return f"L{entry.instar}" if entry.instar else entry.stage
