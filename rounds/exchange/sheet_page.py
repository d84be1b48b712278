"""The helper's sheet as a page: to print and tick, or to read on a phone."""

from __future__ import annotations

from rounds.exchange.pages import page, text
from rounds.views.sheet import BLANK, CAUTIONS, NO_VISIT, NORMAL, RING, SEEN_BY, TICK, WASH, Entry, Sheet, Stretch, plants_line
from rounds.views.words import day_and_time

_STYLE = """
@page { margin: 12mm }
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
.wash td { font-weight: bold; text-align: center }
"""


def sheet_page(told: Sheet) -> bytes:
    """The whole page: the words of the plain sheet, a table for each of its stretches."""
    phone = f"Telephone: {told.phone or BLANK * 2}"
    body = [
        f"<h1>{text(told.name)}</h1>",
        f"<p>{'<br>'.join(text(one) for one in (*told.head, phone))}</p>",
        f'<p class="cautions">{text(CAUTIONS)}<br>{text(NORMAL)}</p>',
        *([f"<p>{text(plants_line(told))}</p>"] if told.plants else []),
        f"<p>{text(TICK)}</p>",
        *(_stretch(told, stretch) for stretch in told.stretches),
        f'<p class="ring">{text(RING)}</p>',
        f"<p>{text(SEEN_BY)}</p>",
    ]
    return page(told.name, _STYLE, "\n".join(body))


def _stretch(told: Sheet, stretch: Stretch) -> str:
    if not stretch.visits:
        return f"<p>{text(NO_VISIT)}</p>"
    heads = "".join(f'<th class="visit">{text(day_and_time(at, told.zone))}</th>' for at in stretch.visits)
    rows = "".join(_entry(entry, len(stretch.visits)) for entry in stretch.entries)
    alone = f"<p>{text(stretch.alone)}</p>" if stretch.leave_alone else ""
    return f"<table><thead><tr><th></th><th></th>{heads}</tr></thead><tbody>{rows}</tbody></table>{alone}"


def _entry(entry: Entry, visits: int) -> str:
    wash = f'<tr class="wash"><td colspan="{visits + 2}">{text(WASH)}</td></tr>' if entry.wash else ""
    rows = []
    for first, row in enumerate(entry.rows):
        boxes = "".join(f'<td class="box">{"<span></span>" if box else "--"}</td>' for box in row.boxes)
        rows.append(f"<tr><td>{'' if first else entry.number}</td><td>{text(row.text)}</td>{boxes}</tr>")
    return wash + "".join(rows)
