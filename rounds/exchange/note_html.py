"""A life-history note as one page that stands on its own: plots drawn inside, nothing fetched, for
a phone or on paper."""

from __future__ import annotations

from rounds.exchange.note_parts import NoteDocument, NoteTable
from rounds.exchange.note_svg import svg
from rounds.exchange.pages import page, text
from rounds.views.plots import Plot, plot_table

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
pre { font-size: .75em; overflow-x: auto }
tr { break-inside: avoid }
h2 { break-after: avoid }
@media print { body { padding: 0; font-size: 11pt } details { display: none } }
"""  # noqa: E501


def note_html(note: NoteDocument) -> bytes:
    """The whole page."""
    body = [f"<h1>{text(note.title)}</h1>"]
    for section in note.sections:
        body.append(f"<h2>{text(section.title)}</h2>")
        body += [_part(part) for part in section.parts]
    return page(note.title, _STYLE, "\n".join(body))


def _part(part: str | NoteTable | Plot) -> str:
    if isinstance(part, str):
        return f"<p>{text(part)}</p>"
    if isinstance(part, NoteTable):
        return _table(part)
    numbers = "\n".join(text(line) for line in plot_table(part))
    return (
        f"<figure>{svg(part)}<details><summary>the numbers of this"
        f" plot</summary><pre>{numbers}</pre></details></figure>"
    )


def _table(table: NoteTable) -> str:
    heads = "".join(f'<th scope="col">{text(head)}</th>' for head in table.heads)
    rows = "\n".join(
        f"<tr>{''.join(f'<td>{text(cell)}</td>' for cell in row)}</tr>" for row in table.rows
    )
    return (
        "<div"
        f' class="wide"><table><thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div>'  # noqa: E501
    )
