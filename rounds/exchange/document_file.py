"""A document written to a file."""

from __future__ import annotations

from typing import BinaryIO

from rounds.bench.plurals import count
from rounds.exchange.document import Document
from rounds.exchange.document_html import document_html
from rounds.exchange.document_markdown import document_markdown


def write_document(document: Document, ending: str, out: BinaryIO) -> list[str]:
    """Write it as its file's ending says; what was written is told."""
    if ending == ".md":
        out.write(document_markdown(document))
    else:
        out.write(document_html(document))
    return [f"{document.title}: {count(len(document.sections), 'section')}"]
