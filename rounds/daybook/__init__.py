"""The append-only store: TinyDB over JSON Lines.

What is named here is loaded when it is first asked for: whoever needs but one module of it loads no
more.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rounds.bench.entry_ids import time_of_id
    from rounds.daybook.book import Daybook
    from rounds.daybook.gaps import Gaps, lacking_words
    from rounds.daybook.ids import NewIds, content_of, id_of_content, new_id, tag_for
    from rounds.daybook.kept_aside import kept_words
    from rounds.daybook.lines import (
        NEWER,
        FileLine,
        LineProblems,
        LinesRead,
        Position,
        Problem,
        Progress,
        says_otherwise,
        still_broken,
    )
    from rounds.daybook.partial import Partial, mark, missed_words
    from rounds.daybook.storage import AppendOnly, DaybookDB, LogTable, NotSaved

_HOMES = {
    "bench.entry_ids": "time_of_id",
    "daybook.book": "Daybook",
    "daybook.gaps": "Gaps lacking_words",
    "daybook.ids": "NewIds content_of id_of_content new_id tag_for",
    "daybook.kept_aside": "kept_words",
    "daybook.lines": "NEWER FileLine LineProblems LinesRead Position Problem Progress"
    " says_otherwise still_broken",
    "daybook.partial": "Partial mark missed_words",
    "daybook.storage": "AppendOnly DaybookDB LogTable NotSaved",
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names.split()}


def __getattr__(name: str) -> object:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'rounds.daybook' has no attribute '{name}'")
    found = globals()[name] = getattr(import_module(f"rounds.{_HOME_OF[name]}"), name)
    return found
