"""What a line says beside a look: ``fine, 60 eggs`` is a look and eggs that were found, ``eating
well, 3 hanging`` are three that hang up, for that the others are as usual goes without saying."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rounds.bench.codes import INSTAR
from rounds.bench.folding.signs import SHOWN_BY
from rounds.bench.state import Container
from rounds.entries.base import Stage
from rounds.entries.phrase.reader import JOINS, PhraseProblem, Reader, one_a_line
from rounds.entries.phrase.short_forms import short_form
from rounds.entries.phrase.synonyms import ANIMALS, digits_of
from rounds.entries.phrase.tokens import Word
from rounds.entries.phrase.verbs import begins_what_happened
from rounds.entries.registry import Looked
from rounds.entries.schema import describe
from rounds.entries.slots import each

_USUAL = "as usual"
_LEADS = each("looked looks look seems seen all")
_LINKS = JOINS | each("but with")
_REST = each("the rest others other remaining all are is larvae caterpillars eggs pupae")
_LONGEST = 5  # words of a sign


def _signs() -> dict[str, str]:
    sign = describe(Looked).field("sign")
    choices = set(sign.choices if sign else ()) - {"still"}  # 'still 38 eggs' is no sign
    synonyms = Looked.slots.synonyms.items()
    said = {text: str(fields["sign"]) for text, fields in synonyms if "sign" in fields}
    return dict(zip(choices, choices, strict=True)) | dict(Looked.slots.short) | said


_SIGNS: Final = _signs()


def beside_a_look(reader: Reader) -> None:
    """Read such a line as what is seen beside the look, which is kept with it.

    Raises:
        PhraseProblem: it is said in two lines.
    """
    form = short_form(reader)
    container = reader.bench.at(form.code) if form else None
    if form is None or container is None:
        return
    begin, end = len(form.before), len(reader.words) - len(form.behind)
    said = reader.words[begin:end]
    if len(said) < 3 - (begin > 1) or not any(digits_of(one.lower) for one in said):
        return
    lead = 1 if said[0].lower in _LEADS and _sign(said, 1)[0] else 0
    sign, length = _sign(said, lead)
    if sign:
        at = _past_links(said, lead + length)
        if at < len(said) and digits_of(said[at].lower):
            _behind(reader, container, sign, said, at, begin)
    elif digits_of(said[0].lower):
        _before(reader, container, said, begin)


def _behind(
    reader: Reader, container: Container, sign: str, said: Sequence[Word], at: int, begin: int
) -> None:
    """The sign comes first, the number behind it: ``fine, 3 ...``."""
    animals = _animals(said, at + 1)
    after = at + 1 + animals
    other = _sign(said, after)[0]
    if other and other != sign:
        if sign == _USUAL:
            del reader.words[begin : begin + at]
        return
    if not other and begins_what_happened(reader, begin + after):
        raise one_a_line(reader, said[at])
    number = int(digits_of(said[at].lower))
    if animals and _is_fact(container, sign, number, said[at + 1 : after]):
        _refuse_adults_of_pupae(reader, container, said[at:after])
        reader.looked = sign
        del reader.words[begin : begin + at]


def _before(reader: Reader, container: Container, said: Sequence[Word], begin: int) -> None:
    """The number comes first, what else was seen behind it: ``5 eggs, ok``, ``3 hanging, rest
    fine``."""
    number, named = int(digits_of(said[0].lower)), 1 + _animals(said, 1)
    last = _past_links(said, named)
    sign, length = _sign(said, last)
    if named > 1 and sign and last + length == len(said) and _are_parted(said, named):
        if _is_fact(container, sign, number, said[1:named]):
            reader.looked = sign
            del reader.words[begin + named : begin + len(said)]
        return
    sign, length = _sign(said, named)
    at = named + length
    if not sign or not _are_parted(said, at):
        return
    others = _past_links(said, at)
    first = others
    while others < len(said) and said[others].lower in _REST:
        others += 1
    number_of_others = int(digits_of(said[others].lower) or 0) if others < len(said) else 0
    if number_of_others:
        others += 1 + _animals(said, others + 1)
        if number + number_of_others != sum(lot.number for lot in container.lots):
            return
    second, length = _sign(said, others)
    if others == first or others + length != len(said):
        return
    if second == _USUAL != sign:
        del reader.words[begin + at : begin + len(said)]
    elif sign == _USUAL != second and number_of_others:
        del reader.words[begin : begin + first]


def _past_links(said: Sequence[Word], at: int) -> int:
    while at < len(said) and said[at].lower in _LINKS:
        at += 1
    return at


def _are_parted(said: Sequence[Word], at: int) -> bool:
    """Whether a comma or what joins stands before that word."""
    return at < len(said) and (said[at - 1].text.endswith(",") or said[at].lower in _LINKS)


def _sign(words: Sequence[Word], at: int) -> tuple[str, int]:
    """The sign that begins at that word, and of how many words it is; '' and 0 for none."""
    for length in range(min(_LONGEST, len(words) - at), 0, -1):
        text = " ".join(one.lower for one in words[at : at + length]).replace("-", " ")
        if text in _SIGNS:
            return _SIGNS[text], length
    return "", 0


def _animals(words: Sequence[Word], at: int) -> int:
    """How many words from there on name stage, sex or instar."""
    end = at
    while end < len(words) and (words[end].lower in ANIMALS or INSTAR.match(words[end].lower)):
        if _sign(words, end)[0]:
            break  # prepupae
        end += 1
    return end - at


def _is_fact(container: Container, sign: str, number: int, animals: Sequence[Word]) -> bool:
    """Whether a number of animals is no part of what the sign says."""
    stage = _stage(animals[0].lower)
    there = container.lots_of(stage)
    if sign == _USUAL and stage != "adult":
        return True
    if sign == "condensation" or (sign in SHOWN_BY and SHOWN_BY[sign] != stage):
        return True
    sex = animals[0].lower.removesuffix("s")
    of_sex = [lot for lot in there if sex not in ("female", "male") or lot.sex in ("", sex)]
    return sum(lot.number for lot in of_sex) < (number if sign == _USUAL else 1)


def _stage(word: str) -> Stage:
    if word.startswith("egg"):
        return "egg"
    if word.startswith("pupa"):
        return "pupa"
    return "larva" if word.startswith(("larva", "cat", "l")) else "adult"


def _refuse_adults_of_pupae(reader: Reader, container: Container, said: Sequence[Word]) -> None:
    """Adults where pupae are on record are out of these, which is said with its verb."""
    sexed = [one.text for one in said]
    if _stage(said[1].lower) != "adult" or not container.count("pupa"):
        return
    typed = sorted(reader.words, key=lambda one: one.at)
    before = [one.text for one in typed if one.at < said[0].at and one.lower not in _LINKS]
    raise PhraseProblem(
        f"one thing a line: {' '.join(before).rstrip(',')}; then {container.code} emerged"
        f" {' '.join(sexed)}",
        said[0],
    )
