"""What one cell says: a number, yes or no, a stage, how long each stage took."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from unicodedata import category

from rounds.exchange.loggers.cells import number_of
from rounds.exchange.tables_in import vocabulary as v
from rounds.exchange.tables_in.vocabulary import all_of, bare, has, with_numbers

STAGES = ("egg", "larva", "pupa", "adult")
INSTARS = ("L2", "L3", "L4", "L5", "L6", "L7")  # that a larva moults to
ALL_INSTARS = ("L1", *INSTARS)
_INSTAR = re.compile(
    r"(?<![^\W_])(?:(?:l|instar|stadium|stade|estadio)\s?([1-9])"
    r"|([1-9])(?:st|nd|rd|th|e|er|eme|o)? ?(?:instar|stadium|stade|estadio)"
    r"|(first|second|third|fourth|fifth|sixth|seventh) instar)(?![^\W_])"
)
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh")
_SPAN = re.compile(r"(\d+(?:[.,]\d+)?)")
_BEFORE_A_SIGN = re.compile(r"(?<![^\W_])(\d+)(?=[^\W\d_](?![^\W_]))")  # as in 8m 9f
_FEMALE_BESIDE_M = ("h", "v")  # hembra, vrouwtje
_SUM = re.compile(r"\d{1,5}(?:\s*\+\s*\d{1,5})+")
_PRODUCT = re.compile(r"(\d{1,4})\s*[x×*]\s*(\d{1,4})")
_RANGE = re.compile(r"(\d{1,5})\s*(?:[-–—]|to|bis|à|a|tot)\s*(\d{1,5})")
_DAYS_RANGE = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*(?:[-–—]|\b(?:to|bis|à|a|tot|hasta)\b)\s*(\d+(?:[.,]\d+)?)"
)
_ABOUT = re.compile(r"^[~≈±<>≤≥]|^\+/?-|^c\.\s?(?=\d)")
_IN_BRACKETS = re.compile(r"\(\s*(\d+)\s*\)")
_GIVE_OR_TAKE = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:±|\+/-|\+-)\s*\d+(?:[.,]\d+)?(.*)")


@dataclass(frozen=True, slots=True)
class CellNumber:
    """A number in a cell; ``about`` where it is an estimate, or reckoned from what is written."""

    value: float
    about: bool = False


def is_nothing(cell: str) -> bool:
    """Whether a cell says nothing: empty, a dash, a question mark, n/a."""
    words = bare(cell)
    is_marks = not words and all(category(sign)[0] in "PZ" or sign in "~`^" for sign in cell)
    return is_marks or words in v.NOTHING


def says_not_known(cell: str) -> bool:
    """Whether a cell says that nobody knows: a question mark alone, unknown."""
    text = bare(cell)
    is_marks = bool(text) and set(text) <= {"?", " "}
    return is_marks or (
        has(v.UNKNOWN, text) and len(text.split()) < 3 and text.split()[0] not in v.YES
    )


def says_same(cell: str) -> bool:
    """Whether a cell says that it is as the one above it."""
    return (bare(cell) or cell) in v.SAME_CELL


def amount(cell: str) -> CellNumber | None:
    """The number in a cell, with its unit, ``ca.`` or ``?`` beside it, in brackets, as a word, a
    sum ``30+5`` or a product ``2x15``, of each sex ``2 f + 10 m``; None where there is none."""
    text = cell.strip()
    if sexes := sexes_in(text):
        return CellNumber(sum(sexes.values()))
    if _SUM.fullmatch(text):
        return CellNumber(sum(map(int, text.split("+"))), about=True)
    if bracket := _IN_BRACKETS.fullmatch(text):
        return CellNumber(int(bracket[1]), about=True)
    if product := _PRODUCT.fullmatch(text):
        return CellNumber(int(product[1]) * int(product[2]), about=True)
    if text.casefold() in v.NUMBER_WORDS:
        return CellNumber(v.NUMBER_WORDS[text.casefold()])
    unsure = text.removesuffix("(?)").rstrip("? ")
    if middle := _GIVE_OR_TAKE.fullmatch(unsure):
        found = amount(f"{middle[1]}{middle[2]}")
        return CellNumber(found.value, about=True) if found else None
    about = bool(_ABOUT.match(text)) or has(v.ABOUT, bare(text)) or text != unsure
    text = unsure
    if about:
        text = text.lstrip("~≈±<>≤≥+/- ")
        text = re.sub(r"^[^\W\d_]+\.?\s*", "", text)
    value = number_of(text)
    if value is None:
        match = re.fullmatch(r"(\d+(?:[.,]\d+)?)\s*[^\W\d_]+\.?", text)
        value = number_of(match[1]) if match else None
    return CellNumber(value, about) if value is not None else None


def bound_in(cell: str) -> str:
    """``>`` of a cell that says at least so many, ``<`` of at most; empty of any other."""
    sign = cell.strip()[:1]
    return ">" if sign in (">", "≥") else "<" if sign in ("<", "≤") else ""


def begins_with_number(cell: str) -> bool:
    """Whether a short cell is a number, or is meant for one: ``30-35``, ``33+``, ``30 (2 dry)``."""
    return amount(cell) is not None or (len(cell) <= 14 and bool(re.match(r"[~≈<>]?\s*\d", cell)))


def about_days(cell: str) -> CellNumber | None:
    """The middle of a range of days, as of ``5-6`` or ``5-6 d``; None where it is none."""
    match = re.fullmatch(rf"{_DAYS_RANGE.pattern}\s*[^\W\d_]*\.?", cell.strip())
    middle = amount(_middles(cell)) if match else None
    return CellNumber(middle.value, about=True) if middle else None


_WITH_WORD = re.compile(r"(\d{1,5})\s*([^\W\d_]{2,})\.?")  # 12 weak, 7 samce
_OF_ANIMALS = ", ".join((v.PIECES, v.ABOUT, v.ALL, v.FEMALE, v.MALE, *v.STAGE_WORDS.values()))


def words_beside(cell: str) -> list[str]:
    """The words beside the numbers of a cell that holds nothing else, as of ``12 weak``, ``7 samce,
    3 samice``, without those that say no more than that they are animals, of some stage or sex."""
    parts = re.split(r"\s*[,;+&/]\s*", cell.strip())
    found = [_WITH_WORD.fullmatch(part) for part in parts]
    words = [one[2] for one in found if one]
    return [word for word in words if not has(_OF_ANIMALS, bare(word))] if all(found) else []


def right_number(cell: str) -> str:
    """What would be right where a cell is no whole number."""
    if match := _RANGE.fullmatch(cell.strip()):
        middle = (int(match[1]) + int(match[2]) + 1) // 2
        return f"of a range write one number, as ca. {middle}"
    if match := re.match(r"(\d{1,5})\s*\+$", cell):
        return f"write {match[1]}, or ca. {match[1]}"
    if match := re.match(r"(\d{1,5})\s*[(,;/]", cell):
        return f"write {match[1]}, and what stands behind it in a column of its own"
    return "it must be a whole number, as 12 or ca. 12, or empty where nobody counted"


def whole(cell: str) -> int | None:
    """The whole number in a cell, not below zero; None where there is none."""
    found = amount(cell)
    if found is None or found.value < 0 or found.value != int(found.value):
        return None
    return int(found.value)


def says_all(cell: str) -> bool:
    """Whether a cell says nothing but all: as many as were there."""
    words = bare(cell).split()
    return bool(words) and all(has(v.ALL, word) for word in words)


def yes_or_no(cell: str) -> bool | None:
    """Yes or no; None where it is neither."""
    text = bare(cell) or cell.strip()
    return True if text in v.YES else False if text in v.NO else None


def stage_in(cell: str) -> str:
    """The stage that a cell names; empty where it names none. An instar is of larvae."""
    text = bare(cell)
    if instar_in(cell):
        return "larva"
    found = all_of(v.STAGE_WORDS, text)
    return found[0][2] if found else ""


def dead_stage_in(cell: str) -> str:
    """The stage in which a cell says that they died: what did not hatch, saying no more, is an
    egg."""
    return stage_in(cell) or ("egg" if has(v.NOT_HATCHED, bare(cell)) else "")


_ON = "on, the, am, le, el, op"  # before a date
_AND = re.compile(r"\s*[,;+&/]\s*|\s(?:and|und|et|y|en)\s")


def without_death(cell: str) -> str:
    """What a cell says beside that it died: the date of ``† 20.6.21``, ``mort le 20/6/21``."""
    words = cell.replace("†", " † ").split()
    beside = (word for word in words if not has(f"{v.DEAD}, {_ON}", bare(word)))
    return " ".join(beside)


def numbers_of_stages(cell: str) -> dict[str, int]:
    """How many of each stage, as in ``2 larves, 1 chrysalide``; empty where a part of the cell is
    anything else."""
    found: dict[str, int] = {}
    for part in filter(None, _AND.split(cell.strip())):
        number = re.match(r"(\d{1,5})\s*(?=[^\W\d_])", with_numbers(part))
        stage = stage_in(part)
        if not number or not stage or stage in found:
            return {}
        found[stage] = int(number[1])
    return found


def says_fate(cell: str) -> bool:
    """Whether a cell can say what became of an animal: died or not, in which stage, how else."""
    is_word = has(v.ENDINGS, bare(cell)) or has(v.NOT, bare(cell))
    return yes_or_no(cell) is not None or is_word or bool(stage_in(cell))


def instar_in(cell: str) -> int:
    """The instar that a cell names, L3; 0 where it names none."""
    match = _INSTAR.search(bare(cell))
    if not match:
        return 0
    return _ORDINALS.index(match[3]) + 1 if match[3] else int(match[1] or match[2])


def sex_in(cell: str) -> str:
    """``female``, ``male`` or nothing."""
    text = bare(cell)
    if "♀" in cell or has(v.FEMALE, text):
        return "female"
    return "male" if "♂" in cell or has(v.MALE, text) else ""


def sex_named(heading: str) -> str:
    """The one sex that a heading names; empty where it names none, or both."""
    text = bare(heading)
    return "" if has(v.FEMALE, text) and has(v.MALE, text) else sex_in(heading)


def sexes_in(cell: str) -> dict[str, int]:
    """How many of each sex, as in ``2 females and 1 male``, ``3♀ 1♂``, ``f 2, m 10``, ``4m 1v``, be
    their sum beside them; empty where no number stands beside a sex."""
    apart = with_numbers(_BEFORE_A_SIGN.sub(r"\1 ", cell))
    named = bare(apart).split()
    beside_males = "m" in named  # a letter that means females there alone
    words = [
        "female" if word in _FEMALE_BESIDE_M and beside_males else word
        for word in named
        if word.isdecimal() or sex_in(word) or (word in _FEMALE_BESIDE_M and beside_males)
    ]
    if not any(map(sex_in, words)):
        return {}
    if len(words) % 2:
        for total, others in ((words[0], words[1:]), (words[-1], words[:-1])):
            found = _pairs_of_sexes(others)
            if total.isdecimal() and found and sum(found.values()) == int(total):
                return found
        return {}
    return _pairs_of_sexes(words)


def _pairs_of_sexes(words: list[str]) -> dict[str, int]:
    pairs = [(words[at], words[at + 1]) for at in range(0, len(words), 2)]
    found: dict[str, int] = {}
    for one, other in pairs:
        number, sex = (one, other) if words[0].isdecimal() else (other, one)
        if not number.isdecimal() or not (which := sex_in(sex)) or which in found:
            return {}
        found[which] = int(number)
    return found


def is_one(words: str) -> bool:
    """Whether words tell of one animal: ``a larva pupated``, ``female emerged``."""
    said = bare(words).split()
    animals = ", ".join((*v.STAGE_WORDS.values(), v.FEMALE, v.MALE))
    begins = ", ".join(v.BEGINNINGS.values())
    named = [word for word in said if has(animals, word) and not has(begins, word)]
    is_single = bool(named) and all(has(v.ONE_ANIMAL, word) for word in named)
    return is_single and len(said) > len(named)


def is_about_spans(cell: str) -> bool:
    """Whether some stage in a text of spans took about so long: ``5-6 d``, ``ca. 21 d``."""
    return _middles(cell) != cell or has(v.ABOUT, bare(cell)) or bool(re.search(r"[~≈?]", cell))


def _middles(text: str) -> str:
    """A text with the middle of each range in its place."""

    def middle(found: re.Match[str]) -> str:
        low, high = (float(number.replace(",", ".")) for number in found.groups())
        return f"{(low + high) / 2:g}"

    return _DAYS_RANGE.sub(middle, text)


# Words without figures that stand for instars while the numbers of a text are looked for.
_NAMES_OF_INSTARS = {instar: f"instar{chr(ord('a') + at)}" for at, instar in enumerate(ALL_INSTARS)}
_SPANNED: Mapping[str, str] = {**_NAMES_OF_INSTARS, **v.STAGE_WORDS}


def _named_instar(found: re.Match[str]) -> str:
    return _NAMES_OF_INSTARS.get(f"L{instar_in(found[0])}", found[0])


def spans_in(cell: str) -> dict[str, float] | None:
    """How long each stage or instar took [days], from a text as ``egg 3 d, L1 4 d``; None where it
    is none such: each stage with one number, the number behind the stage, or before each."""
    text = _middles(_INSTAR.sub(_named_instar, cell.casefold()))
    parts = [part for part in re.split(r"[,;/|+]\s+|[;/|+]|\s+and\s+|\s+und\s+", text) if part]
    parts = parts if len(parts) > 1 else [text]
    found: dict[str, float] = {}
    for part in parts:
        stages = [stage for _, _, stage in all_of(_SPANNED, bare(part))]
        numbers = _SPAN.findall(part)
        if len(stages) != len(numbers) or not stages:
            return None
        for stage, number in zip(stages, numbers, strict=True):
            if stage in found:
                return None
            days = float(number.replace(",", "."))
            found[stage] = days * 7 if has(v.WEEKS, bare(part)) else days
    return found
