"""The helper's sheet as a page: to print and tick, or to read on a phone."""

from __future__ import annotations

from datetime import tzinfo

from rounds.bench.state import Bench
from rounds.care.away import Away
from rounds.exchange.pages import page, text
from rounds.views.away_page import CAUTIONS, TICK, SheetPlace, sheet_head, sheet_places

_STYLE = """
@page { margin: 12mm }
body { max-width: 44em; margin: 0 auto; padding: 1em; font: 16px/1.45 sans-serif; color: #000; background: #fff }
h1 { font-size: 1.4em; margin: 0 }
.cautions { border: 2px solid #000; padding: .5em 1em .5em 2em }
ol { list-style: none; padding: 0 }
ol > li { border-top: 1px solid #999; padding: .5em 0; break-inside: avoid }
.place { font-weight: bold }
.place::before { content: "\\2610\\00a0\\00a0"; font-weight: normal }
.wash, .off { font-weight: bold }
.wash { border: 2px solid #000; padding: .3em .5em; text-align: center }
.note { font-style: italic }
"""


def sheet_page(bench: Bench, plan: Away, zone: tzinfo) -> bytes:
    """The whole page, in walking order, cautions first."""
    name, *rest = sheet_head(bench, plan, zone)
    cautions = "".join(f"<li>{text(one)}</li>" for one in CAUTIONS)
    places = "\n".join(_place(place) for place in sheet_places(plan, zone))
    body = (
        f"<h1>{text(name)}</h1>\n<p>{'<br>'.join(text(one) for one in rest)}</p>\n"
        f'<ul class="cautions">{cautions}</ul>\n<p>{text(TICK)}</p>\n<ol>\n{places}\n</ol>'
    )
    return page(name, _STYLE, body)


def _place(place: SheetPlace) -> str:
    wash = '<li class="wash">Wash your hands.</li>\n' if place.wash_before else ""
    lines = [f'<span class="place">{text(place.title)}</span>']
    if place.hands_off:
        lines.append(f'<span class="off">{text(place.hands_off)}</span>')
    lines += [text(one) for one in (*place.todo, place.ring_if) if one]
    if place.last_note:
        lines.append(f'<span class="note">{text(place.last_note)}</span>')
    return f"{wash}<li>{'<br>'.join(lines)}</li>"
