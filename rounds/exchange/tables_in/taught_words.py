"""What the keeper said that words of a table mean, and what is asked of words that are not known:
those of a sex, of a time of day, those beside a number of animals, and those for what happened."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from functools import cached_property
from typing import Any

from rounds.bench.plurals import PLURALS, count
from rounds.exchange.tables_in.columns import CENSUS, OF_SEX
from rounds.exchange.tables_in.dates import clock_in
from rounds.exchange.tables_in.events import (
    AND,
    LEAVING,
    MEANINGS,
    NOTED_AS,
    OF_STAGES,
    action_of,
    names_animals,
    nearest_meaning,
    not_known_in,
    number_in,
    target_in,
    without_numbers,
    without_target,
)
from rounds.exchange.tables_in.fates import NOT_KNOWN
from rounds.exchange.tables_in.record import cause_of
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.exchange.tables_in.values import (
    is_one,
    says_not_known,
    sex_in,
    sexes_in,
    stage_in,
    words_beside,
)
from rounds.exchange.tables_in.vocabulary import bare, code_key

NOTE, NO_TIME = "note", "no time"
SEXES = ("female", "male")
OF_ANIMALS = ("number", *CENSUS, *OF_SEX.values(), "deaths")  # fields that say how many there are


class TaughtWords(dict[str, str]):
    """What words mean, by word, and which of them the table has.

    Attributes:
        asked: the words that were looked up.
        fitting: those of them that were found.
    """

    def __init__(self, names: Mapping[str, str]) -> None:
        super().__init__(names)
        self.asked: set[str] = set()
        self.fitting: set[str] = set()

    def get(self, word: str, other: Any = None) -> Any:
        """What a word means; another thing where nobody said it."""
        if word not in self:
            return other
        return self[word]

    def __contains__(self, word: object) -> bool:
        """Whether it was said what a word means."""
        found = super().__contains__(word)
        self.asked.add(str(word))
        if found:
            self.fitting.add(str(word))
        return found

    def of(self, word: str) -> str:
        """What a word means, be it written with other capitals and accents; empty where nobody
        said it."""
        if word in self:
            return self[word]
        same = next((one for one in self.keys() if bare(one) == bare(word)), "")
        return self[same] if same and same in self else ""


def all_known(rows: Sequence[TableRow], read: Callable[[TableRow], TableRow]) -> list[TableRow]:
    """The rows as they are read.

    Raises:
        UnclearTable: some words are not known; about the first, with a command for all.
    """
    known: list[TableRow] = []
    unclear: dict[str, UnclearTable] = {}
    for row in rows:
        try:
            known.append(read(row))
        except UnclearTable as one:
            unclear.setdefault(one.about, one)
    for first in unclear.values():
        means = " ".join(f"--as '{word}={one.choices[0]}'" for word, one in unclear.items())
        first.command = f"say it as: {means} ({', '.join(sorted_choices(first))})"
        raise first
    return known


def sorted_choices(unclear: UnclearTable) -> Sequence[str]:
    """What the answer can be, in the order of our words where they are those of what happened."""
    return MEANINGS if set(MEANINGS) >= set(unclear.choices) else unclear.choices


def _ask(heading: str, word: str, choices: Iterable[str], what: str) -> UnclearTable:
    words = f"{heading}: '{word}' is not known; {what}"
    return UnclearTable(words, "names", word, tuple(dict.fromkeys(choices)))


def with_known_sex(row: TableRow, names: TaughtWords) -> TableRow:
    """A row whose sex is a word that is known; what the keeper said is none is noted.

    Raises:
        UnclearTable: it is asked of which sex they are.
    """
    cell = row.text("sex")
    said = names.of(cell) if cell else ""
    if not cell or (not said and (sex_in(cell) or says_not_known(cell))):
        return row
    if sex_in(said):
        return row.with_text("sex", sex_in(said))
    if said in (NOT_KNOWN, NOTE):
        return _noting(row.without("sex"), "sex", cell)
    raise _ask(row.headings["sex"], cell, (*SEXES, NOT_KNOWN), "which sex is it?")


def with_known_time(row: TableRow, names: TaughtWords) -> TableRow:
    """A row whose time of day is one.

    Raises:
        UnclearTable: it is asked which time is meant.
    """
    cell = row.text("time")
    said = names.of(cell) if cell else ""
    if not cell or (not said and clock_in(cell) is not None):
        return row
    if said and clock_in(said) is not None:
        return row.with_text("time", said)
    if said == NO_TIME:
        return _noting(row.without("time"), "time", cell)
    if any(map(str.isdigit, cell)) and not said:
        return row  # a slip, which is told with its line
    raise _ask(
        row.headings["time"], cell, (NO_TIME, "8:00", "20:00"), "which time of day is meant?"
    )


def with_known_counts(row: TableRow, names: TaughtWords) -> TableRow:
    """A row with what the words beside its numbers of animals mean: of which sex they are, of what
    they died, what they did where nothing else says it; all others are noted.

    Raises:
        UnclearTable: it is asked what a word means.
    """
    for field in OF_ANIMALS:
        cell = row.text(field)
        for word in words_beside(cell):
            said = names.of(word) or names.of(cell)
            known = word if action_of(word)[0] or cause_of(word) else ""
            meaning = said or known
            if not meaning:
                likely = nearest_meaning(word)
                choices = (likely, NOTE, *SEXES, *MEANINGS)
                raise _ask(row.headings[field], word, choices, f"what does it mean ('{cell}')?")
            row = _with_word(row, field, word, meaning)
    return row


def _with_word(row: TableRow, field: str, word: str, meaning: str) -> TableRow:
    cell, what = row.text(field), row.text("what happened")
    if sex := sex_in(meaning):
        return row.with_text(field, re.sub(rf"{re.escape(word)}\.?", sex, cell))
    died = field == "deaths" or action_of(what)[0] == "died"
    if died and cause_of(meaning) and not row.text("cause"):
        return row.with_text("cause", cause_of(meaning))
    action = action_of(meaning)[0]
    if action and action == (action_of(what)[0] or ("died" if field == "deaths" else "")):
        return row
    if field == "number" and names_animals(what) and action in LEAVING:
        return row.with_text("what happened", f"{what} {meaning}")
    if field == "number" and not what and (action or cause_of(meaning)):
        row = row.with_text("what happened", meaning if action else f"died {meaning}")
        return row if action in ("reached", *LEAVING) else _noting(row, field, cell)
    return _noting(row, field, cell)


def _noting(row: TableRow, field: str, cell: str) -> TableRow:
    """A row that notes a cell as it was typed."""
    noted = f"{row.headings[field]}: {cell}"
    return row if noted in row.text("note") else row.with_note(noted)


class WordsOfRows:
    """What all rows say of a field: looked up once, however many words are not known.

    Args:
        known: the containers of the table (``with_shapes``).
    """

    def __init__(self, rows: Sequence[TableRow], known: Collection[str]) -> None:
        self.rows, self.known = rows, known
        self._said: dict[str, dict[str, list[tuple[TableRow, str]]]] = {}
        self._asked: dict[tuple[str, str], UnclearTable] = {}

    def ask(self, asked: str, heading: str, field: str) -> UnclearTable:
        """What is asked of words of which nobody knows what they mean: first what is likely, that
        they are the animals alone where none were there before."""
        if (asked, field) not in self._asked:
            self._asked[asked, field] = self._unclear(asked, heading, field)
        return self._asked[asked, field]

    def _unclear(self, asked: str, heading: str, field: str) -> UnclearTable:
        lines = self._saying(field).get(asked, [])
        stage, likely = stage_in(asked), nearest_meaning(asked)
        if likely == NOTE and all(row.text("to") or to for row, to in lines):
            likely = "moved"
        animals = (PLURALS[stage],) if stage else ()
        if likely == NOTE and any(row.number in self._first for row, _ in lines):
            likely = (*animals, likely)[0]
        return UnclearTable(
            f"{heading}: '{asked}' in {count(len(lines), 'line')} is not known; what does it mean?",
            "names",
            asked,
            tuple(dict.fromkeys((likely, *MEANINGS, *animals))),
        )

    def _saying(self, field: str) -> dict[str, list[tuple[TableRow, str]]]:
        """By words of a field, as a whole and each part without its numbers: the rows that say
        them, each with where it says that they went."""
        if field not in self._said:
            said: dict[str, list[tuple[TableRow, str]]] = {}
            for row in self.rows:
                text, to = without_target(row, row.text(field), self.known)
                for words in {text, *map(without_numbers, AND.split(text))}:
                    said.setdefault(words, []).append((row, to))
            self._said[field] = said
        return self._said[field]

    @cached_property
    def _first(self) -> frozenset[int]:
        """The first line of each container, or of each brood where none is named."""
        first: dict[str, int] = {}
        for row in self.rows:
            first.setdefault(code_key(row.text("container") or row.text("brood")), row.number)
        return frozenset(first.values())


def with_known_words(row: TableRow, names: TaughtWords, words_of: WordsOfRows) -> TableRow:
    """A row whose words for what happened, or for the stage where it has none, are those that the
    keeper said they mean; of a move with where it went, as these words tell it.

    Args:
        words_of: all rows of the table.

    Raises:
        UnclearTable: it is asked what words mean of which that is not known.
    """
    field = "what happened" if row.text("what happened") else "stage"
    what = row.text(field)
    if not what:
        return row
    meaning = names.get(what, what)
    meaning = names.get(meaning, meaning)
    words, to = without_target(row, what, words_of.known)
    if meaning == what and to:
        meaning = names.of(without_numbers(words)) or names.of(without_numbers(what)) or what
    has_number = bool(row.text("number"))
    if meaning != what:
        goes = action_of(meaning)[0] == "moved"
        to = row.text("to") or to or target_in(what)
        row = row.with_text("to", to) if goes and to else row
        told = what.removesuffix(to) if goes and to else what
        meaning = _with_what_it_says(meaning, told, has_number=has_number)
    else:
        meaning = _parts_in_our_words(what, names, has_number=has_number)
        asked = _asked_in(words, row, names)
        action, _, instar = action_of(meaning)
        if not asked and (not action or (to and action == "moulted" and not instar)):
            asked = words if len(AND.split(words)) > 1 else without_numbers(words) or words
        if asked:
            raise words_of.ask(asked, row.headings[field], field)
    if field == "stage" and action_of(meaning)[0] in ("reached", "moulted", ""):
        return row
    if action_of(meaning)[0] == "given away":
        row = row.with_note(what)  # to whom
    return row.with_text("what happened", meaning)


def _asked_in(what: str, row: TableRow, names: TaughtWords) -> str:
    """The words that stand beside the name of a stage and that nobody knows, nor said."""
    beside = {word for cell in row.cells.values() if cell != what for word in bare(cell).split()}
    return next((words for words in not_known_in(what, beside) if not names.of(words)), "")


def _parts_in_our_words(what: str, names: TaughtWords, *, has_number: bool) -> str:
    """Words for several things, each with its number, in the words that the keeper said they mean;
    of animals of each sex alone it is said that they emerged."""
    parts = AND.split(what)
    words = [without_numbers(part) for part in parts]
    said = [names.of(word) if word else "" for word in words]
    for part, word, meaning in zip(parts, words, said, strict=True):
        if meaning and sex_in(meaning):
            what = what.replace(word, meaning)
        elif meaning and (len(words) == 1 or meaning not in NOTED_AS):
            means = _with_what_it_says(meaning, part, has_number=has_number and len(parts) == 1)
            what = what.replace(part, means)
    is_of_sex = any(map(sex_in, said)) and not action_of(what)[0]
    return f"{what} emerged" if is_of_sex else what


def _with_what_it_says(meaning: str, what: str, *, has_number: bool) -> str:
    """What words mean, as the keeper said, with how many, of which sex and stage they tell where
    that does not say it; no number beside one in a column of its own."""
    sexes = sexes_in(what)
    number = number_in(what)
    if number is None and not has_number and is_one(what):
        number = 1
    if has_number:
        meaning = re.sub(r"^\d+\s+(?=\D)", "", meaning)
    if action_of(meaning)[0] == "noted":
        return f"{NOTED_AS}{what}"
    parts = [meaning]
    if sexes and number_in(meaning) is None:
        parts = [*(f"{many} {sex}" for sex, many in sexes.items()), meaning]
    elif number is not None and number_in(meaning) is None:
        parts = [str(number), meaning]
    if not sexes and sex_in(what) and not sex_in(meaning):
        parts.append(sex_in(what))
    action, stage, _ = action_of(meaning)
    if stage_in(what) and not stage and action in OF_STAGES:
        parts.append(stage_in(what))
    if action == "died" and not cause_of(meaning):
        parts += filter(None, [cause_of(what)])
    return " ".join(parts)
