"""Short forms that are whole lines: a container, what is said of it, and the time in front of it,
behind its code, or at the end. Each is read as the line that says the same in full."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from msgspec import Struct

from rounds.bench.state import Container
from rounds.entries.phrase.dates import length_of_time, time_at_end
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import Word

_BEFORE_TIME = frozenset({"at", "on", "since", "about", "around", "by"})


class ShortForm(Struct, frozen=True):
    """What a line says of one container, in small letters, and the words that it stands between."""

    code: str
    said: str
    before: Sequence[Word]
    behind: Sequence[Word]


def short_form(reader: Reader) -> ShortForm | None:
    """The line that is to be read; None where it does not begin with a container, or where
    something is in quotes."""
    words = reader.words
    begin = length_of_time(words)
    code = reader.code_of(words[begin]) if begin < len(words) else ""
    begin += 1 + length_of_time(words[begin + 1 :])
    if not code or any(word.quoted for word in words):
        return None
    end = time_at_end(words, begin)
    behind = words[end:]
    if behind and end > begin and words[end - 1].lower in _BEFORE_TIME:
        end -= 1
    said = " ".join(word.lower for word in words[begin:end])
    return ShortForm(code, said, words[:begin], behind)


# The words that say in full what such a line says; none where it is another.
InFull = Callable[[Reader, ShortForm, Container], Sequence[str]]


def say_in_full(reader: Reader, forms: Iterable[InFull]) -> None:
    """Read a line of the first of these forms as the one that says the same in full; any other
    line, or one of no container that stands, stays as it is.

    Raises:
        PhraseProblem: it must be asked or said otherwise.
    """
    form = short_form(reader)
    container = reader.bench.at(form.code) if form else None
    if form is None or container is None:
        return
    if said := next(filter(None, (in_full(reader, form, container) for in_full in forms)), None):
        at = form.before[-1].at
        reader.words = [*form.before, *(Word(text, at) for text in said), *form.behind]
