"""Three weeks on an invented bench on a subtropical island, told up to now."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, time, timedelta, tzinfo
from typing import Any

from rounds.entries import registry as k
from rounds.entries.base import Entry

from .walking import Anchors, Teller, Walk

SEED = 20260521
DAYS = 21
BEGINS = "06:02"  # on the first of those days; a round before that was not walked
LEAF = "Kallima inachus"
BLUE = "Zizeeria maha"
NETTLE = "Parasa lepida"
STROBILANTHES = {"plant": "strobilanthes", "part": "leaf", "kept": "water", "sprigs": 4}
RUELLIA = {"plant": "ruellia", "part": "leaf", "kept": "water", "sprigs": 3}
OXALIS = {"plant": "oxalis", "part": "leaf", "kept": "potted", "sprigs": 1}
PERSIMMON = {"plant": "persimmon", "part": "leaf", "kept": "dry", "sprigs": 3}
SITE = "path above the old weir"
LATITUDE = 24.5


def scenario(now: datetime, zone: tzinfo) -> list[Entry]:
    """Every entry of the story; the round that is due now has not begun.

    Args:
        now: with an offset; nothing is later than it.
        zone: the local zone; the same arguments give the same entries.
    """
    return Story(now, zone).told()


def hours_that_suit(hour: int) -> Anchors:
    """The keepers' rounds: at seven and six, or at hours near the one at which the demo is opened.

    So whoever opens it, at whatever hour, finds a round that is just due, not one that was missed.
    """
    if 7 <= hour < 10 or 18 <= hour < 21:
        morning, evening = 7, 18
    elif 3 <= hour < 15:
        morning, evening = hour, min(23, hour + 11)
    else:
        evening = hour if hour >= 15 else 23
        morning = evening - 11
    return ("morning", time(morning)), ("evening", time(evening))


class Story:
    """The three weeks."""

    def __init__(self, now: datetime, zone: tzinfo) -> None:
        self.now = now
        self.zone = zone
        self.anchors = hours_that_suit(now.astimezone(zone).hour)
        self.teller = Teller(zone, SEED, self.anchors)
        self.due_round, self.due_name = self._round_that_is_due()
        self.year = f"{now.astimezone(zone):%y}"
        self.turns = self._turns()

    def _round_that_is_due(self) -> tuple[datetime, str]:
        """The last round that has begun, and its name."""
        today = self.now.astimezone(self.zone).date()
        begun = [
            (datetime.combine(today + timedelta(days=day), at, tzinfo=self.zone), name)
            for day in (-1, 0, 1)
            for name, at in self.anchors
        ]
        return max(one for one in begun if one[0] <= self.now)

    def code(self, number: int, lot: str = "") -> str:
        """A founder's code, or that of one of her broods."""
        return f"SHI-{self.year}-{number:02d}{lot}"

    @property
    def site(self) -> dict[str, Any]:
        """Where they were caught: invented, at the longitude of the reader's own clock, so that
        noon is at noon."""
        offset = self.now.astimezone(self.zone).utcoffset() or timedelta(0)
        return {
            "place": SITE,
            "latitude": LATITUDE,
            "longitude": round(offset / timedelta(hours=24) * 360, 1),
            "uncertainty_m": 500,
        }

    def day(self, day: int, at: str) -> datetime:
        """A time of a day of the story; day 0 is that of the round that is due."""
        date = self.due_round.date() + timedelta(days=day)
        return datetime.combine(date, time.fromisoformat(at), tzinfo=self.zone)

    def told(self) -> list[Entry]:
        """The entries, in the order in which things happened."""
        self._beginning()
        self.alongside = sorted(self._alongside(), key=lambda one: one[0])
        for start, name, slot in self._rounds():
            self._say_alongside(start)
            if slot == (-8, "evening"):
                continue  # a round that nobody walked
            self.teller.by = "MT" if (slot[0] % 3 == 0 and name == "evening") else "HY"
            walk = Walk(
                self.teller,
                eggs=self.eggs_found(slot),
                turns=self.turns.get(slot),
                shy=frozenset({"window"}) if slot[0] >= -2 else frozenset(),
                skips={"W7": "no light"} if slot == (-5, "evening") else None,
            )
            walk.go(start, name)
        self._say_alongside(self.now)
        return self.teller.entries

    def _rounds(self) -> list[tuple[datetime, str, tuple[int, str]]]:
        """Every round before the one that is due: when it began, its name, its day and name
        together."""
        found = []
        for day in range(-DAYS, 1):
            for name, at in self.anchors:
                start = self.day(day, f"{at:%H:%M}") + timedelta(
                    minutes=self.teller.chance.randint(4, 26)
                )
                if (
                    self.day(-DAYS, BEGINS) + timedelta(minutes=5) < start
                    and self.day(day, f"{at:%H:%M}") < self.due_round
                ):
                    found.append((start, name, (day, name)))
        last, name, slot = found[-1]
        found[-1] = max(last, self.now - timedelta(hours=13)), name, slot
        return found

    def _say_alongside(self, until: datetime) -> None:
        while self.alongside and self.alongside[0][0] < until:
            _, by, saying = self.alongside.pop(0)
            self.teller.by = by
            saying()

    def later(self, kind: type[Entry], at: datetime, **fields: Any) -> Callable[[], None]:
        """Something to be said when its time comes."""
        return lambda: (self.teller.record(kind, at, **fields), None)[1]

    def store_emptied(self, at: datetime) -> Callable[[], None]:
        """The spare stems go once it is time; those kept beside them in case they bear eggs
        stay."""

        def say() -> None:
            spare = self.teller.bench.containers["S7"].hosts[0]
            self.teller.record(k.HostOut, at, container="S7", fate="binned", batch=spare.batch)

        return say

    # The beginning: shelves, what is known, who is here already.

    def _beginning(self) -> None:
        at = self.day(-DAYS, BEGINS)
        say = self.teller.record
        for name, value in {
            "bench": "Weir House bench",
            "latitude": f"{LATITUDE}",
            "longitude": f"{self.site['longitude']}",
            "morning": f"{self.anchors[0][1]:%H:%M}",
            "evening": f"{self.anchors[1][1]:%H:%M}",
            "sill": "135",
            "keeper": "HY",
        }.items():
            say(k.Setting, at, name=name, value=value)
        say(
            k.Taxon, at, name=LEAF, short="inachus", family="Nymphalidae", instars=5, protected=True
        )
        say(k.Taxon, at, name=BLUE, short="maha", family="Lycaenidae", instars=4)
        say(
            k.Taxon,
            at,
            name=NETTLE,
            short="lepida",
            family="Limacodidae",
            instars=8,
            overwinters_as="pupa",
            stinging=True,
        )
        for stage, degree_days in (("larva", 250), ("pupa", 140)):
            say(
                k.ThermalConstants,
                at,
                taxon=LEAF,
                stage=stage,
                lower_c=9.5,
                constant_dd=degree_days,
                source="own broods of last year",
            )
        say(k.PlantKnown, at, name="strobilanthes", kept="water", hours=60)
        say(k.PlantKnown, at, name="persimmon", kept="dry", hours=30)
        say(
            k.Permit,
            at,
            number="WP-118",
            holder="Weir House",
            body="prefectural office",
            taxon=LEAF,
            females=5,
            eggs=150,
            expires=self.day(160, "12:00"),
        )
        for place, (shelf, barrier) in enumerate(
            (("egg", "moat"), ("rearing", "none"), ("window", "moat"), ("cold", "none"))
        ):
            say(k.ShelfSetUp, at, shelf=shelf, barrier=barrier, place=place)
        self._containers(at + timedelta(minutes=1))
        self._stock(at + timedelta(minutes=3))

    def _containers(self, at: datetime) -> None:
        for code, purpose, shelf, place, volume, rest in (
            ("K7", "laying", "window", 1, 3000, {"lid": "gauze"}),
            ("K3", "laying", "window", 3, 1500, {"lid": "gauze"}),
            ("E7", "eggs", "egg", 1, 250, {"lid": "closed", "lining": "paper"}),
            ("E2", "eggs", "egg", 2, 500, {"lid": "gauze"}),
            ("H7", "hatchlings", "egg", 5, 250, {"lid": "perforated"}),
            ("R7", "rearing", "rearing", 1, 1000, {"lid": "gauze", "barrier": "moat"}),
            ("R2", "rearing", "rearing", 2, 3000, {"lid": "gauze"}),
            ("R3", "rearing", "rearing", 3, 1000, {"lid": "gauze"}),
            ("P7", "pupation", "rearing", 6, 1000, {"lid": "gauze"}),
            ("W7", "overwintering", "cold", 1, 1500, {"lid": "gauze"}),
            ("S7", "host store", "cold", 2, 4000, {}),
        ):
            self.teller.record(
                k.SetUp,
                at,
                container=code,
                purpose=purpose,
                shelf=shelf,
                place=place,
                volume_ml=volume,
                **rest,
            )

    def _stock(self, at: datetime) -> None:
        say = self.teller.record
        say(k.BroodBegun, at, code=self.code(90, "/A"), taxon=NETTLE)
        say(
            k.Stocked,
            at,
            container="W7",
            brood=self.code(90, "/A"),
            stage="pupa",
            number=8,
            origin="cocoons of last year",
        )
        for number in (1, 2):
            say(
                k.FounderIntake,
                at,
                container="K7",
                code=self.code(number),
                taxon=LEAF,
                caught=at - timedelta(hours=15),
                collector="HY",
                wear="slight",
                inspected="none seen",
                permit="WP-118",
                **self.site,
            )
        say(k.HostIn, at, container="K7", **STROBILANTHES)
        for number in (4, 5, 6):
            say(
                k.FounderIntake,
                at,
                container="K3",
                code=self.code(number),
                taxon=BLUE,
                caught=at - timedelta(hours=14),
                collector="MT",
                wear="fresh" if number == 5 else "worn",
                inspected="none seen",
                **self.site,
            )
        say(k.HostIn, at, container="K3", **OXALIS)
        say(
            k.HostIn,
            at,
            container="S7",
            plant="strobilanthes",
            part="shoot",
            kept="fridge",
            sprigs=30,
        )
        say(k.FoodMade, at, food="sugar", strength_percent=15, volume_ml=100)

    # What happens outside the rounds: catches, cuttings, things seen at noon.

    def _alongside(self) -> list[tuple[datetime, str, Callable[[], None]]]:
        found: list[tuple[datetime, str, Callable[[], None]]] = []

        def at(day: int, clock: str, by: str, kind: type[Entry], **fields: Any) -> None:
            when = self.day(day, clock)
            if when < self.now - timedelta(minutes=5):
                found.append((when, by, self.later(kind, when, **fields)))

        for day in (-18, -15, -12, -9, -6, -3, -1):
            emptied = self.day(day, "16:10")
            if emptied < self.now - timedelta(minutes=5):
                found.append((emptied, "HY", self.store_emptied(emptied)))
            at(
                day,
                "16:12",
                "HY",
                k.HostIn,
                container="S7",
                plant="strobilanthes",
                part="shoot",
                kept="fridge",
                sprigs=24,
                source="own hedge, never sprayed, rinsed",
            )
        for day in (-16, -11, -6, -2):
            at(day, "16:20", "MT", k.FoodMade, food="sugar", strength_percent=15, volume_ml=100)
        # A third leaf butterfly, first on a plant that she does not want.
        at(
            -10,
            "12:30",
            "HY",
            k.SetUp,
            container="K2",
            purpose="trial",
            shelf="window",
            place=2,
            volume_ml=2000,
            lid="gauze",
        )
        at(
            -10,
            "12:31",
            "HY",
            k.FounderIntake,
            container="K2",
            code=self.code(3),
            taxon=LEAF,
            wear="fresh",
            caught=self.day(-10, "10:15"),
            collector="HY",
            inspected="none seen",
            permit="WP-118",
            **self.site,
        )
        at(-10, "12:33", "HY", k.HostIn, container="K2", **RUELLIA)
        # The nettle grub moth: she has no mouth to drink with.
        at(
            -8,
            "21:40",
            "MT",
            k.SetUp,
            container="K5",
            purpose="laying",
            shelf="window",
            place=5,
            volume_ml=800,
            lid="gauze",
        )
        at(
            -8,
            "21:41",
            "MT",
            k.FounderIntake,
            container="K5",
            code=self.code(7),
            taxon=NETTLE,
            wear="slight",
            caught=self.day(-8, "21:05"),
            collector="MT",
            inspected="none seen",
            **self.site,
        )
        at(-8, "21:42", "MT", k.HostIn, container="K5", **PERSIMMON)
        at(
            -8,
            "21:45",
            "MT",
            k.PlanChanged,
            check="drink",
            container="K5",
            off=True,
            why="adults of this moth do not drink",
        )
        at(
            -8,
            "21:46",
            "MT",
            k.PlanChanged,
            check="feeder",
            container="K5",
            off=True,
            why="adults of this moth do not drink",
        )
        # Pupae of blues from a neighbour; brother and sister emerge together.
        at(
            -12,
            "12:10",
            "MT",
            k.SetUp,
            container="M7",
            purpose="emergence",
            shelf="rearing",
            place=8,
            volume_ml=3000,
            lid="gauze",
        )
        at(-12, "12:11", "MT", k.BroodBegun, code=self.code(80, "/A"), taxon=BLUE)
        at(
            -12,
            "12:12",
            "MT",
            k.Stocked,
            container="M7",
            brood=self.code(80, "/A"),
            stage="pupa",
            number=12,
            origin="a neighbour's brood, one female",
        )
        # Field-found larvae stand apart.
        at(
            -5,
            "11:20",
            "HY",
            k.SetUp,
            container="Q7",
            purpose="quarantine",
            shelf="cold",
            place=5,
            volume_ml=1000,
            lid="gauze",
        )
        at(
            -5,
            "11:21",
            "HY",
            k.FounderIntake,
            container="Q7",
            code=self.code(8),
            taxon=LEAF,
            stage="larva",
            sex="",
            caught=self.day(-5, "10:30"),
            collector="HY",
            permit="WP-118",
            **self.site,
        )
        at(-5, "11:22", "HY", k.HostIn, container="Q7", **STROBILANTHES)
        # Caught yesterday, under a permit for one female that gives four days; it is her deadline
        # by itself.
        at(
            -1,
            "09:00",
            "HY",
            k.Permit,
            number="WP-121",
            holder="Weir House",
            body="prefectural office",
            taxon=LEAF,
            females=1,
            hold_hours=96,
            expires=self.day(60, "12:00"),
        )
        at(
            -1,
            "13:05",
            "HY",
            k.SetUp,
            container="K6",
            purpose="holding",
            shelf="cold",
            place=3,
            volume_ml=500,
            lid="gauze",
        )
        at(
            -1,
            "13:06",
            "HY",
            k.FounderIntake,
            container="K6",
            code=self.code(9),
            taxon=LEAF,
            wear="worn",
            caught=self.day(-1, "11:50"),
            collector="HY",
            inspected="none seen",
            permit="WP-121",
            **self.site,
        )
        at(-1, "13:09", "HY", k.Drank, container="K6", minutes=3, how="when helped")
        return found

    # What searches find.

    def eggs_found(self, slot: tuple[int, str]) -> dict[str, int]:
        """How many eggs each container's search finds in that round."""
        day, name = slot
        table: dict[str, dict[int, int]] = {
            "K7": {-20: 5, -19: 9, -18: 6, -14: 8, -13: 7, -9: 4, -8: 6, -6: 13, -5: 12, -4: 9},
            "K2": {-4: 3, -3: 5, -2: 4, -1: 3},
            "K3": {-20: 6, -19: 9, -18: 7, -12: 5, -11: 3},
            "K5": {-6: 40, -3: 26},
        }
        if name != "morning":
            return {}
        return {code: found[day] for code, found in table.items() if day in found}

    # What is seen and done at a stop, by round.

    def _turns(self) -> dict[tuple[int, str], dict[str, Callable[[datetime], None]]]:
        from .turns import turns

        return turns(self)
