"""The occurrences: founders as wild, all that was laid, hatched and reared on the bench as captive.

A captive animal's row has no coordinates: it stands on a bench because somebody brought its mother
there, and no map should show it as living there.
"""

from __future__ import annotations

import json
import uuid
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import chain, takewhile
from typing import Any

from msgspec.structs import replace

from rounds import late
from rounds.bench.codes import members
from rounds.bench.mates import WILD, not_seen_to_couple
from rounds.bench.old_records import is_wild
from rounds.bench.state import Bench
from rounds.bench.taxon_names import OPEN_NAMES, identification, is_determined, is_plain
from rounds.entries import registry as k
from rounds.entries.arrivals import HIDDEN_ON_STEMS
from rounds.entries.base import Entry
from rounds.entries.registry import Taxon
from rounds.entries.wording import saying
from rounds.exchange.archive import terms as t
from rounds.exchange.archive.identity import lines_of_records
from rounds.exchange.source import LISTED, Source
from rounds.grouping import grouped
from rounds.tallies.host_evidence import Evidence
from rounds.tallies.rearing import parents_of
from rounds.tallies.stood_before import StoodBefore

Row = dict[str, str | int | float]
IN_CAPTIVITY = "in captivity"
# Of a mother of whom an old table says no more than her code.
WHERE_FROM_NOT_SAID = "mother of broods in older records; where from is not said"


def name_of(kind: str, code: str) -> str:
    """A name that is the same at every export and on every laptop: of an entry, an event, a
    specimen."""
    return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'urn:x-rounds:{kind}:{code}')}"


EvidenceByEntry = Mapping[str, Sequence[Evidence]]


def evidence_by_entry(source: Source) -> EvidenceByEntry:
    """The evidence of hosts, by the entry that gave it."""
    return grouped((evidence.entry, evidence) for evidence in source.tallies.evidence)


def occurrences(
    source: Source, evidence: EvidenceByEntry, *, wild_only: bool = False
) -> Iterator[tuple[Row, Entry]]:
    """Every occurrence with the entry that told it, in the order in which they happened; of
    specimens kept together one each.

    Args:
        wild_only: only animals as they were found in the wild; one that was kept as it was caught
            is a specimen and not told of once more as it was seen.
    """
    lines = lines_of_records(source.entries, source.counting)
    kept = _kept_as_caught(source) if wild_only else Counter[str]()
    stood = {one.line: one for one in source.desk.reading.went_by(StoodBefore)}
    for line in source.counted("lines looked through", source.counting):
        make = _ROWS.get(type(line))
        if make is None:
            continue
        before = stood.get(line.id) or StoodBefore(line.id)
        entry = replace(line, **before.meant)
        row = make(_Told(source, before, lines), entry)
        if row is not None and (_is_wild(row) or not wild_only):
            if entry.id in kept:  # each stands as a specimen
                row["individualCount"] = int(row["individualCount"]) - kept[entry.id]
                if not row["individualCount"]:
                    continue
            told_by = chain.from_iterable(
                evidence.get(line, ()) for line in (entry.id, *_catches_of(source, entry))
            )
            row |= {"associatedTaxa": row.get("associatedTaxa") or associated_taxa(told_by)}
            for one in _one_by_one(row, entry):
                yield one, entry


def _catches_of(source: Source, entry: Entry) -> list[str]:
    """Of specimens that were kept as they were caught the lines of their catch."""
    if not isinstance(entry, k.Preserved):
        return []
    caught = _as_caught(source.bench, source.whose(entry), source.stage_of(entry))
    return [catch.id for catch in caught]


def _kept_as_caught(source: Source) -> Counter[str]:
    """By line of a catch how many of those were kept as specimens as they were caught; of several
    catches that nobody can tell apart, of the first."""
    caught = {
        entry.id: entry.number if isinstance(entry, k.Stocked) else 1
        for entry in source.counting
        if isinstance(entry, k.FounderIntake | k.Stocked)
    }
    kept: Counter[str] = Counter()
    for entry in source.counting:
        left = entry.number if isinstance(entry, k.Preserved) else 0
        for line in _catches_of(source, entry):
            share = max(0, min(left, caught.get(line, 0) - kept[line]))
            kept[line] += share
            left -= share
    return kept


def _is_wild(row: Row) -> bool:
    is_said = row.get("eventRemarks") != WHERE_FROM_NOT_SAID
    return is_said and row.get("degreeOfEstablishment") not in t.NOT_WILD


_OF_SPECIMENS = frozenset({"basisOfRecord", "vitality", "disposition", "institutionCode"})


def _one_by_one(row: Row, entry: Entry) -> Iterator[Row]:
    """A row a specimen with its own catalogue number; the first keeps the name of the record."""
    if not isinstance(entry, k.Preserved | k.Parasitoid) or "disposition" not in row:
        yield row
        return
    for position, number in enumerate(entry.kept_numbers, 1):
        name = row["occurrenceID"]
        yield row | {
            "occurrenceID": name if position == 1 else name_of("specimen", f"{name}#{position}"),
            "individualCount": 1,
            "catalogNumber": number,
        }
    if others := entry.number - len(entry.kept_numbers):
        yield {name: value for name, value in row.items() if name not in _OF_SPECIMENS} | {
            "basisOfRecord": t.LIVING,
            "vitality": "alive",
            "occurrenceID": name_of("specimen", f"{row['occurrenceID']}#others"),
            "individualCount": others,
        }


def associated_taxa(evidence: Iterable[Evidence]) -> str:
    """Plants with their grade of evidence: captive and wild ones never look alike."""
    return LISTED.join(pair(evidence_words(one), one.plant) for one in evidence)


def pair(relation: str, name: str) -> str:
    """A relation and what it is to, as Darwin Core lists them: two strings of JSON, with no sign
    that parts the list in them."""
    return ":".join(
        json.dumps(one, ensure_ascii=False).replace("|", "\\u007c") for one in (relation, name)
    )


def evidence_words(evidence: Evidence) -> str:
    """The grade in words: ``laid on, in captivity``, ``larva found on, in the wild``."""
    where = "in the wild" if evidence.field else IN_CAPTIVITY
    several = "" if evidence.alone else ", one of several plants there"
    grade = {"pupated": "fed on and pupated"}.get(evidence.grade, evidence.grade)
    return f"{grade}, {where}{several}"


def _identified(taxon: str) -> str:
    """How sure the name is."""
    several = len(members(taxon))
    number = {2: "two"}.get(several, str(several))
    if several > 1:
        return f"one of {number} species: {taxon}, not known which"
    return "name as the keeper has it"


def _organism(source: Source, code: str) -> str:
    """The name of a founder or brood, whose code is its own in this book alone."""
    return name_of("organism", f"{source.book}:{code}")


def _parents(source: Source, codes: Sequence[str], of: str) -> list[str]:
    """Mothers, or fathers of a brood; of several it is not known which was one animal's, nor of one
    who only stood with its mothers whether he is it."""
    relation = "offspring of" if len(codes) == 1 else "offspring of one of several"
    if len(codes) == 1 and {*codes} & not_seen_to_couple(source.bench, of):
        if codes[0] in source.bench.broods[of].mothers:
            return []  # it is named as the brood of the mother
        relation = "perhaps offspring of"
    return [pair(relation, _organism(source, code)) for code in codes if code != WILD]


class _Told:
    """What a row is made from: the export, and what the bench before the entry says of it."""

    def __init__(self, source: Source, before: StoodBefore, lines: Mapping[str, str]) -> None:
        self.source = source
        self._lines = lines
        self.before = before
        self.bench = source.bench  # taxa and parents, as the keeper holds them now
        self.guard = source.guard

    def row(self, entry: Entry, **values: Any) -> Row:
        """What every row has, with the values that are given."""
        settings = self.bench.settings
        by = {
            "recordedBy": self.source.listed_names(entry.by),
            "occurrenceStatus": t.PRESENT,
            "vitality": "alive",
            "license": settings.get("licence", ""),
            "rightsHolder": self.source.holder,
            "ownerInstitutionCode": settings.get("organisation", ""),
            "identifiedBy": self.source.listed_names(self.source.determiner(entry)),
        }
        line = self._lines.get(entry.id, entry.id)
        found = {
            "occurrenceID": name_of("entry", line),
            "eventID": self.event(entry.id),
            "datasetName": settings.get("bench", ""),
        }
        return (
            found
            | by
            | t.ORDER
            | {name: value for name, value in values.items() if value not in (None, "")}
        )

    def event(self, line: str) -> str:
        """The name of what a line tells of."""
        return name_of("event", self._lines.get(line, line))

    def organism(self, code: str) -> Row:
        """Which animal or brood it is, of what species, and from which parents."""
        typed = self.bench.taxon_of(code)
        taxon = self.source.name_of(code)
        said = [identification(member, self.bench.taxa.values()) for member in members(taxon)]
        certain = len(said) == 1 and said[0].certain
        name = taxon if certain else self._shared(taxon)
        parents = parents_of(self.bench, code)
        return {
            "organismID": _organism(self.source, code),
            "organismName": code,
            "scientificName": name,
            "taxonRank": rank_of(name),
            "verbatimIdentification": "" if certain else typed,
            "identificationQualifier": said[0].qualifier if len(said) == 1 else "",
            "family": self._family(taxon),
            "associatedOrganisms": LISTED.join(
                dict.fromkeys(
                    (
                        *_parents(self.source, parents.mothers, ""),
                        *_parents(self.source, parents.fathers, code),
                    )
                )
            ),
            "identificationRemarks": (
                _identified(taxon) + ("" if typed == taxon else f"; typed as {typed}")
            ),
        }

    def _possible(self, taxon: str) -> list[Taxon | None]:
        """All that it may be, of one of several species (``A or B``) that of each; None for what is
        none of the keeper's taxa."""
        found: list[Taxon | None] = []
        for name in members(taxon):
            found += identification(name, self.bench.taxa.values()).taxa or [None]
        return found

    def _shared(self, taxon: str) -> str:
        """The name of the lowest rank that holds all that it may be, as Darwin Core asks of
        scientificName.

        Of what was not determined at all, as ``?``, that is the order, however few taxa the keeper
        has.
        """
        if not all(is_determined(name) for name in members(taxon)):
            return t.ORDER["order"]
        genera = {one.name.split()[0] if one else "" for one in self._possible(taxon)} - {""}
        genera |= {
            name.split()[0]
            for name in members(taxon)
            if name[:1].isupper() and not name.split()[0].endswith(".")
        }
        return genera.pop() if len(genera) == 1 else self._family(taxon) or t.ORDER["order"]

    def _family(self, taxon: str) -> str:
        """The family of all that it may be, where it is one and was said of each."""
        if not all(is_determined(name) for name in members(taxon)):
            return ""
        families = {one.family if one else "" for one in self._possible(taxon)}
        return families.pop() if len(families) == 1 else ""

    def captive(self, code: str) -> Row:
        """How and where reared stock is: captive, on the bench, with where its founders came
        from."""
        guarded = self.guard.guards_code(code)
        places = dict.fromkeys(place.place for _, place in self.guard.origins(code) if place.place)
        return {
            "basisOfRecord": t.LIVING,
            "degreeOfEstablishment": t.CAPTIVE,
            "locality": IN_CAPTIVITY,
            "locationRemarks": f"founders from: {'; '.join(places)}" if places else "",
            "informationWithheld": self.guard.why(self.bench.taxon_of(code)) if guarded else "",
            "dataGeneralizations": "places of origin left out" if guarded else "",
        }

    def reared(self, entry: Entry, code: str, **values: Any) -> Row:
        """A row of reared stock: which animal or brood it is, and how and where it lives."""
        return self.row(entry, **values) | self.organism(code) | self.captive(code)

    def brood_of(self, entry: Any) -> str:
        """The brood that an entry is about; where it moved none on record, that of the stage's
        animals there."""
        return self.source.whose(entry) or next(iter(self.before.broods), "")


_UNINOMIAL = late.pattern(r"[A-Z][a-z]+(?:-[a-z]+)?")
_EPITHET = late.pattern(r"[a-z]{2,}(?:-[a-z]{2,})*")


def rank_of(name: str) -> str:
    """The rank of a scientific name, as its form says; empty where it does not: of what is no
    plain name of one, two or three words with its authors behind it."""
    first, *rest = name.split() or [""]
    if name == t.ORDER["order"]:
        return "order"
    epithets = list(takewhile(_EPITHET.fullmatch, rest))
    behind = rest[len(epithets) :]
    if not _UNINOMIAL.fullmatch(first) or not is_plain(behind) or OPEN_NAMES.intersection(rest):
        return ""
    if first.endswith("idae"):
        return "" if rest else "family"
    return {0: "" if behind else "genus", 1: "species", 2: "subspecies"}.get(len(epithets), "")


def iso(at: datetime) -> str:
    """An instant to the minute, ISO 8601 with its offset."""
    return at.isoformat(timespec="minutes")


def caught_on(at: datetime) -> str:
    """When an animal was caught: the day alone where it is noon sharp, as a day typed without an
    hour is kept."""
    return at.date().isoformat() if (at.hour, at.minute, at.second) == (12, 0, 0) else iso(at)


def interval(since: datetime | None, until: datetime) -> str:
    """An ISO 8601 interval, or the instant where nothing earlier is known."""
    return f"{iso(since)}/{iso(until)}" if since is not None and since < until else iso(until)


def _wild(told: _Told, founder: k.FounderIntake) -> Row:
    """How and where a founder was found: wild; its place as it may be told."""
    known = told.bench.taxa.get(told.source.name_of(founder.code))
    # How the species came to live there is the keeper's to say: caught in the wild it may be native
    # or not, and 'uncertain' of the vocabulary says of its origin that it is obscure.
    means = known.establishment if known and is_wild(founder) else ""
    place = told.guard.of_founder(founder)
    located = place.latitude is not None and place.longitude is not None
    row: Row = {
        "establishmentMeans": means,
        "degreeOfEstablishment": t.NATIVE if means in t.NATIVE_MEANS else "",
        "recordedBy": told.source.listed_names(founder.collector or founder.by),
        "country": place.country,
        "stateProvince": place.province,
        "locality": place.place,
        "informationWithheld": place.withheld,
        "dataGeneralizations": place.generalised,
        "decimalLatitude": _or_empty(place.latitude),
        "decimalLongitude": _or_empty(place.longitude),
        "geodeticDatum": t.DATUM if located else "",
        "coordinateUncertaintyInMeters": _or_empty(place.uncertainty_m),
        "coordinatePrecision": _or_empty(place.grid_degrees),
        "eventRemarks": (
            "wild, taken in to be bred from" if is_wild(founder) else WHERE_FROM_NOT_SAID
        ),
    }
    if founder.caught is not None:
        return row | {"eventDate": caught_on(founder.caught)}
    return row | {
        "eventDate": "",
        "verbatimEventDate": f"not said; on or before {founder.at:%Y-%m-%d}",
    }


def _or_empty(value: float | None) -> str | float:
    return "" if value is None else value


def _founder(told: _Told, entry: k.FounderIntake) -> Row:
    where = _wild(told, entry)
    return (
        told.row(
            entry,
            basisOfRecord=t.HUMAN_OBSERVATION,
            individualCount=1,
            sex=entry.sex,
            lifeStage=entry.stage,
            occurrenceRemarks=f"wear: {entry.wear}" if entry.wear else "",
        )
        | told.organism(entry.code)
        | where
    )


def _eggs(told: _Told, entry: k.Searched) -> Row | None:
    """Eggs found: laid by captive females since the search before."""
    if told.before.until is None:
        return None
    return told.reared(
        entry,
        entry.brood,
        individualCount=entry.found,
        lifeStage="egg",
        vitality="notAssessed",
        eventDate=interval(told.before.since, told.before.until),
        samplingEffort=(
            f"searched with {entry.aid}{f', {entry.minutes:g} min' if entry.minutes else ''}"
        ),
        occurrenceRemarks=f"found on: {entry.where}" if entry.where else "",
    )


def _grown(told: _Told, entry: Any) -> Row:
    """Animals that reached a stage: when it was seen, or since the last look where it was
    inferred."""
    instar = f"instar {entry.instar}" if isinstance(entry, k.Moulted) else ""
    evidence = {
        "inferred": "inferred from shells, frass or nibbling",
        "not dated": "some time in that span",
    }.get(entry.evidence, "")
    crippled = (
        f"{entry.crippled} crippled" if isinstance(entry, k.Emerged) and entry.crippled else ""
    )
    return told.reared(
        entry,
        told.brood_of(entry),
        individualCount=entry.number,
        sex=getattr(entry, "sex", ""),
        lifeStage=entry.grows_to,
        eventDate=interval(told.before.since, entry.at),
        occurrenceRemarks="; ".join(filter(None, (entry.what, instar, evidence, crippled))),
    )


def _as_caught(bench: Bench, codes: str, stage: str | None) -> list[k.FounderIntake]:
    """The founders that a line's animals are, all in the stage in which they were caught; none
    where one of them may be reared."""
    found: list[k.FounderIntake | None] = []
    for code in members(codes):
        founder = bench.founders.get(code)
        found += bench.catches.get(code, []) if founder is None else [founder]
        found += [] if founder or code in bench.catches else [None]
    caught = [one for one in found if one is not None and one.stage == stage]
    return caught if len(caught) == len(found) else []


def _agreed(rows: Iterable[Row]) -> Row:
    """What the records of several have in common; empty where they differ."""
    first, *others = rows
    return {
        name: value if all(other.get(name) == value for other in others) else ""
        for name, value in first.items()
    }


def _preserved(told: _Told, entry: k.Preserved) -> Row:
    brood = told.source.whose(entry)
    stage = told.source.stage_of(entry)
    wild = _as_caught(told.bench, brood, stage)
    row = told.row(
        entry,
        lifeStage=stage,
        sex=told.source.sex_of(entry),
        institutionCode=entry.depository,
        disposition="in collection",
        eventDate=iso(entry.at),
        eventRemarks="" if wild else "reared",
        occurrenceRemarks="; ".join(
            filter(
                None,
                (
                    f"kept as a specimen on {entry.at:%Y-%m-%d}" if wild else "",
                    told.source.how_it_died(entry),
                ),
            )
        ),
    )
    # A wild-caught animal kept as it was caught is a record of its catch; what was reared is one of
    # the bench.
    place = _agreed(_wild(told, founder) for founder in wild) if wild else told.captive(brood)
    if events := {told.event(founder.id) for founder in wild}:
        row["eventID"] = events.pop() if len(events) == 1 else row["eventID"]
    return row | told.organism(brood) | place | {"basisOfRecord": t.PRESERVED, "vitality": "dead"}


def _parasitoid(told: _Told, entry: k.Parasitoid) -> Row | None:
    """A record of its own; one that nobody named is none."""
    if not entry.taxon:
        return None
    host = told.bench.taxon_of(entry.brood) if entry.brood else ""
    row = told.row(
        entry,
        individualCount=entry.number,
        institutionCode=entry.depository,
        eventDate=iso(entry.at),
        occurrenceRemarks=saying(entry),
        scientificName=entry.taxon,
        taxonRank="" if entry.taxon[:1].islower() else rank_of(entry.taxon),
    )
    kept = (
        {"basisOfRecord": t.PRESERVED, "vitality": "dead", "disposition": "in collection"}
        if entry.is_kept
        else {}
    )
    order = {"class": "", "order": ""}  # a wasp, a fly or a worm: the name alone says it
    of_host = {"associatedTaxa": pair("parasitoid of", host)} if host else {}
    return row | told.captive(entry.brood) | order | of_host | kept


def _released(told: _Told, entry: k.Released) -> Row | None:
    brood = told.source.whose(entry)
    if _as_caught(told.bench, brood, "adult"):
        return None  # she is where she was: her catch is her record
    row = told.reared(
        entry,
        brood,
        individualCount=entry.number,
        lifeStage=told.source.stage_of(entry),
        sex=told.source.sex_of(entry),
        eventDate=iso(entry.at),
    )
    return row | {
        "basisOfRecord": t.HUMAN_OBSERVATION,
        "degreeOfEstablishment": t.RELEASED,
        "locality": entry.place,
        "eventRemarks": "reared, then let go",
    }


def _stocked(told: _Told, entry: k.Stocked) -> Row:
    hidden = told.before.stems
    remarks = f"stock from outside: {entry.origin}" if entry.origin else "stock put in"
    if hidden:
        where = " and ".join(f"{plant} from {source}" for plant, source in hidden)
        remarks = f"hidden on kept stems of {where}, known by {entry.at.date().isoformat()}"
    elif entry.origin == HIDDEN_ON_STEMS:
        remarks = "hidden on kept stems"
    catch = entry.catch(told.bench.taxon_of(entry.brood))
    place: Row = (
        _wild(told, catch) | {"basisOfRecord": t.HUMAN_OBSERVATION}
        if catch
        else told.captive(entry.brood)
    )
    return (
        told.row(
            entry,
            individualCount=entry.number,
            lifeStage=entry.stage,
            sex=entry.sex,
            eventDate=interval(told.before.since, told.before.until or entry.at),
            occurrenceRemarks="" if catch else remarks,
        )
        | told.organism(entry.brood)
        | place
    )


_ROWS: Mapping[type[Entry], Callable[[_Told, Any], Row | None]] = {
    k.FounderIntake: _founder,
    k.Stocked: _stocked,
    k.Searched: _eggs,
    **dict.fromkeys((k.Hatched, k.Moulted, k.Pupated, k.Emerged), _grown),
    k.Preserved: _preserved,
    k.Released: _released,
    k.Parasitoid: _parasitoid,
}
