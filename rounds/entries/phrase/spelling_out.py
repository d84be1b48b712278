"""Short and joined forms spelled out as the words that they stand for: ``12eggs``, ``2dead``,
``K2:4 eggs``, ``ca. 20``, ``1f 1m emerged``; and a second sex that one line says."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise

from rounds import late
from rounds.bench.codes import INSTAR
from rounds.entries.entry_factory import InvalidField
from rounds.entries.names import named_there
from rounds.entries.phrase.reader import JOINS, PhraseProblem, Reader
from rounds.entries.phrase.synonyms import ANIMALS, ASKED, CALLED, MEANT, NUMBER_WORDS, digits_of
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.verbs import EGGS, NO_NAMES, NONE, VERBS
from rounds.entries.phrase.vocabulary import DEAD
from rounds.entries.registry import KIND_BY_NAME, FounderIntake, Stocked
from rounds.entries.schema import KindSchema, describe
from rounds.entries.slots import each

_JOINED = late.of_figures(r"^(\d{1,4})([a-z]{3,}[.,;:!]?)$", re.IGNORECASE)
_LETTER = late.of_figures(r"^(\d{0,3})([fm])([.,;:!]?)$", re.IGNORECASE, signs="fFmM")
_ABOUT = frozenset({"ca", "approx", "approximately", "circa", "abt"})
_SEX = {"f": "female", "m": "male", "female": "female", "females": "female"} | {
    "male": "male",
    "males": "male",
}
_DEGREES = late.of_figures(r"^-?\d+(?:[.,]\d+)?\u00b0$", signs="-")
_DEGREE_WORDS = frozenset({"deg", "deg.", "degs", "degree", "degrees"})
_SCALES = frozenset({"c", "f", "celsius", "fahrenheit"})
_FIGURE = late.of_figures(r"^-?\d+(?:[.,]\d+)?$", signs="-")
_PRONOUNS = frozenset({"she", "he", "they", "it"})
_IS = frozenset({"is", "was", "are", "were", "has", "have"})
_WHOLE = late.of_figures(r"^\d{1,4}$")
_EGGS_BY_PLACE = 7  # words: K3 3 eggs 2 on bud 1
_OVERNIGHT = (("in", "the", "night"), ("during", "the", "night"), ("last", "night"), ("overnight",))
_OF_SO_MANY = late.of_figures(r"^(\d{1,3})/(\d{1,3})$")


def spell_out(reader: Reader) -> None:
    """Spell out what is short or joined, and take the number of a second sex out of the line."""
    words: list[Word] = []
    for word in reader.words:
        words += [word] if word.quoted else _parts(reader, word, is_first=not words)
    if len(words) > 2 and words[1].text in ("-", "\u2013") and words[2].text[:1].isdecimal():
        del words[1]  # 'K2 - 4 eggs'
    reader.words[:] = words
    _overnight(reader)
    _moved_first(reader)
    _as_specimen(reader)
    _climate(reader)
    _without_pronoun(reader)
    _without_adverbs(reader)
    _all_but(reader)
    _all_of_them_first(reader)
    _clutch(reader)
    _on_each_plant(reader)
    _eggs_by_place(reader)
    _in_degrees(reader)
    _so_many_more(reader)
    _read_fraction(reader)
    _out_of_pupae(reader)
    _read_letters_of_sex(reader.words)
    _instar_is_of_larvae(reader)
    _set_second_sex_aside(reader)


def check_second_sex(reader: Reader, described: KindSchema) -> None:
    """Refuse two sexes in a line of a kind that is said of no sex.

    Raises:
        PhraseProblem: there the animals are said one after the other.
    """
    kind = KIND_BY_NAME[described.name]
    if described.slots.text or described.name == "setting":
        reader.second_sex = None  # all its words are text
    if not reader.second_sex:
        return
    sexed = described.field("sex") and described.field("number")
    if not sexed or kind in (FounderIntake, Stocked):
        raise PhraseProblem(f"'{described.name}' takes one sex a line", reader.words[0])


def _instar_is_of_larvae(reader: Reader) -> None:
    """``5 L4 larvae`` as ``5 L4``, which says it already; ``L4`` alone may be a cup."""
    words = reader.words
    for at in range(len(words) - 1, 0, -1):
        instar = words[at - 1]
        counted = at > 1 and digits_of(words[at - 2].lower)
        if (
            INSTAR.match(instar.text.casefold())
            and not (instar.quoted or words[at].quoted)
            and (counted or not reader.code_of(instar))
            and words[at].lower in _LARVAE
        ):
            comma = "," * words[at].text.endswith(",")
            words[at - 1 : at + 1] = [Word(f"{instar.text}{comma}", instar.at)]


_LARVAE = each("larva larvae caterpillar caterpillars")


def _overnight(reader: Reader) -> None:
    """``11 hatched overnight`` as ``11 hatched inferred``: at some hour since the last look; of the
    dead, who were found now, it is a note."""
    words = reader.words
    said = [word.lower for word in words]
    end = len(words) - (said[-1:] == ["sure"])
    for night in _OVERNIGHT:
        at = end - len(night)
        if tuple(said[at:end]) != night or at < 1:
            continue
        of_evening = "last" in night
        if "hatched" in said[:at] or (_GROWN & {*said[:at]} and not of_evening):
            words[at:end] = [] if "inferred" in said else [Word("inferred", words[at].at)]
        elif DEAD & {*said[:at]} and not of_evening:
            reader.aside = one_text(words[at:end])
            del words[at:end]
        return


_GROWN = each("moulted pupated emerged")


def _moved_first(reader: Reader) -> None:
    """``move R1 to R2`` and ``move R1 larvae to R2`` as ``R1 moved to R2``: whose line it is stands
    first."""
    words = reader.words
    to = next((at for at, word in enumerate(words[:4]) if word.lower in ("to", "into")), 0)
    if to > 1 and words[0].lower in ("move", "moved") and reader.code_of(words[1]):
        words[:2] = [words[1], Word("moved", words[0].at)]


def _as_specimen(reader: Reader) -> None:
    """``kept 1 L3 as a voucher`` as ``1 L3 as a voucher``, which says what became of it."""
    words = reader.words
    said = [word.lower for word in words]
    if said[1:2] and said[1] in _TAKEN and _SPECIMEN.search(" ".join(said[2:])):
        del words[1]


_TAKEN = each("kept keep took taken take")
_SPECIMEN = late.pattern(r"\b(?:as|for) (?:an? |the )?(?:specimen|voucher|collection)s?\b")


def _climate(reader: Reader) -> None:
    """``room 22/48%`` as ``room air 22 48%``: how warm and how damp."""
    words = reader.words
    for place, word in enumerate(words[1:], 1):
        both = None if word.quoted else _WARM_AND_DAMP.match(word.text)
        if both:
            air = [] if words[place - 1].lower == "air" else [Word("air", word.at)]
            words[place : place + 1] = [*air, *(Word(one, word.at) for one in both.groups())]
            return


_WARM_AND_DAMP = late.pattern(r"^(-?\d+(?:[.,]\d+)?(?:\u00b0?[CcFf])?)/(\d{1,3}%)$")


def _all_of_them_first(reader: Reader) -> None:
    """``misted all`` as ``all misted``: whose line it is stands first."""
    words = reader.words
    if len(words) == 2 and words[1].lower == "all" and not any(one.quoted for one in words):
        words.reverse()


def _clutch(reader: Reader) -> None:
    """``a batch of 40 eggs``, ``egg batch 40`` and ``clutch of 40`` as ``40 eggs``; the word is a
    note."""
    words = reader.words
    place = next((at for at, one in enumerate(words) if one.lower in _CLUTCHES), 0)
    if not place or any(one.quoted for one in words):
        return
    begin = place
    while begin > 1 and words[begin - 1].lower in _BEFORE_A_CLUTCH:
        begin -= 1
    said = [one.lower for one in words] + ["", ""]
    number = place + 1 + (said[place + 1] == "of")
    end = number + 1 + (said[number + 1 : number + 2] in (["egg"], ["eggs"]))
    if begin == 1 and number < len(words) and digits_of(said[number]):
        reader.aside = words[place].text
        words[begin:end] = [words[number], Word("eggs", words[number].at)]


_CLUTCHES = each("batch clutch cluster")
_BEFORE_A_CLUTCH = each("egg eggs a an one 1 new another big small large found")


def _eggs_by_place(reader: Reader) -> None:
    """``K3 3 eggs, 2 on bud 1 on leaf`` as ``K3 2 eggs on bud 1 on leaf``.

    Raises:
        PhraseProblem: they are not so many.
    """
    words = reader.words
    texts = [one.lower.rstrip(",") for one in words]
    if len(words) < _EGGS_BY_PLACE or texts[2] not in ("egg", "eggs") or texts[4] != "on":
        return
    if any(one.quoted for one in words) or not (texts[1].isdecimal() and texts[3].isdecimal()):
        return
    parts = [one for one, on in pairwise(texts[3:]) if one.isdecimal() and on == "on"]
    in_all = sum(map(int, parts))
    if in_all != int(texts[1]):
        raise PhraseProblem(
            f"{texts[1]} eggs, but {' and '.join(parts)} are {in_all}; mend one of them", words[1]
        )
    words[1:4] = [words[3], words[2]]


def _on_each_plant(reader: Reader) -> None:
    """``K6 2 eggs on dock, none sorrel`` as ``K6 2 eggs on dock, none on sorrel``: of plants that
    stand there."""
    words = reader.words
    said = [word.lower for word in words]
    container = reader.bench.at(str(reader.code_of(words[0]))) if words else None
    if container is None or "on" not in said or EGGS.isdisjoint(said):
        return
    there = dict.fromkeys(host.plant for host in container.hosts)
    for place in range(len(words) - 2, said.index("on") + 1, -1):
        joined = words[place - 1].text.endswith(",") or said[place - 1] in JOINS
        so_many = said[place] in NONE or digits_of(said[place])
        behind = words[place + 1 : place + 3]
        if joined and so_many and not words[place].quoted and _names_one_of(there, behind):
            words.insert(place + 1, Word("on", words[place].at))


def _names_one_of(there: Mapping[str, None], words: Sequence[Word]) -> bool:
    """Whether words begin with a plant that stands there, or may be several of them."""
    for length in range(len(words), 0, -1):
        try:
            if named_there(one_text(words[:length]).rstrip(","), there):
                return True
        except InvalidField:
            return True
    return False


def _without_pronoun(reader: Reader) -> None:
    """``K2 she is dead`` as ``K2 dead``."""
    words = reader.words
    if len(words) > 2 and reader.code_of(words[0]) and words[1].lower in _PRONOUNS:
        end = 2 + (len(words) > 3 and words[2].lower in _IS)
        if not any(word.quoted for word in words[1:end]):
            del words[1:end]


def _without_adverbs(reader: Reader) -> None:
    """``one has pupated`` as ``one pupated``, ``only W1 drank`` as ``W1 drank``, ``still no eggs``
    as ``no eggs``, ``neither drank`` as ``none drank``: words before what happened that say no
    more."""
    words, place = reader.words, 1
    while place < len(words) - 1:
        word, following = words[place], words[place + 1]
        if word.quoted or following.quoted:
            return
        if word.lower in _ADVERBS or (word.lower == "still" and following.lower in _NOT_YET):
            del words[place]
        elif word.lower in _NEITHER:
            words[place] = Word("none", word.at)
            if following.lower == "of":
                del words[place + 1 : place + 3]
            return
        elif digits_of(word.text) or word.lower in _WHO or _names_known(reader, word):
            place += 1
        else:
            return


def _all_but(reader: Reader) -> None:
    """``all but 2 hatched`` and ``all hatched but one`` as so many of those that are there, where
    these are of one stage."""
    words = reader.words
    container = reader.bench.at(reader.code_of(words[0])) if words else None
    said = [word.lower for word in words]
    place = said.index("but") if "but" in said[:-1] else 0
    number = int(digits_of(said[place + 1]) or 0) if place else 0
    if container is None or not number or said[1] != "all" or words[place + 1].quoted:
        return
    left = container.count() - number
    if len({lot.stage for lot in container.lots}) == 1 and left > 0:
        del words[place : place + 2]
        words[1] = Word(f"{left}", words[1].at)


def _names_known(reader: Reader, word: Word) -> bool:
    known = reader.codes.keys() | reader.animals.keys()
    return all(name.casefold() in known for name in reader.names_in(word))


_ADVERBS = each("has have had just only already")
_NOT_YET = each("no not none nothing")
_NEITHER = each("neither nobody no-one")
_WHO = NO_NAMES & ANIMALS | each("the a an one all both and")


def _in_degrees(reader: Reader) -> None:
    """``27 degrees`` and ``27 deg F`` as ``27C`` and ``27F``."""
    words = reader.words
    for place in range(len(words) - 1):
        number, unit = words[place], words[place + 1]
        if number.quoted or unit.quoted or unit.lower not in _DEGREE_WORDS:
            continue
        if _FIGURE.match(number.text):
            scale = words[place + 2].lower[:1] if place + 2 < len(words) else ""
            is_said = scale and words[place + 2].lower in _SCALES
            letter = scale.upper() if is_said else reader.measures.temperature
            words[place : place + 2 + bool(is_said)] = [Word(f"{number.text}{letter}", number.at)]
            return


def _so_many_more(reader: Reader) -> None:
    """``another 5 eggs`` as ``5 more eggs``, and ``all 12`` as ``12``."""
    words = reader.words
    for place, (word, number) in enumerate(pairwise(words)):
        if word.quoted or number.quoted or not digits_of(number.text):
            continue
        if word.lower == "another" and digits_of(number.text) != "1":
            words[place : place + 2] = [number, Word("more", word.at)]
        elif word.lower == "all" and not word.text.endswith(","):
            del words[place]
            return


def _parts(reader: Reader, word: Word, *, is_first: bool) -> list[Word]:
    before, colon, behind = word.text.partition(":")
    if is_first and colon and behind and before.casefold() in reader.codes:
        return [Word(before, word.at), Word(behind, word.at + len(before) + 1)]
    if is_first and "/" in word.text and word.lower not in reader.codes:
        codes = word.text.split("/")
        if all(code.casefold() in reader.codes for code in codes):
            return [Word(",".join(codes), word.at)]
    if word.text.startswith("~") and word.text[1:2].isdecimal():
        return [Word("about", word.at), Word(word.text[1:], word.at + 1)]
    if word.lower in CALLED:
        return [Word(CALLED[word.lower], word.at)]
    if _DEGREES.match(word.text):
        return [Word(f"{word.text[:-1]}C", word.at)]
    joined = _JOINED.match(word.text)
    is_code = word.lower in reader.codes or word.lower in reader.animals
    if joined and not is_code and joined[2].casefold().rstrip(".,;:!") in _HAPPENS:
        return [Word(joined[1], word.at), Word(joined[2], word.at + len(joined[1]))]
    return [word]


_HAPPENS = NO_NAMES | ASKED.keys() | {"egg", "eggs"}


def _read_fraction(reader: Reader) -> None:
    """``K1 2/2 drank`` and ``R1 13/14`` as ``2 of 2 drank`` and ``13 of 14``."""
    words = reader.words
    found = _OF_SO_MANY.match(words[1].text) if len(words) > 1 else None
    is_end = len(words) == 2 or (words[2:] and words[2].lower in _HAPPENS)
    if found and is_end and not words[1].quoted and words[0].lower in reader.codes:
        at = words[1].at
        words[1:2] = [Word(found[1], at), Word("of", at), Word(found[2], at)]


def _out_of_pupae(reader: Reader) -> None:
    """``P3 2 f out`` and ``P3 male is out`` as ``emerged``, where pupae stand and nothing is said
    but how many of which sex; ``E3 4 out of the egg`` as ``hatched``, where eggs alone stand."""
    words = reader.words
    container = reader.bench.at(reader.code_of(words[0])) if words else None
    stages = {lot.stage for lot in container.lots} if container else set()
    verb = "emerged" if "pupa" in stages else "hatched" if stages == {"egg"} else ""
    if not verb or any(word.quoted for word in words):
        return
    out = next((place for place, word in enumerate(words) if word.lower == "out"), 0)
    is_out = out - (out > 1 and words[out - 1].lower in ("is", "are", "came", "has"))
    told = [word.lower for word in words[1:is_out]]
    if told and all(_counts_or_sexes(one) for one in told):
        end = out + 1
        if end < len(words) and words[end].lower == "of":
            while end < len(words) and words[end].lower in _OUT_OF:
                end += 1
        words[is_out:end] = [Word(verb, words[is_out].at)]


_OUT_OF = each("of the its their egg eggs pupa pupae shell shells")


def _counts_or_sexes(text: str) -> bool:
    counts = _WHOLE.match(text) or text in NUMBER_WORDS or text == "all"
    return bool(counts or _LETTER.match(text) or text in _SEX)


def _read_letters_of_sex(words: list[Word]) -> None:
    """``1f`` and ``2 m`` as ``1 female`` and ``2 male``: beside the other, or beside what happens
    to animals with a sex, for ``34 f`` is a temperature; and ``ca 20`` as ``about 20``."""
    for place in range(len(words) - 1, -1, -1):
        word = words[place]
        letter = None if word.quoted else _LETTER.match(word.text)
        after = "" if place + 1 >= len(words) else words[place + 1].lower
        before = words[place - 1].lower if place else ""
        if not word.quoted and place and word.lower in _ABOUT and _WHOLE.match(after):
            words[place] = Word("about", word.at)
        if letter is None or not (letter[1] or place):
            continue
        counted = bool(letter[1]) or bool(_WHOLE.match(before))
        earlier = words[place - 2].lower if place > 1 and not letter[1] and counted else before
        beside = (
            _has_sex(after)
            or _has_sex(earlier)
            or (counted and (after in ("to", "into") or _is_other(words, place, letter[2])))
        )
        if beside:
            sex = Word(_SEX[letter[2].casefold()] + letter[3], word.at + len(letter[1]))
            words[place : place + 1] = [Word(letter[1], word.at), sex] if letter[1] else [sex]


def _has_sex(text: str) -> bool:
    """Whether a word is what happens to animals that have a sex, or to females."""
    kind = VERBS.get(text) or (MEANT[text][0] if text in MEANT else "")
    return bool(kind) and (
        describe(KIND_BY_NAME[kind]).field("sex") is not None or kind in ("drank", "refused")
    )


def _is_other(words: list[Word], place: int, letter: str) -> bool:
    """Whether a number of the other sex stands behind that word, or right before its number."""
    other = "m" if letter.casefold() == "f" else "f"
    behind = [word.lower for word in words[place + 1 : place + 4]]
    while behind and behind[0] in JOINS:
        del behind[0]
    near = "".join(behind[:2])
    before = "".join(word.lower for word in words[max(0, place - 3) : place])
    return bool(
        re.match(rf"^\d+{other}(?:$|e?m?ale)", near) or re.search(rf"\d+{other}\w*\d*$", before)
    )


def _set_second_sex_aside(reader: Reader) -> None:
    """Take ``1 female`` out of ``1 male 1 female``: it is said as a second line."""
    words = reader.words
    for place in range(len(words) - 3):
        if any(word.quoted for word in words[place : place + 5]):
            continue
        behind = place + 2 + (words[place + 2].text.casefold() in JOINS)
        first, second = _counted(words, place), _counted(words, behind)
        if first and second and first[1] != second[1]:
            reader.second_sex = second
            last = words[behind + 1]
            both = str(first[0] + second[0])  # '2 emerged 1 male 1 female'
            total = [word for word in words[1:place] if digits_of(word.lower) == both]
            del words[place + 2 : behind + 2]
            if last.text[-1:] in ",;":  # it ended both
                words[place + 1] = Word(words[place + 1].text.rstrip(",;") + ",", last.at)
            reader.words[:] = [word for word in words if word not in total]
            return


def _counted(words: list[Word], place: int) -> tuple[int, str] | None:
    if place + 1 >= len(words):
        return None
    number = digits_of(words[place].lower)
    sex = _SEX.get(words[place + 1].lower) if len(words[place + 1].lower) > 1 else None
    return (int(number), sex) if number and sex else None
