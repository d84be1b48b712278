"""Founders and broods as a drawn pedigree, what stands of each, and the pairings that are
planned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo

from rounds.bench.mates import WILD
from rounds.bench.plurals import count, of_stage
from rounds.bench.state import Bench
from rounds.biology import kinship
from rounds.entries.registry import FounderIntake
from rounds.grouping import grouped, summed
from rounds.tallies.broods import (
    NOT_KNOWN_WHICH,
    BroodRecord,
    Lookback,
    StandingAnimals,
    brood_record,
)
from rounds.tallies.cohorts import rank
from rounds.tallies.pedigree import (
    LIMIT_SETTING,
    Inbreeding,
    Node,
    family_tree,
    inbreeding,
    inbreeding_limit,
)
from rounds.views.cells import Cell, Column, Line, Row, Tone, aside, labelled, line, row_of
from rounds.views.words import day_and_time, literal, number

COLUMNS = (
    Column("founders and their broods", 27, grows=3),
    Column("here now", 22, grows=2),
    Column("died", 5, right=True),
    Column("not seen", 8, right=True),
)
MAX_TOLD = 3  # of the lines that do not fit; the daybook marks all
PAIR, TAXON, CODE = "pair ", "taxon ", "code "


@dataclass(frozen=True, slots=True)
class BroodsPage:
    """The head, the rows, and what the pane says of each."""

    head: tuple[Line, ...]
    rows: tuple[Row, ...]
    panes: dict[str, tuple[Line, ...]]


def broods_page(back: Lookback, zone: tzinfo) -> BroodsPage:
    """Species by species, founders and below them their broods; planned pairings come first."""
    bench = back.course.bench
    nodes = family_tree(bench)
    records = {node.code: brood_record(back.course, node.code) for node in nodes}
    rows: list[Row] = []
    panes: dict[str, tuple[Line, ...]] = {}
    close = 0
    for planned in bench.planned:
        key = f"{PAIR}{planned.female} {planned.male}"
        result = inbreeding(bench, planned.female, planned.male)
        close += is_too_close(result, inbreeding_limit(bench)[0])
        rows.append(
            _pair_row(key, planned.female, planned.male, result, inbreeding_limit(bench)[0])
        )
        why = [labelled("why", literal(planned.why))] if planned.why else []
        panes[key] = (*pairing_lines(back, planned.female, planned.male), *why)
    for taxon in dict.fromkeys(records[node.code].taxon for node in nodes):
        key = f"{TAXON}{taxon}"
        mine = [node for node in nodes if records[node.code].taxon == taxon]
        alive = sum(
            cohort.number for cohort in back.course.alive if bench.taxon_of(cohort.brood) == taxon
        )
        name = literal(taxon) or "species not recorded"
        rows.append(row_of(key, Cell(name, "due"), f"{alive} in all", "", ""))
        panes[key] = (
            line(name, tone="strong"),
            line(
                "Enter: all broods of it together, how fast they developed, how long its females"
                " lived."
            ),
        )
        for node in mine:
            key = f"{CODE}{node.code}"
            rows.append(_row(key, node, records[node.code]))
            panes[key] = tuple(about_lines(records[node.code], zone, bench.newest))
    founders = sum(1 for node in nodes if node.code in bench.founders)
    parts = [count(founders, "founder"), count(len(nodes) - founders, "brood")]
    parts.append(
        count(len(bench.planned), "pairing planned", "pairings planned")
        if bench.planned
        else "no pairing planned"
    )
    head = [Cell("broods", "strong"), Cell(f"   {', '.join(parts)}", "quiet")]
    if close:
        head.append(Cell(f"   {count(close, 'pairing')} TOO CLOSE", "late"))
    return BroodsPage((line(*head), *not_counted(bench)), tuple(rows), panes)


def not_counted(bench: Bench) -> list[Line]:
    """What was recorded of animals and counts nowhere, for it does not fit the record before it."""
    texts = [oddity.words for oddity in bench.misfits]
    if texts:
        return [line(f"not in these numbers: {literal('; '.join(texts[-MAX_TOLD:]))}", tone="late")]
    return []


def branch(node: Node) -> str:
    """The lines of the tree before a code."""
    if not node.last:
        return " "
    above = "".join("   " if last else "│  " for last in node.last[:-1])
    return f" {above}{'└─ ' if node.last[-1] else '├─ '}"


def _row(key: str, node: Node, record: BroodRecord) -> Row:
    sex = f" {record.founder.sex or record.founder.stage}" if record.founder else ""
    more = f" and {len(node.beside)} more" if node.beside else ""
    who = f"{branch(node)}{literal(node.code)}{sex}"
    died = sum(record.balance.became.get("died", {}).values())
    short = sum(shortfall.number for shortfall in record.shortfalls)
    tone: Tone = "strong" if record.founder else "plain"
    return row_of(
        key,
        Cell(
            f"{who}{' of' if more else ''}{f' {_mothers(node, record)}' if more else ''}",
            tone,
            who,
        ),
        Cell(here_words(record) or _gone_words(record), "plain" if record.alive else "quiet"),
        Cell(str(died) if died else "", "quiet"),
        Cell(str(short) if short else "", "late" if short else "plain"),
    )


def _mothers(node: Node, record: BroodRecord) -> str:
    begun = record.begun
    mothers = len(begun.mothers) if begun else 0
    fathers = [father for father in begun.fathers if father != WILD] if begun else []
    who = " or ".join(map(literal, fathers or node.beside[:1]))
    return f"{count(mothers, 'mother')}" if mothers > 1 else f"her and {who}"


def _pair_row(key: str, female: str, male: str, found: Inbreeding, limit: float) -> Row:
    close = is_too_close(found, limit)
    tone: Tone = "late" if close else "plain"
    words = f"inbreeding {range_words(found)}"
    return row_of(
        key,
        Cell(
            f"planned: {literal(female)} with {literal(male)}",
            tone,
            f"{literal(female)} with {literal(male)}",
        ),
        Cell(
            f"{words}{', TOO CLOSE' if close else ''}",
            tone,
            f"{range_words(found)}{' TOO CLOSE' if close else ''}",
        ),
        "",
        "",
    )


def _whose_limit(bench: Bench) -> str:
    return "your limit" if inbreeding_limit(bench)[1] else "the default limit"


def is_too_close(found: Inbreeding, limit: float) -> bool:
    """Whether it is, or may be, at the keeper's limit or above it."""
    return kinship.is_too_close(found.most, limit)


def range_words(found: Inbreeding) -> str:
    """``0.25``, or ``0 to 0.25`` where the parents leave it open."""
    least, most = number(found.least, 4), number(found.most, 4)
    return most if found.sure else f"{least} to {most}"


def here_words(record: BroodRecord) -> str:
    """What is alive of it: ``9 L5, 2 L4``; a founder's container."""
    by_stage = summed((standing.stage, standing.number) for standing in record.standing)
    if record.founder and record.standing:
        return f"in {literal(record.standing[0].container)}"
    return ", ".join(of_stage(how_many, stage) for stage, how_many in by_stage.items())


def stages_words(fate: str, stages: Mapping[str, int]) -> str:
    """In which stages some met a fate: ``2 eggs, 1 L1``; those that nobody can tell from others are
    in another by now."""
    text = ", ".join(of_stage(stages[stage], stage) for stage in sorted(stages, key=rank))
    return f"last told apart as {text}" if fate == NOT_KNOWN_WHICH else text


def mixture_words(record: BroodRecord) -> str:
    """``of W2, W3, W4, not known which: 1 died, 2 in K1``, and their stages where they are no
    adults; empty where its animals are known."""
    if record.mixed is None:
        return ""
    texts = []
    for fate, stages in record.mixed.became.items():
        which = "" if set(stages) == {"adult"} else f" ({stages_words(fate, stages)})"
        texts.append(f"{sum(stages.values())} {literal(fate)}{which}")
    fates = ", ".join(texts)
    return f"of {', '.join(literal(code) for code in record.mixed.codes)}, not known which: {fates}"


def _gone_words(record: BroodRecord) -> str:
    if record.founder and record.mixed:
        return mixture_words(record)
    fates = {fate: sum(stages.values()) for fate, stages in record.balance.became.items()}
    if record.founder:
        return next(iter(fates), "")
    return ", ".join(f"{how_many} {fate}" for fate, how_many in fates.items()) or "none found yet"


def about_lines(record: BroodRecord, zone: tzinfo, now: datetime | None) -> Iterable[Line]:
    """Where it comes from, and where it stands."""
    yield line(Cell(literal(record.code), "strong"), f"   {literal(record.taxon)}")
    if record.founder:
        yield labelled("from", founder_words(record.founder, zone, now))
    if record.begun:
        yield labelled("of", parents_words(record))
        yield labelled("laid", laid_words(record, zone, now))
    if record.standing:
        places = grouped((one.container, _standing_words(one)) for one in record.standing)
        yield labelled(
            "now",
            "; ".join(f"{literal(code)} {', '.join(words)}" for code, words in places.items()),
        )
    yield labelled("sum", balance_words(record))
    if record.mixed:
        yield labelled("which", mixture_words(record), "late")
    for short in record.shortfalls:
        since = day_and_time(short.at, zone, now)
        yield labelled(
            "missing",
            f"{of_stage(short.number, short.stage)} not seen in {literal(short.container)} since"
            f" {since}",
            "late",
        )


def _standing_words(one: StandingAnimals) -> str:
    crippled = "crippled" if one.crippled else ""
    return " ".join(filter(None, (of_stage(one.number, one.stage), one.sex, crippled)))


def founder_words(founder: FounderIntake, zone: tzinfo, now: datetime | None) -> str:
    """Where and when it was caught, by whom."""
    parts = [literal(founder.place) or "place not recorded"]
    unknown = f"when {founder.he_or_she} was caught is not recorded"
    parts.append(f"caught {day_and_time(founder.caught, zone, now)}" if founder.caught else unknown)
    if founder.collector:
        parts.append(f"by {literal(founder.collector)}")
    if founder.permit:
        parts.append(f"permit {literal(founder.permit)}")
    return ", ".join(parts)


def parents_words(record: BroodRecord) -> str:
    """Its mothers and fathers."""
    assert record.begun is not None
    mothers = record.begun.mothers
    if not mothers and not record.begun.fathers:
        return "parents not recorded: taken for brothers and sisters"
    by = "" if record.fathers == ("father not known",) else "by "
    fathers = f"{by}{' or '.join(map(literal, record.fathers))}"
    fathers = fathers.replace("by perhaps", "perhaps by")
    words = (
        f"{' or '.join(literal(mother) for mother in mothers) or 'mother not recorded'}, {fathers}"
    )
    if record.inbred is None or not record.inbred.most:
        return words
    return f"{words}; inbreeding {range_words(record.inbred)}"


def laid_words(record: BroodRecord, zone: tzinfo, now: datetime | None) -> str:
    """Between when it was laid."""
    begun = record.begun
    if begun is None or not (begun.laid_from and begun.laid_to):
        return "when is not recorded"
    return f"{day_and_time(begun.laid_from, zone, now)} to {day_and_time(begun.laid_to, zone, now)}"


def balance_words(record: BroodRecord) -> str:
    """``23 came (20 eggs, 3 L1) = 19 alive + 4 died (2 eggs, 1 L1, 1 L3)``."""
    came = ", ".join(of_stage(how_many, stage) for stage, how_many in record.balance.came.items())
    if record.balance.by_count:
        came += f"; {record.balance.by_count} of them by counts above the record"
    parts = []
    for fate, stages in record.balance.became.items():
        parts.append(
            f"{sum(stages.values())} {fate} ({stages_words(fate, stages)})"
            if fate != "alive"
            else f"{sum(stages.values())} alive"
        )
    return (
        f"{record.balance.in_all} came{f' ({came})' if came else ''} = {' + '.join(parts) or '0'}"
    )


def pairing_lines(back: Lookback, female: str, male: str) -> Iterator[Line]:
    """How inbred the offspring of a pairing would be, against the keeper's limit, and how that is
    reckoned."""
    bench = back.course.bench
    result = inbreeding(bench, female, male)
    limit, own = inbreeding_limit(bench)
    close = is_too_close(result, limit)
    whose = _whose_limit(bench) + ("" if own else f", yours to change: setting {LIMIT_SETTING}")
    verdict = (
        f"TOO CLOSE by {whose} {number(limit, 4)}" if close else f"under {whose} {number(limit, 4)}"
    )
    yield line(
        Cell(f"{literal(female)} with {literal(male)}", "strong"),
        f"   inbreeding of their offspring {range_words(result)}",
    )
    yield labelled(
        "", f"{verdict}. Whether to pair them is yours to decide.", "late" if close else "plain"
    )
    if result.why:
        yield labelled("", literal(result.why))
    given = bench.settings.get(LIMIT_SETTING, "")
    if given and not own:
        yield labelled(
            "",
            f"'{literal(given)}' cannot be used as the limit; it is a number from 0 to 1",
            "late",
        )
    yield aside(
        "how",
        "kinship of the two by their pedigree (Wright 1922): full sibs 0.25; founders unrelated"
        " unless recorded; a male not on record is one wild male for each brood",
    )
