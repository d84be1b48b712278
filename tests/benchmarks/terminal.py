"""A program in a pseudo-terminal of its own, 80x24: when the first and the last byte come after a key."""

from __future__ import annotations

import fcntl
import os
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

COLUMNS, ROWS = 80, 24
QUIET_S = 0.08  # without a byte and at rest for so long, it has drawn all there is
AT_REST_NS = 3_000_000  # of processor time in that: what waits for a key takes about nothing
NOTHING_S = 0.5  # a key that draws nothing is known by its rest
LONGEST_S = 120.0


class Answer(NamedTuple):
    """How long after a key the first and the last byte of what it drew came [ms], and how many bytes."""

    first: float
    last: float
    size: int


class Terminal:
    """A program and the terminal in which it runs."""

    def __init__(
        self, command: Sequence[str], environment: dict[str, str] | None = None, folder: str = "/"
    ) -> None:
        here, there = os.openpty()
        fcntl.ioctl(there, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
        kept = {
            name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
        }
        kept |= {"TERM": "xterm-256color", "PYTHONPATH": os.getcwd(), **(environment or {})}
        self.begun = time.perf_counter()
        self.process = os.fork()
        if not self.process:
            os.setsid()
            fcntl.ioctl(there, termios.TIOCSCTTY, 0)
            for stream in range(3):
                os.dup2(there, stream)
            os.closerange(3, 256)
            os.chdir(folder)
            os.execvpe(command[0], list(command), kept)
        os.close(there)
        self._terminal = here
        self.drawn = b""

    def started(self) -> Answer:
        """When the first and last byte of its first page came, since it was begun."""
        return self._until_at_rest(self.begun)

    def key(self, sign: str) -> Answer:
        """Press a key."""
        pressed = time.perf_counter()
        os.write(self._terminal, sign.encode())
        return self._until_at_rest(pressed)

    def memory_mb(self) -> float:
        """What it has in memory now."""
        status = Path(f"/proc/{self.process}/status").read_text()
        return int(status.split("VmRSS:")[1].split()[0]) / 1024

    def _worked_ns(self) -> int:
        """Processor time of all its threads so far."""
        tasks = Path(f"/proc/{self.process}/task").glob("*/schedstat")
        return sum(int(task.read_text().split()[0]) for task in tasks)

    def _until_at_rest(self, since: float) -> Answer:
        first = last = 0.0
        size, worked = 0, self._worked_ns()
        self.drawn = b""
        while time.perf_counter() - since < LONGEST_S:
            if select.select([self._terminal], [], [], QUIET_S)[0]:
                part = os.read(self._terminal, 1 << 16)
                last = time.perf_counter() - since
                first = first or last
                size += len(part)
                self.drawn += part
                continue
            before, worked = worked, self._worked_ns()
            waited = first or time.perf_counter() - since > NOTHING_S
            if worked - before < AT_REST_NS and waited:
                break
        return Answer(first * 1000, last * 1000, size)

    def close(self) -> None:
        """End it."""
        os.kill(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)
        os.close(self._terminal)


def rounds(book: Path) -> Terminal:
    """The program at a book."""
    return Terminal([sys.executable, "-m", "rounds", "--book", str(book)])
