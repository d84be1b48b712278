"""Host plants and their stems: put in, looked at, taken out or kept."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Annotated, Any, Literal, TypeVar

from msgspec import Meta
from msgspec.structs import replace

from rounds.bench.codes import LETTERS
from rounds.bench.cuttings import (
    SAME_CUTTING,
    cut_in_store,
    cutting_key,
    remember_cut,
    standing_of,
    twice_given,
)
from rounds.bench.dates import beside, is_after
from rounds.bench.folding.freshness import comes_out, seen_to_go_off
from rounds.bench.folding.kept_stems import as_kept, sighted_on, sightings_go
from rounds.bench.folding.lots import container_for, feed_larvae, note_inconsistency
from rounds.bench.folding.removal import learn_watched
from rounds.bench.folding.searches import plant_comes
from rounds.bench.folding.sought import divided, on_plant
from rounds.bench.folding.stage_completions import MAX_STAYS
from rounds.bench.kept_lots import (
    ALL,
    SAME_STOP,
    eggs_along,
    either,
    fits,
    keep,
    lots_that_go,
    named,
    shared,
    unused,
)
from rounds.bench.measures import Measures
from rounds.bench.plants_of import eaters_in, nobody_said_whose, put_in_for
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container, EarlierPlace, Host, KeptLot, StemsGone
from rounds.entries.base import ROOTED, ContainerEntry, Count, Kept, KeptLots, Said, Saying
from rounds.entries.defaults import with_lots
from rounds.entries.entry_factory import InvalidField
from rounds.entries.names import named_there, species_named
from rounds.entries.questions import Choice, WhichAnimals
from rounds.entries.slots import PLANT_THERE, RENEWED, Slots, each, say
from rounds.entries.stock import Moved
from rounds.entries.validation import known_lots, listed, move_kept, standing_codes, which_refusals
from rounds.entries.which_animals import NOT_KNOWN
from rounds.entries.wording import comma_joined, lots_words

ALL_PLANTS = frozenset({"all", "both", "each"})  # said where a plant is named
_STEMS = frozenset({"stems", "sprigs"})  # whichever stand there
OF_ONE = frozenset({"limp", "yellow", "mouldy"})  # what one plant of several may be alone
AnyStems = TypeVar("AnyStems", Host, KeptLot)
Plant = Annotated[str, Meta(min_length=1, max_length=80, description="which plant")]
Batch = Annotated[str, Meta(max_length=8, description="batch letter of the cutting")]
FORMS = frozenset({"tree", "bush", "living", "potted", "pot", "cut"})


class HostIn(ContainerEntry, frozen=True, kw_only=True, tag="host in"):
    """Host plant put in: cut, potted, or living where it grows, with the letter of its batch."""

    plant: Plant
    part: Annotated[str, Meta(max_length=40, description="bud, leaf, flower, shoot, stem")] = ""
    batch: Batch = ""
    cut: Annotated[datetime, Meta(description="when it was cut; now if not given")] | None = None
    cut_not_known: Annotated[
        bool, Meta(description="nobody knows when it was cut; it counts as no fresh food")
    ] = False
    listed: Annotated[
        bool,
        Meta(description="it stood there when its container was listed; nobody said since when"),
    ] = False
    kept: Kept = "water"
    sprigs: Count | None = None
    source: Annotated[
        str, Meta(max_length=120, description="where it was cut, by whom, washed or not")
    ] = ""
    whose: Annotated[
        str,
        Meta(
            max_length=120,
            description="of several species there: which eats it, all, or not known",
        ),
    ] = ""

    answers = "host"
    finds = True
    cautions = ("blades",)
    changes_company = True
    names_plant = "plant"
    slots = Slots(
        numbers=("sprigs",),
        words=("plant",),
        is_name=True,
        after={"from": "source", "by": "source", "at": "source", "near": "source"},
        leading={"batch": "batch", "cut": "cut"},
        idle=each(
            "cut fresh freshly new more another same extra some few half too also as well now"
        ),
        synonyms=(
            say("leaf in, leaves in", part="leaf")
            | say(
                "new leaf, new leaves, new plant, new food, host added, added host, new food in,"
                " fresh leaf in, fresh leaves in, food in",
                plant=PLANT_THERE,
            )
            | say(
                ", ".join(
                    f"{what} {done}, {done} {what}"
                    for what in ("host", "food", "leaf", "leaves", "plant")
                    for done in RENEWED
                ),
                plant=PLANT_THERE,
                changed=True,
            )
            | say("host change, food change, leaf change", plant=PLANT_THERE, changed=True)
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        plant, batch = str(said.get("plant", "")), str(said.get("batch") or "")
        if whose := str(said.get("whose") or ""):
            said["whose"] = species_named(bench, whose) or whose
        if said.get("cut_not_known"):
            return [
                (
                    cls,
                    said
                    | {
                        "cut": said.get("cut") or at,
                        "batch": batch or letter_after(bench.last_batch),
                    },
                )
            ]
        same = None if batch else cutting_of(bench, said, at)
        stored = cut_in_store(bench, plant, same.batch) if same else None
        cut = said.get("cut") or stored or cut_of(bench, plant, batch, at)
        said["cut"] = cut if is_after(cut, at) else min(cut, at)
        said["batch"] = batch or (same.batch if same else letter_after(bench.last_batch))
        return [(cls, said)]

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        """Whose plant it is, the first time that it comes to several species with others."""
        plant = str(said.get("plant", ""))
        taxa = [] if said.get("whose") else nobody_said_whose(bench, container, plant)
        if not taxa:
            return None
        choices = [Choice(f"whose='{one}'", {"whose": one}) for one in (*taxa, ALL, NOT_KNOWN)]
        others = dict.fromkeys(host.plant for host in container.hosts if host.plant != plant)
        line = (
            f"who eats {plant}, who {' and '.join(others)}? {container.code} holds"
            f" {' and '.join(taxa)}; say whose {plant} is"
        )
        return WhichAnimals(line, tuple(choices))

    def refusals(self, bench: Bench) -> Iterator[str]:
        hosts = bench.containers[self.container].hosts
        taxa = eaters_in(bench, bench.containers[self.container])
        if self.whose and self.whose not in (ALL, NOT_KNOWN, *taxa):
            yield (
                f"no eggs or larvae of {self.whose} are in {self.container}; it holds"
                f" {' and '.join(filter(None, taxa)) or 'none of either'}"
            )
        if self.kept == "living" and any(
            (host.plant, host.kept) == (self.plant, "living") for host in hosts
        ):
            yield (
                f"{self.plant} stands in {self.container} already, living; say how it looks, or"
                " take it out first"
            )
        if self.cut and self.cut > self.at:
            yield "the host was cut after it was put in; give the cut an earlier time"
        if self.cut_not_known and self.cut and self.cut != self.at:
            yield "when it was cut is known or not known; say one of the two"

    def effect(self, bench: Bench) -> None:
        if (len(self.batch), self.batch) > (len(bench.last_batch), bench.last_batch):
            bench.last_batch = self.batch
        if self.batch:
            remember_cut(bench, self.plant, self.batch, self.cut or self.at)
        container = container_for(bench, self.container, self)
        plant_comes(container, self.plant, self.at)
        since = _stands_since(container, self.plant, self.at)
        container.hosts.append(
            Host(
                plant=self.plant,
                part=self.part,
                batch=self.batch,
                kept=self.kept,
                cut=self.cut or self.at,
                put_in=self.at,
                sprigs=self.sprigs,
                cut_not_known=self.cut_not_known,
                since=since,
            )
        )
        put_in_for(bench, container, self.plant, self.whose)
        feed_larvae(bench, container, self.at, () if self.cut_not_known else {self.plant})

    def wording(self, measures: Measures) -> str:
        what = f"host in: {self.plant} {self.part}".strip()
        batch = f"batch {self.batch}" if self.batch else ""
        known = self.cut or self.at
        by_letter = batch and self.at - known < SAME_CUTTING
        cut = "" if by_letter or known == self.at else f"cut {beside(known, self.at)}"
        cut = "cut not known" if self.cut_not_known else cut
        kept = "" if batch and self.kept == "water" else self.kept  # as nearly all cut stems are
        return comma_joined(what, kept, batch, cut, _sprigs(self.sprigs), self.source)


def _seen(state: str, alone: str, named: str = "") -> dict[str, Said]:
    """Words for a state of a plant, said alone or of it by a word for any plant: ``wilted``, ``leaf
    wilted``; those ``named`` are said of a plant only, for alone they may be of the cup."""
    words = [*alone.split(", "), *filter(None, named.split(", "))]
    of_plant = {f"{plant} {word}" for plant in _ANY_PLANT for word in words}
    # food that is ok may be the feeder's, and fresh food may be put in just now
    of_plant -= {f"food {word}" for word in named.split(", ")}
    return say(", ".join([*alone.split(", "), *sorted(of_plant)]), state=state)


_ANY_PLANT = ("host", "plant", "leaf", "leaves", "food", "stems")


class HostSeen(ContainerEntry, frozen=True, kw_only=True, tag="host seen"):
    """The host looked at: its state, and how much is left; if neither is given it is fresh."""

    state: Literal["", "fresh", "limp", "yellow", "mouldy", "eaten"] = ""
    left: Literal["", "none", "little", "half", "plenty"] = ""
    plant: str = ""

    answers = "host"
    lead = "host "
    names_plant = "plant"
    slots = Slots(
        words=("plant",),
        is_name=True,
        idle=each("food host leaf leaves left plant"),
        short={
            "ok": "fresh",
            "fine": "fresh",
            "good": "fresh",
            "bare": "eaten",
            "some": "little",
            "half left": "half",
        },
        synonyms=(
            _seen("limp", "limp, wilted, wilting, drooping", "dry, dried, withered")
            | _seen("yellow", "yellow, yellowing")
            | _seen("mouldy", "mouldy, moldy")
            | _seen("eaten", "eaten, all eaten, eaten up, eaten bare, defoliated")
            | _seen("fresh", "still fresh", "fresh, ok, fine, good, still good, still ok")
            | say(
                "no food, no food left, food gone, nothing left, no leaf left, no leaves left, none"
                " left, nothing to eat, nothing left to eat",
                left="none",
            )
            | say("half eaten, half gone, half left, food half", left="half")
            | say(
                "plenty, plenty left, plenty of food, food plenty, enough food, enough, enough"
                " left, still enough, still plenty",
                left="plenty",
            )
            | say(
                "almost eaten, nearly eaten, almost gone, nearly gone, little food, food low,"
                " little left, food little",
                left="little",
            )
            | say(
                ", ".join(
                    f"{what} {so} {gone}"
                    for what in ("food", "host", "leaves")
                    for so in ("nearly", "almost")
                    for gone in ("gone", "eaten")
                ),
                left="little",
            )
        ),
    )

    @classmethod
    def named_here(cls, container: Container, said: Said) -> dict[str, Any]:
        return plant_there(container, said)

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        if not (said.get("state") or said.get("left")):
            said = said | {"state": "fresh"}
        if str(said.get("plant", "")).casefold() not in ALL_PLANTS:
            return [(cls, said)]
        container = bench.at(str(said.get("container", "")))
        plants = plants_in(container) if container else []
        return [(cls, said | {"plant": plant}) for plant in plants or [""]]

    @classmethod
    def question(cls, bench: Bench, container: Container, said: Said) -> WhichAnimals | None:
        """Which of several plants went off."""
        plants = plants_in(container)
        if said.get("plant") or said.get("state") not in OF_ONE or len(plants) < 2:
            return None
        return WhichAnimals(
            f"which plant is {said['state']}? {container.code} has {' and '.join(plants)}",
            (
                *(Choice(plant, {"plant": plant}) for plant in plants),
                Choice("both" if len(plants) == 2 else "all", {"plant": "all"}),
            ),
        )

    def refusals(self, bench: Bench) -> Iterator[str]:
        hosts = bench.containers[self.container].hosts
        if hosts and not any(fits(host, self.plant, "") for host in hosts):
            yield (
                f"{self.container} has no {self.plant}; it has"
                f" {', '.join(f'{host.plant} {host.batch}'.strip() for host in hosts)}"
            )
        yield from which_refusals(bench, self)
        if not hosts:
            yield (
                f"{self.container} has no host plant in it; say what was put in, as:"
                f" {self.container} host in violet leaf"
            )

    def effect(self, bench: Bench) -> None:
        container = container_for(bench, self.container, self)
        looked_at = [host for host in container.hosts if not self.plant or host.plant == self.plant]
        for host in looked_at:
            seen_to_go_off(bench, host, self.at, self.state)
            host.look(self.at, self.state or "fresh", self.left)
        feed_larvae(
            bench, container, self.at, {host.plant for host in looked_at if host.failed is None}
        )

    def wording(self, measures: Measures) -> str:
        state = self.state or ("seen" if self.left else "fresh")
        return comma_joined(f"host {state}", self.amount, self.plant)

    @property
    def amount(self) -> str:
        """How much is left, in words; '' if that was not said."""
        return f"{self.left} left" if self.left else ""

    def unusual(self, bench: Bench) -> bool:
        return self.state not in ("", "fresh") or self.left in ("none", "little")

    def stays_here(self, bench: Bench) -> bool:
        return self.state in ("", "fresh")  # how long a plant stays so is known of all that bear it


FATE_WORDS = {"binned": "discarded", "held": "kept"}
"""What became of a stem, in the words of the screen."""
GONE = ("binned", "hatched")
"""The fates after which nobody watches a stem any more."""


class HostOut(ContainerEntry, frozen=True, kw_only=True, tag="host out"):
    """Host plant taken out, or kept stems moved to another container or discarded; with a number,
    so many stems."""

    fate: Literal["binned", "held", "fridge", "hatched"] = "held"
    batch: Batch = ""
    plant: Annotated[
        str, Meta(max_length=80, description="which plant; all of it if not given")
    ] = ""
    held_in: Annotated[str, Meta(max_length=24, description="the container that holds it now")] = ""
    sprigs: Count | None = None
    sure: Annotated[bool, Meta(description="discarded though eggs may still be on it")] = False
    lots: KeptLots = ()

    always_told = frozenset({"fate"})
    changes_company = True
    names_plant = "plant"
    slots = Slots(
        numbers=("sprigs",),
        words=("plant",),
        is_name=True,
        leading={
            "batch": "batch",
            "held in": "held_in",
            "in": "held_in",
            "to": "held_in",
            "into": "held_in",
            "lot": "lots",
            "lots": "lots",
        },
        synonyms=say("kept stems, kept sprigs, held sprigs, held stems", lots=("all",))
        | say("discard, discarded", fate="binned")
        | say("discard kept stems, discarded kept stems", fate="binned", lots=("all",)),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        container = bench.at(str(said.get("container", "")))
        if container is None:
            return [(cls, said)]
        if str(said.get("plant", "")).casefold() in ALL_PLANTS | _STEMS:
            said = said | {"plant": ""}
        out = [said | one for one in _stems_meant(container, with_lots(bench, said))]
        eggs = [eggs for one in out for eggs in _eggs_along(bench, container, one)]
        return [*((cls, one) for one in out), *eggs]

    @classmethod
    def named_here(cls, container: Container, said: Said) -> dict[str, Any]:
        return plant_there(container, said, with_batch=True)

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from known_lots(bench, self)
        container = bench.containers[self.container]
        there = [(host.plant, host.batch) for host in container.hosts]
        there += [(held.plant, held.batch) for held in container.held]
        if not there:
            yield f"{self.container} has no host plant in it"
        fits = [
            1 for plant, batch in there if self.plant in ("", plant) and self.batch in ("", batch)
        ]
        if there and not fits:
            known = ", ".join(f"{plant} {batch}".strip() for plant, batch in there)
            yield f"{self.container} has no such host; it has {known}"
        if self.held_in and bench.at(self.held_in) is None:
            yield (
                f"{self.held_in} does not stand; there {listed(standing_codes(bench))}; to set it"
                f" up first, say: {self.held_in} set up eggs"
            )
        asked = either(container, self.plant, self.batch, self.fate, self.held_in)
        if asked and not self.lots:
            yield asked
        yield from _kept_out(bench, container, self)

    def effect(self, bench: Bench) -> list[StemsGone]:
        """Host plant taken out; stems that may yet show eggs are kept, and stay kept until they are
        discarded or have hatched."""
        container = container_for(bench, self.container, self)
        leaving = (
            []
            if self.lots
            else [host for host in container.hosts if fits(host, self.plant, self.batch)]
        )
        if leaving:
            _hosts_leave(bench, container, leaving, self)
            return []
        if self.lots:
            kept = named(bench, container, self.lots)
        else:
            kept = [
                (container, held) for held in container.held if fits(held, self.plant, self.batch)
            ]
        if not kept:
            note_inconsistency(bench, self, f"{container.code} had no such host")
        gone: list[StemsGone] = []
        for (place, held), stems in zip(
            kept, shared(self.sprigs, [held.sprigs for _, held in kept]), strict=True
        ):
            if stems != 0:
                _kept_leave(bench, place, held, stems, self)
            if stems is None and self.fate in GONE:
                gone.append(StemsGone(self.at, place.code, held))
        return gone

    def wording(self, measures: Measures) -> str:
        kept = "kept stems " if self.lots else ""
        what = f"{kept or 'host '}out: {self.plant} {self.batch}".replace("  ", " ").strip(" :")
        held = f"kept in {self.held_in}" if self.held_in else FATE_WORDS.get(self.fate, self.fate)
        return comma_joined(what, held, lots_words(self.lots), _sprigs(self.sprigs))

    def aside(self, bench: Bench) -> str:
        return lots_that_go(bench, self)


def _eggs_along(bench: Bench, container: Container, said: Said) -> list[Saying]:
    """The eggs found on kept lots that go elsewhere go with them."""
    to = str(said.get("held_in") or "")
    along = eggs_along(bench, container, to, said.get("lots") or (), said.get("sprigs"))
    if along is None:
        return []
    brood, number = along
    moved = {"container": container.code, "to": to, "number": number}
    return [(Moved, moved | {"brood": brood, "stage": "egg"})]


def _kept_out(bench: Bench, container: Container, entry: HostOut) -> Iterator[str]:
    """Kept stems go somewhere by name, or are discarded; else nobody would watch them any more."""
    standing = [host for host in container.hosts if fits(host, entry.plant, entry.batch)]
    if entry.fate in GONE or (standing and not entry.lots) or not container.held:
        return
    if entry.held_in in ("", container.code):
        yield (
            f"{container.code} keeps these stems already; say where to, as:"
            f" {move_kept(bench, container.code)}"
        )
    elif entry.sprigs and all(held.sprigs is not None for held in container.held):
        there = sum(
            held.sprigs or 0 for held in container.held if not entry.lots or held.lot in entry.lots
        )
        if entry.sprigs > there:
            yield (
                f"{entry.sprigs} stems out of {container.code}, but {there} are kept there; give"
                f" {there} or fewer"
            )


def _stands_since(container: Container, plant: str, at: datetime) -> datetime:
    """From when a plant stands there that comes in at some time: that which it renews, which stands
    there or came out at this stop, or from then."""
    since = [host.since or host.put_in for host in container.hosts if host.plant == plant]
    before, out = container.came_out.pop(plant, (at, at))
    return min([*since, before] if at - out <= SAME_STOP else [*since, at])


def _sprigs(number: int | None) -> str:
    return count(number, "stem") if number else ""


def _hosts_leave(bench: Bench, container: Container, leaving: list[Host], entry: HostOut) -> None:
    shares = shared(entry.sprigs, [host.sprigs for host in leaving])
    for host, stems in zip(leaving, shares, strict=True):
        if stems == 0:
            continue
        out, seen = host, []
        if stems is None or host.sprigs is None:
            seen = sighted_on(bench, container, host)
            comes_out(bench, host, entry.at)
            container.came_out[host.plant] = (host.since or host.put_in, entry.at)
            container.hosts = [one for one in container.hosts if one is not host]
        else:
            out = _part_of(host, stems)
        if not container.hosts:
            container.bare_since = entry.at
        for code in out.mothers:
            on_plant(bench, bench.taxon_of(code), out.plant)  # a plant that was offered stays known
        if entry.fate == "held":
            keeper = container_for(bench, entry.held_in, entry) if entry.held_in else container
            kept = as_kept(bench, container, out, entry.at, stems)
            keep(keeper, kept)
            sightings_go(container, keeper, seen, kept.lot)
        elif entry.fate in GONE:
            sightings_go(container, None, seen, "")
    feed_larvae(bench, container, entry.at)


def _part_of(one: AnyStems, stems: int) -> AnyStems:
    """So many stems of a plant or lot, the rest stays; what was laid is taken as spread evenly over
    the stems."""
    part = replace(one, sprigs=stems, searches=list(one.searches))
    if one.sprigs is None:  # how many the rest is nobody knows: either may bear all of it
        share = rest = 1.0
    else:
        share, rest = stems / one.sprigs, 1 - stems / one.sprigs
        one.sprigs -= stems
    _bear(part, one, share)
    _bear(one, one, rest)
    return part


def _bear(stems: Host | KeptLot, of: Host | KeptLot, share: float) -> None:
    """Stems bear so much of what was laid on some."""
    divided(stems, of, share)
    if isinstance(stems, Host) and isinstance(of, Host):
        stems.days_of = {code: days * share for code, days in of.days_of.items()}
        stems.not_known_of = {code: days * share for code, days in of.not_known_of.items()}
    elif isinstance(stems, KeptLot) and isinstance(of, KeptLot):
        stems.female_days, stems.sex_not_known = of.female_days * share, of.sex_not_known * share


def _kept_leave(
    bench: Bench, place: Container, held: KeptLot, stems: int | None, entry: HostOut
) -> None:
    """A kept lot, or some stems of it, is discarded, has hatched, or goes on being kept somewhere
    else."""
    is_kept = entry.fate not in GONE
    if is_kept and entry.held_in in ("", place.code):
        return
    if stems is None:
        place.held = [lot for lot in place.held if lot is not held]
        part = held
        seen = [one for one in place.unsure if one.lots == (held.lot,)]
        keeper = container_for(bench, entry.held_in, entry) if is_kept else None
        sightings_go(place, keeper, seen, held.lot)
    else:
        part = _part_of(held, stems)
        part.lot, part.frass_looks = unused(bench, held.lot), list(held.frass_looks)
    if is_kept:
        part.stays = (*part.stays, EarlierPlace(place.code, place.shelf, entry.at))[-MAX_STAYS:]
        keeper = container_for(bench, entry.held_in, entry)
        keep(keeper, part)
    else:
        learn_watched(bench, part)


def plants_in(container: Container) -> list[str]:
    """The plants that stand in a container, each once."""
    return list(dict.fromkeys(host.plant for host in container.hosts))


def plant_there(container: Container, fields: Said, *, with_batch: bool = False) -> dict[str, Any]:
    """Which plant of this container a word of its name means, also with the letter of its batch
    behind it, its part or how it is kept."""
    typed, batch = str(fields.get("plant") or "").strip(), str(fields.get("batch") or "")
    before, _, last = typed.rpartition(" ")
    ways = (
        [(typed, batch), (before.strip(), last.upper())]
        if before and not batch
        else [(typed, batch)]
    )
    ways += [(before.strip(), batch)] if last.casefold() in FORMS else []
    for name, letter in ways:
        meant = named_there(
            name, dict.fromkeys(one.plant for one in container.stems if letter in ("", one.batch))
        )
        batches = {host.batch for host in container.hosts if host.plant == meant}
        if meant and with_batch:
            return {"plant": meant, "batch": letter}
        if meant and (not letter or len(batches) == 1):
            return {"plant": meant}
    return {}


def _stems_meant(container: Container, said: Said) -> list[dict[str, Any]]:
    """What goes, by its name, so that the line says it: each plant with its batch and stems, or
    which kept lots."""
    plant, batch, stems = str(said.get("plant", "")), str(said.get("batch", "")), said.get("sprigs")
    asked = either(
        container, plant, batch, str(said.get("fate", "held")), str(said.get("held_in", ""))
    )
    standing = [host for host in container.hosts if fits(host, plant, batch)]
    if said.get("lots") or not standing:
        lots = tuple(said.get("lots") or ())
        kept = [
            held
            for held in container.held
            if held.lot in lots or (not lots and fits(held, plant, batch))
        ]
        if isinstance(stems, int) and kept:
            shares = shared(stems, [held.sprigs for held in kept])
            kept = [held for held, share in zip(kept, shares, strict=True) if share != 0]
            lots = tuple(held.lot for held in kept)
        fields: dict[str, Any] = {"lots": lots or tuple(held.lot for held in kept)}
        if len(kept) == 1:
            fields |= {
                "plant": kept[0].plant,
                "batch": kept[0].batch,
                "sprigs": stems or kept[0].sprigs,
            }
        return [fields]
    if asked:
        return [{}]
    kinds = dict.fromkeys((host.plant, host.batch) for host in standing)
    if stems and len(kinds) > 1:
        return [{}]
    return [
        {"plant": one, "batch": its, "sprigs": stems or _stems_of(standing, one, its)}
        for one, its in kinds
    ]


def _stems_of(standing: Sequence[Host], plant: str, batch: str) -> int | None:
    stems = [host.sprigs for host in standing if (host.plant, host.batch) == (plant, batch)]
    return None if None in stems else sum(number for number in stems if number)


def cut_of(bench: Bench, plant: str, batch: str, at: datetime) -> datetime:
    """When the cutting of a letter that is named was cut; of a new letter, or none, then.

    Raises:
        InvalidField: stems of several cuttings stand under it, or it is another plant's.
    """
    there = standing_of(bench, batch, plant) if batch else []
    others = standing_of(bench, batch) if batch else []
    known = bench.cuttings.get(cutting_key(plant, batch), [])
    if len(there) > 1:
        raise InvalidField(
            f"{twice_given(there)}; say which, as: host in {plant} batch {batch} cut"
            f" {there[0].cut:%Y-%m-%d %H:%M}"
        )
    if others and not known:
        raise InvalidField(
            f"batch {batch} is {others[0].words}; say host in {others[0].plant} batch {batch}, or"
            f" leave the letter away: {plant} has its own"
        )
    cut = there[0].cut if there else known[-1].newest if known else at
    return min(cut, at)


def cutting_of(bench: Bench, said: Said, at: datetime) -> Host | None:
    """What stands there of the cutting that a sprig comes from; None of a new one.

    The same plant cut within six hours of it is the same cutting; so is what stands in the host
    store by then, but where it is said when it was cut, where it grows, or where it goes into a
    store itself.
    """
    cut, into = said.get("cut"), bench.at(str(said.get("container", "")))
    asks_store = cut is None and said.get("kept") not in ROOTED and not (into and into.is_store)
    there = [
        host
        for container in bench.standing()
        for host in container.hosts
        if host.plant == said.get("plant")
        and host.batch
        and not host.cut_not_known
        and (
            abs((cut or at) - host.cut) <= SAME_CUTTING
            or (asks_store and container.is_store and host.cut <= at)
        )
    ]
    return max(there, key=lambda host: host.cut, default=None)


def letter_after(letter: str) -> str:
    """The batch letter after that one: A to Z without I and O, then AA, AB and so on."""
    if not letter or any(one not in LETTERS for one in letter):
        return LETTERS[0]
    position = LETTERS.index(letter[-1]) + 1
    if position < len(LETTERS):
        return letter[:-1] + LETTERS[position]
    return (letter_after(letter[:-1]) if len(letter) > 1 else LETTERS[0]) + LETTERS[0]
