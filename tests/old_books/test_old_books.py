"""Every book written so far opens and gives the same bench.

Each folder beside this file holds a book as a release wrote it, and what that release read from it: ``bench.json`` what
stood in each container, ``stock.csv`` and ``life-table.csv`` the tables that it exported (invented data). Changed by hand
were: the stems of batch H in E7 have the search that was made a minute before they came out; three eggs of SHI-27-01+/A that
nobody knew of before a look found them hatched are in no number of its eggs.
"""

from __future__ import annotations

import csv
import json
import shutil
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from rounds.app.desk import Desk
from rounds.bench.state import Container
from rounds.daybook import Daybook

HERE = Path(__file__).parent
RELEASES = sorted(path.parent.name for path in HERE.glob("*/bench.json"))
LISBON = ZoneInfo("Europe/Lisbon")
NOW = datetime(2027, 5, 20, 7, 4, tzinfo=LISBON)

assert RELEASES


def facts_of(container: Container) -> dict[str, Any]:
    """What stands in a container, in plain values."""
    return {
        "purpose": container.purpose,
        "shelf": container.shelf,
        "place": container.place,
        "stock": sorted(
            [lot.brood, lot.stage, lot.instar, lot.sex, lot.number] for lot in container.lots
        ),
        "hosts": sorted(
            [host.plant, host.part, host.batch, host.sprigs] for host in container.hosts
        ),
        "kept_stems": sorted(
            [
                kept.plant,
                kept.batch,
                kept.source,
                kept.sprigs,
                len(kept.searches),
                list(kept.mothers),
            ]
            for kept in container.held
        ),
        "all_drank": container.all_drank.isoformat() if container.all_drank else None,
        "photos": len(container.photos),
        "notes": len(container.notes),
    }


@pytest.fixture(params=RELEASES)
def release(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Path, Desk]:
    """What a release read, and a desk at a copy of the book that it wrote."""
    expected = HERE / str(request.param)
    book = tmp_path / "book"
    shutil.copytree(expected / "book", book)
    book.chmod(0o700)
    desk = Desk(
        Daybook.open(book, "aaaa1111"),
        clock=lambda: NOW,
        entropy=lambda size: bytes(size),
        zone=LISBON,
        keeper="",
    )
    return expected, desk


def test_an_old_book_gives_the_same_bench(release: tuple[Path, Desk]) -> None:
    expected, desk = release
    known = json.loads((expected / "bench.json").read_text())
    bench = desk.bench
    containers = {**bench.closed, **bench.containers}
    assert {code: facts_of(containers[code]) for code in sorted(containers)} == known["containers"]
    assert sorted(bench.broods) == known["broods"]
    assert sorted(bench.founders) == known["founders"]
    assert len(bench.shortfalls) == known["open_shortfalls"]
    assert known["settings"].items() <= bench.settings.items()
    assert not desk.reading.problems


@pytest.mark.parametrize("table", ["stock", "life-table"])
def test_an_old_book_gives_the_same_tables(
    release: tuple[Path, Desk],
    table: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from rounds.app import startup
    from rounds.shell.main import main

    expected, desk = release
    defaults = startup.open_desk.__kwdefaults__
    assert defaults is not None
    monkeypatch.setitem(defaults, "clock", lambda: NOW)
    monkeypatch.setenv("ROUNDS_BOOK", str(desk.book.folder))
    monkeypatch.setenv("TZ", LISBON.key)
    target = tmp_path / f"{table}.csv"
    assert main(["export", "csv", str(target), "--table", table]) == 0, capsys.readouterr()
    written = list(csv.reader(target.read_text(encoding="utf-8-sig").splitlines()))
    known = list(
        csv.reader((expected / f"{table}.csv").read_text(encoding="utf-8-sig").splitlines())
    )
    # Columns may be renamed and added at the end; what was told stays.
    expected_rows = _without_shares_of_running_stages(known) if table == "life-table" else known[1:]
    assert [row[: len(known[0])] for row in written[1:]] == expected_rows


def _without_shares_of_running_stages(known: list[list[str]]) -> list[list[str]]:
    """The first release gave a share of those that ended for stages that others were still in: it is no longer told."""
    here, share, through = (
        known[0].index("in it now"),
        known[0].index("share that went on"),
        len(known[0]) - 1,
    )
    running: set[str] = set()
    rows = []
    for row in known[1:]:
        if row[here] != "0":
            running.add(row[0])
            row = [*row[:share], "", "", "", row[through]]
        rows.append([*row[:through], "" if row[0] in running else row[through]])
    assert running
    return rows
