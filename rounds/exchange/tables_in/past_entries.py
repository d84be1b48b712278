"""Lines of years gone by, built and held against a bench of their own.

Nothing that stands today is among it: only the names and rules that are known now. A line has an
id of what it says, so that the same table taken in again makes the same lines.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Container
from datetime import datetime, tzinfo
from typing import Any

import msgspec

from rounds.bench.folding import apply
from rounds.bench.folding.cups_set_up_twice import with_cups
from rounds.bench.instants import impossible, is_possible
from rounds.bench.state import Bench
from rounds.daybook import id_of_content
from rounds.entries.base import Entry
from rounds.entries.entry_factory import InvalidField, build
from rounds.entries.registry import Moved, SetUp
from rounds.entries.validation import refusal

OF_MOTHERS = "holding"  # the purpose of a container in which the mother of broods came in
BEFORE_BROODS = -20  # more than the lines that tell of her


class NotSo(ValueError):
    """What a line of the table says cannot have been so; the text is one line."""


class PastEntries:
    """The lines that a table becomes.

    Args:
        today: the bench as it stands; it is only read.
        tag: the mark of the table, part of each id.
        own: ids of lines of the book that are from this table; the codes in them are free for it.
        now, by, zone: when, by whom and in whose zone it is taken in.
    """

    def __init__(
        self,
        today: Bench,
        tag: str,
        own: Container[str],
        *,
        now: datetime,
        by: str,
        zone: tzinfo,
    ) -> None:
        self.bench = Bench().named_as(today)
        self.bench.broods = {
            code: begun for code, begun in today.broods.items() if begun.id not in own
        }
        self.bench.founders = {
            code: founder for code, founder in today.founders.items() if founder.id not in own
        }
        self.entries: list[Entry] = []
        self._tag, self._now, self._by, self._zone = tag, now, by, zone
        self._seen: Counter[bytes] = Counter()
        self._places: dict[tuple[datetime, str], int] = {}

    def codes(self) -> Collection[str]:
        """Every code of a founder, brood or container that is used so far."""
        bench = self.bench
        return {*bench.founders, *bench.broods, *bench.containers, *bench.closed}

    def say(self, kind: type[Entry], at: datetime, **fields: Any) -> Entry:
        """Add a line to what was.

        Raises:
            NotSo: it cannot be said, or cannot have been so.
        """
        if not is_possible(at):
            raise NotSo(impossible(at))
        said = {name: value for name, value in fields.items() if value not in (None, "", ())}
        content = msgspec.json.encode(
            [kind.__struct_config__.tag, at.timestamp(), said], order="sorted"
        )
        self._seen[content] += 1
        place = self._place(kind, at, said)
        at_ms = round(at.timestamp() * 1000) + place
        unique = content + str(self._seen[content]).encode()
        try:
            entry = build(
                kind,
                said,
                entry_id=id_of_content(at_ms, unique, self._tag),
                at=at.astimezone(self._zone),
                logged=self._now,
                by=self._by,
            )
        except InvalidField as misfit:
            raise NotSo(str(misfit)) from None
        line = refusal(self.bench, entry, self._now)
        if line:
            raise NotSo(line)
        entry = with_cups(self.bench, entry).knowing(self.bench)
        apply(self.bench, entry)
        self.entries.append(entry)
        return entry

    def _place(self, kind: type[Entry], at: datetime, said: dict[str, Any]) -> int:
        """Where a line stands among those of its instant: mothers before their broods, then each
        container as it is set up, then what happened there in the order of the table."""
        code = str(said.get("container", ""))
        if not code:
            return 0
        place = self._places.get((at, code), 1) + 1
        if kind is SetUp:
            place = BEFORE_BROODS if said["purpose"] == OF_MOTHERS else 1
        if kind is Moved:
            place = max(place, self._places.get((at, said["to"]), 1) + 1)
            self._places[at, said["to"]] = place
        self._places[at, code] = place
        return place
