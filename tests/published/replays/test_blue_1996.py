"""A published rearing entered line by line as its keepers would have had to, and what the bench then says.

Source: Herms, McCullough, Miller, Bauer & Haack 1996, Laboratory rearing of Lycaeides melissa samuelis
(Lepidoptera: Lycaenidae), an endangered butterfly in Michigan, The Great Lakes Entomologist (abstract). It gives:
20 wild-caught females, a cage at 24 to 26 C, five days, 154 eggs; 72 hatched in 4.5 days on average; 68 first
instars survived; four instars of three to four days each at 24 C; eight days as pupa; 26 days from egg to adult;
33 adults released. The times of day, the daily shares of eggs and of deaths, and the missed evening are ours.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from textual.pilot import Pilot

from rounds.bench import kinds as k
from rounds.bench.folding import fold
from rounds.bench.kinds.base import Entry
from rounds.bench.state import Bench
from rounds.care.due import all_dues, standing
from rounds.care.moment import Moment
from rounds.care.walk import stops
from rounds.desk import Desk, Said
from rounds.record.laying_record import laying_record
from rounds.screens.app import RoundsApp
from rounds.screens.prompt import Prompt
from rounds.shell.opening import open_desk
from rounds.views.laying_page import laying_lines
from tests.conftest import Clock
from tests.shell.test_shell import rounds

DETROIT = ZoneInfo("America/Detroit")
EGGS_A_DAY = (22, 41, 38, 33, 20)  # they add up to the paper's 154
START = datetime(1995, 5, 29, 8, 0, tzinfo=DETROIT)


def on(day: float, clock: str) -> str:
    """A day of the rearing and a time, as typed."""
    return f"{START + timedelta(days=day):%Y-%m-%d} {clock}"


def lines() -> list[str]:
    """Every line, in the order of what happened."""
    said = [
        "setting zone America/Detroit",
        f"taxon 'Lycaeides melissa samuelis' short=samuelis family=Lycaenidae instars=4 protected {on(0, '08:00')}",
        f"C2 set up laying {on(0, '08:05')}",
    ]
    said += [f"C2 founder KB-95-{number:02d} taxon='Lycaeides melissa samuelis' female {on(0, '08:20')}" for number in range(1, 21)]
    mothers = ",".join(f"KB-95-{number:02d}" for number in range(1, 21))
    said += [
        f"C2 host in lupine leaf potted {on(0, '08:30')}",
        f"brood KB-95/A mothers={mothers} laid_from={on(0, '08:30')} laid_to={on(5, '08:00')} {on(0, '08:31')}",
        f"E2 set up eggs {on(0, '08:40')}",
    ]
    for day, eggs in enumerate(EGGS_A_DAY):
        if day:
            said.append(f"C2 drank {on(day, '07:20')}")
            said.append(f"C2 looked {on(day, '07:22')}")
        if day != 2:  # an evening that nobody came
            said.append(f"C2 drank {on(day, '18:10')}")
            said.append(f"C2 looked {on(day, '18:12')}")
        said.append(f"C2 air low=24 high=26 {on(day, '18:15')}" if day != 2 else f"C2 air low=24 high=26 {on(3, '07:00')}")
        said.append(f"C2 searched {eggs} lens brood=KB-95/A {on(day + 1, '07:40')}")
        said.append(f"C2 moved {eggs} eggs to E2 {on(day + 1, '07:50')}")
    said += [f"C2 released 20 female 'catch site' {on(5, '08:30')}"]
    # 72 hatched 4.5 days after laying on average; the last of them by day ten.
    said += [f"E2 hatched {number} {on(day, clock)}" for number, day, clock in ((20, 5, "07:30"), (30, 7, "19:30"), (22, 9, "07:30"))]
    said += [f"E2 died 82 eggs collapsed {on(14, '08:00')}", f"R2 set up rearing {on(4, '08:00')}"]
    said += [f"E2 died 4 L1 unknown {on(9, '18:00')}", f"E2 moved 68 larvae to R2 {on(9, '18:10')}"]
    said += [f"R2 moulted 60 L2 {on(10, '08:00')}", f"R2 died 8 L1 unknown {on(10, '08:10')}"]
    said += [f"R2 moulted 55 L3 {on(13, '18:00')}", f"R2 died 5 L2 unknown {on(13, '18:10')}"]
    said += [f"R2 moulted 50 L4 {on(17, '08:00')}", f"R2 died 5 L3 unknown {on(17, '08:10')}"]
    said += [f"R2 pupated 40 {on(20.5, '20:00')}", f"R2 died 10 L4 unknown {on(20.5, '20:10')}"]
    said += [f"R2 emerged 33 {on(28.5, '20:00')}", f"R2 died 7 pupae unknown {on(33, '08:00')}"]
    said += [f"R2 released 33 adults 'source site' {on(29.5, '10:00')}"]
    return said


@pytest.fixture(scope="module")
def entries(tmp_path_factory: pytest.TempPathFactory) -> list[Entry]:
    """The whole rearing said through the command, and read back from the book."""
    book = tmp_path_factory.mktemp("blue") / "book"
    done = rounds("log", "-", book=book, typed="\n".join(lines()), TZ="America/Detroit")
    assert done.stderr == ""
    return list(open_desk(book, environment={"TZ": "America/Detroit"}).entries(whole=True))


def as_of(entries: list[Entry], when: datetime) -> tuple[Bench, Moment]:
    """The bench as it stood then."""
    bench = fold(entry for entry in entries if entry.at <= when)
    anchors = (("morning", datetime(1, 1, 1, 7).time()), ("evening", datetime(1, 1, 1, 18).time()))
    return bench, Moment(when, DETROIT, anchors)


def test_the_counts_are_the_papers(entries: list[Entry]) -> None:
    bench = fold(entries)
    tally = bench.tallies["KB-95/A"]

    assert bench.oddities == []
    assert tally.entered["egg"] == 154  # paper
    assert tally.entered["larva"] == 72  # paper: hatched
    assert tally.entered["larva"] - 4 == 68  # paper: first instars that survived
    assert tally.fates["released"]["adult"] == 33  # paper
    assert sum(sum(stages.values()) for stages in tally.fates.values()) == 154


def test_its_shares_are_the_papers(entries: list[Entry]) -> None:
    tally = fold(entries).tallies["KB-95/A"]
    eggs, hatched, adults = tally.entered["egg"], tally.entered["larva"], tally.fates["released"]["adult"]

    # Arithmetic on the paper's facts; all 20 females are taken to have lived the five days, which it does not say.
    assert eggs / (20 * 5) == pytest.approx(1.54)
    assert hatched / eggs == pytest.approx(0.4675, abs=5e-5)
    assert 68 / hatched == pytest.approx(0.944, abs=5e-4)
    assert adults / eggs == pytest.approx(0.214, abs=5e-4)
    assert adults / hatched == pytest.approx(0.458, abs=5e-4)


def test_the_laying_page_gives_the_female_days_and_the_rate(entries: list[Entry]) -> None:
    # must_give: 100 female-days, 1.54 eggs a female-day, exact limits 1.306 to 1.803: arithmetic on the paper's facts.
    after = START + timedelta(days=6)
    (on_lupine,) = laying_record([entry for entry in entries if entry.at <= after], after)
    told = "\n".join(line.text for line in laying_lines([on_lupine], DETROIT, after))

    assert on_lupine.plant == "lupine"
    assert on_lupine.female_days == pytest.approx(100, abs=0.02)
    assert on_lupine.eggs == 154
    assert "1.54 (1.31 to 1.80)" in told


def test_who_was_alive_when(entries: list[Entry]) -> None:
    for day, females, eggs, larvae in (
        (1.5, 20, 22, 0),
        (4.5, 20, 134, 0),
        (6, 0, 134, 20),
        (9.9, 0, 82, 68),
        (18, 0, 0, 50),
    ):
        bench, _ = as_of(entries, START + timedelta(days=day))
        assert bench.containers["C2"].females == females, day
        assert sum(one.count("egg") for one in bench.standing()) == eggs, day
        assert sum(one.count("larva") for one in bench.standing()) == larvae, day
    bench, _ = as_of(entries, START + timedelta(days=29))
    assert (bench.containers["R2"].count("adult"), bench.containers["R2"].count("pupa")) == (33, 7)


def test_what_was_due_when_and_what_was_missed(entries: list[Entry]) -> None:
    after_the_missed_evening = START.replace(hour=7, minute=5) + timedelta(days=3)
    bench, moment = as_of(entries, after_the_missed_evening)
    dues = {(due.check, due.where): due for due in all_dues(bench, moment)}

    drink = dues["drink", "C2"]
    assert drink.due == START.replace(hour=7, minute=20) + timedelta(days=2, hours=12)
    assert standing(drink, moment.now) == "late"
    look = dues["look", "C2"]
    assert look.due == START.replace(hour=18, minute=0) + timedelta(days=2)
    assert moment.missed_since(START.replace(hour=7, minute=22) + timedelta(days=2)) == 1
    search = dues["eggs", "C2"]
    assert search.due == START.replace(hour=7, minute=0) + timedelta(days=3)
    assert standing(search, moment.now) == "due"

    bench, moment = as_of(entries, START.replace(hour=18, minute=30) + timedelta(days=3))
    assert standing(next(due for due in all_dues(bench, moment) if due.check == "drink"), moment.now) == "ahead"


async def test_a_few_of_its_facts_through_the_screen(desk: Desk, clock: Clock, tmp_path: Path) -> None:
    del tmp_path
    clock.now = datetime(1995, 5, 30, 7, 20, tzinfo=DETROIT)
    for kind, fields in (
        (k.SetUp, {"container": "C2", "purpose": "laying"}),
        (k.FounderIntake, {"container": "C2", "code": "KB-95-02", "taxon": "Lycaeides melissa samuelis"}),
        (k.HostIn, {"container": "C2", "plant": "lupine", "kept": "potted"}),
    ):
        assert isinstance(desk.say(kind, **fields), Said)
    app = RoundsApp(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await _type(app, pilot, "C2 searched 22 lens")
        await pilot.press("d")
        assert desk.bench.containers["C2"].count("egg") == 22
        assert desk.bench.containers["C2"].all_drank == clock.now
    desk.start_round()
    walk = desk.bench.open_round
    assert walk is not None
    asked = {due.check for stop in stops(desk.bench, desk.moment(), walk) if stop.where == "C2" for due in stop.checks}
    assert "drink" not in asked


async def _type(app: RoundsApp, pilot: Pilot[None], text: str) -> None:
    await pilot.press("t")
    app.screen.query_one(Prompt).value = text
    await pilot.press("enter")
