"""A bench that already runs, as a table: a line a container, typed, pasted or from a file.

Fields stand between Tabs, or two spaces; ``same`` or an empty field repeats the field above.
Nothing here is recorded: the table becomes what is to be said, line by line, or what is not clear
about a line.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta, tzinfo
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from rounds import late
from rounds.app.desk import Desk, Outcome, Refusal
from rounds.app.holding_line import purpose_of_line
from rounds.app.holdings import (
    PURPOSES,
    Holding,
    NotHeld,
    Origin,
    begins_with_kind,
    brood_codes,
    codes_of,
    purpose_named,
    purpose_of,
    read_kinds,
    sayings,
)
from rounds.app.row_fields import (
    COLUMNS,
    NONE,
    PLACE,
    SAME,
    UNKNOWN,
    NotUnderstood,
    RowReader,
    fields_of,
)
from rounds.bench.codes import MISREAD, code_after, names_of
from rounds.bench.plurals import PLURALS, count
from rounds.bench.state import Bench, Container
from rounds.entries import registry as k
from rounds.entries.base import ROOTED, Saying
from rounds.entries.check_labels import called
from rounds.entries.entry_factory import InvalidField
from rounds.entries.names import is_slip, known_plants, known_species, resolved
from rounds.entries.phrase.leftover import usual_purpose
from rounds.entries.phrase.parser import read_phrase
from rounds.entries.phrase.synonyms import ANIMALS
from rounds.entries.phrase.times import UnclearTime, read_time
from rounds.entries.place_words import reads_like_a_place
from rounds.views.words import clock, literal

HEADINGS = {
    "code": ("code", "cup", "container", "label", "no"),
    "purpose": ("purpose", "for", "use"),
    "holds": ("holds", "what", "in it", "animals", "stage"),
    "number": ("how many", "number", "count", "n"),
    "taxon": ("species", "taxon", "name"),
    "plant": ("plant", "host", "host plant", "food plant"),
    "since": ("since", "from", "date"),
    "place": ("place", "where", "shelf"),
}
WITH_PURPOSE = ("code", "purpose", "holds", "number", "plant", "since", "place")
STARTS = (0, 7, 37, 52, 64)  # where the columns of the page begin
# The space beside a '-' that is a field by itself, typed as between words.
# One alone before words begins a note.
_DASHES = late.pattern(r"\s-(?:\s+-(?=\s|$)|\s*$)")
_BESIDE_DASH = late.pattern(r"\s(?=-(?:\s|$))|(?<=\s-)\s")
_SHELF = late.pattern(r"^(?:(?:on|at)\s+)?(?:the\s+)?shelf\s+(?=\w)", re.IGNORECASE)
_ON_IT = late.pattern(r"^(?:on|at)\s+(?:the\s+)?", re.IGNORECASE)
_LONG_NAME = 3  # words of a species: genus, species, subspecies
# Nothing on a bench is in its stage for so long but by a slip of the year; our estimate.
LONGEST_HELD = timedelta(days=3 * 365)


HOW_TO_TYPE = (
    (
        "One line per container: code, what it holds, plant, since when, place. Tab or two spaces"
        " stand between."
    ),
    (
        "K2   2 females Leptidea sinapis   vetchling   Sat   sill 2"
        "      also: 1f 1m, 41 eggs, 5 L5, 6p, laying empty"
    ),
    (
        "A line without a code gets the next one. 'same' or an empty field repeats the field"
        " above, an empty plant that of the species; R6-R7 is two containers; - is none."
    ),
    (
        "since: Sat, 23 May, yesterday, 23:30, -2d, or ? if nobody knows. Lines that begin with"
        " # are passed over."
    ),
    (
        "The first line may name other columns: code, purpose, what, how many, species, plant,"
        " since, place."
    ),
    "F2 says yes to a question, F10 records all of it, u on the bench takes all of it back.",
)

# Stems that are kept in case they bear eggs, and their plant.
_KEPT_STEMS = late.pattern(
    r"^(?:(?P<number>\d+) )?(?:kept|old) (?:stems?|sprigs?)(?: (?:of )?(?P<plant>.+))?$",
    re.IGNORECASE,
)


class CupProblem(Struct, frozen=True):
    """What is not clear about a line: a question, and what the line would be if the answer is
    yes."""

    row: int
    code: str
    line: str
    mended: str = ""


@dataclass
class CupRow:
    """One line of the table as it was understood."""

    row: int
    first: bool = False  # no line stands above it
    since_is_new: bool = False  # no line above says since when
    # its fields as they were typed, by the names of their columns
    given: dict[str, str] = field(default_factory=dict)
    codes: list[str] = field(default_factory=list)
    purpose: str = ""
    held: list[Holding] = field(default_factory=list)
    broods: list[str] = field(default_factory=list)  # one for each of what is held that is no adult
    plant: dict[str, Any] = field(default_factory=dict)
    plants: tuple[str, ...] = ()  # by name, where it stands on several
    kept: bool = False  # which is of stems that are kept in case they bear eggs
    own_plant: str = ""  # as it was said of this species further above than in the line before
    since: datetime | None = None
    since_known: bool = True
    shelf: str = ""
    places: list[int] = field(default_factory=list)
    said: list[Saying] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    # those that stand there already, empty
    filled: dict[str, Container] = field(default_factory=dict)

    def empty(self, name: str) -> str:
        """What stands for a field of this line that was left empty."""
        if name == "plant" and self.own_plant:
            return self.own_plant
        nothing = (name == "plant" and not self.plant) or (name == "place" and not self.shelf)
        return "-" if nothing else "now" if name == "since" and self.since_is_new else "same"

    def words(self, now: datetime, zone: tzinfo) -> str:
        """How the line was understood, field by field."""
        held = ", ".join(
            f"{holding.words} {holding.taxon}".strip()
            + (f", {holding.sign}" if holding.sign else "")
            for holding in self.held
        )
        since = (
            f"since {clock(self.since, now, zone)}"
            if self.since and self.since_known
            else "since is not known"
        )
        places = [
            f"{self.shelf} {position}".strip() if position else self.shelf
            for position in self.places
            if self.shelf or position
        ]
        parts = [
            self.purpose,
            "" if self.kept else held or "no animals",
            "kept stems: " * self.kept + " ".join(str(one) for one in self.plant.values()),
            since,
            ", ".join(places),
        ]
        return f"{', '.join(self.codes)}: {'; '.join(part for part in parts if part)}"


@dataclass
class CupTable:
    """The whole table as it was understood."""

    rows: list[CupRow] = field(default_factory=list)
    columns: tuple[str, ...] = ()
    troubles: list[CupProblem] = field(default_factory=list)
    species: list[str] = field(default_factory=list)  # new to the book
    plants: list[str] = field(default_factory=list)
    shelves: list[str] = field(default_factory=list)
    taken: set[str] = field(default_factory=set)  # codes of what is listed, or stands and is full

    @property
    def containers(self) -> int:
        """How many containers are understood."""
        return sum(len(row.codes) for row in self.rows)

    @property
    def said(self) -> list[Saying]:
        """All that is to be said, line by line."""
        return [one for row in self.rows for one in row.said]

    def row_at(self, row: int) -> CupRow | None:
        """What was understood of a line of the text."""
        return next((cup_row for cup_row in self.rows if cup_row.row == row), None)


def next_code(table: CupTable, row: int) -> str:
    """The code behind that of the nearest line above which no other container has, with no digit
    that is easily misread unless that one has; '' where no line stands above, or its code has no
    number."""
    above = [cup_row for cup_row in table.rows if cup_row.row < row]
    code = above[-1].codes[-1] if above else ""
    has_number = any(map(str.isdecimal, code))
    if not has_number:
        return ""
    used, above_is_clear = {one.casefold() for one in table.taken}, not MISREAD & set(code)
    code = code_after(code, used)
    while above_is_clear and MISREAD & set(code):
        code = code_after(code, used)
    return code


def with_gap(text: str, row: int, table: CupTable) -> str:
    """A line up to where its next field begins, under that field's heading; where the last field
    was left empty, with what stands for it."""
    if "\t" in text or (table.columns and table.columns != COLUMNS):
        return f"{text}\t"  # a table of a spreadsheet, or with headings of its own
    understood = table.row_at(row)
    if understood and begins_with_kind(text):
        text = understood.given["code"].ljust(STARTS[1]) + text.lstrip()
    fields = fields_of(text)
    if text.endswith("  ") and 0 < len(fields) < len(COLUMNS):
        name = COLUMNS[len(fields)]
        text += understood.empty(name) if understood else "-" if name == "plant" else "same"
        fields.append(name)
    start = STARTS[min(len(fields), len(STARTS) - 1)]
    return max(f"{text.rstrip()}  ", text.rstrip().ljust(start), key=len)


def aligned(text: str, row: int, table: CupTable) -> str:
    """A line that was understood, its fields under the page's headings, an empty one with what it
    was understood as."""
    understood = table.row_at(row)
    bare = understood is not None and understood.first and len(understood.given) < 2
    if understood is None or table.columns != COLUMNS or bare:
        return text
    line = ""
    repeats_all = len(understood.given) < 2  # it shows what it repeats
    own = ("plant",) if understood.own_plant else ()  # it shows where it differs from the above
    last = max(map(COLUMNS.index, COLUMNS if repeats_all else (*understood.given, *own)))
    for name, start in zip(COLUMNS[: last + 1], STARTS, strict=False):
        line = f"{line}  " if line and len(line) + 2 > start else line.ljust(start)
        line += understood.given.get(name) or understood.empty(name)
    return line


def read_table(text: str, bench: Bench, now: datetime, zone: tzinfo) -> CupTable:
    """What a table says on this bench; it never raises, whatever the text."""
    return _Reading(bench, now, zone).read(text)


def checked(desk: Desk, text: str) -> CupTable:
    """The table as it would be recorded now: also what the desk would refuse of it is told, at its
    line."""
    table = read_table(text, desk.bench, desk.now(), desk.zone)
    while isinstance(prepare := desk.prepare(table.said), Refusal):
        owners = [row for row in table.rows for _ in row.said]
        row = owners[prepare.place]
        table.troubles.append(CupProblem(row.row, ", ".join(row.codes), prepare.line))
        table.rows.remove(row)
    table.troubles.sort(key=lambda cup_problem: cup_problem.row)
    return table


def record(desk: Desk, table: CupTable) -> Outcome:
    """Say all of it or nothing: one that waits for an answer keeps back the rest."""
    if table.troubles:
        first = table.troubles[0]
        return Refusal(f"{first.code or f'line {first.row + 1}'}: please answer: {first.line}")
    if not table.rows:
        return Refusal(
            "no container is listed yet; a line each, as: K2  2 females Boloria dia  violet  Sat"
        )
    return desk.say_many(table.said)


def heading() -> str:
    """The names of the columns, each where its fields begin."""
    names = ("code", "holds", "plant", "since", "place")
    return "".join(
        name.ljust(end - start)
        for name, start, end in zip(names, STARTS, (*STARTS[1:], STARTS[-1] + 5), strict=True)
    )


def head_of(table: CupTable) -> str:
    """How many were understood, how many lines wait, and that nothing is recorded."""
    waits = f", {len(table.troubles)} to correct" if table.troubles else ""
    number = table.containers
    return f"a bench that already runs   {count(number, 'container')}{waits}; nothing is recorded"


def told_beside(table: CupTable) -> list[str]:
    """What is new to the book, and what a keeper need not wonder about, a line each."""
    lines = [note for row in table.rows for note in row.notes]
    if table.species or table.plants:
        parts = [
            ", ".join(literal(name) for name in names)
            for names in (table.species, table.plants)
            if names
        ]
        lines.append(f"NEW names: {'; '.join(parts)}.")
    if table.shelves:
        lines.append(f"NEW shelves: {', '.join(literal(shelve) for shelve in table.shelves)}.")
    return lines


class _Reading:
    """Where the reading of a table has come to."""

    def __init__(self, bench: Bench, now: datetime, zone: tzinfo) -> None:
        self._bench, self._now, self._zone = bench, now, zone
        self._columns: tuple[str, ...] = ()
        self._above: dict[str, str] = {}
        self._plant_of: dict[str, str] = {}  # what each species was last said to stand on
        self._before: CupRow | None = None
        self._table = CupTable()
        self._species = dict(known_species(bench))
        self._plants = dict(known_plants(bench))
        self._shelves = {name.casefold(): name for name in bench.shelves}
        self._used = {*bench.founders, *bench.broods}
        self._begun = set(bench.broods)
        self._stands = {container.code.casefold(): container.code for container in bench.standing()}
        self._empty = {
            one.code: one for one in bench.standing() if not (one.lots or one.hosts or one.held)
        }
        self._taken = {(one.shelf, one.place): one.code for one in bench.standing() if one.place}

    def read(self, text: str) -> CupTable:
        for position, line in enumerate(text.splitlines()):
            if not line.strip() or line.lstrip().startswith("#"):
                continue
            cells = fields_of(line)
            if not self._columns and self._is_heading(cells):
                continue
            self._columns = self._columns or _columns_of(cells)
            if code := self._code_left_out(position, line):
                line = f"{code}\t{line}" if "\t" in line else f"{code}  {line.lstrip()}"
                cells = fields_of(line)
            self._line(position, line, cells)
        self._table.columns = self._columns
        self._table.taken = self._full()
        self._set_up_shelves()
        return self._table

    def _full(self) -> set[str]:
        """The codes that no other line can have."""
        return {code for code in self._stands.values() if code not in self._empty}

    def _code_left_out(self, position: int, line: str) -> str:
        """The next code for a line that begins with animals; '' for one with a code of its own."""
        if self._columns != COLUMNS or not begins_with_kind(line):
            return ""
        self._table.taken = self._full()
        code = next_code(self._table, position)
        return code if code[:1].isalpha() else ""

    def _is_heading(self, cells: Sequence[str]) -> bool:
        names = [
            next((name for name, forms in HEADINGS.items() if cell.casefold() in forms), "")
            for cell in cells
        ]
        if "code" not in names or not all(names):
            return False
        self._columns = tuple(names)
        return True

    def _line(self, place: int, line: str, cells: list[str]) -> None:
        given = {"code": cells[0]}
        try:
            given = self._given(line)
            row = CupRow(
                place,
                not self._above,
                "since" not in self._above,
                given,
                names_of(given.get("code", ""), self._stands),
            )
            if not row.codes:
                raise NotUnderstood("the line begins with no code, as: K2  2 females Boloria dia")
            self._fill(row, given)
        except NotUnderstood as wrong:
            mended = line.replace(wrong.wrong, wrong.right, 1) if wrong.right else ""
            self._table.troubles.append(
                CupProblem(
                    place, given.get("code", ""), str(wrong), mended if mended != line else ""
                )
            )
            self._before = None
        else:
            self._say(row)
            self._table.rows.append(row)
            self._before = row
        self._above |= {
            name: value for name, value in given.items() if value and value.casefold() not in SAME
        }

    def _given(self, line: str) -> dict[str, str]:
        reader = RowReader(
            self._now.astimezone(self._zone), list(self._shelves.values()), list(self._plants)
        )
        return reader.fields(line, self._columns)

    def _fill(self, row: CupRow, given: Mapping[str, str]) -> None:
        if stems := _KEPT_STEMS.match(self._value("holds", given)[0]):
            row.kept = True
            plant, number = stems["plant"] or given.get("plant", ""), stems["number"]
            if not plant:
                raise NotUnderstood(f"stems of which plant? As: {row.codes[0]}  5 kept stems viola")
            given = {
                **given,
                "holds": "eggs",
                "plant": f"{plant} {number} stems" if number else plant,
            }
        for code in row.codes:
            stands = self._stands.get(code.casefold())
            if stands and stands not in self._empty:
                raise NotUnderstood(f"{stands} stands already, and not empty; each code once")
        self._holds(row, given)
        self._plant(row, given)
        self._since(row, given)
        self._place(row, given)
        for code in row.codes:
            self._stands[code.casefold()] = code
        row.filled = {code: self._empty.pop(code) for code in row.codes if code in self._empty}

    def _value(self, name: str, given: Mapping[str, str]) -> tuple[str, bool]:
        """A field, and whether it repeats that of the line above."""
        value = given.get(name, "")
        if value and value.casefold() not in SAME:
            return value, False
        if value and name not in self._above:
            raise NotUnderstood(f"'{value}' as what? No line above has that field")
        return self._above.get(name, ""), True

    def _holds(self, row: CupRow, given: Mapping[str, str]) -> None:
        values = [self._value(name, given) for name in ("holds", "number", "taxon", "purpose")]
        (holds, repeats), (number, also), (taxon, too), (purpose, _) = values
        if (
            repeats
            and also
            and too
            and self._before is not None
            and (given.get("purpose", "") in SAME or not given.get("purpose"))
        ):
            before = self._before
            row.purpose, row.held, row.broods = before.purpose, before.held, before.broods
            return
        purpose = purpose if given.get("purpose") else ""
        if purpose and purpose_named(purpose) not in PURPOSES:
            can_be = ", ".join(map(called, PURPOSES))
            raise NotUnderstood(f"'{purpose}' is no purpose; it can be {can_be}")
        text, said = purpose_of_line(holds)
        row.purpose = purpose_named(purpose) or said
        if text.casefold() in NONE or not text:
            if not row.purpose and text:
                usual = usual_purpose(row.codes[0])
                raise NotUnderstood(f"empty, and meant for what? Is it {usual}?", text, usual)
            if not row.purpose:
                raise NotUnderstood(
                    "what is in it, or what is it for? As: 2 females Boloria dia; or: laying"
                )
            return
        text = (
            f"{number} {text}"
            if "number" in self._columns and number and number not in NONE
            else text
        )
        text = f"{text} {taxon}" if "taxon" in self._columns and taxon else text
        if _DASHES.search(text):
            right = _BESIDE_DASH.sub("  ", text)
            raise NotUnderstood(
                "two spaces or a tab stand between fields, also beside a '-'", text, right
            )
        result = read_kinds(text)
        if isinstance(result, NotHeld):
            whole = f"{row.codes[0]} {text}" if row.codes else ""
            if whole[:1].isdigit() and not isinstance(read_kinds(whole), NotHeld):
                raise NotUnderstood(f"no code yet: type one first, as: K2  {whole}")
            raise NotUnderstood(result.line, result.wrong, result.nearest)
        row.held = [self._animals(holding) for holding in result]
        row.purpose = row.purpose or purpose_of(row.held)
        row.broods = brood_codes(row.held, self._now, self._used)

    def _animals(self, held: Holding) -> Holding:
        if not held.taxon:
            begun = next(
                (self._bench.taxon_of(code) for code in held.codes if code in self._used), ""
            )
            above = self._before.held[-1].taxon if self._before and self._before.held else ""
            taxon = begun or (
                ""
                if held.codes and held.stage != "adult" and held.codes[0] in self._begun
                else above
            )
            if not taxon and not (held.codes and held.codes[0] in self._begun):
                raise NotUnderstood(f"{held.words} of which species? As: {held.words} Boloria dia")
        else:
            taxon = self._named(held.taxon, self._species, "species", self._table.species)
        return replace(held, taxon=taxon)

    def _named(self, typed: str, known: dict[str, None], what: str, new: list[str]) -> str:
        try:
            name = resolved(typed, known, what, self._bench)
        except InvalidField as misfit:
            near = [one for one in known if is_slip(typed, one)]
            raise NotUnderstood(
                str(misfit), typed if len(near) == 1 else "", near[0] if len(near) == 1 else ""
            ) from None
        if what == "species" and name not in known and len(words := name.split()) > _LONG_NAME:
            right = f"{' '.join(words[:2])}  {' '.join(words[2:])}"
            raise NotUnderstood(
                f"'{name}' is long for a species; two spaces or a tab stand before the plant",
                typed,
                right,
            )
        if what == "species" and re.match(r"^[^\W\d]{1,2}\. ", name):
            raise NotUnderstood(
                f"'{name}': write the genus out the first time, as: Leptidea sinapis"
            )
        if name not in known:
            known[name] = None
            new.append(name)
        return name

    def _plant(self, row: CupRow, given: Mapping[str, str]) -> None:
        value, repeats = self._value("plant", given)
        if repeats and not given.get("plant") and not self._wants_plant(row):
            return
        taxa = {holding.taxon for holding in row.held}
        own = {self._plant_of.get(taxon, "") for taxon in taxa}
        if given.get("plant"):
            if value.casefold() in NONE and not self._wants_plant(row):
                return  # as eggs without one, which says nothing of larvae further below
            self._plant_of.update(dict.fromkeys(taxa, value))
        elif len(own) == 1 and own != {""} and own != {value}:
            row.own_plant = value = own.pop()
        if not value or value.casefold() in NONE:
            return
        if not given.get("plant") and self._plant_of and "" in own:
            others = sorted(taxa - self._plant_of.keys())
            raise NotUnderstood(
                f"{' and '.join(others)}: on which plant? {value} is on record"
                " of another species; say the plant, 'same' or '-'"
            )
        read = read_phrase(
            f"{row.codes[0]} host in {value}",
            now=self._now,
            zone=self._zone,
            codes=row.codes,
            shelves=[],
            bench=self._bench,
        )
        if isinstance(read, UnclearTime):
            raise NotUnderstood(read.message)
        if read.at is not None:
            raise NotUnderstood(f"'{value}': say the date of the row behind the plant")
        row.plant = {name: one for name, one in read.fields.items() if name != "container"}
        typed = read.fields["plant"]
        names = typed if isinstance(typed, tuple) else (typed,)
        if len(names) > 1 and "sprigs" in read.fields:
            raise NotUnderstood(f"{read.fields['sprigs']} stems of which? Leave the number out")
        row.plants = tuple(
            self._named(str(name), self._plants, "plant", self._table.plants) for name in names
        )
        row.plant["plant"] = " and ".join(row.plants)

    @staticmethod
    def _wants_plant(row: CupRow) -> bool:
        """Whether a line without a plant has that of the line above: females and larvae have, eggs
        and pupae need none."""
        return any(holding.sex == "female" or holding.stage == "larva" for holding in row.held)

    def _since(self, row: CupRow, given: Mapping[str, str]) -> None:
        value, _ = self._value("since", given)
        value = UNKNOWN if value == "-" else value
        if value.casefold() in ("", "now", UNKNOWN):
            row.since, row.since_known = self._now, value != UNKNOWN
            return
        result = read_time(value, now=self._now, zone=self._zone)
        if isinstance(result, UnclearTime):
            raise NotUnderstood(f"since: {result.message}; ? if it is not known")
        today = result.astimezone(self._zone).date() == self._now.astimezone(self._zone).date()
        row.since = self._now if result > self._now and today and ":" not in value else result
        if row.held and self._now - row.since > LONGEST_HELD:
            self._long_ago(row, value)
        for code in row.codes:
            closed = self._bench.closed.get(code)
            if closed is not None and row.since < closed:
                until = clock(closed, self._now, self._zone)
                raise NotUnderstood(
                    f"since: another {code} stood here until {until}; say a later time, or give"
                    " this one another code"
                )

    def _long_ago(self, row: CupRow, value: str) -> None:
        """Ask about a date that is years back for what lives still."""
        assert row.since is not None
        then, now = row.since.astimezone(self._zone), self._now.astimezone(self._zone)
        years = (now - then).days // 365
        right = value.replace(str(then.year), str(now.year))
        read = read_time(right, now=self._now, zone=self._zone)
        if right == value or isinstance(read, UnclearTime) or read > self._now:
            right = value.replace(str(then.year), str(now.year - 1))
        perhaps = f"perhaps {right}, or " if right != value else ""
        what = PLURALS[row.held[0].stage]
        raise NotUnderstood(
            f"{what} since {then.year}, {count(years, 'year')} ago? Say since when:"
            f" {perhaps}? if it is not known",
            value if perhaps else "",
            right if perhaps else "",
        )

    def _place(self, row: CupRow, given: Mapping[str, str]) -> None:
        value, _ = self._value("place", given)
        if not value or value in NONE:
            row.places = [0] * len(row.codes)
            return
        if "shelf" not in self._shelves:  # 'shelf 2' is the shelf 2, as at the prompt
            value = _SHELF.sub("", value)
        shelf = _ON_IT.sub("", value)
        if shelf.casefold() in self._shelves or PLACE.match(shelf):
            value = shelf  # 'on the sill', 'on rack 2'
        match = PLACE.match(value)
        name, number = (
            (match[1].strip(), int(match[2])) if match and match[1].strip() else (value, 0)
        )
        new = name.casefold() not in self._shelves
        before = next((one for one in self._shelves if name.casefold().startswith(f"{one} ")), "")
        if new and before and name[len(before) :].strip()[:1].isdecimal():
            raise NotUnderstood(
                f"'{value}' is no place: one is a shelf and a number, as: {self._shelves[before]} 2"
            )
        is_place = reads_like_a_place(value, self._plants)
        if new and not (match or is_place) and "plant" not in given and self._wants_plant(row):
            raise NotUnderstood(
                f"'{value}': its plant, or its place? A plant is said as: on {value}; a place has a"
                f" number, as: {value} 1",
                value,
                f"on {value}",
            )
        row.shelf = self._shelves.setdefault(name.casefold(), name)
        number = number or 1 + max(
            (position for shelf, position in self._taken if shelf == row.shelf), default=0
        )
        own = given.get("place", "")
        said = bool(own) and own.casefold() not in SAME
        for step, code in enumerate(row.codes):
            place = number + step
            taken = self._taken.get((row.shelf, place))
            taken = "" if taken == code else taken
            while self._taken.get((row.shelf, place), code) != code:
                place += 1
            if taken and said and not step:
                row.notes.append(
                    f"{code}: place {row.shelf} {number} is taken by {taken}; it gets {row.shelf}"
                    f" {place}."
                )
            self._taken[row.shelf, place] = code
            row.places.append(place)

    def _say(self, row: CupRow) -> None:
        """What a line says, each from when on it is so; what is seen of the animals is so now."""
        for code, position in zip(row.codes, row.places, strict=True):
            at: dict[str, Any] = {"at": row.since}
            there = row.filled.get(code)
            stands = {"purpose": row.purpose, "shelf": row.shelf, "place": position}
            if there is None:
                row.said.append(
                    (
                        k.SetUp,
                        at
                        | {"container": code}
                        | {name: one for name, one in stands.items() if one},
                    )
                )
            else:
                since = row.since or there.since
                at = {"at": max(since, there.emptied) if there.emptied else since}
                new = {
                    name: one for name, one in stands.items() if one and one != getattr(there, name)
                }
                row.said += [(k.Changed, at | {"container": code} | new)] if new else []
                self._is_later(row, there, at["at"])
            self._used.update(brood for brood in row.broods if brood)
            for held, brood in zip(row.held, row.broods, strict=True):
                own = tuple(code for code in held.codes if code not in self._used)
                codes = codes_of(replace(held, codes=own), brood, self._now, self._used)
                begun = brood in self._begun
                origin = Origin("a bench that ran" if brood else "")
                row.said += [
                    (kind, at | fields)
                    for kind, fields in sayings(held, code, codes, origin, begun=begun)
                ]
                self._begun.update([brood] if brood else [])
            if row.plant:
                age = (
                    {}
                    if row.since_known or row.plant.get("kept") in ROOTED
                    else {"cut_not_known": True}
                )
                stands = at | {"container": code, "listed": True} | row.plant | age
                row.said += [(k.HostIn, stands | {"plant": plant}) for plant in row.plants]
                row.said += [(k.HostOut, at | {"container": code, "fate": "held"})] * row.kept
            row.said += [
                (k.Looked, {"container": code, "sign": holding.sign})
                for holding in row.held
                if holding.sign
            ]
            if not row.since_known:
                row.said.append(
                    (
                        k.Note,
                        {
                            "container": code,
                            "text": "listed as it ran; since when it runs is not known",
                        },
                    )
                )

    def _is_later(self, row: CupRow, there: Container, at: datetime) -> None:
        """Tell that what a standing cup holds is recorded later than it came, since the cup stood
        empty till then."""
        if row.since and row.since < at:
            since, until = (clock(instant, self._now, self._zone) for instant in (row.since, at))
            row.notes.append(
                f"{there.code} stands there, empty until {until}: what is in it is recorded from"
                " then on"
            )
            row.said.append(
                (
                    k.Note,
                    {"container": there.code, "text": f"listed with what it holds since {since}"},
                )
            )

    def _set_up_shelves(self) -> None:
        """A shelf that the book does not know stands since the first of its containers does."""
        for name in dict.fromkeys(row.shelf for row in self._table.rows if row.shelf):
            if name not in self._bench.shelves:
                on_it = [row for row in self._table.rows if row.shelf == name]
                since = min(row.since for row in on_it if row.since)
                on_it[0].said.insert(0, (k.ShelfSetUp, {"shelf": name, "at": since}))
                self._table.shelves.append(name)


def _columns_of(cells: Sequence[str]) -> tuple[str, ...]:
    """The columns of a table without headings: with a purpose of its own where the first line has
    one."""
    third = cells[2].split()[:1] if len(cells) > 3 else []
    counted = any(word.casefold() in ANIMALS or re.match(r"^[Ll]?\d+$", word) for word in third)
    return WITH_PURPOSE if counted and purpose_named(cells[1]) in PURPOSES else COLUMNS
