"""The calendar, read back by an independent parser and held against RFC 5545 line by line."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import vobject

from rounds.app.desk import Desk
from rounds.entries import registry as k
from tests.exchange.conftest import HOSTILE, Told

PARIS = ZoneInfo("Europe/Paris")


def read(path: Path) -> list[Any]:
    """The events as the independent parser gives them."""
    return list(vobject.readOne(path.read_bytes().decode()).contents.get("vevent", []))


def titled(events: list[Any], words: str) -> Any:
    """The one event whose title has these words."""
    (found,) = [event for event in events if words in event.summary.value]
    return found


def test_each_line_is_as_the_standard_has_it(demo_desk: Desk, export: Callable[..., Path]) -> None:
    raw = export("ics", "due.ics", "--within", "30d").read_bytes()

    # RFC 5545 3.1: lines end in CRLF and have at most 75 octets without it; a folded line goes on with a space.
    assert raw.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert max(len(line) for line in raw.split(b"\r\n")) <= 75
    # RFC 5545 3.6, 3.6.1: what a calendar and each event must have.
    assert raw.count(b"\r\nVERSION:2.0\r\n") == 1
    assert raw.count(b"\r\nPRODID:") == 1
    for event in read(export("ics", "again.ics", "--within", "30d")):
        assert {"uid", "dtstamp", "dtstart", "dtend", "summary"} <= set(event.contents)
        assert event.dtend.value > event.dtstart.value


def test_a_deadline_stands_at_its_instant_and_warns_before(
    told: Told, export: Callable[..., Path]
) -> None:
    told.record(
        k.Permit,
        number="WP-118",
        body="county office",
        females=2,
        expires=told.clock.now + timedelta(days=5),
    )
    told.log("L2 set up laying")
    told.record(k.FounderIntake, container="L2", code="Q-1", taxon="Boloria dia", permit="WP-118")
    until = told.clock.now + timedelta(hours=48)
    told.record(k.ReleaseBy, container="L2", code="Q-1", until=until)
    told.record(
        k.LeaveBe,
        container="L2",
        until=told.clock.now + timedelta(hours=24),
        why="settling, in the dark; quiet",
    )

    events = read(export("ics", "due.ics"))

    free = titled(events, "Q-1 must be free by now")
    assert free.dtstart.value == until.replace(second=0)
    assert free.valarm.trigger.value == timedelta(hours=-2)
    assert "1 of 2 females" in free.description.value
    ends = titled(events, "permit WP-118 ends")
    assert "for the issuing body to say" in ends.description.value
    quiet = titled(events, "'do not disturb' ends")
    assert quiet.description.value == "settling, in the dark; quiet"


def test_a_second_export_carries_the_same_names_so_that_an_import_updates(
    told: Told, export: Callable[..., Path]
) -> None:
    told.log(
        "L2 set up laying", "L2 founder Q-1, Boloria dia female", "L2 host in violet leaf water"
    )
    told.record(k.ReleaseBy, container="L2", code="Q-1", until=told.clock.now + timedelta(hours=48))
    first = {event.uid.value: event for event in read(export("ics", "a.ics"))}
    told.on(minutes=10)
    told.record(k.ReleaseBy, container="L2", code="Q-1", until=told.clock.now + timedelta(hours=72))
    second = {event.uid.value: event for event in read(export("ics", "b.ics"))}

    assert len(first) == len(read(export("ics", "c.ics")))
    (uid,) = [name for name, event in first.items() if "must be free" in event.summary.value]
    assert second[uid].dtstart.value - first[uid].dtstart.value == timedelta(hours=24, minutes=10)
    assert int(second[uid].sequence.value) > int(first[uid].sequence.value)
    assert second[uid].dtstamp.value - first[uid].dtstamp.value == timedelta(minutes=10)
    assert first.keys() == second.keys()


@pytest.mark.parametrize(
    ("now", "utc_hour"),
    [  # The mornings after the clocks of Paris went on, on 29 March 2026, and back, on 25 October 2026.
        (datetime(2026, 3, 28, 20, 0, tzinfo=PARIS), 5),
        (datetime(2026, 10, 24, 20, 0, tzinfo=PARIS), 6),
    ],
)
def test_a_round_stays_at_its_local_hour_over_a_clock_change(
    told: Told, export: Callable[..., Path], now: datetime, utc_hour: int
) -> None:
    told.clock.now = now
    told.log(
        "L2 set up laying",
        "L2 founder Q-1, Boloria dia female",
        "L2 host in violet leaf water",
        "L2 looked as usual",
    )

    begins = [
        event.dtstart.value
        for event in read(export("ics", "due.ics"))
        if "morning round" in event.summary.value
    ]

    assert begins[0].astimezone(UTC).hour == utc_hour
    assert {at.astimezone(PARIS).strftime("%H:%M") for at in begins} == {"07:00"}


def test_hours_of_a_deadline_are_absolute_over_a_clock_change(
    told: Told, export: Callable[..., Path]
) -> None:
    told.clock.now = datetime(2026, 10, 24, 20, 0, tzinfo=PARIS)
    told.log("R2 set up rearing", "R2 3 larvae Boloria dia")
    told.record(
        k.LeaveBe,
        container="R2",
        until=(told.clock.now.astimezone(UTC) + timedelta(hours=24)).astimezone(PARIS),
    )

    quiet = titled(read(export("ics", "due.ics")), "'do not disturb' ends")

    assert quiet.dtstart.value.astimezone(PARIS).strftime("%a %H:%M") == "Sun 19:00"


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_makes_no_line_of_its_own(
    told: Told, export: Callable[..., Path], text: str
) -> None:
    told.record(k.Setting, name="bench", value=text)
    told.log("L2 set up laying", "L2 founder W1 Boloria dia female")
    told.record(
        k.LeaveBe,
        container="L2",
        until=told.clock.now + timedelta(hours=24),
        why=f"{text}\nATTACH:x",
    )

    path = export("ics", "due.ics")

    assert b"\r\nATTACH" not in path.read_bytes()
    events = read(path)
    assert "valarm" not in titled(events, "'do not disturb' ends").contents
    assert titled(events, "'do not disturb' ends").description.value.isprintable()


def test_a_span_that_is_none_is_refused(
    told: Told, export: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    told.log("L2 set up laying")

    assert not export("ics", "due.ics", "--within", "soon", status=1).exists()
    assert "--within is 'soon'; it must be as 7d or 36h" in capsys.readouterr().err
    assert not export("ics", "due.ics", "--within", "9999d", status=1).exists()
    assert "--within is '9999d'; it can be 366d at most" in capsys.readouterr().err


def test_a_whole_year_of_rounds_is_in_it_and_each_comes_once(
    told: Told, export: Callable[..., Path]
) -> None:
    told.log(
        "L2 set up laying", "L2 founder Q-1, Boloria dia female", "L2 host in violet leaf water"
    )

    events = read(export("ics", "due.ics", "--within", "366d"))

    begins = [event.dtstart.value for event in events if " round: " in event.summary.value]
    assert len(begins) == len(set(begins)) == 2 * 366
    assert all(
        "L2: drink" in event.description.value
        for event in events
        if " round: " in event.summary.value
    )


def test_what_is_expected_stands_from_the_first_to_the_last(
    demo_desk: Desk, export: Callable[..., Path]
) -> None:
    events = read(export("ics", "due.ics", "--within", "30d"))
    coming = [
        one
        for container in demo_desk.bench.standing()
        for one in demo_desk.foresight.coming(container)
    ]
    hatches = [
        one
        for one in coming
        if one.change == "hatch" and one.first and one.last and one.last > demo_desk.now()
    ]
    assert hatches

    for one in hatches:
        event = titled(events, f"{one.where}: hatch of {one.number} animals expected, {one.brood}")
        # Whole local days; RFC 5545 3.6.1: the end is the day after the last.
        assert event.dtstart.value == one.first.astimezone(PARIS).date()  # type: ignore[union-attr]
        assert event.dtend.value == one.last.astimezone(PARIS).date() + timedelta(days=1)  # type: ignore[union-attr]
        assert "today" not in event.description.value
