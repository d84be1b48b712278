"""Taking over from an earlier season's book: species, plants, plan and settings, nothing that stood
on its bench."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec

from rounds.bench.state import Bench
from rounds.daybook.full_read import FullRead, history_of
from rounds.daybook.lines import entry_files
from rounds.entries import registry as k
from rounds.entries.base import Entry, Saying
from rounds.entries.schema import OWN

OF_THE_PLACE = frozenset({"bench"})  # a new book has a name of its own


def taken_over(folder: str) -> list[Saying] | str:
    """What can be taken over from the book in that folder; or one line that says why not.

    The folder is only read.
    """
    path = Path(folder).expanduser()
    try:
        if not path.is_dir() or not any(entry_files(path)):
            return f"there is no book in {path}; give the folder that holds its entries files"
        bench = history_of(FullRead(path)).bench
    except OSError as trouble:
        return f"{path} cannot be read: {trouble.strerror or trouble}"
    return (
        standing_knowledge(bench)
        or f"the book in {path} has no species, plants, plan or settings to take over"
    )


def standing_knowledge(bench: Bench) -> list[Saying]:
    """What a bench holds true whatever stands on it; rules for one container stay behind."""
    entries: list[Entry] = [*bench.taxa.values()]
    entries += [known for by_kept in bench.plants.values() for known in by_kept.values()]
    entries += [change for change in bench.plan if not change.container]
    to_record = [(type(entry), _fields(entry)) for entry in entries]
    to_record += [
        (k.Setting, {"name": name, "value": value})
        for name, value in bench.settings.items()
        if name not in OF_THE_PLACE
    ]
    return to_record


def _fields(entry: Entry) -> dict[str, Any]:
    """The fields as they are said: a name in double quotes, for it is meant as it is written; what
    is as it is of any is not said."""
    fields = {
        info.name: value
        for info in msgspec.structs.fields(entry)
        if info.name not in OWN and (value := getattr(entry, info.name)) != info.default
    }
    if isinstance(entry, k.Taxon | k.PlantKnown):
        return fields | {"name": f'"{entry.name}"'}
    return fields
