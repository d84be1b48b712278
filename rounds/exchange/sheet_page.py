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
    SheetPage,
    head_parts,
    page_words,
    pages_of,
    phone_line,
)
from rounds.views.words import day_and_time

_STYLE = """
@page { margin: 10mm }
body { max-width: 60em; margin: 0 auto; padding: 1em; font: 15px/1.35 sans-serif; color: #000; background: #fff }
h1 { font-size: 1.4em; margin: 0 }
p { margin: .4em 0 }
.cautions, .ring { border: 2px solid #000; padding: .4em .8em }
table { border-collapse: collapse; width: 100%; margin: .6em 0; page-break-after: auto }
thead { display: table-header-group }
tr { break-inside: avoid }
th, td { border-top: 1px solid #999; padding: .25em .3em; text-align: left; vertical-align: top }
th.visit, td.box { text-align: center; width: 3.2em; font-weight: normal }
td.box span { display: inline-block; width: 1.6em; height: 1.1em; border: 1px solid #000 }
td.box span.look { width: .8em; border: 0 }
.wash td { font-weight: bold; text-align: center }
.name { display: flex; justify-content: space-between }
section + section { border-top: 3px double #000; margin-top: 1em; padding-top: 1em }
@media print {
  body { max-width: none; padding: 0; font-size: 9pt; line-height: 1.2 }
  p, table { margin: .2em 0 }
  .cautions, .ring { padding: .2em .4em; border-width: 1px }
  th, td { padding: .1em .3em }
  section + section { border: 0; margin: 0; padding: 0; break-before: page }
}
"""  # noqa: E501

_SIGNS = {DO: "<span></span>", ONLY_LOOK: '( <span class="look"></span> )', NOTHING: "--"}


def sheet_page(told: Sheet) -> bytes:
    """The whole page: the words of the plain sheet on as many pages of paper, each with the
    telephone and its number."""
    pages = pages_of(told)
    body = [
        _section(told, one, page_words(number, len(pages))) for number, one in enumerate(pages, 1)
    ]
    return page(told.name, _STYLE, "\n".join(body))


def _section(told: Sheet, one: SheetPage, number: str) -> str:
    cautions, *rest = head_parts(told) if one.is_first else [""]
    parts = [
        f'<h1 class="name"><span>{text(told.name)}</span> <small>{text(number)}</small></h1>',
        (
            f"<p>{'<br>'.join(text(line) for line in (*(told.head if one.is_first else ()), phone_line(told)))}</p>"  # noqa: E501
        ),
        *([f'<p class="cautions">{text(cautions)}</p>'] if cautions else []),
        *(f"<p>{text(part)}</p>" for part in rest),
        _table(told, one),
        *([f"<p>{text(one.stretch.alone)}</p>"] if one.is_last and one.stretch.leave_alone else []),
        f'<p class="ring">{text(RING)}</p>',
        f"<p>{text(SEEN_BY)}</p>",
    ]
    return f"<section>{''.join(parts)}</section>"


def _table(told: Sheet, one: SheetPage) -> str:
    visits = one.stretch.visits
    if not visits:
        return f"<p>{text(NO_VISIT)}</p>"
    heads = "".join(f'<th class="visit">{text(day_and_time(at, told.zone))}</th>' for at in visits)
    rows = "".join(_entry(entry, len(visits)) for entry in one.entries)
    return f"<table><thead><tr><th></th><th></th>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def _entry(entry: SheetEntry, visits: int) -> str:
    wash = "".join(
        f'<tr class="wash"><td colspan="{visits + 2}">{text(one)}</td></tr>' for one in entry.before
    )
    rows = []
    for first, row in enumerate(entry.rows):
        boxes = "".join(f'<td class="box">{_SIGNS[box]}</td>' for box in row.boxes)
        rows.append(
            f"<tr><td>{'' if first else entry.number}</td><td>{text(row.text)}</td>{boxes}</tr>"
        )
    return wash + "".join(rows)
