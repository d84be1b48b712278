"""What a container holds as a keeper says it: ``2 females Leptidea sinapis``, ``41 eggs``, ``5 L5
R3/A``, ``6 pupae``."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from datetime import datetime
from itertools import takewhile
from typing import Any, get_args

from msgspec import Struct
from msgspec.structs import replace

from rounds import late
from rounds.bench.codes import INSTAR
from rounds.bench.folding.lots import PURPOSE_OF
from rounds.bench.plurals import PLURALS
from rounds.bench.taxon_names import with_genus
from rounds.entries import registry as k
from rounds.entries.base import Purpose, Saying
from rounds.entries.check_labels import called
from rounds.entries.names import CONDITIONS, name_and_rest
from rounds.entries.phrase.foreign_words import (
    foreign_to_species,
    is_no_name,
    no_name,
    own_words,
)
from rounds.entries.phrase.synonyms import (
    ANIMALS,
    CALLED,
    STAGE_AND_SEX,
    digits_of,
    stage_and_sex,
)
from rounds.entries.phrase.times import is_month, is_time_word
from rounds.entries.phrase.vocabulary import PREPOSITIONS, UNITS
from rounds.entries.slots import each

SHORT = {"f": "female", "m": "male", "e": "eggs", "l": "larvae", "p": "pupae"}  # 2f, 41e, 6p
SAYS_NOTHING = frozenset({"wild", "wild-caught", "caught", "live", "living", "of", "adult"}) | {
    "new",
    "more",
    "another",
    "further",
}
BEFORE_KIND = SAYS_NOTHING | CONDITIONS  # a condition is a note
# how animals look
_OF_NO_NAME = (
    CONDITIONS
    | SAYS_NOTHING
    | each(
        "very quite rather pale dark bright light deep dull yellow green brown black white red grey"
        " gray blue"
    )
)
SIGNS = {
    "dark": "darkening",
    "darkening": "darkening",
    "still": "still",
    "moulting": "still",
    "hanging": "hanging",
    "wandering": "wandering",
    "colouring": "colouring",
    "weak": "weak",
}
PURPOSES: tuple[str, ...] = get_args(Purpose)
_PURPOSE_CALLED = {called(purpose): purpose for purpose in PURPOSES}
MOST_BEFORE = 5  # words of a kind, with its number: 1 wild caught gravid female
MAX_ADULTS, MAX_YOUNG = 20, 500  # in one container
_NAMED = late.pattern(r"\s[A-Z][a-z]+\.? [a-z]{3}")
_METRES = late.pattern(r"^(\d+) m$")
_FEMALE = late.pattern(r"(?<!\S)\(?(?:fem(s?)\.?|f\.)\)?(?=[\s,]|$)")
_GENUS = late.pattern(r"^(?:[^\W\d_]+-?[^\W\d_]{2,}|[^\W\d_]{1,3}\.)$")
_EPITHET = late.pattern(r"^[^\W\d_A-Z-][^\W\d_A-Z]*(?:-[^\W\d_A-Z]+)*[^\W\d_A-Z-]$")
_IN_FULL = late.pattern(r"\bfemales?\b")  # where the letter of males would stand alone
_TOGETHER = late.pattern(r"^(\d+)([^\W\d]\w*)$")
_YEAR = late.pattern(r"^\(?[12]\d{3}\)?,?$")  # of whoever named a species
_ABOUT = frozenset({"about", "approximately", "around", "ca", "ca.", "roughly", "some"})
_ESTIMATE = "~"  # before a number that is one
_DOZEN = late.pattern(
    r"(?<!\S)(?P<many>(?:half|two|three|2|3)?)\s*(?:an?\s+)?dozen(?=\s)", re.IGNORECASE
)
_DOZENS = {"half": 0.5, "two": 2, "2": 2, "three": 3, "3": 3}
_SO_MANY = frozenset({"some", "few", "several", "many"})  # of which nobody knows how many
_BETWEEN = frozenset({"and", "+", ","})
_WORD = late.pattern(r"""(?:"[^"]*"|'[^'\s][^']*')(?=[\s,]|$)|\S+""")  # quotes hold words together
_CODE = late.pattern(r"^(?=.*\d)(?=.*[^\W\d])[\w.+/-]+(,[\w.+/-]+)*$")


class Holding(Struct, frozen=True):
    """Animals of one kind: how many, of what, and the codes that they have already.

    ``codes`` are those of founders, or the one of a brood; ``sign`` is what was seen of them;
    ``about`` so many is an estimate; ``behind`` is what stands behind the name, for a note.
    """

    number: int
    stage: str
    sex: str = ""
    instar: int = 0
    taxon: str = ""
    codes: tuple[str, ...] = ()
    sign: str = ""
    about: bool = False
    behind: str = ""

    @property
    def purpose(self) -> str:
        """What a container that holds them is for."""
        return PURPOSE_OF[(self.stage == "adult" and self.sex) or self.stage]

    @property
    def words(self) -> str:
        """How many of what, in words."""
        what = (self.stage == "adult" and self.sex) or self.stage
        several = what if self.number == 1 else PLURALS.get(what, f"{what}s")
        what = f"L{self.instar}" if self.instar else several
        sex = f"{self.sex} " if self.sex and self.stage != "adult" else ""
        return f"{'about ' if self.about else ''}{self.number} {sex}{what}"


class Origin(Struct, frozen=True):
    """Where animals come from, on which plant they were found, when and by whom they were
    caught, between when they were laid, on which plant they are now, what else is told, and whether
    they were taken from the wild there; or why the time is not clear, or a name."""

    place: str = ""
    found_on: str = ""
    caught: datetime | None = None
    laid: tuple[datetime, datetime] | None = None
    collector: str = ""
    plant: str = ""
    note: str = ""
    unclear: str = ""
    wild: bool = False
    no_name: str = ""
    behind: str = ""  # last words of the place that may be a plant


class NotHeld(Struct, frozen=True):
    """What is not clear about it, in one line; ``wrong`` is the word and ``nearest`` what it may
    be."""

    line: str
    wrong: str = ""
    nearest: str = ""


def number_of(word: str) -> str:
    """The digits of a number in digits or words; empty where it is none."""
    word = word.removeprefix(_ESTIMATE)
    return "1" if word.casefold() in ("a", "an") else digits_of(word)


def purpose_named(words: str) -> str:
    """The purpose of that name, or that is called so on the screen; other words as they are."""
    said = words.casefold()
    return _PURPOSE_CALLED.get(said, said)


def purpose_of(held: Sequence[Holding]) -> str:
    """What a container that holds all these is for: where a female stands it is laying, else what
    the first of them needs."""
    purposes = [holding.purpose for holding in held]
    return "laying" if "laying" in purposes else purposes[0]


def purpose_for(said: Sequence[Saying]) -> str:
    """What a container is for into which that comes: as its animals need, else it keeps plants."""
    held = [
        Holding(1, fields.get("stage", "adult"), fields.get("sex", ""))
        for kind, fields in said
        if kind in (k.FounderIntake, k.Stocked)
    ]
    return purpose_of(held) if held else "host store"


def words_in(text: str) -> list[str]:
    """The words of a text; a name in quotes is one, with its quotes."""
    return _WORD.findall(text)


# A comma or a plus, none of those within quotes.
_JOINS = late.pattern(r"""(?P<whole>"[^"]*"|(?<=\s)'[^']*'(?=[\s,]|$))|,(?=\s|$)|\+(?=\s)""")


def parts_of(text: str) -> list[str]:
    """The animals of each kind as typed, a kind beginning at its number: ``1f 1m A b``, ``2 females
    A b and 3 eggs``."""
    parts: list[list[str]] = [[]]
    words = _apart(text)
    for position, word in enumerate(words):
        between = word.casefold() in _BETWEEN
        if between and position + 1 < len(words) and _may_begin_kind(words[position + 1 :]):
            parts.append([])
        elif parts[-1] and _begins_kind(words[position : position + MOST_BEFORE]):
            parts.append([word])
        else:
            parts[-1].append(word)
    return [" ".join(part).rstrip(" ,").replace(" ,", ",") for part in parts if part]


def _apart(text: str) -> list[str]:
    """Each word of a text, also a number and its letter, ``1f``, and what joins two kinds of
    animals."""
    words: list[str] = []
    text = _DOZEN.sub(lambda one: str(round(12 * _DOZENS.get(one["many"].casefold(), 1))), text)
    for word in words_in(_JOINS.sub(lambda join: join["whole"] or f" {join[0]} ", text)):
        together = _TOGETHER.match(word)
        known = together and (
            together[2].casefold() in {*SHORT, *ANIMALS} or INSTAR.match(together[2])
        )
        split = [together[1], together[2]] if together and known else [word]
        # 'about 30' is one word from here on
        if words and words[-1].casefold() in _ABOUT and number_of(split[0]):
            del words[-1]
            split[0] = f"{_ESTIMATE}{number_of(split[0])}"
        words += split
    return words


def _begins_kind(words: Sequence[str]) -> bool:
    """Whether a number and a kind of animal stand first: ``4 L4``, ``1 m``, ``one wild female``."""
    before = list(takewhile(lambda word: word.casefold() in BEFORE_KIND, words[1:]))
    kind = words[len(before) + 1 :][:1]
    known = [word for word in (*before, *kind) if word.casefold() in ANIMALS]
    short = [word for word in kind if word.casefold() in SHORT or INSTAR.match(word)]
    return bool(number_of(words[0]) and (known or short))


def with_sex_in_full(text: str) -> str:
    """``fem``, ``fem.`` and ``f.`` as female; a line with a name in quotes stays as it is."""
    return text if '"' in text else _FEMALE.sub(r"female\1", text)


def kind_first(text: str) -> str:
    """The animals before their name, with the number that goes without saying: ``wild Boloria dia
    2 females`` as ``2 wild females Boloria dia``, ``female Boloria dia`` as ``1 female ...``."""
    number, place = "", 0
    text = with_sex_in_full(text)
    words = text.split()
    if words and number_of(words[0]) and len(words) > 1:
        number, place = words[0], 1
    how = [*takewhile(lambda word: word.casefold() in SAYS_NOTHING, words[place:])]
    place += len(how)
    name, behind = [word.rstrip(",") for word in words[place : place + 2]], place + 2
    if not may_be_named(name):
        is_alone = not place and words and words[0].casefold() in ("female", "male")
        of_her = [word.rstrip(",") for word in words[1:3]]
        return f"1 {' '.join(words)}" if is_alone and may_be_named(of_her) else text
    if words[behind:] and not number and number_of(words[behind]):
        number, behind = words[behind], behind + 1
    sex = words[behind] if words[behind:] else ""
    if not stage_and_sex(sex.rstrip(","))[1]:
        return text
    named = " ".join(name) + "," * sex.endswith(",")
    return " ".join([number or "1", *(*how, sex.rstrip(","), named), *words[behind + 1 :]])


def may_be_named(words: Sequence[str]) -> bool:
    """Whether two words can be genus and epithet, the genus in small letters too."""
    genus, epithet = words if len(words) == 2 else ("", "")
    small = genus.casefold() == genus
    return bool(_GENUS.match(genus) and _EPITHET.match(epithet)) and not (
        small and (_OF_NO_NAME | own_words()) & {genus, epithet}
    )


def numbered(text: str) -> str:
    """The text with the number that goes without saying: ``gravid female`` is one."""
    words = words_in(text)
    before = list(takewhile(lambda word: word.casefold() in BEFORE_KIND, words))
    kind = words[len(before) :][:1]
    is_one = bool(before and kind) and kind[0].casefold() in ("female", "male")
    return f"1 {text.lstrip()}" if is_one else text


def _may_begin_kind(words: Sequence[str]) -> bool:
    """Whether a number behind a comma may begin a kind, known or not: no year, no ``20 Jul``, and
    no ``one worn``."""
    return bool(
        number_of(words[0])
        and not (len(words) > 1 and is_month(words[1].rstrip(",.")))
        and not _YEAR.match(words[0])
        and (words[0][:1].isdecimal() or _begins_kind(words[:MOST_BEFORE]))
    )


def says_kinds(text: str) -> bool:
    """Whether a number of animals is said anywhere in a text."""
    words = _apart(text)
    return any(
        _begins_kind(words[position : position + MOST_BEFORE]) for position in range(len(words))
    )


def begins_with_kind(text: str) -> bool:
    """Whether a text begins with a number of animals."""
    return _begins_kind(_apart(text)[:MOST_BEFORE])


def asked_of_instar(text: str, here: str = "R1") -> str:
    """What is asked where an instar without a number stands right before animals, which may be the
    code of another container: ``L2 3 females``; '' where none does."""
    first, *others = _apart(text) or [""]
    if not (INSTAR.match(first) and others and _begins_kind(others[:MOST_BEFORE])):
        return ""
    behind = text.strip()[len(first) :].strip()
    return (
        f"is {first} a container of its own, or 1 larva? As: {first} {behind}; {here} 1 {first},"
        f" {behind}"
    )


def asked_of_kind(text: str, cup: str) -> str:
    """What is asked of animals and their name, ``6 cocoons Boloria dia``, ``some eggs Boloria
    dia``, that say not how many of which kind; '' of anything else."""
    words = _apart(text) or [""]
    digits = number_of(words[0])
    rest = words[1:] if digits else words
    is_vague = bool(rest) and rest[0].casefold() in _SO_MANY
    digits, rest = ("", rest[1:]) if is_vague else (digits, rest)
    animals, kind = " ".join(rest), rest[0].casefold() if rest else ""
    is_kind = kind in ANIMALS or bool(INSTAR.match(kind))
    begins = digits or is_vague or is_kind
    if not begins or kind in UNITS.keys() - ANIMALS or not _NAMED.search(f" {animals}"):
        return ""
    is_one = not is_vague and not CALLED.get(kind, kind).endswith(("s", "ae"))
    number = digits or ("1" if is_one else "6")
    if rest[0][0].isupper() and not is_kind:
        what = next((one for one in rest if one.casefold() in ANIMALS), "eggs")
        name = " ".join(one for one in rest if one != what)
        return f"how many of what? As: {cup} {number} {what} {name}"
    held = read_animals(f"{number} {animals}")
    if isinstance(held, NotHeld) and held.wrong:
        return held.line
    return f"how many? As: {cup} {number} {animals}"


def tells_of_adults(text: str) -> bool:
    """Whether adults are said anywhere in a text: ``2 females``, ``1f``."""
    words = [word.casefold() for part in parts_of(text) for word in part.split()]
    kinds = [
        SHORT.get(word, word) if number_of(before) else word
        for before, word in zip(["", *words], words, strict=False)
    ]
    return any(stage_and_sex(kind)[0] == "adult" for kind in kinds)


def read_kinds(text: str) -> list[Holding] | NotHeld:
    """All animals of a container as typed; a kind without a species is of that before it, else of
    the next that is said."""
    if asked := asked_of_instar(text):
        return NotHeld(asked)
    held: list[Holding] = []
    for part in parts_of(text):
        before, high = held[-1] if held else None, _METRES.match(part)
        if before and before.taxon and high and _IN_FULL.search(text):
            count, name = before.words, before.taxon
            return NotHeld(
                f"'{part}': males, or metres? As: {count}, {high[1]} males {name};"
                f" {count} {name} from Tannmoos, {part}"
            )
        one = read_animals(part)
        if isinstance(one, NotHeld):
            return one
        held.append(one)
    texts = [holding.taxon for holding in held if holding.taxon]
    taxon = texts[0] if texts else ""
    for position, one in enumerate(held):
        taxon = one.taxon or taxon
        named = one.codes and one.stage != "adult"  # its brood says which species it is
        held[position] = one if one.taxon or named else replace(one, taxon=taxon)
    return held


def read_animals(text: str) -> Holding | NotHeld:
    """Some animals of one kind, as typed."""
    words = _apart(text)
    digits = number_of(words[0]) if words else ""
    rest = words[1:] if digits else words
    condition, rest = _condition(rest)
    if digits and rest and rest[0].casefold() in SHORT:
        rest = [SHORT[rest[0].casefold()], *rest[1:]]
    if not rest:
        return NotHeld(f"{text} of what? As: 41 eggs; 2 females; 5 L5")
    stage, sex, instar, used = _stage(rest)
    if not stage:
        forms = [
            form for form in STAGE_AND_SEX if digits in ("", "1") or form.endswith(("s", "ae"))
        ]
        near = late.nearest(rest[0].casefold(), forms, 1, 0.6)
        question = (
            f" Is it {near[0]}?"
            if near
            else " It can be females, males, eggs, larvae, L1 to L9, pupae, adults."
        )
        return NotHeld(f"'{rest[0]}' is not known.{question}", rest[0], near[0] if near else "")
    kind = CALLED.get(rest[0].casefold(), rest[0].casefold())
    if not digits and kind.endswith(("s", "ae")) and not instar:
        return NotHeld(f"how many {rest[0]}? As: 6 {rest[0]}")
    number = int(digits or 1)
    most = MAX_ADULTS if stage == "adult" else MAX_YOUNG
    if not 1 <= number <= most:
        return NotHeld(
            f"{number} is not a number of animals for one container; type 1 to {MAX_YOUNG}, adults"
            f" 1 to {MAX_ADULTS}"
        )
    rest = [word for word in rest[used:] if word.casefold() not in SAYS_NOTHING]
    sign = SIGNS.get(rest[-1].casefold(), "") if rest else ""
    rest = rest[:-1] if sign else rest
    sign = sign or ("hanging" if kind.startswith("prepupa") else "")
    behind_name = [word for word in rest if INSTAR.match(word)] if stage == "larva" else []
    instars = list(dict.fromkeys(filter(None, (instar, *(int(one[1:]) for one in behind_name)))))
    if len(instars) > 1:
        several = " or ".join(f"L{one}" for one in instars)
        each = ", ".join(f"{number} L{one}" for one in instars)
        return NotHeld(f"{several}? Say of each how many there are, as: {each}")
    if behind_name:  # '8 larvae of Boloria dia L3'
        rest = [word for word in rest if word not in behind_name]
        instar = int(behind_name[0][1:])
    codes = tuple(code for word in rest if _CODE.match(word) for code in word.split(","))
    name = " ".join(word for word in rest if not _CODE.match(word)).replace(" ,", ",").rstrip(" ,")
    taxon, behind = name_and_rest(name)
    if behind[:1].isupper() and " " in taxon:
        place = behind.partition(",")[0]
        return NotHeld(
            f"'{place}' behind the name: a place is said as: {taxon} at {place}; any other"
            " word of it behind --"
        )
    taxon = taxon[1:-1] if taxon[:1] == taxon[-1:] == "'" else taxon
    odd = next((word for word in taxon.split() if _is_no_name(word)), "") or (
        foreign_to_species(taxon) if taxon[:1] != '"' else ""
    )
    if not odd and taxon[:1] != '"' and (odd := no_name(taxon)):
        return NotHeld(is_no_name(odd, taxon))
    if odd:
        before = taxon.partition(odd)[0].strip() or stage
        right = "as: 2 females, 1 male Boloria dia"
        if odd[:1].isupper():
            right = f"a place is said as: {before} from {taxon[len(before) :].strip()}"
        return NotHeld(f"'{odd}' is not understood behind '{before}'; {right}")
    if stage == "adult" and len(codes) > number:
        return NotHeld(f"{len(codes)} codes for {number}; give one for each at the most")
    if stage != "adult" and len(codes) > 1:
        return NotHeld(f"{' and '.join(codes)}: one brood a line")
    about = words[0].startswith(_ESTIMATE)
    behind = ", ".join(filter(None, (condition, behind)))
    taxon = with_genus(taxon) if may_be_named(taxon.split()) else taxon
    return Holding(number, stage, sex, instar, taxon, codes, sign, about, behind)


def _condition(words: list[str]) -> tuple[str, list[str]]:
    """How they are, said before what they are, as ``gravid`` of a wild gravid female; and the words
    from what they are on."""
    said: list[str] = []
    while words and words[0].casefold() in BEFORE_KIND and _begins_kind(["1", *words[1:]]):
        first, *words = words
        said += [first] if first.casefold() in CONDITIONS else []
    return " ".join(said), words


def _is_no_name(word: str) -> bool:
    """Whether a word cannot be of a species' name: a number that is no year, a stage or a sex."""
    return (
        is_time_word(word)
        or word.casefold() in ANIMALS | PREPOSITIONS
        or (word.strip("(),").isdecimal() and not _YEAR.match(word))
    )


def _stage(words: list[str]) -> tuple[str, str, int, int]:
    """Stage, sex, instar, and how many words said so; a sex before a stage is of that stage: female
    pupae."""
    sex = stage_and_sex(words[0])[1]
    of_these = _stage(words[1:]) if sex and len(words) > 1 else ("", "", 0, 0)
    if of_these[0] and not of_these[1]:
        return of_these[0], sex, of_these[2], of_these[3] + 1
    first = INSTAR.match(words[0])
    if first:
        used = 2 if len(words) > 1 and stage_and_sex(words[1])[0] == "larva" else 1
        return "larva", "", int(first[1]), used
    stage, sex = stage_and_sex(words[0])
    second = INSTAR.match(words[1]) if stage == "larva" and len(words) > 1 else None
    return stage, sex, int(second[1]) if second else 0, 2 if second else 1


def free_codes(taxon: str, now: datetime, used: Collection[str]) -> Iterator[str]:
    """Codes for animals of that species that no others have: ``LSI-27-01`` and on."""
    stem = f"{re.sub('[^A-Za-z]', '', taxon)[:3].upper() or 'WIL'}-{now:%y}"
    return (code for position in range(1, 10_000) if (code := f"{stem}-{position:02d}") not in used)


def brood_codes(held: Sequence[Holding], now: datetime, used: Collection[str]) -> list[str]:
    """A brood's code for each kind that is not adult, '' for adults: its own, else a free one for
    each species."""
    own = {code for one in held for code in one.codes}
    given: dict[str, str] = {}
    for one in held:
        if one.stage != "adult" and not one.codes and one.taxon not in given:
            given[one.taxon] = next(free_codes(one.taxon, now, {*used, *own, *given.values()}))
    return [
        (
            ""
            if holding.stage == "adult"
            else holding.codes[0]
            if holding.codes
            else given[holding.taxon]
        )
        for holding in held
    ]


def codes_of(held: Holding, brood: str, now: datetime, used: set[str]) -> list[str]:
    """The code of their brood, or one for each adult, its own or a free one; used from now on."""
    own = [brood] if brood else [*held.codes]
    free = free_codes(held.taxon, now, {*used, *own})
    codes = own if brood else [*own, *(next(free) for _ in range(held.number - len(own)))]
    used.update(codes)
    return codes


def sayings(
    held: Holding, container: str, codes: list[str], origin: Origin, *, begun: bool
) -> list[Saying]:
    """What is said of these animals: adults caught come in as founders, one code each; others are
    stocked as a brood.

    Args:
        codes: one for each adult; else the brood's.
        origin: where they come from.
        begun: whether the brood has begun already.
    """
    here: dict[str, Any] = {"container": container}
    told = {name: getattr(origin, name) for name in ("place", "caught", "found_on", "collector")}
    catch = {name: value for name, value in told.items() if value}
    if held.stage == "adult":
        came = here | {"taxon": held.taxon, "stage": "adult", "sex": held.sex} | catch
        return [*((k.FounderIntake, came | {"code": code}) for code in codes), *_noted(held, here)]
    stocked = here | {
        "brood": codes[0],
        "stage": held.stage,
        "number": held.number,
    }
    stocked |= catch if origin.wild else {"origin": origin.place}
    stocked |= {"instar": held.instar} if held.instar else {}
    stocked |= {"sex": held.sex} if held.sex else {}
    laid_then = dict(zip(("laid_from", "laid_to"), origin.laid or (), strict=False))
    stocked |= laid_then if held.stage == "egg" else {}
    brood = {"code": codes[0], "taxon": held.taxon} | laid_then
    start: list[Saying] = [] if begun else [(k.BroodBegun, brood)]
    estimate: list[Saying] = (
        [(k.Note, here | {"text": f"{held.words}, an estimate"})] if held.about else []
    )
    return [*start, (k.Stocked, stocked), *estimate, *_noted(held, here)]


def _noted(held: Holding, here: dict[str, Any]) -> list[Saying]:
    return [(k.Note, here | {"text": held.behind})] if held.behind else []
