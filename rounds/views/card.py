"""The card of one container: what is in it, what was last said, what is due and why."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from rounds.bench.diapause import out_of_place, purpose_of
from rounds.bench.folding.unsure import limits
from rounds.bench.permits import (
    ends_at,
    ends_at_midnight,
    free_by,
    has_ended,
    permits_of,
    pressing,
    uses,
)
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import Bench, Container, Lot
from rounds.checks.ants import barrier_words
from rounds.checks.due_state import Due, place_name, urgency
from rounds.checks.registry import CHECKS
from rounds.checks.round_clock import Moment
from rounds.entries.check_labels import called
from rounds.entries.registry import Weighed
from rounds.entries.wording import animals, comma_joined
from rounds.forecasts.foresight import Forecasts
from rounds.grouping import summed
from rounds.views.about import why_lines
from rounds.views.ahead_page import span_words
from rounds.views.bench_page import stock_words, without_stock
from rounds.views.cautions import care_lines
from rounds.views.cells import Line, Tone, aside, labelled, line
from rounds.views.kept_page import kept_on_card, unsure_lines
from rounds.views.states import when_words
from rounds.views.words import ago, day_and_time, literal, number


def card(
    bench: Bench, dues: list[Due], moment: Moment, code: str, foresight: Forecasts | None = None
) -> tuple[Line, ...]:
    """The card's lines, the most needed first: a small pane shows only the first few."""
    foresight = foresight or Forecasts(bench, moment.zone)
    container = bench.at(code)
    if container is None:
        return ()
    own = sorted(
        (due for due in dues if due.place_kind == "container" and due.where == code),
        key=lambda due: urgency(due, moment.now),
    )
    permits = _permits(bench, container, moment)
    lines = [
        _title(bench, container, moment),
        *permits["late"],
        *not_seen(bench, container, moment),
        *_awake(bench, container),
    ]
    lines.extend(unsure_lines(container, moment))
    if own:
        lines.extend(why_lines(bench, own[0], moment, foresight))
    lines.extend(
        labelled("note", f"{moment.clock(note.at)} '{literal(note.text)}'")
        for note in reversed(container.notes)
    )
    lines.extend([*_deadlines(bench, container, moment), *permits["plain"]])
    lines.extend(care_lines(bench, container))
    lines.extend(_other_checks(own[1:], moment))
    lines.extend(_ahead(container, moment, foresight))
    lines.extend(_hosts(container, moment))
    lines.extend(kept_on_card(container, moment, foresight))
    lines.extend(_stock(bench, container))
    lines.extend(_mass(container, moment))
    lines.extend(labelled("photo", literal(photo.text)) for photo in reversed(container.photos))
    return tuple(lines)


def place_card(bench: Bench, due: Due, moment: Moment, foresight: Forecasts) -> tuple[Line, ...]:
    """The same of a shelf, the room or the book: how its barrier stands, and why it is asked."""
    shelf = bench.shelves.get(due.where) if due.place_kind == "shelf" else None
    stands = f"   {barrier_words(bench, shelf.barrier, shelf.moat, moment.now)[0]}" if shelf else ""
    title = line(literal(f"{place_name(due)}{stands}"))
    return (title, *why_lines(bench, due, moment, foresight))


def _title(bench: Bench, container: Container, moment: Moment) -> Line:
    where = "no shelf"
    if container.shelf:
        position = f", place {container.place}" if container.place else ""
        where = f"shelf {literal(container.shelf)}{position}"
    inside = f", inside {literal(container.inside)}" if container.inside else ""
    held = stock_words(bench, container) or without_stock(container)
    since = day_and_time(container.since, moment.zone, moment.now)
    return line(
        f"{literal(container.code)}   {called(container.purpose)}: {held}"
        f"   {where}{inside}   since {since}"
    )


def not_seen(bench: Bench, container: Container, moment: Moment) -> list[Line]:
    return [
        labelled(
            "missing",
            f"{of_stage(shortfall.number, shortfall.stage)} of {literal(shortfall.brood)} not seen"
            f" since {moment.clock(shortfall.at)}: check lid, seam and paper"
            " before you discard any",
            "late",
        )
        for shortfall in bench.shortfalls
        if shortfall.container == container.code
    ]


def _awake(bench: Bench, container: Container) -> list[Line]:
    """What lives in a container that was not set up for it, and what to type once it is to be kept
    as such."""
    lots = out_of_place(bench, container)
    if not lots:
        return []
    numbers = summed((lot.stage, lot.number) for lot in lots)
    text = ", ".join(of_stage(number, stage) for stage, number in numbers.items())
    code = literal(container.code)
    change = f"{code} changed {called(purpose_of(container.lots))}"
    then = change if len(lots) == len(container.lots) else f"move them, or '{change}'"
    label, set_up = (
        ("awake", "for winter")
        if container.purpose == "overwintering"
        else ("holds", "as a host store")
    )
    return [labelled(label, f"{text}, but {code} is set up {set_up}: {then}", "late")]


def _other_checks(dues: list[Due], moment: Moment) -> list[Line]:
    if not dues:
        return []
    texts = [f"{CHECKS[due.check].label} {when_words(due, moment)}" for due in dues]
    return [aside("then", ", ".join(texts))]


def _deadlines(bench: Bench, container: Container, moment: Moment) -> Iterator[Line]:
    if container.leave_be_until and container.leave_be_until > moment.now:
        until = moment.clock(container.leave_be_until)
        yield labelled("quiet", f"do not disturb until {until}: {literal(container.leave_be_why)}")
    for code in dict.fromkeys(
        [*(code for lot in container.lots for code in lot.codes), container.code]
    ):
        deadline = free_by(bench, code)
        if deadline:
            founder = bench.founders.get(code)
            site = f", back to {literal(founder.place)}" if founder and founder.place else ""
            permit = f", permit {literal(deadline.permit)}" if deadline.permit else ""
            until = moment.clock(deadline.until)
            yield labelled("release", f"{literal(code)} by {until}{permit}{site}", "strong")


def _permits(bench: Bench, container: Container, moment: Moment) -> dict[str, list[Line]]:
    """The permits of what is in here, with how much of each limit is used; those past a limit are
    late."""
    permits = {
        permit.number: permit for lot in container.lots for permit in permits_of(bench, lot.brood)
    }
    lines: dict[str, list[Line]] = {"late": [], "plain": []}
    for permit in permits.values():
        texts = [use.words for use in uses(bench, permit)]
        ends = ends_at(permit)
        if permit.closed:
            texts.append("closed")
        elif ends is not None:
            ended = has_ended(permit, moment.now)
            texts.append(f"ENDED {moment.clock(ends)}" if ended else _until(permit.expires, moment))
        grave = pressing(bench, permit, moment.now)
        if grave:
            texts.append(
                f"ask {literal(permit.body) or 'the body that issued it'} what you may still do"
            )
        tone: Tone = "late" if grave else "plain"
        words = labelled(
            "limit", f"{literal(permit.number)}: {', '.join(texts) or 'no limits on record'}", tone
        )
        lines["late" if grave == "PAST" else "plain"].append(words)
    return lines


def _until(expires: datetime | None, moment: Moment) -> str:
    """Until when a permit lasts: its last day, or the hour that was said."""
    assert expires is not None  # only asked of a permit that ends
    local = expires.astimezone(moment.zone)
    whole_day = ends_at_midnight(expires)
    if whole_day:
        return f"to the end of {local:%a} {local.day} {local:%b %Y}"
    return f"ends {moment.clock(expires)}"


def _ahead(container: Container, moment: Moment, foresight: Forecasts) -> list[Line]:
    """What its animals will do next, and whether that is made of the warmth of another place; what
    has no date is told in what is coming."""
    unread = foresight.unread_place(container.code)
    guessed = (
        f" (nothing was read of {literal(unread)}: by the warmth of the room)" if unread else ""
    )
    return [
        labelled(
            "ahead",
            f"{change.change} of {change.number}: {span_words(change, moment)}{guessed}",
        )
        for change in foresight.coming(container)
        if change.half is not None
    ]


def _hosts(container: Container, moment: Moment) -> Iterator[Line]:
    for host in container.hosts:
        what = f"{literal(host.plant)} {literal(host.part)}".strip()
        batch = f", batch {literal(host.batch)}" if host.batch else ""
        left = f", {host.left} left" if host.left else ""
        sprigs = f", {count(host.sprigs, 'stem')}" if host.sprigs else ""
        cut = "not known" if host.cut_not_known else ago(host.cut, moment.now)
        yield labelled("host", f"{what}, {host.state}{left}, {host.kept}, cut {cut}{batch}{sprigs}")


def _mass(container: Container, moment: Moment) -> list[Line]:
    """What was weighed last, while anything stands here."""
    entry = container.last.get("weighed")
    if not isinstance(entry, Weighed) or not container.lots:
        return []
    if entry.stage:
        of = animals(entry.number, entry.stage, literal(entry.brood))
    else:
        of = count(entry.number, "animal")
    return [labelled("mass", f"{number(entry.mass_mg)} mg, {of}, {ago(entry.at, moment.now)}")]


def _stock(bench: Bench, container: Container) -> list[Line]:
    return [
        labelled(
            "stock",
            comma_joined(
                animals(lot.number, lot.stage, literal(lot.brood), lot.instar)
                + _of_each(bench, lot),
                lot.sex,
                "crippled" if lot.crippled else "",
                literal(bench.taxon_of(lot.brood)),
                f"marked {literal(mark)}" if (mark := bench.marks.get(lot.brood)) else "",
            ),
        )
        for lot in container.lots
    ]


def _of_each(bench: Bench, lot: Lot) -> str:
    """Of those that may be of several broods, how many are of each at least and at most."""
    each = ", ".join(
        f"{least if least == most else f'{least} to {most}'} of {literal(code)}"
        for code, (least, most) in limits(bench, lot).items()
    )
    return f" ({each})" if each else ""
