"""Whether the terminal is still there, and what it sends that is not UTF-8."""

from __future__ import annotations

import codecs
import errno
import sys
from functools import partial


def read_every_byte() -> None:
    """Let the framework's driver put U+FFFD in the place of bytes that it cannot read.

    It decodes strictly, with a decoder that it makes when its thread begins; there is no setting
    for it.
    """
    try:
        from textual.drivers import linux_driver
    except ImportError:  # not on this platform
        return
    vars(linux_driver)["getincrementaldecoder"] = _lenient


def _lenient(encoding: str) -> partial[codecs.IncrementalDecoder]:
    return partial(codecs.getincrementaldecoder(encoding), errors="replace")


def terminal_is_gone() -> bool:
    """Whether standard input was a terminal and its other end was closed."""
    try:
        import termios
    except ImportError:  # not on this platform
        return False
    stream = sys.__stdin__
    if stream is None:
        return False
    try:
        termios.tcgetattr(stream.fileno())
    except termios.error as trouble:
        return bool(trouble.args) and trouble.args[0] == errno.EIO
    except (OSError, ValueError):
        return False
    return False
