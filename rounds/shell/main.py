"""What ``rounds ...`` does at a prompt."""

from __future__ import annotations

import atexit
import gc
import os
import sys
import time
from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, NoReturn

from rounds.shell.commands import plainly_said
from rounds.shell.terminal import ready_streams, showing, to_nobody

if TYPE_CHECKING:
    import argparse

DONE, REFUSED, USAGE = 0, 1, 2


def run() -> None:
    """The command; its exit status is 0 done, 1 refused or something late, 2 usage."""
    gc.disable()
    ready_streams()
    status = DONE
    try:
        status = main(sys.argv[1:])
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read our output stopped reading; nothing is wrong here, and the status stays.
        to_nobody(sys.stdout)
    except OSError as trouble:
        # What was said is on disk; only the telling of it could not be written.
        print(
            f"rounds: the output could not be written: {trouble.strerror or trouble}",
            file=sys.stderr,
        )
        to_nobody(sys.stdout)
        status = REFUSED
    except KeyboardInterrupt:
        status = 130
    except Exception as trouble:
        from rounds.shell import crash

        crash.tell(trouble)
        status = REFUSED
    _leave(status)


def _leave(status: int) -> NoReturn:
    """End at once: all is on disk, and taking what is in memory apart takes as long as some
    commands. Where a thread is still at work it is waited for."""
    threads = sys.modules.get("threading")
    if threads is not None and threads.active_count() > 1:
        sys.exit(status)
    sys.stdout.flush()
    sys.stderr.flush()
    atexit._run_exitfuncs()
    os._exit(status)


def main(arguments: Sequence[str]) -> int:
    """Do what the arguments say; the exit status comes back."""
    with showing():
        return _done(arguments)


def _done(arguments: Sequence[str]) -> int:
    asked = _calculation(arguments)
    if asked is None:
        options = plainly_said(arguments) or _parsed(arguments)
        asked = partial(options.do, options)
    if not _has_clock():
        print(
            "rounds: this machine's clock is past the year 2262; no time is known by it: set it"
            " right",
            file=sys.stderr,
        )
        return USAGE
    try:
        status: int = asked()
    except BrokenPipeError:
        raise
    except OSError as trouble:
        from rounds.shell.open_book import in_words
        from rounds.views.words import literal

        print(f"rounds: {literal(in_words(trouble))}", file=sys.stderr)
        return REFUSED
    return status


def _parsed(arguments: Sequence[str]) -> argparse.Namespace:
    from rounds.shell.arguments import parser_of

    return parser_of(arguments).parse_args(arguments)


def _calculation(arguments: Sequence[str]) -> Callable[[], int] | None:
    """What works out the calculation that is asked for; None where another command is meant."""
    if "calc" not in arguments:
        return None
    from rounds.shell import calc

    asked = calc.asked(arguments)
    return None if asked is None else lambda: calc.run(*asked)


def _has_clock() -> bool:
    """Whether the system's clock can be read: 64 bits of nanoseconds end in 2262."""
    try:
        return time.time_ns() > 0
    except OverflowError:
        return False


gc.enable()  # whoever runs a command in a process of its own has none looked for
