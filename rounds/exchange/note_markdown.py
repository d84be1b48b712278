"""A life-history note as Markdown (CommonMark, with tables): plots are told as tables of
numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rounds.exchange.note_parts import NoteDocument, NoteTable
from rounds.views.plots import Plot, plot_table
from rounds.views.words import literal

_OBEYED = re.compile(r"([\\`*_{}\[\]<>|#!~&])")
_BEGINS = re.compile(r"^(\s*)(\d*)([-+=.)])(?=\s|$)")


def note_markdown(note: NoteDocument) -> bytes:
    """The whole note."""
    lines = [f"# {plain(note.title)}", ""]
    for section in note.sections:
        lines += [f"## {plain(section.title)}", ""]
        for part in section.parts:
            lines += [*_part(part), ""]
    return ("\n".join(lines).rstrip("\n") + "\n").encode()


def plain(said: str) -> str:
    """Text from outside as it stands in Markdown: shown, never obeyed."""
    return _OBEYED.sub(r"\\\1", literal(said))


def _begun(said: str) -> str:
    """A paragraph that does not begin as a list or a heading would."""
    return _BEGINS.sub(r"\1\2\\\3", said)


def _part(part: str | NoteTable | Plot) -> Iterator[str]:
    if isinstance(part, str):
        yield _begun(plain(part))
    elif isinstance(part, NoteTable):
        yield f"| {' | '.join(plain(head) for head in part.heads)} |"
        yield f"|{'---|' * len(part.heads)}"
        for row in part.rows:
            yield f"| {' | '.join(plain(cell) for cell in row)} |"
    else:
        for text in plot_table(part):
            yield f"    {literal(text)}"
