"""Eggs that may be none, as a keeper says it: ``maybe 6``, ``6 perhaps``, ``6?``."""

from __future__ import annotations

from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import Word
from rounds.entries.phrase.verbs import EGGS, number_of

_DOUBT = frozenset({"maybe", "perhaps", "possibly", "probably", "unsure", "?"})
_ABOUT = frozenset({"about", "around", "some", "roughly", "another"})
_MORE = frozenset({"more", "new", "extra", "other", "others", "another"}) | EGGS
_SEARCH = frozenset({"searched", "search", "searching", "found"})
_STARTS = 2  # words before what happened: whose it is


def unsure_eggs(reader: Reader) -> None:
    """Read what stands in doubt in a search as ``6 unsure``; any other line stays as it is."""
    reader.words = [part for word in reader.words for part in _apart(word)]
    words, place = reader.words, 0
    while place < len(words):
        begin = place
        while _said(words, begin) in _ABOUT:
            begin += 1
        is_doubt = _said(words, begin) in _DOUBT
        while _said(words, begin) in _DOUBT | _ABOUT:
            begin += 1
        number = number_of(words[begin]) if begin < len(words) else ""
        end, is_egg = begin + 1, False
        while number and _said(words, end) in _MORE:
            is_egg |= _said(words, end) in EGGS
            end += 1
        is_of_the_next = end + 1 < len(words) and bool(number_of(words[end + 1]))
        if number and _said(words, end) in _DOUBT and not is_of_the_next:
            is_doubt, end = True, end + 1
            while _said(words, end) in EGGS:
                is_egg, end = True, end + 1
        if number and is_doubt and ((is_egg and place < _STARTS) or _is_search(words[:place])):
            at = words[begin].at
            if place and is_egg and words[place - 1].lower == "found":
                place -= 1  # 'found 6 eggs?'
            words[place:end] = [Word(number, at), Word("unsure", at)]
            place += 1
        place += 1


def _is_search(before: list[Word]) -> bool:
    return any(word.lower in _SEARCH and not word.quoted for word in before[: _STARTS + 1])


def _apart(word: Word) -> list[Word]:
    """A number, or eggs, with the question mark behind as two words: ``6?``."""
    text = word.text.removesuffix("?")
    if word.quoted or text == word.text or not (text.isdecimal() or text.casefold() in EGGS):
        return [word]
    return [Word(text, word.at), Word("?", word.at)]


def _said(words: list[Word], place: int) -> str:
    return words[place].lower if place < len(words) and not words[place].quoted else ""
