"""Two loggers in one file are never mixed into one series: it is asked which, and the other's readings stay out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story

BY_COLUMN = (
    "device,timestamp,celsius\n"
    "Alder-1,2027-05-26 07:00,21.0\n"
    "Birch-2,2027-05-26 07:00,4.0\n"
    "Alder-1,2027-05-26 08:00,22.0\n"
    "Birch-2,2027-05-26 08:30,5.0\n"
    "Alder-1,2027-05-26 09:00,23.0\n"
)
IN_SECTIONS = (
    "Export of two\n\nSerial number: 4711\ntime;temp C\n2027-05-26 07:00;21.0\n2027-05-26 08:00;22.0\n2027-05-26 09:00;23.0\n"
    "\nSerial number: 4712\ntime;temp C\n2027-05-26 07:00;4.0\n2027-05-26 08:30;5.0\n"
)
BY_NUMBER = (
    BY_COLUMN.replace("device", "Logger serial no.")
    .replace("Alder-1", "4711")
    .replace("Birch-2", "4712")
)


@pytest.fixture
def cup(story: Story) -> Story:
    """A Thursday, and one cup."""
    story.at("2027-05-27 19:04").type("R4 set up rearing")
    return story


@pytest.mark.parametrize(
    ("text", "one", "other"),
    [(BY_COLUMN, "Alder-1", "Birch-2"), (IN_SECTIONS, "4711", "4712"), (BY_NUMBER, "4711", "4712")],
    ids=["by a column", "in sections", "by a column of numbers"],
)
def test_it_is_asked_which_of_two_and_only_that_one_is_taken_in(
    cup: Story, tmp_path: Path, text: str, one: str, other: str
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(text)
    ran = cup.shell("temperatures", str(file), "--place", "R4")
    assert ran.status == 1
    assert f"it holds readings of 2 loggers: {one}, {other}; say which with --device" in ran.err
    assert [line["what"] for line in cup.on_disk()] == ["setting", "set up"]

    ran = cup.shell("temperatures", str(file), "--place", "R4", "--device", one)
    assert (ran.status, ran.err) == (0, "")
    assert "3 readings from Wed 26 May 2027 07:00 to Wed 26 May 2027 09:00, 21 to 23 C" in ran.out
    assert f"logger: {one}, as given; not taken in: 2 of {other}" in ran.out

    ran = cup.shell("temperatures", str(file), "--device", other.lower())
    assert "2 readings from Wed 26 May 2027 07:00 to Wed 26 May 2027 08:30, 4 to 5 C" in ran.out
    ran = cup.shell("temperatures", str(file), "--device", "Cedar")
    assert (
        ran.status,
        f"no logger in it is called 'Cedar'; there are {one}, {other}" in ran.err,
    ) == (1, True)


def test_a_file_of_one_logger_asks_nothing_though_it_names_itself_twice(
    cup: Story, tmp_path: Path
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(
        IN_SECTIONS.replace("4712", "4711")
        .replace("26 07:00;4.0", "26 10:00;4.0")
        .replace("08:30", "10:30")
    )
    ran = cup.shell("temperatures", str(file), "--place", "R4")
    assert ran.status == 0, ran.err
    file.write_text(BY_COLUMN.replace("Birch-2", "Alder-1"))
    assert cup.shell("temperatures", str(file)).status == 0
    file.write_text(
        "Device: Alder-1\nSerial: 4711\ntime;temp C\n2027-05-26 07:00;21.0\n2027-05-26 08:00;22.0\nDevice: Alder-1\n"
    )
    assert cup.shell("temperatures", str(file), "--dry-run", "--device", "Alder-1 4711").status == 0
