"""A published rearing entered line by line as its keepers would have had to, and what the bench then says.

Source: Herms, McCullough, Miller, Bauer & Haack 1996, Laboratory rearing of Lycaeides melissa samuelis
(Lepidoptera: Lycaenidae), an endangered butterfly in Michigan, The Great Lakes Entomologist (abstract). It gives:
20 wild-caught females, a cage at 24 to 26 C, five days, 154 eggs; 72 hatched in 4.5 days on average; 68 first
instars survived; four instars of three to four days each at 24 C; eight days as pupa; 26 days from egg to adult;
33 adults released. The times of day, the daily shares of eggs and of deaths, and the missed evening are ours; so is the
spread about the means, which the abstract does not give: no figure of it can be compared.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from textual.pilot import Pilot

from rounds.app.desk import Desk, Recorded
from rounds.app.startup import open_desk
from rounds.bench.state import Bench
from rounds.checks.due import all_dues
from rounds.checks.due_state import standing
from rounds.checks.round_clock import Moment
from rounds.checks.walk import stops
from rounds.entries import registry as k
from rounds.entries.base import Entry
from rounds.screens.app import RoundsApp
from rounds.screens.prompt import Prompt
from rounds.tallies.lifespans import curve_of, female_lives
from rounds.tallies.stages import durations
from rounds.views.brood_page import PlotRoom, taxon_lines
from rounds.views.laying_page import laying_lines
from tests.added_up import tallies_of
from tests.command import rounds
from tests.conftest import Clock
from tests.plain_fold import fold
from tests.published.replays.telling import counts, words

DETROIT = ZoneInfo("America/Detroit")
EGGS_A_DAY = (22, 41, 38, 33, 20)  # they add up to the paper's 154
HATCHED = (10, 19, 18, 15, 10)  # they add up to the paper's 72
# Of each day's eggs: hatched, second, third and fourth instars, pupae, adults; sums 72, 68 (paper), 58, 50, 40, 33 (paper).
GROUPS = (
    HATCHED,
    (9, 18, 17, 14, 10),
    (8, 15, 15, 12, 8),
    (7, 13, 13, 10, 7),
    (6, 10, 10, 8, 6),
    (5, 8, 8, 7, 5),
)
CHANGES = (
    ("moulted {} L2", "L1", 8, "19:40"),
    ("moulted {} L3", "L2", 12, "07:40"),
    ("moulted {} L4", "L3", 15, "19:40"),
    ("pupated {}", "L4", 18, "19:40"),
    ("emerged {}", "pupae", 26, "19:40"),
)
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
    said += [
        f"C2 founder KB-95-{number:02d} taxon='Lycaeides melissa samuelis' female {on(0, '08:20')}"
        for number in range(1, 21)
    ]
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
        said.append(
            f"C2 air low=24 high=26 {on(day, '18:15')}"
            if day != 2
            else f"C2 air low=24 high=26 {on(3, '07:00')}"
        )
        searched, moved = (
            ("07:40", "07:50") if day < 4 else ("08:29", "08:29")
        )  # the last as they leave
        said.append(f"C2 searched {eggs} lens brood=KB-95/A {on(day + 1, searched)}")
        said.append(f"C2 moved {eggs} eggs to E2 {on(day + 1, moved)}")
    said += [f"C2 released 20 female 'catch site' {on(5, '08:30')}"]
    # Each day's eggs hatch 4.5 days after the middle of the time in which they were laid; then 3.5, 3.5, 3.5 and 3 days as
    # larva and 8 as pupa: 26 in all. Those that do not come through a stage die as it ends.
    said.append(f"R2 set up rearing {on(4, '08:00')}")
    for day in range(33):
        said += [f"E2 air 24C {on(day, '08:41')}", f"E2 air 24C {on(day, '18:20')}"]
        if day > 4:
            said += [f"R2 air 24C {on(day, '07:30')}", f"R2 air 24C {on(day, '18:22')}"]
    for day, eggs in enumerate(HATCHED):
        said += [
            f"E2 hatched {eggs} {on(day + 5, '07:40')}",
            f"E2 moved {eggs} larvae to R2 {on(day + 5, '07:41')}",
        ]
        said.append(f"E2 died {EGGS_A_DAY[day] - eggs} eggs collapsed {on(day + 5, '18:00')}")
    for stage, (change, dead, later, clock) in enumerate(CHANGES):
        for day in range(5):
            there, on_with = GROUPS[stage][day], GROUPS[stage + 1][day]
            said.append(f"R2 {change.format(on_with)} {on(day + later, clock)}")
            if there > on_with:
                said.append(
                    f"R2 died {there - on_with} {dead} unknown {on(day + later, clock[:4] + '5')}"
                )
    said += [f"R2 released 33 adults 'source site' {on(31, '10:00')}"]
    return said


@pytest.fixture(scope="module")
def entries(tmp_path_factory: pytest.TempPathFactory) -> list[Entry]:
    """The whole rearing said through the command, and read back from the book."""
    book = tmp_path_factory.mktemp("blue") / "book"
    done = rounds("log", "-", book=book, typed="\n".join(lines()), TZ="America/Detroit")
    begun, *cautions = done.stderr.splitlines()
    assert (done.returncode, begun) == (0, f"rounds: a new book begins in {book}")
    assert [one.partition(":")[2].split(":")[0] for one in cautions] == [
        " Protected species",
        " Blades",
        " Release",
    ]
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
    eggs, hatched, adults = (
        tally.entered["egg"],
        tally.entered["larva"],
        tally.fates["released"]["adult"],
    )

    # Arithmetic on the paper's facts; all 20 females are taken to have lived the five days, which it does not say.
    assert eggs / (20 * 5) == pytest.approx(1.54)
    assert hatched / eggs == pytest.approx(0.4675, abs=5e-5)
    assert 68 / hatched == pytest.approx(0.944, abs=5e-4)
    assert adults / eggs == pytest.approx(0.214, abs=5e-4)
    assert adults / hatched == pytest.approx(0.458, abs=5e-4)


def test_the_laying_page_gives_the_female_days_and_the_rate(entries: list[Entry]) -> None:
    # must_give: 100 female-days, 1.54 eggs a female-day, exact limits 1.306 to 1.803: arithmetic on the paper's facts.
    after = START + timedelta(days=6)
    (on_lupine,) = tallies_of([entry for entry in entries if entry.at <= after]).on_hosts(after)
    told = "\n".join(line.text for line in laying_lines([on_lupine], DETROIT, after))

    assert on_lupine.plant == "lupine"
    assert on_lupine.female_days == pytest.approx(100, abs=0.02)
    assert on_lupine.eggs == 154
    found, laid = on_lupine.rate, on_lupine.laid
    assert found is not None
    assert laid is not None
    assert [found.value, found.low, found.high] == pytest.approx([1.54, 1.306, 1.803], abs=1e-3)
    assert laid.value == pytest.approx(found.value / (on_lupine.share_found or 0))
    assert f"{laid.value:.2f} ({laid.low:.2f} to {laid.high:.2f})" in told


def test_the_stage_table_gives_the_papers_counts_and_shares(entries: list[Entry]) -> None:
    back = tallies_of(entries, DETROIT).look_back()
    told = counts(back, ["KB-95/A"])

    assert [told[stage].entered for stage in ("egg", "L1", "adult")] == [154, 72, 33]  # paper
    assert told["L1"].passed == 68  # paper: first instars that survived
    assert told["egg"].came_through is not None
    assert told["L1"].came_through is not None
    assert told["egg"].came_through.value == pytest.approx(0.4675, abs=5e-5)
    assert told["L1"].came_through.value == pytest.approx(0.944, abs=5e-4)
    assert told["pupa"].through == pytest.approx(0.214, abs=5e-4)
    assert told["adult"].left == 33


def test_the_durations_are_the_papers_at_the_papers_temperature(entries: list[Entry]) -> None:
    back = tallies_of(entries, DETROIT).look_back()
    found = {one.stage: one for one in durations(back.course, ["KB-95/A"], back.warmth)}

    assert found["egg"].mean == pytest.approx(4.5, abs=0.05)  # paper
    for instar in ("L1", "L2", "L3", "L4"):
        assert 2.99 <= found[instar].least <= found[instar].most <= 4  # paper: three to four days
    assert found["pupa"].mean == pytest.approx(8, abs=0.01)  # paper
    assert found["egg to adult"].mean == pytest.approx(26, abs=0.05)  # paper
    assert found["larva"].temperature_c == pytest.approx(24, abs=0.01)  # paper


def test_survival_of_the_females_is_all_out_of_sight_alive(entries: list[Entry]) -> None:
    back = tallies_of(entries, DETROIT).look_back()
    lives = [life for life in female_lives(back.course, START + timedelta(days=40)) if life.wild]
    curve = curve_of(lives)

    assert curve is not None
    assert (curve.number, curve.deaths) == (
        20,
        0,
    )  # that all 20 lived the five days is taken for so; the abstract does not say it
    page = words(
        taxon_lines(back, "Lycaeides melissa samuelis", START + timedelta(days=40), PlotRoom())
    )
    assert "no female died yet" in page
    assert "20 released" in page


def test_who_was_alive_when(entries: list[Entry]) -> None:
    for day, females, eggs, larvae in (
        (1.5, 20, 22, 0),
        (4.5, 20, 134, 0),
        (6, 0, 154 - 29 - 12, 29),
        (9.9, 0, 0, 72 - 2),
        (18, 0, 0, 7 + 13 + 13 + 12 + 8),
    ):
        bench, _ = as_of(entries, START + timedelta(days=day))
        assert bench.containers["C2"].females == females, day
        assert sum(one.count("egg") for one in bench.standing()) == eggs, day
        assert sum(one.count("larva") for one in bench.standing()) == larvae, day
    bench, _ = as_of(entries, START + timedelta(days=29))
    assert (bench.containers["R2"].count("adult"), bench.containers["R2"].count("pupa")) == (
        5 + 8 + 8,
        8 + 6,
    )


def test_what_was_due_when_and_what_was_missed(entries: list[Entry]) -> None:
    after_the_missed_evening = START.replace(hour=7, minute=5) + timedelta(days=3)
    bench, moment = as_of(entries, after_the_missed_evening)
    dues = {(due.check, due.where): due for due in all_dues(bench, moment)}

    drink = dues["drink", "C2"]
    assert drink.due == START.replace(hour=7, minute=20) + timedelta(days=2, hours=12)
    assert standing(drink, moment.now) == "late"
    look = dues["look", "C2"]
    # fed and seen at each round, else looked at once a day
    assert look.due == START.replace(hour=7, minute=0) + timedelta(days=3)
    assert standing(look, moment.now) == "due"
    assert moment.missed_since(START.replace(hour=7, minute=22) + timedelta(days=2)) == 1
    search = dues["eggs", "C2"]
    # she lays: every other day since the search of the second morning
    assert search.due == START.replace(hour=7, minute=40) + timedelta(days=4)
    assert standing(search, moment.now) == "ahead"

    bench, moment = as_of(entries, START.replace(hour=18, minute=30) + timedelta(days=3))
    assert (
        standing(next(due for due in all_dues(bench, moment) if due.check == "drink"), moment.now)
        == "ahead"
    )


async def test_a_few_of_its_facts_through_the_screen(
    desk: Desk, clock: Clock, tmp_path: Path
) -> None:
    del tmp_path
    clock.now = datetime(1995, 5, 30, 7, 20, tzinfo=DETROIT)
    for kind, fields in (
        (k.SetUp, {"container": "C2", "purpose": "laying"}),
        (
            k.FounderIntake,
            {"container": "C2", "code": "KB-95-02", "taxon": "Lycaeides melissa samuelis"},
        ),
        (k.HostIn, {"container": "C2", "plant": "lupine", "kept": "potted"}),
    ):
        assert isinstance(desk.record(kind, **fields), Recorded)
    app = RoundsApp(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await _type(app, pilot, "C2 searched 22 lens")
        await pilot.press("d")
        assert desk.bench.containers["C2"].count("egg") == 22
        assert desk.bench.containers["C2"].all_drank == clock.now
    desk.start_round()
    walk = desk.bench.open_round
    assert walk is not None
    asked = {
        due.check
        for stop in stops(desk.bench, desk.moment(), walk)
        if stop.where == "C2"
        for due in stop.checks
    }
    assert "drink" not in asked


async def _type(app: RoundsApp, pilot: Pilot[None], text: str) -> None:
    await pilot.press("t")
    app.screen.query_one(Prompt).value = text
    await pilot.press("enter")
