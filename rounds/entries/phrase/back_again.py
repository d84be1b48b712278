"""One that got out or was missing is back: ``K3 caught again``, ``K3 found``, ``LYC-27-01 back in
K3``."""

from __future__ import annotations

from rounds import late
from rounds.bench.codes import members
from rounds.bench.folding.not_seen import escaped_here, open_here
from rounds.bench.state import Container
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.phrase.verbs import lays

_BACK = late.of_words(
    r"(?:(?P<first>\S+) )?(?:(?:is|are|was|were|one|some) )*"
    r"(?P<word>caught|recaught|captured|found|back|turned up)(?P<again> again| alive)?"
    r"(?: (?P<number>\d+|one|two|three))?(?P<who>(?: (?:missing|of them|larvae?|l[1-9]))*)"
    r"(?: (?:in|into) (?P<into>\S+))?"
)


def back_again(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """Those of a container that got out or are missing are found; nothing of any other line, or
    where none is.

    Raises:
        PhraseProblem: how many, or what else may have been found.
    """
    told = _BACK.fullmatch(form.said)
    if told is None:
        return []
    first, number = told["first"] or "", digits_of(told["number"] or "")
    brood = reader.animals.get(first, "")
    if first and not brood:
        if number or not digits_of(first):
            return []
        number = digits_of(first)
    code = container.code
    out = [
        *open_here(reader.bench, code, brood, None),
        *escaped_here(reader.bench, code, brood, None),
    ]
    there = sum(one.number for one in out)
    if not there:
        return []
    found = f"{code} settled found {number or 1}"
    may_be_eggs = lays(container) or container.held
    if told["word"] == "found" and may_be_eggs and not (told["again"] or brood or told["who"]):
        raise PhraseProblem(
            f"eggs, or {'one' if there == 1 else f'some of {there}'} that got out or was missing?"
            f" As: {found}; {code} searched {number or 6}"
        )
    if there > 1 and not number:
        raise PhraseProblem(f"how many of {there}? As: {found}; {code} settled found {there}")
    into = reader.codes.get(told["into"] or "", code)
    if into != code:
        raise PhraseProblem(f"first {found}; then {code} moved {number or 1} to {into}")
    instar = [word.upper() for word in told["who"].split() if word[1:].isdecimal()]
    of_brood = [f"brood={brood}"] if brood else []
    return ["settled", "found", number or "1", *instar, *of_brood]


def whose_is_back(reader: Reader) -> None:
    """Put the container in front from which an animal is missing that is named first: ``LYC-27-01
    caught again``."""
    animal = reader.animal_of(reader.words[0]) if len(reader.words) > 1 else ""
    said = " ".join(word.lower for word in reader.words)
    if not animal or any(word.quoted for word in reader.words) or not _BACK.fullmatch(said):
        return
    bench = reader.bench
    codes = {
        one.container for one in (*bench.shortfalls, *bench.escaped) if animal in members(one.brood)
    }
    if len(codes) == 1:
        first = reader.words[0]
        reader.words.insert(0, type(first)(codes.pop(), first.at))
