"""What the keeper should know of places before a file that tells places is passed on."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.codes import members
from rounds.bench.plurals import and_more, count
from rounds.bench.said_apart import apart_words
from rounds.bench.taxon_names import with_latin_genus
from rounds.entries.registry import Taxon
from rounds.entries.taken_back import is_protected, still_guarded_words
from rounds.exchange.source import Source
from rounds.views.words import literal

MAX_NAMES = 6


def place_warnings(source: Source) -> Iterator[str]:
    """A line each: what was treated as protected, what no longer is, what gives a place away."""
    if not source.guard.is_whole and not source.guard.exact and any(source.guard.secrets()):
        yield (
            "all exact places are withheld: what of the book cannot be read may protect any"
            " species; 'rounds check' shows it; --exact-localities exports them all the same"
        )
    slips = source.guard.slips()
    yield from (
        f"treated as protected: {literal(_slip_words(source, name, taxa))}"
        for name, taxa in list(slips.items())[:MAX_NAMES]
    )
    unnamed = [name for name in source.guard.unnamed() if name not in slips]
    if unnamed:
        shown = unnamed[:MAX_NAMES]
        names = ", ".join(f"'{name}'" if name else "no species recorded" for name in shown)
        names += and_more(len(unnamed), MAX_NAMES)
        yield (
            f"treated as protected, for it is none of your taxa: {names}; as: taxon"
            f" '{unnamed[0] or 'NAME'}'"
        )
    doubtful = list(source.guard.doubtful().items())
    if doubtful:
        whom = "; ".join(
            f"'{name}' may be {' or '.join(taxa)}" for name, taxa in doubtful[:MAX_NAMES]
        )
        yield f"treated as protected: {literal(whom)}{and_more(len(doubtful), MAX_NAMES)}"
    ever_protected = (
        with_latin_genus(entry.name)
        for entry in (*source.counting, *source.struck)
        if isinstance(entry, Taxon) and entry.protected
    )
    kept = {} if source.guard.exact else source.guard.kept
    yield from (
        f"look: {literal(name)} was said to be protected once, and is not now"
        for name in dict.fromkeys(ever_protected)
        if name in source.bench.taxa and not is_protected(source.bench, name) and name not in kept
    )
    yield from (f"look: {literal(words)}" for words in still_guarded_words(source.bench, kept))
    for taxon in source.bench.taxa.values():
        by = source.bench.said_by.get(taxon.of_what, {})
        of_places = {one: said for one, said in by.items() if one in ("protected", "grid_degrees")}
        yield from (f"look: {literal(words)}" for words in apart_words(taxon.of_what, of_places))
    elsewhere = source.guard.told_elsewhere()
    if elsewhere:
        yield (
            f"look: {count(elsewhere, 'withheld place')} can be known from other taxa caught there,"
            " whose places are exact"
        )


def _slip_words(source: Source, name: str, taxa: list[Taxon]) -> str:
    """Whose name may be a slip for which, and what to type where it is one, or is none."""
    bench = source.bench
    code = next((one.code for one in bench.founders.values() if name in members(one.taxon)), "")
    begun = next((code for code in bench.broods if name in members(bench.taxon_of(code))), "")
    meant = taxa[0].short or taxa[0].name
    mend = f"{code} is {meant}" if code else f"cross out the line that began {begun}, say it anew"
    return (
        f"'{name}' of {code or begun} may be a slip for"
        f" {' or '.join(one.name for one in taxa)}; if it is: {mend}; if it is another:"
        f' taxon "{name}" protected=no'
    )
