"""What a container holds as a keeper says it: ``2 females Leptidea sinapis``, ``41 eggs``, ``5 L5 R3/A``, ``6 pupae``."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from datetime import datetime
from difflib import get_close_matches
from typing import Any, get_args

from msgspec import Struct

from rounds.bench import kinds as k
from rounds.bench.kinds.base import Purpose
from rounds.bench.phrasing.everyday import NUMBER_WORDS
from rounds.checks.question import Saying

STAGES = {
    "female": ("adult", "female"), "females": ("adult", "female"), "male": ("adult", "male"), "males": ("adult", "male"),
    "egg": ("egg", ""), "eggs": ("egg", ""), "larva": ("larva", ""), "larvae": ("larva", ""), "caterpillar": ("larva", ""),
    "caterpillars": ("larva", ""), "pupa": ("pupa", ""), "pupae": ("pupa", ""), "adult": ("adult", ""), "adults": ("adult", ""),
}  # fmt: skip
SHORT = {"f": "female", "m": "male", "e": "eggs", "l": "larvae", "p": "pupae"}  # 2f, 41e, 6p
SAYS_NOTHING = frozenset({"wild", "wild-caught", "caught", "live", "living", "of", "adult"})
SIGNS = {
    "dark": "darkening", "darkening": "darkening", "still": "still", "moulting": "still", "hanging": "hanging",
    "wandering": "wandering", "colouring": "colouring", "weak": "weak",
}  # fmt: skip
PURPOSES: tuple[str, ...] = get_args(Purpose)
PURPOSE_OF = {"female": "laying", "male": "holding", "egg": "eggs", "larva": "rearing", "pupa": "pupation", "adult": "holding"}
MOST_ADULTS, MOST_YOUNG = 20, 500  # in one container
_INSTAR = re.compile(r"^L(\d{1,2})$", re.IGNORECASE)
_TOGETHER = re.compile(r"^(\d+)([^\W\d]\w*)$")
_CODE = re.compile(r"^(?=.*\d)(?=.*[^\W\d])[\w.+/-]+(,[\w.+/-]+)*$")


class Holding(Struct, frozen=True):
    """Animals of one kind: how many, of what, and the codes that they have already.

    ``codes`` are those of founders, or the one of a brood; ``sign`` is what was seen of them.
    """

    number: int
    stage: str
    sex: str = ""
    instar: int = 0
    taxon: str = ""
    codes: tuple[str, ...] = ()
    sign: str = ""

    @property
    def purpose(self) -> str:
        """What a container that holds them is for."""
        return PURPOSE_OF.get(self.sex, PURPOSE_OF[self.stage])

    @property
    def words(self) -> str:
        """How many of what, in words."""
        what = f"L{self.instar}" if self.instar else self.sex or self.stage
        plural = "" if self.number == 1 or self.instar else "e" if what in ("larva", "pupa") else "s"
        return f"{self.number} {what}{plural}"


class NotHeld(Struct, frozen=True):
    """What is not clear about it, in one line; ``wrong`` is the word and ``nearest`` what it may be."""

    line: str
    wrong: str = ""
    nearest: str = ""


def number_of(word: str) -> str:
    """The digits of a number in digits or words; empty where it is none."""
    return word if word.isdecimal() else {"a": "1", "an": "1"}.get(word.casefold(), NUMBER_WORDS.get(word.casefold(), ""))


def purpose_before(words: list[str]) -> tuple[str, list[str]]:
    """The purpose that the words begin with, '' where they begin with none, and the words after it."""
    for length in (2, 1):
        said = " ".join(words[:length]).casefold()
        if said in PURPOSES and not (said == "eggs" and len(words) > 1 and words[1][:1].isalpha() and not number_of(words[1])):
            return said, words[length:]
    return "", words


def read_animals(text: str) -> Holding | NotHeld:
    """Some animals of one kind, as typed."""
    words = text.split()
    together = _TOGETHER.match(words[0]) if words else None
    if together and (together[2].casefold() in {*SHORT, *STAGES} or _INSTAR.match(together[2])):
        words = [together[1], together[2], *words[1:]]
    digits = number_of(words[0]) if words else ""
    rest = words[1:] if digits else words
    rest = rest[1:] if rest and rest[0].casefold() in SAYS_NOTHING else rest
    rest = [SHORT[rest[0].casefold()], *rest[1:]] if digits and rest and rest[0].casefold() in SHORT else rest
    if not rest:
        return NotHeld(f"{text} of what? As: 41 eggs; 2 females; 5 L5")
    stage, sex, instar, used = _stage(rest)
    if not stage:
        forms = [form for form in STAGES if digits in ("", "1") or form.endswith(("s", "ae"))]
        near = get_close_matches(rest[0].casefold(), forms, n=1, cutoff=0.6)
        question = f" Is it {near[0]}?" if near else " It can be females, males, eggs, larvae, L1 to L9, pupae, adults."
        return NotHeld(f"'{rest[0]}' is not known.{question}", rest[0], near[0] if near else "")
    if not digits and rest[0].casefold().endswith(("s", "ae")) and not instar:
        return NotHeld(f"how many {rest[0]}? As: 6 {rest[0]}")
    number = int(digits or 1)
    most = MOST_ADULTS if stage == "adult" else MOST_YOUNG
    if not 1 <= number <= most:
        return NotHeld(f"{number} is not a number of animals for one container; type 1 to {MOST_YOUNG}, adults 1 to {MOST_ADULTS}")
    rest = [word for word in rest[used:] if word.casefold() not in SAYS_NOTHING]
    sign = SIGNS.get(rest[-1].casefold(), "") if rest else ""
    rest = rest[:-1] if sign else rest
    codes = tuple(code for word in rest if _CODE.match(word) for code in word.split(","))
    taxon = " ".join(word for word in rest if not _CODE.match(word))
    if stage == "adult" and len(codes) > number:
        return NotHeld(f"{len(codes)} codes for {number}; give one for each at the most")
    if stage != "adult" and len(codes) > 1:
        return NotHeld(f"{' and '.join(codes)}: one brood a line")
    return Holding(number, stage, sex, instar, taxon, codes, sign)


def _stage(words: list[str]) -> tuple[str, str, int, int]:
    """Stage, sex, instar, and how many words said so."""
    first = _INSTAR.match(words[0])
    if first:
        used = 2 if len(words) > 1 and STAGES.get(words[1].casefold(), ("", ""))[0] == "larva" else 1
        return "larva", "", int(first[1]), used
    stage, sex = STAGES.get(words[0].casefold(), ("", ""))
    second = _INSTAR.match(words[1]) if stage == "larva" and len(words) > 1 else None
    return stage, sex, int(second[1]) if second else 0, 2 if second else 1


def free_codes(taxon: str, now: datetime, used: Collection[str]) -> Iterator[str]:
    """Codes for animals of that species that no others have: ``LSI-27-01`` and on."""
    stem = f"{re.sub('[^A-Za-z]', '', taxon)[:3].upper() or 'WIL'}-{now:%y}"
    return (code for place in range(1, 10_000) if (code := f"{stem}-{place:02d}") not in used)


def sayings(held: Holding, container: str, codes: list[str], origin: str, *, begun: bool) -> list[Saying]:
    """What is said of these animals: adults caught come in as founders, one code each; others are stocked as a brood.

    Args:
        codes: one for each adult; else the brood's.
        origin: where they come from.
        begun: whether the brood has begun already.
    """
    here: dict[str, Any] = {"container": container}
    if held.stage == "adult":
        caught = here | {"taxon": held.taxon, "stage": "adult", "sex": held.sex} | ({"place": origin} if origin else {})
        return [(k.FounderIntake, caught | {"code": code}) for code in codes]
    stocked = here | {"brood": codes[0], "stage": held.stage, "number": held.number, "origin": origin}
    stocked |= {"instar": held.instar} if held.instar else {}
    start: list[Saying] = [] if begun else [(k.BroodBegun, {"code": codes[0], "taxon": held.taxon})]
    return [*start, (k.Stocked, stocked)]
