"""What a camera writes into a JPEG beside the picture: how it is turned, and when it was taken.

JPEG by ITU-T T.81 annex B (segments); orientation 0x0112, the time taken 0x9003 with its offset
0x9011, and digitised 0x9004 with 0x9012, by Exif 2.31. From memory.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from datetime import datetime, tzinfo

_START_OF_SCAN, _END = 0xDA, 0xD9
_NEXT_MARKER = re.compile(rb"\xff[^\0\xd0-\xd7\xff]")  # none of those within a scan
_TURNED, _MORE = 0x0112, 0x8769
_TIMES = ((0x9003, 0x9011), (0x9004, 0x9012))
_TEXT, _SHORT, _LONG = 2, 3, 4  # kinds of values


def segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Marker and bytes of each segment of a JPEG, a scan with all that it draws.

    Raises:
        IndexError, struct.error: it is broken.
    """
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


def orientation(data: bytes) -> int:
    """How a JPEG is to be turned, 1 to 8; 1 where that is not said.

    Raises:
        IndexError, struct.error: it is broken.
    """
    tiff = _exif(data)
    for tag, kind, value in _values(tiff, _first(tiff)) if tiff else ():
        if (tag, kind) == (_TURNED, _SHORT) and 1 <= value[0] <= 8:
            return int(value[0])
    return 1


def taken_at(data: bytes, zone: tzinfo) -> datetime | None:
    """When a JPEG was taken by its camera's clock; None where it does not say so.

    Args:
        zone: of the clock, where it names none.
    """
    try:
        tiff = _exif(data)
        found = dict[int, bytes]()
        for tag, kind, value in _values(tiff, _first(tiff)) if tiff else ():
            if (tag, kind) == (_MORE, _LONG):
                of_exif = _values(tiff, value[0])
                found |= {one: bytes(text) for one, of, text in of_exif if of == _TEXT}
    except (struct.error, IndexError):
        return None
    for name, offset in _TIMES:
        said, beside = (_text(found.get(one, b"")) for one in (name, offset))
        for text, form in ((said + beside, "%Y:%m:%d %H:%M:%S%z"), (said, "%Y:%m:%d %H:%M:%S")):
            try:
                at = datetime.strptime(text, form)
            except ValueError:
                continue
            return at if at.tzinfo else at.replace(tzinfo=zone)
    return None


def _text(value: bytes) -> str:
    return value.partition(b"\0")[0].decode("ascii", "replace").strip()


def _exif(data: bytes) -> bytes:
    """What a camera wrote, as a TIFF; empty where it wrote nothing."""
    for marker, segment in segments(data):
        if marker == 0xE1 and segment[4:10] == b"Exif\0\0":
            return segment[10:]
        if marker == _START_OF_SCAN:
            break
    return b""


def _order(tiff: bytes) -> str:
    return "<" if tiff[:2] == b"II" else ">"


def _first(tiff: bytes) -> int:
    return int(struct.unpack_from(f"{_order(tiff)}I", tiff, 4)[0])


def _values(tiff: bytes, at: int) -> Iterator[tuple[int, int, bytes | tuple[int]]]:
    """Tag, kind and value of each entry of a directory: a number, or bytes of a text."""
    order = _order(tiff)
    (number,) = struct.unpack_from(f"{order}H", tiff, at)
    for place in range(at + 2, at + 2 + 12 * number, 12):
        tag, kind, length = struct.unpack_from(f"{order}HHI", tiff, place)
        if kind == _TEXT:
            (where,) = (
                struct.unpack_from(f"{order}I", tiff, place + 8) if length > 4 else (place + 8,)
            )
            yield tag, kind, tiff[where : where + length]
        elif kind in (_SHORT, _LONG):
            form = "H" if kind == _SHORT else "I"
            yield tag, kind, struct.unpack_from(f"{order}{form}", tiff, place + 8)
