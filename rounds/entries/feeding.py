"""Feeding: offered, drunk, refused; feeders and the food in them."""

from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any, Literal

from msgspec import Meta

from rounds.bench.folding.hunger import fed_lots, feed, females_first
from rounds.bench.folding.lots import container_for
from rounds.bench.measures import Measures
from rounds.bench.state import Bench
from rounds.entries.base import (
    MAXIMUM_COUNT,
    ContainerEntry,
    Entry,
    Millilitres,
    Minutes,
    Percent,
    Saying,
)
from rounds.entries.slots import Slots, each, say
from rounds.entries.validation import holds
from rounds.entries.wording import comma_joined

HowMany = Annotated[int, Meta(ge=0, description="how many adults; all of them if not given")]


class Offered(ContainerEntry, frozen=True, kw_only=True, tag="offered"):
    """Food put before her; it does not say that she drank."""

    food: Annotated[str, Meta(max_length=60, description="sugar, honey, fruit, nectar plant")] = ""

    only_here = True
    answers = "drink"
    finds = True
    slots = Slots(words=("food",), idle=each("once twice thrice again"))

    def refusals(self, bench: Bench) -> Iterator[str]:
        yield from _takes_none(bench, self)
        container = bench.containers[self.container]
        if not container.count("adult"):
            yield f"{self.container} holds no adults to feed; it holds {holds(container)}"
        if self.food.startswith("no "):
            yield (
                f"'{self.food}' is no food; as: {self.container} refused; or {self.container}"
                f" offered -- {self.food}"
            )


class Drank(ContainerEntry, frozen=True, kw_only=True, tag="drank"):
    """Seen to drink."""

    number: HowMany = 0
    how: Literal["by herself", "when helped"] = "by herself"
    minutes: Minutes | None = None
    female: Annotated[str, Meta(max_length=24, description="which female, if one is meant")] = ""
    of: Annotated[
        int,
        Meta(ge=0, le=MAXIMUM_COUNT, description="of how many adults; the females if not given"),
    ] = 0

    only_here = True
    answers = "drink"
    slots = Slots(
        numbers=("number",),
        idle=each("adults another drank drunk female females more others"),
        synonyms=(
            say(
                "fed, feed, drink, drinks, drinking, drunk, has drunk, sipped, sips, sipping,"
                " sucked, sucking, took some, took a little, took food, had a drink"
            )
            | say("fed by hand, hand fed, drank by hand", how="when helped")
        ),
    )

    @classmethod
    def defaults(cls, bench: Bench, said: dict[str, Any], at: datetime) -> list[Saying]:
        container = bench.at(str(said.get("container", "")))
        if container and said.get("number"):
            there = fed_lots(bench, container)
            if len(females_first(there)) < len(there):
                said.setdefault("of", sum(lot.number for lot in there))
        return [(cls, said)]

    def refusals(self, bench: Bench) -> Iterator[str]:
        return _adults_fed(bench, self)

    def effect(self, bench: Bench) -> None:
        """The container counts as fed once as many have drunk within one feed as there are to
        feed."""
        feed(bench, container_for(bench, self.container, self), self)

    def wording(self, measures: Measures) -> str:
        of = f"of {self.of}" if self.of and not self.female else ""
        return comma_joined(
            "drank",
            self.female or self.number or "",
            of,
            "hand-fed" if self.how == "when helped" else "",
            f"{self.minutes:g} min" if self.minutes else "",
        )


# Each way to say that something was not done, with each word for drinking: ``would not feed``,
# ``none drank``, ``took nothing``.
_NOT_DRUNK = ", ".join(
    [
        f"{no} {drink}"
        for no in (
            *(
                "did not",
                "didn't",
                "didnt",
                "would not",
                "wouldn't",
                "wouldnt",
                "won't",
                "will not",
            ),
            *("has not", "hasn't", "does not", "doesn't", "not", "none", "nobody"),
        )
        for drink in (
            *("drink", "drank", "drunk", "drinking", "feed", "fed", "feeding"),
            *("sip", "sipped", "suck", "take food", "take any", "took any"),
        )
    ]
    + [f"{drink} {no}" for drink in ("drank", "took", "sipped") for no in ("nothing", "none")]
)


class FoodRefused(ContainerEntry, frozen=True, kw_only=True, tag="refused"):
    """Offered and not taken."""

    number: HowMany = 0
    female: Annotated[str, Meta(max_length=24, description="which female, if one is meant")] = ""

    only_here = True
    answers = "drink"
    finds = True
    slots = Slots(
        numbers=("number",),
        idle=each("adults drank drink drunk female females more"),
        synonyms=say(f"no drink, refuses, not interested, no interest, {_NOT_DRUNK}"),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        return _adults_fed(bench, self)


class FeederChanged(ContainerEntry, frozen=True, kw_only=True, tag="feeder changed"):
    """A fresh swab, tissue or sponge."""

    food: Annotated[str, Meta(max_length=60, description="sugar, honey, fruit")] = ""
    strength_percent: Percent | None = None
    made: Annotated[datetime, Meta(description="when the solution was made")] | None = None

    only_here = True
    answers = "feeder"
    slots = Slots(
        numbers=("strength_percent",),
        words=("food",),
        synonyms=say(
            "swab changed, new swab, fresh swab, changed swab, swab renewed, swab new, "
            "sponge changed, new sponge, tissue changed, new feeder, fresh feeder, feeder new, "
            "feeder fresh, changed feeder, feeder renewed"
        ),
    )

    def effect(self, bench: Bench) -> None:
        container_for(bench, self.container, self).feeder_failed = None


class FeederSeen(ContainerEntry, frozen=True, kw_only=True, tag="feeder seen"):
    """The swab, tissue or sponge looked at; dry, sour or mouldy it wants changing."""

    state: Literal["fresh", "dry", "sour", "mouldy"]

    finds = True
    slots = Slots(
        short={"ok": "fresh", "fine": "fresh", "wet": "fresh", "empty": "dry"},
        synonyms=(
            say(
                "feeder dry, swab dry, sponge dry, tissue dry, feeder empty, swab empty, dry"
                " feeder, dry swab, feeder dried, swab dried",
                state="dry",
            )
            | say("feeder mouldy, swab mouldy, sponge mouldy, mould on feeder", state="mouldy")
            | say("feeder sour, swab sour, sponge sour, feeder fermenting", state="sour")
            | say("feeder ok, swab ok, feeder wet, swab wet, feeder fine", state="fresh")
        ),
    )

    def effect(self, bench: Bench) -> None:
        """What was seen to fail goes on from when that was first seen."""
        container = container_for(bench, self.container, self)
        failed = None if self.state == "fresh" else container.feeder_failed or self.at
        container.feeder_failed = failed

    def wording(self, measures: Measures) -> str:
        return f"feeder {self.state}"


class FoodMade(Entry, frozen=True, kw_only=True, tag="food made"):
    """A stock of solution made up."""

    food: Annotated[str, Meta(max_length=60, description="sugar, honey, fructose")] = "sugar"
    strength_percent: Percent | None = None
    volume_ml: Millilitres | None = None

    slots = Slots(numbers=("strength_percent", "volume_ml"), words=("food",))

    def effect(self, bench: Bench) -> None:
        bench.food_made[self.food] = self.at


def _adults_fed(bench: Bench, entry: Drank | FoodRefused) -> Iterator[str]:
    there = sum(lot.number for lot in fed_lots(bench, bench.containers[entry.container]))
    yield from _takes_none(bench, entry)
    if entry.number > there > 0:
        yield (
            f"{entry.number} adults {entry.what}, but {entry.container} holds {there}; give {there}"
            " or fewer"
        )
    if there == 0:
        container = bench.containers[entry.container]
        here = entry.container
        larvae = f"; of larvae, as: {here} not moving; {here} suspect not eating"
        yield (
            f"{here} holds no adults to drink; it holds {holds(container)}"
            f"{larvae * (isinstance(entry, FoodRefused) and container.count('larva') > 0)}"
        )
    if entry.female and not bench.containers[entry.container].count("adult", entry.female):
        yield (
            f"{entry.female} is not in {entry.container} on record; it holds"
            f" {holds(bench.containers[entry.container])}"
        )


def _takes_none(bench: Bench, entry: Drank | FoodRefused | Offered) -> Iterator[str]:
    """An animal that takes no food as an adult neither drank nor refused."""
    named = getattr(entry, "female", "")
    adults = [
        lot
        for lot in bench.containers[entry.container].lots_of("adult")
        if named in ("", *lot.codes)
    ]
    if adults and not any(bench.is_fed(lot) for lot in adults):
        taxon = bench.taxon_of(adults[0].brood)
        yield (
            f"{taxon} takes no food as an adult; if it does, first: taxon '{taxon}'"
            " no_adult_food=no"
        )
