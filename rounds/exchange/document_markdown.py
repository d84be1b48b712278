"""A document as Markdown (CommonMark, with tables): plots are told as tables of numbers, pictures
by name."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rounds.exchange.document import Document, DocumentTable, Part, Shown
from rounds.views.plots import plot_table
from rounds.views.words import literal

_OBEYED = re.compile(r"([\\`*_{}\[\]<>|#!~&])")
_BEGINS = re.compile(r"^(\s*)(\d*)([-+=.)])(?=\s|$)")


def document_markdown(note: Document) -> bytes:
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


def _part(part: Part) -> Iterator[str]:
    if isinstance(part, str):
        yield _BEGINS.sub(r"\1\2\\\3", plain(part))
    elif isinstance(part, DocumentTable):
        yield f"| {' | '.join(plain(head) for head in part.heads)} |"
        yield f"|{'---|' * len(part.heads)}"
        for row in part.rows:
            yield f"| {' | '.join(plain(cell) for cell in row)} |"
    elif isinstance(part, Shown):
        yield f"Picture {plain(part.picture.name)}: {plain(part.caption)}"
    else:
        for text in plot_table(part):
            yield f"    {literal(text)}"
