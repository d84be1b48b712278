"""Who was paired with whom, and who is related."""

from collections import Counter
from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any, Literal

from msgspec import Meta

from rounds.bench.codes import some_of
from rounds.bench.dates import beside
from rounds.bench.folding.stock import came_in
from rounds.bench.mates import WILD, joined, two_species
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container
from rounds.entries.base import Code, ContainerEntry, Entry, Said, Saying, Words
from rounds.entries.entry_factory import InvalidField
from rounds.entries.piecewise import SaidWhole, fields_typed
from rounds.entries.slots import Slots, say
from rounds.entries.validation import impossible_parents, known_brood, listed
from rounds.entries.wording import animals, comma_joined
from rounds.grouping import summed


class Related(SaidWhole, frozen=True, kw_only=True, tag="related"):
    """Two founders known to be related, as larvae of one web; founders are unrelated unless this
    says otherwise."""

    first: Annotated[str, Meta(min_length=1, max_length=24, description="a founder")]
    second: Annotated[str, Meta(min_length=1, max_length=24, description="another founder")]
    how: Annotated[
        Literal["full sibs", "half sibs", "parent and offspring", "cousins", "unrelated"],
        Meta(description="how they are related"),
    ] = "full sibs"

    names_animals = ("first", "second")
    changes_company = True
    slots = Slots(words=("first", "second"), leading={"with": "second", "as": "how"})

    def refusals(self, bench: Bench) -> Iterator[str]:
        for code in (self.first, self.second):
            if code in bench.broods:
                yield f"{code} is a brood: its parents say how it is related; name two founders"
            elif code not in bench.founders:
                yield f"no founder is called {code}; there {listed(bench.founders)}"
        if self.first == self.second:
            yield "name two founders; no one is related to itself"

    @property
    def of_what(self) -> str:
        return f"related {' '.join(sorted((self.first, self.second)))}"

    @property
    def value(self) -> str:
        return fields_typed(self, ("how",))

    def effect(self, bench: Bench) -> None:
        """How two founders are related; the newest word holds."""
        self.note(bench)
        bench.related["\n".join(sorted((self.first, self.second)))] = self


class PairingPlanned(Entry, frozen=True, kw_only=True, tag="pairing planned"):
    """A pairing thought of: a member of one brood, or a founder, with one of another; the broods
    page says how related."""

    female: Annotated[str, Meta(min_length=1, max_length=24, description="her brood, or her code")]
    male: Annotated[
        str,
        Meta(
            min_length=1, max_length=24, description="his brood, or his code; may be the same brood"
        ),
    ]
    why: Words = ""

    names_animals = ("female", "male")
    changes_company = True
    slots = Slots(words=("female", "male"), leading={"with": "male"})

    def refusals(self, bench: Bench) -> Iterator[str]:
        return _paired(bench, self)

    def effect(self, bench: Bench) -> None:
        """A pairing thought of; said again, the newest stands."""
        bench.planned = _but_these(bench, self)
        bench.planned.append(self)

    def aside(self, bench: Bench) -> str:
        return two_species(bench, self.female, self.male)


class Paired(ContainerEntry, frozen=True, kw_only=True, tag="paired"):
    """Seen coupled."""

    female: Code
    male: Annotated[Code, Meta(description="his code, or 'wild' if he never came in")]
    until: datetime | None = None
    sure: Annotated[bool, Meta(description="seen so, though it was asked about")] = False

    names_animals = ("female", "male")
    changes_company = True
    slots = Slots(
        words=("female", "male"),
        leading={"with": "male"},
        synonyms=say(
            "mated, coupled, mating, pairing, copulating, in copula, copula, in cop, pair"
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        code = str(said.get("container", ""))
        container = bench.at(code)
        said = (only_pair(container) if container else {}) | said
        if container is None and not {"female", "male"} <= {*said}:
            raise InvalidField(_stood_elsewhere(bench, code, at))
        return [(cls, said)]

    def refusals(self, bench: Bench) -> Iterator[str]:
        """A pair of two species, or of one that is not an adult in that container, is asked about;
        the keeper may insist."""
        yield from _paired(bench, self)
        if self.sure:
            return
        doubt = two_species(bench, self.female, self.male) or _not_both_here(bench, self)
        if doubt:
            yield f"{doubt}; if it was seen so, add 'sure'"

    def aside(self, bench: Bench) -> str:
        before = [
            paired for paired in bench.pairings if paired.id != self.id and paired.at <= self.at
        ]
        seen = next(
            (
                one.at
                for one in reversed(before)
                if (one.female, one.male) == (self.female, self.male)
            ),
            None,
        )
        again = f"seen before, {beside(seen, self.at)}" if seen else ""
        alike = (
            f"both of {self.female}: {sibs_words(bench, self.female)}"
            if self.female == self.male
            else ""
        )
        return comma_joined(alike, again)

    def effect(self, bench: Bench) -> None:
        """Two were seen coupled; what was planned of them is done."""
        for parent in (self.female, self.male):
            came_in(bench, self, parent)
        bench.pairings.append(self)
        seen = ((self.male, self.at),)
        bench.mated[self.female] = joined(bench.mated.get(self.female, ()), seen)
        hers = [
            (one, lot)
            for one in bench.standing()
            for lot in one.lots_of("adult")
            if self.female in lot.codes
        ]
        here = [(container, lot) for container, lot in hers if container.code == self.container]
        for _, lot in here or hers:
            if lot.sex != "male":
                lot.mates = joined(lot.mates, seen)
        bench.planned = _but_these(bench, self)


def _but_these(bench: Bench, pair: PairingPlanned | Paired) -> list[PairingPlanned]:
    """What is planned of others."""
    these = pair.female, pair.male
    return [one for one in bench.planned if (one.female, one.male) != these]


def only_pair(container: Container) -> dict[str, Any]:
    """Her, where all in a container that may be female go by one code, and him, where all do that
    may be male; of one whose sex is not known neither, unless there are two by that code."""
    lots = container.lots_of("adult")
    there = summed((code, lot.number) for lot in lots for code in lot.codes)
    found: dict[str, Any] = {}
    for sex in ("female", "male"):
        may_be = [lot for lot in lots if lot.sex in (sex, "")]
        codes = {code for lot in may_be for code in lot.codes}
        if len(codes) == 1 and (any(lot.sex for lot in may_be) or there[min(codes)] > 1):
            found[sex] = codes.pop()
    return found


def _stood_elsewhere(bench: Bench, code: str, at: datetime) -> str:
    """That a container did not stand at that time, and the one in which a pair did."""
    pairs = [one.code for one in bench.standing() if {"female", "male"} <= {*only_pair(one)}]
    line = f", as: {pairs[0]} paired {at:%Y-%m-%d %H:%M}" if len(pairs) == 1 else ""
    then = f"{at:%Y-%m-%d %H:%M}"
    return f"{code} did not stand yet at {then}; say the cup in which they were seen{line}"


def with_whom(container: Container, said: Said) -> str:
    """The question who paired, with what stands there."""
    pair = only_pair(container) | dict(said)
    lots = container.lots_of("adult")
    adults = dict.fromkeys(code for lot in lots for code in lot.codes)
    females, males = (
        [code for lot in lots for code in lot.codes if lot.sex != other]
        for other in ("male", "female")
    )
    there = summed((code, lot.number) for lot in lots for code in lot.codes)
    hers = [one for one in females if one != pair.get("male") or there[one] > 1]
    named = pair.get("female")
    female = named if named in females else (*hers, "W2")[0]
    males = [one for one in males if one != female or there[one] > 1]
    male = pair.get("male", (*males, "M3")[0])
    text = f"who with whom? {container.code} holds {', '.join(adults) or 'no adults'} on record"
    if not adults:
        return f"{text}; say the cup in which they were seen"
    if not males:
        return (
            f"{text}, and no male. As: {container.code} paired {female} with wild, where he never"
            f" came in; else with his code in place of 'wild'"
        )
    return f"{text}. As: {container.code} paired {female} with {male}"


def sibs_words(bench: Bench, brood: str) -> str:
    """How two of one brood are related, as far as its mothers tell."""
    begun = bench.broods.get(brood)
    return (
        "brother and sister"
        if begun and len(begun.mothers) == 1
        else "brother and sister, or of several mothers"
    )


def _paired(bench: Bench, entry: Paired | PairingPlanned) -> Iterator[str]:
    for code in (entry.female, *([entry.male] if entry.male != WILD else [])):
        yield from known_brood(bench, code)
    yield from impossible_parents(bench, (entry.female,), (entry.male,))


def _not_both_here(bench: Bench, entry: Paired) -> str:
    container = bench.containers[entry.container]
    # he never came in
    wanted = Counter(code for code in (entry.female, entry.male) if code != WILD)
    for code, number in wanted.items():
        lots = [lot for lot in container.lots if code in lot.codes]
        if sum(lot.number for lot in lots if lot.stage == "adult") >= number:
            continue
        others = [
            one.code for one in bench.standing() if any(code in lot.codes for lot in one.lots)
        ]
        if lots:
            text = ", ".join(animals(lot.number, lot.stage, "", lot.instar) for lot in lots)
            return f"of {code} {container.code} holds {text}, not {count(number, 'adult')}"
        if others:
            return f"{code} is in {some_of(others)}, not in {container.code}"
        return f"{code} is not on the bench any more"
    return ""
