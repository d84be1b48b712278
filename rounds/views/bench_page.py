"""The bench as a page: a line a container, and the few words above them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Literal

from msgspec import Struct

from rounds.bench.folding.hunger import fed_lots, of_this_feed
from rounds.bench.measures import measures_of
from rounds.bench.permits import pressing_of_founders
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import Bench, Container, Lot
from rounds.checks.due import Due, comes, past_limit, pressing, standing
from rounds.checks.due_state import PRESSING
from rounds.checks.facts import left_be_until
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.checks.walking_order import walking_order
from rounds.entries.base import ROOTED, Purpose
from rounds.forecasts.tonight import sill_spans, tonight
from rounds.surroundings.air import feel_of_air
from rounds.views.cells import Cell, Column, Line, Row, Tone, line
from rounds.views.keys import sign_in
from rounds.views.queries import with_words
from rounds.views.states import SIGNS, TONES, WORSE_THAN_DUE, state_of, state_word
from rounds.views.words import age, ago, clock, cut_to, day_and_time, literal, number

NEXT_WIDTH = 17
COLUMNS = (
    Column("cup", 4),
    Column("holds", 22, grows=3, least=10),
    Column("drank", 7, gives=3),
    Column("host", 13, grows=1, gives=2),
    Column("ants", 10, gives=1),
    Column("next", NEXT_WIDTH, grows=1, least=NEXT_WIDTH),
)

PURPOSE_WORDS: dict[Purpose, str] = {"host store": "store", "overwintering": "winter", "quarantine": "new"}
PERMIT_MARKS = {"PAST": "PERMIT PAST", "full": "permit full", "near": "permit near"}
NO_PERMITS: Mapping[str, str] = {}


class Shown(Struct, frozen=True):
    """Which lines are shown, and how sorted."""

    sort: Literal["walk", "urgency"] = "walk"
    only_due: bool = False
    purpose: Purpose | None = None
    words: str = ""


class BenchPage(Struct, frozen=True):
    """The bench as it is shown."""

    head: tuple[Line, ...]
    rows: tuple[Row, ...]
    note: str = ""


def bench_page(bench: Bench, dues: list[Due], moment: Moment, shown: Shown, unsaved: int = 0) -> BenchPage:
    """The page for that moment; ``dues`` are all checks of the bench."""
    by_container = most_urgent(dues, moment.now)
    chosen = [
        container
        for container in walking_order(bench)
        if _is_shown(bench, container, by_container.get(container.code), shown, moment.now)
    ]
    if shown.sort == "urgency":
        chosen.sort(key=lambda container: urgency(by_container.get(container.code), moment.now))
    permits = pressing_of_founders(bench, moment.now)
    rows = tuple(bench_row(bench, container, by_container.get(container.code), moment, permits) for container in chosen)
    return BenchPage(_head(bench, dues, moment, shown, unsaved), rows, _nothing_shown(bench, rows, shown))


def _nothing_shown(bench: Bench, rows: tuple[Row, ...], shown: Shown) -> str:
    if rows:
        return ""
    if not any(True for _ in bench.standing()):
        keys = (sign_in(bench.settings, "bench", name) for name in ("prompt", "ask_look"))
        words = "Nothing stands on this bench yet. Press {} and type, as: L2 set up laying; {} lists a bench that already runs"
        return words.format(*keys)
    shows_all = f"{sign_in(bench.settings, 'bench', 'unmark')} shows all."
    if shown.words:
        return f"No line has '{literal(shown.words)}'. {shows_all}"
    return f"Nothing is due here now. {shows_all}"


def _is_shown(bench: Bench, container: Container, due: Due | None, shown: Shown, now: datetime) -> bool:
    if shown.purpose and container.purpose != shown.purpose:
        return False
    if shown.only_due and (due is None or standing(due, now) == "ahead"):
        return False
    if not shown.words:
        return True
    told = " ".join(
        [container.code, container.purpose, container.shelf]
        + [f"{lot.brood} {bench.taxon_of(lot.brood)} {lot.stage}" for lot in container.lots]
        + [f"{host.plant} {host.batch}" for host in container.hosts]
        + [note.text for note in container.notes]
    )
    return with_words(shown.words)({"text": told})


def urgency(due: Due | None, now: datetime) -> tuple[int, int, datetime]:
    """Sorts what is worst first: past a limit, in danger, urgent, late, due, then what comes next; the graver check first in each."""
    if due is None:
        return len(PRESSING), 0, now
    if past_limit(due, now):
        return -1, -due.severity, due.since or now
    state = pressing(due, now)
    return PRESSING.index(state), (0 if state == "ahead" else -due.severity), due.harm or comes(due, now)


def most_urgent(dues: Iterable[Due], now: datetime) -> dict[str, Due]:
    """The most urgent check of each container; one of its shelf or room is not its own."""
    found: dict[str, Due] = {}
    for due in dues:
        if due.place_kind != "container":
            continue
        known = found.get(due.where)
        if known is None or urgency(due, now) < urgency(known, now):
            found[due.where] = due
    return found


def _head(bench: Bench, dues: list[Due], moment: Moment, shown: Shown, unsaved: int) -> tuple[Line, ...]:
    states = [state_of(due, moment.now) for due in dues]
    late = sum(states.count(state) for state in WORSE_THAN_DUE)
    due_now = states.count("due")
    ahead = [comes(due, moment.now) for due, state in zip(dues, states, strict=True) if state == "in order"]
    coming = f"next {clock(min(ahead), moment.now, moment.zone)}" if ahead else "nothing ahead"
    name = literal(bench.settings.get("bench", "")) or "the bench"
    first = line(
        Cell(name, "strong"),
        "   ",
        day_and_time(moment.now, moment.zone),
        "   ",
        Cell(f"{late} late", "late" if late else "quiet"),
        "  ",
        Cell(f"{due_now} due", "due" if due_now else "quiet"),
        "  ",
        Cell(coming, "quiet"),
        *([Cell(f"   {unsaved} NOT SAVED", "danger")] if unsaved else []),
    )
    # What is hidden and how it is sorted goes before the room: a list that is not whole must not look whole.
    second = [_shown_words(bench, shown)] if shown != Shown() else [room_words(bench, moment), sill_words(bench, moment)]
    late_places = places_late(dues, moment.now)
    told = [Cell(f"{late_places}   ", "late")] if late_places else []
    return first, line(*told, Cell("   ".join(part for part in second if part), "quiet"))


def places_late(dues: Iterable[Due], now: datetime) -> str:
    """The late checks of shelves, which have no line of their own: ``shelf sill ants late``."""
    late = [due for due in dues if due.place_kind == "shelf" and state_of(due, now) in WORSE_THAN_DUE]
    late.sort(key=lambda due: urgency(due, now))
    return ", ".join(f"shelf {literal(due.where)} {CHECKS[due.check].label} {state_of(due, now)}" for due in late)


def room_words(bench: Bench, moment: Moment) -> str:
    """The room as it was last read."""
    readings = bench.air.get("", [])
    if not readings:
        return "room not read yet"
    last = readings[-1]
    parts = ["room"]
    measures = measures_of(bench.settings)
    if last.temperature_c is not None:
        parts.append(measures.warmth(last.temperature_c))
    if last.low_c is not None and last.high_c is not None:
        parts.append(measures.span(last.low_c, last.high_c))
    if last.humidity_percent is not None:
        parts.append(f"{number(last.humidity_percent)} %")
    if last.temperature_c is not None and last.humidity_percent:
        night = tonight(bench, moment.now)
        low_c = night.low_c if night else None
        parts.append(feel_of_air(temperature_c=last.temperature_c, humidity_percent=last.humidity_percent, tonight_low_c=low_c))
    return " ".join(parts) + f", {ago(last.at, moment.now)}"


def sill_words(bench: Bench, moment: Moment) -> str:
    """When the sun is on the sill today; empty where the book does not say where the bench is and how its window looks."""
    if not all(bench.settings.get(name) for name in ("latitude", "longitude", "sill")):
        return ""
    told = ", ".join(f"{start:%H:%M}-{end:%H:%M}" for start, end in sill_spans(bench, moment.now, moment.zone))
    return f"sun on the sill {told}" if told else "no sun on the sill today"


def _shown_words(bench: Bench, shown: Shown) -> str:
    if shown == Shown():
        return ""
    total = sum(1 for _ in bench.standing())
    parts = [count(total, "container")]
    if shown.purpose:
        parts.append(f"only {shown.purpose}")
    if shown.only_due:
        parts.append("only what is due")
    if shown.words:
        parts.append(f"only '{literal(shown.words)}'")
    parts.append("as walked" if shown.sort == "walk" else "most urgent first")
    return ", ".join(parts)


def bench_row(bench: Bench, container: Container, due: Due | None, moment: Moment, permits: Mapping[str, str] = NO_PERMITS) -> Row:
    """The line of one container; ``permits`` is what those of founders have to say, by founder."""
    return Row(
        container.code,
        (
            Cell(literal(container.code), "strong"),
            _holds(bench, container, moment, permits),
            _drank(bench, container, moment),
            _host(container, moment),
            ants_cell(bench, container, moment),
            next_cell(due, moment),
        ),
        SIGNS[state_of(due, moment.now, undisturbed=left_be_until(container, moment.now) is not None)],
    )


def _holds(bench: Bench, container: Container, moment: Moment, permits: Mapping[str, str]) -> Cell:
    what = stock_words(bench, container) or without_stock(container)
    short = sum(one.number for one in bench.shortfalls if one.container == container.code)
    marks = []
    if container.unsure:
        marks.append(f"{sum(one.number for one in container.unsure)} unsure")
    if short:
        marks.append(f"{short} NOT SEEN")
    if container.suspect_since:
        marks.append("SUSPECT")
    if container.leave_be_until and container.leave_be_until > moment.now:
        marks.append("leave be")
    elif container.sign not in ("as usual", "wings up"):
        marks.append(container.sign)
    codes = {code for lot in container.lots for code in lot.codes} if permits else set()
    said = {permits[code] for code in codes if code in permits}
    past = [PERMIT_MARKS["PAST"]] if "PAST" in said else []
    marks.extend(mark for state, mark in PERMIT_MARKS.items() if state in said and state != "PAST")
    if container.held and container.lots:
        marks.append(f"+ {kept_words(container)}")
    purpose = PURPOSE_WORDS.get(container.purpose, container.purpose)
    words = f"{purpose}: {what}" if what else purpose
    tone: Tone = "late" if short or container.suspect_since or "PAST" in said else "plain"
    brief = stock_words(bench, container, names=False) if marks or past else what
    return Cell(" ".join([*past, words, *marks]), tone, " ".join([*past, brief or what or purpose, *marks]))


def without_stock(container: Container) -> str:
    """What a container without animals holds: sprigs, plants, or nothing."""
    if container.held:
        return kept_words(container)
    if container.hosts:
        return ", ".join(sorted({f"{literal(host.plant)}" for host in container.hosts}))
    return "empty"


def kept_words(container: Container) -> str:
    """The kept stems of a container: ``14 kept stems, 3 lots``."""
    stems = sum(held.sprigs or 0 for held in container.held)
    lots = len(container.held)
    words = count(stems, "kept stem") if stems else "kept stems"
    return words if lots == 1 else f"{words}, {lots} lots"


def stock_words(bench: Bench, container: Container, *, names: bool = True) -> str:
    """The stock in a few words: ``4 f dia``, ``11 L3 inachus``; without names ``11 L3``."""
    grouped: dict[tuple[str, str], int] = {}
    for lot in container.lots:
        key = (_stage_word(lot), literal(bench.short_name(lot.brood)) if names else "")
        grouped[key] = grouped.get(key, 0) + lot.number
    parts = {key: of_stage(how_many, key[0]) for key, how_many in grouped.items()}
    told = sorted({name for _, name in grouped if name})
    if len(told) > 1 and len({stage for stage, _ in grouped}) < len(grouped):  # of one stage several: each with its name
        return ", ".join(f"{words} {name}".rstrip() for (_, name), words in parts.items())
    return " ".join([*parts.values(), *told])


def _stage_word(lot: Lot) -> str:
    if lot.stage == "adult":
        return {"female": "f", "male": "m", "": "adult"}[lot.sex]
    if lot.stage == "larva" and lot.instar:
        return f"L{lot.instar}"
    return lot.stage


def _drank(bench: Bench, container: Container, moment: Moment) -> Cell:
    lots = [lot for lot in fed_lots(bench, container) if bench.is_fed(lot)]
    hungry = [one for lot in lots for one in lot.hunger]
    if not hungry:
        return Cell("-", "quiet")
    there = sum(one.number for one in hungry)
    part = of_this_feed(bench, container, moment.now)
    never = sum(one.number for one in hungry if not one.drank)
    if 0 < part < there or 0 < never < there:
        return Cell(f"{part or there - never} of {there}", "due")
    if never:
        return Cell("not yet", "due")
    return Cell(age(moment.now - min(one.since for one in hungry)))


def _host(container: Container, moment: Moment) -> Cell:
    host = container.oldest_cut
    if host is None:
        return Cell("-", "quiet")
    state = "" if host.state == "fresh" else f" {host.state.upper()}"
    more = f" +{len(container.hosts) - 1}" if len(container.hosts) > 1 else ""
    old = host.kept if host.kept in ROOTED else "cut not known" if host.cut_not_known else age(moment.now - host.cut)
    name = literal(host.plant)
    brief = f"{cut_to(name, 5)}{more} {state.strip() or ('cut ?' if host.cut_not_known and host.kept not in ROOTED else old)}"
    return Cell(f"{name}{more} {old}{state}", "late" if state else "plain", brief)


def ants_cell(bench: Bench, container: Container, moment: Moment) -> Cell:
    """The barrier that guards a container, as last seen."""
    whose, barrier, moat = bench.moat_of(container)
    if barrier in ("none", "not applicable", "closed lid"):
        return Cell({"closed lid": "lid"}.get(barrier, "-"), "quiet")
    shared = "" if whose == container.code else f"{whose} "
    if moat.ants_above:
        return Cell(f"{shared}ANTS IN", "danger", "ANTS IN")
    if moat.seen is None:
        return Cell(f"{shared}not seen", "due", "not seen")
    if moat.state in ("dry", "bridged", "breached"):
        return Cell(f"{shared}{moat.state.upper()}", "danger", moat.state.upper())
    if moat.state in ("low", "dirty"):
        return Cell(f"{shared}{moat.state}", "late", moat.state)
    return Cell(f"{shared}ok {age(moment.now - moat.seen)}", "quiet", f"{shared}ok")


def next_cell(due: Due | None, moment: Moment) -> Cell:
    """What comes next in a container: the check's verb, and how late it is, now, or when."""
    if due is None:
        return Cell("-", "quiet")
    verb, word = CHECKS[due.check].verb, state_word(due, moment)
    state = state_of(due, moment.now)
    room = NEXT_WIDTH - len(word) - 1
    brief = next((f"{part} {word}" for part in (verb, verb.split()[0]) if len(part) <= room), word)
    return Cell(f"{verb} {word}", TONES[state], brief, word if state != "in order" else "")
