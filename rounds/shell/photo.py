"""``rounds photo FILE --for CODE``: copy a picture into the book and say it."""

from __future__ import annotations

import argparse
import os
import sys
from typing import Any

from rounds.app.book_folder import book_folder
from rounds.app.desk import Recorded
from rounds.app.photos import attach, was_kept
from rounds.entries.wording import saying
from rounds.shell.open_book import open_desk, tell_gaps
from rounds.views.words import literal


def photo(options: argparse.Namespace) -> int:
    """Attach a picture to a container or a brood; status 1 where it was refused or not saved."""
    desk = open_desk(book_folder(options.book, os.environ), keeper=options.by, may_begin=False)
    tell_gaps(desk)
    fields: dict[str, Any] = {"file": options.file}
    code = options.code
    fields["brood" if code in desk.bench.broods or code in desk.bench.founders else "container"] = (
        code
    )
    if options.stage:
        fields["stage"] = options.stage
    if options.instar:
        fields |= {"instar": options.instar, "stage": options.stage or "larva"}
    outcome = attach(desk, fields, None)
    if not isinstance(outcome, Recorded):
        print(f"rounds: {literal(outcome.line)}", file=sys.stderr)
        return 1
    if not was_kept(outcome):
        print(
            f"rounds: there is no picture called {literal(options.file)}; only its name was kept",
            file=sys.stderr,
        )
    for entry in outcome.entries:
        print(literal(saying(entry, desk.measures)))
    return 0
