"""A keeper who reads F sees no temperature in C, on any page; what is typed with its unit is taken in any calculation."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest

from rounds.screens.bench_screen import BenchScreen
from rounds.screens.registry import PAGES
from tests.stories.telling import Story, everything, tell

CELSIUS = re.compile(r"[-\d.]+ C\b(?! day)")
IN_C = re.compile(r"(?<![\w./-])-?\d[\d.]* C\b|\bC day|\(C\)|temperature, C\b")
MORE = {"daybook": ("w",), "broods": ("enter",), "ahead": ("down",) * 8, "plan": ("down",) * 3}
BENCH = """
setting temperature F
setting volume 'fl oz'
setting length in
taxon 'Boloria selene'
constants 'Boloria selene' egg lower_c=9 constant_dd=75
room air 71F
K2 set up laying
K2 founder W-7, Boloria selene female
K2 host in 'dog violet' leaf water
K2 drank
K4 set up laying
K4 founder W-8, Boloria selene female
K4 host in 'dog violet' leaf water
E3 set up eggs
R4 set up rearing
P5 set up pupation
"""


@pytest.fixture
def warm(story: Story) -> Story:
    tell(story, BENCH)
    story.later(days=1).type(
        "room 68/77", "room air 71F 85%", "K2 searched 12 lens", "K2 moved 12 eggs to E3"
    )
    for _ in range(9):
        story.later(days=1).type("room 68/77", "K4 searched none")
    story.type("E3 hatched 10", "E3 moved 10 larvae to R4", "R4 host in 'dog violet'")
    story.type("K2 searched 9", "K2 moved 9 eggs to E3", "P5 stocked 3 pupae W-7/A")
    story.later(days=1).type("room 40/100")
    return story


def in_c(text: str) -> list[str]:
    """Lines that tell warmth, or degree-days, in C."""
    return [line.strip() for line in text.splitlines() if IN_C.search(line)]


async def test_no_page_says_c(warm: Story) -> None:
    """Every page as it opens, each card, the curve of a day, and each thing that is listed, in one walk."""
    found: dict[str, list[str]] = {}
    async with warm.screens(size=(160, 160)) as screen:
        for name in PAGES:
            for place in ("K2", "E3", "R4", "P5") if name == "card" else ("K2",):
                screen.app.open_page(name, place)
                await screen.pilot.pause()
                found[f"{name} {place}"] = in_c(screen.text)
                for key in MORE.get(name, ()):
                    await screen.press(key)
                    found[f"{name} {place}"] += in_c(screen.text)
                while not isinstance(screen.app.screen, BenchScreen):
                    await screen.press("escape")
        await screen.press("right", "right")
        found["bench"] = in_c(screen.text)
    assert not [told for told in found.items() if told[1]]


def test_nothing_that_goes_out_to_be_read_says_c(warm: Story, tmp_path: Path) -> None:
    warm.type("P5 emerged 2")
    told = {}
    for what in (
        ("note", "W-7/A", "note.md"),
        ("season", "season.md"),
        ("ics", "rounds.ics"),
        ("plot", "W-7/A", "plot.zip"),
    ):
        file = tmp_path / what[-1]
        ran = warm.shell("export", *what[:-1], str(file))
        assert ran.status == 0, ran.err
        told[what] = in_c(everything(file).replace("\n ", "").replace("\r", ""))
    assert not [found for found in told.items() if found[1]]


def test_no_line_of_the_round_says_c(warm: Story) -> None:
    lines = warm.plain(["-", "m"] * 60)
    assert not [line for line in lines if CELSIUS.search(line)]
    out = warm.shell("due", "--within", "72h").out + warm.shell("sheet", "--to", "+2d").out
    assert not [line for line in out.splitlines() if CELSIUS.search(line)]


def test_the_shell_works_out_in_the_units_of_the_book(warm: Story, tmp_path: Path) -> None:
    """By hand: 72 F is 22.22 C, of which the air at half its humidity has a dew point of 11.3 C, 52.4 F."""
    asked = ("calc", "air", "--temperature", "72F", "--humidity", "50")
    told = warm.shell(*asked).out
    assert not [
        line
        for line in told.splitlines()
        if CELSIUS.search(line) and not line.startswith(("formula", "source"))
    ]
    assert re.search(r"dew point +52\.\d* F", told), told
    assert warm.shell("--book", str(warm.folder), *asked).out == told
    assert warm.shell(*asked, f"--book={warm.folder}").out == told
    data = json.loads(warm.shell(*asked, "--json").out)
    assert any(figure["unit"] == "C" for figure in data["figures"])

    missing = warm.shell(*asked, "--book", str(tmp_path / "none"))
    assert missing.status == 1
    assert "no book" in missing.err


def test_without_a_book_the_shell_works_out_in_metric_units(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    for folder in (tmp_path / "none", tmp_path):
        monkeypatch.setattr(story, "folder", folder)
        told = story.shell("calc", "air", "--temperature", "20", "--humidity", "50").out
        assert re.search(r"dew point +9\.\d* C", told), told


def test_limits_and_readings_of_a_calculation_have_the_unit_of_their_line(warm: Story) -> None:
    """By hand: 4.92 C is 40.9 F, its limits -4.10 and 13.95 C are 24.6 and 57.1 F; 4.98 mm a day are 0.196 in."""
    fitted = warm.shell(
        *shlex.split("calc development --points 20C:25.8,22.5C:23.6,25C:19.6,27C:18")
    ).out
    assert re.search(r"lower threshold +40\.8\d F  \(24\.6\d to 57\.1\d; 95 %\)", fitted), fitted
    read = warm.shell(
        *shlex.split("calc forecast --lower 50F --constant 100 --readings 0:72F,0.4:73F")
    ).out
    assert re.search(r"readings +0:72,0\.4:73 F", read), read
    moat = warm.shell(*shlex.split("calc moat --depth 0.9in --readings 0:22mm,1:17mm")).out
    assert re.search(r"depth +0\.9 in\n", moat), moat
    assert re.search(
        r"loss +0\.196 in a day  \(0\.0\d+ to 0\.4\d+; from 2 own readings over 24 h\)", moat
    ), moat
    assert " mm" not in moat.partition("formula")[0]


def test_durations_are_by_the_temperature_of_the_book(warm: Story) -> None:
    """68, 77 and 86 F are 20, 25 and 30 C, also in what was published; refusals say F too."""
    bare = warm.shell("calc", "development", "--points", "68:25.8,77F:19.6,30C:12.9").out
    metric = warm.shell("calc", "development", "--points", "20C:25.8,25C:19.6,30C:12.9").out
    assert bare == metric
    assert re.search(r"points +68:25\.8,77:19\.6,86:12\.9 F:days\n", bare), bare
    refused = warm.shell("calc", "development", "--points", "140:25.8,77:19.6")
    assert "temperature is 140 F; it must be at most 122 F" in refused.err
    known = warm.shell("calc", "constants", "--species", "Pieris napi").out
    assert "(durations at 68 F, 77 F, threshold assumed)" in known


def test_degree_days_come_back_as_they_were_typed(warm: Story) -> None:
    """And what is kept until is one number, in figure and words."""
    options = "calc hidden-eggs --searches 2 --degree-days 60 --hatch 100"
    told = warm.shell(*options.split()).out
    assert re.search(r"degree-days +60 F day\n", told), told
    assert re.search(r"hatch +100 F day\n", told), told
    figure, words = (
        re.search(r"keep until +([\d.]+) F day", told),
        re.search(r"keep it until ([\d.]+) F day", told),
    )
    assert figure
    assert words
    assert figure[1] == words[1]


def test_a_bare_number_has_the_unit_of_the_book(warm: Story) -> None:
    """59 is 59 F in a book in F, as at the bench; bounds are told in F: -40 to 60 C are -40 to 140 F."""
    air = warm.shell("calc", "air", "--temperature", "59", "--humidity", "60").out
    assert re.search(r"temperature +59 F\n", air), air
    assert air == warm.shell("calc", "air", "--temperature", "15C", "--humidity", "60").out
    hot = warm.shell("calc", "air", "--temperature", "150", "--humidity", "60")
    assert hot.status == 1
    assert "temperature is 150 F; it must be at most 140 F" in hot.err
    moat = warm.shell("calc", "moat", "--depth", "0.9", "--readings", "0:0.9,1:0.7").out
    assert re.search(r"depth +0\.9 in\n", moat), moat
    assert re.search(r"low-mark +0\.31\d? in\n", moat), moat
    read = warm.shell(*shlex.split("calc forecast --lower 50 --constant 100 --readings 0:72,1:73"))
    assert re.search(r"lower +50 F\n", read.out), read.out + read.err
    assert "[F]" in warm.shell("calc", "air", "--help").out


async def test_the_calculator_takes_and_tells_f(warm: Story) -> None:
    """By hand: 72 F is 22.22 C; a dew point is told in F."""
    async with warm.screens(size=(120, 50)) as screen:
        await screen.press("=", "enter")
        for letter in "air --temperature 72F --humidity 50":
            await screen.pilot.press({" ": "space", "-": "minus"}.get(letter, letter))
        await screen.press("enter")
        lines = screen.text.splitlines()
    assert any("72 F" in line for line in lines), "\n".join(lines)
    assert not [line for line in lines if CELSIUS.search(line) and "formula" not in line]


@pytest.mark.parametrize(
    ("typed", "same"),
    [
        ("air --temperature 72F --humidity 50", "air --temperature 22.222222 --humidity 50"),
        ("moat --depth 0.5in", "moat --depth 12.7"),
        (
            "degree-days --readings 0:50F,0.2:68F --lower 41F",
            "degree-days --readings 0:10,0.2:20 --lower 5",
        ),
        (
            "solution --strength 10 --volume '8 fl oz'",
            "solution --strength 10 --volume 236.5882365",
        ),
    ],
)
def test_a_number_with_its_unit_is_that_number(story: Story, typed: str, same: str) -> None:
    taken, meant = (story.shell("calc", *shlex.split(one)) for one in (typed, same))
    assert (taken.status, taken.err) == (0, "")
    assert taken.out == meant.out
    assert (
        "must be a number"
        in story.shell("calc", "air", "--temperature", "3in", "--humidity", "5").err
    )


@pytest.mark.parametrize(
    "line",
    [
        "constants 'Aglais urticae' egg lower=50 constant=108 source='a paper'",
        "constants 'Aglais urticae' egg lower=50F constant=108F source='a paper'",
        "constants 'Aglais urticae' egg lower=10C constant=60C source='a paper'",
        "constants 'Aglais urticae' egg lower_c=10 constant_dd=60 source='a paper'",
    ],
)
def test_constants_are_of_the_books_unit_or_of_the_unit_typed(warm: Story, line: str) -> None:
    """By hand: 50 F is 10 C, 108 degree-days of F are 60 of C; at 68 F (20 C) that is six days."""
    (said,) = warm.type(line)
    assert "lower 50 F, constant 108 F degree-days" in said, said
    known = warm.desk.bench.constants["Aglais urticae"]["egg"]
    assert (known.lower_c, known.constant_dd) == (10, 60)
    told = warm.shell("calc", "forecast", "--species", "Aglais urticae", "--temperature", "68").out
    assert "thermal constant used              108.0 F day" in told
    assert re.search(r"half +6\.0 days", told), told
    assert "59 to 86 F" in told.partition("source")[2]
    own = told.partition("formula")[0]
    assert " C day" not in own
    assert not CELSIUS.search(own), own


def test_degree_days_are_told_and_taken_in_the_unit_of_the_book(warm: Story) -> None:
    told = warm.shell("calc", "forecast", "--lower", "50", "--constant", "108", "--temperature=68")
    assert re.search(r"constant +108 F day\n", told.out), told.out
    assert re.search(r"half +6\.0 days", told.out), told.out
    refused = warm.shell("calc", "forecast", "--lower=50", "--constant=0", "--temperature=68")
    assert "constant is 0 F day" in refused.err
    data = warm.shell("calc", "air", "--temperature", "59", "--humidity", "60", "--json").out
    assert json.loads(data)["inputs"]["temperature"] == {"value": 15.0, "unit": "C"}
    named = warm.shell("calc", "constants", "Boloria selene").out.partition("line of it")[0]
    assert not [row for row in named.splitlines() if " C day" in row or CELSIUS.search(row)], named


async def test_the_line_of_the_kept_page_gives_the_chance_of_the_page(warm: Story) -> None:
    """Its degree-days are of the book's unit, as the calculator takes them."""
    warm.type("K2 host changed 'dog violet'")
    warm.later(days=3).type("room 68/77")
    async with warm.screens(size=(160, 120)) as screen:
        await screen.press("i")
        page = screen.words
    said = re.search(r"calc (hidden-eggs .+?); discard", page)
    assert said, page
    told = warm.shell("calc", *shlex.split(said[1]))
    share = re.search(r"chance of viable eggs +(\S+)", told.out)
    assert share, told.out + told.err
    (held,) = warm.desk.bench.at("K2").held
    chance = warm.desk.foresight.chance(warm.desk.bench.at("K2"), held, warm.clock.now)
    assert float(share[1]) == pytest.approx(chance.chance, abs=0.002)


def test_degree_days_of_fahrenheit_are_not_those_of_rounded_celsius(story: Story) -> None:
    """By hand: 70.5 F on average are 19.5 F day above 51 F, 10.8333 C day; of C to a hundredth 10.830 were told."""
    told = story.shell("calc", "degree-days", "--lower", "51F", "--min", "60F", "--max", "81F").out
    assert re.search(r"simple average +10\.833 C day", told), told
    story.type("setting temperature F")
    told = story.shell("calc", "degree-days", "--lower", "51", "--min", "60", "--max", "81").out
    assert re.search(r"simple average +19\.500 F day", told), told


def test_a_logger_file_is_told_in_f(warm: Story, tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_text("time,temperature C\n2027-05-05 07:00,20\n2027-05-05 08:00,25\n")
    told = warm.shell("temperatures", str(file), "--dry-run").out
    assert "68 to 77 F" in told, told
    assert not CELSIUS.search(told), told
