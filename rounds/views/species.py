"""How the name of a species is written shorter where there is no room: the same in every row of a
list."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from typing import Literal

from rounds.bench.codes import OR, members
from rounds.bench.state import Bench
from rounds.views.words import literal

Form = Literal["whole", "abbreviated", "epithet", "none"]
FORMS: tuple[Form, ...] = ("whole", "abbreviated", "epithet", "none")  # the longest first


class SpeciesNames:
    """The names of all species of a book, each so short that it still means one of them alone.

    *Leptidea sinapis*, *L. sinapis* (as many letters of the genus as tell it from the others),
    *sinapis* (where no other has that epithet; the keeper's own short name where there is one).
    """

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._known: dict[tuple[str, Form], str] = {}

    @cached_property
    def _binomials(self) -> set[tuple[str, str]]:
        """Genus and epithet of all species in the book."""
        bench = self._bench
        named = {
            one
            for held in (bench.founders, bench.broods)
            for one in {each.taxon for each in held.values()}
        }
        words = [member.split() for name in {*bench.taxa, *named} for member in members(name)]
        return {(word[0], word[1]) for word in words if len(word) > 1}

    def of(self, code: str, form: Form) -> str:
        """The name of a founder or brood in that form; its code where its species is not known."""
        if form == "none":
            return ""
        key = self._bench.taxon_of(code), form
        if key not in self._known:
            taxa = members(key[0])
            told = OR.join(self._shortened(one, form) for one in taxa if one)
            self._known[key] = literal(told)
        return self._known[key] or literal(code)

    def _shortened(self, taxon: str, form: Form) -> str:
        words = taxon.split()
        if form == "whole" or len(words) < 2:
            return taxon
        genus, epithet, rest = words[0], words[1], words[1:]
        if form == "epithet":
            own = self._bench.taxa.get(taxon)
            if own and own.short:
                return own.short
            if sum(1 for other in self._binomials if other[1] == epithet) < 2:
                return " ".join(rest)
        return f"{self._genus(genus)} {' '.join(rest)}"

    def _genus(self, genus: str) -> str:
        others = {other for other, _ in self._binomials if other != genus}
        for letters in range(1, len(genus)):
            if not any(other.startswith(genus[:letters]) for other in others):
                return f"{genus[:letters]}."
        return genus


def own_words(name: str, others: Iterable[str]) -> tuple[str, ...]:
    """The keeper's own name of a plant, and its last word alone where no other plant ends in it."""
    words = name.split()
    if len(words) < 2 or any(
        other != name and other.split()[-1:] == words[-1:] for other in others
    ):
        return (name,)
    return name, words[-1]
