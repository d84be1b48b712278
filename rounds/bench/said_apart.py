"""What two laptops apart said that goes not together when they meet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rounds.bench.folding.codes_given_twice import relabelled
from rounds.bench.folding.stage_completions import STAGE_BEFORE, begun
from rounds.bench.marks import marks_given_twice
from rounds.bench.state import Bench, Container, Lot, SaidBy


def met_apart(bench: Bench) -> Iterator[tuple[str, str]]:
    """All of it, each as its sort and in words that say what to type, until it is settled."""
    for sort, found in (
        ("one code for two", relabelled),
        ("one mark for two", marks_given_twice),
        ("said apart", said_apart),
    ):
        yield from ((sort, words) for words in found(bench))


def said_apart(bench: Bench) -> Iterator[str]:
    """Each value that two laptops said otherwise and nobody has said since, in words."""
    yield from bench.records_apart.values()
    for of_what, by in bench.said_by.items():
        yield from apart_words(of_what, by)
    for cup in bench.standing():
        yield from apart_words(f"{cup.code} changed", cup.said_by)
    for line, last in _dates(bench):
        yield from apart_words(line, {"value": last})


def _dates(bench: Bench) -> Iterator[tuple[str, SaidBy]]:
    """Who said the keeper's own dates that count still, each once, by how a line of it begins."""
    dates: dict[tuple[str, str], tuple[str, SaidBy]] = {}
    for cup in bench.standing():
        for lot in cup.lots:
            for change, expected in bench.expected.get(lot.brood, {}).items():
                if (
                    STAGE_BEFORE[change] == lot.stage
                    and begun(bench, lot, cup.since)[1] <= expected.at
                ):
                    of_it = f"{cup.code} expected {change}{_whose(cup, lot)}"
                    dates[change, lot.brood] = of_it, bench.dates_said[change][lot.brood]
            for code in bench.release_by.keys() & {*lot.codes, cup.code}:
                whose = f" code={code}" if code != cup.code and cup.count() > 1 else ""
                of_it = f"{cup.code} release by{whose}"
                dates["release by", code] = of_it, bench.dates_said["release by"][code]
    yield from dates.values()


def _whose(cup: Container, lot: Lot) -> str:
    """Which brood is meant, where several of its stage share a container."""
    several = any(one.stage == lot.stage and one.brood != lot.brood for one in cup.lots)
    return f" brood={lot.brood}" if several else ""


def apart_words(of_what: str, by: Mapping[str, SaidBy]) -> Iterator[str]:
    """What two laptops said otherwise of one thing, each in words that say what to type."""
    about = of_what.removesuffix(" changed").replace("shelf set up", "shelf", 1)
    for name, last in by.items():
        if last.other:
            holds, aside = last.both
            # where one is the more careful, nobody is led to type the other
            shown = holds if last.guards else aside
            line = f"{of_what} {shown if name == 'value' else f'{name}={shown}'}"
            of_it = "" if name == "value" else f"{name} of "
            counts = "the more careful" if last.guards else "said last"
            yield (
                f"two laptops apart said {of_it}{about} to be {last.value} and {last.other}; say"
                f" which holds, as: {line}; until then {holds}, {counts}, counts, {aside} was set"
                " aside"
            )
