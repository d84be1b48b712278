"""A table that is asked about, one thing after another, until it is clear what it becomes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from rounds.app.desk import Desk
from rounds.exchange.tables_in.columns import FIELDS
from rounds.exchange.tables_in.kept_answers import KeptAnswer, answers_kept, keep_answers
from rounds.exchange.tables_in.sheet import FileTable
from rounds.exchange.tables_in.table_import import (
    ANOTHER,
    ImportOptions,
    TableImport,
    read_table,
    said_of_all,
)
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.exchange.tables_in.vocabulary import bare

MOST_ROWS = 1_000  # of a table that is read ahead for how many questions come; our choice
MOST_AHEAD = 20  # questions that are looked for; our choice
ANY_SPECIES, ANY_DAY = "Aus bus", "2000-05-03"  # answers that are tried where none is proposed


def as_typed(text: str) -> str:
    """A text that names what the shell's command would settle, as it is typed where it is asked."""
    return re.sub(r"--(?:as|map) '([^']*)'", r"\1", text).replace("--", "")


class TableDialogue:
    """What is known of a table so far, and what is asked next.

    Attributes:
        table: what it becomes; None as long as something is asked.
        unclear: what is asked; None once it is clear.
        kept: how many answers were kept from the last time.

    Args:
        book: the book's folder, by which answers are kept.
        said: what the keeper says of it at the beginning; it goes before what was kept.
        asks: whether it is also asked what could be taken as usual: what became of those that are
            left.

    Raises:
        UnclearTable: what was said at the beginning cannot be.
    """

    def __init__(
        self,
        desk: Desk,
        book: Path,
        file: str,
        sheet: FileTable,
        said: ImportOptions | None = None,
        *,
        asks: bool = True,
    ) -> None:
        self._desk, self._book, self._file, self._sheet = desk, book, file, sheet
        self._asks = asks
        options = said or ImportOptions()
        self._leaves_out = options.leave_out
        headings = {bare(heading) for heading in sheet.headings}
        came_in = {one.file for one in desk.bench.imports}
        kept = [
            one
            for one in answers_kept(book, file, sheet)
            if (one.option != "map" or bare(one.about) in headings)
            and (one.option != "same" or one.said in (ANOTHER, *came_in))
        ]
        self.kept = len(kept)
        self._answers = [*kept, *options.answers()]
        said_now = {*options.answers()}
        self._of_before = {f"{one.about}={one.said}" for one in kept if one not in said_now}
        self._asked = 0
        self._coming: list[UnclearTable] = []  # the questions that came last time it was looked
        self._words_asked: frozenset[str] = frozenset()
        self.table: TableImport | None
        self.unclear: UnclearTable | None
        self.table, self.unclear = self._read()
        if kept and self.unclear is not None and not self.unclear.option:
            self._answers, self.kept = list(options.answers()), 0  # it fits no more what is there
            self.table, self.unclear = self._read()

    @property
    def options(self) -> ImportOptions:
        """All that was said of it."""
        options = ImportOptions()
        for one in self._answers:
            options = options.answered(one.option, one.about, one.said)
        return options.leaving_out(self._leaves_out)

    def _read(
        self, options: ImportOptions | None = None
    ) -> tuple[TableImport | None, UnclearTable | None]:
        try:
            table = read_table(self._desk, self._file, self._sheet, options or self.options)
        except UnclearTable as unclear:
            return None, unclear
        table.not_fitting = tuple(one for one in table.not_fitting if one not in self._of_before)
        stands = bool(table.problems) and not table.leaves_out
        self._words_asked = table.words_asked
        question = table.left_over.question() if self._asks and not stands else None
        return (None, question) if question else (table, None)

    def answer(self, text: str) -> str:
        """Take an answer to what is asked; why it does not fit where it is none, and what is asked
        stays so."""
        asked = self.unclear
        if asked is None:
            return ""
        if asked.option == "same" and text not in asked.choices:
            return _does_not_fit(text, asked)
        about = asked.about if asked.option in ("map", "names") else ""
        of_which, _, said = (part.strip() for part in _as_said(text).rpartition("="))
        if asked.option == "names" and of_which in (about, *asked.also):
            about, text = of_which, said
        elif of_which or (asked.also and said_of_all(text)):  # it is about something else
            return self.say_typed(text) or ""
        why = self._take(KeptAnswer(asked.option, about, text), asked)
        self._asked += not why
        return why

    def say_typed(self, text: str, column: str = "") -> str | None:
        """Take what is typed of a table, asked or not: ``year 2019``, COLUMN=MEANING, WORD=MEANING,
        several of them after commas; of a column that is chosen, its meaning alone. Why it cannot
        be where it cannot; None where it is none of these."""
        several = re.split(r"\s*[,;]\s*", text)
        if len(several) > 1 and all(re.fullmatch(r"[^=]+=[^=]+", one) for one in several):
            whys = [self.say_typed(one, column) for one in several]
            return next(filter(None, whys), "")
        text = _as_said(text)
        about, _, said = (part.strip() for part in text.rpartition("="))
        if answer := said_of_all(text):
            return self.say(answer)
        if not (about and said):
            return self.say(KeptAnswer("map", column, text)) if column and text else None
        cells = {cell for row in self._sheet.rows for cell in row.cells if cell}
        alike = [about] if about in cells else [one for one in cells if bare(one) == bare(about)]
        is_word = bool(alike) or about in self._words_asked
        if said.casefold() in FIELDS and bare(about) in map(bare, self._sheet.headings):
            is_word = False
        if not is_word:
            return self.say(KeptAnswer("map", about, said))
        why = ""
        for word in sorted(alike) or [about]:
            why = why or self.say(KeptAnswer("names", word, said))
        return why

    def say(self, answer: KeptAnswer) -> str:
        """Take what the keeper says without being asked, of a column or of all lines; why it cannot
        be where it is none."""
        return self._take(answer, None)

    def _take(self, answer: KeptAnswer, asked: UnclearTable | None) -> str:
        before, about = self._answers, (answer.option, answer.about)
        self._answers = [one for one in before if (one.option, one.about) != about]
        self._answers.append(answer)
        self.table, self.unclear = self._read()
        wrong = self.unclear
        same = asked is not None and wrong is not None and wrong.asks_as(asked)
        if wrong is None or (wrong.option and not same):
            return ""
        self._answers = before
        self.table, self.unclear = self._read()
        return _does_not_fit(answer.said, wrong) if same else wrong.line

    @property
    def can_go_back(self) -> bool:
        """Whether something was answered that can be taken back."""
        return bool(self._answers)

    def back(self) -> bool:
        """Take back the answer that was given last, be it the last time; whether there was one."""
        if not self._answers:
            return False
        self._answers.pop()
        self._asked = max(0, self._asked - 1)
        self.kept = min(self.kept, len(self._answers))
        self.table, self.unclear = self._read()
        return True

    def leave_out(self, *, leaves: bool) -> None:
        """Leave out the lines that cannot be read, or no longer."""
        self._leaves_out = leaves
        self.table, self.unclear = self._read()

    def place(self) -> str:
        """Which question this is, and how many there seem to be: ``question 2 of 5``; what is
        answered can bring more."""
        ahead = self._ahead()
        return f"question {self._asked + 1}" + (f" of {self._asked + ahead}" if ahead else "")

    def _ahead(self) -> int:
        """How many questions come, this one too, where each has the answer that is proposed first;
        0 where that takes too long to find out. What was looked up at the question before holds
        where that brought this one."""
        if self.unclear is None or len(self._sheet.rows) > MOST_ROWS:
            return 0
        if len(self._coming) > 1 and self._coming[1].asks_as(self.unclear):
            del self._coming[0]
        elif not (self._coming and self._coming[0].asks_as(self.unclear)):
            self._coming = list(self._look_ahead(self.unclear))
        return len(self._coming)

    def _look_ahead(self, unclear: UnclearTable) -> Iterator[UnclearTable]:
        """The questions that come, this one first."""
        options = self.options
        for _ in range(MOST_AHEAD):
            yield unclear
            usual = ANY_DAY if unclear.option == "laid" else ANY_SPECIES
            said = unclear.choices[0] if unclear.choices else usual
            options = options.answered(unclear.option, unclear.about, said)
            _, another = self._read(options)
            if another is None or not another.option or another.asks_as(unclear):
                return
            unclear = another

    def keep(self, *, recorded: bool = False) -> bool:
        """Keep what was said of it for the next time; whether there was something that could be
        kept.

        Args:
            recorded: the table is in the book, which remembers what its columns and words mean.
        """
        in_book = ("map", "names", "dates") if recorded else ()
        said = {(one.option, one.about): one for one in self._answers}
        answers = [one for one in said.values() if one.option not in in_book]
        if answers == answers_kept(self._book, self._file, self._sheet):
            return bool(answers)
        return keep_answers(self._book, self._file, self._sheet, answers) and bool(answers)


def _as_said(text: str) -> str:
    """What is typed, without the words of the command around it: ``--as 'A=B'`` is ``A=B``,
    ``--year 2019`` is ``year 2019``."""
    return re.sub(r"^(?:--)?(?:as|map) '(.+)'$", r"\1", text.strip()).removeprefix("--")


def _does_not_fit(said: str, asked: UnclearTable) -> str:
    """That an answer settles nothing, and what would."""
    why = asked.refused or f"'{said}' does not fit"
    return f"{why}; it can be {', '.join(asked.choices)}" if asked.choices else why
