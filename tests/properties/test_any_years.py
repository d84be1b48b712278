"""Whatever a book holds, of whatever years, by whatever clock: checks, forecasts and exports are
reckoned, and nothing raises."""

from __future__ import annotations

import contextlib
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds import Refused, open_book
from rounds.daybook import Daybook
from rounds.entries import codec
from rounds.entries.base import Entry
from rounds.exchange.exports import EXPORTS
from tests.bench.strategies import histories

FIRST = datetime(2000, 1, 1, tzinfo=UTC)
SPAN = timedelta(days=36_524)  # up to the end of 2099
instants = st.floats(0, 1).map(lambda share: FIRST + share * SPAN)


@st.composite
def of_any_years(draw: st.DrawFn) -> list[Entry]:
    """Any entries, each in a year of its own."""
    return [
        msgspec.structs.replace(entry, at=(at := draw(instants)), logged=at)
        for entry in draw(histories(most=25))
    ]


@settings(max_examples=40, deadline=None)
@given(of_any_years(), instants)
def test_a_book_of_any_years_opens_at_any_clock(said: list[Entry], now: datetime) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book"
        Daybook.open(path, "aaaa1111").append_many([codec.write(entry) for entry in said])
        book = open_book(path, keeper="KM", clock=lambda: now, zone=ZoneInfo("Europe/Paris"))
        book.due(within=timedelta(days=2))
        book.forecasts()
        book.kept_stems()
        book.supplies()
        book.round_plan(20)
        book.sheet(now + timedelta(days=3))
        for name, export in EXPORTS.items():
            with contextlib.suppress(Refused):
                book.export(name, Path(folder) / f"out-{name}{export.endings[0]}")
