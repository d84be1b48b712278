"""Searching: for eggs, for frass under kept stems, and looking at what is there."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import chain
from typing import Annotated, Any, Literal

from msgspec import Meta
from msgspec.structs import asdict, replace

from rounds.bench.codes import INSTAR, like_codes
from rounds.bench.folding.female_days import LAYS_IN
from rounds.bench.folding.kept_stems import (
    FRASS_LEVELS,
    PERHAPS,
    SHOWN,
    hosts_searched,
    larvae_found_on,
    left_standing,
    lots_searched,
    stems_of,
)
from rounds.bench.folding.lots import container_for, move, new_lot, note_inconsistency
from rounds.bench.folding.removal import learn_some_missed, search_again, taken_off
from rounds.bench.folding.searches import in_order_of_coming, plants_searched, was_searched
from rounds.bench.folding.signs import QUIET_SIGNS, SHOWN_BY, SIGN_WORDS, is_cleaned_out
from rounds.bench.folding.sought import laid_on, search_stems, search_wait
from rounds.bench.kept_lots import KEPT, SAME_STOP, came_out_just_now, kept_by_words, named
from rounds.bench.measures import Measures
from rounds.bench.movements import A_DAY, FOUND, Movement
from rounds.bench.permits import past_with, permits_of
from rounds.bench.plurals import PLURALS, count, of_stage
from rounds.bench.state import STAGES, Bench, Container, Host, KeptLot, SearchMade, Unsure
from rounds.bench.whose_eggs import (
    CLOSE,
    brood_taxon,
    by_species,
    females,
    first_seen,
    laid_between,
    layers,
    mothers_of_found,
)
from rounds.entries.arrivals import BroodBegun
from rounds.entries.base import (
    MAXIMUM_COUNT,
    ContainerEntry,
    Count,
    KeptLots,
    Minutes,
    Said,
    Saying,
)
from rounds.entries.brood_of_eggs import eggs_with_a_brood
from rounds.entries.defaults import with_lots
from rounds.entries.hosts import plant_there
from rounds.entries.names import species_named
from rounds.entries.plant_parts import is_off_the_plant
from rounds.entries.questions import Choice, WhichAnimals
from rounds.entries.slots import Slots, each, say
from rounds.entries.validation import (
    holds,
    known_brood,
    known_lots,
    no_mother,
    which_lot,
    which_refusals,
)
from rounds.entries.which_animals import UNMARKED, or_not_known
from rounds.entries.wording import comma_joined, lots_words

MAX_LOOKS = 100
MAX_HOST_SEARCHES = 10
# a moult or a hang takes a day, up to two: common practice, no source
QUIET_AT_MOST = timedelta(hours=48)


# What a search was made with is no place: ``on the photo``, ``under a lens``.
SEEN_WITH = {
    " ".join(filter(None, (before, article, word))): aid
    for word, aid in {
        "photo": "macro photo",
        "photos": "macro photo",
        "lens": "lens",
        "loupe": "lens",
        "magnifier": "lens",
        "eye": "naked eye",
        "eyes": "naked eye",
    }.items()
    for before in ("", "by", "on", "in", "from", "with", "under")
    for article in ("", "a", "the")
} | {
    # a light shows no egg larger: common practice, no source
    " ".join(filter(None, (before, article, light))): "naked eye"
    for light in (
        "lamp",
        "lamplight",
        "lamp light",
        "torch",
        "torchlight",
        "torch light",
        "headlamp",
    )
    for before in ("by", "in", "with", "under")
    for article in ("", "a", "the", "my")
}


class Searched(ContainerEntry, frozen=True, kw_only=True, tag="searched"):
    """Looked for eggs on purpose; none found is worth as much as some.

    What is not sure waits for a lens or a photo.
    """

    found: Count
    minutes: Minutes | None = None
    aid: Literal["naked eye", "lens", "macro photo"] = "naked eye"
    where: Annotated[
        str, Meta(max_length=60, description="host, gauze, wall, paper, feeder, pot")
    ] = ""
    brood: Annotated[str, Meta(max_length=24, description="brood that the eggs belong to")] = ""
    plant: Annotated[str, Meta(max_length=80, description="which plant they were on")] = ""
    lots: KeptLots = ()
    unsure: Annotated[Count, Meta(description="seen, and not sure to be eggs")] = 0
    confirmed: Annotated[
        bool, Meta(description="of those not sure so many are eggs, the rest are none")
    ] = False
    which: Annotated[
        Literal["", "not known", "unmarked"],
        Meta(
            description=(
                "not known: nobody knows which of the females laid them; unmarked: one of those"
                " without a mark"
            )
        ),
    ] = ""
    among: Annotated[
        tuple[str, ...],
        Meta(description="females one of which laid them, nobody knows which: W2,W3"),
    ] = ()
    sure: Annotated[
        bool, Meta(description="on a plant, or of a female, that is not on record there")
    ] = False
    laid_by: Annotated[
        tuple[str, ...],
        Meta(
            description="females that may have laid them as it was known; empty if it was recorded"
        ),
    ] = ()

    gravity = 9
    answers = "eggs"
    lead = "searched, "
    changes_company = True
    names_animals = ("brood", "among", "laid_by")
    names_plant = "plant"
    slots = Slots(
        numbers=("found",),
        words=("where",),
        after=dict.fromkeys(("on", "in", "under", "to", "into"), "where"),
        leading={"on lot": "lots", "brood": "brood", "lot": "lots", "lots": "lots"},
        short=SEEN_WITH,
        idle=each("again another egg eggs extra found laid more new now seen twice"),
        synonyms=(
            say("confirmed", confirmed=True)
            | say("not eggs", confirmed=True, found=0)
            | say("laid, search, searching, looked for eggs, looked for, searched for")
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        shares = _shares(said)
        if shares:
            return [default for share in shares for default in cls.defaults(bench, share, at)]
        said = with_lots(bench, _on_kept_stems(bench, said))
        container = bench.at(str(said.get("container", "")))
        if container is None:
            return [(cls, said)]
        if said.get("confirmed"):
            said = _of_its_sighting(container, said)
        if not said.get("confirmed"):
            container = _where_the_stems_are(bench, container, said, at)
        if not said.get("found"):
            return [(cls, said)]
        begun, said = eggs_with_a_brood(bench, container, said, at)
        return [*([(BroodBegun, begun)] if begun else []), (cls, said)]

    @classmethod
    def named_here(cls, container: Container, said: Said) -> dict[str, Any]:
        return plant_there(container, said)

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        return _whose_eggs(bench, container, said)

    def refusals(self, bench: Bench) -> Iterator[str]:
        for code in (self.brood, *self.among):
            yield from known_brood(bench, code)
        yield from no_mother(bench, self.brood)
        yield from _known_or_standing(bench, self)
        if like_codes(self.where) and not INSTAR.match(self.where) and bench.at(self.where) is None:
            yield _no_such_cup(self)
        species = species_named(bench, self.plant) or species_named(bench, self.where)
        if species and self.found:
            yield (
                f"{species} is no plant, and no female of it may have laid in {self.container};"
                f" {_whose(bench, self)}"
            )
        yield from which_refusals(bench, self)
        if not (species or self.sure):
            yield from _stands_not(bench, self)
        if (
            self.found
            and not self.lots
            and len(lots_searched(bench, bench.containers[self.container], self)) > 1
        ):
            yield which_lot(bench.containers[self.container])
        if self.confirmed:
            yield from _unsure(bench, bench.containers[self.container], self)
        if self.found and not self.brood:
            yield _whose(bench, self)

    def counts_here(self, bench: Bench) -> bool:
        """A search of kept stems alone is none of the plants that stand there; but one that came
        just now bears nothing yet. To confirm what was seen is no search."""
        container = bench.containers.get(self.container)
        return not self.confirmed and (
            container is None
            or not self.lots
            or not container.hosts
            or bool(plants_searched(container, self))
        )

    def aside(self, bench: Bench) -> str:
        """That a permit of the mothers is past its limit of eggs with those that were found."""
        found = 0 if self.confirmed or not self.found or not bench.permits else self.found
        return past_with(bench, permits_of(bench, self.brood), eggs=found) if found else ""

    def effect(self, bench: Bench) -> list[Movement]:
        """A search; eggs found join the stock of the brood they were said to belong to."""
        container = container_for(bench, self.container, self)
        search_made = SearchMade(
            self.at, self.aid, self.found, self.minutes, self.unsure, self.container
        )
        lots = lots_searched(bench, container, self)
        hosts = hosts_searched(container, self)
        laid = laid_between(bench, container, self)
        _of_other_mothers(bench, container, self)
        _looked_for(bench, container, self, search_made, [*lots, *hosts])
        for held in lots:
            if self.confirmed:
                held.searches[:] = _settled(held.searches, self)
                continue
            held.searches.append(search_made)
            _answers_where_they_stood(bench, container, held, self)
        for host in hosts:
            host.searches = (
                _settled(host.searches, self)
                if self.confirmed
                else [*host.searches, search_made][-MAX_HOST_SEARCHES:]
            )
        if not self.confirmed:
            was_searched(container, self)
        if not (self.lots or self.confirmed):
            container.searched = (*container.searched, self.at)[-MAX_HOST_SEARCHES:]
        seen = _seen_unsure(bench, container, self, lots)
        if not self.found:
            return []
        _eggs_on(bench, container, self, lots)
        _lay(bench, container, self, lots)
        container.eggs_found = (seen if self.confirmed else None) or self.at
        if not self.brood:
            note_inconsistency(
                bench,
                self,
                f"{self.found} eggs found in {container.code} without a brood",
                fits=True,
            )
            return []
        _begun_early(bench, container, self, laid)
        _laid_first(bench, self, laid)
        _laid_also(bench, container, self, lots, laid)
        eggs = new_lot(
            self.brood, "egg", min(seen or self.at, laid[1]), latest=laid[1], begun_after=laid[0]
        )
        eggs.came = self.at
        return [move(bench, self, FOUND, eggs, self.found, to=container, laid=laid)]

    def wording(self, measures: Measures) -> str:
        text = f"{self.found} found" if self.found else "" if self.unsure else "none found"
        if self.confirmed:
            text = f"{self.found} confirmed" if self.found else "none of those not sure is an egg"
        return comma_joined(
            comma_joined("searched", text, f"{self.unsure} unsure" if self.unsure else ""),
            self.aid,
            f"on {self.where}" if self.where else "",
            self.plant,
            lots_words(self.lots),
            f"brood {self.brood}" if self.brood else "",
            f"{self.minutes:g} min" if self.minutes else "",
        )

    def unusual(self, bench: Bench) -> bool:
        return bool(self.found or self.unsure)

    def stays_here(self, bench: Bench) -> bool:
        kept = any(container.held for container in bench.standing())  # on which it tells of chances
        return not (self.found or self.unsure or self.confirmed or kept)


# How much frass is called on the screen.
_SHOWN_LEVELS = {"trace": "a little", "plain": "clearly there"}


class FrassSeen(ContainerEntry, frozen=True, kw_only=True, tag="frass"):
    """Looked for frass (droppings): under which kept lots; if no lot is
    named, all stay kept."""

    level: Literal["none", "trace", "plain"]
    lots: KeptLots = ()
    on_record: Annotated[
        bool, Meta(description="of larvae that are on record: it says nothing of others")
    ] = False

    answers = "frass"
    lead = "frass: "
    slots = Slots(
        leading={"under": "lots", "under lot": "lots", "lot": "lots", "lots": "lots"},
        short={
            "some": "trace",
            "no": "none",
            "0": "none",
            "a little": "trace",
            "clearly there": "plain",
            "much": "plain",
            "lots": "plain",
            "plenty": "plain",
            **dict.fromkeys(
                ("ok", "fresh", "normal", "good", "as usual", "heavy", "abundant"), "plain"
            ),
            **dict.fromkeys(("little", "few", "hardly any"), "trace"),
        },
        verbs=("droppings", "poo"),
        idle=each("of the those larvae young"),
        synonyms=(
            say("frass of larvae, frass of the larvae, frass of those", level="trace")
            | say("frass seen, frass there, frass yes", level="trace")
            | say("frass on record", level="trace", on_record=True)
            | say("no frass, no droppings, no poo, frass no", level="none")
            | say("lots of poo, much poo, plenty of poo, poo everywhere", level="plain")
            | say("some poo, little poo, a little poo", level="trace")
            | say("lots of frass, much frass, plenty of frass, fresh frass", level="plain")
            | say("little frass, a little frass, some frass, hardly any frass", level="trace")
            | say("trace frass, 1 trace frass, trace of frass, a trace of frass", level="trace")
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        is_unknown = said.get("lots") == (KEPT,) and said.get("level") in SHOWN
        said = with_lots(bench, said)
        if is_unknown and len(said["lots"]) > 1:  # under which of them was not said
            said = said | {"lots": ()}
        known = said.get("level") in SHOWN and _of_those_on_record(bench, said, at)
        return [(cls, said | ({"on_record": True} if known else {}))]

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from known_lots(bench, self)

    def effect(self, bench: Bench) -> None:
        """Frass under a kept lot, or none, which does not undo what was seen before; of larvae on
        record it says nothing of others, and what was seen before was theirs too.

        Seen where several are kept and the lot is not known, it may be of any but ends none of
        them.
        """
        container = container_for(bench, self.container, self)
        lots: list[KeptLot | Host] = (
            [held for _, held in named(bench, container, self.lots)]
            if self.lots
            else [*container.held, *left_standing(container)]
        )
        if self.lots or len(container.held) == 1:
            for held in lots:
                _seen_under(held, self.level)
        if self.on_record:
            larvae_found_on(container, lots)
            for held in lots:
                held.frass_unknown = self.at
            return
        is_known = bool(self.lots) or len(lots) == 1
        for held in lots:
            if self.level in SHOWN and not is_known:
                held.frass_unknown = self.at
                _frass_under(held, PERHAPS, self.at)
                continue
            if self.level in SHOWN and held.frass not in SHOWN and isinstance(held, KeptLot):
                learn_some_missed(bench, held)
            _frass_under(held, self.level, self.at)
            held.frass_looks.append(self.at)
            del held.frass_looks[:-MAX_LOOKS]

    def wording(self, measures: Measures) -> str:
        level = _SHOWN_LEVELS.get(self.level, self.level)
        whose = "of larvae on record" if self.on_record else ""
        return comma_joined(f"frass: {level}", whose, lots_words(self.lots))

    def aside(self, bench: Bench) -> str:
        """Frass where only eggs are on record is of some that hatched, which it does not say."""
        container = bench.at(self.container)
        if container is None or self.level not in SHOWN or container.held:
            return ""
        eggs = 0 if container.count("larva") else container.count("egg")
        hatched = f"if some of these hatched: {self.container} hatched 1"
        return f"{count(eggs, 'egg')} on record; {hatched}" if eggs else ""

    def unusual(self, bench: Bench) -> bool:
        return self.level in SHOWN

    def stays_here(self, bench: Bench) -> bool:
        return self.level not in SHOWN


LEFT_ALONE = ("still", "wandering", "hanging", "soft pupa", "wings up")  # signs that want no hand


class Looked(ContainerEntry, frozen=True, kw_only=True, tag="looked"):
    """Looked at, and what was seen."""

    sign: Literal[
        "as usual",
        "darkening",
        "still",
        "wandering",
        "hanging",
        "soft pupa",
        "colouring",
        "wings not up",
        "wings up",
        "weak",
        "condensation",
        "mould",
        "intruder",
        "stranger",  # as an intruder was called before
    ] = "as usual"
    number: Annotated[
        int, Meta(ge=0, le=MAXIMUM_COUNT, description="how many show it; left out if 0")
    ] = 0
    sure: Annotated[bool, Meta(description="seen so, though it was asked about")] = False

    answers = "look"
    lead = "looked, "
    slots = Slots(
        numbers=("number",),
        idle=each("adults egg eggs female larva larvae looks one pupa pupae seen"),
        short={"prepupa": "hanging", "prepupae": "hanging"},
        synonyms=(
            say(
                "ok, all ok, fine, all fine, all well, as usual, all as usual, no change, nothing"
                " new, feeding, eating, all feeding, eating well, feeding well, still eating,"
                " all alive, all good, all happy, happy, good, nothing to report,"
                " unchanged",
                sign="as usual",
            )
            | say(
                "look, looks, looking, seems, seen, wandering, weak, condensation, colouring,"
                " hanging, darkening, soft pupa, wings up, wings not up"
            )
            | say(
                "eggs dark, eggs darkening, eggs darkened, eggs black, dark eggs, eggs darker, eggs"
                " grey, eggs gone grey, eggs gone dark, gone grey, gone dark, turned grey",
                sign="darkening",
            )
            | say("steamed up, fogged up, wet inside", sign="condensation")
            | say("hanging up, hung up, prepupa, prepupae, prepupal", sign="hanging")
            | say("wander, wanders, wandered", sign="wandering")
            | say("coloured, coloured up, pupa dark, pupae dark, wings visible", sign="colouring")
            | say(
                "not moving, moulting, in moult, motionless, some still, still before moult, some"
                " still before moult, all still, all moulting",
                sign="still",
            )
            | say("fresh pupa", sign="soft pupa")
        ),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        container, stage = bench.containers[self.container], SHOWN_BY.get(self.sign)
        there = container.count(stage) if stage else 0
        if stage and self.number > there > 0:
            yield (
                f"{self.number} {SIGN_WORDS.get(self.sign, self.sign)}, but {container.code} holds"
                f" {of_stage(there, stage)} on record; give {there} or fewer, or count first"
            )
        held = sum(lot.number for lot in container.lots)
        if self.sign == "as usual" and self.number > held:
            searched = f"; eggs found: {container.code} searched {self.number}"
            yield (
                f"{self.number} as usual, but {container.code} holds {holds(container)} on record;"
                f" give {held} or fewer, or count first{searched * bool(container.females)}"
            )
        usual = {held, *(container.count(one) for one in STAGES)}  # as many as there are of some
        found = container.count("adult") < self.number < held and self.number not in usual
        if self.sign == "as usual" and container.females and found and not self.sure:
            code, number = container.code, self.number
            yield (
                f"{code} holds {holds(container)} on record: {number} eggs found, or {number} of"
                f" those as usual? As: {code} searched {number}; {code} looked {number} sure"
            )
        if (
            stage
            and container.lots
            and all(STAGES.index(lot.stage) > STAGES.index(stage) for lot in container.lots)
        ):
            of_pupae = (
                f"; of pupae: {container.code} colouring"
                if self.sign == "darkening" and container.count("pupa")
                else ""
            )
            yield (
                f"{container.code} holds {holds(container)}; '{self.sign}' is seen of"
                f" {PLURALS[stage]}{of_pupae}"
            )

    def effect(self, bench: Bench) -> None:
        """What was seen stays on the card until something else is seen."""
        container = container_for(bench, self.container, self)
        _quiet(container, self)
        as_before = self._is_as_before(container) and container.sign_since is not None
        if not as_before:
            container.sign, container.sign_since = self.sign, self.at
        showing = SHOWN_BY.get(self.sign)
        there = container.count(showing) if showing else 0
        left = min(container.sign_left, there) if as_before else 0  # so many show it still
        container.sign_left = self.number or left or there
        _moult(container, self)

    def wording(self, measures: Measures) -> str:
        sign = SIGN_WORDS.get(self.sign, self.sign)
        return f"looked, {f'{self.number} ' if self.number else ''}{sign}"

    def unusual(self, bench: Bench) -> bool:
        """What wants a hand, or soon will; not a sign that is there as before, nor what is only to
        be left alone."""
        return self.sign not in ("as usual", *LEFT_ALONE) and not self._is_as_before(
            bench.containers[self.container]
        )

    def _is_as_before(self, container: Container) -> bool:
        """Whether the sign is there as it was; mould in a cup that was cleaned since is new."""
        return self.sign == container.sign and not is_cleaned_out(container)

    def stays_here(self, bench: Bench) -> bool:
        return self.sign == "as usual"


def _known_or_standing(bench: Bench, entry: Searched) -> Iterator[str]:
    """As of any lots; where none are kept, the plant that stands there may be meant."""
    container = bench.containers[entry.container]
    for line in known_lots(bench, entry):
        stands = container.hosts and not container.held
        how = f"{entry.container} searched {entry.found}"
        yield f"{line}; on the plant that stands there: {how}" if stands else line


def _no_such_cup(entry: Searched) -> str:
    """Eggs said to be on what is named like a container: a place on the plant is not called so."""
    code, cup, eggs = entry.container, entry.where, count(entry.found, "egg")
    return (
        f"{cup} does not stand, and is no place on a plant; eggs on record in {code} go there as:"
        f" {code} moved {eggs} to new {cup}; eggs found just now are typed first, as: {code}"
        f" searched {entry.found}"
    )


def _stands_not(bench: Bench, entry: Searched) -> Iterator[str]:
    """A plant that is named and not on record there: it was never put in, or came later."""
    container = bench.containers[entry.container]
    there = dict.fromkeys(stem.plant for stem in container.stems)
    named = [plant for plant in there if plant.casefold() in entry.plant.casefold()]
    if not entry.plant or entry.plant in there:
        return
    if named:
        each = " and ".join(named)
        as_said = ", ".join(
            f"{'4 eggs' if n == 0 else 'none'} on {one}" for n, one in enumerate(named)
        )
        yield (
            f"'{entry.plant}' is not read as {each}; say how many were on each, as:"
            f" {entry.container} {as_said}; or {entry.container} searched {entry.found} not known"
        )
    else:
        but = f"but {' and '.join(there)}" if there else "nor any other plant"
        yield (
            f"{entry.plant} does not stand in {entry.container} on record, {but}; first say when it"
            f" came, as: {entry.container} host in {entry.plant} {entry.at:%H:%M}; if it was so,"
            " add 'sure'"
        )


def _whose(bench: Bench, entry: Searched) -> str:
    """How to say whose eggs are."""
    container = bench.containers[entry.container]
    here = {code for lot in container.lots_of("egg") for code in lot.codes}
    codes = [*layers(bench, container, {"lots": entry.lots}, entry.at).codes] or sorted(
        here & bench.broods.keys()
    )
    if not codes and bench.broods:
        brood = list(bench.broods)[-1]
        return (
            f"no female stood in {container.code} then; if one did, first say when she came; else"
            f" say whose the eggs are, as: {container.code} searched {entry.found} brood={brood}"
            " sure"
        )
    if not codes:
        return (
            f"no female stood in {container.code}; first begin a brood, as: brood E1 taxon='Boloria"
            " dia'; then say brood=E1"
        )
    return (
        f"say which brood the eggs belong to, as {' or '.join(f'brood={code}' for code in codes)}"
    )


def _unsure(bench: Bench, container: Container, entry: Searched) -> Iterator[str]:
    """Which of what was not sure is settled, where it was seen in several places."""
    code = container.code
    meant = [one for one in container.unsure if one.fits(entry.plant, entry.lots)]
    if not meant:
        places = ", ".join(
            f"{unsure.number} on {unsure.plant}" for unsure in container.unsure if unsure.plant
        )
        on = f" on {entry.plant}; there are {places}" if entry.plant and places else ""
        for one in container.seen_unsure(entry.plant, entry.lots):
            keepers = [keeper for keeper in bench.standing() if one in keeper.unsure]
            for keeper in keepers:
                yield (
                    f"what was not sure in {code} went with its stems to {keeper.code}; as:"
                    f" {_how_confirmed(keeper.code, one, len(keeper.unsure))}"
                )
                return
        yield (
            f"{code} has nothing seen that was not sure{on}; say what was found, as: {code}"
            f" searched {entry.found or 4}"
        )
    there = sum(one.number for one in meant)
    if len({(one.plant, one.lots) for one in meant}) > 1 and 0 < entry.found < there:
        ways = [_how_confirmed(code, one) for one in meant]
        yield f"{there} are not sure in {code}; say which, as: {' and '.join(ways)}"


def _how_confirmed(code: str, unsure: Unsure, of: int = 2) -> str:
    if of == 1:
        return f"{code} confirmed {unsure.number}"
    where = (
        f" plant={unsure.plant}"
        if unsure.plant
        else f" lots={','.join(unsure.lots)}"
        if unsure.lots
        else ""
    )
    return f"{code} confirmed {unsure.number}{where}"


def _laid_also(
    bench: Bench,
    container: Container,
    entry: Searched,
    lots: list[KeptLot],
    laid: tuple[datetime, datetime],
) -> None:
    """Eggs found later on were laid up to then, where their mothers stand, or while their stems
    stood with females."""
    brood = bench.broods.get(entry.brood)
    if brood is None or brood.laid_to is None:
        return
    mothers = {code for lot in container.lots_of("adult") for code in lot.codes} & set(
        brood.mothers
    )
    since = laid[0] if lots and brood.laid_from else brood.laid_from
    until = laid[1] if lots or mothers else brood.laid_to
    if since and brood.laid_from and since < brood.laid_from:
        brood = replace(brood, laid_from=since)
    bench.broods[entry.brood] = replace(brood, laid_to=max(until, brood.laid_to or until))


def _laid_first(bench: Bench, entry: Searched, laid: tuple[datetime, datetime]) -> None:
    """The find that began a brood was laid since the search before, also where that, or that a
    female left, was written down after it."""
    brood = bench.broods.get(entry.brood)
    if brood is None or brood.at != entry.at or not (brood.laid_from and brood.laid_to):
        return
    if entry.brood in bench.tallies:
        return  # some were found before its line
    until = min(brood.laid_to, laid[1])
    since = laid[0] if laid[0] <= until else brood.laid_from
    bench.broods[entry.brood] = replace(brood, laid_from=min(since, until), laid_to=until)


def _begun_early(
    bench: Bench, container: Container, entry: Searched, laid: tuple[datetime, datetime]
) -> None:
    """A find that was written down late begins its brood, whose own line comes later or was crossed
    out."""
    mothers = mothers_of_found(bench, container, entry)
    line = dict(entry.cups).get(entry.brood)
    if line and mothers and entry.brood not in bench.broods:
        bench.broods[entry.brood] = BroodBegun(
            id=line,
            at=entry.at,
            logged=entry.at,
            code=entry.brood,
            taxon=brood_taxon(bench, mothers),
            mothers=mothers,
            laid_from=laid[0],
            laid_to=laid[1],
        )


def _answers_where_they_stood(
    bench: Bench, container: Container, held: KeptLot, entry: Searched
) -> None:
    """Stems searched as they come out were searched for the container that they stood in."""
    source = bench.at(held.source)
    if (
        source is None
        or source is container
        or not timedelta(0) <= entry.at - held.taken_out <= SAME_STOP
    ):
        return
    source.last[entry.what] = entry
    was_searched(source, entry)
    source.searched = (*source.searched, entry.at)[-MAX_HOST_SEARCHES:]
    if entry.found:
        source.eggs_found = entry.at
    walk = bench.open_round
    if walk and entry.round == walk.id:
        walk.done.append((source.code, entry.what))


def _seen_unsure(
    bench: Bench, container: Container, entry: Searched, lots: list[KeptLot]
) -> datetime | None:
    """What is not sure stays beside the stock until a lens, a photo or a word settles it, each
    sighting by itself.

    Returns:
        When eggs that are now sure were first seen.
    """
    settles = entry.confirmed or entry.aid in CLOSE
    before = container.seen_unsure(entry.plant, entry.lots) if entry.confirmed else []
    if settles and not entry.confirmed:  # a search of other stems settles nothing
        sought = {held.lot for held in lots}
        fit = [one for one in container.unsure if one.fits(entry.plant, entry.lots)]
        before = [one for one in fit if not one.lots or sought & {*one.lots}]
    again = [
        one
        for one in container.unsure
        if entry.unsure and (one.plant, one.lots) == (entry.plant, entry.lots)
    ]
    container.unsure = [one for one in container.unsure if one not in before and one not in again]
    for keeper in bench.standing() if entry.confirmed else ():
        keeper.unsure = [one for one in keeper.unsure if not one.lots or one not in before]
    if entry.unsure:
        first = min((one.at for one in again), default=entry.at)
        container.unsure.append(Unsure(entry.unsure, first, entry.lots, entry.plant, entry.aid))
    return min(one.at for one in before) if before and entry.found else None


def _of_its_sighting(container: Container, said: dict[str, Any]) -> dict[str, Any]:
    """A confirmation with the number, place and aid of what was seen, as far as they are not said
    and that was one sighting."""
    plant, lots = str(said.get("plant", "")), tuple(said.get("lots") or ())
    seen = [unsure for unsure in container.unsure if unsure.fits(plant, lots)]
    if said.get("found") is None:
        said = said | {"found": sum(unsure.number for unsure in seen)}
    if len({(one.plant, one.lots) for one in seen}) != 1:
        return said
    of = {"plant": seen[-1].plant, "lots": seen[-1].lots, "aid": seen[-1].aid}
    return said | {name: value for name, value in of.items() if value and not said.get(name)}


def _settled(searches: Sequence[SearchMade], entry: Searched) -> list[SearchMade]:
    """The searches of some stems, the last that saw what is settled with what it found."""
    last = max((n for n, made in enumerate(searches) if made.unsure), default=None)
    return [
        replace(made, found=made.found + entry.found) if n == last else made
        for n, made in enumerate(searches)
    ]


def _plant_of(container: Container, entry: Searched, lots: list[KeptLot]) -> str:
    """The plant that eggs were found on: the one named, or the only one there; empty where it may
    be of several, or they were beside the plants."""
    if is_off_the_plant(entry.where) and not entry.plant:
        return ""
    plants = {held.plant for held in lots}
    plants = plants or {host.plant for host in hosts_searched(container, entry) or container.hosts}
    return entry.plant or (next(iter(plants)) if len(plants) == 1 else "")


def _of_other_mothers(bench: Bench, container: Container, entry: Searched) -> None:
    """Tell of eggs that are of others than was taken when they were found, as where one turns out
    to have died before, or to have lived: who was there settled whose they are."""
    brood = bench.broods.get(entry.brood)
    if not entry.found or brood is None:
        return
    begun_here = brood.at == entry.at
    said = asdict(entry)
    may_be = layers(bench, container, said, first_seen(container, said) or entry.at).codes
    taken = set(entry.laid_by) or {one for one in brood.mothers if one in container.stood}
    if entry.which == UNMARKED:
        may_be = tuple(one for one in may_be if one in taken or one not in bench.marks)
    gone, more = sorted(taken - {*may_be}), sorted({*may_be} - taken)
    if not may_be and entry.laid_by:
        note_inconsistency(
            bench,
            entry,
            f"{_were(gone, 'there no more')}, nor any other female; if that was written too early,"
            f" cross it out in the daybook, else say whose they are, as: {container.code} eggs are"
            f" of {gone[0]} {entry.at:%Y-%m-%d %H:%M}",
        )
    if not may_be or {*may_be} == {*brood.mothers} or not taken:
        return
    if begun_here and {*brood.mothers} != taken and {*brood.mothers} <= {*may_be}:
        return  # somebody said since which of them it is
    if not (entry.laid_by and (gone or more)) and not (begun_here and gone):
        return
    told = [_were(gone, "there no more"), _were(more, "there too")]
    mends = (
        f"{brood.code} is of {', '.join(may_be)}"
        if begun_here
        else f"{container.code} eggs are of {', '.join(may_be)} {entry.at:%Y-%m-%d %H:%M}"
    )
    note_inconsistency(
        bench, entry, f"{' and '.join(filter(None, told))}; say whose they are, as: {mends}"
    )


def _were(codes: list[str], how: str) -> str:
    return f"{', '.join(codes)} {'were' if len(codes) > 1 else 'was'} {how}" if codes else ""


def _looked_for(
    bench: Bench,
    container: Container,
    entry: Searched,
    search_made: SearchMade,
    stems: list[KeptLot | Host],
) -> None:
    """A search of these stems; to confirm what was seen before is none."""
    plant = _plant_of(container, entry, [stem for stem in stems if isinstance(stem, KeptLot)])
    on = [one for one in stems if _bears(one, entry, plant)] if entry.found else []
    for one in stems:
        bears = any(one is other for other in on)
        if entry.confirmed:
            if bears:
                taken_off(one)
        else:
            search_again(
                bench, one, search_made, None if bears and len(on) > 1 else entry.found * bears
            )
            stood_in = bench.at(one.source) if isinstance(one, KeptLot) else container
            if stood_in is not None:
                search_wait(stood_in, one, search_made)
            search_stems(bench, one, search_made, tells=not entry.found or bool(plant))
        if bears:
            one.eggs += entry.found


def _bears(stems: KeptLot | Host, entry: Searched, plant: str) -> bool:
    """Whether the eggs that were found may be on some stems."""
    return plant == stems.plant or not (plant or is_off_the_plant(entry.where))


def _lay(bench: Bench, container: Container, entry: Searched, lots: list[KeptLot]) -> None:
    """They lay: the time without eggs begins anew, on that plant, or on all where it is not known
    which."""
    plant = _plant_of(container, entry, lots)
    for where in {container.code, *(held.source for held in lots)}:
        place = bench.containers.get(where)
        if place is not None:
            place.without_eggs = {
                one: known for one, known in place.without_eggs.items() if plant and one != plant
            }


def _eggs_on(bench: Bench, container: Container, entry: Searched, lots: list[KeptLot]) -> None:
    """Eggs found on a plant, for the usual rate of laying on it."""
    plant = _plant_of(container, entry, lots)
    taxon = bench.taxon_of(entry.brood) if entry.brood else ""
    brood = bench.broods.get(entry.brood)
    if plant and taxon:
        laid_on(bench, taxon, plant, brood.mothers if brood else (entry.brood,)).eggs += entry.found


def _of_those_on_record(bench: Bench, said: Said, at: datetime) -> bool:
    """Whether frass is of larvae on record: they stand there, or hatched there, of eggs on
    record, within a day and since the stems were looked under; of the same mothers, or no female
    ever sat on the stems, and no frass waits for its larvae."""
    container = bench.at(str(said.get("container", "")))
    if container is None:
        return False
    named_lots = said.get("lots") or ()
    lots = [held for held in container.held if not named_lots or held.lot in named_lots]
    theirs = stems_of(bench, container, container.lots_of("larva"))
    hatched: Any = container.last.get("hatched")
    if hatched is not None and (hatched.lots or at - hatched.at > A_DAY):
        hatched = None  # earlier frass told of those, or others hatched since

    def known(held: KeptLot) -> bool:
        looked = max([held.taken_out, *held.frass_looks[-1:]])
        since = hatched is not None and hatched.at >= looked and _is_of(bench, hatched, held)
        waits = held.frass in (PERHAPS, *SHOWN)
        theirs_alone = not held.mothers and bool(container.count("larva"))
        return not waits and (since or theirs_alone or any(one is held for one in theirs))

    return bool(lots) and all(known(held) for held in lots)


def _is_of(bench: Bench, hatched: Any, held: KeptLot) -> bool:
    """Whether those that hatched are of the mothers of a kept lot; where no brood was said they may
    be."""
    brood = bench.broods.get(hatched.brood)
    return not hatched.brood or bool(brood and set(brood.mothers) & set(held.mothers))


def _frass_under(held: KeptLot | Host, level: str, at: datetime) -> None:
    """The most that was seen stays."""
    if level in (PERHAPS, *SHOWN):
        held.frass_since = held.frass_since or at
    held.frass = max(held.frass, level, key=FRASS_LEVELS.index)
    _seen_under(held, held.frass)


def _seen_under(held: KeptLot | Host, level: str) -> None:
    """The most that was ever seen under a kept lot, whatever became of its larvae."""
    if isinstance(held, KeptLot):
        held.most_frass = max(held.most_frass, level, key=FRASS_LEVELS.index)


def _quiet(container: Container, entry: Looked) -> None:
    """Each sighting of one that moults, hangs or is a fresh pupa keeps the others undisturbed too.

    Seen as before, without a number, it does so only as long as that takes: what lies still for
    days is asked about.
    """
    if entry.sign == "as usual":
        container.quiet_seen = None
    elif entry.sign in QUIET_SIGNS:
        since = container.sign_since
        goes_on = container.sign == entry.sign and since is not None and not entry.number
        if not goes_on or since is None or entry.at - since <= QUIET_AT_MOST:
            container.quiet_seen = entry.at


def _moult(container: Container, entry: Looked) -> None:
    """Those that do not move moult on whatever others show at a later look, or if nothing new was
    seen; not where as many as there are were seen to eat."""
    if entry.sign == "still":
        since = container.moult_seen
        lasts = since is not None and entry.at - since <= QUIET_AT_MOST and not entry.number
        container.moult_seen = since if lasts else container.sign_since
        container.moulting = container.sign_left
    elif entry.sign == "as usual" and entry.number >= container.count("larva"):
        container.moult_seen = None


def _shares(said: dict[str, Any]) -> list[dict[str, Any]]:
    """One search a lot, where eggs were said lot by lot, as ``lots=1:3,2:2``."""
    shares = [one.partition(":") for one in said.get("lots", ())]
    if not all(lot.isdecimal() and number.isdecimal() for lot, _, number in shares):
        return []
    return [said | {"lots": (lot,), "found": int(number)} for lot, _, number in shares]


def on_one_of(container: Container, said: Said) -> list[str]:
    """The plants on one of which eggs were that a search found where females lay, or what was
    not sure is; empty where it was said, or only one stands there."""
    told = any(said.get(name) for name in ("plant", "lots", "where", "which"))
    if said.get("confirmed"):
        told = (
            told or not container.unsure or any(one.plant or one.lots for one in container.unsure)
        )
    plants = in_order_of_coming(container, (host.plant for host in container.hosts))
    asks = said.get("found") and not told and container.purpose in LAYS_IN and len(plants) > 1
    return plants if asks else []


def _on_kept_stems(bench: Bench, said: dict[str, Any]) -> dict[str, Any]:
    """Where eggs were, with ``old stems`` as the kept lots that are meant."""
    container = bench.at(str(said.get("container", "")))
    plants = {held.plant for held in container.held} if container else set()
    lots = kept_by_words(str(said.get("where") or ""), plants)
    if not lots:
        return said
    return said | {"where": "", "lots": said.get("lots") or (lots,)}


def _where_the_stems_are(
    bench: Bench, container: Container, said: dict[str, Any], at: datetime
) -> Container:
    """A search at the stop where stems just came out is of those stems, wherever they are kept
    now; of one plant of them, where it is named and stands there no more."""
    plant = str(said.get("plant", ""))
    if said.get("lots") or (said.get("where") and not plant):
        return container
    out = came_out_just_now(bench, container, at, plant)
    if out is None:
        return container
    keeper, lots = out
    said["container"], said["lots"] = keeper.code, tuple(held.lot for held in lots)
    return keeper


def _whose_eggs(bench: Bench, container: Container, fields: Said) -> WhichAnimals | None:
    """Of which species eggs are, where females of several may have laid them; of which brood, where
    no female did and only later stages stand; whether they are of one who never stood there."""
    if not fields.get("found"):
        return None
    if not fields.get("sure") and (code := _never_there(bench, container, fields)):
        line = f"no female of {code} stood in {container.code} then; if the eggs are hers, add"
        return WhichAnimals(line, (Choice("sure", {"sure": True}),))
    if any(fields.get(name) for name in ("brood", "which", "among")):
        return None
    mothers = layers(bench, container, fields, fields.get("at")).codes
    if not mothers:
        return _by_no_female(bench, container)
    groups = by_species(bench, mothers)
    if len(groups) < 2:
        return None
    choices = [
        (
            Choice(f"brood={group[0]}", {"brood": group[0]})
            if len(group) == 1
            else Choice(f"of {','.join(group)}", {"among": group})
        )
        for group in groups
    ]
    line = f"females of several species may have laid them in {container.code}; say whose they are"
    return WhichAnimals(line, or_not_known(choices))


def _never_there(bench: Bench, container: Container, fields: Said) -> str:
    """The brood that eggs are said to be of, where none of it is in the container and none of its
    mothers, as far as they are known, ever was there or laid on its stems; else empty."""
    code = str(fields.get("brood") or "")
    brood = bench.broods.get(code)
    mothers = set(brood.mothers) if brood else {code} & bench.founders.keys()
    lots = container.held + [held for _, held in named(bench, container, fields.get("lots") or ())]
    there = {code for lot in container.lots for code in lot.codes}
    there |= {code for lot in females(container) for code in bench.may_lay(lot)}
    there |= {*container.stood, *chain(*(host.mothers for host in container.hosts))}
    there |= {*chain(*(held.mothers for held in lots))}
    return "" if not mothers or there & {code, *mothers} else code


def _by_no_female(bench: Bench, container: Container) -> WhichAnimals | None:
    """Eggs where no female is on record are of a brood that stands there only if that is said."""
    broods = {lot.brood: None for lot in container.lots if lot.brood in bench.broods}
    if not broods or container.count("egg"):
        return None
    line = f"no laying female on record in {container.code}; if the eggs are of a brood there, add"
    return WhichAnimals(line, tuple(Choice(f"brood={code}", {"brood": code}) for code in broods))
