"""What two laptops apart said that goes not together when they meet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rounds.bench.folding.codes_given_twice import relabelled
from rounds.bench.marks import marks_given_twice
from rounds.bench.state import Bench, SaidBy


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
        yield from _apart(of_what, by)
    for cup in bench.standing():
        yield from _apart(f"{cup.code} changed", cup.said_by)


def _apart(of_what: str, by: Mapping[str, SaidBy]) -> Iterator[str]:
    about = of_what.removesuffix(" changed").replace("shelf set up", "shelf", 1)
    for name, last in by.items():
        if last.other:
            line = f"{of_what} {last.other if name == 'value' else f'{name}={last.other}'}"
            of_it = "" if name == "value" else f"{name} of "
            yield (
                f"two laptops apart said {of_it}{about} to be {last.value} and {last.other}:"
                f" {last.value}, said last, counts, {last.other} was set aside; say which holds,"
                f" as: {line}"
            )
