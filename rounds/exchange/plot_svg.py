"""A plot as a picture that stands in a page: lines, marks and words, readable without colour."""

from __future__ import annotations

from itertools import pairwise

from rounds.exchange.pages import text
from rounds.views.plots import LIMITS, Plot, PlotMark, PlotSeries, ranges, ticks

WIDTH, HEIGHT = 640, 360
LEFT, RIGHT, TOP, BOTTOM = 70, 14, 34, 56
DASHES = ("", "7 4", "2 3", "9 3 2 3")


class _Sheet:
    """Where values lie on the picture."""

    def __init__(self, plot: Plot, legend_lines: int) -> None:
        (self.x_low, self.x_high), (self.y_low, self.y_high) = ranges(plot)
        self.bottom = HEIGHT - BOTTOM
        self.height = HEIGHT + 18 * legend_lines

    def x(self, value: float) -> float:
        """Across, from the left."""
        share = (value - self.x_low) / (self.x_high - self.x_low)
        return LEFT + min(1.0, max(0.0, share)) * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Down, from above."""
        share = (value - self.y_low) / (self.y_high - self.y_low)
        return self.bottom - min(1.0, max(0.0, share)) * (self.bottom - TOP)


def svg(plot: Plot) -> str:
    """The plot with its axes, units and legend; its title is what a screen reader says."""
    series = [one for one in plot.series if one.marks]
    sheet = _Sheet(plot, len(series))
    drawn = [_axes(plot, sheet)]
    for position, one in enumerate(series):
        dash = DASHES[position % len(DASHES)]
        drawn.append(
            {"steps": _steps, "line": _line, "points": _points}[one.drawn](one, sheet, dash)
        )
        drawn.append(_legend(one, position, dash))
    title = text(f"{plot.title}: {plot.y_title} by {plot.x_title}")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {sheet.height}" role="img"'
        f' aria-label="{title}" font-family="sans-serif" font-size="13" fill="none"'
        f' stroke="#000"><title>{title}</title>\n' + "\n".join(drawn) + "\n</svg>"
    )


def _words(x: float, y: float, said: str, anchor: str = "start", more: str = "") -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="#000"'
        f' stroke="none"{more}>{text(said)}</text>'
    )


def _axes(plot: Plot, sheet: _Sheet) -> str:
    parts = [f'<path d="M{LEFT} {TOP}V{sheet.bottom}H{WIDTH - RIGHT}"/>']
    for value in ticks(sheet.y_low, sheet.y_high, 6, whole=plot.whole):
        y = sheet.y(value)
        parts.append(
            f'<path d="M{LEFT - 5} {y:.1f}H{LEFT}"/>'
            + _words(LEFT - 9, y + 4, plot.y_words(value), "end")
        )
    for value in ticks(sheet.x_low, sheet.x_high, 8, whole=plot.whole):
        x = sheet.x(value)
        parts.append(
            f'<path d="M{x:.1f} {sheet.bottom}v5"/>'
            + _words(x, sheet.bottom + 20, plot.x_words(value), "middle")
        )
    parts.append(_words(LEFT, 18, f"{plot.title}: {plot.y_title}", more=' font-weight="bold"'))
    parts.append(_words((LEFT + WIDTH - RIGHT) / 2, sheet.bottom + 42, plot.x_title, "middle"))
    return "\n".join(parts)


def _steps(series: PlotSeries, sheet: _Sheet, dash: str) -> str:
    marks = [
        *series.marks,
        PlotMark(sheet.x_high, series.marks[-1].y, series.marks[-1].low, series.marks[-1].high),
    ]
    parts = []
    for mark, after in pairwise(marks):
        if mark.low is not None and mark.high is not None:
            x, y = sheet.x(mark.x), sheet.y(mark.high)
            parts.append(
                f'<rect x="{x:.1f}" y="{y:.1f}" width="{max(0.0, sheet.x(after.x) - x):.1f}"'
                f' height="{max(0.0, sheet.y(mark.low) - y):.1f}" fill="#000" fill-opacity=".12"'
                ' stroke="none"/>'
            )
    path = f"M{sheet.x(marks[0].x):.1f} {sheet.y(marks[0].y):.1f}"
    path += "".join(f"H{sheet.x(after.x):.1f}V{sheet.y(after.y):.1f}" for after in marks[1:])
    return "\n".join([*parts, f'<path d="{path}" stroke-width="2" stroke-dasharray="{dash}"/>'])


def _line(series: PlotSeries, sheet: _Sheet, dash: str) -> str:
    points = " ".join(f"{sheet.x(mark.x):.1f},{sheet.y(mark.y):.1f}" for mark in series.marks)
    return f'<polyline points="{points}" stroke-width="1.5" stroke-dasharray="{dash}"/>'


def _points(series: PlotSeries, sheet: _Sheet, dash: str) -> str:
    parts = []
    for mark in series.marks:
        x = sheet.x(mark.x)
        if mark.low is not None and mark.high is not None:
            parts.append(f'<path d="M{x:.1f} {sheet.y(mark.low):.1f}V{sheet.y(mark.high):.1f}"/>')
        parts.append(
            f'<circle cx="{x:.1f}" cy="{sheet.y(mark.y):.1f}" r="4.5" fill="#fff"'
            ' stroke-width="2"/>'
        )
    return "\n".join(parts)


def _legend(series: PlotSeries, place: int, dash: str) -> str:
    y = HEIGHT + 18 * place
    sign = f'<path d="M{LEFT} {y}h34" stroke-width="2" stroke-dasharray="{dash}"/>'
    if series.drawn == "points":
        sign = f'<circle cx="{LEFT + 17}" cy="{y}" r="4.5" fill="#fff" stroke-width="2"/>'
    limits = any(mark.low is not None for mark in series.marks)
    return sign + _words(
        LEFT + 44,
        y + 4,
        f"{series.name}{f', {LIMITS} shaded' if limits and series.drawn == 'steps' else ''}",
    )
