"""Who laid on what: female-days and eggs by host, drawn with limits, and in words what can be said of it."""

from __future__ import annotations

from datetime import datetime, tzinfo

from rounds.biology.laying import Compared, Rate, hosts_compared, laying_rate, upper_limit_with_none
from rounds.record.laying_record import OnHost
from rounds.views.cells import Cell, Line, labelled, line
from rounds.views.words import cut_to, day_and_time, literal, number

LEFT_OF_BAR = 57  # what stands before the drawing
LEAST_BAR, MOST_BAR = 12, 50
SETTLED_P = 0.05


def laying_lines(record: list[OnHost], zone: tzinfo, now: datetime, room: int = 74) -> tuple[Line, ...]:
    """The page: a table and a drawing for each species, the verdict, and the sum behind each number.

    Args:
        room: how many columns there are.
    """
    bar = max(LEAST_BAR, min(MOST_BAR, room - LEFT_OF_BAR))
    lines = [line(Cell("who laid on what", "strong"), Cell(f"   until {day_and_time(now, zone)}", "quiet"))]
    if not record:
        lines += [line(""), line("No female has stood with a host in a laying or trial container yet.")]
    for taxon in dict.fromkeys(one.taxon for one in record):
        lines += _species(taxon, [one for one in record if one.taxon == taxon], zone, bar)
    return tuple(lines)


def _species(taxon: str, hosts: list[OnHost], zone: tzinfo, bar: int) -> list[Line]:
    rates = {one.plant: _rate(one) for one in hosts}
    top = max((rate.high if rate.eggs else _upper(rate) for rate in rates.values() if rate), default=1.0)
    top = min(top, max((rate.value for rate in rates.values() if rate), default=1.0) * 3 + 1)
    lines = [line(""), line(Cell(literal(taxon) or "species not said", "strong"))]
    scale = f"0{number(top / 2):^{bar - 4}}{number(top)}"
    lines.append(line(Cell(f"  {'host':<14}{'female-days':>11} {'eggs':>5}  {'a female-day, 95 %':<19} {scale}", "quiet")))
    for one in hosts:
        rate = rates[one.plant]
        told = _limits(rate) if rate else "no time with it"
        drawn = _bar(rate, top, bar) if rate else ""
        lines.append(line(f"  {cut_to(literal(one.plant), 13):<14}{one.female_days:>11.1f} {one.eggs:>5}  {told:<19} {drawn}"))
    lines += [labelled("", words) for words in verdict(hosts)]
    for one in hosts:
        parts = [
            f"{part.container} {part.female_days:.1f} ({day_and_time(part.begun, zone)} to {day_and_time(part.ended, zone)}), "
            f"{part.eggs} eggs in {part.searches} searches"
            for part in one.parts.values()
            if part.begun and part.ended
        ]
        lines.append(labelled("sum", f"{literal(one.plant)}: {'; '.join(parts) or 'no time with it'}", "quiet"))
    return lines


def _rate(one: OnHost) -> Rate | None:
    return laying_rate(eggs=one.eggs, female_days=one.female_days) if one.female_days > 0 else None


def _upper(rate: Rate) -> float:
    return upper_limit_with_none(female_days=rate.female_days)


def _limits(rate: Rate) -> str:
    return f"{rate.value:.2f} ({rate.low:.2f} to {rate.high:.2f})" if rate.eggs else f"none: under {_upper(rate):.2f}"


def _bar(rate: Rate, top: float, room: int) -> str:
    """The limits as a bar, the estimate as an o in it; a bar that goes on beyond the scale ends in an arrow."""
    low, high = (rate.low, rate.high) if rate.eggs else (0.0, _upper(rate))
    first, last = round(low / top * (room - 1)), round(min(high, top) / top * (room - 1))
    middle = round(rate.value / top * (room - 1))
    signs = [" "] * room
    for place in range(first, last + 1):
        signs[place] = "="
    signs[first], signs[last] = "[", ">" if high > top else "]"
    if rate.eggs:
        signs[min(middle, room - 1)] = "o"
    return "".join(signs).rstrip()


def verdict(hosts: list[OnHost]) -> list[str]:
    """What can be said, in words; what follows is the keeper's to decide."""
    tried = [one for one in hosts if one.female_days > 0]
    words = []
    for one in tried:
        rate = _rate(one)
        if rate and not rate.enough:
            words.append(f"{literal(one.plant)}: too early to say, {one.female_days:.1f} female-days.")
        elif rate and not one.eggs:
            words.append(f"{literal(one.plant)}: none in {one.female_days:.1f} female-days: under {_upper(rate):.2f} a day (95 %).")
    if len(tried) < 2:
        return words
    best, other = sorted(tried, key=lambda one: -(one.eggs / one.female_days))[:2]
    compared = hosts_compared(
        eggs_first=best.eggs, female_days_first=best.female_days, eggs_second=other.eggs, female_days_second=other.female_days
    )
    return [*words, _comparison(literal(best.plant), literal(other.plant), compared)]


def _comparison(best: str, other: str, compared: Compared) -> str:
    p = f"p = {compared.p_two_sided:.4f}" if compared.p_two_sided >= 0.0001 else "p under 0.0001"
    if not compared.enough:
        return f"{best} against {other}: not enough to say yet ({p}, exact)."
    if compared.p_two_sided < SETTLED_P:
        return f"{best} against {other}: {p} (exact). A change to {best} is reasonable: one change at a time, and yours to decide."
    more = f"about {compared.more_female_days:.0f} more female-days would settle a two-fold difference"
    return f"{best} against {other}: {p} (exact); {more}."
