"""The codes of founders and broods, and of animals of which nobody knows to which of several they
belong."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from functools import lru_cache
from itertools import count

from rounds import late

LETTERS = list("ABCDEFGHJKLMNPQRSTUVWXYZ")  # no O and I, never mistaken for 0 and 1
# with the letters again behind the dash nothing but a range, without them perhaps a year or a date
_RANGE = late.pattern(
    r"^([A-Za-z]{1,6})(?:(?=(\d{1,9})[-\u2013]\1(\d{1,9})$)|(?=(\d{1,4})[-\u2013](\d{1,4}|[1-9]\d{4})$))",
    re.IGNORECASE,
)
_LIKE_A_CODE = late.pattern(r"^[A-Za-z]{1,6}-?\d{1,4}[A-Za-z]?$")
INSTAR = late.pattern(r"^L(\d{1,2})$", re.IGNORECASE)  # what else reads like a code
_LAST_NUMBER = late.pattern(r"^(.*?)(\d+)(\D*)$")
_PARTS = late.pattern(r"(\D*)(\d*)")
MISREAD = frozenset("01")  # digits that no code has which is proposed
MAX_AT_ONCE = 200  # containers named by one line

_DIGITS = re.compile(r"(\d+)", re.ASCII)
OR = " or "  # joins the codes of animals that nobody can tell apart any more; no code has a space


def in_order(code: str) -> tuple[tuple[int, int | str], ...]:
    """By what codes are listed: their numbers as numbers, so that W2 stands before W10."""
    parts = _DIGITS.split(code.casefold())
    return tuple((0, int(one)) if one.isdecimal() else (1, one) for one in parts if one)


def members(code: str) -> tuple[str, ...]:
    """The founders or broods that a code names: one, or several where nobody knows which of
    them."""
    return tuple(code.split(OR)) if OR in code else (code,)


def one_of(codes: Iterable[str]) -> str:
    """The code of animals of which nobody knows to which of these founders or broods they
    belong."""
    return OR.join(sorted({member for code in codes for member in members(code)}))


@lru_cache(maxsize=10_000)
def counted(code: str) -> tuple[tuple[str, int], ...]:
    """Codes sorted by this stand as a keeper counts: ``R2`` before ``R10``."""
    return tuple((text, int(digits or 0)) for text, digits in _PARTS.findall(code))


def code_after(code: str, used: Collection[str]) -> str:
    """The next code after that one which is free, with as many digits: ``W2``, ``W3``, ``K07``,
    ``K08``.

    Args:
        used: codes in small letters, for no two differ by these alone.
    """
    match = _LAST_NUMBER.match(code)
    begun, number, end = match.groups() if match else (code, "1", "")
    after = (f"{begun}{one:0{len(number)}d}{end}" for one in count(int(number) + 1))
    return next(free for free in after if free.casefold() not in used)


def names_of(text: str, known: Collection[str]) -> list[str]:
    """The codes that one word names: ``K2``, ``K2,K3``, ``E2-E6``."""
    names: list[str] = []
    for part in text.split(","):
        span = None if part.casefold() in known else _span(part)
        if span and int(span[1]) < int(span[2]) < int(span[1]) + MAX_AT_ONCE:
            letters, first, last = span
            names += [
                f"{letters}{number:0{len(first)}d}" for number in range(int(first), int(last) + 1)
            ]
        elif part:
            names.append(part)
    return names


def _span(text: str) -> tuple[str, str, str] | None:
    """The letters of a range, its first and its last number as they are written."""
    span = _RANGE.match(text)
    return (span[1], span[2] or span[4], span[3] or span[5]) if span else None


def catalogue_numbers(voucher: str, number: int) -> list[str]:
    """The numbers of so many specimens: as listed (``V1,V2`` or ``V1-V4``) where that names as
    many, else ``V1.1``, ``V1.2``; none is made up where none was given."""
    listed = _listed(voucher)
    if number == 1 or not voucher:
        return [voucher] * number
    if len(listed) == number:
        return listed
    return [f"{voucher}.{position}" for position in range(1, number + 1)]


def listed_numbers(voucher: str) -> list[str]:
    """The numbers of a list (``V1,V2``), or of a range that says its letters twice (``V1-V4``): one
    as ``W26-30`` may be a single number, of a year."""
    span = _span(voucher)
    twice = span and voucher.casefold().count(span[0].casefold()) == 2
    listed = _listed(voucher)
    several = ("," in voucher and like_codes(voucher)) or twice
    return listed if several else [voucher] * bool(voucher)


def _listed(voucher: str) -> list[str]:
    return [part.strip() for name in voucher.split(",") for part in names_of(name.strip(), ())]


def no_range(code: str) -> str:
    """What is wrong with a code that is a range which runs backwards or over too many; empty where
    it is none.

    A code as ``W26-02`` is one: it names no letters at its end, and would run backwards.
    """
    span = _span(code)
    if not span:
        return ""
    letters, first, last = span[0], int(span[1]), int(span[2])
    if last >= first + MAX_AT_ONCE:
        most = f"{letters}{span[1]}-{letters}{first + MAX_AT_ONCE - 1}"
        return (
            f"{code} are {last - first + 1:,} containers; one line names at most {MAX_AT_ONCE}, as:"
            f" {most}"
        )
    if first < last or code.casefold().count(letters.casefold()) == 1:
        return ""
    right = f"{letters}{span[2]}-{letters}{span[1]}" if last < first else f"{letters}{span[1]}"
    return (
        f"{code} is no range of containers; it runs from the lower number to the higher, as:"
        f" {right}"
    )


def like_codes(text: str) -> bool:
    """Whether a word looks like one or several codes."""
    names = names_of(text, ())
    return bool(names) and all(_LIKE_A_CODE.match(name) for name in names)


FIRST_FEW = 8  # names that are told one by one


def some_of(codes: Sequence[str]) -> str:
    """The first few names, and how many more there are."""
    more = f" and {len(codes) - FIRST_FEW} more" if len(codes) > FIRST_FEW else ""
    return f"{', '.join(codes[:FIRST_FEW])}{more}" if codes else "none yet"
