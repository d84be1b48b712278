"""Lines about what is to come, typed as they are shown: ``E3 hatch expected Tue 12:00 until Thu
12:00, cold nights``; ``feeder put off until 18:00, dark``."""

from __future__ import annotations

from rounds import late
from rounds.entries.base import Entry
from rounds.entries.phrase.dates import length_of_time
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.tokens import Word, named_value, one_text
from rounds.entries.registry import Expected, LeaveBe, PutOff, ReleaseBy
from rounds.entries.schema import describe

_SPAN = late.pattern(r"^\+\d+(?:[.,]\d+)?(?:h|m|min|d)$")
_MOST_BEFORE = 5  # words of a code and a time
MAX_NAME = 3  # words of a check or of a change
# By verb: the field that what stands before it says, and the one that a code behind a comma says.
_SHOWN: dict[tuple[str, ...], tuple[type[Entry], str, str]] = {
    ("expected",): (Expected, "change", "brood"),
    ("put", "off"): (PutOff, "check", ""),
    ("do", "not", "disturb"): (LeaveBe, "", ""),
    ("release", "by"): (ReleaseBy, "", "code"),
}


def as_shown(reader: Reader) -> None:
    """Put a name behind its verb, and say by its field what stands behind a comma after the day."""
    for verb, (kind, name, of) in _SHOWN.items():
        at = _verb_at(reader, verb)
        if at is not None:
            at = _name_behind(reader, at, len(verb), kind, name) if name else at
            _behind_the_day(reader, at + len(verb), kind, of)
            return


def _verb_at(reader: Reader, verb: tuple[str, ...]) -> int | None:
    words = ["" if word.quoted else word.text.casefold() for word in reader.words]
    last = min(len(words) - len(verb), MAX_NAME + 1 + _MOST_BEFORE)
    return next((at for at in range(last + 1) if tuple(words[at : at + len(verb)]) == verb), None)


def _name_behind(reader: Reader, at: int, length: int, kind: type[Entry], name: str) -> int:
    """Where the verb stands, once the name that stood before it stands behind it."""
    words = reader.words
    begin = length_of_time(words)  # '8 Jun K2 drink put off', 'K2 yesterday 20:00 drink put off'
    first = words[begin].text.casefold() if begin < len(words) else ""
    if first in reader.codes or first in reader.shelves:
        begin += 1 + length_of_time(words[begin + 1 :])
    before = words[begin:at]
    text = one_text(before)
    field = describe(kind).field(name)
    may_be = field is None or not field.choices or text.casefold() in field.choices
    if not 1 <= len(before) <= MAX_NAME or not may_be or any(word.quoted for word in before):
        return at
    said = Word(f"{name}={text}", before[0].at)
    words[begin : at + length] = [*words[at : at + length], said]
    return begin


def _behind_the_day(reader: Reader, begin: int, kind: type[Entry], of: str) -> None:
    """``..., W1, permit P-12`` or ``..., cold nights``: a code, a permit, else why."""
    words, fields = reader.words, describe(kind)
    comma = next(
        (at for at, word in enumerate(words) if at >= begin and word.text.endswith(",")), None
    )
    if comma is None and kind is PutOff:  # '+4h too cold'
        comma = next(
            (at for at, word in enumerate(words) if at >= begin and _SPAN.match(word.text)), None
        )
    tail = words[comma + 1 :] if comma is not None else []
    if comma is None or not tail or any(named_value(word) for word in tail):
        return
    parts = one_text(tail).split(", ")
    said = []
    if of and parts[0].casefold() in reader.animals:
        said.append(Word(f"{of}={parts.pop(0)}", tail[0].at))
    if fields.field("permit") and parts and parts[0].startswith("permit "):
        said.append(Word(f"permit={parts.pop(0).removeprefix('permit ')}", tail[0].at))
    if parts and not fields.field("why"):
        return
    if parts:
        said.append(Word(f"why={', '.join(parts)}", tail[0].at))
    last = words[comma]
    words[comma:] = [Word(last.text.rstrip(","), last.at, last.quoted, last.double), *said]
