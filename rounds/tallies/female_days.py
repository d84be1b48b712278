"""Laying by host: female-days that add themselves up from the entries, and the eggs found.

A female-day is one living, warm female in a laying or trial container together with one host for 24
hours. Hours in the dark, in holding, dead, released or without a host do not count; those without a
host do for a species that lays without a plant. Where several hosts stand side by side each gets
the time, for each was offered. Eggs that showed later on held sprigs count where the sprigs had
stood.

Time is effort only once somebody looked for eggs: a search counts the time of the stems that it
looked at, in the container or after they were taken out. What came after the last search, and the
time of stems that nobody searched, wait beside it. Searches find a share of what is there: what
females laid is told by the days times that share, so that hosts searched otherwise compare.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import datetime
from math import inf

from msgspec import Struct, field
from msgspec.structs import replace

from rounds.bench.codes import members
from rounds.bench.folding.female_days import stood_with
from rounds.bench.movements import Adults, AdultsWithStems, Stems
from rounds.bench.state import Bench
from rounds.biology.laying import Rate, ShareFound, laying_rate
from rounds.grouping import grouped, summed
from rounds.tallies.detection import SharesFound
from rounds.tallies.egg_finds import NO_HOST, EggSearch, KeptStemsSearched

NO_PLANT = "no plant"
MAX_COUNTED = 200  # stretches of a part that stay open to doubt: no stems are kept for longer
LEAST_TIME = 0.05  # female-days that are told as 0.1: of less no rate is made


class StemSpan(Struct):
    """Time with the same stems: its female-days by founder or brood code, and between when."""

    begun: datetime
    ended: datetime
    by_code: dict[str, float] = field(default_factory=dict)


class HostShare(Struct):
    """What the females of one container add to a host's sum: their female-days and eggs, and
    between when.

    Females that stood there together at some time, also by way of others, are one part; those that
    came after all of them were gone are another. ``by_code`` are the female-days by founder or
    brood code; ``waiting`` is the time that no search looked at; ``unsaid`` are eggs found where
    several plants stood, nobody knows on which; ``either`` those that may be of another species,
    and ``doubtful`` the time in which either were laid, which is in no rate; ``counted`` is
    the newest time that is in a rate, ``doubted`` what eggs that showed later took out of it.
    ``beside`` are the females of other species that stood there at the same time. ``share_found``
    is how much of the eggs laid in the days the searches found, None where none told of any, as
    uncertain as ``share_counted`` eggs leave it;
    ``most_counted`` how many stretches of time are remembered.
    """

    container: str
    female_days: float = 0.0
    eggs: int = 0
    searches: int = 0
    begun: datetime | None = None
    ended: datetime | None = None
    codes: set[str] = field(default_factory=set)
    most: int = 0
    by_code: dict[str, float] = field(default_factory=dict)
    waiting: list[StemSpan] = field(default_factory=list)
    unsaid: int = 0
    either: int = 0
    doubtful: float = 0.0
    counted: list[StemSpan] = field(default_factory=list)
    doubted: list[StemSpan] = field(default_factory=list)
    beside: set[str] = field(default_factory=set)
    share_found: float | None = None
    share_counted: float = inf
    most_counted: int = MAX_COUNTED

    @property
    def alone(self) -> str:
        """The one female that all of it is of; empty where there was more than one, or one of
        another species beside her."""
        return (
            next(iter(self.codes))
            if self.most == 1 and len(self.codes) == 1 and not self.beside
            else ""
        )

    @property
    def not_searched(self) -> float:
        """Female-days that no search looked at."""
        return sum(days for stem_span in self.waiting for days in stem_span.by_code.values())

    @property
    def rate(self) -> Rate | None:
        """Eggs found per female-day, as ``_rate`` has it."""
        return _rate(self)

    def count(self, spans: list[StemSpan]) -> None:
        """A search looked at the stems of these."""
        for one in spans:
            for code, days in one.by_code.items():
                self.female_days += days
                self.by_code[code] = self.by_code.get(code, 0.0) + days
            self.begun = min(self.begun or one.begun, one.begun)
            self.ended = max(self.ended or one.ended, one.ended)
        looked_at = {id(span) for span in spans}
        self.waiting = [stem_span for stem_span in self.waiting if id(stem_span) not in looked_at]
        self.counted = [*self.counted, *spans][-self.most_counted :]

    def doubt(self, spans: list[StemSpan]) -> None:
        """What a search found may be of another species, or on another plant: the time that it
        looked at is of no use for a rate."""
        meant = {id(span) for span in spans}
        spans = [stem_span for stem_span in self.counted if id(stem_span) in meant]
        for one in spans:
            for code, days in one.by_code.items():
                self.female_days = max(0.0, self.female_days - days)
                self.by_code[code] = max(0.0, self.by_code[code] - days)
                self.doubtful += days
        self.counted = [one for one in self.counted if id(one) not in meant]
        self.doubted = [*self.doubted, *spans][-self.most_counted :]


class OnHost(Struct):
    """One species on one host: the parts of the sum, by container.

    ``sex_not_known`` are days of adults of which nobody knows whether they are females: they are in
    no sum. Where it is ``in_doubt`` these are eggs that may be of females of several species; a
    female entered as ``A or B`` has her own beside it. ``share_found`` is how much of the eggs laid
    in the days the searches found, None where none told of any; as uncertain as ``share_counted``
    eggs leave it.
    """

    taxon: str
    plant: str
    parts: list[HostShare] = field(default_factory=list)
    sex_not_known: float = 0.0
    in_doubt: bool = False
    share_found: float | None = None
    share_counted: float = inf

    @property
    def female_days(self) -> float:
        """The sum of the parts."""
        return sum(part.female_days for part in self.parts)

    @property
    def eggs(self) -> int:
        """Eggs found on it."""
        return sum(part.eggs for part in self.parts)

    @property
    def females(self) -> int:
        """How many females stood with it in time that counts; of those that nobody can tell apart
        no more than stood there at once."""
        codes: set[str] = set()
        alike = 0
        for part in self.parts:
            theirs = {one for code, days in part.by_code.items() if days for one in members(code)}
            codes |= theirs
            alike += max(0, part.most - len(theirs)) if theirs else 0
        return len(codes) + alike

    @property
    def searches(self) -> int:
        """How often it was searched."""
        return sum(part.searches for part in self.parts)

    @property
    def unsaid(self) -> int:
        """Eggs found while it stood with others, nobody knows on which."""
        return sum(part.unsaid for part in self.parts)

    @property
    def either(self) -> int:
        """Eggs found that may be of this species or of another."""
        return sum(part.either for part in self.parts)

    @property
    def not_searched(self) -> float:
        """Female-days that no search looked at."""
        return sum(part.not_searched for part in self.parts)

    @property
    def found_days(self) -> float:
        """The female-days, each times the share of its eggs that the searches found."""
        return self.female_days * (self.share_found or 1.0)

    @property
    def found(self) -> ShareFound:
        """The share of its eggs that the searches found, and how uncertain it is; all where no
        search tells."""
        return ShareFound(self.share_found or 1.0, self.share_counted)

    @property
    def rate(self) -> Rate | None:
        """Eggs found per female-day, as ``_rate`` has it."""
        return _rate(self)

    @property
    def has_rate(self) -> bool:
        """Whether there is a ``rate``, which takes longer to reckon."""
        return _has_rate(self)

    @property
    def laid(self) -> Rate | None:
        """Eggs laid per female-day, by those found and the share that searches find, with limits;
        None as for ``rate``."""
        if not self.has_rate or not self.female_days:
            return None
        return laying_rate(eggs=self.eggs, female_days=self.female_days, found=self.found)


def _has_rate(on: HostShare | OnHost) -> bool:
    """Whether there is time that is worth a figure, and no egg that may be on another plant
    instead."""
    return on.female_days >= LEAST_TIME and bool(on.eggs or not (on.unsaid or on.either))


def _rate(on: HostShare | OnHost) -> Rate | None:
    """Eggs found per female-day, with limits; None where nothing tells one."""
    if not _has_rate(on):
        return None
    return laying_rate(eggs=on.eggs, female_days=on.female_days)


def _say_share(on: HostShare | OnHost, found: ShareFound | None) -> None:
    if found is not None:
        on.share_found, on.share_counted = found.share, found.counted
    else:
        on.share_found, on.share_counted = None, inf


class FemaleDays:
    """Adds up who stood with which plant, and the eggs found.

    Args:
        free: the species that lay without a plant.
        most_counted: how many stretches of time in a rate are remembered of each part.
    """

    def __init__(self, free: Collection[str] = (), most_counted: int = MAX_COUNTED) -> None:
        self._free = free
        self._most = most_counted
        self._found: dict[tuple[str, str, bool], OnHost] = {}
        self._parts: dict[str, list[tuple[int, OnHost, HostShare]]] = {}  # by container

    def take(self, one: AdultsWithStems | EggSearch) -> None:
        """Add a span of time, or a search."""
        if isinstance(one, AdultsWithStems):
            self._stood(one)
        elif one.of_kept:
            self._searched_kept(one)
        else:
            self._searched(one)

    def parts(self) -> Iterator[tuple[str, str, HostShare]]:
        """Every part with its species and plant."""
        for on_host in self._found.values():
            for part in on_host.parts:
                yield on_host.taxon, on_host.plant, part

    def on_hosts(
        self, bench: Bench, now: datetime, shares: SharesFound | None = None
    ) -> list[OnHost]:
        """Every species on every host that it was offered up to now, the most female-days first in
        each species.

        Args:
            shares: what was reckoned before of searches of this very bench.
        """
        known = FemaleDays(self._free, self._most)
        known._found = {key: _copied(host_share) for key, host_share in self._found.items()}
        for place, on_host in enumerate(known._found.values()):
            for part in on_host.parts:
                known._parts.setdefault(part.container, []).append((place, on_host, part))
        for span in still_standing(bench, now):
            known._stood(span)
        shares = shares or SharesFound(bench)
        for one in known._found.values():
            _say_share(one, shares.of_days(one.taxon, one.plant))
            for part in one.parts:
                _say_share(part, shares.of_days(one.taxon, one.plant, part.codes))
        return sorted(
            known._found.values(),
            key=lambda share: (share.taxon, -share.female_days, share.plant, share.in_doubt),
        )

    def _on(self, taxon: str, plant: str, *, in_doubt: bool = False) -> OnHost:
        return self._found.setdefault(
            (taxon, plant, in_doubt), OnHost(taxon, plant, in_doubt=in_doubt)
        )

    def _part(self, on_host: OnHost, container: str, codes: set[str]) -> HostShare:
        """The newest part of a container that any of these females shares, else a new one; without
        females its newest."""
        parts = self._parts.setdefault(container, [])
        for _, of, part in reversed(parts):
            if of is on_host and (not codes or not part.codes or part.codes & codes):
                part.codes |= codes
                return part
        on_host.parts.append(HostShare(container, codes=set(codes), most_counted=self._most))
        place = list(self._found).index((on_host.taxon, on_host.plant, on_host.in_doubt))
        parts.append((place, on_host, on_host.parts[-1]))
        parts.sort(key=lambda one: one[0])
        return on_host.parts[-1]

    def _stood(self, span: AdultsWithStems) -> None:
        there = by_taxon(span)
        for taxon, adults in there.items():
            females = [one for one in adults if one.female]
            beside = {
                code
                for other in there
                if other != taxon
                for one in there[other]
                if one.female
                for code in one.codes
            }
            codes = {code for one in females for code in one.codes}
            for plant in offered(span.stems, taxon, self._free):
                if females:
                    part = self._part(self._on(taxon, plant), span.container, codes)
                    part.most = max(part.most, sum(female.number for female in females))
                    part.beside |= beside
                    days = summed((one.brood, one.number * span.days) for one in females)
                    part.waiting.append(StemSpan(span.since, span.until, days))
                others = sum(adult.number for adult in adults if not adult.female)
                if others:
                    self._on(taxon, plant).sex_not_known += others * span.days

    def _searched(self, egg_search: EggSearch) -> None:
        looked_at = self._count_standing(egg_search)
        for taxon, eggs, codes in egg_search.found:
            plants = egg_search.offered or ((NO_PLANT,) if taxon in self._free else ())
            if looked_at and not eggs and not egg_search.plant and len(plants) > 1:
                continue
            plant = egg_search.plant or (plants[0] if len(plants) == 1 else NO_HOST)
            of = {whose for whose, other, _ in looked_at if other.codes & set(codes)}
            in_doubt = bool(eggs) and (len(of) > 1 or (len(members(taxon)) > 1 and taxon not in of))
            part = self._part(
                self._on(taxon, plant, in_doubt=in_doubt), egg_search.container, set(codes)
            )
            part.eggs += eggs
            part.searches += egg_search.is_search and not any(
                other is part for _, other, _ in looked_at
            )
            for whose, other, spans in looked_at:
                if whose in (of or (taxon, *members(taxon))):
                    other.unsaid += eggs if plant == NO_HOST else 0
                    other.either += eggs if in_doubt else 0
                    if eggs and (in_doubt or plant == NO_HOST):
                        other.doubt(spans)

    def _searched_kept(self, egg_search: EggSearch) -> None:
        looked_at = [
            found
            for stems in egg_search.kept
            for found in self._count_kept(stems, counts=not egg_search.confirms)
        ]
        for kept_eggs in egg_search.on_kept:
            theirs = [
                (taxon, part, spans)
                for taxon, part, spans in looked_at
                if taxon in (kept_eggs.taxon, *members(kept_eggs.taxon))
                and kept_eggs.source in ("", part.container)
            ]
            in_doubt = (
                bool(kept_eggs.eggs)
                and len(members(kept_eggs.taxon)) > 1
                and all(taxon != kept_eggs.taxon for taxon, _, _ in theirs)
            )
            on_host = self._on(kept_eggs.taxon, kept_eggs.plant or NO_HOST, in_doubt=in_doubt)
            part = self._part(
                on_host, kept_eggs.source or egg_search.container, set(kept_eggs.mothers)
            )
            part.eggs += kept_eggs.eggs
            part.searches += egg_search.is_search
            # on one of several plants, nobody knows which: none of them bore nothing
            if not kept_eggs.plant:
                for other in {
                    id(other): other for _, other, _ in theirs if other is not part
                }.values():
                    other.unsaid += kept_eggs.eggs
                    other.searches += egg_search.is_search
            for _, other, spans in theirs if kept_eggs.eggs else ():
                other.either += kept_eggs.eggs if in_doubt else 0
                if in_doubt or (not kept_eggs.plant and other is not part):
                    other.doubt(spans)

    def _count_standing(self, egg_search: EggSearch) -> list[tuple[str, HostShare, list[StemSpan]]]:
        """Count the time of the stems that a search looked at where they stand; the parts and
        times, by species."""
        looked_at, seen_again = [], {}
        for _, on_host, part in self._parts.get(egg_search.container, ()):
            plant = on_host.plant
            put_in = [stems.put_in for stems in egg_search.searched if stems.plant == plant]
            is_meant = bool(put_in) if egg_search.searched else egg_search.plant in ("", plant)
            counted = _since(put_in, part.waiting)
            if is_meant and egg_search.confirms:  # its sighting counted the time
                looked_at.append((on_host.taxon, part, part.counted))
            elif is_meant and counted:
                part.count(counted)
                part.searches += 1
                looked_at.append((on_host.taxon, part, counted))
            elif is_meant and (put_in or plant == NO_PLANT) and _since(put_in, part.counted[-1:]):
                seen_again[on_host.taxon, plant] = part
        # another look at time that is counted, where no females stood there since
        anew = {id(part) for _, part, _ in looked_at}
        for (taxon, plant), part in seen_again.items():
            if anew.isdisjoint(id(one) for one in self._found[taxon, plant, False].parts):
                part.searches += 1
                looked_at.append((taxon, part, []))
        return looked_at

    def _count_kept(
        self, stems: KeptStemsSearched, *, counts: bool
    ) -> list[tuple[str, HostShare, list[StemSpan]]]:
        """Count the time of stems that were searched, or showed their eggs, after they were taken
        out, unless a search counted it before; the parts and times."""
        looked_at = []
        for _, on_host, part in self._parts.get(stems.source, ()):
            if on_host.plant == stems.plant:
                if counts:
                    part.count([span for span in part.waiting if _stood_with(span, stems)])
                spans = (*part.counted, *part.doubted)
                meant = [span for span in spans if _stood_with(span, stems)]
                looked_at.append((on_host.taxon, part, meant))
        return [one for one in looked_at if one[2]]


def _since(put_in: list[datetime], spans: list[StemSpan]) -> list[StemSpan]:
    """The time with stems that were put in then; all of it where that is not said."""
    return [span for span in spans if not put_in or min(put_in) <= span.begun]


def _stood_with(span: StemSpan, stems: KeptStemsSearched) -> bool:
    """Whether that was time with these stems."""
    return stems.offered <= span.begun and span.ended <= stems.taken_out


def _copied(host_share: OnHost) -> OnHost:
    parts = [
        replace(
            part,
            codes=set(part.codes),
            beside=set(part.beside),
            by_code=dict(part.by_code),
            waiting=list(part.waiting),
        )
        for part in host_share.parts
    ]
    return replace(host_share, parts=parts)


def still_standing(bench: Bench, now: datetime) -> list[AdultsWithStems]:
    """The time since the last line that may have changed who stands with what."""
    found = [
        stood_with(bench, container, container.accounted or container.since, now)
        for container in bench.standing()
    ]
    return [
        adults_with_stems
        for adults_with_stems in found
        if adults_with_stems is not None and adults_with_stems.until > adults_with_stems.since
    ]


def by_taxon(span: AdultsWithStems) -> dict[str, list[Adults]]:
    """The adults of a span by species."""
    return grouped((adults.taxon, adults) for adults in span.adults)


def offered(stems: Iterable[Stems], taxon: str, free: Collection[str]) -> list[str]:
    """What females of a species may lay on there; empty where their hours do not count.

    Args:
        free: the species that lay without a plant.
    """
    return list(dict.fromkeys(stem.plant for stem in stems)) or (
        [NO_PLANT] if taxon in free else []
    )


def of_females(record: Iterable[OnHost], codes: Iterable[str]) -> list[OnHost]:
    """The same record, of the parts only in which any of these females had a share, with the share
    of the eggs that the searches of these found."""
    wanted = set(codes)
    found = []
    for on_host in record:
        parts = [part for part in on_host.parts if part.codes & wanted]
        if parts:
            of = OnHost(on_host.taxon, on_host.plant, parts)
            of.share_found, of.share_counted = on_host.share_found, on_host.share_counted
            if len(parts) < len(on_host.parts):
                of.share_found = _share_found(parts)
                of.share_counted = min(part.share_counted for part in parts)
            found.append(of)
    return found


def _share_found(parts: Iterable[HostShare]) -> float | None:
    told = [(one.female_days, one.share_found) for one in parts if one.share_found is not None]
    days = sum(of_part for of_part, _ in told)
    return sum(of_part * share for of_part, share in told) / days if days else None


def effort(record: Iterable[OnHost]) -> dict[str, dict[str, float]]:
    """Female-days that searches looked at by founder or brood code, then by plant."""
    found: dict[str, dict[str, float]] = {}
    for on_host in record:
        for part in on_host.parts:
            for code, days in part.by_code.items():
                by_plant = found.setdefault(code, {})
                by_plant[on_host.plant] = by_plant.get(on_host.plant, 0.0) + days
    return found
