"""Which column of a table is what: as the keeper said, else by its name and by what is in it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from rounds.bench.plurals import PLURALS
from rounds.entries.slots import listed
from rounds.exchange.tables_in import vocabulary as v
from rounds.exchange.tables_in.dates import (
    clock_in,
    is_serial,
    is_shaped_as_date,
    looks_like_date,
    year_in,
)
from rounds.exchange.tables_in.sheet import FileTable
from rounds.exchange.tables_in.unclear import UnclearTable
from rounds.exchange.tables_in.values import (
    ALL_INSTARS,
    INSTARS,
    STAGES,
    about_days,
    amount,
    begins_with_number,
    instar_in,
    is_nothing,
    numbers_of_stages,
    says_all,
    says_fate,
    says_same,
    sex_in,
    sex_named,
    spans_in,
    stage_in,
    without_death,
    yes_or_no,
)
from rounds.exchange.tables_in.vocabulary import (
    all_of,
    bare,
    code_key,
    first_of,
    has,
    says_nothing_but,
)

LEFT_OUT = "left out"
SAID = ("as given", "as the last time")  # how it is known what the keeper said
NOT_UNDERSTOOD = "not understood"
MEASURES = "it measures them"
WHO = ("brood", "animal", "container")  # of whom a row is
_CODE = re.compile(r"(?=\S*\d)[^\W\d_]{0,4}[ ./-]?\w{1,8}(?:[./-]\w{1,4})?|[A-Z]{1,3}")
# A genus, and an epithet with an ending that epithets have (common practice, no source).
_BINOMIAL = re.compile(
    r"[A-Z][a-z]{2,} [a-z-]*[a-z]{2}(?:a|ae|us|is|i|um|e|es|as|or|er|ns|ix|ax|on|os)"
    r"(?: \(?[A-Z][^\d]*(?:, ?\d{4}\)?)?)?"
)
_OF_REMARKS = ", ".join(
    (v.HAPPENS, v.ENDINGS, *v.STAGE_WORDS.values(), *v.BEGINNINGS.values(), v.FEMALE, v.MALE)
)  # words that no name of a species holds
_BRACKET = re.compile(r"[(\[]([^)\]]*)[)\]]")
_KNOWN_IN_BRACKET = ", ".join(
    (
        _OF_REMARKS,
        v.HOW_MANY,
        v.IN_ALL,
        v.PIECES,
        v.ALL,
        v.JUST_SOME,
        v.ALIVE,
        v.DAYS,
        v.WEEKS,
        v.DATE_HEADING,
        v.SHARE,
    )
)
IS_ANOTHER = "{} is another column"
SPANS = {"egg": "days as egg", "larva": "days as larva", "pupa": "days as pupa"}
DAYS_AS_INSTAR = tuple(f"days as {instar}" for instar in ALL_INSTARS)
# Each field that a column may be, with what its cells say.
FIELDS: Mapping[str, str] = {
    "date": "when it happened, of rows of one event each",
    "year": "the year of dates that have none",
    "laid": "the day of laying, or the first of several",
    "laid until": "the last day of laying",
    "hatched": "the day of hatching",
    "pupated": "the day of pupation",
    "emerged": "the day of emergence",
    "died": "the day of death",
    "ended": "the last day that the row is about",
    "what happened": "laid, hatched, L3, pupated, died, moved, fed ..., of rows that tell events",
    "time": "the time of day, beside the date of rows that tell events",
    "stage": "the stage it is about, or in which the animals came",
    "number": "how many animals",
    "eggs": "how many eggs",
    "larvae": "how many hatched",
    "pupae": "how many pupated",
    "adults": "how many emerged",
    "male adults": "how many males emerged",
    "female adults": "how many females emerged",
    **{
        instar: f"how many reached instar {instar[1:]}, or the day on which it was reached"
        for instar in INSTARS
    },
    "deaths": "how many died",
    "dead eggs": "how many died as eggs",
    "dead larvae": "how many died as larvae",
    "dead pupae": "how many died as pupae",
    "gone": "how many escaped, were released or given away, by its heading, of rows of one event",
    "larvae gone": "how many larvae escaped, were released or given away, by its heading",
    "pupae gone": "how many pupae escaped, were released or given away, by its heading",
    "adults gone": "how many adults escaped, were released or given away, by its heading",
    "days as egg": "days from laying to hatching",
    "days as larva": "days from hatching to pupation",
    **{days: f"days in instar {days[-1]}" for days in DAYS_AS_INSTAR},
    "days as pupa": "days from pupation to emergence",
    "days from laying to pupation": "days from laying to pupation",
    "days from laying to emergence": "days from laying to emergence",
    "days in all": "days from laying to the end of what is written",
    "stages": "how long each stage took, as: egg 3 d, larva 21 d, or L1 4 d, L2 3 d",
    "brood": "the code of the brood",
    "animal": "the code of the animal",
    "container": "the container",
    "to": "the container that they went to",
    "species": "the species",
    "mother": "the mother's code, a founder; a note where it is no code, as wild",
    "caught": "the day on which the mother was caught",
    "caught at": "where the mother was caught; a note where she has no code",
    "latitude": "degrees north of where the mother was caught, as 44.1234",
    "longitude": "degrees east of where the mother was caught, as -121.5678",
    "host plant": "the plant they ate",
    "place": "where it was, a note",
    "temperature": "C, or F where it says so; of a row with a whole life its mean, of an event a"
    " reading",
    "mean temperature": "C, the mean since the row before of that container",
    "humidity": "%",
    "sex": "female or male",
    "fate": "died or not, or what became of them",
    "cause": "what they died of, a note unless it is a known cause",
    "note": "as typed",
    LEFT_OUT: "nothing",
}
DATES = (
    "date",
    "laid",
    "laid until",
    "hatched",
    *INSTARS,
    "pupated",
    "emerged",
    "died",
    "ended",
    "caught",
)
OF_LIVES = frozenset(
    {
        *DATES[1:],
        "fate",
        "stages",
        "days as egg",
        "days as larva",
        *DAYS_AS_INSTAR,
        "days as pupa",
        "days from laying to pupation",
        "days from laying to emergence",
        "days in all",
    }
    - {"caught"}
)  # what only rows have that tell a whole life
NOT_OF_EVENTS = OF_LIVES - {"fate"} | {
    *("animal", *INSTARS, "dead eggs", "dead larvae", "dead pupae"),
}
NOT_OF_LIVES = frozenset({"to", "time", "mean temperature", "gone"})
CENSUS = tuple(PLURALS.values())  # how many of each stage
OF_SEX: Mapping[str, str] = {"male": "male adults", "female": "female adults"}  # of the adults
COUNTS = (*CENSUS, *OF_SEX.values())
COUNTED_IN_ROWS = (*COUNTS, "number", "what happened", "deaths")
OF_ONE = frozenset({"fate", "stages", "sex", "days as egg", "days as larva", "days as pupa"}) | {
    *DAYS_AS_INSTAR
}
DAYS_IN = (*SPANS.values(), *DAYS_AS_INSTAR)  # of one stage
TEMPERATURES = ("temperature", "mean temperature")
AMOUNTS = (
    *listed(
        "days as egg, days as larva, days as pupa, days from laying to pupation,"
        " days from laying to emergence, days in all, temperature, mean temperature, humidity",
        by=", ",
    ),
    *DAYS_AS_INSTAR,
)
DAYS_OF = frozenset({*AMOUNTS} - {*TEMPERATURES, "humidity"})
POINT = ("latitude", "longitude")  # where the mother was caught
TEXTS = frozenset(
    {"note", "what happened", "fate", "cause", "place", "brood", "animal", "container", "to"}
    | {
        "time",
        "mother",
        "species",
        "host plant",
        "caught at",
        *POINT,
        "sex",
        "stage",
        "stages",
        *DATES,
    }
) - {*INSTARS}  # in which no number stands alone
BEGINS = {"egg": "laid", "larva": "hatched", "pupa": "pupated", "adult": "emerged"}
DEAD_IN = {"egg": "dead eggs", "larva": "dead larvae", "pupa": "dead pupae"}
SINCE_LAID = {"pupa": "days from laying to pupation", "adult": "days from laying to emergence"}
GONE_IN = {"larva": "larvae gone", "pupa": "pupae gone", "adult": "adults gone"}
MOSTLY = 0.8  # of the filled cells of a column must be what it is taken for
MANY = 5  # numbers of one brood, each once, that are no counts in whatever order; our choice
FEW_WORDS = 6  # that a column of sexes may hold; our choice
HALF = 0.5  # of them is enough for dates where the column is called so; our choice


@dataclass(frozen=True, slots=True)
class ColumnUse:
    """What one column becomes: a field, by what that is known, and how many cells are filled."""

    position: int
    heading: str
    field: str
    how: str
    examples: tuple[str, ...]
    filled: int


@dataclass(slots=True)
class _Column:
    """A column and what its cells can be, as shares of those that are filled."""

    position: int
    heading: str
    every: list[str]  # of each row
    cells: list[str]  # that are filled
    numbers: list[float | None] = field(default_factory=list)  # of each row
    kinds: dict[str, float] = field(default_factory=dict)

    @property
    def bare(self) -> str:
        return bare(self.heading)

    def mostly(self, kind: str) -> bool:
        return bool(self.cells) and self.kinds[kind] >= MOSTLY

    def is_numbers(self, stage: str) -> bool:
        """Whether it is of numbers: most of it, or half of it where a stage is named; what of it
        cannot be read is told line by line."""
        is_half = bool(stage) and self.kinds["numeric"] >= HALF
        return (self.mostly("number") or is_half) and not self.mostly("date")

    @property
    def is_called_number(self) -> bool:
        """Whether it is called a number, of lines or of what nobody knows."""
        fits = first_of(v.HEADINGS, self.bare)
        return fits == "line number" or (
            not fits and has(v.HOW_MANY, self.bare) and not first_of(v.STAGE_WORDS, self.bare)
        )

    @property
    def measures(self) -> bool:
        """Whether it is called a size or a weight of some stage, instar or sex, no time and no size
        of a clutch."""
        name = self.bare
        is_of_animals = first_of(v.STAGE_WORDS, name) or instar_in(self.heading) or sex_in(name)
        is_time = any(has(words, name) for words in (v.TIMES, v.WEEKS, v.STAGE_HEADING))
        is_size = has(v.SIZES, name) and not is_time and not has(v.HEADINGS["brood"], name)
        return bool(is_of_animals) and (has(v.UNITS_OF_SIZE, name) or is_size)

    @property
    def code_of(self) -> str:
        """Of what it is a code by its name, which names a stage beside: ``Egg batch``, ``Larva
        box``, ``Raupe Nr``, ``N° ponte``; empty where it is none, as ``Eggs per cup``, ``No.
        eggs``."""
        name = self.bare
        of_what = ("container", "brood", "animal", "line number")
        code = next((one for one in of_what if has(v.HEADINGS[one], name)), "")
        other = (v.DEAD, v.SHARE, v.TIMES, v.WEEKS, v.SIZES)
        if not code or re.search(r"\d", name) or any(has(words, name) for words in other):
            return ""
        if has(v.LAYINGS, name) and has(v.HEADINGS["line number"], name):
            return "brood"
        of_one = has(v.ONE_ANIMAL, name) or any(
            has(v.IN_COMPOUNDS, before) and has(v.HEADINGS[code], then)
            for before, then in pairwise(name.split())
        )
        is_one_word = any(
            first_of(v.STAGE_WORDS, word) and has(v.HEADINGS[code], word) for word in name.split()
        )
        return code if of_one or is_one_word else ""

    @property
    def tells_spans(self) -> bool:
        """Whether it tells how long stages took: by its name, or by a unit of days in its cells,
        for a number beside a stage can count animals."""
        is_called = has(v.STAGES_HEADING, self.bare) or _is_in_days(self.bare)
        return self.mostly("spans") and (is_called or self.mostly("days"))

    @property
    def is_whole(self) -> bool:
        """Whether its numbers are whole ones, a slip aside."""
        return self.kinds["whole"] >= MOSTLY * self.kinds["number"]


_Columns = Sequence[_Column]
# What columns become, by their position: a field, and by what that is known.
_Chosen = dict[int, tuple[str, str]]


def _is_binomial(cell: str) -> bool:
    """Whether a cell is written as the name of a species is, and holds no word of a remark."""
    return _BINOMIAL.fullmatch(cell) is not None and not has(_OF_REMARKS, bare(cell))


_TESTS = {
    "date": lambda cell: (
        looks_like_date(cell) or is_shaped_as_date(cell) or looks_like_date(without_death(cell))
    ),
    "whole date": lambda cell: looks_like_date(cell) and bool(year_in(cell)),
    "serial": is_serial,
    "hour": lambda cell: clock_in(cell) is not None,
    "clock": lambda cell: clock_in(cell, hours_alone=False) is not None,
    "event": lambda cell: bool(has(v.HAPPENS, bare(cell)) or first_of(v.BEGINNINGS, bare(cell))),
    "number": lambda cell: amount(cell) is not None,
    "whole": lambda cell: (found := amount(cell)) is not None and found.value == int(found.value),
    "numeric": lambda cell: (
        amount(cell) is not None
        or says_all(cell)
        or (begins_with_number(cell) and not looks_like_date(cell))
    ),
    "dead": lambda cell: amount(cell) is not None or bool(numbers_of_stages(cell)),
    "flag": lambda cell: yes_or_no(cell) is not None,
    "spans": lambda cell: spans_in(cell) is not None,
    "days": lambda cell: has(
        f"{v.TIMES}, {v.WEEKS}", re.sub(r"(?<=\d)(?=[^\W\d])", " ", bare(cell))
    ),
    "stage": lambda cell: bool(stage_in(cell) or instar_in(cell)),
    "fate": lambda cell: has(v.ENDINGS, bare(cell)),
    "ending": says_fate,
    "sex": lambda cell: bool(sex_in(cell)) and len(cell) < 12,
    "code": lambda cell: _CODE.fullmatch(cell) is not None,
    "binomial": _is_binomial,
}


def columns_of(
    sheet: FileTable, said: Mapping[str, str], before: Mapping[str, str]
) -> tuple[ColumnUse, ...]:
    """What each column becomes.

    Args:
        said: fields by heading, as the keeper said now.
        before: fields by heading, as they were the last time such a table came in.

    Raises:
        UnclearTable: a heading or a field that is none, or one field twice.
    """
    chosen: _Chosen = {}
    for name, value in said.items():
        position = _position(sheet, name)
        chosen[position] = _of_its_sex(_field(value), sheet.headings[position]), SAID[0]
    known = {bare(name): value for name, value in before.items()}
    columns = [_described(sheet, position) for position in range(len(sheet.headings))]
    for column in columns:
        field_before = known.get(column.bare, "")
        if column.position not in chosen and field_before in FIELDS:
            chosen[column.position] = _of_its_sex(field_before, column.heading), SAID[1]
    taken = {name for name, _ in chosen.values()}
    open_columns = [column for column in columns if column.position not in chosen]
    guesses = zip(open_columns, _guesses(open_columns, columns), strict=True)
    for column, (guess, how) in sorted(guesses, key=lambda one: not _is_plainly(*one)):
        if guess in taken and guess != "note":
            guess, how = LEFT_OUT, IS_ANOTHER.format(guess)
        chosen[column.position] = guess, how
        taken.update({guess} - {LEFT_OUT})
    _ask_from_when(open_columns, columns, chosen)
    _ask_of_brackets(open_columns, columns, chosen)
    _find_what_happened(open_columns, chosen, taken)
    _take_animals_for_others(open_columns, chosen, taken)
    if taken.isdisjoint((*WHO, *COUNTED_IN_ROWS)) and not taken.isdisjoint(OF_ONE):
        _take_numbers_for_codes(open_columns, chosen, taken, "animal")
    elif taken.isdisjoint((*WHO, "mother", "date", "what happened")) and taken & set(CENSUS):
        _take_numbers_for_codes(open_columns, chosen, taken, "brood")
    if taken.isdisjoint(WHO) and not taken.isdisjoint((*DATES, *COUNTS)):
        _ask_of_codes(open_columns, chosen)
    if taken.isdisjoint((*COUNTS, "number", "animal")) and not taken.isdisjoint(WHO):
        _find_how_many(open_columns, chosen)
    if "stage" not in taken:
        _find_stages(open_columns, chosen)
    if "to" not in taken:
        _find_where_to(sheet, open_columns, chosen)
    uses = tuple(
        ColumnUse(
            column.position,
            column.heading,
            *chosen[column.position],
            tuple(dict.fromkeys(column.cells))[:3],
            len(column.cells),
        )
        for column in columns
    )
    _refuse_twice(uses)
    return uses


def _is_plainly(column: _Column, guessed: tuple[str, str]) -> bool:
    """Whether a heading says nothing but what it is taken for, so that it goes before others that
    say more: ``Eggs``; a day of a year before one without."""
    guess, _ = guessed
    if guess in DATES:
        return column.mostly("whole date")
    of_stages = (*v.STAGE_WORDS.values(), *v.BEGINNINGS.values(), v.DAYS, v.HOW_MANY)
    return says_nothing_but(", ".join((*of_stages, v.HEADINGS.get(guess, guess))), column.bare)


def _of_its_sex(name: str, heading: str) -> str:
    """The field of a column that somebody called adults: of one sex where its heading names one."""
    return OF_SEX.get(sex_named(heading), name) if name == "adults" else name


def _find_what_happened(columns: _Columns, chosen: _Chosen, taken: set[str]) -> None:
    """In a table of dates without another column for it, one of words of events tells what
    happened, also where it is called one of remarks."""
    if "date" not in taken or "what happened" in taken or taken & OF_LIVES - {"fate"}:
        return
    for column in columns:
        name, how = chosen[column.position]
        is_open = name == "note" or (name, how) == (LEFT_OUT, NOT_UNDERSTOOD)
        if is_open and column.kinds["event"] >= HALF:
            chosen[column.position] = "what happened", "by what is in it"
            taken.add("what happened")
            return


def _take_animals_for_others(columns: _Columns, chosen: _Chosen, taken: set[str]) -> None:
    """In a table without another code, those of rows that count the eggs or larvae of each are of
    broods, and those of events of containers."""
    is_event = "what happened" in taken
    if not taken.isdisjoint(("brood", "container")) or not (taken & set(CENSUS[:3]) or is_event):
        return
    for column in columns:
        if chosen[column.position][0] == "animal":
            name = "container" if is_event else "brood"
            how = "by its name, in a table of events" if is_event else "by its name, beside counts"
            chosen[column.position] = name, how
            taken.add(name)
            taken.discard("animal")
            return


def _take_numbers_for_codes(columns: _Columns, chosen: _Chosen, taken: set[str], name: str) -> None:
    """In a table of animals or broods without another code the numbers of its lines are theirs."""
    for column in columns:
        is_number = first_of(v.HEADINGS, column.bare) == "line number" or _counts_rows(column)
        is_free = chosen[column.position][0] == LEFT_OUT
        numbers = [one for one in column.numbers if one is not None]  # a line of means has none
        if is_free and is_number and len({*numbers}) == len(numbers) and column.mostly("whole"):
            chosen[column.position] = name, f"by its name, in a table of {name}s"
            taken.add(name)
            return


def _numbers_animals(column: _Column, columns: _Columns) -> bool:
    """Whether a column counts 1, 2, 3 ... within each brood: it numbers the animals there, in their
    order or, of many, in any."""
    names = [one for one in columns if first_of(v.HEADINGS, one.bare) in ("brood", "mother")]
    groups: dict[tuple[str, ...], list[float]] = {}
    whose: tuple[str, ...] = ()
    for place, number in enumerate(column.numbers):
        cells = [one.every[place] for one in names]
        if any(cells) and not all(map(says_same, cells)):
            whose = tuple(map(code_key, cells))
        if number is not None:
            groups.setdefault(whose, []).append(number)
    told = list(groups.values())
    largest = max(map(len, told), default=0)
    in_order = all(one < then for numbers in told for one, then in pairwise(numbers))
    is_each_once = all(len({*numbers}) == len(numbers) for numbers in told)
    filled = sum(map(len, told))
    return (
        bool(names)
        and column.mostly("whole")
        and filled > 2
        and largest > 1
        and all(numbers and min(numbers) > 0 for numbers in told)
        and (in_order or (is_each_once and largest >= MANY))
        and sum(map(max, told)) * MOSTLY <= filled
    )


def _find_how_many(columns: _Columns, chosen: _Chosen) -> None:
    """In a table without another number one called no. is how many, where it does not number the
    lines: then each is greater than the one before."""
    for column in columns:
        numbers = [number for number in column.numbers if number is not None]
        is_running = all(one < then for one, then in pairwise(numbers))
        is_number = first_of(v.HEADINGS, column.bare) == "line number" and column.mostly("whole")
        if is_number and not is_running and chosen[column.position][0] == LEFT_OUT:
            chosen[column.position] = "number", "by its name, the only number"
            return


def _ask_of_codes(columns: _Columns, chosen: _Chosen) -> None:
    """Ask about a column of different short codes in a table that does not say of whom its rows
    are.

    Raises:
        UnclearTable: there is one.
    """
    for column in columns:
        codes = {cell for cell in column.cells if _CODE.fullmatch(cell) and not cell.isdecimal()}
        is_codes = len(column.cells) > 1 and len(codes) >= MOSTLY * len(column.cells)
        if is_codes and chosen[column.position] == (LEFT_OUT, NOT_UNDERSTOOD):
            raise UnclearTable(
                f"{column.heading} holds codes ({', '.join(column.cells[:3])}); what are they?",
                "map",
                column.heading,
                (*WHO, LEFT_OUT),
            )


def _find_stages(columns: _Columns, chosen: _Chosen) -> None:
    """A second column of fates that holds stages tells in which they died."""
    for column in columns:
        if chosen[column.position] == (LEFT_OUT, IS_ANOTHER.format("fate")) and column.mostly(
            "stage"
        ):
            chosen[column.position] = "stage", "by what is in it, beside a column of fates"
            return


def _find_where_to(sheet: FileTable, columns: _Columns, chosen: _Chosen) -> None:
    """Find the column of where they were moved to among those that are nothing else: the one that
    is filled in lines of moves, or with the codes of other containers.

    Raises:
        UnclearTable: a second column of containers is filled in others too.
    """
    at_field = {name: at for at, (name, _) in chosen.items()}
    what, where = at_field.get("what happened"), at_field.get("container")
    if what is None:
        return
    containers = {code_key(row.cells[where]) for row in sheet.rows} if where is not None else set()
    for column in columns:
        name, how = chosen[column.position]
        is_container = how == IS_ANOTHER.format("container")
        if name != LEFT_OUT or not (is_container or how == NOT_UNDERSTOOD):
            continue
        filled = [row for row in sheet.rows if not is_nothing(row.cells[column.position])]
        of_moves = sum(has(v.MOVED, bare(row.cells[what])) for row in filled) / max(1, len(filled))
        if of_moves >= (HALF if is_container else MOSTLY):
            chosen[column.position] = "to", "by the lines of moves that fill it"
            return
        of_others = [
            code_key(row.cells[column.position]) in containers - {code_key(row.cells[where])}
            for row in filled
            if where is not None
        ]
        if not is_container and of_others and sum(of_others) >= MOSTLY * len(of_others):
            chosen[column.position] = "to", "by the containers that are in it"
            return
        if is_container:
            raise UnclearTable(
                f"{column.heading} is a second column of containers; is it where they were moved"
                " to?",
                "map",
                column.heading,
                ("to", LEFT_OUT, "note"),
            )


def _position(sheet: FileTable, name: str) -> int:
    """The column that a name means: its heading, a part of it that no other has, or its number."""
    wanted = bare(name)
    exact = [at for at, heading in enumerate(sheet.headings) if bare(heading) == wanted]
    part = [at for at, heading in enumerate(sheet.headings) if wanted and wanted in bare(heading)]
    for found in (exact, part):
        if len(found) == 1:
            return found[0]
    if name.isdecimal() and 1 <= int(name) <= len(sheet.headings):
        return int(name) - 1
    what = "several columns are" if part else "no column is"
    raise UnclearTable(f"{what} called '{name}'; there are {', '.join(sheet.headings)}")


def _field(value: str) -> str:
    wanted = " ".join(value.casefold().split())
    for name in FIELDS:
        if name.casefold() == wanted:
            return name
    raise UnclearTable(f"'{value}' is no field; it can be {', '.join(FIELDS)}")


def _refuse_twice(uses: Sequence[ColumnUse]) -> None:
    seen: dict[str, str] = {}
    for use in uses:
        if use.field in seen and use.field not in (LEFT_OUT, "note"):
            raise UnclearTable(
                f"{seen[use.field]} and {use.heading} are both {use.field}; what is {use.heading}?",
                "map",
                use.heading,
                (LEFT_OUT, *FIELDS),
                f"say it with --map '{use.heading}=...', or {LEFT_OUT}",
            )
        seen[use.field] = use.heading


def _described(sheet: FileTable, position: int) -> _Column:
    every = [row.cells[position] for row in sheet.rows]
    cells = [cell for cell in every if not is_nothing(cell) and not says_same(cell)]
    meant = _ranges_as_numbers(sheet.headings[position], {*cells})
    amounts = {cell: amount(meant.get(cell, cell)) for cell in {*every}}
    numbers = [found.value if (found := amounts[cell]) else None for cell in every]
    column = _Column(position, sheet.headings[position], every, cells, numbers)
    often = Counter(meant.get(cell, cell) for cell in cells)
    column.kinds = {
        kind: sum(number for cell, number in often.items() if test(cell)) / max(1, len(cells))
        for kind, test in _TESTS.items()
    }
    return column


def _ranges_as_numbers(heading: str, cells: set[str]) -> dict[str, str]:
    """The middle of each range that could be a date too, as ``9-11``, in a column whose heading
    says days, or whose other cells are plain numbers."""
    dates = filter(looks_like_date, cells)
    ranges = {cell: middle for cell in dates if (middle := about_days(cell)) is not None}
    others = cells - ranges.keys()
    plain = sum(bool(amount(cell) or about_days(cell)) for cell in others)
    says_days = _is_in_days(bare(heading)) and plain == len(others)
    is_numbers = says_days or (others and plain >= MOSTLY * len(others))
    return {cell: f"{middle.value:.0f}" for cell, middle in ranges.items()} if is_numbers else {}


def _guesses(open_columns: _Columns, columns: _Columns) -> Iterator[tuple[str, str]]:
    columns = [one for one in columns if not (one.measures or one.code_of)]
    are_days = _numbers_of_stages_are_days(columns)
    are_instar_days = _numbers_of_instars_are_days(columns, are_days=are_days)
    tells_how_many = _tell_how_many(columns, are_days=are_days)
    names_species = _of_binomials(open_columns, columns)
    names_broods = any(first_of(v.HEADINGS, one.bare) == "brood" and one.cells for one in columns)
    for column in open_columns:
        if not column.cells:
            yield LEFT_OUT, "nothing is in it"
            continue
        if column.measures:
            yield LEFT_OUT, MEASURES
            continue
        if _is_laying_numbered(column, columns):
            yield "brood", "by its name, and what is in it"
            continue
        if column.is_called_number and not tells_how_many and _numbers_animals(column, columns):
            yield "animal", "it numbers the animals"
            continue
        if column is names_species:
            yield "species", "by what is in it"
            continue
        stage = _stage_of_heading(column, columns)
        guess = _adults_of_a_sex(column, columns) or _by_heading(
            column,
            stage,
            are_days=are_days,
            are_instar_days=are_instar_days,
            tells_how_many=tells_how_many,
        )
        if guess == "brood" and names_broods and first_of(v.HEADINGS, column.bare) == "line number":
            yield LEFT_OUT if tells_how_many else "animal", "by its name, beside broods"
            continue
        if guess:
            yield guess, "by its name"
            continue
        guess = _by_values(column)
        yield (guess, "by what is in it") if guess else (LEFT_OUT, NOT_UNDERSTOOD)


def _of_binomials(open_columns: _Columns, columns: _Columns) -> _Column | None:
    """The one column full of names of species, in a table in which none is called so."""
    if any(first_of(v.HEADINGS, one.bare) == "species" for one in columns):
        return None
    of_animals = ("", "brood", "animal", "container", "line number")
    found = [
        one
        for one in open_columns
        if one.mostly("binomial") and first_of(v.HEADINGS, one.bare) in of_animals
    ]
    return found[0] if len(found) == 1 else None


def _adults_of_a_sex(column: _Column, columns: _Columns) -> str:
    """Whether a column counts the adults of one sex: it names them, or another column of numbers is
    of the other sex."""
    sex = _sex_counted(column)
    if not sex:
        return ""
    names_adults = {first_of(v.BEGINNINGS, column.bare), first_of(v.STAGE_WORDS, column.bare)}
    others = {_sex_counted(one) for one in columns} - {"", sex}
    return OF_SEX[sex] if "adult" in names_adults or others else ""


def _sex_counted(column: _Column) -> str:
    """Of which sex the numbers of a column can be; empty where it is none of adults."""
    name = column.bare
    stages = {first_of(v.BEGINNINGS, name), *(stage for _, _, stage in all_of(v.STAGE_WORDS, name))}
    is_other = any(has(words, name) for words in (v.DEAD, v.DAYS, v.SHARE, v.HEADINGS["mother"]))
    if is_other or stages - {"", "adult"} or not (column.mostly("number") and column.is_whole):
        return ""
    return sex_named(column.heading)


def _stage_of_heading(column: _Column, columns: _Columns) -> str:
    """The stage that a heading names, or that begins with what it names; what comes out without
    saying of what, comes out of eggs where it stands before the pupae."""
    stage = first_of(v.BEGINNINGS, column.bare) or first_of(v.STAGE_WORDS, column.bare)
    if stage or not has(v.COMES_OUT, column.bare):
        return stage
    pupae = [
        one.position
        for one in columns
        if "pupa" in (first_of(v.BEGINNINGS, one.bare), first_of(v.STAGE_WORDS, one.bare))
    ]
    return "larva" if not pupae or column.position < min(pupae) else "adult"


def _is_in_days(name: str) -> bool:
    """Whether what a heading calls so is counted in days, not in animals."""
    return has(v.DAYS, name) and not has(v.DEAD, name) and not has(v.HOW_MANY, name)


def _by_heading(
    column: _Column, stage: str, *, are_days: bool, are_instar_days: bool, tells_how_many: bool
) -> str:
    name = column.bare
    if column.code_of and not column.mostly("whole date"):
        is_line = column.code_of == "line number"
        return (LEFT_OUT if column.mostly("whole") else "animal") if is_line else column.code_of
    instar = f"L{instar_in(column.heading)}"
    own = next((one for one in FIELDS if bare(one) == name), "")
    is_date = _is_date(column, stage or own in DATES or instar in ALL_INSTARS)
    in_days = are_instar_days or _is_in_days(name)
    if instar in ALL_INSTARS and in_days and column.mostly("number") and not is_date:
        return f"days as {instar}"
    if instar == "L1" and (is_date or column.mostly("whole")):
        return "hatched" if is_date else "larvae"
    is_share = has(v.SHARE, name) and column.mostly("numeric") and own != "humidity"
    if (own == "number" and _counts_rows(column)) or (
        is_share and first_of(v.HEADINGS, name) != "humidity"
    ):
        return LEFT_OUT
    if first_of(v.HEADINGS, name) == "brood" and _counts_rows(column):
        return "brood"
    if _numbers_rows(column):
        return LEFT_OUT
    if own and (own not in DATES or is_date or column.mostly("serial")):
        return own
    is_clock = column.mostly("hour") if has(v.HOUR_HEADING, name) else column.mostly("clock")
    if has(v.TIME_HEADING, name) and is_clock and not is_date:
        return "time"
    if has(v.CAUGHT_HEADING, name) and not stage and not column.mostly("whole"):
        return "caught" if is_date else "caught at"
    if instar in INSTARS and (is_date or column.mostly("whole")):
        return instar
    is_date = is_date or (column.mostly("serial") and has(v.DATE_HEADING, name))
    is_what = first_of(v.HEADINGS, name) == "what happened"
    tells_dead = column.mostly("dead") and any(map(numbers_of_stages, column.cells))
    if has(v.DEAD, name) and tells_dead and not (stage or is_date or is_what or has(v.DAYS, name)):
        return "deaths"
    if column.tells_spans and not is_what and not (stage and column.mostly("whole")):
        return "stages"
    if is_date or (column.mostly("serial") and stage):
        if stage == "egg" and has(v.ENDED_HEADING, name):
            return "laid until"
        return (
            BEGINS[stage]
            if stage
            else "died"
            if has(v.DEAD, name)
            else "ended"
            if has(v.ENDED_HEADING, name)
            else "date"
            if has(v.DATE_HEADING, name)
            else ""
        )
    if column.is_numbers(stage):
        found = _number_by_heading(column, stage, are_days=are_days, tells_how_many=tells_how_many)
        if found:
            return found
    if has(v.STAGES_HEADING, name) and column.kinds["spans"] > 0:
        return "stages"
    is_numbers = column.mostly("number") or column.mostly("date")
    if has(v.DEAD, name) and not (stage or is_numbers or first_of(v.HEADINGS, name)):
        return "fate"
    is_fate = any(column.kinds[kind] > 0 for kind in ("fate", "stage", "flag"))
    if has(v.FATE_HEADING, name) and is_fate and not column.mostly("number"):
        return "fate"
    if has(v.STAGE_HEADING, name) and column.mostly("stage"):
        return "stage"
    fits = first_of(v.HEADINGS, name)
    if fits == "to" and name not in v.HEADINGS["to"].split(", ") and not column.mostly("code"):
        return ""
    if fits == "container" and has(v.NEW, name):
        return "to"
    says_how_many = column.mostly("number") or column.mostly("flag") or column.mostly("sex")
    if not fits and has(v.FEMALE_HEADING, name) and not says_how_many:
        return "mother"
    if fits == "line number":
        return LEFT_OUT if column.mostly("whole") else "brood"
    if fits in AMOUNTS and column.kinds["numeric"] < HALF:
        return ""
    if fits == "sex" and not (column.mostly("sex") or _may_be_sexes(column)):
        return ""
    return fits


def _is_laying_numbered(column: _Column, columns: _Columns) -> bool:
    """Whether a column that is called a laying alone has their numbers, for another has the eggs,
    or their names, which stand in several rows."""
    if not says_nothing_but(v.LAYINGS, column.bare) or column.mostly("date"):
        return False
    are_names = column.kinds["number"] == 0 and len({*column.cells}) * 2 <= len(column.cells)
    is_code = column.mostly("whole") or column.mostly("code")
    return are_names or (
        is_code
        and any(
            first_of(v.STAGE_WORDS, one.bare) == "egg" and one.is_numbers("egg")
            for one in columns
            if not (has(v.DAYS, one.bare) or has(v.DEAD, one.bare))
        )
    )


def _may_be_sexes(column: _Column) -> bool:
    """Whether a column that is called sex can be of sexes, of which some word is asked: it holds a
    few short words, no numbers."""
    words = {bare(cell) for cell in column.cells}
    return len(words) <= FEW_WORDS and max(map(len, words)) < 12 and not column.mostly("number")


def _is_date(column: _Column, named: object) -> bool:
    """Whether a column is of dates: most of it, or half of it where it is called so; what of it
    cannot be read is told line by line."""
    is_code = first_of(v.HEADINGS, column.bare) in (*WHO, "line number")
    if is_code and not named and column.kinds["whole date"] < HALF:
        return False
    called = named or any(
        has(one, column.bare) for one in (v.DATE_HEADING, v.ENDED_HEADING, v.DEAD)
    )
    return column.mostly("date") or (bool(called) and column.kinds["date"] >= HALF)


def _tell_how_many(columns: _Columns, *, are_days: bool) -> bool:
    """Whether rows are of several animals: they tell events, or count those of stages."""
    of_events = any(
        first_of(v.HEADINGS, one.bare) == "what happened" and not one.mostly("number")
        for one in columns
    )
    counted = any(
        first_of(v.STAGE_WORDS, one.bare)
        and one.is_numbers("adult")
        and not (has(v.DEAD, one.bare) or has(v.DAYS, one.bare) or one.mostly("flag"))
        for one in columns
    )
    return of_events or (counted and not are_days)


def _number_by_heading(column: _Column, stage: str, *, are_days: bool, tells_how_many: bool) -> str:
    """What a column of numbers is by its name: days in a stage, dead, how many."""
    name = column.bare
    says_days = has(v.DAYS, name) or has(v.WEEKS, name)
    between = _days_between(name, stage) if says_days and not has(v.DEAD, name) else ""
    if between:
        return between
    of_several = len({found for _, _, found in all_of(v.STAGE_WORDS, name)}) > 1
    if (of_several or (has(v.IN_ALL, name) and not stage)) and (says_days or are_days):
        return "days in all"
    if has(v.NOT_HATCHED, name) and not says_days:
        return DEAD_IN.get(first_of(v.STAGE_WORDS, name) or "egg", "deaths")
    if has(v.LEFT_WORDS, name) and not has(v.DEAD, name) and not says_days:
        gone = stage or ("adult" if has(v.RELEASED, name) else "")
        return GONE_IN.get(gone, "gone") if tells_how_many and column.is_whole else ""
    if stage and has(v.DEAD, name) and not says_days:
        return DEAD_IN.get(stage, "deaths")
    if stage in SPANS and (says_days or (are_days and not has(v.HOW_MANY, name))):
        return SPANS[stage]
    if stage and not says_days:
        return PLURALS[stage] if column.is_whole else ""
    if has(v.DEAD, name) and not says_days:
        return "fate" if column.mostly("flag") and not tells_how_many else "deaths"
    if says_days and has(v.DEAD, name):
        return "days in all"
    fits = first_of(v.HEADINGS, name)
    if fits and fits != "line number":
        return fits if fits in AMOUNTS or column.mostly("whole") else ""
    says_how_many = has(v.COUNTED, name) or not _counts_rows(column)
    if has(v.HOW_MANY, name) and column.mostly("whole") and says_how_many:
        return "number"
    return ""


_NAMED = {f"to {stage}": words for stage, words in v.BEGINNINGS.items()} | {
    "out": v.COMES_OUT,
    **v.STAGE_WORDS,
}


def _named_in_days(name: str, stage: str) -> list[tuple[str, bool]]:
    """The stages that a heading of days names, in their order, each with whether it is named by
    what begins it; what comes out is of eggs or of pupae.

    Args:
        stage: which begins where it says no more than that something came out.
    """
    named: list[tuple[str, bool]] = []
    found = [one for _, _, one in all_of(_NAMED, name)]
    for one in found:
        before = {stage for stage, _ in named}
        is_out, which = one in ("out", "to larva"), one.removeprefix("to ")
        if is_out and "pupa" in before:
            which = "adult"
        elif is_out and (one != "out" or "egg" in before or {"to pupa", "pupa"} & {*found}):
            which = "larva"
        elif is_out:
            which = stage
        named.append((which, one not in v.STAGE_WORDS))
    return named


def _days_between(name: str, stage: str) -> str:
    """What days are whose heading names what they end with, and may name from when they count: of a
    stage, or since laying; empty where it names a stage alone."""
    named = _named_in_days(name, stage)
    stages = list(dict.fromkeys(one for one, _ in named))
    if not named or not named[-1][1] or stages != sorted(stages, key=STAGES.index):
        return ""
    first, last = stages[0], stages[-1]
    is_of_stage = named[0] == (last, False) and last in SPANS
    if last == "egg" or is_of_stage:
        return ""
    if last == "larva":
        return SPANS["egg"]
    if first in (last, "egg"):
        return SINCE_LAID[last]
    is_next = STAGES.index(first) + 1 == STAGES.index(last)
    return SPANS[first] if is_next else ""


def _ask_from_when(columns: _Columns, every: _Columns, chosen: _Chosen) -> None:
    """Ask from when days until something happened count, where no heading says it.

    Raises:
        UnclearTable: it was said of none of them yet.
    """
    said = {name for name, how in chosen.values() if how in SAID}
    since = {name: SPANS[STAGES[STAGES.index(stage) - 1]] for stage, name in SINCE_LAID.items()}
    of_laying = [one for one in columns if chosen[one.position][0] in since and _says_since(one)]
    if of_laying or not said.isdisjoint(since):
        return
    for column in columns:
        name, how = chosen[column.position]
        if name not in since:
            continue
        if not said.isdisjoint(since.values()) and since[name] not in said:
            chosen[column.position] = since[name], how
            continue
        before = [one for one in every if one.position < column.position and one.mostly("number")]
        later = [one for one in columns if chosen[one.position][0] == SINCE_LAID["adult"]]
        grows = all(
            _rises(one, then)
            for one, then in pairwise([*before[-1:], column, *later[-1:]])
            if one is not then
        )
        likely = (name, since[name]) if grows else (since[name], name)
        raise UnclearTable(
            f"{column.heading} counts days ({', '.join(dict.fromkeys(column.cells[:3]))}): are they"
            f" {' or '.join(likely)}?",
            "map",
            column.heading,
            (*likely, "note", LEFT_OUT),
        )


def _unclear_bracket(column: _Column) -> str:
    """What stands in a bracket of a heading and says neither how many, of what, nor when."""
    found = _BRACKET.search(column.heading)
    words = bare(found[1]) if found else ""
    is_code = bool(re.search(r"\d", words))
    return "" if is_code or has(_KNOWN_IN_BRACKET, words) else words


def _ask_of_brackets(columns: _Columns, every: _Columns, chosen: _Chosen) -> None:
    """Ask whether numbers of a stage are animals or days where a bracket that nobody understands
    says it; that of one column holds for others with it.

    Raises:
        UnclearTable: it was said of none of them yet.
    """
    spans = {count: SPANS[stage] for stage, count in PLURALS.items() if stage in SPANS}
    said = {
        _unclear_bracket(one): chosen[one.position][0]
        for one in every
        if chosen[one.position][1] in SAID
    }
    for column in columns:
        (name, how), words = chosen[column.position], _unclear_bracket(column)
        if name not in spans or not words:
            continue
        if words in said:
            is_days = said[words] in AMOUNTS
            chosen[column.position] = (spans[name] if is_days else name), how
            continue
        raise UnclearTable(
            f"{column.heading}: '{words}' is not known; are its numbers"
            f" ({', '.join(dict.fromkeys(column.cells[:3]))}) {spans[name]} or {name}?",
            "map",
            column.heading,
            (spans[name], name, "note", LEFT_OUT),
        )


def _says_since(column: _Column) -> bool:
    """Whether a heading says that days count from laying, or as egg."""
    return "egg" in [stage for stage, _ in _named_in_days(column.bare, "")]


def _counts_rows(column: _Column) -> bool:
    """Whether a column only numbers the rows: 1, 2, 3 ..., a row of sums or means aside."""
    numbers = [cell for cell in column.cells if cell.isdecimal()]
    return len(numbers) > 2 and all(
        cell == str(place) for place, cell in enumerate(numbers, start=1)
    )


def _numbers_rows(column: _Column) -> bool:
    """Whether a column is called a number and only numbers the rows, as ``Chrysalis no``."""
    return has(v.HEADINGS["line number"], column.bare) and _counts_rows(column)


def _by_values(column: _Column) -> str:
    """What a column is by what is in it alone, where that can hardly be anything else."""
    if column.mostly("date"):
        return "date"
    if column.tells_spans:
        return "stages"
    return "sex" if column.mostly("sex") else ""


def _numbers_of_stages_are_days(columns: _Columns) -> bool:
    """Whether numbers under the names of stages are days, not animals: where some are called so and
    none of the same stages or of adults is not, parts of days, sums that are in a column of their
    own, or more in a later stage than in an earlier one."""
    by_stage: dict[str, _Column] = {}
    days: set[str] = set()
    for column in columns:
        stage = first_of(v.STAGE_WORDS, column.bare)
        if _numbers_rows(column):
            continue
        if stage and column.is_numbers(stage) and not has(v.DEAD, column.bare):
            if has(v.DAYS, column.bare):
                days.add(stage)
            else:
                by_stage.setdefault(stage, column)
    ordered = [by_stage[stage] for stage in STAGES if stage in by_stage]
    if any(has(v.HOW_MANY, column.bare) for column in ordered) or _counts_by_day(columns):
        return False
    if days:
        return days.isdisjoint(by_stage) and "adult" not in by_stage
    if not all(column.is_whole for column in ordered):
        return True
    return any(_rises(earlier, later) for earlier, later in pairwise(ordered))


def _numbers_of_instars_are_days(columns: _Columns, *, are_days: bool) -> bool:
    """Whether numbers under the names of instars are days, not animals: parts of days, or more in a
    later instar than in an earlier one, in any row where stages are told in days too."""
    named = {
        instar_in(one.heading): one
        for one in columns
        if instar_in(one.heading) and one.mostly("number") and not has(v.DEAD, one.bare)
    }
    ordered = [named[instar] for instar in sorted(named)]
    if any(has(v.HOW_MANY, one.bare) for one in ordered) or len(ordered) < 2:
        return False
    if any(not one.is_whole for one in ordered):
        return True
    in_days = are_days or any(
        _is_in_days(one.bare) and first_of(v.STAGE_WORDS, one.bare) and one.mostly("number")
        for one in columns
    )
    least = 0.0 if in_days else HALF
    return any(_rising(one, then) > least for one, then in pairwise(ordered))


def _counts_by_day(columns: _Columns) -> bool:
    """Whether the same containers or broods are told of again and again, each time on another day:
    how many there were then, not how long animals took."""
    dates = [one for one in columns if has(v.DATE_HEADING, one.bare) and _is_date(one, named=True)]
    names = [one for one in columns if first_of(v.HEADINGS, one.bare) in ("container", "brood")]
    if len(dates) != 1 or not names:
        return False
    told = [
        (bare(day), *map(code_key, whose))
        for day, *whose in zip(dates[0].every, *(one.every for one in names), strict=True)
        if not is_nothing(day) and not says_same(day)
    ]
    return len(set(told)) == len(told) > len({whose[1:] for whose in told})


def _rises(earlier: _Column, later: _Column) -> bool:
    """Whether in most rows that have both the later number is the greater."""
    return _rising(earlier, later) > HALF


def _rising(earlier: _Column, later: _Column) -> float:
    """In which share of the rows that have both the later number is the greater."""
    both = [
        (one, other)
        for one, other in zip(earlier.numbers, later.numbers, strict=True)
        if one is not None and other is not None
    ]
    return sum(other > one for one, other in both) / max(1, len(both))
