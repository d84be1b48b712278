"""Coordinates as a map, a phone or a label has them, found anywhere in a text.

Read are decimal degrees (``46.5531 6.0712``, also with a sign, a comma for the point, or as a
``geo:`` address of RFC 5870), degrees with the letters N, S, E, W before or behind them, these with
minutes and seconds (ISO 6709, annex D: ``46°33'11"N 6°04'16"E``), and each behind ``lat`` and
``lon``. Latitude comes first where no letter or word says otherwise (ISO 6709).
Numbers of one or two decimals are coordinates only where the caller knows that they stand behind a
place.
"""

from __future__ import annotations

import re

from msgspec import Struct

from rounds import late

M_PER_KM = 1000.0
_NUMBER = r"\d{1,3}(?:[.,]\d+)?"
_SIXTIETHS = r"\d{1,2}(?:[.,]\d+)?"
_MINUTES = rf"(?:{_SIXTIETHS}\s*['\u2032\u2019]?|\s+{_SIXTIETHS}\s*['\u2032\u2019])"
_SECONDS = rf"\s*{_SIXTIETHS}\s*(?:\"|\u2033|\u201d|''|\u2032\u2032)"
_ANGLE = rf"[-+\u2212]?{_NUMBER}\s*(?:\u00b0(?:{_MINUTES}(?:{_SECONDS})?)?)?"
_SPACED = rf"\d{{1,3}}\s*\u00b0?(?:[\s:]+{_SIXTIETHS}){{1,2}}"  # a letter behind ends it
_BETWEEN = r"[\s,;/]*"
_LAT = r"\blat(?:itude)?\b\.?\s*[:=]?\s*"
_LON = r"\b(?:long?|lng|longitude)\b\.?\s*[:=]?\s*"
_DECIMAL = r"[-+\u2212]?\d{1,3}[.,]\d{3,}\u00b0?"
_PAIRS = tuple(
    late.pattern(pattern, re.IGNORECASE)
    for pattern in (
        rf"{_LAT}(?P<lat>{_ANGLE}\s*[NS]?)\b{_BETWEEN}{_LON}(?P<lon>{_ANGLE}\s*[EW]?)(?![\w.])",
        rf"{_LON}(?P<lon>{_ANGLE}\s*[EW]?)\b{_BETWEEN}{_LAT}(?P<lat>{_ANGLE}\s*[NS]?)(?![\w.])",
        *(
            rf"(?<![\w.])(?P<{first}>{angle}\s*[{sides}])\b{_BETWEEN}(?P<{second}>{angle}\s*[{others}])\b"
            for angle in (_ANGLE, _SPACED)
            for first, sides, second, others in (
                ("lat", "NS", "lon", "EW"),
                ("lon", "EW", "lat", "NS"),
            )
        ),
        rf"\b(?P<lat>[NS]\s*{_ANGLE}){_BETWEEN}\b(?P<lon>[EW]\s*{_ANGLE})(?![\w.])",
        rf"(?<![\w.,])(?:geo:)?(?P<lat>{_DECIMAL})(?:\s*[,;/]\s*|\s+)(?P<lon>{_DECIMAL})(?![\w.])",
    )
)
_COARSE = late.pattern(
    r"(?P<lat>[-+\u2212]?\d{1,2}[.,]\d{1,2})(?:\s*[,;/]\s*|\s+)"
    r"(?P<lon>[-+\u2212]?\d{1,3}[.,]\d{1,2})(?!\w|[.,:/-]\d|\s*(?:[ap]\.?m\b|[%\u00b0]|[CF]\b))"
)
_BARE = late.pattern(
    rf"(?P<lat>{_ANGLE}\s*(?:[NS]\b)?)(?:\s*[;/]\s*|,\s+|\s+,?\s*)"
    rf"(?P<lon>{_ANGLE}\s*(?:[EW]\b)?)(?![\w.])",
    re.IGNORECASE,
)
_AROUND = late.pattern(
    r"[\s,;]*(?:\u00b1|\+/?-|\buncertainty\s*=?)\s*(\d+(?:\.\d+)?)\s*(k?m)?\b", re.IGNORECASE
)
_ALONE = late.pattern(
    rf"(?:(?P<before>[NSEW])\s*)?(?:{_ANGLE}|{_SPACED})\s*(?P<behind>[NSEW])?", re.IGNORECASE
)
# A number so fine, or with a sign of degrees or of a side of the sky, is half of a pair.
_HALF = late.pattern(
    r"(?<![\w.,=])[-+\u2212]?\d{1,3}(?:[.,]\d{4,}(?![\w.])|[.,]\d+\u00b0|[.,]\d+[NSEWO]\b"
    r"|\u00b0[\d\s.,'\"\u2018-\u201d\u2032\u2033]*[NSEWO]\b)"
)

_O = late.pattern(r"[\d\u00b0'\"\u2019\u201d\u2032\u2033]\s*O\b|\bO\s*\d")
OR_WEST = "; O is east to some and west to others: say E or W"


class Coordinates(Struct, frozen=True):
    """Degrees north and east, the uncertainty in m where it was said, and where in the text all of
    it stands."""

    latitude: float
    longitude: float
    uncertainty_m: float | None
    begin: int
    end: int


def coordinates_in(text: str) -> Coordinates | None:
    """The first coordinates in a text; None where there are none.

    Raises:
        ValueError: a latitude or longitude is beyond its range, or only one of both is there; one
            line says so.
    """
    if found := _pair_in(text):
        return _read(found, text)
    if half := _HALF.search(text):
        raise ValueError(
            f"'{half[0]}' reads like half of coordinates; give both in degrees north and east,"
            " as: lat 46.5531 lon 6.0712" + (OR_WEST if _O.search(text) else "")
        )
    return None


def coordinates_asked_for(text: str) -> Coordinates | None:
    """The same of a text that begins with what was asked for, so that few decimals or whole degrees
    are enough.

    Raises:
        ValueError: as ``coordinates_in``.
    """
    found = _pair_in(text) or _COARSE.match(text) or _BARE.match(text)
    return _read(found, text) if found else coordinates_in(text)


def _pair_in(text: str) -> re.Match[str] | None:
    return next(filter(None, (pattern.search(text) for pattern in _PAIRS)), None)


def coarse_coordinates_at(text: str, begin: int) -> Coordinates | None:
    """Coordinates of one or two decimals that begin at that sign of a text; None where there are
    none, or they are beyond their range. Anywhere else such numbers may be times and measures."""
    found = _COARSE.match(text, begin)
    if not found or abs(_degrees(found["lat"])) > 90 or abs(_degrees(found["lon"])) > 180:
        return None
    return _read(found, text)


def angle_of(text: str, sides: str) -> float | None:
    """Degrees of a text that is one angle and says so by its sign of degrees or its side of the
    sky; None where it is none, or of another side.

    Args:
        sides: ``NS`` of a latitude, ``EW`` of a longitude.
    """
    found = _ALONE.fullmatch(text.strip())
    if not found or not ({*text} & {*"\u00b0NSEWnsew"}):
        return None
    letters = [side.upper() for side in found.group("before", "behind") if side]
    sixtieths = re.findall(r"\d+(?:[.,]\d+)?", text)[1:]
    if any(float(one.replace(",", ".")) >= 60 for one in sixtieths):
        return None
    is_of_it = len(letters) < 2 and all(side in sides for side in letters)
    return _degrees(text) if is_of_it else None


def _read(found: re.Match[str], text: str) -> Coordinates:
    latitude, longitude = _degrees(found["lat"]), _degrees(found["lon"])
    for name, degrees, most in (("latitude", latitude, 90), ("longitude", longitude, 180)):
        if abs(degrees) > most:
            raise ValueError(f"{name} is {degrees:g}; it must be from -{most} to {most} degrees")
    begin, end = found.span()
    if text[begin - 1 : begin] == "(" and text[end : end + 1] == ")":
        begin, end = begin - 1, end + 1
    around = _AROUND.match(text, end)
    reach = float(around[1]) * (M_PER_KM if around[2] in ("km", "KM") else 1) if around else None
    return Coordinates(latitude, longitude, reach, begin, around.end() if around else end)


def _degrees(text: str) -> float:
    """Degrees of an angle as typed; south and west are below zero."""
    side = re.search(r"[NSEW]", text, re.IGNORECASE)
    parts = [float(part.replace(",", ".")) for part in re.findall(r"\d+(?:[.,]\d+)?", text)]
    degrees = sum(part / 60.0**power for power, part in enumerate(parts))
    below = bool(re.match(r"\s*[-\u2212]", text)) or (side is not None and side[0].upper() in "SW")
    return round(float(-degrees if below else degrees), 6)
