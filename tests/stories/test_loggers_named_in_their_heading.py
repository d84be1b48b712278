"""A logger's name or serial number in the heading of its temperatures names the logger; the readings are never its names."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story

READINGS = ("20.1", "20.3", "20.1", "20.3", "20.7")
# Headings as loggers write them; common practice, no source. With the unit that each tells.
HEADINGS = [
    ('"Temp, C (S/N: 1234)"', "c", "1234"),
    ('"Temp, °F (LGR S/N: 1234, SEN S/N: 5678)"', "f", "1234"),
    ('"Temp, °C (LGR S/N: 1234, SEN S/N: 5678, LBL: high shelf)"', "c", "1234"),
    ('"Temp, °F (logger 1234)"', "f", "1234"),
    ("Sensor A (C)", "c", ""),
    ("Sensor A [F]", "f", ""),
    ("Temperature of sensor 3", "", "3"),
    ("Temperature S/N 4711F", "", "4711F"),
    ("Temp C (serial 4711F)", "c", "4711F"),
    ("Temp C sensor 3", "c", "3"),
    ("Serial 1234 temp C", "c", "1234"),
    ("Temperature (K)", "k", ""),
    ("Temperatur K", "k", ""),
    ("Probe 2 °C", "c", "2"),
    ("Station temperature (°C)", "c", ""),
    ("device_temp_c", "c", ""),
    ("Sensor 1", "", "1"),
]
TO_UNIT = {
    "c": lambda celsius: celsius,
    "f": lambda celsius: celsius * 9 / 5 + 32,
    "k": lambda celsius: (
        celsius + 273.15
    ),  # by definition: The International System of Units, 9th ed., 2.3.1
}


def table_of(heading: str, unit: str, readings: tuple[str, ...] = READINGS) -> str:
    """A logger's file of these readings [C], written in the unit."""
    rows = (
        f"2027-05-26 {7 + hour:02d}:00,{TO_UNIT[unit or 'c'](float(celsius)):.2f}\n"
        for hour, celsius in enumerate(readings)
    )
    return f"Time,{heading}\n{''.join(rows)}"


@pytest.fixture
def cup(story: Story) -> Story:
    """A Thursday, and one cup."""
    story.at("2027-05-27 19:04").type("R4 set up rearing")
    return story


@pytest.mark.parametrize(("heading", "unit", "name"), HEADINGS)
def test_what_a_heading_calls_its_temperatures_is_no_second_logger(
    cup: Story, tmp_path: Path, heading: str, unit: str, name: str
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(table_of(heading, unit))
    ran = cup.shell("temperatures", str(file), "--place", "R4")
    if not unit:
        assert ran.status == 1
        assert "Celsius or Fahrenheit; say which with --unit" in ran.err
        ran = cup.shell("temperatures", str(file), "--place", "R4", "--unit", "c")
    assert (ran.status, ran.err) == (0, "")
    assert "5 readings" in ran.out
    assert "20.1 to 20.7 C" in ran.out
    assert "taken in: 5 new readings" in ran.out
    assert (f"logger: {name}, by its heading" in ran.out) == bool(name)


def test_a_reading_is_never_the_name_of_a_logger(cup: Story, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text(table_of('"Temp, C (S/N: 1234)"', "c"))
    ran = cup.shell("temperatures", str(file), "--device", "20.1")
    assert ran.status == 1
    assert "no logger in it is called '20.1'; there is 1234" in ran.err
    ran = cup.shell("temperatures", str(file), "--device", "1234")
    assert (ran.status, ran.err) == (0, "")
    assert "taken in: 5 new readings" in ran.out


def test_of_two_columns_the_named_loggers_is_read(cup: Story, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    rows = "".join(f"2027-05-26 {7 + hour:02d}:00,2{hour}.5,{hour}.5\n" for hour in range(5))
    file.write_text(f'Time,"Temp, C (S/N: 1234)","Temp, C (S/N: 1235)"\n{rows}')
    ran = cup.shell("temperatures", str(file))
    assert "several columns may be the temperature" in ran.err
    ran = cup.shell("temperatures", str(file), "--device", "1235")
    assert (ran.status, ran.err) == (0, "")
    assert "0.5 to 4.5 C" in ran.out
    assert "logger: 1235, as given" in ran.out
    ran = cup.shell("temperatures", str(file), "--dry-run", "--device", "1236")
    assert "no logger in it is called '1236'; there are 1234, 1235" in ran.err


def test_a_column_named_as_the_temperature_is_not_one_of_names(cup: Story, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    rows = "".join(f"2027-05-26 {7 + hour:02d}:00,{20 + hour % 2},7\n" for hour in range(8))
    file.write_text(f"Time,Sensor A,Battery\n{rows}")
    ran = cup.shell("temperatures", str(file), "--temperature", "2", "--unit", "c")
    assert (ran.status, ran.err) == (0, "")
    assert "taken in: 8 new readings" in ran.out
    ran = cup.shell("temperatures", str(file), "--dry-run", "--unit", "c")
    assert (ran.status, ran.err) == (0, "")


@pytest.mark.parametrize("names", [("4711", "4712"), ("20123456", "20123457"), ("A1", "B2")])
def test_a_column_of_names_is_still_one(cup: Story, tmp_path: Path, names: tuple[str, str]) -> None:
    file = tmp_path / "log.csv"
    rows = "".join(
        f"2027-05-26 {7 + hour:02d}:00,{names[hour % 2]},{20 + hour}.5\n" for hour in range(6)
    )
    file.write_text(f'Time,Sensor,"Temp, C (S/N: 1)"\n{rows}')
    ran = cup.shell("temperatures", str(file))
    assert f"it holds readings of 2 loggers: {names[0]}, {names[1]}" in ran.err
    ran = cup.shell("temperatures", str(file), "--device", names[1])
    assert (ran.status, ran.err) == (0, "")
    assert "taken in: 3 new readings" in ran.out
    assert "21.5 to 25.5 C" in ran.out


def test_kelvin_is_told_by_its_numbers_too(cup: Story, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text(table_of("Temperature", "k"))
    ran = cup.shell("temperatures", str(file))
    assert (ran.status, ran.err) == (0, "")
    assert "Kelvin, for 293.45 in Celsius or Fahrenheit would be no room" in ran.out
    assert "20.1 to 20.7 C" in ran.out
    file.write_text(
        "Date,Min temp (K),Max temp (K)\n2027-05-26,284.15,295.15\n2027-05-25,283.15,294.15\n"
    )
    ran = cup.shell("temperatures", str(file))
    assert (ran.status, ran.err) == (0, "")
    assert "Kelvin" in ran.out
    assert [line.get("high_c") for line in cup.on_disk() if line["what"] == "air"] == [21.0, 22.0]
