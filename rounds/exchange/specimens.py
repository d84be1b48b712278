"""Specimens kept, one by one: archive, tables, pins and pages tell of each the same number and
days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from rounds.entries import registry as k
from rounds.entries.arrivals import HIDDEN_ON_STEMS
from rounds.entries.base import Sex, Stage
from rounds.exchange.source import Source
from rounds.tallies.interchangeable import Interchangeable
from rounds.tallies.rearing import first_stages, reared


@dataclass(frozen=True, slots=True)
class Specimen:
    """One specimen: the line that kept it.

    Attributes:
        number: its own catalogue number; empty where none was given.
        code: the founder or brood that it is, or that a parasitoid came out of.
        stage: in which it was kept; of a parasitoid that of its host, None where nobody said it.
        how: from which stage it was reared; empty where it came in as it was kept.
        emerged: the first and the last instant at which it may have become an adult, seen here.
    """

    entry: k.Preserved | k.Parasitoid
    number: str
    code: str
    stage: Stage | None
    sex: Sex
    how: str
    emerged: tuple[datetime, datetime] | None = None


def specimens(source: Source) -> Iterator[Specimen]:
    """Every specimen kept, parasitoids too, in the order in which they were kept."""
    course = source.tallies.course
    stages = first_stages(course)
    stage: Stage | None
    for entry in source.counting:
        if isinstance(entry, k.Preserved):
            code = source.whose(entry)
            stage = source.stage_of(entry) or "adult"
            sex = source.sex_of(entry)
            how = reared(stages, code, stage)
            emerged = _emerged(source.interchangeable, entry) if how and stage == "adult" else None
        elif isinstance(entry, k.Parasitoid) and entry.is_kept:
            code, stage, sex = entry.brood, entry.stage, ""
            how, emerged = reared(stages, code, stage or "adult"), (entry.at, entry.at)
        else:
            continue
        for number in entry.kept_numbers:
            yield Specimen(entry, number, code, stage, sex, how, emerged)


def origins_said(source: Source) -> dict[str, str]:
    """By brood where its stock is from, as it was said and may be told."""
    said: dict[str, dict[str, None]] = {}
    for entry in source.counting:
        if isinstance(entry, k.Stocked) and entry.origin not in ("", HIDDEN_ON_STEMS):
            said.setdefault(entry.brood, {})[entry.origin] = None
    return {code: "; ".join(origins) for code, origins in said.items()}


def places_caught(
    source: Source, code: str, said: Mapping[str, str]
) -> tuple[str, datetime | None]:
    """Where the wild forebears of a founder or brood were caught, as it may be told, and when; of
    stock without a catch from where it was said to be."""
    origins = source.guard.origins(code)
    places = dict.fromkeys(place.place or place.withheld for _, place in origins)
    days = {founder.caught for founder, _ in origins}
    where = "; ".join(filter(None, places)) or said.get(code, "")
    return where, days.pop() if len(days) == 1 else None


def _emerged(known: Interchangeable, entry: k.Preserved) -> tuple[datetime, datetime] | None:
    """Between when those emerged that it may be; None where that is not known of one of them."""
    cohorts = known.of_line(entry.id)
    if not all(cohort.begin_known for cohort in cohorts):
        return None
    begun = [cohort.begun for cohort in cohorts]
    return (min(begun), max(begun)) if begun else None
