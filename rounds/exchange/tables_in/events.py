"""What a row of a notebook tells: when, in which container, what happened to how many; and what the
lines behind it tell of the same."""

from __future__ import annotations

import re
from collections.abc import Collection, Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import combinations, pairwise

from rounds import late
from rounds.exchange.tables_in import vocabulary as v
from rounds.exchange.tables_in.columns import CENSUS, GONE_IN
from rounds.exchange.tables_in.fates import NOT_KNOWN, left_as
from rounds.exchange.tables_in.past_entries import NotSo
from rounds.exchange.tables_in.record import cause_of, short_name
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.values import (
    STAGES,
    dead_stage_in,
    instar_in,
    is_one,
    sex_in,
    sexes_in,
    stage_in,
)
from rounds.exchange.tables_in.vocabulary import (
    bare,
    code_key,
    first_of,
    has,
    says_nothing_but,
    with_numbers,
)

# What a word means, the first that fits: what became of animals goes before what they are called.
_ACTIONS: tuple[tuple[str, str], ...] = (
    ("moved", v.MOVED),
    ("escaped", v.ESCAPED),
    ("released", v.RELEASED),
    ("kept", v.KEPT),
    ("given away", v.GIVEN),
    ("not known", v.GONE),
    ("died", v.DEAD),
    ("counted", v.COUNTED),
)
_LATER: tuple[tuple[str, str], ...] = (
    ("moulted", v.MOULTED),
    ("comes out", v.COMES_OUT),
    ("fed", v.FED),
    ("cleaned", v.CLEANED),
    ("measured", v.MEASURED),
    ("noted", v.NOTED),
)
MEANINGS = (
    "laid",
    "hatched",
    "L3",
    "pupated",
    "emerged",
    "male emerged",
    "female emerged",
    "died",
    "escaped",
    "released",
    "kept as specimen",
    "given away",
    "missing",
    "moved",
    "counted",
    "fed",
    "cleaned",
    "note",
)  # words of ours that a word of the table can mean
_MEANT_BY = {
    "laid": v.BEGINNINGS["egg"],
    "pupated": v.BEGINNINGS["pupa"],
    "emerged": v.BEGINNINGS["adult"],
    "hatched": f"{v.BEGINNINGS['larva']}, {v.COMES_OUT}, schlupf",
    "died": v.DEAD,
    "escaped": v.ESCAPED,
    "released": v.RELEASED,
    "kept as specimen": v.KEPT,
    "given away": v.GIVEN,
    "missing": v.GONE,
    "moved": v.MOVED,
    "counted": v.COUNTED,
    "fed": v.FED,
    "cleaned": v.CLEANED,
    "note": v.NOTED,
}
_LOOKS_AS = {
    "died": v.LOOKS_DEAD,
    "given away": v.LOOKS_GIVEN,
    "missing": v.LOOKS_GONE,
    "counted": v.LOOKS_COUNTED,
}
LIKE = 0.85  # of a word is as in another, so that it may be a slip of that; our choice
SHORTEST = 5  # letters of a word that may be a slip of another; our choice
_NUMBER = re.compile(
    r"(?<![\w.,/–-])(\d{1,5})(?![\w./]|,\d|\s*(?:%|°|-\s*\d|(?:tag|day|jour|dia|día|dag|uhr|std|cm|mm|h\b)))",
    re.IGNORECASE,
)  # of animals: no share, span, time, range
AND = re.compile(r"\s*(?:[,;+&()]|(?<!\w)(?:und|and|et|y|en)(?!\w))\s*")  # between two things
# What is told once of a row that tells several events.
_OF_THE_ROW = (
    *("deaths", "temperature", "mean temperature", "humidity", "note", "place", "fate", "stage"),
    *("caught", "caught at", "latitude", "longitude"),
)
_GONE = {"gone": "", **{name: stage for stage, name in GONE_IN.items()}}  # columns, of which stage
_MEANT_AS = {"kept": "kept as specimen", NOT_KNOWN: "missing"}  # fates in words of what happened
_A_CODE = "Z9"  # stands for the name of a container while it is looked what words mean
_OF_NO_NUMBER = ("fed", "cleaned", "measured", "noted")
ARROWS = ("→", "->", "=>")
_BEGINS = ", ".join((*v.BEGINNINGS.values(), v.COMES_OUT))  # a stage
_ANIMALS = ", ".join((v.ALL, *v.STAGE_WORDS.values()))
LEAVING = ("escaped", "released", "kept", "given away", "not known", "died")
OF_STAGES = ("counted", "moved", *LEAVING)  # which is done by those of some stage
NOTED_AS = "note: "  # before words that the keeper said are a note
_SOME = ", ".join(
    (*v.STAGE_WORDS.values(), v.JUST_SOME, v.PIECES, v.ABOUT, v.FEMALE, v.MALE, v.STAGE_HEADING)
)
_VERBS = ", ".join((_BEGINS, v.MOULTED))


@dataclass(frozen=True, slots=True)
class EventRow:
    """A row that tells an event: when, what is done, and the names as they are known."""

    row: TableRow
    at: datetime
    action: str  # of those above, or a stage that is reached; empty where the row only tells more
    stage: str
    instar: int
    taxon: str
    plant: str
    number: int | None
    dead: int = 0  # that died beside what happened
    says_all: bool = False  # all that are there, by its words
    sexes: tuple[tuple[str, int], ...] = ()  # how many of each sex, where it says so

    def of_each_sex(self) -> Iterator[EventRow]:
        """The event of those of each sex alone; it itself where it does not tell them apart."""
        some = [(sex, number) for sex, number in self.sexes if number]
        for sex, number in some:
            yield replace(self, row=self.row.with_text("sex", sex), number=number, sexes=())
        if not some:
            yield self


def action_of(text: str) -> tuple[str, str, int]:
    """What a word or some words mean: an action or ``reached``, of which stage, which instar.

    The action is empty where the words are not known.
    """
    if text.startswith(NOTED_AS):
        return "noted", "", 0
    text = with_numbers(text)
    words = bare(text)
    stage, instar = stage_in(text), instar_in(text)
    if has(v.NOT_HATCHED, words):
        return "died", dead_stage_in(text), 0
    action = next((name for name, known in _ACTIONS if has(known, words)), "")
    if action:
        return action, stage, instar
    begins = first_of(v.BEGINNINGS, words)
    if not begins and _only_goes(text):
        return "moved", stage, instar
    if instar > 1:
        return "moulted", "larva", instar
    if instar == 1:
        return "reached", "larva", 1
    comes_out = has(v.COMES_OUT, words) and not has(v.BEGINNINGS["adult"], words)
    if comes_out and stage:
        return "reached", _out_of(stage), 0
    if has(v.HATCHES, words) and begins == "larva":
        return "comes out", "larva", 0
    if begins or stage:
        return "reached", begins or stage, 0
    return next((name for name, known in _LATER if has(known, words)), ""), "", 0


def names_animals(what: str) -> bool:
    """Whether words only name animals, of a stage or instar, and no verb says what these did."""
    does = has(_VERBS, bare(what)) and not has(v.NOT, bare(what))
    return action_of(what)[0] in ("reached", "moulted") and not does


def without_numbers(part: str) -> str:
    """The words of a part of what happened, by which it is asked what they mean."""
    words = with_numbers(part).split()
    return " ".join(word.strip(".:") for word in words if not word.strip(".:~").isdecimal())


def not_known_in(what: str, known: Container[str]) -> Iterator[str]:
    """Of words that name animals of a stage, those of each part that says more of them than that,
    but nothing that is known: ``larvae limp`` of ``2 larvae limp``.

    Args:
        known: words, bare, that mean something beside them: the names of the row.
    """
    parts = AND.split(what) if names_animals(what) else []
    for part in filter(None, parts):
        said = without_numbers(part)
        are_all = not _numbers_in(part)
        others = [
            word
            for word in re.findall(r"[^\W_]+", said)
            if not (any(map(str.isdigit, word)) or (word.isupper() and len(word) < 3))
            and bare(word) not in known
            and not says_nothing_but(f"{_SOME}, {v.ALL}" if are_all else _SOME, bare(word))
        ]
        if others and (stage_in(part) or not action_of(part)[0]):
            yield said


def nearest_meaning(words: str) -> str:
    """What a word that is not known means most likely: that of the known word it is nearest to, a
    note where it is near to none; a sex is told of those that emerge."""
    looks = next((one for one, known in _LOOKS_AS.items() if has(known, bare(words))), "")
    if looks:
        return looks
    known = {
        bare(word.strip("*")): meaning
        for meaning, table in _MEANT_BY.items()
        for word in f"{table}, {meaning}".split(", ")
    }
    for word in bare(with_numbers(words)).split():
        near = late.nearest(word, known, 1, LIKE) if len(word) >= SHORTEST else ()
        if near:
            return known[near[0]]
    if cause_of(words):
        return "died"
    is_of_sex = sex_in(words) and not has(v.CAUGHT_HEADING, bare(words))
    return f"{sex_in(words)} emerged" if is_of_sex else "note"


def _out_of(stage: str) -> str:
    """Who came out where a stage is named: out of eggs or pupae, or those that are named."""
    return {"egg": "larva", "pupa": "adult"}.get(stage, stage)


def events_of(row: TableRow, taxon: str, plant: str) -> list[EventRow]:
    """What a row tells: one event, or one of each thing that its words tell with a number of its
    own, as in ``12 pupated, 1 escaped``.

    Raises:
        NotSo: it has no date, its stage is none, or its numbers contradict each other.
    """
    left = [event_of(part, taxon, plant) for part in _left_beside(row)]
    row = row.without(*_GONE)
    if left and not any(map(row.text, ("what happened", "number", "deaths", *CENSUS))):
        return left
    events = [event_of(part, taxon, plant) for part in _several_in(row) or [row]]
    return [*left, *events] if events[-1].number is None else [*events, *left]


def _left_beside(row: TableRow) -> Iterator[TableRow]:
    """A row for those that a column of their own counts who escaped, were released or given away,
    with all that is said of the whole row left to that."""
    for name, stage in _GONE.items():
        if not row.number_of(name):
            continue
        heading, fate = row.headings[name], left_as(row.headings[name])
        fields = ("number", "what happened", *(["stage"] if stage else []))
        said = (row.text(name), _MEANT_AS.get(fate, fate), stage)
        part = row.without(*_OF_THE_ROW, *_GONE, "sex", "deaths", *CENSUS, "stage", "host plant")
        part = replace(part, headings={**row.headings, **dict.fromkeys(fields, heading)})
        for field, text in zip(fields, said, strict=False):
            part = part.with_text(field, text)
        yield part


def with_target(row: TableRow, known: Mapping[str, str]) -> TableRow:
    """A row of a move that names a container of several words, as ``15 nach Glas 3 umgesetzt``,
    with that as where they went.

    Args:
        known: the containers of the table, by their codes as they are compared.
    """
    what, own = row.text("what happened"), code_key(row.text("container"))
    words = what.split()
    if row.text("to") or len(words) < 2:
        return row
    for start, end in combinations(range(len(words) + 1), 2):
        name, key = " ".join(words[start:end]), code_key(" ".join(words[start:end]))
        as_code = " ".join([*words[:start], _A_CODE, *words[end:]])
        is_target = end - start > 1 and key in known and key != own
        if is_target and action_of(as_code)[0] == "moved" and target_in(as_code) == _A_CODE:
            others = " ".join([*words[:start], *words[end:]])
            others = others if action_of(others)[0] == "moved" else f"moved {others}"
            return row.with_text("to", name).with_text("what happened", others)
    return row


def without_target(row: TableRow, what: str, known: Collection[str]) -> tuple[str, str]:
    """Words without the container in which they end, and that, as in ``flyttade till bur 3``; they
    alone where they end in none, in that of the row, or where it says that they came from there.

    Args:
        known: the containers of the table (``with_shapes``).
    """
    words, own = what.split(), code_key(row.text("container"))
    for start in range(1, len(words)):
        name, before = " ".join(words[start:]), words[:start]
        key = code_key(name)
        is_number = key.isdecimal() and not row.text("number") and len(before) < 2
        is_one = key != own and (key in known or _shape(key) in known)
        if is_one and not is_number and not has(v.OUT_OF, bare(before[-1])):
            return " ".join(before), name
    return what, ""


def with_shapes(codes: Collection[str]) -> frozenset[str]:
    """Codes as they are compared, and what those are like that are called so with other numbers."""
    return frozenset({*codes, *map(_shape, codes)} - {""})


def _shape(key: str) -> str:
    """A code with a nought for each of its numbers."""
    return re.sub(r"\d+", "0", key)


def _several_in(row: TableRow) -> list[TableRow]:
    """A row as one for each of the things that its words tell, the dead of a stage among them,
    where several do and each has its number, or is all the rest; empty where not. A number in a
    column of its own is that of all, of the one that has none, or of what did not die.

    Raises:
        NotSo: a column has another number than all of them.
    """
    what = row.text("what happened")
    acts = _acts_in(what)
    others = {act for _, act in acts if act[0] != "died" or act[1]}
    if len(others) < 2 or len({act for _, act in acts}) < len(acts):
        return []
    given = row.number_of("number")
    told = {part: number_in(part) for part, _ in acts}
    no_number = [part for part, number in told.items() if number is None]
    if given is not None and len(no_number) == 1:
        told[no_number[0]], given = given, None
    if any(told[part] is None and not has(v.ALL, bare(part)) for part in no_number):
        return []
    in_all = sum(filter(None, told.values()))
    of_living = sum(told[part] or 0 for part, act in acts if act[0] != "died")
    if given not in (None, in_all, of_living):
        raise NotSo(f"'{what}', but {row.headings['number']} is {given}; mend one of them")
    ordered = sorted(told, key=lambda part: told[part] is None)  # the rest is what is left then
    first, *rest = (_part_of(row, part, told[part]) for part in ordered)
    return [first, *(part.without(*_OF_THE_ROW) for part in rest)]


def _acts_in(what: str) -> list[tuple[str, tuple[str, str, int]]]:
    """The parts of words that tell what animals did, each with what it means."""
    acts = [(part, action_of(part)) for part in AND.split(what) if part]
    return [(part, act) for part, act in acts if act[0] not in ("", *_OF_NO_NUMBER)]


def _part_of(row: TableRow, part: str, number: int | None) -> TableRow:
    """A row that tells one of its things alone."""
    row = row.with_text("what happened", part)
    return row.without("number") if number is None else row.with_text("number", str(number))


def event_of(row: TableRow, taxon: str, plant: str) -> EventRow:
    """What a row tells.

    Raises:
        NotSo: it has no date, or its stage is none.
    """
    at = row.date("date")
    if at is None:
        raise NotSo("it has no date; give it one")
    row, dead_beside = _dead_beside(row)
    row = _without_words_beside(row)
    what, stage_cell = row.text("what happened"), row.text("stage")
    action, stage, instar = action_of(what) if what else ("", "", 0)
    if stage_cell:
        of_cell, its_instar = stage_in(stage_cell), instar_in(stage_cell)
        if action in ("reached", "moulted") and stage:
            # what happened decides: the cell may say the stage before it as well as after it
            instar = instar or (its_instar if of_cell == stage else 0)
        else:
            stage, instar = of_cell or stage, its_instar or instar
        if not stage:
            raise NotSo(f"'{stage_cell}' is no stage; it can be egg, larva, L1 to L9, pupa, adult")
        if action == "comes out":
            action, stage = "reached", _out_of(stage)
        if not action:
            action = "moulted" if instar > 1 else "reached"
    in_cell = row.text("number")
    beside = row.sexes_beside(None if has(v.ALL, bare(in_cell)) else row.number_of("number"))
    if action == "comes out" and (sex_in(row.text("sex") or what) or beside):
        action, stage = "reached", "adult"
    says_all = has(v.ALL, bare(f"{what} {in_cell}"))
    number = None if has(v.ALL, bare(in_cell)) else row.number_of("number")
    if number is None and action == "reached":
        number = row.number_of(CENSUS[STAGES.index(stage)])
    if number is None and action in LEAVING and stage in ("", "adult") and row.sexes():
        stage, number = "adult", row.number_of("adults")
    if number is None and what:
        number = number_in(what)
    if number is None and not says_all and _is_of_one(action, what):
        number = 1
    if number is None and action not in ("died", *_OF_NO_NUMBER) and len(_numbers_in(what)) > 1:
        raise NotSo(f"'{what}' holds several numbers; write how many in a column of their own")
    dead = (row.number_of("deaths") or 0) if action else 0  # of counts alone they are reckoned
    if dead and dead_beside not in (0, dead):
        raise NotSo(
            f"{dead_beside} died by its words and {dead} by {row.headings['deaths']}; mend one"
        )
    dead = dead or dead_beside
    by_words = number_in(what) if what else None
    if action in LEAVING and number is not None and by_words not in (None, number):
        raise NotSo(f"'{what}', but {row.headings['number']} is {number}; mend one of them")
    if action == "died" and dead:
        if number not in (None, dead):
            raise NotSo(
                f"{number} died by one column and {dead} by {row.headings['deaths']}; mend one of"
                " them"
            )
        number, dead = dead, 0
    sexes = sexes_in(in_cell) or sexes_in(what) or row.sexes() or beside
    if not row.text("sex") and sex_in(what):
        row = row.with_text("sex", sex_in(what))
    of_each = tuple(sexes.items()) if stage == "adult" and action in ("reached", *LEAVING) else ()
    if of_each and number not in (None, sum(sexes.values())):
        raise NotSo(
            f"males and females are {sum(sexes.values())}, but {number} in all; mend one of them"
        )
    return EventRow(row, at, action, stage, instar, taxon, plant, number, dead, says_all, of_each)


def _is_of_one(action: str, what: str) -> bool:
    """Whether words without a number tell of one: who died or left, or became what it began."""
    of_one = action in LEAVING or (action in ("reached", "comes out") and has(_BEGINS, bare(what)))
    return of_one and is_one(what)


def number_in(words: str) -> int | None:
    """The one number that stands among words, as in ``28 hatched``, ``2tot``, ``zwei tot``."""
    numbers = _numbers_in(words)
    return numbers[0] if len(numbers) == 1 else None


def _numbers_in(words: str) -> list[int]:
    if sexes := sexes_in(words):
        return [sum(sexes.values())]
    goes = words and has(v.MOVED, bare(words))
    text = with_numbers(words.removesuffix(target_in(words)) if goes else words)
    return [int(number) for number in _NUMBER.findall(text)]


def _dead_beside(row: TableRow) -> tuple[TableRow, int]:
    """A row without the dead whom its words tell beside what else happened, as in ``verpuppt, 2
    tot``, and how many those are.

    Raises:
        NotSo: how many died is not written, or more than one other thing happened.
    """
    what = row.text("what happened")
    acts = _acts_in(what)
    of_dead = [part for part, (action, *_) in acts if action == "died"]
    others = {part for part, (action, *_) in acts if action != "died"}
    if not others or len(others) == len(acts):
        return row, 0
    if len(acts) == 2 and _are_of(*others) and not any(map(_numbers_in, of_dead)):
        return row, 0  # 3 larvae, dead
    dead = [number_in(part) for part in of_dead]
    if len(others) > 1 or None in dead:
        raise NotSo(f"'{what}' says several things; write a line for each, with how many")
    (other,), died = others, sum(filter(None, dead))
    row = row.with_text("what happened", other)
    number = number_in(other)
    if number is not None and row.number_of("number") == died + number:
        row = row.without("number")  # which is that of both
    return row, died


def _are_of(part: str) -> bool:
    """Whether words only name animals of a stage, and how many: not what these did."""
    does = has(_BEGINS, bare(part)) or has(v.MOULTED, bare(part))
    return bool(_numbers_in(part)) and bool(stage_in(part)) and not does


def _without_words_beside(row: TableRow) -> TableRow:
    """A row that tells one event, with a number, without what its words tell beside that of which
    no event is known, as in ``2 emerged, 1 crippled``; that is noted."""
    what = row.text("what happened")
    known = [part for part, _ in _acts_in(what)]
    if sexes_in(what) or len(_numbers_in(what)) < 2 or len(known) != 1:
        return row
    if number_in(known[0]) is None:
        return row
    beside = ", ".join(part for part in AND.split(what) if part and part not in known)
    return row.with_text("what happened", known[0]).with_note(beside)


def moults_told(events: Sequence[EventRow]) -> frozenset[tuple[str, int]]:
    """The containers, by name and year, of whose larvae the rows tell an instar, there or where
    they were moved later; rows in the order of time."""
    told: set[tuple[str, int]] = set()
    for event in reversed(events):
        year = event.at.year
        goes_on = event.action == "moved" and (code_key(moved_to(event)), year) in told
        if event.instar or goes_on:
            told.add((code_key(name_of(event)), year))
    return frozenset(told)


def name_of(event: EventRow) -> str:
    """What the table calls the container that a row is about."""
    row = event.row
    return row.text("container") or row.text("brood") or short_name(event.taxon) or "table"


def words_of(row: TableRow) -> str:
    """A row in a few words, by which it is known when the table comes in again: when, where, what
    happened to whom."""
    said = ("date", "container", "brood", "stage", "what happened")
    return " ".join(text for text in map(row.text, said) if text)


def moved_to(event: EventRow) -> str:
    """Where animals were moved to; empty where nobody wrote it."""
    return event.row.text("to") or target_in(event.row.text("what happened"))


def ends_told_by(events: Sequence[EventRow]) -> set[str]:
    """Of which stages rows, the earliest first, tell how some died or left, or that none did: the
    stage that they say, or egg where nothing older came into that container before; empty text
    where that leaves it open."""
    told: set[str] = set()
    furthest: dict[str, str] = {}
    for one in events:
        name, leaves = code_key(name_of(one)), one.action in LEAVING
        came = "" if leaves else _came_as(one)
        if leaves or one.dead or any(map(one.row.text, ("deaths", "fate", "cause"))):
            is_egg = furthest.get(name) == "egg" and came in ("", "egg")
            told.add((leaves and one.stage) or ("egg" if is_egg else ""))
        if came:
            furthest[name] = max(came, furthest.get(name) or came, key=STAGES.index)
        elif one.action == "moved":
            furthest[code_key(moved_to(one))] = furthest.get(name, "")
    return told


def _came_as(event: EventRow) -> str:
    """The furthest stage in which a row tells of animals; empty where it tells none."""
    row = event.row
    counted = [one for one, name in zip(STAGES, CENSUS, strict=True) if row.text(name).strip("0")]
    is_larva = event.action in ("moulted", "comes out")
    return event.stage or ("larva" if is_larva else next(reversed(counted), ""))


def _only_goes(words: str) -> bool:
    """Whether words say nothing but that animals went somewhere: ``40 to T2``, ``alle Raupen nach
    B7``, ``→ T2``."""
    target = target_in(words)
    others = [word for word in words.split() if word != target]
    ways = [word for word in others if word in ARROWS or has(v.TOWARDS, bare(word))]
    is_place = any(map(str.isalpha, target)) and not instar_in(target)
    return bool(is_place and ways) and all(
        word in ways or word.isdecimal() or instar_in(word) or has(_ANIMALS, bare(word))
        for word in others
    )


def target_in(words: str) -> str:
    """Where they were moved to, as in ``3 moved to E2``, ``3 nach E2 umgesetzt``: what stands
    behind a word for it, else the last word; if it is like a code."""
    *before, last = words.split() or [""]
    behind = [word for to, word in pairwise(words.split()) if has(v.INTO, bare(to)) or to in ARROWS]
    for word in (*behind, last):
        has_letter, has_digit = any(map(str.isalpha, word)), any(map(str.isdigit, word))
        is_code = has_digit or word.isupper() if len(before) > 1 else has_letter and has_digit
        if before and is_code and (has_letter or word == last):
            return word
    return ""
