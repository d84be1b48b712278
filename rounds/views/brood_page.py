"""One brood, or all of a species: its balance, stages, survival, durations, development, plants and
pairings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from math import isfinite

from rounds.bench.codes import OR, members
from rounds.bench.measures import METRIC, Measures, measures_of
from rounds.bench.plurals import PLURALS, count
from rounds.biology.life_table import StageRow
from rounds.entries.wording import saying
from rounds.grouping import summed
from rounds.tallies.broods import HostRecord, Lookback, brood_record, hosts_of
from rounds.tallies.development import Development, development
from rounds.tallies.lifespans import female_lives
from rounds.tallies.stages import (
    Duration,
    StageCount,
    causes,
    dead_as_adults,
    dead_at_no_known_age,
    dead_not_laid_here,
    dead_of_either,
    durations,
    so_far,
    stage_counts,
)
from rounds.views.brood_plots import brood_survival, development_plot, females_survival
from rounds.views.broods_page import about_lines, not_counted, pairing_lines
from rounds.views.cells import Cell, Line, aside, labelled, line, section
from rounds.views.plots import Plot, plot_lines, plot_table
from rounds.views.words import day_and_time, literal, number

# How each grade of evidence is told, and what is counted for it.
GRADES = {
    "laid on": ("laid on {}", "eggs"),
    "fed on": ("fed on {}", "moults"),
    "pupated": ("pupated, fed on {}", "animals"),
    "adult reared on": ("adult, fed on {}", "animals"),
    "egg found on": ("egg found on {} in the wild", "eggs"),
    "larva found on": ("larva found on {} in the wild", "larvae"),
}


@dataclass(frozen=True, slots=True)
class PlotRoom:
    """How much room a page has [columns, lines of a plot], and whether plots are told as tables."""

    width: int = 74
    plot_height: int = 14
    as_table: bool = False


def brood_lines(
    back: Lookback, code: str, now: datetime, zone: tzinfo, room: PlotRoom
) -> tuple[Line, ...]:
    """Everything about one brood or founder.

    Raises:
        KeyError: neither a brood nor a founder.
    """
    record = brood_record(back.course, code)
    lines = [*about_lines(record, zone, now), *not_counted(back.course.bench)]
    if record.begun:
        lines += _numbers(back, [code], now, room)
        lines += _developing(back, [code], record.taxon, room)
    lines += _parasitoids(back, [code], zone, now)
    mine = [
        planned for planned in back.course.bench.planned if code in (planned.female, planned.male)
    ]
    if mine:
        lines += section("planned pairings")
        lines += [
            told
            for pairing_planned in mine
            for told in pairing_lines(back, pairing_planned.female, pairing_planned.male)
        ]
    return tuple(lines)


def _parasitoids(back: Lookback, broods: list[str], zone: tzinfo, now: datetime) -> Iterable[Line]:
    """What came out of them instead."""
    parasitoids = [
        parasitoid
        for parasitoid in back.course.bench.parasitoids
        if set(members(parasitoid.brood)) & set(broods)
    ]
    if parasitoids:
        yield from section("parasitoids that came out of them")
    for one in parasitoids:
        text = saying(one).removeprefix(f"{one.container} parasitoid: ")
        yield line(f"  {day_and_time(one.at, zone, now)}  {literal(text)}")


def taxon_lines(back: Lookback, taxon: str, now: datetime, room: PlotRoom) -> Iterator[Line]:
    """All broods of a species together, and how long its captive females lived."""
    broods = back.broods_of(taxon)
    yield line(
        Cell(literal(taxon) or "species not recorded", "strong"),
        f"   {count(len(broods), 'brood')} together",
    )
    yield from not_counted(back.course.bench)
    yield from _numbers(back, broods, now, room)
    yield from _developing(back, broods, taxon, room)
    lives = [life for life in female_lives(back.course, now) if taxon in members(life.taxon)]
    if lives:
        yield from section("captive females", "released, escaped or alive: out of sight, not dead")
        yield from _plot(females_survival(lives, taxon), "no female died yet", room)
        ends = summed((life.end, life.number) for life in lives)
        yield labelled("sum", ", ".join(f"{how_many} {end}" for end, how_many in ends.items()))
        if any(OR in life.code for life in lives):
            text = (
                "a death of one of several counts once; she that came first is taken to be the"
                " dead one"
            )
            yield aside("", text)
        yield aside("how", "Kaplan & Meier 1958, limits from Greenwood 1926 on the log(-log) scale")


def _numbers(back: Lookback, broods: list[str], now: datetime, room: PlotRoom) -> Iterable[Line]:
    counts = stage_counts(back.course, broods)
    mixed = sum(one.cohort.number for one in back.course.of(broods).mixed)
    if not counts:
        yield line("")
        yield line("No egg or animal of it was found yet.")
        return
    yield from section("stage by stage")
    yield from _stage_lines(counts)
    yield aside(
        "how", "came through of those whose end is known, limits exact (Clopper & Pearson 1934)"
    )
    for text in not_counted_words(counts):
        yield aside("", text)
    for code in back.course.unsure_codes(broods):
        yield from section(f"stage by stage, {literal(code)}: nobody knows which")
        yield from _stage_lines(stage_counts(back.course, [code]))
    if mixed:
        text = (
            f"which?: {mixed} of one of several broods, nobody knows which: counted in neither; out"
            " of sight alive below"
        )
        yield aside("", text)
    yield line("")
    dead = dead_of_either_words(back, broods)
    yield from _plot(
        brood_survival(back, broods, now),
        "" if dead else f"survival: {none_died_words(back, broods)}",
        room,
    )
    if any(stage_count.stage == "adult" for stage_count in counts):
        yield aside("how", "those that emerged count as alive to the end of the curve")
    for text in (*dead, *beside_the_curve(back, broods, now)):
        yield line(f"survival: {literal(text)}")
    stage_table = causes(back.course, broods)
    running = so_far(back.course, broods)
    if stage_table or running:
        yield from section("what killed them")
    for text in running:
        yield line(f"  {literal(text)}")
    if stage_table:
        rows = [cause_row(row) for row in stage_table.rows]
        yield from table_lines(
            ("stage and cause", "at risk", "died", "share", "k (ln)", "k (log10)"), rows
        )
        yield aside(
            "how",
            "k = -ln(1 - share) or -log10 (Varley & Gradwell 1960); causes of a stage one after"
            " another",
        )
    plants = plants_in_words(back, broods)
    if plants:
        yield from section("plants, as kept here", "what it took in captivity, not in the wild")
        for text in plants:
            yield line(f"  {text}")


def plants_in_words(back: Lookback, broods: list[str]) -> list[str]:
    """What each plant was to some broods, and to animals that may be of them or of others."""
    texts = [host_words(host_record) for host_record in hosts_of(back.evidence, broods)]
    for code in back.course.unsure_codes(broods):
        texts += [
            f"{host_words(record)} of {literal(code)}" for record in hosts_of(back.evidence, [code])
        ]
    return texts


def host_words(host_record: HostRecord) -> str:
    """``laid on strobilanthes: 20 eggs``."""
    text, counted = GRADES[host_record.grade]
    doubt = "" if host_record.alone else ", some with another plant beside it"
    return f"{text.format(literal(host_record.plant))}: {host_record.number} {counted}{doubt}"


def _stage_lines(counts: list[StageCount]) -> Iterable[Line]:
    """The stages, with the columns of those of one of several broods and of those whose record ends
    only where there are any."""
    rare = {
        "which?": any(stage_count.either for stage_count in counts),
        "fate?": any(stage_count.unknown for stage_count in counts),
    }
    shown = [place for place, head in enumerate(STAGE_HEADS) if rare.get(head, True)]
    rows = [stage_row(one) for one in counts]
    yield from table_lines(
        [STAGE_HEADS[place] for place in shown],
        [[row[position] for position in shown] for row in rows],
    )


STAGE_HEADS = (
    "stage",
    "entered",
    "died",
    "left",
    "fate?",
    "not seen",
    "which?",
    "here",
    "came through, 95 %",
)


def cause_row(row: StageRow) -> tuple[str, ...]:
    """What a cause of death took of those at risk, and its killing power."""
    return (
        row.stage,
        f"{row.entered:g}",
        f"{row.died:g}",
        number(row.q, 3),
        *(number(k, 3) if isfinite(k) else "no bound" for k in (row.k_natural, row.k_ten)),
    )


def stage_row(stage_count: StageCount) -> tuple[str, ...]:
    """A stage in words."""
    numbers = (
        stage_count.entered,
        stage_count.died,
        stage_count.left + stage_count.kept,
        stage_count.unknown,
        stage_count.not_seen,
        stage_count.either,
        stage_count.here,
    )
    return (
        stage_count.stage,
        *(str(value) if value else "-" for value in numbers),
        through_words(stage_count),
    )


def dead_of_either_words(back: Lookback, broods: list[str]) -> list[str]:
    """``8 died of W2/A or W3/A together, nobody knows how many of each``: who is in no curve of one
    of them."""
    dead = dead_of_either(back.course, broods)
    return [
        f"{number} died of {code} together, nobody knows how many of each: in no curve"
        for code, number in dead.items()
    ]


def none_died_words(back: Lookback, broods: list[str]) -> str:
    """Why there is no curve: ``none died yet``, or none of those that it would be of."""
    undated = dead_at_no_known_age(back.course, broods)
    if undated:
        return f"nobody knows at what age {undated} died, for some change is not dated: in no curve"
    others = dead_not_laid_here(back.course, broods)
    if others:
        return (
            f"none of those laid here died yet; {others} died that were not laid here: in no curve"
        )
    grown = dead_as_adults(back.course, broods)
    return (
        f"none died before the adult; {grown} died as {'adult' if grown == 1 else 'adults'}:"
        " in no curve"
        if grown
        else "none died yet"
    )


def beside_the_curve(back: Lookback, broods: list[str], now: datetime) -> list[str]:
    """What is to be said of those that are in no curve, where one is drawn."""
    undated = dead_at_no_known_age(back.course, broods)
    is_drawn = undated and brood_survival(back, broods, now) is not None
    return [none_died_words(back, broods)] if is_drawn else []


_ONE_OF = {"egg": "an egg", "larva": "a larva", "pupa": "a pupa", "adult": "an adult"}


def not_counted_words(counts: list[StageCount]) -> Iterable[str]:
    """``5 more were known only by hatching; left out of egg survival``, ``at least 18 came to be
    pupae; how many more is not known, and no share``; nothing where there are none."""
    for stage_count in counts:
        if stage_count.by_hatching:
            more = " more" if stage_count.entered else ""
            was = "was" if stage_count.by_hatching == 1 else "were"
            yield (
                f"{stage_count.by_hatching}{more} {was} known only by hatching; left out of egg"
                " survival"
            )
        if stage_count.at_least:
            stage = PLURALS.get(stage_count.stage, stage_count.stage)
            if stage_count.entered == 1:
                stage = _ONE_OF.get(stage_count.stage, stage)
            yield (
                f"at least {stage_count.entered} came to be {stage}; how many more is not known,"
                " and no share"
            )


def through_words(stage_count: StageCount) -> str:
    """``0.90 (0.68 to 0.99)``; no share while some are in the stage, ``1 of 3; 4 still in it``; a
    dash where nothing is known, and of adults."""
    if not stage_count.known or stage_count.is_last:
        return "-"
    if stage_count.is_running:
        return f"{stage_count.passed} of {stage_count.known}; {stage_count.here} still in it"
    share = stage_count.came_through
    return f"{share.value:.2f} ({share.low:.2f} to {share.high:.2f})" if share else "-"


AS_WRITTEN = 1e-9  # so near a number is the one that was written
DURATION_HEADS = ("stage", "n", "mean", "least", "most", "mean temp.", "n read")


def duration_row(duration: Duration, measures: Measures) -> tuple[str, ...]:
    """A duration in words [days]; its temperature in the keeper's unit."""
    read = duration.temperature_c
    warm = "" if read is None else f"{_digits(measures.told(read, 'C'))} {measures.temperature}"
    return (
        duration.stage,
        str(duration.number),
        f"{_digits(duration.mean)} d",
        _digits(duration.least),
        _digits(duration.most),
        warm or "not read",
        str(duration.read),
    )


def _digits(value: float) -> str:
    """A number with one decimal, or two where they tell a quarter as it was written: 13.25."""
    is_quarter = abs(value * 4 - round(value * 4)) < AS_WRITTEN and round(value * 4) % 2
    return f"{value:.2f}" if is_quarter else f"{value:.1f}"


def _developing(back: Lookback, broods: list[str], taxon: str, room: PlotRoom) -> Iterable[Line]:
    yield from _lasting(back, broods, "how long each stage took")
    for code in back.course.unsure_codes(broods):
        yield from _lasting(
            back, [code], f"how long each stage took, {literal(code)}: nobody knows which"
        )
    fits = development(back.course, broods, taxon, back.warmth)
    measures = measures_of(back.course.bench.settings)
    if fits:
        yield from section("development against temperature")
    for fit in fits:
        yield from development_lines(fit, measures)
        plot = development_plot(fit, measures)
        if plot:
            yield from _plot(plot, "", room)


def _lasting(back: Lookback, broods: list[str], heading: str) -> Iterable[Line]:
    result = durations(back.course, broods, back.warmth)
    if result:
        yield from section(heading)
        measures = measures_of(back.course.bench.settings)
        rows = [duration_row(one, measures) for one in result]
        yield from table_lines(DURATION_HEADS, rows)
        yield aside(
            "how", "eggs from the middle of when they were laid; who began first ends first"
        )
        inferred = sum(duration.inferred for duration in result if duration.stage == "egg")
        if inferred:
            yield aside("", f"{inferred} hatched unseen: inferred from shells, frass or nibbling")


def development_lines(one: Development, measures: Measures = METRIC) -> Iterable[Line]:
    """The line through own broods, and what was published, in words; temperatures in the keeper's
    unit."""
    if one.fit:
        fit = one.fit
        lower = measures.warmth(round(fit.lower_c, 1))
        if fit.se_lower_c is not None:
            size = 1.8 if measures.temperature == "F" else 1.0  # of a degree
            lower = f"{lower} (se {fit.se_lower_c * size:.1f})"
        constant = measures.heat(fit.constant_dd)
        if fit.se_constant_dd is not None:
            constant += f" (se {measures.heat_number(fit.se_constant_dd)})"
        yield labelled(
            "own",
            f"{one.stage}: from {lower} on, {constant}, by {count(fit.points, 'brood')} (Campbell"
            " et al. 1974)",
        )
    elif one.points:
        yield labelled("own", f"{one.stage}: {measures.in_words(one.why_no_fit)}")
    if one.published:
        known = one.published
        yield labelled(
            "known",
            f"{one.stage}: {measures.warmth(round(known.lower_c, 1))},"
            f" {measures.heat(known.constant_dd)}; {measures.in_words(literal(known.words))}",
        )
        whose = "published" if known.is_own else "by other species"
        for point in one.points:
            days = one.published_days(point.temperature_c)
            text = f"{days:.1f} d" if days is not None else "no development so cool"
            yield labelled(
                "",
                f"{literal(point.brood)} at {measures.warmth(round(point.temperature_c, 1))}:"
                f" {point.days:.1f} d,"
                f" {whose} {text}",
            )


def _plot(plot: Plot | None, otherwise: str, room: PlotRoom) -> Iterable[Line]:
    if plot is None:
        if otherwise:
            yield line(otherwise)
        return
    drawn = plot_table(plot) if room.as_table else plot_lines(plot, room.width, room.plot_height)
    for text in drawn:
        yield line(text)


def table_lines(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterable[Line]:
    """A small table: the first column to the left, the rest to the right."""
    sizes = [max(len(row[place]) for row in (heads, *rows)) for place in range(len(heads))]
    for row in (heads, *rows):
        cells = [
            f"{text:<{sizes[0]}}" if position == 0 else f"{text:>{sizes[position]}}"
            for position, text in enumerate(row)
        ]
        yield line(f"  {'  '.join(cells)}".rstrip(), tone="quiet" if row is heads else "plain")
