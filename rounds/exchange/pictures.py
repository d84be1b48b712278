"""Pictures of the book as they leave it: without what a camera wrote into them, for that may name
the place.

JPEG by ITU-T T.81 annex B (segments), PNG by W3C 2003 (chunks), orientation by Exif 2.3 tag 0x0112.
From memory.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from rounds.daybook.camera import orientation, segments
from rounds.daybook.photos import path_of
from rounds.entries.registry import Photo
from rounds.exchange.source import Source

MAX_BYTES = 20_000_000  # of one picture
_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"
_COMMENT = 0xFE
_KEPT_APPS = {0xE0: b"JFIF", 0xE2: b"ICC_PROFILE", 0xEE: b"Adobe"}  # what a reader needs to draw it
_KEPT_CHUNKS = frozenset({b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"pHYs", b"bKGD"})


@dataclass(frozen=True, slots=True)
class BookPicture:
    """A picture that can leave: its line, its name, its media type and its bytes."""

    entry: Photo
    name: str
    media_type: str
    data: bytes


def pictures(source: Source, brood: str = "") -> Iterator[BookPicture]:
    """Every picture of the book that can leave it, or those of one brood."""
    for entry in source.counting:
        if isinstance(entry, Photo) and brood in ("", entry.brood):
            picture = _read(source, entry)
            if picture is not None:
                yield picture


def photo_stage(entry: Photo) -> str:
    """The stage that a picture shows: ``L4`` where the instar was said."""
    return f"L{entry.instar}" if entry.instar else entry.stage


def _read(source: Source, entry: Photo) -> BookPicture | None:
    path = path_of(source.desk.book.folder, entry.file)
    if path is None or path.stat().st_size > MAX_BYTES:
        return None
    data = path.read_bytes()
    bare = bare_picture(data)
    if bare is None:
        return None
    kind = "image/png" if data.startswith(_PNG) else "image/jpeg"
    return BookPicture(entry, PurePosixPath(entry.file).name, kind, bare)


def bare_picture(data: bytes) -> bytes | None:
    """A JPEG or PNG without anything but the picture and how it is turned; None where it is
    neither, or broken."""
    try:
        if data.startswith(_JPEG):
            return b"".join(_jpeg_parts(data))
        if data.startswith(_PNG):
            return b"".join(_png_parts(data))
    except (struct.error, IndexError):
        return None
    return None


def _jpeg_parts(data: bytes) -> Iterator[bytes]:
    """The segments that draw it; what stands behind its end is left out."""
    yield data[:2]
    turned = orientation(data)
    if turned > 1:
        tiff = struct.pack(">2sHIHHHIHHI", b"MM", 42, 8, 1, 0x0112, 3, 1, turned, 0, 0)
        yield b"\xff\xe1" + struct.pack(">H", 2 + 6 + len(tiff)) + b"Exif\0\0" + tiff
    for marker, segment in segments(data):
        app = 0xE0 <= marker <= 0xEF
        if marker != _COMMENT and not (
            app and not segment[4:].startswith(_KEPT_APPS.get(marker, b"\0no"))
        ):
            yield segment


def _png_parts(data: bytes) -> Iterator[bytes]:
    """The chunks that draw it."""
    yield _PNG
    at, kind = len(_PNG), b""
    while kind != b"IEND":
        (length,) = struct.unpack_from(">I", data, at)
        kind, end = data[at + 4 : at + 8], at + 12 + length
        if end > len(data) or zlib.crc32(data[at + 4 : end - 4]) != int.from_bytes(
            data[end - 4 : end]
        ):
            raise IndexError(at)
        if kind[:1].isupper() or kind in _KEPT_CHUNKS:
            yield data[at:end]
        at = end
