"""A time between two hours of a day at which animals came to hand, as a line of those that come in
says it: ``caught between 14:00 and 15:00``. The record has the earlier; both are a note."""

from __future__ import annotations

from collections.abc import Sequence

from rounds import late
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import STOPS, Word, cut

_HOUR = r"\d{1,2}[:.]\d{2}"
_CLOCK = late.pattern(rf"^{_HOUR}$")
_JOINED = late.pattern(rf"^({_HOUR})[-\N{{EN DASH}}]({_HOUR})$")
_BETWEEN = {"between": "and", "from": "to"}  # and what stands between the two


def without_span(text: str) -> tuple[str, str]:
    """A line with the earlier of two hours alone, and the words for both; '' if it has none."""
    words = cut(text)
    begin, end, first = _span_in(words)
    if not first:
        return text, ""
    after = words[end].at if end < len(words) else len(text)
    said = text[words[begin].at : after].strip()
    comma = "," if said.endswith(",") else ""
    rest = f"{text[: words[begin].at]}{first}{comma} {text[after:]}".strip()
    return rest, said.strip(STOPS)


def set_span_aside(reader: Reader) -> None:
    """Leave the earlier of two hours among the words that are still to read; both are a note."""
    begin, end, first = _span_in(reader.words)
    if not first or begin < reader.place:
        return
    _, said = without_span(reader.spoken)
    reader.set_aside(said)
    reader.words[begin:end] = [Word(first, reader.words[begin].at)]


def _span_in(words: Sequence[Word]) -> tuple[int, int, str]:
    """Where among words two hours stand, and the earlier; '' where they do not, or are of a
    laying."""
    for place, word in enumerate(words):
        if word.quoted or word.text == "--" or word.lower == "laid":
            break
        texts = [one.text.rstrip(STOPS) for one in words[place : place + 4]]
        if joined := _JOINED.match(texts[0]):
            return place, place + 1, joined[1]
        is_pair = len(texts) > 3 and _BETWEEN.get(word.lower) == texts[2].casefold()
        if is_pair and _CLOCK.match(texts[1]) and _CLOCK.match(texts[3]):
            return place, place + 4, texts[1]
    return 0, 0, ""
