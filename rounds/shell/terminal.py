"""Whatever the terminal is: streams that are closed, or that cannot write every sign, end no
work."""

from __future__ import annotations

import codecs
import io
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, nullcontext
from typing import IO, Any, TextIO, cast

from rounds.views.words import literal, literal_lines

# Signs of the screens and pages in the width of one letter, for terminals that have only the
# letters of ASCII.
_IN_ASCII = str.maketrans(
    "…–—×·█▏▔▁▐│─←→↑↓‹›°′″±≥≤µ‘’“”▖▗▄▘▝▀▌▞▚▛▜▙▟", "..-x.#|--||-<>^v<>o'\"~><u''\"\".._''^|/\\####"
)


def _plain(trouble: UnicodeError) -> tuple[str | bytes, int]:
    """A sign that the stream cannot write, as the nearest one that it can; where there is none, a
    question mark."""
    if not isinstance(trouble, UnicodeEncodeError):
        raise trouble
    signs = trouble.object[trouble.start : trouble.end].translate(_IN_ASCII)
    return "".join(sign if sign.isascii() else "?" for sign in signs), trouble.end


def ready_streams() -> None:
    """Give closed streams a place to go, and let none fail on a sign that it cannot write or
    read."""
    codecs.register_error("plain", _plain)
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115 - open for as long as the program runs
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        # what cannot be read is kept as it came, so that it can be refused
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="surrogateescape" if stream is sys.stdin else "plain")


class SafeStream:
    """A stream to which nothing goes that a terminal would obey, from whatever name it comes.

    All that the shell prints goes through here. Only line ends pass, and the return to the line's
    beginning with which a progress line begins. JSON is escaped before, so that it stays the same
    data (``views.words.json_safe``).
    """

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self.needs_reader = True

    def write(self, text: str) -> int:
        """Write a text, made visible where it would be obeyed."""
        begin = "\r" if text.startswith("\r") else ""
        with self.read_or_not():
            self._stream.write(begin + literal_lines(text[len(begin) :]))
        return len(text)

    def flush(self) -> None:
        """Write what waits."""
        with self.read_or_not():
            self._stream.flush()

    @contextmanager
    def read_or_not(self) -> Iterator[None]:
        """What is written meanwhile ends nothing where no reader is needed."""
        try:
            yield
        except BrokenPipeError:
            if self.needs_reader:
                raise
            to_nobody(self._stream)

    def writelines(self, lines: Iterable[str]) -> None:
        """Write texts one after the other."""
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> Any:
        """All else is the stream's own."""
        return getattr(self._stream, name)


def to_nobody(stream: TextIO) -> None:
    """Let what is still written to a stream whose reader left go nowhere."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def read_or_not() -> None:
    """Let the command go on to its end where its reader stops reading: it only tells, and its
    status says something too."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, SafeStream):
            stream.needs_reader = False


def give(file: IO[bytes]) -> None:
    """Write a file to standard output as it is."""
    out = sys.stdout
    with out.read_or_not() if isinstance(out, SafeStream) else nullcontext():
        out.flush()
        import shutil  # only where something is copied out: a line that is written needs none

        shutil.copyfileobj(file, out.buffer)
        out.buffer.flush()


@contextmanager
def showing() -> Iterator[None]:
    """Let all that is printed meanwhile be shown, never obeyed."""
    before = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = (
        cast("TextIO", one if isinstance(one, SafeStream) else SafeStream(one)) for one in before
    )
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def warn(line: str) -> None:
    """Say something beside what is printed, on standard error."""
    sys.stdout.flush()
    print(f"rounds: {literal(line)}", file=sys.stderr, flush=True)


def refused(line: str, status: int = 1) -> int:
    """Say why something is not done; the exit status comes back."""
    warn(line)
    return status


def say(lines: Iterable[str]) -> None:
    """Print lines, shown and never obeyed."""
    sys.stdout.writelines(f"{literal(line)}\n" for line in lines)


def piped() -> Iterator[str]:
    """The lines that come through a pipe, without the mark that some editors put before the
    first."""
    for number, line in enumerate(sys.stdin):
        yield (line if number else line.removeprefix("\ufeff")).rstrip("\n")
