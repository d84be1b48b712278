"""Where a brood comes from: its wild forebears with place and date, and where and how its eggs were laid."""

from __future__ import annotations

from rounds.bench.kinds import FounderIntake, Searched, Stocked
from rounds.biology.laying import laying_rate
from rounds.exchange.localities import Locality
from rounds.exchange.note_parts import About, NoteTable, Section
from rounds.record.effort import effort
from rounds.views.words import number

NOT_SAID = "not said"


def origin_section(one: About) -> Section:
    """The wild-caught forebears: place as it may be told, date, sex, wear."""
    bench = one.source.bench
    parts: list[str | NoteTable] = [_parents(one)]
    founders = [bench.founders[code] for code in one.founders]
    if founders:
        rows = tuple(_founder_row(one, founder) for founder in founders)
        heads = ("code", "caught", "place", "latitude, longitude (degrees)", "uncertainty (m)", "by", "sex, wear")
        parts.append(NoteTable(heads, rows))
    told = [one.source.guard.of_founder(founder) for founder in founders]
    parts += list(dict.fromkeys(_reserve(place) for place in told if place.withheld or place.generalised))
    inspected = [f"{founder.code}: {founder.inspected}" for founder in founders if founder.inspected]
    if inspected:
        parts.append(f"Looked over for egg parasitoids: {', '.join(inspected)}.")
    return Section("Parents, and where they are from", tuple(parts))


def _parents(one: About) -> str:
    begun = one.record.begun
    if begun is None or not (begun.mothers or begun.fathers):
        put_in = [entry for entry in one.source.counting if isinstance(entry, Stocked) and entry.brood == one.code]
        origins = sorted({entry.origin for entry in put_in if entry.origin})
        return f"Parents not said. Origin as told: {'; '.join(origins)}." if origins else "Parents not said."
    mothers = " or ".join(begun.mothers) or NOT_SAID
    fathers = " or ".join(begun.fathers) or "a male from the wild, not seen"
    several = ", which of them is not known" if len(begun.mothers) > 1 else ""
    return f"Mother: {mothers}{several}. Father: {fathers}."


def _reserve(place: Locality) -> str:
    return "; ".join(word for word in (place.withheld, place.generalised) if word).capitalize() + "."


def _founder_row(one: About, founder: FounderIntake) -> tuple[str, ...]:
    place = one.source.guard.of_founder(founder)
    position = NOT_SAID
    if place.latitude is not None and place.longitude is not None:
        position = f"{place.latitude:g}, {place.longitude:g}"
    return (
        founder.code,
        one.day(founder.caught) if founder.caught else NOT_SAID,
        place.place or ("withheld" if place.withheld else NOT_SAID),
        position,
        number(place.uncertainty_m, 0) if place.uncertainty_m is not None else NOT_SAID,
        founder.collector or NOT_SAID,
        ", ".join(word for word in (founder.sex or founder.stage, founder.wear) if word),
    )


def laying_section(one: About) -> Section:
    """When, on what, and how many eggs were found, against the time that the mothers had with each plant."""
    begun = one.record.begun
    searches = [entry for entry in one.source.counting if isinstance(entry, Searched) and entry.brood == one.code and entry.found]
    parts: list[str | NoteTable] = []
    if begun and begun.laid_from and begun.laid_to:
        parts.append(f"Laid between {one.moment(begun.laid_from)} and {one.moment(begun.laid_to)}.")
    else:
        parts.append("When it was laid is not said.")
    if not searches:
        parts.append("No search on this bench found its eggs; what is known of them came from outside.")
        return Section("Laying", tuple(parts))
    days = _female_days(one)
    laid: dict[str, int] = {}
    for piece in one.back.evidence:
        if piece.brood == one.code and piece.grade == "laid on":
            laid[piece.plant] = laid.get(piece.plant, 0) + piece.number
    rows = tuple(_plant_row(plant, laid.get(plant, 0), days.get(plant, 0.0)) for plant in sorted({*laid, *days}))
    if rows:
        heads = ("plant", "eggs found on it", "effort (female-days)", "eggs a female-day, 95 % limits")
        parts.append(NoteTable(heads, rows))
    found = sum(entry.found for entry in searches)
    first, last = searches[0].at, max(entry.at for entry in searches)
    aids = ", ".join(sorted({entry.aid for entry in searches}))
    parts.append(f"{found} eggs found in {len(searches)} searches that found any, {one.day(first)} to {one.day(last)}, by {aids}.")
    parts.append(
        "A female-day is one of its mothers, alive and in the light, with the plant for 24 hours, while this brood was laid."
    )
    return Section("Laying", tuple(parts))


def _female_days(one: About) -> dict[str, float]:
    """The mothers' time with each plant while the brood was laid [female-days]."""
    begun = one.record.begun
    if begun is None or not (begun.laid_from and begun.laid_to):
        return {}
    found: dict[str, float] = {}
    for until, sign in ((begun.laid_to, 1.0), (begun.laid_from, -1.0)):
        told = effort([entry for entry in one.source.counting if entry.at <= until], until)
        for mother in begun.mothers:
            for plant, days in told.get(mother, {}).items():
                found[plant] = found.get(plant, 0.0) + sign * days
    return {plant: days for plant, days in found.items() if days > 1e-6}


def _plant_row(plant: str, eggs: int, days: float) -> tuple[str, ...]:
    if days <= 0:
        return plant, str(eggs), "not known", "-"
    rate = laying_rate(eggs=eggs, female_days=days)
    return plant, str(eggs), f"{days:.1f}", f"{rate.value:.2f} ({rate.low:.2f} to {rate.high:.2f})"
