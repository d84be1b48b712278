"""Measurements and facts beside the occurrences: instar, evidence of hosts, effort, permits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rounds.bench.plurals import count
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.exchange.archive.occurrences import (
    IN_CAPTIVITY,
    EvidenceByEntry,
    Row,
    evidence_words,
    iso,
    name_of,
)
from rounds.exchange.source import Source
from rounds.tallies.female_days import effort


class Measurements:
    """Knows what was measured beside each entry's occurrence."""

    def __init__(self, source: Source, evidence: EvidenceByEntry) -> None:
        self._source = source
        self._evidence = evidence
        self._effort = effort(source.tallies.on_hosts(source.moment.now))
        self._first_emergence: dict[str, str] = {}  # by brood: the entry
        for entry in source.counting:
            if isinstance(entry, k.Emerged):
                self._first_emergence.setdefault(entry.brood, entry.id)

    def of(self, entry: Entry) -> Iterator[Row]:
        """The measurements of one entry's occurrence."""
        result = (
            *self._told(entry),
            *self._hosts(entry),
            *self._efforts(entry),
            *self._permit(entry),
        )
        for number, measured in enumerate(result, start=1):
            measured["measurementID"] = f"{name_of('entry', entry.id)}#{number}"
            measured["measurementDeterminedBy"] = self._source.listed_names(entry.by)
            measured["measurementDeterminedDate"] = iso(entry.at)
            yield measured

    def _told(self, entry: Entry) -> Iterator[Row]:
        """What the entry itself says."""
        if isinstance(entry, k.Moulted):
            yield _fact("larval instar", entry.instar)
        if isinstance(entry, k.Hatched | k.Moulted | k.Pupated | k.Emerged):
            yield _fact(
                "evidence",
                entry.evidence,
                remarks="seen, or inferred from shells, frass or nibbling",
            )
        if isinstance(entry, k.Emerged) and entry.crippled:
            yield _fact("adults with wings that failed", entry.crippled)
        if isinstance(entry, k.Searched):
            yield _fact("search aid", entry.aid)
            if entry.minutes is not None:
                yield _fact("search time", entry.minutes, "min")
        if isinstance(entry, k.FounderIntake):
            if entry.wear:
                yield _fact("wing wear", entry.wear)
            if entry.inspected:
                yield _fact("egg parasitoids riding on her", entry.inspected)

    def _hosts(self, entry: Entry) -> Iterator[Row]:
        for evidence in self._evidence.get(entry.id, ()):
            if evidence.field:
                method = "found in the wild"
            else:
                method = f"{IN_CAPTIVITY}; the keeper chose the plant"
            yield _fact(
                f"host plant: {evidence_words(evidence)}",
                evidence.plant,
                method=method,
                remarks=count(evidence.number, "animal"),
            )

    def _efforts(self, entry: Entry) -> Iterator[Row]:
        """Effort stands with the founder, or with a brood's first emergence; none laid is told by
        it too."""
        if isinstance(entry, k.FounderIntake):
            code = entry.code
        elif isinstance(entry, k.Emerged) and self._first_emergence.get(entry.brood) == entry.id:
            code = entry.brood
        else:
            return
        for plant, days in sorted(self._effort.get(code, {}).items()):
            yield _fact(
                f"laying effort, {IN_CAPTIVITY}, on {plant}",
                round(days, 3),
                "female-day",
                method=(
                    "one living female together with the plant for 24 h in a laying or trial"
                    " container, not in the dark"
                ),
            )

    def _permit(self, entry: Entry) -> Iterator[Row]:
        bench = self._source.bench
        permit = bench.permits.get(entry.permit) if isinstance(entry, k.FounderIntake) else None
        if permit is not None:
            body = f"issued by {permit.body}" if permit.body else ""
            yield _fact("collecting permit", permit.number, remarks=body)


def _fact(kind: str, value: Any, unit: str = "", method: str = "", remarks: str = "") -> Row:
    found: Mapping[str, Any] = {
        "measurementType": kind,
        "measurementValue": value,
        "measurementUnit": unit,
        "measurementMethod": method,
        "measurementRemarks": remarks,
    }
    return {name: told for name, told in found.items() if told != ""}
