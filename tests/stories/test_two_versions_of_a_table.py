"""Two versions of one old table come in on two laptops: it is told, and what it advises heals it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.stories.telling import Story

SPECIES = "Melitaea athalia"
HEAD = "brood,species,laid,eggs,container,hatched,larvae\n"
FIRST = (
    f"B1,{SPECIES},2024-05-03,30,T1,2024-05-12,28\nB2,{SPECIES},2024-05-04,20,T2,2024-05-13,18\n"
)
MENDED = FIRST.replace(",30,", ",31,")
GROWN = f"{FIRST}B3,{SPECIES},2024-05-09,10,T3,2024-05-17,9\n"


@pytest.fixture
def laptops(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[Story]:
    """Two copies of one book."""
    found = [
        Story(tmp_path / name, monkeypatch, name).at("2027-05-01 07:05")
        for name in ("aaaa1111", "bbbb2222")
    ]
    found[1].clock = found[0].clock
    at(found[0]).shell("log", "K2 set up laying")
    synchronise(found)
    return found


def at(laptop: Story) -> Story:
    """Sit down at this laptop, whose memory of books is its own."""
    laptop._monkeypatch.setenv("XDG_STATE_HOME", f"{laptop.folder}-home")
    return laptop


def synchronise(laptops: list[Story]) -> None:
    """The longer file of a name is the newer."""
    for one, other in (laptops, laptops[::-1]):
        other.folder.mkdir(exist_ok=True)
        for path in one.folder.glob("entries-*"):
            there = other.folder / path.name
            if not there.exists() or there.stat().st_size < path.stat().st_size:
                shutil.copy2(path, there)
    for laptop in laptops:
        laptop.reopen()


def take_in(laptop: Story, by: str, rows: str) -> str:
    table = laptop.folder.with_name(f"{laptop.folder.name}-of") / "old.csv"
    table.parent.mkdir(exist_ok=True)
    table.write_text(HEAD + rows)
    ran = at(laptop).later(minutes=1).shell("import", str(table), "--by", by, "--yes")
    assert ran.status == 0, ran.err
    return ran.out


def broods(laptop: Story) -> dict[str, int]:
    """How many eggs of each brood were laid, as the table `broods` has them."""
    laptop.reopen()
    bench = at(laptop).desk.bench
    stocked = [
        one
        for one in laptop.desk.entries(whole=True)
        if one.what == "stocked" and one.id not in laptop.desk.struck
    ]
    return {
        code: sum(getattr(one, "number", 0) for one in stocked if getattr(one, "brood", "") == code)
        for code in bench.broods
    }


def told(laptop: Story) -> str:
    return at(laptop).shell("due").err + laptop.shell("check").out


@pytest.mark.parametrize("known_before", [False, True])
@pytest.mark.parametrize(
    ("one", "other"), [(FIRST, MENDED), (MENDED, FIRST), (FIRST, GROWN), (GROWN, MENDED)]
)
@pytest.mark.parametrize("healer", [0, 1])
def test_it_is_told_and_the_advice_heals_it(
    laptops: list[Story], one: str, other: str, healer: int, known_before: bool
) -> None:
    if known_before:
        take_in(laptops[0], "AA", FIRST.replace(",18", ",17"))
        synchronise(laptops)
    take_in(laptops[0], "AA", one)
    take_in(laptops[1], "BB", other)
    synchronise(laptops)
    for laptop in laptops:
        assert told(laptop).count("2 VERSIONS OF old.csv CAME IN, by AA and BB") == 2
        assert "rounds import old.csv" in told(laptop)
    take_in(laptops[healer], "AA", (one, other)[healer])
    synchronise(laptops)
    right = (one, other)[healer]
    for laptop in laptops:
        assert "VERSIONS" not in told(laptop)
        assert "NOT FIT" not in told(laptop)
        eggs = {row.split(",")[0]: int(row.split(",")[3]) for row in right.splitlines()}
        assert broods(laptop) == eggs


async def test_it_stands_above_the_screen(laptops: list[Story]) -> None:
    take_in(laptops[0], "AA", FIRST)
    take_in(laptops[1], "BB", MENDED)
    synchronise(laptops)
    async with at(laptops[0]).screens((100, 30)) as screen:
        assert "2 VERSIONS OF old.csv CAME IN, by AA and BB" in screen.words


def test_one_version_on_two_laptops_is_one(laptops: list[Story]) -> None:
    take_in(laptops[0], "AA", GROWN)
    take_in(laptops[1], "BB", GROWN)
    synchronise(laptops)
    assert "VERSIONS" not in told(laptops[0])
    assert broods(laptops[1]) == {"B1": 30, "B2": 20, "B3": 10}


def test_one_laptop_after_the_other_is_told_nothing(laptops: list[Story]) -> None:
    take_in(laptops[0], "AA", FIRST)
    synchronise(laptops)
    take_in(laptops[1], "BB", MENDED)
    synchronise(laptops)
    assert "VERSIONS" not in told(laptops[0])
    assert broods(laptops[0]) == {"B1": 31, "B2": 20}


def test_taken_back_it_is_over(laptops: list[Story]) -> None:
    take_in(laptops[0], "AA", FIRST)
    take_in(laptops[1], "BB", MENDED)
    synchronise(laptops)
    assert at(laptops[1]).shell("import", "--yes", "--undo", "old.csv").status == 0
    synchronise(laptops)
    assert "VERSIONS" not in told(laptops[0])
    assert broods(laptops[0]) == {}
