"""Loggers' files in the layouts that they come in: read right, said what was taken for what, refused where unclear."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from dateutil import parser as dateutil_parser
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.exchange.loggers import Log, ReadingOptions, UnclearFile, read_log
from rounds.exchange.loggers.cells import unit_in

PARIS = ZoneInfo("Europe/Paris")
NOW = datetime(2026, 6, 30, 12, 0, tzinfo=UTC)


def read(
    text: str | bytes,
    *,
    zone: Any = PARIS,
    zone_said: bool = False,
    now: datetime = NOW,
    **wishes: str,
) -> Log:
    raw = text.encode() if isinstance(text, str) else text
    return read_log(
        raw,
        zone=zone,
        zone_name="Europe/Paris",
        zone_said=zone_said,
        now=now.timestamp(),
        wishes=ReadingOptions(**wishes),
    )


def instants(log: Log) -> list[str]:
    return [f"{datetime.fromtimestamp(one, UTC):%Y-%m-%dT%H:%M:%SZ}" for one in log.seconds]


MORNING = ["2026-05-20T05:00:00Z", "2026-05-20T05:10:00Z"]

LAYOUTS = {
    "commas, ISO 8601 local time": "Time,Temperature (°C),RH (%)\n2026-05-20 07:00,21.4,55\n2026-05-20 07:10,21.5,54\n",
    "semicolons, decimal commas, day first": "Datum;Temp °C;Feuchte %\n20.05.2026 07:00;21,4;55,0\n20.05.2026 07:10;21,5;54,0\n",
    "tabs": "Date Time\tTemp C\tHumidity\n2026/05/20 07:00:00\t21.4\t55\n2026/05/20 07:10:00\t21.5\t54\n".replace(
        "Temp C", "Temp (C)"
    ),
    "bars": "Time|Temp (C)|RH\n2026-05-20 07:00|21.4|55\n2026-05-20 07:10|21.5|54\n",
    "quoted decimal commas": 'Zeit,"Temp, °C","RH, %"\n20.05.2026 07:00,"21,4","55,0"\n20.05.2026 07:10,"21,5","54,0"\n',
    "month first, twelve-hour clock": (
        "Date Time,Temp °C,RH\n05/20/2026 07:00:00 AM,21.4,55\n05/20/2026 07:10:00 AM,21.5,54\n"
    ),
    "Fahrenheit": "Time,Temp (°F),RH\n2026-05-20 07:00,70.52,55\n2026-05-20 07:10,70.7,54\n",
    "Fahrenheit, told by its numbers": "Time,Temp,RH\n2026-05-20 07:00,70.52,55\n2026-05-20 07:10,70.7,54\n",
    "units beside the numbers": "Time,Temp,RH\n2026-05-20 07:00,21.4°C,55%\n2026-05-20 07:10,21.5 °C,54 %\n",
    "unit in a line above": "Unit: °C\nTime,Temp,RH\n2026-05-20 07:00,21.4,55\n2026-05-20 07:10,21.5,54\n",
    "heading and units on two lines": "Time;Temp;Hum\n;°C;%\n2026-05-20 07:00;21,4;55\n2026-05-20 07:10;21,5;54\n",
    "lines above the table": (
        "Serial number;4711\nName;upper shelf\n\nMeasured from;20.05.2026\nDatum;Temp °C;rF\n20.05.2026 07:00;21,4;55\n20.05.2026 07:10;21,5;54\n"
    ),
    "epoch seconds": "timestamp,temp_c,humidity\n1779253200,21.4,55\n1779253800,21.5,54\n",
    "epoch milliseconds": "timestamp,temp_c,humidity\n1779253200000,21.4,55\n1779253800000,21.5,54\n",
    "a spreadsheet's day numbers": "Time;Temp °C;Hum\n46162,291666667;21,4;55\n46162,298611111;21,5;54\n",
    "date and time in two columns": "Date,Time,Temp (C),Humidity\n20/05/2026,07:00,21.4,55\n20/05/2026,07:10,21.5,54\n",
    "date, time and am or pm": "No.,Date,Time,Half,Temp (C),RH\n1,20/05/2026,07:00,AM,21.4,55\n2,20/05/2026,07:10,AM,21.5,54\n",
    "numbered lines": "#,Date Time,Temp (°C),RH (%)\n1,2026-05-20 07:00,21.4,55\n2,2026-05-20 07:10,21.5,54\n",
    "numbered lines without a heading": "1,2026-05-20 07:00,21.4°C\n2,2026-05-20 07:10,21.5°C\n",
    "an offset in each time": "Time,Temp (C),RH\n2026-05-20T06:00:00+01:00,21.4,55\n2026-05-20T05:10:00Z,21.5,54\n",
    "an offset in the heading": '"Date Time, GMT+01:00","Temp, °C","RH, %"\n20/05/26 06:00:00,21.4,55\n20/05/26 06:10:00,21.5,54\n',
    "month by name": "Time,Temp (C),RH\n20-May-2026 07:00,21.4,55\n20-May-2026 07:10,21.5,54\n",
    "French month": "Date;Température (°C);Humidité\n20 mai 2026 07:00;21,4;55\n20 mai 2026 07:10;21,5;54\n",
    "dates without signs": "Time;Temp (C);RH\n20260520 070000;21,4;55\n20260520 071000;21,5;54\n",
    "newest first": "Time,Temp (C),RH\n2026-05-20 07:10,21.5,54\n2026-05-20 07:00,21.4,55\n",
    "a separator at each line's end": "Time;Temp (C);RH;\n2026-05-20 07:00;21,4;55;\n2026-05-20 07:10;21,5;54;\n",
    "a first line for spreadsheets": "sep=;\nTime;Temp (C);RH\n2026-05-20 07:00;21,4;55\n2026-05-20 07:10;21,5;54\n",
    "a dew point beside it": "Time,Dew point (°C),Temp (°C),RH\n2026-05-20 07:00,12.0,21.4,55\n2026-05-20 07:10,12.1,21.5,54\n",
    "both units": "Time,Temp (°C),Temp (°F),RH\n2026-05-20 07:00,21.4,70.5,55\n2026-05-20 07:10,21.5,70.7,54\n",
    "empty lines and a remark below": "Time,Temp (C),RH\n2026-05-20 07:00,21.4,55\n\n2026-05-20 07:10,21.5,54\n\n",
    "carriage returns alone": "Time,Temp (C),RH\r2026-05-20 07:00,21.4,55\r2026-05-20 07:10,21.5,54\r",
    "two-digit years": "Time,Temp (C),RH\n20/05/26 07:00,21.4,55\n20/05/26 07:10,21.5,54\n",
}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_layout_is_read(layout: str) -> None:
    # Two-digit years leave the order open; the two-digit files here are those of a keeper who said it.
    wishes = {"date_order": "dmy"} if "/26" in LAYOUTS[layout] else {}

    log = read(LAYOUTS[layout], **wishes)

    assert instants(log) == MORNING
    assert list(log.temperatures_c) == pytest.approx([21.4, 21.5], abs=0.01)
    if "without a heading" not in layout:
        assert list(log.humidities) == [55, 54]
    assert log.not_taken == ()


@pytest.mark.parametrize(
    ("encoding", "named"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8"),
        ("utf-16", "UTF-16"),
        ("utf-16-be", "UTF-16"),
        ("latin-1", "Windows-1252"),
    ],
)
def test_an_encoding_is_told_and_its_degree_sign_read(encoding: str, named: str) -> None:
    log = read("Time;Temp °F\r\n2026-05-20 07:00;68,0\r\n".encode(encoding))

    assert list(log.temperatures_c) == [20.0]
    assert named in log.taken[0]


def test_what_was_taken_is_said() -> None:
    log = read(LAYOUTS["lines above the table"])

    assert log.taken == (
        "table: from line 6, 3 lines above it, semicolons between columns, UTF-8",
        "time: 'Datum' (column 1)",
        "dates: day first, for 20.05.2026 can be no other",
        "zone: local time of Europe/Paris",
        "temperature: 'Temp °C' (column 2), by its heading, Celsius",
        "humidity: 'rF' (column 3), by its heading",
    )


def test_fahrenheit_by_its_definition() -> None:
    # NIST SP 811 (2008), B.8: t/C = (t/F - 32) / 1.8.
    log = read("Time,Temp (F)\n2026-05-20 07:00,32\n2026-05-20 07:10,98.6\n2026-05-20 07:20,-40\n")

    assert list(log.temperatures_c) == [0.0, 37.0, -40.0]


def test_epoch_seconds_by_the_standard() -> None:
    # POSIX.1-2017, 4.16; 1234567890 is 2009-02-13T23:31:30Z.
    assert instants(read("unix,temp_c\n1234567890,20\n")) == ["2009-02-13T23:31:30Z"]


def test_the_examples_of_the_time_standard() -> None:
    # RFC 3339, 5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z.
    text = "Time,Temp (C)\n1996-12-19T16:39:57-08:00,20\n1996-12-20T00:40:57.52Z,20\n"

    assert instants(read(text)) == ["1996-12-20T00:39:57Z", "1996-12-20T00:40:57Z"]


@pytest.mark.parametrize(
    ("clock", "hour"),
    [
        ("12:00 AM", 0),
        ("12:00 am", 0),
        ("1:00 a.m.", 1),
        ("11:00 AM", 11),
        ("12:00 PM", 12),
        ("1:00 p.m.", 13),
        ("11:00PM", 23),
    ],
)
def test_twelve_hours_twice(clock: str, hour: int) -> None:
    # ISO/IEC/IEEE 9945 strptime: %I runs from 01 to 12, %p is AM or PM; 12 AM is midnight.
    log = read(f"Time,Temp (C)\n2026-05-20 {clock},20\n", zone=UTC)

    assert instants(log) == [f"2026-05-20T{hour:02d}:00:00Z"]


def test_half_a_day_without_am_or_pm_is_refused() -> None:
    lines = [
        f"2026-05-20 {hour:02d}:{minute:02d},20" for hour in (11, 12, 1, 2) for minute in (0, 30)
    ]

    with pytest.raises(UnclearFile, match="without am or pm"):
        read("Time,Temp (C)\n" + "\n".join(lines) + "\n")
    morning = read("Time,Temp (C)\n" + "\n".join(lines[:4]) + "\n")
    assert [one[11:16] for one in instants(morning)] == ["09:00", "09:30", "10:00", "10:30"]
    said = read(
        "Time,Temp (C)\n"
        + "\n".join(line.replace(",", " PM," if " 11" not in line else " AM,") for line in lines)
        + "\n"
    )
    assert instants(said)[-1] == "2026-05-20T12:30:00Z"


@given(
    st.datetimes(datetime(1991, 1, 1), datetime(2026, 6, 1)),
    st.sampled_from(
        [
            "%Y-%m-%d %H:%M:%S",
            "%d/%m/%Y %H:%M",
            "%m/%d/%Y %I:%M:%S %p",
            "%d.%m.%Y %H:%M:%S",
            "%d %b %Y %H:%M",
            "%y-%m-%d %H:%M",
        ]
    ),
)
@settings(max_examples=300, deadline=None)
def test_times_agree_with_another_reader(at: datetime, style: str) -> None:
    """python-dateutil reads the same text, told the same order."""
    text = at.strftime(style)
    order = {"%d": "dmy", "%m": "mdy"}.get(style[:2], "ymd")
    other = dateutil_parser.parse(text, dayfirst=order == "dmy", yearfirst=order == "ymd")

    log = read(f"Time,Temp (C)\n{text},20\n", zone=UTC, date_order=order)

    assert instants(log) == [f"{other:%Y-%m-%dT%H:%M:%SZ}"]


def test_the_order_of_a_date_is_told_by_a_day_above_twelve_anywhere_in_the_file() -> None:
    dates = [f"05/{day:02d}/2026 07:00,20" for day in (1, 2, 13)]

    log = read("Time,Temp (C)\n" + "\n".join(dates) + "\n")

    assert "month first, for 05/13/2026 can be no other" in log.taken[2]


def test_the_order_is_told_where_days_follow_one_another() -> None:
    lines = "\n".join(f"0{day}/05/2026 07:00,20" for day in (1, 2, 3, 4))

    log = read(f"Time,Temp (C)\n{lines}\n", now=datetime(2027, 1, 1, tzinfo=UTC))

    assert "day first, for only so do the days follow one another" in log.taken[2]
    assert instants(log)[-1] == "2026-05-04T05:00:00Z"


def test_the_order_is_told_where_the_other_lies_ahead() -> None:
    log = read("Time,Temp (C)\n05/12/2026 07:00,20\n", now=NOW)

    assert "month first, for otherwise some lie ahead of today" in log.taken[2]


def test_an_order_that_nothing_tells_is_asked() -> None:
    with pytest.raises(UnclearFile) as found:
        read("Time,Temp (C)\n05/06/2025 07:00,20\n")

    assert found.value.option == "date-order"
    assert found.value.choices == ("dmy", "mdy")
    assert str(found.value) == (
        "the date 05/06/2025 can be day first or month first; say which with --date-order dmy or mdy"
    )
    assert instants(read("Time,Temp (C)\n05/06/2025 07:00,20\n", date_order="dmy")) == [
        "2025-06-05T05:00:00Z"
    ]


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        ("temp C", "c"),
        ("Temperature, F", "f"),
        ("Temp (°C)", "c"),
        ("inside_f", "f"),
        ("Channel C", ""),
        ("temp", ""),
        ("C or F", ""),
    ],
)
def test_a_heading_names_its_unit_by_a_letter_only_where_it_can_mean_nothing_else(
    heading: str, unit: str
) -> None:
    assert unit_in(heading) == unit


def test_a_unit_that_nothing_tells_is_asked() -> None:
    with pytest.raises(UnclearFile, match="does not say whether 38 to 40 in 'Temp'") as found:
        read("Time,Temp\n2026-05-20 07:00,38\n2026-05-20 07:10,40\n")

    assert (found.value.option, found.value.choices) == ("unit", ("c", "f"))
    assert list(read("Time,Temp\n2026-05-20 07:00,41\n", unit="f").temperatures_c) == [5.0]


def test_several_temperatures_are_asked_and_named_by_heading_part_or_number() -> None:
    text = "Time,Probe 1 (°C),Probe 2 (°C)\n2026-05-20 07:00,20,30\n"

    with pytest.raises(UnclearFile, match=r"'Probe 1 .°C.' .column 2., 'Probe 2") as found:
        read(text)

    assert (found.value.option, found.value.choices) == ("temperature", ("2", "3"))
    for wish in ("3", "probe 2", "Probe 2 (°C)"):
        assert list(read(text, temperature=wish).temperatures_c) == [30]
    with pytest.raises(UnclearFile, match="no column is called 'roof'"):
        read(text, temperature="roof")
    with pytest.raises(UnclearFile, match="several columns are called 'probe'"):
        read(text, temperature="probe")


def test_several_times_are_asked() -> None:
    text = "Local,UTC,Temp (C)\n2026-05-20 07:00,2026-05-20 05:00,20\n"

    with pytest.raises(UnclearFile) as found:
        read(text)

    assert (found.value.option, found.value.choices) == ("time", ("1", "2"))
    assert instants(read(text, time="UTC", zone=UTC)) == ["2026-05-20T05:00:00Z"]


def test_humidity_is_left_out_where_several_may_be_it() -> None:
    log = read("Time,Temp (C),RH 1,RH 2\n2026-05-20 07:00,20,50,60\n")

    assert math.isnan(log.humidities[0])
    assert "left out" in log.taken[5]
    assert list(
        read("Time,Temp (C),RH 1,RH 2\n2026-05-20 07:00,20,50,60\n", humidity="RH 2").humidities
    ) == [60]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "no line has a time and a temperature"),
        ("a,b\n1,2\n", "no line has a time and a temperature"),
        ("Date,Temp (C)\n2026-05-20,20\n", "no line has a time and a temperature"),
        ("Time,Temp (C)\n20.05.2026 07:00,21,4\n", "commas seem to stand for decimals too"),
        (
            "Time,Temp (C)\n2026-05-20 07:00,-99\n",
            "no line could be read; most for this: its temperature is not between -40 and 60 C",
        ),
        (
            "Time,Temp (C)\n2026-05-20 07:00,99\n",
            "its heading says Celsius, but half of them are above 50 C",
        ),
    ],
)
def test_a_file_that_is_none_is_refused_in_one_line(text: str, why: str) -> None:
    with pytest.raises(UnclearFile) as found:
        read(text)

    assert why in found.value.line
    assert "\n" not in found.value.line


def test_lines_left_out_are_said_with_their_numbers_and_why() -> None:
    log = read(
        "Time,Temp (C),RH\n"
        "2026-05-20 07:00,20,50\n"
        "2026-05-20 07:10,,50\n"
        "2026-05-20 07:20,error,50\n"
        "2026-05-20 07:30,85,50\n"
        "2026-02-30 07:40,20,50\n"
        "2026-05-20 25:50,20,50\n"
        "2027-05-20 07:00,20,50\n"
        "1970-01-01 00:10,20,50\n"
        "the end\n"
        "2026-05-20 07:00,21,50\n"
    )

    assert instants(log) == ["2026-05-20T05:00:00Z"]
    assert list(log.temperatures_c) == [20]
    assert {(one.why, one.count, one.lines) for one in log.not_taken} == {
        ("no temperature", 1, (3,)),
        ("its temperature is no number", 1, (4,)),
        ("its temperature is not between -40 and 60 C", 1, (5,)),
        ("there is no such date", 1, (6,)),
        ("there is no such time of day", 1, (7,)),
        ("its time is ahead of now", 1, (8,)),
        ("its time is before 1990, as of a clock that was not set", 1, (9,)),
        ("too few columns", 1, (10,)),
        ("its time is that of a reading before it", 1, (11,)),
    }


def clock_change(newest_first: bool) -> list[str]:
    # In France clocks went from 03:00 back to 02:00 on 25 October 2026 (EU summer time rules).
    local = ["01:30", "02:00", "02:30", "02:00", "02:30", "03:00"]
    lines = [f"2026-10-25 {one},20" for one in (reversed(local) if newest_first else local)]
    return instants(
        read("Time,Temp (C)\n" + "\n".join(lines) + "\n", now=datetime(2027, 1, 1, tzinfo=UTC))
    )


@pytest.mark.parametrize("newest_first", [False, True])
def test_the_hour_that_comes_twice_is_read_twice(newest_first: bool) -> None:
    expected = ["23:30", "00:00", "00:30", "01:00", "01:30", "02:00"]

    assert [one[11:16] for one in clock_change(newest_first)] == expected


def test_the_hour_that_was_left_out_is_said_and_a_fixed_offset_reads_it() -> None:
    # In France clocks went from 02:00 to 03:00 on 29 March 2026 (EU summer time rules).
    text = "Time,Temp (C)\n2026-03-29 01:30,20\n2026-03-29 02:30,20\n2026-03-29 03:30,20\n"

    log = read(text)
    assert instants(log) == ["2026-03-29T00:30:00Z", "2026-03-29T01:30:00Z"]
    assert "needs --zone" in log.not_taken[0].why

    from datetime import timezone

    fixed = read(text, zone=timezone(timedelta(hours=1)), zone_said=True)
    assert instants(fixed) == [
        "2026-03-29T00:30:00Z",
        "2026-03-29T01:30:00Z",
        "2026-03-29T02:30:00Z",
    ]


def answer(raw: bytes, **wishes: str) -> Log | UnclearFile:
    try:
        return read(raw, **wishes)
    except UnclearFile as unclear:
        return unclear


@given(st.binary(max_size=400))
@settings(max_examples=400, deadline=None)
def test_no_bytes_are_too_odd_to_be_answered(raw: bytes) -> None:
    found = answer(raw)

    if isinstance(found, UnclearFile):
        assert "\n" not in found.line
    else:
        assert len(found.seconds) == len(found.temperatures_c) == len(found.humidities) > 0


pieces = st.sampled_from(
    ["2026-05-20 07:00", "20/05/26", "07:00", "21,4", "21.4", "-", "\t", ";", ",", "\n", "\n", '"', "°C", "Temp", "RH %", "AM", "9" * 30,
     "1e999", "nan", "1779253200", "46162,29", "\0", "\ufeff", "\u202e", "0/0/0 0:0", "99999999 9999", "2026-05-20T07:00+99:99", "٣"]
)  # fmt: skip


@given(st.lists(pieces, max_size=60).map("".join), st.sampled_from(["utf-8", "utf-16", "latin-1"]))
@settings(max_examples=500, deadline=None)
def test_no_pieces_of_a_table_are_too_odd_to_be_answered(text: str, encoding: str) -> None:
    raw = text.encode(encoding, "replace")
    for wishes in (
        {},
        {"date_order": "dmy", "unit": "c"},
        {"time": "1", "temperature": "2", "unit": "f", "date_order": "mdy"},
    ):
        found = answer(raw, **wishes)
        if isinstance(found, UnclearFile):
            assert "\n" not in found.line
        else:
            assert all(-40 <= one <= 60 for one in found.temperatures_c)
            assert all(
                one < following
                for one, following in zip(found.seconds, found.seconds[1:], strict=False)
            )
            assert all(math.isnan(one) or 0 <= one <= 100 for one in found.humidities)
