"""A long history of an invented bench: the same cups tended twice a day for years, by two laptops, written straight to files.

Run: python -m tests.benchmarks.long_book FOLDER [ENTRIES] [CONTAINERS]
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

from rounds.daybook import new_id
from rounds.entries import codec as written
from rounds.entries import registry as k
from rounds.entries.base import Entry
from tests.benchmarks.bench_due import NOW, entries

LAPTOPS = ("aaaa1111", "bbbb2222")
TENDED = {
    "laying": (
        (k.Drank, {}),
        (k.HostSeen, {}),
        (k.Searched, {"found": 0}),
        (k.FeederChanged, {}),
        (k.Looked, {"sign": "as usual"}),
    ),
    "eggs": ((k.LidOpened, {}), (k.Looked, {})),
    "rearing": ((k.HostSeen, {"left": "plenty"}), (k.Cleaned, {}), (k.Looked, {})),
    "pupation": ((k.Misted, {}), (k.Looked, {})),
}
SPECIES = ("Boloria dia", "Aporia crataegi", "Lycaena tityrus", "Zygaena ephialtes")
USUALLY_MORE = {"laying": 0.45, "rearing": 0.25}  # entries a walk that come to pass beside
PLANT_LASTS, A_FIND, TO_HATCH, TO_GO = 8, 20, 12, 18  # walks, of which there are two a day


def comes_to_pass(
    purpose: str, walk: int, place: int
) -> Iterator[tuple[type[Entry], dict[str, object]]]:
    """What happens now and then beside the usual: the plant is renewed, eggs are found, hatch, and
    what hatched goes."""
    turn = walk + place
    if purpose in ("laying", "rearing") and not turn % PLANT_LASTS:
        yield k.HostOut, {"fate": "binned", "sure": True}
        yield k.HostIn, {"plant": ("violet", "dock")[turn // PLANT_LASTS % 2], "sprigs": 2}
    if purpose == "laying" and walk >= A_FIND:
        found = turn % A_FIND
        if not found:
            yield k.Searched, {"found": 6, "brood": f"Q{place}/A"}
        elif found == TO_HATCH and walk >= A_FIND + TO_HATCH:
            yield k.Hatched, {"number": 6}
        elif found == TO_GO and walk >= A_FIND + TO_GO:
            yield k.Released, {"stage": "larva", "number": 6}


def history(count: int, containers: int, until: datetime = NOW) -> Iterator[Entry]:
    """So many entries, in order, that end just before an instant; ids grow with them."""
    begun = [
        one for one in entries(containers) if isinstance(one, k.SetUp | k.Stocked | k.ShelfSetUp)
    ]
    begun += [one for one in entries(containers) if isinstance(one, k.HostIn)]
    begun += [
        k.BroodBegun(
            id="", at=one.at, logged=one.at, code=one.brood, taxon=SPECIES[place % len(SPECIES)]
        )
        for place, one in enumerate(begun)
        if isinstance(one, k.Stocked)
    ]
    cups = [(one.container, one.purpose) for one in begun if isinstance(one, k.SetUp)]
    a_walk = 3 + sum(len(TENDED[purpose]) + USUALLY_MORE.get(purpose, 0) for _, purpose in cups)
    walks = max(1, int((count - len(begun)) // a_walk))
    start = until - timedelta(hours=12 * walks + 24)
    number = 0
    last = ""

    def said(kind: type[Entry], at: datetime, **fields: object) -> Entry:
        nonlocal number, last
        number += 1
        last = new_id(round(at.timestamp() * 1000), number.to_bytes(8, "big"), last)
        return kind(id=last, at=at, logged=at, by="KM", **fields)  # type: ignore[call-arg]

    for one in begun:
        fields = {
            name: getattr(one, name)
            for name in one.__struct_fields__
            if name not in ("id", "at", "logged", "by")
        }
        if isinstance(one, k.HostIn):
            fields["cut"] = start
        yield said(type(one), start, **fields)
    for walk in range(walks):
        at = until - timedelta(hours=12 * (walks - walk))
        begins = said(k.RoundStarted, at, name="morning" if walk % 2 else "evening")
        yield begins
        yield said(
            k.Air, at, temperature_c=20 + walk % 7, humidity_percent=60 + walk % 11, round=begins.id
        )
        for place, (code, purpose) in enumerate(cups):
            for kind, fields in (*TENDED[purpose], *comes_to_pass(purpose, walk, place)):
                at += timedelta(seconds=min(8, 20_000 // a_walk))
                yield said(kind, at, container=code, round=begins.id, **fields)
        yield said(k.RoundFinished, at, round=begins.id)
    for _ in range(count - number):
        yield said(k.Note, until - timedelta(minutes=5), text="the sill is dry")


def write_book(folder: Path, count: int, containers: int = 100, until: datetime = NOW) -> None:
    """A book of that history; its laptops take turns by the week."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    name, lines = "", []
    for one in history(count, containers, until):
        laptop = LAPTOPS[one.at.isocalendar().week % 2]
        file = f"entries-{laptop}-{one.logged:%Y-%m}.jsonl"
        if file != name:
            _append(folder, name, lines)
            name, lines = file, []
        lines.append(json.dumps(written.write(one), ensure_ascii=False, separators=(",", ":")))
    _append(folder, name, lines)


def _append(folder: Path, name: str, lines: list[str]) -> None:
    if lines:
        with (folder / name).open("a", encoding="utf-8") as file:
            file.write("\n".join(lines) + "\n")
        (folder / name).chmod(0o600)


if __name__ == "__main__":
    write_book(Path(sys.argv[1]), *(int(one) for one in sys.argv[2:]))
