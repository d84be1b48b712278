"""Whether the terminal is still there.

One that was closed while its hang-up is ignored would leave the screens running.
"""

from __future__ import annotations

import errno
import sys


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
