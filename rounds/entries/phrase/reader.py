"""The words of a line that are still to be read, and what was read so far."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo
from functools import cached_property
from typing import Any

from msgspec import Struct, field

from rounds.bench.codes import names_of
from rounds.bench.measures import METRIC, Measures
from rounds.bench.plurals import PLURALS
from rounds.bench.state import Bench
from rounds.entries.arrivals import names_by_mark
from rounds.entries.base import Entry
from rounds.entries.phrase.synonyms import ANIMALS, digits_of
from rounds.entries.phrase.times import UnclearTime
from rounds.entries.phrase.tokens import STOPS, Word, one_text
from rounds.entries.schema import describe
from rounds.entries.slots import Slots

ALL = "all"  # a number that the bench knows: as many as fit
JOINS = frozenset({"and", "&", "+", ","})


class Draft(Struct, frozen=True):
    """What was typed, read.

    ``targets`` are containers and broods where the line names several, each of which gets an entry
    of its own; ``note`` is what stands after ' -- ' where the kind has no words of its own;
    ``as_written`` are the fields whose name was put in double quotes; ``each`` where a number is
    meant for each of several containers; ``new`` are containers that are to be set up first, for
    what goes into them; ``left_out`` are codes of a range that name no container; ``better`` where
    a founder's record is made better, of which the fields say only what is new; ``refused`` is how
    many refused beside those that drank, or which one; ``second_sex`` is how many of the other sex
    the same is said of; ``on_kept_stems`` where they hatched of eggs that nobody found there;
    ``looked`` is the sign of a look beside which it was seen.
    """

    kind: type[Entry]
    at: datetime | None
    fields: dict[str, Any]
    targets: tuple[tuple[str, str], ...] = ()
    note: str = ""
    as_written: frozenset[str] = frozenset()
    each: bool = False
    of: int | None = None
    new: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    better: bool = False
    refused: int | str = 0
    second_sex: tuple[int, str] | None = None
    on_kept_stems: bool = False
    looked: str = ""


class PhraseProblem(Exception):
    """Something that is not clear; the line is not read on."""

    def __init__(
        self, message: str, word: Word | None = None, suggestions: tuple[str, ...] = ()
    ) -> None:
        super().__init__(message)
        self.unclear = UnclearTime(message, word.at if word else 0, suggestions)


class Reader(Struct, dict=True):
    """The words still to read, and what was read so far."""

    words: list[Word]
    now: datetime
    zone: tzinfo
    codes: dict[str, str]
    shelves: dict[str, str]
    bench: Bench
    measures: Measures = METRIC
    place: int = 0
    at: datetime | None = None
    fields: dict[str, Any] = field(default_factory=dict)
    loose: list[Word] = field(default_factory=list)
    kind: type[Entry] = Entry  # that the line says
    slots: Slots = field(default_factory=Slots)  # of that kind
    flow: str = ""  # the field that loose words go to now
    awaited: str = ""  # the field of a time that a time further on says
    # fields of times that count from the line's own: whether ahead, what was typed, how it was read
    from_line: dict[str, tuple[bool, str, datetime]] = field(default_factory=dict)
    as_written: set[str] = field(default_factory=set)
    each: bool = False
    of: int | None = None
    new: tuple[str, ...] = ()
    targets: tuple[tuple[str, str], ...] = ()
    left_out: tuple[str, ...] = ()  # of a range, no container
    spoken: str = ""  # the line as it was typed, to its dashes
    after: str = ""  # what stands behind them
    aside: str = ""  # words of the line that are a note beside what it says
    better: bool = False
    refused: int | str = 0  # adults that refused, or which, in a line that says who drank
    second_sex: tuple[int, str] | None = None  # how many of another sex the line says as well
    on_kept_stems: bool = False  # young larvae hatched of eggs that nobody found there
    looked: str = ""  # the sign of a look beside which the line says more

    @property
    def word(self) -> Word | None:
        """The word to read next."""
        return self.words[self.place] if self.place < len(self.words) else None

    def set_aside(self, *words: str) -> None:
        """Put words of the line into the note, behind those that are there."""
        self.aside = ", ".join(filter(None, (self.aside, *words)))

    def ahead(self, steps: int) -> Word | None:
        """The word that many after the next."""
        position = self.place + steps
        return self.words[position] if position < len(self.words) else None

    def said(self, steps: int, length: int) -> str:
        """That many words from there on, joined, in small letters; empty where they end or are
        quoted."""
        parts = [self.ahead(steps + position) for position in range(length)]
        if any(part is None or part.quoted for part in parts):
            return ""
        return " ".join(part.lower for part in parts if part).replace("-", " ")

    @cached_property
    def animals(self) -> dict[str, str]:
        """The codes of founders and broods, by their small letters, and by their marks."""
        marks = {
            mark.casefold(): self.bench.marked(mark)
            for mark in self.bench.marks.values()
            if names_by_mark(mark)
        }
        return marks | {
            code.casefold(): code for code in (*self.bench.founders, *self.bench.broods)
        }

    def code_of(self, word: Word | None) -> str:
        """The container that a word names; empty where it names none."""
        return self.codes.get(word.lower, "") if word and not word.quoted else ""

    def animal_of(self, word: Word | None) -> str:
        """The founder or brood that a word names; empty where it names none."""
        return self.animals.get(word.lower, "") if word and not word.quoted else ""

    def names_in(self, word: Word) -> list[str]:
        """The codes that one word names, as typed."""
        return names_of(word.text.rstrip(STOPS), self.codes.keys() | self.animals.keys())

    def codes_from(self, steps: int) -> tuple[list[str], int]:
        """The known containers named one after the other from that word on, and how many words they
        are."""
        texts: list[str] = []
        read = steps
        while (word := self.ahead(read)) and not word.quoted:
            joins = bool(texts) and word.lower in JOINS and self.ahead(read + 1) is not None
            names = [] if joins else self.names_in(word)
            if not joins and not (names and all(name.casefold() in self.codes for name in names)):
                break
            texts += [self.codes[name.casefold()] for name in names]
            read += 1
        while read > steps and (last := self.ahead(read - 1)) and last.lower in JOINS:
            read -= 1
        return list(dict.fromkeys(texts)), read - steps

    def where_stands(self, animal: str, word: Word | None = None) -> str:
        """The container in which that founder or brood stands.

        Raises:
            Trouble: it stands in none, or in several.
        """
        texts = [
            container.code
            for container in self.bench.standing()
            if any(animal in lot.codes or lot.brood == animal for lot in container.lots)
        ]
        if not texts:
            raise PhraseProblem(
                f"{animal} is in no container on record; say which container first", word
            )
        if len(texts) > 1:
            raise PhraseProblem(
                f"{animal} is in {' and '.join(texts)}; say which first, as: {texts[0]} {animal}"
                " died",
                word,
            )
        return texts[0]


def as_one_name(text: str) -> str:
    """A name as it is typed: in quotes where a number in it would be read by itself."""
    return f'"{text}"' if any(sign.isdigit() for sign in text) else text


def one_a_line(reader: Reader, word: Word) -> PhraseProblem:
    """How two things in one line are said, the second of which begins with that word: ``6 hatched,
    1 dead``."""
    code = str(reader.fields.get("container") or reader.fields.get("shelf") or "")
    code = code or next(filter(None, map(reader.code_of, reader.words)), "")
    typed = sorted(reader.words, key=lambda one: one.at)
    typed = [one for one in typed if one.lower != code.casefold()]
    word = _with_its_number(typed, word)
    first = [one for one in typed if one.at < word.at]
    while first and (first[-1].text.casefold() in JOINS or first[-1].lower == "then"):
        del first[-1]
    both = (first, [one for one in typed if one.at >= word.at])
    before, then = (one_text(words).rstrip(STOPS) for words in both)
    # food is for those that were moved
    later = str(reader.fields.get("to") or code) if word.lower in _OF_FOOD else code
    if word.lower in _OF_FOOD and both[1][1:2] and both[1][1].text[:1].isupper():
        then = f"host in {then.partition(' ')[2]}"
    return PhraseProblem(
        f"one thing a line: {f'{code} {before}'.strip()}; then {f'{later} {then}'.strip()}", word
    )


def _with_its_number(typed: Sequence[Word], word: Word) -> Word:
    """Where what happened begins with that word, the number that stands before it, with the stage
    of whom it counts: ``all well, 2 larvae dead``; the word itself where nothing else is left."""
    begin = sum(one.at < word.at for one in typed)
    while begin > 1 and _of_whom(typed[begin - 1]):
        begin -= 1
    return typed[begin - 1] if begin > 1 and digits_of(typed[begin - 1].lower) else word


def _of_whom(word: Word) -> bool:
    plain = word.plain
    return plain in ANIMALS or (plain[:1] == "l" and plain[1:].isdecimal())


_OF_FOOD = frozenset({"host", "food", "plant", "leaf", "fed"})


def grown_and_moved(reader: Reader, kind: type[Entry], into: Word) -> PhraseProblem:
    """How it is said that animals grew and were put into another container: ``10 hatched into
    N1``."""
    code, number = reader.fields.get("container", ""), reader.fields.get("number", 1)
    stage = str(kind.grows_to)
    new = "new " if into.text in reader.new else ""
    instar = f"L{reader.fields['instar']}" if "instar" in reader.fields else ""
    grew = f"{number} {instar}".strip()
    return PhraseProblem(
        f"one thing a line: {code} {describe(kind).name} {grew}; then {code} moved {number}"
        f" {stage if number == 1 else PLURALS[stage]} to {new}{into.text}",
        into,
    )
