"""A picture without what a camera wrote into it, for that may name the place.

JPEG by ITU-T T.81 annex B (segments), PNG by W3C 2003 (chunks), orientation by Exif 2.3 tag 0x0112.
From memory.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from pathlib import Path

from rounds.daybook.camera import orientation, segments

MAX_BYTES = 20_000_000  # of one picture
PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8\xff"
_COMMENT = 0xFE
_KEPT_APPS = {0xE0: b"JFIF", 0xE2: b"ICC_PROFILE", 0xEE: b"Adobe"}  # what a reader needs to draw it
_KEPT_CHUNKS = frozenset({b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"pHYs", b"bKGD"})
NO_FILE, TOO_LARGE = "only a name in the book", f"larger than {MAX_BYTES // 1_000_000} MB"
OTHER, BROKEN = "neither JPEG nor PNG", "broken inside"


class CannotLeave(ValueError):
    """A picture that cannot be given away; the text says what it is, in a few words."""


def bare_file(path: Path | None) -> bytes:
    """What may leave of a picture's file.

    Raises:
        CannotLeave: nothing may.
        OSError: it cannot be read.
    """
    if path is None:
        raise CannotLeave(NO_FILE)
    if path.stat().st_size > MAX_BYTES:
        raise CannotLeave(TOO_LARGE)
    return bare_picture(path.read_bytes())


def bare_picture(data: bytes) -> bytes:
    """A JPEG or PNG without anything but the picture and how it is turned.

    Raises:
        CannotLeave: it is neither, or broken.
    """
    try:
        if data.startswith(_JPEG):
            return b"".join(_jpeg_parts(data))
        if data.startswith(PNG):
            return b"".join(_png_parts(data))
    except (struct.error, IndexError):
        raise CannotLeave(BROKEN) from None
    raise CannotLeave(OTHER)


def _jpeg_parts(data: bytes) -> Iterator[bytes]:
    """The segments that draw it; what stands behind its end is left out."""
    yield data[:2]
    turned = _turned(data)
    if turned > 1:
        tiff = struct.pack(">2sHIHHHIHHI", b"MM", 42, 8, 1, 0x0112, 3, 1, turned, 0, 0)
        yield b"\xff\xe1" + struct.pack(">H", 2 + 6 + len(tiff)) + b"Exif\0\0" + tiff
    for marker, segment in segments(data):
        app = 0xE0 <= marker <= 0xEF
        if marker != _COMMENT and not (
            app and not segment[4:].startswith(_KEPT_APPS.get(marker, b"\0no"))
        ):
            yield segment


def _turned(data: bytes) -> int:
    """How it is to be turned; as it stands where what the camera wrote is broken, for that is left
    out in any case."""
    try:
        return orientation(data)
    except (struct.error, IndexError):
        return 1


def _png_parts(data: bytes) -> Iterator[bytes]:
    """The chunks that draw it."""
    yield PNG
    at, kind = len(PNG), b""
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
