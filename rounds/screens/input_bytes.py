"""What a terminal sends that is not UTF-8, as one set to Latin-1 does for an umlaut: a sign that
stands for it, never an end."""

from __future__ import annotations

import codecs
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
