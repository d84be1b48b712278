"""Opening the screens; without a terminal, the bench as plain lines."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

from rounds.app.desk import Desk
from rounds.shell.open_book import desk_of

if TYPE_CHECKING:
    import argparse

FRAMES_A_SECOND = "250"


def look(options: argparse.Namespace) -> int:
    """Open the bench of a book."""
    return look_at(desk_of(options))


def demo(options: argparse.Namespace | None = None) -> int:
    """Open a fresh demo."""
    from rounds.shell.demo import new_demo

    return look_at(new_demo())


def look_at(desk: Desk, *, walk: bool = False, minutes: int = 0) -> int:
    """Open the bench of a desk, or at once its round; without a terminal, print it."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()) or os.environ.get("TERM") == "dumb":
        from rounds.views.plain import bench_lines

        if desk.clock.zone_not_known:
            print(desk.clock.zone_not_known)
        moment, gaps = desk.moment(), desk.gaps
        lines = bench_lines(desk.bench, desk.dues(), moment, gaps, desk.foresight)
        sys.stdout.writelines(f"{text}\n" for text in lines)
        return 2 if desk.gaps else 0
    # what comes a moment after the first of a key's changes waits for the next frame, not long
    os.environ.setdefault("TEXTUAL_FPS", FRAMES_A_SECOND)
    from rounds.screens.app import SHOW_DEMO, RoundsApp

    app = RoundsApp(desk, walk=walk, minutes=minutes, greet=True)
    app.run()
    if app.trouble:
        from rounds.shell.crash import Crashed

        raise Crashed(app.unsaved_words()) from app.trouble
    if app.return_code == SHOW_DEMO:
        return demo()
    desk.reading.rest()
    desk.keep_checks()
    return app.return_code or 0
