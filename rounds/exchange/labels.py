"""Labels for containers: what stands in each, and a square that a phone reads to find it again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import BinaryIO

from rounds.bench.plurals import count
from rounds.bench.state import Container
from rounds.checks.walking_order import walking_order
from rounds.entries.base import Purpose
from rounds.entries.check_labels import called
from rounds.exchange.atomic_file import ExportRefused, chosen
from rounds.exchange.pages import page, text
from rounds.exchange.pins import wrapped
from rounds.exchange.source import Source
from rounds.views.bench_page import stock_words, without_stock

PURPOSE_WORDS: dict[Purpose, str] = {
    "host store": "store",
    "overwintering": "winter",
    "quarantine": "new",
}
WIDTH_MM, HEIGHT_MM = 50, 25
CODE_MM = 5.5
TYPES_MM = (2.6, 2.4, 2.2, 2.0, 1.8, 1.6, 1.4)  # 1.4 is 4 point, as on pins
SMALLEST_MM = TYPES_MM[-1]
_EDGES_MM = 2 * (1 + 0.2)  # padding and border of both sides
QUIET_ZONE = 4  # empty modules around a square, ISO/IEC 18004
_STYLE = """
@page { margin: 8mm }
body { margin: 0; font: 2.6mm/1.25 sans-serif; color: #000; background: #fff }
main { display: flex; flex-wrap: wrap; gap: 2mm }
.label { box-sizing: border-box; width: WIDTHmm; height: HEIGHTmm; padding: 1mm; border: .2mm solid #000; display: flex;
  gap: 1mm; overflow: hidden; break-inside: avoid }
.label svg { width: SQUAREmm; height: SQUAREmm; flex: none }
.label div { min-width: 0; overflow-wrap: anywhere }
.whole { display: inline-block; margin-right: .5mm }
.code { display: block; font-size: 5.5mm; line-height: 1.1; font-weight: bold }
"""  # noqa: E501


@dataclass(frozen=True, slots=True)
class Label:
    """What stands on a container's label."""

    code: str
    purpose: str
    holds: str
    broods: tuple[str, ...]
    date: str


def write_labels(
    source: Source, codes: Iterable[str], size: tuple[int, int], out: BinaryIO
) -> list[str]:
    """Write a page of labels, of the containers named, else of all that stand; how many is told.

    Raises:
        Refused: no container is called so, or none stands.
    """
    chosen = _chosen(source, list(codes))
    width, height = size
    lengths = {"WIDTH": width, "HEIGHT": height, "SQUARE": min(height - 2, width // 2)}
    style = _STYLE
    for name, millimetres in lengths.items():
        style = style.replace(f"{name}mm", f"{millimetres}mm")
    labels = [label_of(source, container) for container in chosen]
    sizes = {label.code: _type_mm(label, width, height) for label in labels}
    body = "\n".join(_drawn(label, sizes[label.code] or SMALLEST_MM) for label in labels)
    out.write(page("Labels for containers", style, f"<main>\n{body}\n</main>"))
    told = (
        f"{count(len(chosen), 'label')} of {width} by {height} mm; print at 100 %, not fitted to"
        " the page"
    )
    cut = [code for code, size in sizes.items() if size is None]
    more = f"too small for all that stands in {', '.join(cut)}: take a larger --size"
    return [told, *([more] if cut else [])]


def _type_mm(label: Label, width: int, height: int) -> float | None:
    """The largest type in which all that a label says has room on it; None where none is small
    enough to be read."""
    across = width - _EDGES_MM - min(height - 2, width // 2) - 1
    for size in TYPES_MM:
        lines = sum(len(wrapped(line, across / size)) for line in _lines(label))
        if CODE_MM * 1.1 + lines * size * 1.25 <= height - _EDGES_MM:
            return size
    return None


def _lines(label: Label) -> list[str]:
    told = (label.purpose, label.holds, " ".join(label.broods), label.date)
    return [line for line in told if line]


def _chosen(source: Source, codes: list[str]) -> list[Container]:
    standing = {container.code: container for container in walking_order(source.bench)}
    if not standing:
        raise ExportRefused("nothing stands on this bench yet; set up a container first")
    names = list(standing)
    wanted = [chosen(code, names, "container is called") for code in codes]
    return [standing[name] for name in wanted or names]


def label_of(source: Source, container: Container) -> Label:
    """What a container's label says now."""
    since: list[datetime] = [lot.since for lot in container.lots if lot.since is not None]
    day = min(since, default=container.since).astimezone(source.moment.zone)
    broods = dict.fromkeys(lot.brood for lot in container.lots)
    return Label(
        container.code,
        PURPOSE_WORDS.get(container.purpose, called(container.purpose)),
        stock_words(source.bench, container) or without_stock(container),
        tuple(broods),
        f"{day.day} {day:%b %Y}",
    )


def _drawn(label: Label, size: float) -> str:
    broods = " ".join(f'<span class="whole">{text(brood)}</span>' for brood in label.broods)
    told = "<br>".join(
        line for line in (text(label.purpose), text(label.holds), broods, text(label.date)) if line
    )
    return (
        f'<div class="label">{square(label.code)}<div style="font-size: {size:g}mm"><span'
        f' class="code">{text(label.code)}</span>{told}</div></div>'
    )


def square(code: str) -> str:
    """The code as a QR symbol (ISO/IEC 18004), drawn as SVG: a phone reads the code itself, as it
    would be typed."""
    import segno

    drawn: str = segno.make(code, error="m", micro=False).svg_inline(
        scale=1, border=QUIET_ZONE, omitsize=True
    )
    return drawn
