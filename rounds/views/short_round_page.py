"""A round in the minutes there are, as a page: what it takes, what it leaves out, and what that may
cost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil

from rounds.bench.plurals import count
from rounds.bench.state import Bench, Round
from rounds.checks.base import AtStake
from rounds.checks.due_state import PRESSING, Due, how_bad, place_name, pressing
from rounds.checks.round_clock import Moment
from rounds.checks.short_round import CANNOT_WAIT, ShortRound, WeighedCheck, seconds_for, weigh
from rounds.checks.walk import Stop
from rounds.forecasts.foresight import Forecasts
from rounds.grouping import grouped
from rounds.views.cells import Cell, Line, line
from rounds.views.round_end import NOTHING_ASKED
from rounds.views.states import SIGNS, TONES, State, check_at, read_there
from rounds.views.stop_page import pressing_words, worst_line
from rounds.views.words import literal, of_what_is_read

WHERE, MINUTES = 38, 5  # columns
NOTHING = "nothing to speak of"
RARE = 1 / 1000  # less than this is told as nothing to speak of
ENOUGH_LOOKS = 10  # from so many looks on that found nothing, that is told
ONE_AND_MANY: dict[AtStake, tuple[str, str]] = {
    "animals": ("animal", "animals"),
    "females": ("female", "females"),
    "eggs": ("egg", "eggs"),
    "eggs about to hatch": ("egg", "eggs"),
    "larvae": ("larva", "larvae"),
    "larvae that eat": ("larva", "larvae"),
    "pupae": ("pupa", "pupae"),
    "eggs and pupae": ("egg or pupa", "eggs or pupae"),
    "kept stems": ("egg on a kept stem", "eggs on kept stems"),
    "eggs to be laid": ("egg not laid", "eggs not laid"),
    "nothing": ("animal", "animals"),
}


def short_round_lines(
    plan: ShortRound, moment: Moment, keys: str, *, is_whole: bool = True
) -> tuple[Line, ...]:
    """The page; ``keys`` is its last line."""
    takes = f"{plan.taken_stops} of {count(plan.stops, 'stop')}, about {minutes(plan.seconds)} min"
    head = line(
        Cell(f"a round in {limit_words(plan.minutes)}", "strong"),
        f"   {moment.clock(moment.now)}   ",
        takes,
    )
    if not plan.taken and not plan.left:
        return head, line(""), line(of_what_is_read(NOTHING_ASKED, is_whole=is_whole))
    body = [
        *_worst(plan, moment),
        line(""),
        *_longer(plan),
        _heading("taken, in this order", "why"),
    ]
    body += [
        _row(codes, checks, group, _since(group, moment), moment)
        for codes, checks, group in _taken(plan.taken, moment)
    ]
    if plan.left:
        until = moment.clock(moment.round_after)
        body += [line(""), _heading(f"left out until {until}", "what that may cost")]
        body += [
            _row(codes, checks, group, cost_of(group, moment), moment)
            for codes, checks, group in _left(plan.left)
        ]
        body += [line(""), line(_in_all(plan.may_cost), tone="strong"), line(_NEVER)]
    else:
        body += [line(""), line("Nothing is left out.")]
    return (head, *body, line(""), line(keys, tone="due"), line(""), *_how(plan))


def short_round_spoken(plan: ShortRound, moment: Moment) -> Iterator[str]:
    """The page read aloud: what is taken, what is left out and what that may cost, a line each."""
    yield (
        f"{plan.taken_stops} of {count(plan.stops, 'stop')}, about"
        f" {count(minutes(plan.seconds), 'minute')}."
    )
    for told in _longer(plan)[:1]:
        yield told.text
    for codes, checks, group in _taken(plan.taken, moment):
        yield f"Taken: {codes}, {checks}; {_since(group, moment)}."
    for codes, checks, group in _left(plan.left):
        yield f"Left out: {codes}, {checks}; {cost_of(group, moment)}."
    yield f"{_in_all(plan.may_cost)} {_NEVER}" if plan.left else "Nothing is left out."


def left_out_lines(
    bench: Bench,
    walk: Round,
    left: Sequence[tuple[Stop, Due]],
    moment: Moment,
    foresight: Forecasts,
) -> tuple[Line, ...]:
    """Between a short round and its rest: what it left out, what that may cost until the next
    round, and how to go on or end."""
    weighed = [weigh(bench, stop, due, moment, foresight) for stop, due in left]
    stops = len({stop.where for stop, _ in left})
    until = moment.clock(moment.round_after)
    return (
        line(
            Cell(f"What was taken into the {limit_words(walk.minutes)} is done.", "strong"),
            f" {count(len(left), 'check')} at {count(stops, 'stop')} left out, about"
            f" {count(minutes(seconds_for(weighed)), 'minute')}.",
        ),
        line("Enter goes on with it. Esc ends the round and leaves it out.", tone="due"),
        line(""),
        _heading(f"left out until {until}", "what that may cost"),
        *(
            _row(codes, checks, group, cost_of(group, moment), moment)
            for codes, checks, group in _left(weighed)
        ),
        line(""),
        line(_in_all(_lost(weighed)), tone="strong"),
    )


_NEVER = (
    "What is in danger or urgent is never left out. With time left over the round goes on with the"
    " rest."
)


def minutes(seconds: float) -> int:
    """Whole minutes, at least one."""
    return max(1, ceil(seconds / 60 - 0.25))


def limit_words(limit: float) -> str:
    """The minutes that there are: ``1 minute``, ``7.5 minutes``."""
    return f"{limit:g} {'minute' if limit == 1 else 'minutes'}"


def _longer(plan: ShortRound) -> list[Line]:
    if not plan.is_longer:
        return []
    text = (
        f"What cannot wait takes {count(minutes(plan.seconds), 'minute')}, more than"
        f" {plan.minutes:g}. All of it is taken."
    )
    return [line(text, tone="late"), line("")]


def _worst(plan: ShortRound, moment: Moment) -> list[Line]:
    """What is in danger or urgent, and at which stop: it may be far down the page."""
    grave = [one for one in plan.taken if pressing(one.due, moment.now) in CANNOT_WAIT]
    if not grave:
        return []
    worst = min(grave, key=lambda one: how_bad(one.due, moment.now))
    ids = list(dict.fromkeys(id(one.stop) for one in plan.taken))
    where = f"stop {ids.index(id(worst.stop)) + 1} of {len(ids)}"
    return [worst_line(worst.due, where, moment)]


def _heading(first: str, last: str) -> Line:
    return line(f"   {first:<{WHERE - 3}}{'min':>{MINUTES}}   {last}", tone="quiet")


Group = tuple[str, str, list[WeighedCheck]]


def _taken(taken: Sequence[WeighedCheck], moment: Moment) -> list[Group]:
    """A line a stop where anything is late or worse; the others that are asked the same share
    one."""
    found: dict[object, list[WeighedCheck]] = {}
    for stop_id, checks in grouped((id(check.stop), check) for check in taken).items():
        alone = any(
            pressing(weighed_check.due, moment.now) not in ("due", "ahead")
            for weighed_check in checks
        )
        found.setdefault(stop_id if alone else (checks[0].stop.group, _checks(checks)), []).extend(
            checks
        )
    return [(_codes(group), _checks(group), group) for group in found.values()]


def _left(left: Sequence[WeighedCheck]) -> list[Group]:
    """A line a check; what may cost most first."""
    by_check = grouped((check.due.check, check) for check in left)
    groups = sorted(by_check.values(), key=lambda group: -_lost(group))
    return [(_codes(group), _checks(group), group) for group in groups]


def _lost(group: Iterable[WeighedCheck]) -> float:
    return sum(weighed_check.worth.lost for weighed_check in group)


def _codes(group: Iterable[WeighedCheck]) -> str:
    return " ".join(
        dict.fromkeys(literal(place_name(weighed_check.stop)) for weighed_check in group)
    )


def _checks(group: Iterable[WeighedCheck]) -> str:
    return ", ".join(dict.fromkeys(read_there(one.due) for one in group))


def _row(codes: str, checks: str, group: Sequence[WeighedCheck], why: str, moment: Moment) -> Line:
    worst = min(
        (pressing(weighed_check.due, moment.now) for weighed_check in group), key=PRESSING.index
    )
    state: State = "due" if worst == "ahead" else worst
    sign, tone = SIGNS[state], TONES[state]
    text, tail = f" {sign} {codes}  {checks}", f"{minutes(seconds_for(group)):>{MINUTES}}   {why}"
    return line(Cell(f"{text:<{WHERE}}", tone), tail, hang=WHERE + MINUTES + 3)


def _since(group: Sequence[WeighedCheck], moment: Moment) -> str:
    """Since when the worst of it is late or worse, and from when on it is in danger."""
    worst = min(group, key=lambda check: PRESSING.index(pressing(check.due, moment.now)))
    text = pressing_words(worst.due, moment)
    if text and pressing(worst.due, moment.now) in CANNOT_WAIT:
        return text
    lost = _lost(group)
    saved = "" if lost < RARE else f"if left: {_chance(lost, group, ' lost').replace(' such', '')}"
    return "; ".join(part for part in (text, saved) if part) or "due"


def cost_of(group: Sequence[WeighedCheck], moment: Moment) -> str:
    """What leaving some checks out may cost, in animals and rounds; where nothing was ever found,
    that; first of each that is late since when it is."""
    late = [
        f"{literal(place_name(one.stop))} {since}"
        for one in group
        if (since := pressing_words(one.due, moment))
    ]
    return "; ".join((*late, _cost_words(group)))


def _cost_words(group: Sequence[WeighedCheck]) -> str:
    lost = _lost(group)
    looks, number = _looks(group)
    if lost < RARE:
        return _seen(looks, 0) if looks >= ENOUGH_LOOKS and not number else NOTHING
    if looks < ENOUGH_LOOKS:
        return _chance(lost, group)
    return f"{_chance(lost, group)}; {_seen(looks, number)}"


def _seen(looks: int, number: int) -> str:
    """How many looks found something: ``nothing found in 46 looks``."""
    if not number:
        return f"nothing found in {looks} looks"
    return f"{number} of {looks} looks found something"


def _looks(group: Sequence[WeighedCheck]) -> tuple[int, int]:
    """How many looks like these there were on record, each kind once, and how many found
    something."""
    kinds = {
        (weighed_check.due.check, weighed_check.worth.looks, weighed_check.worth.found)
        for weighed_check in group
    }
    return sum(looks for _, looks, _ in kinds), sum(number for _, _, number in kinds)


def _chance(lost: float, group: Sequence[WeighedCheck], done: str = "") -> str:
    kinds = {ONE_AND_MANY[each.worth.of] for each in group if each.worth.lost > 0}
    one, many = kinds.pop() if len(kinds) == 1 else ONE_AND_MANY["animals"]
    done = "" if one.endswith("not laid") else done  # what is not laid is not lost too
    if 1 / lost < 1.5:
        return f"about {count(round(max(1.0, lost)), one, many)}{done}"
    return f"1 {one}{done} in {1 / lost:.0f} such rounds"


def _in_all(lost: float) -> str:
    words = f"about 1 animal or egg in {1 / lost:.0f} such rounds" if lost >= RARE else NOTHING
    if lost and 1 / lost < 1.5:
        words = f"about {count(round(max(1.0, lost)), 'animal or egg', 'animals or eggs')}"
    return f"Left out in all: {words}."


def _how(plan: ShortRound) -> Iterator[Line]:
    """How each number was reckoned."""
    text = (
        "how: those at stake x the chance that the answer is not as usual x the chance that one is"
        " lost of it until the next round"
    )
    yield line(text, tone="quiet")
    for weighed_check in (*plan.taken, *plan.left):
        name = check_at(weighed_check.due)
        yield line(
            Cell(f"{name:<16}", "quiet"), Cell(weighed_check.worth.arithmetic, "quiet"), hang=16
        )
