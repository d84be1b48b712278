"""The helper's sheet as a page: to print and tick, or to read on a phone."""

from __future__ import annotations

from rounds.exchange.pages import page, text
from rounds.views.sheet import (
    DO,
    NO_VISIT,
    NOTHING,
    ONLY_LOOK,
    RING,
    SEEN_BY,
    Sheet,
    SheetEntry,
    SheetSpan,
    head_parts,
    phone_line,
)
from rounds.views.words import day_and_time

_STYLE = """
@page { margin: 10mm; @bottom-right { content: "page " counter(page) " of " counter(pages); font: 7pt sans-serif } }
body { max-width: 60em; margin: 0 auto; padding: 1em; font: 15px/1.35 sans-serif; color: #000; background: #fff }
h1 { font-size: 1.4em; margin: 0 }
p { margin: .4em 0 }
.cautions, .ring { border: 2px solid #000; padding: .4em .8em }
table { border-collapse: collapse; width: 100%; margin: .6em 0; }
thead { display: table-header-group }
tfoot { display: table-footer-group }
tr, tbody { break-inside: avoid }
th, td { border-top: 1px solid #999; padding: .25em .3em; text-align: left; vertical-align: top }
th.visit, td.box { text-align: center; width: 3.2em; font-weight: normal }
td.box span { display: inline-block; width: 1.6em; height: 1.1em; border: 1px solid #000 }
td.box span.look { width: .8em; border: 0 }
.wash td { font-weight: bold; text-align: center }
.again { display: none }
section + section { border-top: 3px double #000; margin-top: 1em; padding-top: 1em }
@media print {
  body { max-width: none; padding: 0; font-size: 9pt; line-height: 1.2 }
  p, table { margin: .2em 0 }
  .cautions, .ring { padding: .2em .4em; border-width: 1px }
  th, td { padding: .1em .3em }
  .again { display: table-row }
  section + section { border: 0; margin: 0; padding: 0; break-before: page }
}
"""  # noqa: E501

_SIGNS = {DO: "<span></span>", ONLY_LOOK: '( <span class="look"></span> )', NOTHING: "--"}


def sheet_page(told: Sheet) -> bytes:
    """The whole page: the words of the plain sheet, broken where the paper ends, each piece of it
    with telephone and visits above its places, and below them when to telephone."""
    return page(told.name, _STYLE, "\n".join(_section(told, one) for one in told.stretches))


def _section(told: Sheet, stretch: SheetSpan) -> str:
    cautions, *rest = head_parts(told)
    parts = [
        f"<h1>{text(told.name)}</h1>",
        f"<p>{'<br>'.join(text(line) for line in (*told.head, phone_line(told)))}</p>",
        f'<p class="cautions">{text(cautions)}</p>',
        *(f"<p>{text(part)}</p>" for part in rest),
        _table(told, stretch),
    ]
    return f"<section>{''.join(parts)}</section>"


def _table(told: Sheet, stretch: SheetSpan) -> str:
    visits = stretch.visits
    whole = f'<td class="whole" colspan="{len(visits) + 2}">'
    heads = "".join(f'<th class="visit">{text(day_and_time(at, told.zone))}</th>' for at in visits)
    rows = [_entry(entry, len(visits)) for entry in stretch.entries]
    rows += [f"<tbody><tr>{whole}{text(NO_VISIT)}</td></tr></tbody>"] if not visits else []
    if stretch.leave_alone:
        rows += [f"<tbody><tr>{whole}{text(stretch.alone)}</td></tr></tbody>"]
    return (
        f'<table><thead><tr class="again">{whole}{text(phone_line(told))}</td></tr>'
        f"<tr><th></th><th></th>{heads}</tr></thead>"
        f'<tfoot><tr>{whole}<p class="ring">{text(RING)}</p>'
        f"<p>{text(SEEN_BY)}</p></td></tr></tfoot>"
        f"{''.join(rows)}</table>"
    )


def _entry(entry: SheetEntry, visits: int) -> str:
    """All of one place, which no end of a page parts while there is room on the next."""
    wash = "".join(
        f'<tr class="wash"><td colspan="{visits + 2}">{text(one)}</td></tr>' for one in entry.before
    )
    rows = []
    for first, row in enumerate(entry.rows):
        boxes = "".join(f'<td class="box">{_SIGNS[box]}</td>' for box in row.boxes)
        rows.append(
            f"<tr><td>{'' if first else entry.number}</td><td>{text(row.text)}</td>{boxes}</tr>"
        )
    return f"<tbody>{wash}{''.join(rows)}</tbody>"
