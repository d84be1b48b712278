"""A line of names in a logger's file holds until the next one: nothing is read under another's name or unit, nothing goes in silence."""

from __future__ import annotations

import json
from pathlib import Path
from time import process_time

import pytest

from tests.stories.telling import Story

A, B = "time;temperature;humidity", "time;humidity;temperature"
CELSIUS, FAHRENHEIT = "time;temp °C", "time;temp °F"
# 70 F is 21.11 C: C = (F - 32) / 1.8, NIST SP 811, B.8.
ORDERS = {
    "a": (A, "21.5;60"),
    "b": (B, "60;21.5"),
    "A": (A.upper(), "21.5;60"),
    "d": ("time;dew point;temperature;humidity", "9;21.5;60"),
    "h": ("humidity;time;temperature", "60;{at};21.5"),
}


@pytest.fixture
def spring(story: Story) -> Story:
    return story.at("2027-05-27 19:04")


def told_of(story: Story, tmp_path: Path, text: str, *words: str) -> dict[str, object]:
    file = tmp_path / "log.csv"
    file.write_text(text)
    ran = story.shell("temperatures", str(file), "--dry-run", "--json", *words)
    assert ran.status == 0, ran.err
    told: dict[str, object] = json.loads(ran.out)
    return told


@pytest.mark.parametrize("order", ["ab", "aba", "abab", "aaba", "bab", "abAb", "ada", "hah", "dad"])
def test_each_line_of_names_holds_until_the_next_one(
    spring: Story, tmp_path: Path, order: str
) -> None:
    text = ""
    for at, one in enumerate(order, start=1):
        names, cells = ORDERS[one]
        time = f"2027-05-26 0{at}:00"
        row = cells.format(at=time) if "{at}" in cells else f"{time};{cells}"
        text += f"{names}\n{row}\n"
    told = told_of(spring, tmp_path, text, "--unit", "c")
    assert (told["readings"], told["low_c"], told["high_c"]) == (len(order), 21.5, 21.5)
    assert told["left_out"] == []
    assert "the columns otherwise, and what is below is read so" in str(told["taken"])


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        (f"{CELSIUS}\n1;21\n{FAHRENHEIT}\n2;70\n{CELSIUS}\n3;22\n{FAHRENHEIT}\n4;-4\n", -20, 22),
        (f"{FAHRENHEIT}\n1;70\n{CELSIUS}\n2;50\n", 21.111, 50),
        ("time;temp;rh\n;C;%\n1;21;60\ntime;rh;temp\n;%;F\n2;60;50\n", 10, 21),
        ("time;temp\n1;21 °C\n2;50 °F\n3;22 °C\n", 10, 22),
    ],
    ids=["by turns", "fahrenheit first", "units in a line below", "beside the numbers"],
)
def test_another_unit_below_is_read_in_that_unit(
    spring: Story, tmp_path: Path, text: str, low: float, high: float
) -> None:
    for hour in "1234":
        text = text.replace(f"\n{hour};", f"\n2027-05-26 0{hour}:00;")
    told = told_of(spring, tmp_path, text)
    assert (told["low_c"], told["high_c"], told["left_out"]) == (low, high, [])


@pytest.mark.parametrize("unit", ["c", "f"])
def test_of_two_columns_that_of_the_unit_given_is_read(
    spring: Story, tmp_path: Path, unit: str
) -> None:
    text = "time;Temp (C);Temp (F)\n2027-05-26 01:00;20;68\n2027-05-26 02:00;25;77\n"
    told = told_of(spring, tmp_path, text, "--unit", unit)
    assert (told["low_c"], told["high_c"]) == (20, 25)


def test_another_column_below_is_no_temperature(spring: Story, tmp_path: Path) -> None:
    text = "time;temp °C\n2027-05-26 01:00;21\ntime;dew point\n2027-05-26 02:00;9\n"
    told = told_of(spring, tmp_path, text)
    assert (told["readings"], told["high_c"]) == (1, 21)
    assert told["left_out"] == [{"why": "no temperature", "count": 1, "lines": [4]}]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (
            "Unit: Celsius\ntime;temp\n2027-05-26 01:00;21\nUnit: Fahrenheit\ntime;temp\n2027-05-26 02:00;50\n",
            "line 4 says 'Unit: Fahrenheit', and what stands above the first reading says otherwise",
        ),
        (
            "time (UTC+1);temp °C\n2027-05-26 01:00;21\ntime (UTC+2);temp °C\n2027-05-26 03:00;21\n",
            "several columns hold times: 'time (UTC+1)' (column 1), 'time (UTC+2)' (column 3)",
        ),
    ],
    ids=["unit", "offset"],
)
def test_what_is_said_otherwise_below_is_asked(
    spring: Story, tmp_path: Path, text: str, why: str
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(text)
    ran = spring.shell("temperatures", str(file), "--dry-run")
    assert (ran.status, why in ran.err) == (1, True), ran.err


def test_loggers_in_a_column_that_moves_are_told_apart(spring: Story, tmp_path: Path) -> None:
    text = (
        "device;time;temp °C\nAlder-1;2027-05-26 01:00;21\nBirch-2;2027-05-26 01:00;5\n"
        "time;device;temp °C\n2027-05-26 02:00;Alder-1;22\n2027-05-26 02:00;Birch-2;6\n"
    )
    told = told_of(spring, tmp_path, text, "--device", "Birch-2")
    assert (told["readings"], told["low_c"], told["high_c"]) == (2, 5, 6)


def test_days_too(spring: Story, tmp_path: Path) -> None:
    file = tmp_path / "days.csv"
    file.write_text(
        "date;min (°C);max (°C)\n2027-05-20;12;20\ndate;max (°C);min (°C)\n2027-05-21;21;-1\n"
        "date;min (°C);max (°C)\n2027-05-22;14;22\n"
    )
    ran = spring.shell("temperatures", str(file))
    assert "lowest and highest of 3 new days" in ran.out, ran.err
    spring.reopen()
    read = spring.desk.bench.air[""]
    assert [(air.low_c, air.high_c) for air in read] == [(12, 20), (-1, 21), (14, 22)]
    file.write_text("date;min (°F);max (°C)\n2027-05-23;50;20\n2027-05-24;41;21\n")
    spring.shell("temperatures", str(file))
    spring.reopen()
    read = spring.desk.bench.air[""][3:]
    assert [(air.low_c, air.high_c) for air in read] == [(10, 20), (5, 21)]


def test_a_table_of_two_units_is_read_in_both(spring: Story, tmp_path: Path) -> None:
    file = tmp_path / "old.csv"
    file.write_text(
        "date;cup;what;temp °C\n2024-05-01;A2;checked;21\ndate;cup;what;temp °F\n2024-05-02;A2;checked;50-54\n"
        "2024-05-02;A2;checked;68\ndate;cup;what;temp °C\n2024-05-03;A2;checked;22\n"
    )
    ran = spring.shell("import", str(file), "--dry-run", "--species", "Aglais io")
    assert ran.status == 0, ran.err
    read = [line.partition(" air ")[2].partition(";")[0] for line in ran.out.splitlines()]
    assert [*filter(None, read)] == ["21 C", "11.111 C", "20 C", "22 C"]


def test_many_pages_cost_no_more_than_their_lines(spring: Story, tmp_path: Path) -> None:
    def cost(pages: int) -> float:
        text = "".join(
            f"{(A, B)[at % 2]}\n2027-05-{1 + at // 1440:02} {at // 60 % 24:02}:{at % 60:02};20;21\n"
            for at in range(pages)
        )
        began = process_time()
        assert told_of(spring, tmp_path, text, "--unit", "c")["readings"] == pages
        return process_time() - began

    cost(10)
    assert cost(2_000) < 8 * cost(500) + 0.1
