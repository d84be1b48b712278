"""What a page that leaves the bench is made of: sections of words, tables, plots and pictures.

It is written as HTML or Markdown from the same parts.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rounds.bench.plurals import count
from rounds.entries.slots import listed
from rounds.exchange.pictures import BookPicture
from rounds.exchange.source import Source
from rounds.views.plots import Plot

NOT_SAID = "not recorded"


@dataclass(frozen=True, slots=True)
class DocumentTable:
    """Headings with their units, and rows of as many words."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def table(heads: str, rows: Iterable[tuple[str, ...]]) -> DocumentTable:
    """A table under headings that stand as text, a comma between."""
    return DocumentTable(listed(heads, by=", "), tuple(rows))


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture with what stands below it."""

    picture: BookPicture
    caption: str


Part = str | DocumentTable | Plot | Shown


@dataclass(frozen=True, slots=True)
class Section:
    """A heading, and what stands under it."""

    title: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Document:
    """A title, and the sections below it."""

    title: str
    sections: tuple[Section, ...]


def sentence(words: str) -> str:
    """Words as a sentence of their own."""
    return f"{words[:1].upper()}{words[1:]}."


def rights_section(source: Source) -> Section:
    """Whose record it is, who wrote it, and on what terms others may use it."""
    settings = source.bench.settings
    lines = sorted({entry.by for entry in source.counting if entry.by})
    authors = list(dict.fromkeys(map(source.full_name, lines)))
    return Section(
        "Whose record this is",
        (
            f"Holder: {source.holder or NOT_SAID}.",
            f"Organisation: {settings.get('organisation', '') or NOT_SAID}.",
            f"Recorded by: {', '.join(authors) or NOT_SAID}.",
            f"Licence: {settings.get('licence', '') or 'not recorded; ask the holder before use'}.",
            (
                f"Written on {source.day(source.moment.now)} from a daybook of"
                f" {count(len(source.counting), 'line')}."
            ),
        ),
    )
