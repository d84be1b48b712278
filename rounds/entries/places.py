"""Containers and shelves, and how they are kept."""

from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise
from typing import Annotated

from msgspec import Meta

from rounds.bench.codes import no_range, some_of
from rounds.bench.dates import end_beside
from rounds.bench.diapause import rested_until
from rounds.bench.folding.lots import container_for, make_good, note_inconsistency
from rounds.bench.folding.signs import MOULDY, is_cleaned_out
from rounds.bench.folding.stage_completions import MAX_STAYS, stayed
from rounds.bench.measures import Measures, measures_of, too_hot
from rounds.bench.movements import Carried
from rounds.bench.state import Bench, Container, EarlierPlace, Moat, SaidBy, Shelf
from rounds.entries.base import (
    Barrier,
    Code,
    ContainerEntry,
    Entry,
    Millilitres,
    Place,
    Purpose,
    Words,
)
from rounds.entries.check_labels import called
from rounds.entries.piecewise import Piecewise, typed
from rounds.entries.slots import AWAKE, Slots, say
from rounds.entries.validation import alike_in, holds, move_kept, new_code, standing
from rounds.entries.wording import by_field, comma_joined


class SetUp(ContainerEntry, frozen=True, kw_only=True, tag="set up"):
    """A container takes its place on the bench."""

    purpose: Purpose
    shelf: Annotated[str, Meta(max_length=24, description="the shelf it stands on")] = ""
    place: Place = 0
    inside: Annotated[str, Meta(max_length=24, description="the container it stands in")] = ""
    volume_ml: Millilitres = 0
    lid: Annotated[str, Meta(max_length=60, description="gauze, closed, perforated")] = ""
    lining: Annotated[str, Meta(max_length=60, description="what lies on the floor")] = ""
    barrier: Annotated[Barrier, Meta(description="its own ant barrier; its shelf's counts too")] = (
        "none"
    )

    sets_up = of_now = True
    changes_company = True
    slots = Slots(
        numbers=("place",),
        leading={
            "shelf": "shelf",
            "on": "shelf",
            "inside": "inside",
            "in": "inside",
            "place": "place",
            "for": "purpose",
        },
        verbs=("setup",),
        synonyms=say("stands, new container"),
        short=dict.fromkeys(("incubation", "incubating", "incubator"), "eggs"),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        standing_here = bench.at(self.container)
        if standing_here is not None and not standing_here.is_made_up:
            yield (
                f"{self.container} stands on the bench already; close it first, or choose another"
                " code"
            )
        yield from new_code(self.container, "container")
        if wrong := no_range(self.container):
            yield wrong
        for what, codes in (("founder", bench.founders), ("brood", bench.broods)):
            alike = alike_in(self.container, codes)
            if alike:
                yield f"{alike} is a {what}; a container needs a name that no animals have"
        if self.inside:
            yield from standing(bench, self.inside)
            if self.inside == self.container:
                yield f"{self.container} cannot stand inside itself"

    def effect(self, bench: Bench) -> None:
        """A container takes its place, empty; a washed code may stand again, and one that was never
        set up keeps what it holds."""
        made_up = bench.at(self.container)
        if made_up is not None and made_up.is_made_up:
            self._fill_in(made_up)
            make_good(bench, self.container)
            return
        if made_up is not None:
            note_inconsistency(
                bench, self, f"{self.container} was set up while it stood on the bench"
            )
            return
        bench.closed.pop(self.container, None)
        bench.containers[self.container] = Container(
            code=self.container,
            set_up=self.id,
            set_up_by=self.by,
            said=next((one for one, by in self.cups if by == self.id != one != self.container), ""),
            purpose=self.purpose,
            since=self.at,
            logged=self.logged,
            shelf=self.shelf,
            place=self.place,
            inside=self.inside,
            volume_ml=self.volume_ml,
            lid=self.lid,
            lining=self.lining,
            barrier=self.barrier,
        )

    def _fill_in(self, container: Container) -> None:
        container.logged, container.set_up, container.set_up_by = self.logged, self.id, self.by
        if not (container.lots or container.hosts or container.held):
            container.since = self.at  # a line of long before was all that there was of it
        for name in ("volume_ml", *_MAY_CHANGE):
            setattr(container, name, getattr(self, name))

    def wording(self, measures: Measures) -> str:
        return comma_joined(
            f"set up for {called(self.purpose)}",
            f"shelf {self.shelf}{f' place {self.place}' if self.place else ''}" * bool(self.shelf),
            f"inside {self.inside}" if self.inside else "",
            measures.bulk(self.volume_ml) if self.volume_ml else "",
            self.lid,
            self.lining,
            self.barrier if self.barrier != "none" else "",
        )


MAX_WASHED = 200  # containers that were closed last, by which another laptop may mean them still
_MAY_CHANGE = ("purpose", "shelf", "place", "inside", "lid", "lining", "barrier")


class Changed(Piecewise, frozen=True, kw_only=True, tag="changed"):
    """A container gets another purpose, place, lid or barrier; what is not given stays."""

    container: Code
    purpose: Purpose | None = None
    shelf: Annotated[str, Meta(max_length=24, description="the shelf it stands on")] | None = None
    place: Place | None = None
    inside: Annotated[str, Meta(max_length=24, description="the container it stands in")] | None = (
        None
    )
    lid: Annotated[str, Meta(max_length=60, description="gauze, closed, perforated")] | None = None
    lining: Annotated[str, Meta(max_length=60, description="what lies on the floor")] | None = None
    barrier: Barrier | None = None

    is_look = False
    changes_company = True
    slots = Slots(
        numbers=("place",),
        leading={
            "shelf": "shelf",
            "on": "shelf",
            "inside": "inside",
            "in": "inside",
            "place": "place",
            "to": "purpose",
        },
        synonyms=say(
            "diapause, in diapause, dormant, aestivating, estivating, lying over, lies over,"
            " winter rest, in winter rest, hibernating, in hibernation",
            purpose="overwintering",
        )
        | say(
            "out of diapause, diapause ended, diapause over, diapause broken, end of diapause,"
            " ended diapause, not in diapause, no longer in diapause, rest ended, rest over,"
            " end of rest, winter rest ended, winter rest over, out of winter rest, end of winter"
            " rest, taken in, brought in, taken indoors, brought indoors",
            purpose=AWAKE,
        ),
    )

    def said_on(self, bench: Bench) -> dict[str, SaidBy]:
        container = bench.containers.get(self.container)
        return container.said_by if container else {}

    to_note_on = said_on

    def refusals(self, bench: Bench) -> Iterator[str]:
        if all(getattr(self, name) is None for name in _MAY_CHANGE):
            code = self.container
            yield (
                f"what was changed? As: {code} host changed; {code} swab changed; {code} changed"
                " shelf=sill"
            )
        if self.inside:
            yield from standing(bench, self.inside)
            around = bench.containers.get(self.inside)
            passed = set()
            while around and around.code not in passed:
                if around.code == self.container:
                    yield f"{self.container} cannot stand inside itself"
                passed.add(around.code)
                around = bench.containers.get(around.inside)

    def effect(self, bench: Bench) -> list[Carried]:
        """What was given changes, the rest stays; animals in it, or in what stands in it, are
        carried along."""
        container = container_for(bench, self.container, self)
        if self.purpose is not None and self.purpose != container.purpose:
            for lot in container.lots:
                lot.rested = rested_until(bench, container, lot, self.at)
        self.note(bench, container)
        _note_since(container, self)
        if self.shelf is not None and self.shelf != container.shelf:
            for lot in container.lots:
                lot.stays = stayed(lot, container, self)
            for held in container.held:
                held.stays = (*held.stays, EarlierPlace(container.code, container.shelf, self.at))[
                    -MAX_STAYS:
                ]
        for name in _MAY_CHANGE:
            value = getattr(self, name)
            if value is not None:
                setattr(container, name, value)
        if self.shelf is None and self.inside is None:
            return []
        around = [(one.code, bench.places_of(one.code)) for one in bench.standing() if one.lots]
        return [
            Carried(self.at, code, places) for code, places in around if container.code in places
        ]

    def wording(self, measures: Measures) -> str:
        return by_field(self, measures)


class Closed(ContainerEntry, frozen=True, kw_only=True, tag="closed"):
    """An empty container leaves the bench to be washed."""

    cautions = ("bleach",)
    changes_company = True

    def refusals(self, bench: Bench) -> Iterator[str]:
        container = bench.containers[self.container]
        if container.lots:
            yield (
                f"{self.container} still holds {holds(container)}; move, release or settle them"
                " first"
            )
        if container.held:
            yield (
                f"{self.container} still holds kept stems that may bear eggs; move them first, as:"
                f" {move_kept(bench, self.container)}"
            )
        laid_on = sorted({host.plant for host in container.hosts if host.mothers})
        if laid_on:
            yield (
                f"{', '.join(laid_on)} in {self.container} may bear eggs; take it out first, as:"
                f" {_move_stems(bench, self.container)}"
            )

    def effect(self, bench: Bench) -> None:
        """A container leaves the bench; animals still in it on record are an oddity."""
        container = container_for(bench, self.container, self)
        if container.lots:
            note_inconsistency(
                bench,
                self,
                f"{container.code} was closed with {container.count()} in it on record",
            )
            return
        if container.held:
            note_inconsistency(bench, self, f"{container.code} was closed with kept stems in it")
            return
        bench.closed[container.code] = self.at
        del bench.containers[container.code]
        bench.relabel = [own for own in bench.relabel if own != container.code]
        if container.set_up:
            bench.washed[container.set_up] = container.washed()
            while len(bench.washed) > MAX_WASHED:
                del bench.washed[next(iter(bench.washed))]
        bench.put_off = [
            put_off for put_off in bench.put_off if put_off.container != container.code
        ]

    def aside(self, bench: Bench) -> str:
        inside = [
            container.code for container in bench.standing() if container.inside == self.container
        ]
        missing = sum(one.number for one in bench.shortfalls if one.container == self.container)
        lost = (
            f"{missing} still missing from it; if it is known what became of"
            f" {'it' if missing == 1 else 'them'}, undo this and say so, as: {self.container}"
            f" settled found {missing}"
            if missing
            else ""
        )
        if not inside:
            return lost
        stands = "stands" if len(inside) == 1 else "stand"
        return (
            f"{some_of(inside)} {stands} in it; say where it goes, as: {inside[0]} changed"
            " shelf=sill"
        )


class ShelfSetUp(Piecewise, frozen=True, kw_only=True, tag="shelf set up"):
    """A shelf or other place, with the barrier that all its containers share, its place in the
    walk, and its own limits; typed again, what the line leaves out stays as it was."""

    shelf: Code
    barrier: Barrier = "none"
    place: Place = 0
    apart: Annotated[
        bool, Meta(description="not in the room: outdoors, a shed, a second room, a cellar")
    ] = False
    cold_c: Annotated[float, Meta(ge=-40, le=60, description="too cold below, C")] | None = None
    warm_c: Annotated[float, Meta(ge=-40, le=60, description="too warm from, C")] | None = None
    hot_c: Annotated[float, Meta(ge=-40, le=60, description="dangerous from, C")] | None = None

    slots = Slots(
        numbers=("place",),
        words=("shelf",),
        leading={
            "barrier": "barrier",
            "with": "barrier",
            "place": "place",
            "at place": "place",
            "cold": "cold_c",
            "warm": "warm_c",
            "hot": "hot_c",
        },
    )

    @property
    def whereabouts(self) -> str:
        return ""

    @property
    def of_what(self) -> str:
        return f"shelf set up {typed(self.shelf)}"

    def refusals(self, bench: Bench) -> Iterator[str]:
        whole = self.joined(bench.shelves.get(self.shelf))
        given = [
            (name, value)
            for name in ("cold_c", "warm_c", "hot_c")
            if (value := getattr(whole, name)) is not None
        ]
        measures = measures_of(bench.settings)
        for name, value in given:
            if odd := too_hot(value, measures):
                yield f"{name.removesuffix('_c')} is {measures.warmth(value)}, {odd}"
        for (name, value), (later_name, later) in pairwise(given):
            if value > later:
                yield (
                    f"{name}={value:g} is above {later_name}={later:g}; cold comes before warm,"
                    " warm before hot"
                )

    def effect(self, bench: Bench) -> None:
        """A shelf; said again, its barrier, place and limits change and what was seen of it
        stays."""
        whole = self.noted(bench, bench.shelves.get(self.shelf))
        shelf = bench.shelves.setdefault(self.shelf, Shelf(self.shelf, self.logged))
        if whole.barrier != shelf.barrier:
            shelf.barrier_since = self.at
            _no_ants_yet(shelf.moat)
        shelf.barrier, shelf.place, shelf.apart = whole.barrier, whole.place, whole.apart
        shelf.cold_c, shelf.warm_c, shelf.hot_c = whole.cold_c, whole.warm_c, whole.hot_c

    def wording(self, measures: Measures) -> str:
        return comma_joined(
            f"shelf {self.shelf} set up",
            self.barrier if self.barrier != "none" else "",
            "apart from the room" if self.apart else "",
        )


class Cleaned(ContainerEntry, frozen=True, kw_only=True, tag="cleaned"):
    """Frass and old food taken out."""

    only_here = True
    answers = "clean"
    cautions = ("bleach",)
    slots = Slots(
        synonyms=say(
            "clean, cleaned out, wiped, wiped out, frass out, frass removed, frass cleared, frass"
            " emptied, droppings out, paper changed, new paper, lining changed"
        )
    )

    def unusual(self, bench: Bench) -> bool:
        """What a look saw that cleaning is for: mould, or condensation."""
        container = bench.containers[self.container]
        return container.sign in MOULDY and not is_cleaned_out(container)


class HandsWashed(Entry, frozen=True, kw_only=True, tag="hands washed"):
    """Hands washed between two groups of the walk."""

    slots = Slots(verbs=("washed", "washed hands"))


class LeaveBe(ContainerEntry, frozen=True, kw_only=True, tag="leave be"):
    """Do not disturb until a time: nothing is cleaned or moved, only looked at; it ends by
    itself."""

    until: Annotated[datetime, Meta(description="when it ends by itself")]
    why: Annotated[
        str, Meta(max_length=200, description="moulting, hanging to pupate, soft pupa")
    ] = ""

    slots = Slots(
        words=("why",),
        leading={"until": "until"},
        verbs=("do not disturb",),
        synonyms=say("leave alone, leave, not to be disturbed"),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        if self.until <= self.at:
            yield "'until' must be later than when it begins, as +24h"

    def effect(self, bench: Bench) -> None:
        container = container_for(bench, self.container, self)
        container.leave_be_until, container.leave_be_why = self.until, self.why

    def wording(self, measures: Measures) -> str:
        return comma_joined(f"do not disturb until {end_beside(self.until, self.at)}", self.why)


class Suspect(ContainerEntry, frozen=True, kw_only=True, tag="suspect"):
    """Something looks wrong: own tools, last in the walk, hands washed after."""

    sign: Words = ""

    gravity = 4
    slots = Slots(words=("sign",))

    def effect(self, bench: Bench) -> None:
        container = container_for(bench, self.container, self)
        container.suspect_since = container.suspect_since or self.at
        container.suspect_sign = self.sign


class Cleared(ContainerEntry, frozen=True, kw_only=True, tag="cleared"):
    """No longer suspect, or released from quarantine."""

    sign: Words = ""

    gravity = 11
    slots = Slots(
        words=("sign",),
        synonyms=say(
            "suspect off, suspect no, suspect none, suspect over, suspect ended, suspect=no,"
            " suspect=off, not suspect, no longer suspect, not suspect any more, no more suspect,"
            " unsuspect"
        ),
    )

    def effect(self, bench: Bench) -> None:
        container = container_for(bench, self.container, self)
        container.suspect_since, container.suspect_sign = None, ""


def _move_stems(bench: Bench, code: str) -> str:
    return f"{code} host out kept in new {bench.free_code('E')}"


def _note_since(container: Container, entry: Changed) -> None:
    """Since when it serves another purpose, stands on another shelf, or has another barrier: checks
    count from there."""
    if entry.purpose is not None and entry.purpose != container.purpose:
        container.purpose_since, container.purpose_before = entry.at, container.purpose
    if entry.shelf is not None and entry.shelf != container.shelf:
        container.shelf_since = entry.at
    if entry.barrier is not None and entry.barrier != container.barrier:
        container.barrier_since = entry.at
        _no_ants_yet(container.moat)


def _no_ants_yet(moat: Moat) -> None:
    """Of another barrier than before it is not known how it holds: ants seen before it stood are no
    sign."""
    moat.state, moat.ants_below, moat.ants_above = "", 0, 0
    moat.wants_since = moat.failed_since = None
