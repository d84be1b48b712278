"""Writers at once, and two laptops whose folder is carried between them late, out of order and half copied."""

from __future__ import annotations

import random
import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from rounds.app.desk import Desk, Recorded
from rounds.entries.registry import Note, SetUp
from tests.benchmarks.bench_due import NOW
from tests.conftest import Clock
from tests.durability import writers
from tests.durability.books import bench_of, desk_at, plain
from tests.durability.kills import lines_by_id

LAPTOPS = ("aaaa1111", "bbbb2222")


def test_four_writers_at_once() -> None:
    """A smaller run of `python -m tests.durability.writers`."""
    assert "none lost, none doubled" in writers.run(each=150)


class Carrier:
    """A folder synchroniser at its worst: each laptop has its own folder, and files go between them as chance has it."""

    def __init__(self, folders: tuple[Path, Path], chance: random.Random) -> None:
        self.folders = folders
        self.chance = chance
        self.old: list[tuple[Path, bytes]] = []  # versions still under way

    def carry(self) -> None:
        """Something is delivered: now, late, in part, an older version over a newer one, or as a copy."""
        source, target = self.chance.sample(self.folders, 2)
        files = sorted(source.glob("entries-*.jsonl"))
        if not files:
            return
        file = self.chance.choice(files)
        data = file.read_bytes()
        turn = self.chance.random()
        self.old.append((target / file.name, data))
        if turn < 0.3:
            self._deliver(target / file.name, data)
        elif turn < 0.5:
            self._deliver(target / file.name, data[: self.chance.randrange(len(data))], whole=False)
        elif turn < 0.7:
            self._deliver(*self.chance.choice(self.old))
        elif turn < 0.8:
            (target / f".~{file.name}.tmp").write_bytes(data[: len(data) // 2])
        elif turn < 0.9:
            (target / f"{file.stem} (conflicted copy).jsonl").write_bytes(data)

    def _deliver(self, place: Path, data: bytes, *, whole: bool = True) -> None:
        """A file of the other laptop; its own files a laptop only ever gets back as it wrote them."""
        if self._owner(place) == place.parent:
            return
        if whole:
            beside = place.with_name(f".{place.name}.incoming")
            beside.write_bytes(data)
            beside.replace(place)
        else:
            place.write_bytes(data)

    def _owner(self, place: Path) -> Path:
        return self.folders[LAPTOPS.index(place.name.split("-")[1])]

    def carry_all(self) -> None:
        """In the end everything arrives."""
        for folder, other in (self.folders, self.folders[::-1]):
            for file in folder.glob("entries-*.jsonl"):
                if "copy" not in file.name and self._owner(file) == folder:
                    shutil.copy(file, other / file.name)


def say_something(desk: Desk, clock: Clock, chance: random.Random, number: int) -> None:
    """A note in time, a late one, a set-up, or a strike of anything that this laptop knows."""
    clock.on(seconds=chance.randrange(1, 400))
    turn = chance.random()
    if turn < 0.5:
        desk.record(Note, text=f"{number}")
    elif turn < 0.7:
        desk.record(
            Note, text=f"late {number}", at=clock.now - timedelta(hours=chance.randrange(1, 90))
        )
    elif turn < 0.8:
        desk.record(SetUp, container=f"W{chance.randrange(2, 7)}", purpose="laying")
    else:
        desk.hear()  # as crossing out does, so that of what the other crossed out nothing is chosen
        known = [one for one in desk.entries() if one.id not in desk.struck]
        if known:
            assert isinstance(desk.strike(chance.choice(known).id, "wrong"), Recorded)


@pytest.mark.parametrize("seed", range(12))
def test_two_laptops_and_a_bad_carrier_end_at_one_bench(
    tmp_path: Path, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.bench.incremental_fold.KEPT", 10)
    monkeypatch.setattr("rounds.bench.incremental_fold.MAX_SEALED", 3)
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 15)
    chance = random.Random(seed)
    folders = (tmp_path / "one", tmp_path / "other")
    clocks = [Clock(NOW), Clock(NOW + timedelta(seconds=40))]  # their clocks do not agree
    desks = [
        desk_at(folder, laptop, clock)
        for folder, laptop, clock in zip(folders, LAPTOPS, clocks, strict=True)
    ]
    carrier = Carrier(folders, chance)

    for number in range(150):
        side = chance.randrange(2)
        say_something(desks[side], clocks[side], chance, number)
        if chance.random() < 0.5:
            carrier.carry()
        if chance.random() < 0.3:
            desks[side].hear()
        if chance.random() < 0.05:
            desks[side] = desk_at(folders[side], LAPTOPS[side], clocks[side])
        desks[side].reading.rest()
    carrier.carry_all()
    for desk in desks:
        desk.hear()

    assert plain(desks[0]) == plain(desks[1]) == bench_of(folders[0]) == bench_of(folders[1])
    assert lines_by_id(folders[0]).keys() == lines_by_id(folders[1]).keys()
    for folder, laptop, clock in zip(folders, LAPTOPS, clocks, strict=True):
        assert plain(desk_at(folder, laptop, clock)) == bench_of(folder)
