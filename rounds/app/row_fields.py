"""A line of a listed bench, cut into its fields.

Tabs or two spaces stand between fields. A date is the row's wherever it stands, also one space
behind another field, and so is a shelf with its place: nothing of a row is passed over.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise

from rounds import late
from rounds.app.holding_line import tells_own_time, time_at
from rounds.entries.names import CONDITIONS
from rounds.entries.phrase.dates import words_of
from rounds.entries.phrase.times import (
    UnclearTime,
    is_date_in_figures,
    is_day_of_month,
    is_weekday,
    misspelt_month,
    read_time,
)
from rounds.entries.phrase.tokens import Word
from rounds.entries.place_words import place_behind, reads_like_a_place

COLUMNS = ("code", "holds", "plant", "since", "place")
SAME = frozenset({"same", "same again", '"', "''", "ditto"})
NONE = frozenset({"-", "none", "nothing", "empty"})
UNKNOWN = "?"
_BLANK = frozenset({"", "-", *SAME})
_GAP = late.pattern(r" {2,}")
_CODE_AND_COMMA = late.pattern(r"^\s*[A-Za-z][\w-]*\d[\w-]*,\s")
PLACE = late.pattern(r"^(.*?)\s*(\d{1,4})$")
_LETTER = late.pattern(r"^[A-Z] \d{1,3}$")
_SHELF = late.pattern(r"^(?:(?:on|at)\s+)?(?:the\s+)?shelf\s+(?=\S)", re.IGNORECASE)
_SINCE = late.pattern(r"(?:^|[\s,]+)(?:since|from|at|as of)[\s,]*$", re.IGNORECASE)
_SINCE_FIRST = late.pattern(r"^(?:since|from)\s+", re.IGNORECASE)
_ON = late.pattern(r"\s+on\s+", re.IGNORECASE)


class NotUnderstood(Exception):
    """What is not clear about a row, in one line; ``wrong`` are words of it and ``right`` what they
    may be."""

    def __init__(self, line: str, wrong: str = "", right: str = "") -> None:
        super().__init__(line)
        self.wrong, self.right = wrong, right


def fields_of(text: str) -> list[str]:
    """The fields of one line; commas stand between them where one stands behind the code."""
    if "\t" not in text and _CODE_AND_COMMA.match(text) and not _GAP.search(text.strip()):
        return _by_commas(text.strip())
    cells = [
        one.strip() for one in (text.split("\t") if "\t" in text else _GAP.split(text.strip()))
    ]
    code, _, rest = cells[0].partition(" ")  # no code has a space
    return [code, rest.strip(), *cells[1:]] if rest else cells


def _by_commas(text: str) -> list[str]:
    """The fields between commas; more animals, or what is told of them, are of the field before."""
    cells: list[str] = []
    for part in filter(None, (one.strip() for one in text.split(","))):
        of_animals = part[0].isdecimal() or CONDITIONS & {*part.casefold().split()}
        if of_animals and len(cells) > 1:
            cells[-1] = f"{cells[-1]}, {part}"
        else:
            cells.append(part)
    return cells


@dataclass(frozen=True, slots=True)
class RowReader:
    """What is known where a row is cut: the time, in the zone of the bench, and the names of
    shelves and plants so far."""

    now: datetime
    shelves: Collection[str]
    plants: Collection[str]

    def fields(self, line: str, columns: Sequence[str]) -> dict[str, str]:
        """The fields of a row by the names of its columns.

        Raises:
            NotUnderstood: two dates, or more fields than there are columns.
        """
        code_at, since = self._date_first(line)
        cells = fields_of(code_at)
        if tuple(columns) == COLUMNS:
            return self._by_what_they_say(cells, since, exact="\t" in line)
        if len(cells) > len(columns):
            raise _too_many(cells, columns)
        given = dict(zip(columns, cells, strict=False))
        for name in [name for name in given if name not in ("code", "number", "since")]:
            before, date, behind = self._date_in(given[name])
            if date:
                given[name] = f"{before} {behind}".strip()
                since = self._only(since, date)
        if since:
            own = given.get("since", "")
            given["since"] = since if own.casefold() in _BLANK else self._only(own, since)
        return given

    def _date_first(self, line: str) -> tuple[str, str]:
        """A line without the date before its code, and that date."""
        words = words_of(line)
        length, at, _ = time_at(words, self.now, front=True)
        if at is None or length >= len(words):
            return line, ""
        return line[words[length].at :], " ".join(word.text for word in words[:length])

    def _by_what_they_say(self, cells: Sequence[str], since: str, *, exact: bool) -> dict[str, str]:
        """Each field under the heading that it reads as; what reads as none goes by its place."""
        given = {"code": cells[0]} | ({"since": since} if since else {})
        in_place = exact or len(cells) >= len(COLUMNS)
        last = 0
        for position, cell in enumerate(cells[1:], 1):
            own = min(position if in_place else last + 1, len(COLUMNS))
            if cell.casefold() in _BLANK:
                name = COLUMNS[own] if own < len(COLUMNS) else ""
                if name and name not in given and (cell or in_place):
                    given[name] = cell
                last = max(last, own)
                continue
            for name, piece in self._pieces(cell, first="holds" not in given):
                to = name or self._column_of(piece, own, given, cells[position + 1 :])
                if to == "since":
                    given[to] = self._only(given.get(to, ""), piece)
                elif not to or to in given:
                    raise _too_many(cells, COLUMNS)
                else:
                    given[to] = piece
                last = max(last, COLUMNS.index(to)) if piece == cell else last
            last = max(last, own) if in_place else last
        return given

    def _column_of(
        self, words: str, own: int, given: Collection[str], behind: Sequence[str]
    ) -> str:
        """The column of words that are no date and no shelf; '' where all are taken."""
        if "holds" not in given:
            return "holds"
        place_follows = any(self._is_place(cell) for cell in behind)
        early = own <= COLUMNS.index("plant") or words.casefold() in self._plants_known
        dated = "since" in given or any(self.is_time(cell) for cell in behind)
        in_date = dated and COLUMNS[own : own + 1] == ("since",)  # the date stands elsewhere
        elsewhere = place_follows or in_date or "place" in given
        if "plant" not in given and (early or elsewhere):
            return "plant"
        return next((name for name in COLUMNS[own:] if name not in given), "")

    @property
    def _plants_known(self) -> frozenset[str]:
        return frozenset(plant.casefold() for plant in self.plants)

    def _pieces(self, cell: str, *, first: bool) -> list[tuple[str, str]]:
        """A cell cut at its date and its shelf, each piece with its column; '' for other words."""
        if self.is_time(cell):
            return [("since", cell)]
        before, date, behind = self._date_in(cell)
        if date:
            rest = [
                piece
                for part in (before, behind)
                if part
                for piece in self._pieces(part, first=first)
            ]
            return [*rest, ("since", date)]
        shelf = _SHELF.sub("", cell)
        if shelf != cell and self._is_known_place(shelf, alone=True):
            return [("place", shelf)]
        if not first and reads_like_a_place(cell, self.plants):
            return [("place", cell)]
        if stands := place_behind(cell, self.plants):
            return [*self._pieces(stands[0], first=first), ("place", stands[1])]
        if self._is_place(cell) and (not first or self._is_known_place(cell)):
            return [("place", cell)]
        if split := self._shelf_behind(cell, joined=not first):
            return [*self._pieces(split[0], first=first), ("place", split[1])]
        parts = _ON.split(cell if first else f" {cell}", maxsplit=1)
        if len(parts) == 2 and first:
            return [("", parts[0]), ("plant", parts[1])]
        if len(parts) == 2 and not parts[0]:  # 'on vetchling', a cell of its own
            return [("plant", parts[1])]
        return [("", cell)]

    def is_time(self, cell: str) -> bool:
        """Whether a cell is a date, a time, or says that none is known."""
        return cell.casefold() in (UNKNOWN, "now") or isinstance(
            read_time(cell, now=self.now, zone=self.now.tzinfo or UTC), datetime
        )

    def _is_place(self, cell: str) -> bool:
        """Whether a cell is a shelf alone."""
        match = PLACE.match(cell)
        known = {shelf.casefold() for shelf in self.shelves}
        if cell.casefold() in known or (match and match[1].casefold() in known):
            return True
        return (
            match is not None
            and bool(match[1])
            and match[1].casefold() not in self._plants_known
            and not self.is_time(cell)
            and not self._date_in(cell)[1]
            and not self._shelf_behind(cell, joined=True)
        )

    def _is_known_place(self, cell: str, *, alone: bool = False) -> bool:
        """Whether a cell can be nothing but a place, wherever it stands: ``A 2``, ``sill 3``; a
        known shelf ``alone`` is one behind the word shelf."""
        match = PLACE.match(cell)
        known = {shelf.casefold() for shelf in self.shelves}
        if alone and cell.casefold() in known:
            return True
        return _LETTER.match(cell) is not None or (
            match is not None and match[1].casefold() in known
        )

    def _shelf_behind(self, cell: str, *, joined: bool) -> tuple[str, str] | None:
        """What stands before a shelf at the end of a cell, and that shelf: one that is known, or a
        letter and a number."""
        known = "|".join(
            re.escape(name) for name in sorted(self.shelves, key=len, reverse=True) if name
        )
        gap = r"\s*" if joined else r"\s+"
        found = re.search(
            rf"[\s,]+(?:(?:on|at)\s+)?(?:shelf\s+)?"
            rf"((?:(?i:{known or '(?!)'})|[A-Z]){gap}\d{{1,4}}|(?i:{known or '(?!)'}))$",
            cell,
        )
        return (cell[: found.start()].rstrip(" ,"), found[1]) if found and found.start() else None

    def _date_in(self, cell: str) -> tuple[str, str, str]:
        """What stands before a date in a cell, the date, what stands behind it; a date that a word
        of its own claims, ``cut 12 Jun``, is not the row's."""
        words = words_of(cell)
        _no_month_misspelt(words)
        for place in range(len(words)):
            length, at, unclear = time_at(words[place:], self.now, front=True)
            word = words[place].text
            ends = place == len(words) - 1 and not words[place].quoted
            if ends and (is_weekday(word) or word.casefold() in (UNKNOWN, "now")) and place:
                length, unclear = 1, ""
            elif ends and place and is_date_in_figures(word) and at is None:
                read = read_time(word, now=self.now, zone=self.now.tzinfo or UTC)
                unclear = read.message if isinstance(read, UnclearTime) else ""
            before = cell[: words[place].at].rstrip(" ,")
            if tells_own_time(before):
                continue
            if unclear:
                raise NotUnderstood(f"since: {unclear}; ? if it is not known")
            if length:
                end = words[place + length].at if place + length < len(words) else len(cell)
                typed = " ".join(one.text.rstrip(",") for one in words[place : place + length])
                return _SINCE.sub("", before).rstrip(" ,"), typed, cell[end:].strip(" ,")
        return cell, "", ""

    def _only(self, one: str, other: str) -> str:
        """The date of a row where it may stand at two places."""
        if one and one.casefold() != other.casefold():
            raise NotUnderstood(
                f"'{one}' and '{other}': two dates in a row; say one, since when it stands so"
            )
        return _SINCE_FIRST.sub("", other)


def _no_month_misspelt(words: Sequence[Word]) -> None:
    """``12 Juno`` would become twelve stems of a plant."""
    for day, month in pairwise(words):
        near = misspelt_month(month.text.rstrip(".,"))
        if near and is_day_of_month(day.text) and not (day.quoted or month.quoted):
            wrong, right = f"{day.text} {month.text}", f"{day.text} {near}"
            raise NotUnderstood(f"'{wrong}' is not a date; perhaps {right}", wrong, right)


def _too_many(cells: Sequence[str], columns: Sequence[str]) -> NotUnderstood:
    """More is said than the columns hold."""
    number = len(cells)
    return NotUnderstood(
        f"delete what is after the {columns[-1]}: '{'  '.join(cells[len(columns) :])}'"
        if number > len(columns)
        else f"'{'  '.join(cells[1:])}' says more than {', '.join(columns)}; two spaces or a tab"
        " stand between fields, one of each"
    )
