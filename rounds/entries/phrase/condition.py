"""How animals are that are let go or kept as specimens: ``released 1 crippled``, ``2 weak at Kettle
Down``, ``with bent wing``. It is a note, and no part of a place or number."""

from __future__ import annotations

from itertools import takewhile
from typing import get_args

from rounds.bench.codes import INSTAR
from rounds.entries.losses import Cause, Died
from rounds.entries.names import CONDITIONS as HOW_SHE_COMES
from rounds.entries.phrase.dates import time_at_end
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.synonyms import ASKED, MEANT, digits_of
from rounds.entries.phrase.times import is_time_word, is_weekday
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.verbs import NO_NAMES, VERBS
from rounds.entries.phrase.vocabulary import PREPOSITIONS
from rounds.entries.registry import Emerged
from rounds.entries.slots import each

CONDITIONS = HOW_SHE_COMES | each(
    "battered chipped crippled crumpled damaged deformed exhausted faded feeble flightless fresh"
    " frayed healthy injured lame lively malformed ragged rubbed sluggish strong tattered tired"
    " torn undersized unharmed vigorous weak weakened worn"
)
DEGREES = each(
    "a bit quite rather slightly somewhat still too very badly is are was were that which both"
)
_LINKS = each("and but or")
_FAILED = each("crippled deformed malformed crumpled")
_STATES = each("condition health shape state")


def set_condition_aside(reader: Reader) -> None:
    """Take how they are out of the words that are still to read, for the note; a word in capitals
    or in quotes is part of a name."""
    words = reader.words[reader.place :]
    place, said = 0, []
    numbered = any(_is_number(one) for one in reader.words[: reader.place])
    while place < len(words):
        counted = _counted(words, place) if numbered else 0
        is_name = place > 0 and words[place - 1].lower in PREPOSITIONS  # at fresh meadow
        length = 0 if is_name else _condition(words, place + counted)
        if length:
            said.append(one_text(words[place : place + counted + length]))
            del words[place : place + counted + length]
            continue
        numbered = numbered or _is_number(words[place])
        place += 1
    if said:
        kept = [one.strip(" ,").removeprefix("of them ") for one in said]
        kept = [name if (name := one.removeprefix("wings ")) in _FAILED else one for one in kept]
        if _FAILED & {*kept} and _holds_crippled(reader):
            reader.fields["wings"] = "crippled"
            kept = [one for one in kept if one not in _FAILED]
        reader.set_aside(*kept)
        reader.words[reader.place :] = _without_joins(words)


_OF_THE_DEAD = DEGREES | each(
    "black blackened brown browned dark green grey gray yellow pale discoloured soft mushy flat"
    " limp hard stiff wet slimy liquid swollen shrunken smelly all over and but"
)
_GOOD_WINGS = DEGREES | each(
    "wings wing ok fine good perfect normal straight expanded full fully spread hardened dry up and"
    " well all"
)


def set_looks_aside(reader: Reader) -> None:
    """Take how the dead look, ``1 dead, black and soft``, or that those that emerged have good
    wings, ``1 female out wings ok``, out of the end of a line, for the note."""
    words, wings = reader.words, reader.kind is Emerged
    known = _GOOD_WINGS if wings else _OF_THE_DEAD
    begin = end = time_at_end(words, reader.place)
    while begin > reader.place and _plain(words[begin - 1]).rstrip(",") in known:
        begin -= 1
    while begin < end and words[begin].lower in _LINKS | {"all", "up"}:
        begin += 1
    said = [_plain(one).rstrip(",") for one in words[begin:end]]
    if not set(said) - DEGREES - _LINKS or (wings and said[0] not in ("wings", "wing")):
        return
    told = one_text(words[begin:end]).strip(" ,")
    reader.set_aside(told)
    words[:] = [*_without_joins(words[:begin]), *words[end:]]


_DIED = each("dead died death deaths")
_OF_THEM = each("of them those these was were looked looks is are")


def set_some_of_the_dead_aside(reader: Reader) -> None:
    """Take what is said of some of those that died, ``2 dead, one black``, ``3 dead, 1 drowned``,
    out of the end of a line, for the note; said of all of them it is their cause or looks."""
    words = reader.words
    died = next((n for n, one in enumerate(words) if _said(one) in _DIED), 0)
    near = [n for n in (died - 1, died - 2, died + 1) if 0 < n < len(words)]
    many = next((n for n in near if digits_of(_said(words[n]))), 0)
    if not died or not many:
        return
    begin = max(died, many) + 1
    end = time_at_end(words, begin)
    some = next((n for n in range(begin, end) if _is_said_of_some(words, n, end)), end)
    if some == end:
        return
    of_all = digits_of(_said(words[some])) == digits_of(_said(words[many]))
    if of_all and _said(words[some + 1]) in _CAUSES:
        del words[some]
        return
    told = one_text(words[some:end]).strip(" ,()")
    reader.set_aside(told)
    words[:] = [*_without_joins(words[:some]), *words[end:]]


def _is_said_of_some(words: list[Word], place: int, end: int) -> bool:
    """Whether a number begins there with how so many of the dead look or of what they died, or
    behind a comma with any words that tell of no other animals."""
    if not digits_of(_said(words[place])):
        return False
    said = [_said(one) for one in words[place + 1 : end] if _said(one) not in _OF_THEM]
    if said[:1] and said[0] in (_OF_THE_DEAD | _CAUSES) - _LINKS:
        return True
    is_apart = words[place - 1].text[-1:] in ",;" or words[place].text[:1] == "("
    return is_apart and bool(said) and said[0] not in ASKED and not _tells_of_others({*said})


def _tells_of_others(said: set[str]) -> bool:
    happens = VERBS.keys() | MEANT.keys() | NO_NAMES | _OTHERS
    return bool(said & (happens - _DIED)) or any(map(INSTAR.match, said))


def _said(word: Word) -> str:
    return "" if word.quoted else word.lower.strip("();")


_OTHERS = each("left more less alive remain remaining there here others other rest still not")
_CAUSES = (
    frozenset(
        word
        for said in (*get_args(Cause), *Died.slots.short, *Died.slots.synonyms)
        for word in said.split()[:1]
    )
    - _DIED
)


def _holds_crippled(reader: Reader) -> bool:
    """Whether adults whose wings failed are on record where they are said to leave."""
    container = reader.bench.at(str(reader.fields.get("container", "")))
    return container is not None and any(lot.crippled for lot in container.lots)


def _is_number(word: Word) -> bool:
    return word.lower == "all" or bool(digits_of(word.lower))


def _counted(words: list[Word], place: int) -> int:
    """How many words say of how many it is: ``1``, ``2 of them``; that number is none of those
    that were let go, which stands before it."""
    of = [one.lower for one in words[place + 1 : place + 3]]
    many = words[place].lower
    if not (digits_of(many) or many in ("some", "all", "both")):
        return 0
    return 3 if of[:1] == ["of"] and of[1:] in (["them"], ["those"], ["these"]) else 1


def _condition(words: list[Word], place: int) -> int:
    """Of how many words a condition is that begins there; 0 where none does."""
    rest = [_plain(one) for one in words[place:]]
    if rest[:1] == ["with"] and any(rest[1:2]):
        length = 1
        for one in words[place + 1 :]:
            ends = one.lower in PREPOSITIONS - {"with", "of", "on"} or _is_time(one) or one.quoted
            if ends:
                break
            length += 1
            if one.text.endswith(","):
                break
        return length if length > 1 else 0
    if rest[:1] == ["in"]:
        near = [one.rstrip(",") for one in rest[1:4]]
        return next((at + 2 for at, one in enumerate(near) if one in _STATES), 0)
    if rest[:1] == ["wings"] and any(rest[1:2]):  # 'wings crippled'
        behind = _condition(words, place + 1)
        return behind + 1 if behind else 0
    of_them = 2 if rest[:1] == ["of"] and rest[1:2] in (["them"], ["those"]) else 0
    length = of_them
    length += len(list(takewhile(DEGREES.__contains__, rest[length:])))
    if length == len(rest) or rest[length].rstrip(",") not in CONDITIONS:
        return 0
    return length + 1 + _further(rest[length + 1 :])


def _further(rest: list[str]) -> int:
    """How many words more say the same: ``and worn``."""
    linked = len(list(takewhile((_LINKS | DEGREES).__contains__, rest)))
    if linked < len(rest) and rest[linked].rstrip(",") in CONDITIONS:
        return linked + 1 + _further(rest[linked + 1 :])
    return 0


def _plain(word: Word) -> str:
    """A word as it is compared; '' in quotes or with a capital, as a name has."""
    return "" if word.quoted or word.text[:1].isupper() else word.lower


def _is_time(word: Word) -> bool:
    return is_time_word(word.text) or is_weekday(word.text)


def _without_joins(words: list[Word]) -> list[Word]:
    """The words without what joined a condition to their end."""
    while words and not words[-1].quoted and words[-1].lower in _LINKS | {",", "-"}:
        words = words[:-1]
    if words and not words[-1].quoted:
        words[-1] = Word(words[-1].text.rstrip(","), words[-1].at)
    return words
