"""A document as one page that stands on its own: plots and pictures inside, nothing fetched, for a
phone or on paper."""

from __future__ import annotations

import base64

from rounds.exchange.document import Document, DocumentTable, Part, Shown
from rounds.exchange.pages import page, text
from rounds.exchange.plot_svg import svg
from rounds.views.plots import plot_table

_STYLE = """
@page { size: A4; margin: 14mm }
body { max-width: 46em; margin: 0 auto; padding: 1em; font: 16px/1.5 serif; color: #000; background: #fff }
h1 { font-size: 1.4em; line-height: 1.25 }
h2 { font-size: 1.1em; margin: 1.6em 0 .4em; border-bottom: 1px solid #000 }
p { margin: .4em 0 }
.wide { overflow-x: auto }
table { border-collapse: collapse; font: .85em/1.35 sans-serif }
th, td { padding: .2em .6em .2em 0; text-align: left; vertical-align: top; border-bottom: 1px solid #bbb }
figure { margin: 1em 0; break-inside: avoid }
svg { width: 100%; height: auto; max-width: 40em }
img { max-width: 100%; height: auto }
figcaption { font-size: .85em }
pre { font-size: .75em; overflow-x: auto }
@media screen and (max-width: 30em) {
  body { padding: .6em }
  table, tbody, tr, td { display: block }
  thead { display: none }
  tr { padding: .4em 0; border-bottom: 1px solid #000 }
  td { border: 0; padding: .1em 0 }
  td::before { content: attr(data-head) ": "; font-weight: bold }
}
tr { break-inside: avoid }
h2 { break-after: avoid }
@media print { body { padding: 0; font-size: 11pt } details { display: none } }
"""  # noqa: E501


def document_html(note: Document) -> bytes:
    """The whole page."""
    body = [f"<h1>{text(note.title)}</h1>"]
    for section in note.sections:
        body.append(f"<h2>{text(section.title)}</h2>")
        body += [_part(part) for part in section.parts]
    return page(note.title, _STYLE, "\n".join(body))


def _part(part: Part) -> str:
    if isinstance(part, str):
        return f"<p>{text(part)}</p>"
    if isinstance(part, DocumentTable):
        return _table(part)
    if isinstance(part, Shown):
        return _picture(part)
    numbers = "\n".join(text(line) for line in plot_table(part))
    return (
        f"<figure>{svg(part)}<details><summary>the numbers of this"
        f" plot</summary><pre>{numbers}</pre></details></figure>"
    )


def _picture(shown: Shown) -> str:
    data = base64.b64encode(shown.picture.data).decode("ascii")
    caption = text(shown.caption)
    return (
        f'<figure><img alt="{caption}" src="data:{shown.picture.media_type};base64,{data}">'
        f"<figcaption>{caption}</figcaption></figure>"
    )


def _cells(table: DocumentTable, row: tuple[str, ...]) -> str:
    """Each cell with its heading, which stands before it where the page is narrow."""
    return "".join(
        f'<td data-head="{text(head)}">{text(cell)}</td>'
        for head, cell in zip(table.heads, row, strict=True)
    )


def _table(table: DocumentTable) -> str:
    heads = "".join(f'<th scope="col">{text(head)}</th>' for head in table.heads)
    rows = "\n".join(f"<tr>{_cells(table, row)}</tr>" for row in table.rows)
    return (
        "<div"
        f' class="wide"><table><thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div>'  # noqa: E501
    )
