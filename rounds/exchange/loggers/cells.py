"""One cell of a logger's table: what it can be, and its number."""

from __future__ import annotations

import csv
import math
import re
from typing import Literal

CellKind = Literal["empty", "both", "date", "clock", "epoch", "number", "text"]

SEPARATORS = {";": "semicolons", "\t": "tabs", ",": "commas", "|": "bars"}
_MONTH = r"[^\W\d_]{3,10}\.?"
DATE = (
    r"\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.](?:\d{4}|\d{2})|\d{8}"
    rf"|\d{{1,2}}[-/. ]\s?{_MONTH}[-/. ,]+(?:\d{{4}}|\d{{2}})|{_MONTH} \d{{1,2}},? \d{{4}}"
)
CLOCK = r"\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d{1,9})?)?(?:\s?[AaPp]\.?\s?[Mm]\.?)?"
OFFSET = r"[Zz]|UTC|GMT|[+-]\d{2}:?\d{2}"
BOTH = re.compile(
    rf"^(?P<date>{DATE}),?(?:[Tt"
    rf" ]|\s+)\s*(?P<clock>{CLOCK}|\d{{4}}(?:\d{{2}})?)\s*(?P<offset>{OFFSET})?$"
)
_DATE_ONLY = re.compile(rf"^(?:{DATE})$")
_CLOCK_ONLY = re.compile(rf"^(?:{CLOCK})$")
_EPOCH = re.compile(r"^(?:[1-4]\d{9}|\d{9})(?:[.,]\d+)?$|^(?:[1-4]\d{12})$")
_SERIAL = re.compile(r"^[3-6]\d{4}[.,]\d+$")  # a spreadsheet's days since 1899-12-30
_NUMBER = re.compile(r"^[-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d+)?$")
_UNIT = re.compile(
    r"\s*(?:(?:°|º|˚|deg\.?\s?)\s*[CFcf]?|(?<=[\d.,\s])[CFK]|℃|℉|%\s*(?:[rR]\.?[hH]\.?)?)$"
)
_SPACES = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " ", "\u2212": "-"})


def split(line: str, separator: str) -> list[str]:
    """The cells of a line; quotes hold a separator in."""
    if '"' not in line:
        return line.split(separator)
    try:
        return next(csv.reader([line], delimiter=separator), [])
    except csv.Error:
        return [line]


def ordinary(cell: str) -> str:
    """A cell without the spaces about it, its odd spaces and minus signs made ordinary."""
    return (cell if cell.isascii() else cell.translate(_SPACES)).strip()


def plain(cell: str) -> str:
    """An ordinary cell without quotes about it."""
    return ordinary(cell).strip('"').strip()


def kind_of(cell: str) -> CellKind:
    """What a cell can be."""
    text = plain(cell)
    if not text:
        return "empty"
    if len(text) > 60:
        return "text"
    if BOTH.match(text):
        return "both"
    if _EPOCH.match(text) or _SERIAL.match(text):
        return "epoch"
    if _DATE_ONLY.match(text):
        return "date"
    if _CLOCK_ONLY.match(text):
        return "clock"
    return "number" if _NUMBER.match(_UNIT.sub("", text)) else "text"


def _naming(letter: str, words: str) -> re.Pattern[str]:
    """What names a unit, in small letters: its sign or word, or its letter where it can hardly mean
    anything else."""
    return re.compile(
        rf"[°º˚\ufffd]\s*{letter}\b|\bdeg\.?\s?{letter}\b|{words}|[(\[]\s*{letter}\s*[)\]]"
        rf"|_{letter}$|temp{letter}$|\btemp\w*[\s,/]+{letter}\b(?![-.\w])|(?<=\d)\s*{letter}$|^{letter}$"
    )


_UNITS = {
    "c": _naming("c", "℃|celsius"),
    "f": _naming("f", "℉|fahrenheit"),
    "k": _naming("k", "kelvin"),
}


def unit_in(text: str) -> str:
    """The unit that a cell or heading names: c, f, k, or nothing where it names two or none."""
    text = plain(text).casefold()
    named = [unit for unit, pattern in _UNITS.items() if pattern.search(text)]
    return named[0] if len(named) == 1 else ""


def without_unit(cell: str) -> str:
    """A cell without the unit at its end."""
    return _UNIT.sub("", plain(cell)).strip()


def number_of(cell: str) -> float | None:
    """The number in a cell, with a decimal point or comma and perhaps its unit; None where it is
    none."""
    try:
        value = float(cell.replace(",", ".", 1))
    except ValueError:
        text = _UNIT.sub("", plain(cell)).replace(",", ".", 1)
        try:
            value = float(text)
        except ValueError:
            return None
    return value if math.isfinite(value) and "_" not in cell else None
