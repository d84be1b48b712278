"""The plots of a brood or a species as files: SVG as pages have them, PNG of the same drawing."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from typing import BinaryIO

from rounds.bench.codes import members
from rounds.bench.plurals import count
from rounds.exchange.atomic_file import ExportRefused, chosen
from rounds.exchange.plot_svg import svg
from rounds.exchange.source import Source
from rounds.tallies.development import development
from rounds.tallies.lifespans import female_lives
from rounds.views.brood_page import none_died_words
from rounds.views.brood_plots import brood_survival, development_plot, females_survival
from rounds.views.plots import Plot, PlotMark, PlotSeries
from rounds.views.words import day_in_words

PIXELS_A_UNIT = 3  # of a PNG: 1,920 across


def plots_of(source: Source, about: str) -> dict[str, Plot]:
    """The plots that there are of a brood, or of all broods of a species, by name.

    Raises:
        Refused: it is neither.
    """
    taxon, broods, of_species = _whose(source, about)
    return {
        plot_name: plot
        for plot_name, plot in _plots(source, taxon, broods, of_species=of_species)
        if plot is not None
    }


def _whose(source: Source, about: str) -> tuple[str, list[str], bool]:
    """The species and the broods that a name means, a brood or all those of a species; whether it
    is a species."""
    bench = source.bench
    taxa = [name for name in dict.fromkeys(map(bench.taxon_of, bench.broods)) if name]
    in_full = {source.name_in_full(taxon): taxon for taxon in taxa}
    name = in_full.get(source.name_in_full(about)) or chosen(
        about, [*bench.broods, *taxa], "brood or species is called"
    )
    if name in taxa:
        return name, source.look_back.broods_of(name), True
    return bench.taxon_of(name), [name], False


def _plots(
    source: Source, taxon: str, broods: list[str], *, of_species: bool
) -> Iterator[tuple[str, Plot | None]]:
    back, now = source.look_back, source.moment.now
    yield "survival", brood_survival(back, broods, now)
    for stage in development(back.course, back.broods_of(taxon), taxon, back.warmth):
        yield (
            f"development-{stage.stage.replace(' ', '-')}",
            development_plot(stage, source.measures),
        )
    if of_species:
        lives = [life for life in female_lives(back.course, now) if taxon in members(life.taxon)]
        yield "females", females_survival(lives, taxon)
        yield "laying", laying_plot(source, taxon)


def laying_plot(source: Source, taxon: str) -> Plot | None:
    """Eggs found by local day; None where none were."""
    days = [day for day in source.tallies.days(source.moment.now).get(taxon, []) if day.searches]
    if not any(day.eggs for day in days):
        return None
    first = days[0].day
    marks = tuple(PlotMark((day.day - first).days, day.eggs) for day in days)
    return Plot(
        "eggs found",
        f"days since {day_in_words(first)}",
        "eggs",
        (PlotSeries("eggs, on the last day on which they can have been laid", marks),),
        y_range=(0.0, max(mark.y for mark in marks) * 1.1),
        whole=True,
    )


def write_plots(source: Source, about: str, name: str, ending: str, out: BinaryIO) -> list[str]:
    """Write one plot, or all of them where the file is a ZIP; what was written is told.

    Raises:
        Refused: there is no such plot, or nothing here draws PNG.
    """
    found = plots_of(source, about)
    if not found or (name == "survival" and name not in found and ending != ".zip"):
        _, broods, _ = _whose(source, about)
        why = none_died_words(source.look_back, broods)
        others = f"; other plots: {', '.join(found)}" if found else "; none was timed"
        raise ExportRefused(f"there is no survival plot of {about} yet: {why}{others}")
    if ending == ".zip":
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for one, plot in found.items():
                archive.writestr(f"{one}.svg", svg_file(plot))
        return [f"{count(len(found), 'plot')}: {', '.join(found)}"]
    plot = found[chosen(name, list(found), f"plot of {about} is called")]
    drawn = svg_file(plot)
    out.write(drawn if ending == ".svg" else png_of(drawn))
    return [f"{plot.title}: {plot.y_title} by {plot.x_title}"]


def svg_file(plot: Plot) -> bytes:
    """A plot as an SVG file of its own."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{svg(plot)}\n'.encode()


def png_of(drawn: bytes) -> bytes:
    """An SVG drawing as PNG on white.

    Raises:
        Refused: the package that draws it, or any type to write with, is missing.
    """
    try:
        from resvg_py import svg_to_bytes
    except ImportError:
        raise ExportRefused(
            "for PNG the package resvg-py is wanted: pip install 'rounds[png]'; SVG needs nothing"
        ) from None
    with_words = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><text y="8">x</text></svg>'
    )
    if svg_to_bytes(svg_string=with_words) == svg_to_bytes(
        svg_string=with_words.replace(">x<", "><")
    ):
        raise ExportRefused("this machine has no type to write with in a PNG; give a name in .svg")
    return bytes(svg_to_bytes(svg_string=drawn.decode(), background="#ffffff", zoom=PIXELS_A_UNIT))
