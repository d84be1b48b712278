"""The first start: places as they are typed, what is in the first container, taking over, and the way to the first round."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

import pexpect
import pytest

from rounds.app.desk import Desk
from rounds.app.first_start import FirstStart, read_place
from rounds.bench.measures import Measures
from rounds.entries import registry as k
from rounds.exchange.import_setup import taken_over
from tests.command import rounds
from tests.conftest import Clock

ANSWERS = (
    "Weir House bench",
    "49.2N 0.4W Europe/Paris",
    "2",
    "L2 laying shelf=sill",
    "2 females Boloria dia on violet leaf",
)


def refused(folder: str) -> str:
    """No book to take over from."""
    return f"there is no book in {folder}"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (
            "49.2N 0.4W Europe/Paris",
            {"latitude": "49.2", "longitude": "-0.4", "zone": "Europe/Paris"},
        ),
        ("49.2, -0.4", {"latitude": "49.2", "longitude": "-0.4"}),
        (
            "-33.9 151.2 Australia/Sydney",
            {"latitude": "-33.9", "longitude": "151.2", "zone": "Australia/Sydney"},
        ),
        (
            "33.9S 151.2E sydney",
            {"latitude": "-33.9", "longitude": "151.2", "zone": "Australia/Sydney"},
        ),
        ("0.4W 49.2N", {"latitude": "49.2", "longitude": "-0.4"}),
        ("49°12'N 0°24'W", {"latitude": "49.2", "longitude": "-0.4"}),
        (
            "49 12 N 0 24 W Europe/Paris",
            {"latitude": "49.2", "longitude": "-0.4", "zone": "Europe/Paris"},
        ),
        ("lat 49.2 lon -0.4", {"latitude": "49.2", "longitude": "-0.4"}),
        ("52,5 13,4", {"latitude": "52.5", "longitude": "13.4"}),
        ("49.2° -0.4°", {"latitude": "49.2", "longitude": "-0.4"}),
        ("49 0", {"latitude": "49", "longitude": "0"}),
        ("52,5", "give latitude and longitude together, as: 49.2N 0.4W"),
        ("Tokyo", {"zone": "Asia/Tokyo"}),
        ("New York", {"zone": "America/New_York"}),
        ("95 10", "latitude is 95; it must be from -90 to 90 degrees"),
        ("49.2", "give latitude and longitude together, as: 49.2N 0.4W"),
        ("49.2 0.4 Atlantis", "no time zone is called Atlantis; perhaps Canada/Atlantic"),
    ],
)
def test_a_place_is_read_as_people_type_it(typed: str, said: dict[str, str] | str) -> None:
    assert read_place(typed) == said


def test_three_questions_lead_to_the_first_container(desk: Desk) -> None:
    start = FirstStart(desk, refused)
    for answer in ANSWERS:
        assert start.take(answer) == ""

    assert start.asking is None
    bench = desk.bench
    assert (bench.settings["bench"], bench.settings["zone"]) == ("Weir House bench", "Europe/Paris")
    assert desk.measures == Measures("F", "fl oz", "in")
    container = bench.containers["L2"]
    assert (container.purpose, container.shelf, container.females) == ("laying", "sill", 2)
    assert list(bench.founders) == ["BOL-26-01", "BOL-26-02"]
    assert (container.hosts[0].plant, container.hosts[0].part) == ("violet", "leaf")
    assert bench.oddities == []
    assert desk.dues()


@pytest.mark.parametrize(
    ("holds", "purpose"),
    [
        ("6 female pupae Boloria dia", "pupation"),
        ("1 male, 1 female Boloria dia", "laying"),
        ("violet", "host store"),
    ],
)
def test_a_cup_that_nobody_named_is_for_what_is_in_it(desk: Desk, holds: str, purpose: str) -> None:
    start = FirstStart(desk, refused)
    for answer in ("", "", "", "", holds):
        assert start.take(answer) == ""

    assert [one.purpose for one in desk.bench.standing()] == [purpose]


@pytest.mark.parametrize(
    ("stands", "holds", "check"),
    [
        ("E2 eggs", "40 eggs Boloria dia", lambda one: one.count("egg") == 40),
        (
            "R2 rearing",
            "12 larvae Boloria dia on violet",
            lambda one: one.count("larva") == 12 and one.hosts[0].plant == "violet",
        ),
        ("P2 pupation", "1 pupa Boloria dia", lambda one: one.count("pupa") == 1),
        ("S2 host store", "violet", lambda one: one.hosts[0].plant == "violet"),
        ("L2 holding", "", lambda one: not one.lots),
    ],
)
def test_whatever_stands_first(
    desk: Desk, stands: str, holds: str, check: Callable[[object], bool]
) -> None:
    start = FirstStart(desk, refused)
    for answer in ("", "", "", stands, holds):
        assert start.take(answer) == ""

    assert check(desk.bench.containers[stands.split()[0]])
    assert desk.bench.oddities == []


@pytest.mark.parametrize(
    ("place", "typed", "wrong"),
    [
        (2, "3", "'3' is neither; type 1 for C, ml, mm or 2 for F, fl oz, in"),
        (3, "L2 lying", "say what L2 is for, as: L2 laying; it can be for holding, laying"),
        (3, "laying", "say also which container is for that, as: L1 laying"),
        (4, "2 butterflies", "say how many, what and which species, as: 2 females Boloria dia"),
        (4, "900 females Boloria dia", "900 is not a number of animals for one container"),
        (4, "some females on violet", "say how many first, as: 2 females Boloria dia on violet"),
    ],
)
def test_what_does_not_fit_is_refused_in_one_line_and_asked_again(
    desk: Desk, place: int, typed: str, wrong: str
) -> None:
    start = FirstStart(desk, refused)
    for answer in ("", "", "", "L2 laying")[:place]:
        start.take(answer)

    assert start.take(typed).startswith(wrong)
    assert start.place == place


def test_species_plants_plan_and_settings_are_taken_over_and_nothing_that_stood(
    open_desk: Callable[..., Desk], tmp_path: Path, clock: Clock
) -> None:
    from rounds.daybook import Daybook
    from tests.conftest import PARIS, demo_told

    old = tmp_path / "old"
    Daybook.open(old, "cccc3333").append_many(demo_told(clock.now, PARIS))
    assert rounds("log", "plan", "drink", "every_h=10", book=old).returncode == 0
    before = {path: path.read_bytes() for path in old.rglob("*") if path.is_file()}
    desk = open_desk()
    start = FirstStart(desk, taken_over)

    assert start.take(f"from {old}") == ""

    bench = desk.bench
    assert "Kallima inachus" in bench.taxa
    assert bench.plants
    assert bench.plan
    assert all(not change.container for change in bench.plan)
    assert "bench" not in bench.settings
    assert not bench.containers
    assert not bench.founders
    assert {path: path.read_bytes() for path in old.rglob("*") if path.is_file()} == before
    assert (
        start.take("from /no/such/folder")
        == "there is no book in /no/such/folder; give the folder that holds its entries files"
    )


def test_on_lines_from_a_pipe_to_the_first_round(tmp_path: Path) -> None:
    book = tmp_path / "book"
    done = rounds("round", "--plain", book=book, typed="\n".join([*ANSWERS, ""]))

    assert "What is the bench called?" in done.stdout
    assert "Saved: L2 stands: laying shelf=sill" in done.stdout
    assert "Nothing is due yet. First comes " in done.stdout or "stop 1 of " in done.stdout
    assert "Traceback" not in done.stderr
    again = rounds("begin", book=book, typed="")
    assert again.returncode == 1
    assert "has begun" in again.stderr


def test_in_a_real_terminal_an_empty_book_leads_to_the_round(tmp_path: Path) -> None:
    book = tmp_path / "book"
    child = pexpect.spawn(
        sys.executable, ["-m", "rounds", "--book", str(book)], dimensions=(24, 80),
        env=os.environ | {"TERM": "xterm-256color", "TZ": "Europe/Paris"}, timeout=30, encoding="utf-8",
    )  # fmt: skip
    child.expect("What is the bench called")
    for answer, wanted in zip(
        ANSWERS,
        (
            "Where is it on the map",
            "which units",
            "stands on it first",
            "What is in it",
            "Nothing is due yet|stop 1 of",
        ),
        strict=True,
    ):
        child.send(f"{answer}\r")
        child.expect(wanted)
    child.sendcontrol("c")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 0
    entries = [
        json.loads(line)
        for file in book.glob("entries-*.jsonl")
        for line in file.read_text().splitlines()
    ]
    assert [entry["what"] for entry in entries].count("founder") == 2
    assert [
        entry["value"]
        for entry in entries
        if entry["what"] == "setting" and entry["name"] == "length"
    ] == ["in"]


def test_every_answer_can_be_struck(desk: Desk) -> None:
    start = FirstStart(desk, refused)
    for answer in ANSWERS:
        start.take(answer)
    desk.strike_last()

    assert not desk.bench.containers["L2"].lots
    assert isinstance(desk.entries()[-1], k.CrossedOut)
