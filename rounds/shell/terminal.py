"""Whatever the terminal is: streams that are closed, or that cannot write every sign, end no work."""

from __future__ import annotations

import codecs
import io
import os
import sys

# Signs of the screens and pages in the width of one letter, for terminals that have only the letters of ASCII.
_IN_ASCII = str.maketrans("…–—×·█▏▔▁▐│─←→↑↓‹›°′″±≥≤µ‘’“”", "..-x.#|--||-<>^v<>o'\"~><u''\"\"")  # fmt: skip


def _plain(trouble: UnicodeError) -> tuple[str | bytes, int]:
    """A sign that the stream cannot write, as the nearest one that it can; where there is none, a question mark."""
    if not isinstance(trouble, UnicodeEncodeError):
        raise trouble
    signs = trouble.object[trouble.start : trouble.end].translate(_IN_ASCII)
    return "".join(sign if sign.isascii() else "?" for sign in signs), trouble.end


def ready_streams() -> None:
    """Give closed streams a place to go, and let none fail on a sign that it cannot write or read."""
    codecs.register_error("plain", _plain)
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115 - open for as long as the program runs
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # what cannot be read is kept as it came, so that it can be refused
            stream.reconfigure(errors="surrogateescape" if stream is sys.stdin else "plain")
