"""Eggs that may be none, as a keeper says it: ``maybe 6``, ``6 perhaps``, ``6?``; ``6
more unsure`` are beside those seen before."""

from __future__ import annotations

from rounds.bench.plurals import PLURALS
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.short_forms import short_form
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.verbs import EGGS, lays, number_of

_DOUBT = frozenset({"maybe", "perhaps", "possibly", "probably", "unsure", "?"})
_ABOUT = frozenset({"about", "around", "some", "roughly", "another"})
_MORE = frozenset({"more", "new", "extra", "other", "others", "another"}) | EGGS
_SEARCH = frozenset({"searched", "search", "searching", "found"})
_STARTS = 2  # words before what happened: whose it is


def unsure_eggs(reader: Reader) -> None:
    """Read what stands in doubt in a search as ``6 unsure``; any other line stays as it is. Those
    said to be more are added to the ones that wait, on the plant that the line names or on the
    only one.

    Raises:
        PhraseProblem: on which of several plants they are more.
    """
    reader.words = [part for word in reader.words for part in _apart(word)]
    words, place = reader.words, 0
    while place < len(words):
        begin = place
        while _said(words, begin) in _ABOUT:
            begin += 1
        is_doubt = in_short = _said(words, begin) in _DOUBT
        while _said(words, begin) in _DOUBT | _ABOUT:
            begin += 1
        number = number_of(words[begin]) if begin < len(words) else ""
        end, is_egg = begin + 1, False
        while number and _said(words, end) in _MORE:
            is_egg |= _said(words, end) in EGGS
            end += 1
        is_of_the_next = end + 1 < len(words) and bool(number_of(words[end + 1]))
        if number and _said(words, end) in _DOUBT and not is_of_the_next:
            in_short |= _said(words, end) == "?"
            is_doubt, end = True, end + 1
            while _said(words, end) in EGGS | {"more"}:
                is_egg |= _said(words, end) in EGGS
                end += 1
        is_more = "more" in (word.lower for word in words[place:end])
        short = number and is_doubt and (in_short or is_more)
        whole = short and _is_whole_line(reader, place, number)
        if (
            number
            and is_doubt
            and ((is_egg and place < _STARTS) or _is_search(words[:place]) or whole)
        ):
            at = words[begin].at
            if place and is_egg and words[place - 1].lower == "found":
                place -= 1  # 'found 6 eggs?'
            added = _with_those_before(reader, number, words[end:]) if is_more else [number]
            words[place:end] = [
                Word(added[0], at),
                Word("unsure", at),
                *(Word(one, at) for one in added[1:]),
            ]
            place += len(added)
        place += 1


def _is_whole_line(reader: Reader, place: int, number: str) -> bool:
    """Whether nothing but a container, and a time, stands before.

    Raises:
        PhraseProblem: no new eggs can be there, and so many animals may be a count.
    """
    form = short_form(reader)
    if form is None or len(form.before) != place:
        return False
    container = reader.bench.at(form.code)
    if container and container.lots and not (lays(container) or container.held):
        animals = PLURALS[container.lots[0].stage]
        raise PhraseProblem(
            f"are all {animals} there counted roughly? As: {form.code} counted {number} {animals}"
            f" about; or as a note: {form.code} note {form.said}"
        )
    return True


def _with_those_before(reader: Reader, number: str, behind: list[Word]) -> list[str]:
    """How many may be eggs now, and the plant that they are on where the line does not say it."""
    code = next(code for word in reader.words if (code := reader.code_of(word)))
    container = reader.bench.at(code)
    rest = one_text(behind)
    waiting = container.unsure if container else []
    named = [one for one in waiting if one.plant and one.plant.casefold() in rest.casefold()]
    unnamed = [] if "on" in rest.casefold().split() else waiting
    plants = [one.plant for one in unnamed if one.plant]
    if not named and len(unnamed) > 1 and plants:
        lines = " or ".join(
            f"{code} {number} more unsure on {plant} {rest}".strip() for plant in plants
        )
        raise PhraseProblem(f"on which plant? Some wait on several; as: {lines}")
    total = int(number) + sum(one.number for one in named or unnamed)
    return [str(total), *(["on", plants[0]] if plants and not named else [])]


def _is_search(before: list[Word]) -> bool:
    return any(word.plain in _SEARCH for word in before[: _STARTS + 1])


def _apart(word: Word) -> list[Word]:
    """A number, or eggs, with the question mark behind as two words: ``6?``."""
    text = word.text.removesuffix("?")
    if word.quoted or text == word.text or not (text.isdecimal() or text.casefold() in EGGS):
        return [word]
    return [Word(text, word.at), Word("?", word.at)]


def _said(words: list[Word], place: int) -> str:
    return words[place].plain if place < len(words) else ""
