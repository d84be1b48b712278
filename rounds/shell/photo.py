"""``rounds photo FILE --for CODE``: copy a picture into the book and say it."""

from __future__ import annotations

import argparse
from typing import Any

from rounds.app.desk import Recorded
from rounds.app.photos import attach, was_kept
from rounds.entries.phrase.times import UnclearTime, read_time
from rounds.shell.open_book import desk_of, tell_gaps
from rounds.shell.terminal import refused, say, warn


def photo(options: argparse.Namespace) -> int:
    """Attach a picture to a container or a brood; status 1 where it was refused or not saved."""
    desk = desk_of(options, may_begin=False)
    tell_gaps(desk)
    is_brood = options.code in desk.bench.broods or options.code in desk.bench.founders
    shows = "brood" if is_brood else "container"
    fields: dict[str, Any] = {"file": options.file, shows: options.code}
    if options.stage:
        fields["stage"] = options.stage
    if options.instar:
        fields |= {"instar": options.instar, "stage": options.stage or "larva"}
    at = read_time(options.at, now=desk.now(), zone=desk.zone) if options.at else None
    if isinstance(at, UnclearTime):
        warn(f"--at: {at.message}")
        return 2
    outcome = attach(desk, fields, at)
    if not isinstance(outcome, Recorded):
        return refused(outcome.line)
    if not was_kept(outcome):
        warn(f"there is no picture called {options.file}; only its name was kept")
    say([desk.told(outcome.entries)])
    return 0
