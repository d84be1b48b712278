"""``rounds shelves``: the bench as it stands, read out shelf by shelf and cup by cup."""

from __future__ import annotations

import argparse

from rounds.shell.open_book import desk_of, in_words, tell_gaps
from rounds.shell.terminal import read_or_not, refused, say
from rounds.views.shelf_map import aloud_lines, shelves_of
from rounds.views.words import of_what_is_read


def shelves(options: argparse.Namespace) -> int:
    """Print the shelves, a line each and a line a container; status 2 where the book cannot be read
    wholly."""
    read_or_not()
    try:
        desk = desk_of(options, may_begin=False)
    except OSError as trouble:
        return refused(in_words(trouble), 2)
    has_gaps = tell_gaps(desk)
    shelves = shelves_of(desk.bench, desk.dues(), desk.moment())
    stands = any(True for _ in desk.bench.standing())
    empty = "All is in order." if stands else "Nothing stands on this bench."
    lines = list(aloud_lines(shelves, short=options.short))
    say(lines or [of_what_is_read(empty, is_whole=not has_gaps)])
    return 2 if has_gaps else 0
