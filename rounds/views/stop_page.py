"""A stop of the round above its question: what is here, how each check stands, and what one wants
to know before answering."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from rounds.bench.codes import members
from rounds.bench.folding.signs import QUIET_SIGNS, SIGNS_IN_FULL
from rounds.bench.measures import measures_of
from rounds.bench.state import Bench, Container, Round
from rounds.checks.due_state import Due, comes, container_of, place_name
from rounds.checks.facts import STAGE_BITS, left_be_until, others_move
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment, utc
from rounds.checks.walk import Stop
from rounds.entries.base import ROOTED, Entry
from rounds.entries.registry import Air, Drank, HostIn, HostOut, HostSeen, Looked
from rounds.entries.wording import saying
from rounds.forecasts.foresight import Forecasts
from rounds.forecasts.stage_ends import ComingChange
from rounds.forecasts.tonight import sill_spans
from rounds.grouping import grouped, summed
from rounds.views.as_it_stands import animals_of, kept_words, stage_word
from rounds.views.bench_page import without_stock
from rounds.views.card import not_seen
from rounds.views.cautions import care_lines
from rounds.views.cells import Cell, Line, Tone, line
from rounds.views.kept_page import unsure_lines
from rounds.views.states import SIGNS, TONES, WORSE_THAN_DUE, State, check_at, state_of
from rounds.views.words import age, ago, literal

TO_THE_HOUR = timedelta(hours=12)  # a forecast whose window is no longer is told by its hour
NEAR = timedelta(days=1)  # what is nearer is told by its hour too, if only about it
# Until which hour of the day a part lasts, what it is called of today, and of another day.
PARTS = (
    (6, "early today", "early {}"),
    (12, "this morning", "{} morning"),
    (18, "this afternoon", "{} afternoon"),
    (21, "this evening", "{} evening"),
    (24, "tonight", "{} late evening"),
)


def roughly(at: datetime, span: timedelta, moment: Moment) -> str:
    """An instant as certain as its forecast is: ``22:00``, ``tonight about 22:00``, ``Thu 3 Jun
    morning``.

    The hours before dawn are early on their date, never the night of it, which begins only when
    that day ends.

    Args:
        span: how long the window of the forecast is.
    """
    is_sure = span <= TO_THE_HOUR
    by_hour = is_sure or abs(at - moment.now) < NEAR
    local = (at + timedelta(minutes=30) * by_hour).astimezone(moment.zone)
    of_today, of_a_day = next((today, day) for until, today, day in PARTS if local.hour < until)
    hour = f"{local:%H}:00" if is_sure else f"about {local:%H}:00"
    if local.date() == moment.today:
        if local.hour == 0:
            return "midnight" if is_sure else "about midnight"
        return hour if is_sure else f"{of_today} {hour}"
    year = f" {local.year}" if local.year != moment.today.year else ""
    day = f"{local:%a} {local.day} {local:%b}{year}"
    return f"{day} {hour}" if by_hour else of_a_day.format(day)


LABEL = 12  # cells of a label, so that the texts begin in one line
MAX_BEFORE = 3  # answers of before
MAX_EXPECTED = 2  # lots
MAX_WAITING = 4  # checks that come later, by name
SOON = timedelta(hours=48)
WARMER_C = 2.0  # a change of warmth since the last look that is told; our estimate, no source
SEEN = "host seen"  # a kind of entry
LEAVE_IT = "Leave the lid on. Do not move, clean, count or mist. Look from outside."
CLEAN_ROUND = "Clean round those that do not move; touch, move, count or mist none."
_NEXT_STAGE = {"hatch": "hatch", "pupation": "pupae", "emergence": "adults"}


def fact(label: str, text: str, right: str = "") -> Line:
    """A line with a quiet label in a column of its own, and what stands at the right margin."""
    return line(Cell(f"  {label:<{LABEL - 2}}", "quiet"), text, hang=LABEL, right=right)


def here_line(bench: Bench, stop: Stop) -> Line:
    """The place, what it holds with the species in whole, of which females or broods, and where it
    stands."""
    container = container_of(bench, stop)
    if container is None:
        return line(literal(place_name(stop)))
    inside = f", inside {literal(container.inside)}" if container.inside else ""
    if container.shelf:
        position = f", place {container.place}" if container.place else ""
        where = f"shelf {literal(container.shelf)}{position}{inside}"
    else:
        where = inside.removeprefix(", ")
    held = animals_words(bench, container) or without_stock(container)
    codes = dict.fromkeys(code for lot in container.lots for code in lot.codes)
    broods = ""
    if 0 < len(codes) <= 2:
        broods = f"   {' and '.join(literal(code) for code in list(codes)[:2])}"
    kept = f"; {kept_words(container)}" if container.lots and container.held else ""
    return line(
        f"{literal(container.code)}   {held}{kept}", Cell(broods, "quiet"), hang=5, right=where
    )


def animals_words(bench: Bench, container: Container) -> str:
    """The animals of a container, the species in whole: ``2 females Leptidea sinapis``, ``11 L3
    Smerinthus ocellata``."""
    by_taxon = grouped(
        (" or ".join(filter(None, members(bench.taxon_of(lot.brood)))), lot)
        for lot in container.lots
    )
    texts = []
    for taxon, lots in by_taxon.items():
        stages = summed((stage_word(lot), lot.number) for lot in lots)
        words = ", ".join(animals_of(number, stage) for stage, number in stages.items())
        texts.append(f"{words} {literal(taxon)}".rstrip())
    return ", ".join(texts)


def quiet_lines(container: Container | None, moment: Moment) -> list[Line]:
    """That a container is not to be disturbed, until when and why, and what that means for the
    hand."""
    until = left_be_until(container, moment.now) if container is not None else None
    if container is None or until is None:
        return []
    text = f"until {moment.clock(until)}"
    if container.sign in QUIET_SIGNS and container.sign_since is not None:
        text += f", since {moment.clock(container.sign_since)}: {SIGNS_IN_FULL[container.sign]}"
    elif container.leave_be_why:
        text += f": {literal(container.leave_be_why)}"
    state: State = "do not disturb"
    first = line(f"{SIGNS[state]} {state}   {text}", hang=2)
    hand = CLEAN_ROUND if others_move(container) else LEAVE_IT
    return [first, line(""), line("     ", hand, hang=5)]


def check_line(bench: Bench, due: Due, stop: Stop, moment: Moment) -> Line:
    """A check with its state, what was answered last and how long ago, since when it is worse than
    due and from when worse."""
    text = last_words(due, bench, moment)
    label = f"{asked_label(due.check):<8} "
    if due.check in stop.skipped:
        passed = "left out" if due.check in stop.left_out else "skipped"
        return line(
            Cell(f"  {passed:<12}", "late"),
            Cell(f"{label}{text}; comes back", "quiet"),
            hang=LABEL + 10,
        )
    state = state_of(due, moment.now)
    word = "due" if state == "in order" else state  # it falls due before the next round
    since = pressing_words(due, moment)
    tone: Tone = TONES[word] if word in WORSE_THAN_DUE else "plain"
    gap = " " * (LABEL - len(word))
    worse = f"; {since}" if since else ""
    return line(f"{SIGNS[word]} ", Cell(word, tone), f"{gap}{label}{text}{worse}", hang=LABEL + 10)


def asked_label(check: str) -> str:
    """What a check is called before what is said of it: ``clean:``, ``moult?``."""
    label = CHECKS[check].label
    return label if label.endswith("?") else f"{label}:"


def done_lines(stop: Stop) -> list[Line]:
    """The checks that were answered in this round."""
    done = ", ".join(CHECKS[due.check].label for due in stop.checks if due.check in stop.answered)
    if done:
        return [line(Cell(f"  {'done':<{LABEL - 2}}", "good"), Cell(done, "quiet"), hang=LABEL)]
    return []


def last_words(due: Due, bench: Bench, moment: Moment) -> str:
    """How long ago it was answered last, and what; of plants, how long ago they were cut too."""
    check, container = (
        CHECKS[due.check],
        container_of(bench, due),
    )
    text = _last_answer(due.last, bench, moment) if due.last is not None else check.not_yet
    if check.last_words is not None and container is not None:
        text = check.last_words(bench, container, moment) or text
    if container is not None and container.hosts and SEEN in check.answered_by:
        oldest = min(container.hosts, key=lambda host: host.cut)
        grows = "" if oldest.kept in ROOTED else f", cut {age(moment.now - oldest.cut)} ago"
        seen = f"; {text}" if isinstance(due.last, HostSeen) else ""
        text = f"{literal(oldest.plant)}{grows}{seen}"
    return text


def _last_answer(entry: Entry, bench: Bench, moment: Moment) -> str:
    """``last done 3 d 23 h ago`` where it says no more; else ``last 25 h ago, as usual``."""
    when = ago(entry.at, moment.now)
    said = _said(entry, bench)
    if said == entry.what:
        return f"last {'drank' if isinstance(entry, Drank) else 'done'} {when}"
    return f"last {when}, {said}"


def _said(entry: Entry, bench: Bench) -> str:
    """What an entry says without its place."""
    if isinstance(entry, Looked) and entry.sign in QUIET_SIGNS:
        return f"{f'{entry.number} ' if entry.number else ''}{SIGNS_IN_FULL[entry.sign]}"
    if isinstance(entry, Drank) and entry.how == "when helped":
        return f"{f'{entry.number} ' if entry.number else ''}hand-fed"
    if isinstance(entry, HostIn):
        return (
            f"{literal(entry.plant)} put"
            f" in{f', batch {literal(entry.batch)}' if entry.batch else ''}"
        )
    if isinstance(entry, HostOut):
        plant = literal(entry.plant) or ("kept stems" if entry.lots else "plants")
        return f"{plant} out{', kept' if entry.fate == 'held' else ''}"
    text = (
        literal(saying(entry, measures_of(bench.settings)))
        .removeprefix(literal(entry.whereabouts))
        .strip()
    )
    return text.removeprefix(entry.lead)


def pressing_words(due: Due, moment: Moment) -> str:
    """Since when a check is late, urgent or in danger, and when it gets worse; empty where it is
    only due."""
    state = state_of(due, moment.now)
    begun = _begun(due, state)
    beside = (begun, due.urgent if state == "late" and due.danger is None else None, due.danger)
    since = since_words(due, moment, *beside)
    texts = [since] if since else []
    worse: list[tuple[State, datetime | None]] = (
        [("urgent", due.urgent)] if state == "late" and due.danger is None else []
    )
    for word, at in [*worse, ("in danger", due.danger)]:
        near = begun is not None or (at is not None and at < moment.round_after)
        if at is not None and at > moment.now and near:
            texts.append(f"{word} from {moment.clock(at, *beside)}")
    return ", ".join(texts)


def since_words(due: Due, moment: Moment, *beside: datetime | None) -> str:
    """Since when a check is late, urgent or in danger; empty where it is only due."""
    state = state_of(due, moment.now)
    begun = _begun(due, state)
    return f"{state} since {moment.clock(begun, *beside)}" if begun else ""


def _begun(due: Due, state: State) -> datetime | None:
    return {"in danger": due.danger, "urgent": due.urgent, "late": due.late}.get(state)


def worst_line(due: Due, text: str, moment: Moment) -> Line:
    """The worst check of a round, and what is said of its stop."""
    state = state_of(due, moment.now)
    words = Cell(f"{state:<{LABEL}}", TONES[state])
    return line(f"{SIGNS[state]} ", words, f"{check_at(due)}, {text}", hang=LABEL)


def waiting_lines(bench: Bench, stop: Stop, dues: Iterable[Due], moment: Moment) -> list[Line]:
    """What is asked of this place next time, soon; and what is not asked before it may be
    disturbed."""
    container = container_of(bench, stop)
    asked = {due.check for due in stop.checks}
    own = [
        due
        for due in dues
        if (due.place_kind, due.where) == (stop.place_kind, stop.where) and due.check not in asked
    ]
    own = sorted(
        (due for due in own if comes(due, moment.now) - moment.now < SOON),
        key=lambda due: comes(due, moment.now),
    )
    texts = [
        f"{CHECKS[due.check].label} {moment.clock(comes(due, moment.now))}"
        for due in own[:MAX_WAITING]
    ]
    lines = [fact("waits", ", ".join(texts))] if texts else []
    until = left_be_until(container, moment.now) if container is not None else None
    if (
        container is not None
        and until is not None
        and (names := _not_before(container, moment.now))
    ):
        lines.insert(
            0,
            fact(
                "waits",
                f"{', '.join(names)}: not asked before {moment.clock(until)}",
            ),
        )
    return lines


def _not_before(container: Container, now: datetime) -> list[str]:
    """The checks that would disturb what is here."""
    stages = {lot.stage for lot in container.lots}
    return [
        check.label
        for check in CHECKS.values()
        if check.waits_until(container, now) is not None
        and any(
            (not rule.purposes or container.purpose in rule.purposes)
            and rule.stage in stages & STAGE_BITS.keys()
            for rule in check.rules
        )
    ]


def expected_lines(container: Container | None, moment: Moment, foresight: Forecasts) -> list[Line]:
    """What its animals will do next, from when and by when half of them; of each lot the change
    that comes first."""
    coming = foresight.coming(container) if container is not None else ()
    several = len({change.brood for change in coming}) > 1
    first: dict[tuple[str, int], str] = {}
    for change in coming:
        words = _coming_words(change, moment, change.brood if several else "")
        if words:
            first.setdefault((change.brood, change.instar), words)
    return [fact("expected", words) for words in list(first.values())[:MAX_EXPECTED]]


def _coming_words(change: ComingChange, moment: Moment, whose: str) -> str:
    if change.half is None or change.first is None:
        return ""
    if change.change == "moult" and change.instar:
        what = f"L{change.instar + 1}"
    else:
        what = _NEXT_STAGE.get(change.change, change.change)
    span = (change.high or change.half) - (change.low or change.first)
    of = f" of {literal(whose)}" if whose else ""
    if change.last is not None and utc(change.last) < utc(moment.now):
        return f"{what}{of} should have happened by {roughly(change.last, span, moment)}"
    first, half = (roughly(at, span, moment) for at in (change.first, change.half))
    earliest = roughly(change.not_before, span, moment) if change.not_before else first
    begins, may_begin = (
        "since" if at and at < utc(moment.now) else "from"
        for at in (change.first, change.not_before)
    )
    is_likely = utc(change.first) < utc(moment.now)  # so it is possible: that goes without saying
    return "".join(
        (
            f"{what}{of} {'likely ' if earliest != first else ''}{begins} {first}",
            f", half by {half}" if change.number > 1 and half != first else "",
            f"; possible {may_begin} {earliest}" if earliest != first and not is_likely else "",
        )
    )


def changed_lines(
    bench: Bench, container: Container | None, walk: Round, moment: Moment
) -> list[Line]:
    """What changed about this place since it was last looked at: its warmth, and whether the sun is
    on it."""
    if container is None:
        return []
    texts = [
        *_warmth_changed(bench, container, walk, moment),
        *_in_the_sun(bench, container, moment),
    ]
    return [fact("changed", "; ".join(texts))] if texts else []


def _warmth_changed(
    bench: Bench, container: Container, walk: Round, moment: Moment
) -> Iterator[str]:
    looked = max(
        (entry.at for entry in container.last.values() if entry.round and entry.round != walk.id),
        default=None,
    )
    place = next((place for place in bench.places_of(container.code) if bench.air.get(place)), None)
    if looked is None or place is None:
        return
    read = [air for air in bench.air[place] if not math.isnan(_range(air)[0])]
    before = [air for air in read if utc(air.at) <= utc(looked) + timedelta(minutes=30)]
    if not before or read[-1].at <= before[-1].at:
        return
    (low_then, high_then), (low, high) = _range(before[-1]), _range(read[-1])
    if high - high_then >= WARMER_C:
        did, warm = "rose", high
    elif low_then - low >= WARMER_C:
        did, warm = "fell", low
    else:
        return
    name = "the room" if not place else "it" if place == container.code else literal(place)
    warmth = measures_of(bench.settings).warmth(warm)
    yield f"{name} {did} to {warmth} since {moment.clock(before[-1].at)}"


def _range(reading: Air) -> tuple[float, float]:
    """The lowest and the highest that a reading tells of [C]; of a single one it is both, and of
    one that tells no warmth nothing compares."""
    low, high = reading.low_c, reading.high_c
    if low is not None and high is not None:
        return low, high
    now = reading.temperature_c
    return (math.nan, math.nan) if now is None else (now, now)


def _in_the_sun(bench: Bench, container: Container, moment: Moment) -> Iterator[str]:
    if container.lit == "sun":
        for begins, ends in sill_spans(bench, moment.today, moment.zone):
            if begins <= moment.now < ends:
                yield f"the sun is on it until {ends:%H:%M}"


def before_lines(
    bench: Bench, entries: Iterable[Entry], stop: Stop, walk: Round, moment: Moment
) -> Iterator[Line]:
    """The last answers given here, each with its day, its words and who gave it.

    Args:
        entries: those that count, the newest first.
    """
    found: list[tuple[tuple[str, str], list[Entry]]] = []
    for entry in entries:
        if entry.round == walk.id or not _is_of(entry, stop):
            continue
        visit = entry.round or f"{entry.at:%Y-%m-%d %H:%M}", entry.by
        if not found or found[-1][0] != visit:
            if len(found) == MAX_BEFORE:
                break
            found.append((visit, []))
        found[-1][1].append(entry)
    instants = [moment.clock(one[0].at) for _, one in found]
    width = max((len(at) for at in instants), default=0) + 2
    for position, (((_, by), visit_entries), at) in enumerate(zip(found, instants, strict=True)):
        told = dict.fromkeys(_said_here(one, bench, stop) for one in reversed(visit_entries))
        label = "before" if not position else ""
        yield line(
            Cell(f"  {label:<{LABEL - 2}}", "quiet"),
            f"{at:<{width}}",
            "; ".join(told),
            hang=LABEL + width,
            right=literal(by),
        )


def _said_here(entry: Entry, bench: Bench, stop: Stop) -> str:
    """What an entry says at a stop; one of another container by which something came in or went out
    in whole."""
    if stop.place_kind == "container" and entry.whereabouts != stop.where:
        return literal(saying(entry, measures_of(bench.settings)))
    return _said(entry, bench)


def _is_of(entry: Entry, stop: Stop) -> bool:
    if stop.place_kind == "container":
        return stop.where in (*entry.containers, getattr(entry, "held_in", ""))
    if stop.place_kind == "shelf":
        return bool(getattr(entry, "shelf", "") == stop.where) and not getattr(
            entry, "container", ""
        )
    return stop.place_kind == "room" and entry.what == "air" and not entry.whereabouts


def alert_lines(
    bench: Bench, container: Container | None, stop: Stop, moment: Moment
) -> Iterator[Line]:
    """What stands before all else of a place: one missing, what may be eggs, a suspicion, that it
    comes out of turn."""
    if container is None:
        return
    yield from (
        _as_fact(one)
        for one in (*not_seen(bench, container, moment), *unsure_lines(container, moment))
    )
    if container.suspect_since:
        text = f"suspect: {literal(container.suspect_sign)}".removesuffix(": ")
        yield line(Cell(text, "late"), "; use its own tools, wash your hands after", hang=2)
    if stop.out_of_turn:
        yield fact(
            "order", f"{literal(container.code)} comes first in its group because it is in danger"
        )
    yield from (_as_fact(one) for one in care_lines(bench, container))


def _as_fact(labelled: Line) -> Line:
    """A line of the card, with its label in the column of labels here."""
    label, *rest = labelled.cells
    return line(Cell(f"  {label.text.strip():<{LABEL - 2}}", "quiet"), *rest, hang=LABEL)


def note_lines(container: Container | None, moment: Moment) -> list[Line]:
    """The notes on the card, the newest first."""
    notes = reversed(container.notes) if container is not None else ()
    return [
        fact(
            "note",
            f"{moment.clock(note.at)} '{literal(note.text)}'",
            literal(note.by),
        )
        for note in notes
    ]
