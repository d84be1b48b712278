"""Pictures of the book as they leave it: without what a camera wrote into them, for that may name
the place.

JPEG by ITU-T T.81 annex B (segments), PNG by W3C 2003 (chunks), orientation by Exif 2.3 tag 0x0112.
From memory.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from rounds.daybook.photos import path_of
from rounds.entries.registry import Photo
from rounds.exchange.source import Source

MAX_BYTES = 20_000_000  # of one picture
_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"
_START_OF_SCAN, _END, _COMMENT = 0xDA, 0xD9, 0xFE
_NEXT_MARKER = re.compile(rb"\xff[^\0\xd0-\xd7\xff]")  # none of those within a scan
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
    turned = _orientation(data)
    if turned > 1:
        tiff = struct.pack(">2sHIHHHIHHI", b"MM", 42, 8, 1, 0x0112, 3, 1, turned, 0, 0)
        yield b"\xff\xe1" + struct.pack(">H", 2 + 6 + len(tiff)) + b"Exif\0\0" + tiff
    for marker, segment in _segments(data):
        app = 0xE0 <= marker <= 0xEF
        if marker != _COMMENT and not (
            app and not segment[4:].startswith(_KEPT_APPS.get(marker, b"\0no"))
        ):
            yield segment


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Marker and bytes of each segment, a scan with all that it draws."""
    at = 2
    while True:
        while data[at] == 0xFF and data[at + 1] == 0xFF:
            at += 1
        marker = data[at + 1]
        if data[at] != 0xFF:
            raise IndexError(at)
        if marker == _END:
            yield marker, data[at : at + 2]
            return
        end = at + 2 + struct.unpack_from(">H", data, at + 2)[0]
        if marker == _START_OF_SCAN:
            drawn = _NEXT_MARKER.search(data, end)
            if drawn is None:
                raise IndexError(end)
            end = drawn.start()
        yield marker, data[at:end]
        at = end


def _orientation(data: bytes) -> int:
    """How it is to be turned, 1 to 8; 1 where that is not said."""
    for marker, segment in _segments(data):
        if marker == 0xE1 and segment[4:10] == b"Exif\0\0":
            tiff = segment[10:]
            order = "<" if tiff[:2] == b"II" else ">"
            (first,) = struct.unpack_from(f"{order}I", tiff, 4)
            (number,) = struct.unpack_from(f"{order}H", tiff, first)
            for place in range(first + 2, first + 2 + 12 * number, 12):
                tag, kind, _, value = struct.unpack_from(f"{order}HHIH", tiff, place)
                if (tag, kind) == (0x0112, 3) and 1 <= value <= 8:
                    return int(value)
        if marker == _START_OF_SCAN:
            break
    return 1


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
