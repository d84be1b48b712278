"""Who laid on what: female-days and eggs by host, drawn with limits, and in words what can be said
of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, tzinfo

from rich.cells import cell_len

from rounds.bench.codes import in_order, members
from rounds.bench.folding.sought import times_sought
from rounds.bench.measures import METRIC, Measures
from rounds.bench.plurals import count, percent
from rounds.bench.state import KeptLot
from rounds.biology.laying import (
    LEAST_FEMALES,
    HostComparison,
    Rate,
    chance_of_none_seen,
    hosts_compared,
)
from rounds.checks.round_clock import Moment
from rounds.checks.time_format import chance_words
from rounds.forecasts.kept_stems import LOOK_A_DAY, Chance
from rounds.tallies.female_days import LEAST_TIME, HostShare, OnHost
from rounds.tallies.laying_days import Day
from rounds.views.ahead_page import dated
from rounds.views.cells import Line, aside, headed, labelled, line, section
from rounds.views.kept_chance import chance_why
from rounds.views.settling import settling_words
from rounds.views.words import cut_to, day_and_time, literal, number

LAID = "laid a day, 95 %"
NOT_SEARCHED, NO_TIME = "not searched", "no time with it"
LEFT_OF_BAR = 30  # what stands before the drawing, besides the plant and its rate
LEAST_BAR, MAX_BAR = 12, 50  # cells of the drawing; none where there is room for fewer
MAX_CODES = 4  # females of one part that are named
MAX_DAYS = 21
OF_THESE_FEMALES = (
    "The limits are of these females: eggs of one female are no independent choices, and another"
    " may lay otherwise."
)


def laying_lines(
    record: list[OnHost],
    zone: tzinfo,
    now: datetime,
    room: int = 74,
    usual_rate: float = 1.0,
) -> Iterator[Line]:
    """The page: a table and a drawing for each species, the verdict, and the sum behind each
    number.

    Args:
        room: how many columns there are.
        usual_rate: eggs per female-day to compare with where none were found.
    """
    yield headed("who laid on what", f"up to {day_and_time(now, zone)}; 95 % limits")
    if not record:
        yield line("")
        yield line("No female has stood with a host in a laying or trial container yet.")
    for taxon in dict.fromkeys(share.taxon for share in record):
        yield from _species(
            taxon,
            [host_share for host_share in record if host_share.taxon == taxon],
            zone,
            now,
            room,
            usual_rate,
        )
        yield from (labelled("", words) for words in _not_known_of_which(taxon, record))


def _not_known_of_which(taxon: str, record: list[OnHost]) -> list[str]:
    """Eggs that may be of a species or of another, which are in no rate; below them the same."""
    if any(share.in_doubt for share in record if share.taxon == taxon):
        return ["Of which female or species these eggs are is not known: they are in no rate."]
    wanted = {taxon, *members(taxon)}
    others = [
        host_share
        for host_share in record
        if host_share.in_doubt
        and host_share.eggs
        and wanted.intersection(members(host_share.taxon))
    ]
    return [
        f"{literal(other.plant)}: {count(other.eggs, 'egg')} more may be of it:"
        f" {literal(other.taxon)}, in no rate."
        for other in others
    ]


def _species(
    taxon: str, hosts: list[OnHost], zone: tzinfo, now: datetime, room: int, usual_rate: float
) -> Iterator[Line]:
    rates = [host_share.laid for host_share in hosts]
    top = max((rate.high for rate in rates if rate), default=1.0)
    top = min(top, max((rate.value for rate in rates if rate), default=1.0) * 3 + 1)
    yield from section(literal(taxon) or "species not recorded")
    names = [cut_to(literal(one.plant), 13) for one in hosts]
    texts = [limits(one) for one in hosts]
    wide = max(map(cell_len, ("host", *names)))
    of_rate = max(map(len, (LAID, *texts)))
    bar = min(MAX_BAR, room - LEFT_OF_BAR - wide - of_rate)
    bar = bar if bar >= LEAST_BAR else 0
    scale = f"0{number(top / 2):^{bar - 1 - len(number(top))}}{number(top)}" if bar else ""
    yield line(
        f"  {'host':<{wide}} {'female-days':>11} {'finds':>6} {'eggs':>5} "
        f" {LAID:<{of_rate}} {scale}",
        tone="quiet",
    )
    for one, name, rate, text in zip(hosts, names, rates, texts, strict=True):
        drawn = _bar(rate, top, bar) if rate and bar else ""
        share = share_of(one)
        pad = " " * (wide - cell_len(name))
        found = f"{one.female_days:>11.1f} {share:>6} {one.eggs:>5}"
        yield line(f"  {name}{pad} {found}  {text:<{of_rate}} {drawn}")
    yield from (labelled("", words) for words in verdict(hosts, usual_rate))
    yield aside(
        "",
        "female-days: those that a search looked at; finds: the share of its eggs that the"
        " searches of a host find; eggs laid = found / share found, with the exact limits of those"
        " found, averaged over what the share may be",
    )
    yield aside("", OF_THESE_FEMALES)
    for one in hosts:
        if one.sex_not_known >= LEAST_TIME:
            words = (
                f"{literal(one.plant)}: {one.sex_not_known:.1f} days of adults whose sex is not"
                " known count as no female-days"
            )
            yield aside("sex?", words)
        parts = [_part_words(part, zone, now) for part in one.parts]
        yield aside("sum", f"{literal(one.plant)}: {'; '.join(parts) or 'no time with it'}")
        if one.share_found and not one.found.is_exact:
            words = (
                f"{literal(one.plant)}: {percent(one.share_found)}, known as well as by counting"
                f" {one.share_counted:.1f} eggs"
            )
            yield aside("finds", words)


def _part_words(part: HostShare, zone: tzinfo, now: datetime) -> str:
    """One part of the sum: its female-days, between when, and what was found; eggs may be found
    without any."""
    text = f"{count(part.eggs, 'egg')} in {count(part.searches, 'search', 'searches')}"
    if part.not_searched >= LEAST_TIME:
        text = f"{text}, and {part.not_searched:.1f} not searched yet, which do not count"
    if part.doubtful >= LEAST_TIME:
        of_which = [
            f"{count(eggs, 'egg')} {which}"
            for eggs, which in (
                (part.unsaid, "on one of several plants"),
                (part.either, "of one or another"),
            )
            if eggs
        ]
        were = "was" if of_which[0].startswith("1 egg ") and len(of_which) == 1 else "were"
        more = (
            f"and {part.doubtful:.1f} when {' and '.join(of_which)} {were} laid, which do not count"
        )
        text = f"{text}, {more}"
    if not part.begun or not part.ended:
        return (
            f"{whose(part)}"
            f" {'no time that was searched' if part.not_searched >= LEAST_TIME else NO_TIME},"
            f" {text}"
        )
    span = f"{day_and_time(part.begun, zone, now)} to {day_and_time(part.ended, zone, now)}"
    return f"{whose(part)} {part.female_days:.1f} ({span}), {text}"


def whose(part: HostShare) -> str:
    """Where it was, and who was there: ``K2, A-27-02 alone,``, ``K2, A-27-02 and A-27-03,`` or
    ``K2, A-27-02 beside A-27-03 of another species,``."""
    if part.alone:
        return f"{part.container}, {part.alone} alone,"
    codes, beside = sorted(part.codes, key=in_order), sorted(part.beside, key=in_order)
    if not codes or len(codes) > MAX_CODES:
        return part.container
    others = ""
    if beside:
        whom = " and ".join(beside) if len(beside) <= MAX_CODES else "some"
        others = f" beside {whom} of another species"
    return f"{part.container}, {' and '.join(codes)}{others},"


def limits(host_share: OnHost) -> str:
    """Eggs laid per female-day, by those found and the share that searches find, with the exact
    limits of those found, averaged over what the share may be, two-sided 95 %; of none found the
    upper one; else why there is none."""
    rate = host_share.laid
    return _limits(rate) if rate else _why_no_rate(host_share)


def share_of(host_share: OnHost) -> str:
    """The share of its eggs that searches find; ``-`` where none told of any."""
    return _percent(host_share.share_found) if host_share.female_days >= LEAST_TIME else "-"


def _limits(rate: Rate) -> str:
    if rate.eggs:
        places = 2 if rate.high < 100 else 0
        value, low, high = (f"{one:.{places}f}" for one in (rate.value, rate.low, rate.high))
        return f"{value} ({low} to {high})"
    return f"none: under {rate.high:.2f}"


def _why_no_rate(host_share: OnHost) -> str:
    if host_share.unsaid:
        return "which plant?"
    if host_share.either:
        return "which species?"
    if host_share.not_searched >= LEAST_TIME and host_share.female_days < LEAST_TIME:
        return NOT_SEARCHED
    return NO_TIME


def _bar(rate: Rate, top: float, room: int) -> str:
    """The limits as a bar, the estimate as an o in it; a bar that goes on beyond the scale ends in
    an arrow."""
    first, last = round(rate.low / top * (room - 1)), round(min(rate.high, top) / top * (room - 1))
    middle = round(rate.value / top * (room - 1))
    signs = [" "] * room
    for position in range(first, last + 1):
        signs[position] = "-"
    signs[first], signs[last] = "[", ">" if rate.high > top else "]"
    if rate.eggs:
        signs[min(middle, room - 1)] = "o"
    return "".join(signs).rstrip()


def day_lines(by_taxon: dict[str, list[Day]], room: int) -> Iterator[Line]:
    """Each species' last days, one below the other: eggs found a female-day drawn, and what was
    changed on the day."""
    for taxon, days in by_taxon.items():
        shown = days[-MAX_DAYS:]
        rates, shared = _rates(days)
        top = max((rates[day.day] for day in shown if day.day in rates), default=0.0)
        bar = max(10, min(30, room - 64))
        scale = f"* is {number(top / bar, 2)} found a day" if top else ""
        yield from section(f"{literal(taxon) or 'species not recorded'}, day by day", scale)
        yield line(
            f"  {'day':<8}{'female-days':>11} {'found':>5}  {'found a day':<{bar}}  changed",
            tone="quiet",
        )
        if any(day.day in shared for day in shown):
            yield line("  a day without a search shares what the next one found", tone="quiet")
        for day in shown:
            rate = rates.get(day.day)
            yield _day_line(day, rate, shown[-1].day, top, bar, room - bar - 31)


def _rates(days: Sequence[Day]) -> tuple[dict[date, float], set[date]]:
    """Eggs a female-day of each day of which a search tells: a search tells of the days without one
    before it too, and what it found counts over all of their female-days; and those days."""
    rates: dict[date, float] = {}
    shared: set[date] = set()
    waiting: list[Day] = []
    for day in days:
        waiting.append(day)
        if not (day.searches or day.eggs):
            continue
        stood = sum(one.female_days for one in waiting)
        if day.eggs and stood >= LEAST_TIME:
            told = [one for one in waiting if one is day or one.female_days]
            rates |= dict.fromkeys([one.day for one in told], day.eggs / stood)
            shared |= {one.day for one in told[:-1]}
        waiting = []
    return rates, shared


def _day_line(day: Day, rate: float | None, last: date, top: float, bar: int, room: int) -> Line:
    """A day, by its month where that is not the month of the last day."""
    of_month = (day.day.year, day.day.month) == (last.year, last.month)
    name = f"{day.day:%a} {day.day.day}" if of_month else f"{day.day.day} {day.day:%b}"
    nothing = f"{day.either} of either" if day.either else "none" if day.searches else "no search"
    drawn = "*" * max(1, round(rate / top * bar)) if rate and top else nothing
    changed = cut_to(literal(", ".join(dict.fromkeys(day.changes))), room)
    return line(f"  {name:<8}{day.female_days:>11.1f} {day.eggs:>5}  {drawn:<{bar}}  {changed}")


def held_lines(
    held: list[tuple[str, KeptLot, Chance]], moment: Moment, measures: Measures = METRIC
) -> Iterator[Line]:
    """Every lot of kept stems: its chance of viable eggs and until when to keep it; behind the
    table every number behind these."""
    if not held:
        return
    yield from section("kept stems", "chance of viable eggs, and until when to keep them")
    yield line(
        f"  {'in':<4}{'plant':<17}{'from':<5}{'taken out':<13}{'sought':>6} {'chance':>11} "
        " keep until",
        tone="quiet",
    )
    soonest_first = sorted(held, key=lambda row: row[2].keep_until or row[1].taken_out)
    for code, lot, chance in soonest_first:
        none = "over the winter" if chance.over_winter else "-"
        until = dated(chance.keep_until, moment) if chance.keep_until else none
        text = "frass!" if chance.shown else chance_words(chance.chance)
        if chance.shown:
            words = "hatched: see the cup"
        else:
            words = (
                f"{until}{', may go' if chance.may_go else LOOK_A_DAY if chance.keep_until else ''}"
            )
        name = cut_to(literal(f"{lot.plant} {lot.batch}".strip()), 16)
        row = (
            f"  {literal(code):<4}{name:<17}{literal(lot.source):<5}{dated(lot.taken_out, moment):<13}{times_sought(lot):>6}"  # noqa: E501
            f" {text:>11}  "
        )
        yield line(row, words, hang=len(row))
    for code, lot, chance in soonest_first:
        name = literal(f"{code}: {lot.plant} {lot.batch}".strip())
        taken_out = f"from {literal(lot.source)}, taken out {dated(lot.taken_out, moment)}"
        yield from section(name, taken_out if lot.source else taken_out.partition(", ")[2])
        yield from chance_why(chance, measures)


def in_no_rate(hosts: list[OnHost]) -> list[str]:
    """Eggs that were found on one of several plants, nobody knows on which."""
    return [
        f"{literal(one.plant)}: {count(one.unsaid, 'egg')} more may be on it, on one of several"
        " plants, nobody knows which: they and their time are in no rate."
        for one in hosts
        if one.unsaid
    ]


def verdict(hosts: list[OnHost], usual_rate: float = 1.0) -> Iterator[str]:
    """What can be said, in words; what follows is the keeper's to decide."""
    tried = [
        host_share
        for host_share in hosts
        if host_share.female_days > 0 and not host_share.unsaid and not host_share.either
    ]
    yield from in_no_rate(hosts)
    for one in hosts:
        if not (one.unsaid or one.has_rate) and _why_no_rate(one) == NOT_SEARCHED:
            yield (
                f"{literal(one.plant)}: {one.not_searched:.1f} female-days not searched: whether"
                " eggs are on it nobody knows."
            )
    for one in tried:
        laid = one.laid
        if laid and not laid.enough:
            yield (
                f"{literal(one.plant)}: too early to say, {one.female_days:.1f} female-days"
                f"{_find(one.share_found)}."
            )
        elif laid and not one.eggs:
            yield (
                f"{literal(one.plant)}: none found in {one.female_days:.1f} female-days"
                f"{_find(one.share_found)}:"
                f" under {laid.high:.2f} laid a day (two-sided 95 %)."
            )
            chance = chance_of_none_seen(
                usual_rate=usual_rate,
                female_days=one.female_days,
                share_found=one.found.share,
                share_counted=one.share_counted,
            )
            yield (
                f"If they laid {number(usual_rate, 2)} a day on {literal(one.plant)}, the chance of"
                f" having seen none by now is {chance_words(chance)}."
            )
    if len(tried) < 2:
        return
    best, other = sorted(tried, key=lambda one: -(one.eggs / one.found_days))[:2]
    compared = hosts_compared(
        eggs_first=best.eggs,
        female_days_first=best.female_days,
        eggs_second=other.eggs,
        female_days_second=other.female_days,
        females_first=best.females,
        females_second=other.females,
        found_first=best.found,
        found_second=other.found,
    )
    mean_share = (best.found_days + other.found_days) / (best.female_days + other.female_days)
    females = best.females, other.females
    names = literal(best.plant), literal(other.plant)
    yield _comparison(*names, compared, mean_share, females)


def _percent(share: float | None) -> str:
    """``-`` where no search told anything of it."""
    return "-" if share is None else percent(share)


def _find(share: float | None) -> str:
    return "" if share is None else f", searches find {_percent(share)} of the eggs"


def _comparison(
    best: str,
    other: str,
    compared: HostComparison,
    share_found: float,
    females: tuple[int, int],
) -> str:
    p = f"p = {compared.p_two_sided:.4f}" if compared.p_two_sided >= 0.0001 else "p under 0.0001"
    if not compared.enough:
        return f"{best} against {other}: too little to say; {p} counts each egg alone."
    if compared.is_of_plants:
        return (
            f"{best} against {other}: {p} (exact): on {best} more was laid than chance gives, and"
            f" than females differ (p = {compared.p_of_plants:.2g}); a change is yours to decide,"
            " one at a time."
        )
    if compared.settled:
        few = min(females) < LEAST_FEMALES
        of = f"{count(females[0], 'female')} and {females[1]}"
        if few:
            little = f"of so few ({of}) that says little about the plants"
        else:
            little = f"but females differ as much by themselves (p = {compared.p_of_plants:.2g})"
        return (
            f"{best} against {other}: {p} (exact): these females laid more on {best}; {little}. A"
            " change is yours to decide, one at a time."
        )
    more = settling_words(compared.more_female_days / share_found)
    return f"{best} against {other}: {p} (exact); {more}."
