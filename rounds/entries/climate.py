"""Air and light: readings, loggers, lids, mist, sun and lamps."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Annotated, Literal

from msgspec import Meta
from msgspec.structs import replace

from rounds.bench.dates import dated
from rounds.bench.folding.lots import container_for
from rounds.bench.measures import Measures, if_meant, in_other_unit, measures_of, too_hot
from rounds.bench.series_names import is_series_name
from rounds.bench.state import Bench
from rounds.entries.base import Celsius, ContainerEntry, Entry, Percent
from rounds.entries.slots import Slots, say
from rounds.entries.wording import comma_joined

# no air changes by more C so soon; our estimate
ROUNDED_C = 0.5  # between two numbers of one thermometer; our choice
SAME_READING, MAX_APART_C = timedelta(seconds=90), 5.0
ROOM_C = 10.0, 40.0  # how warm a room can be; our choice
MAX_AIR = 2_000
LONGEST_MEAN = timedelta(days=1_100)  # no brood takes longer; our limit
_MOVED_INTO = {
    f"{moved} {into} {to}": {"to": to.removeprefix("the ")}
    for moved in ("moved", "put", "set", "placed", "stood")
    for into in ("to", "into", "in")
    for to in ("sun", "shade", "dark", "the sun", "the shade", "the dark")
}


class Air(Entry, frozen=True, kw_only=True, tag="air"):
    """Temperature and humidity: now, or lowest and highest since last read; of a container, shelf
    or the room."""

    container: str = ""
    shelf: str = ""
    temperature_c: Celsius | None = None
    humidity_percent: Percent | None = None
    low_c: Celsius | None = None
    high_c: Celsius | None = None
    mean_since: (
        Annotated[datetime, Meta(description="the temperature is the mean since then")] | None
    ) = None
    sure: Annotated[bool, Meta(description="read so, though it was asked about")] = False

    is_look = False
    answers = "room"
    slots = Slots(
        numbers=("temperature_c", "humidity_percent"),
        leading={
            "temperature": "temperature_c",
            "temp": "temperature_c",
            "humidity": "humidity_percent",
            "rh": "humidity_percent",
            "min": "low_c",
            "lowest": "low_c",
            "max": "high_c",
            "highest": "high_c",
        },
        synonyms=say("temperature, temp, humidity, rh"),
    )

    def refusals(self, bench: Bench) -> Iterator[str]:
        if (
            self.temperature_c is None
            and self.humidity_percent is None
            and self.low_c is None
            and self.high_c is None
        ):
            yield "give a temperature or a humidity, as 21.4C 46%"
        if self.low_c is not None and self.high_c is not None and self.low_c > self.high_c:
            yield f"lowest {self.low_c:g} C is above highest {self.high_c:g} C; swap them"
        if self.mean_since is not None and self.mean_since > self.at:
            yield "the mean is since later than it was read; give an earlier time"
        if self.mean_since is not None and self.at - self.mean_since > LONGEST_MEAN:
            yield f"a mean is of at most {LONGEST_MEAN.days:,} days; give a later time"
        if self.mean_since is not None and self.temperature_c is None:
            yield "a mean needs its temperature, as 21.4C"
        if not self.sure:
            yield from _outside(bench, self)
            measures = measures_of(bench.settings)
            if (read := _span_read(self)) and (odd := too_hot(read[1], measures)):
                yield f"{measures.warmth(read[1])} is {odd}; if it was read so, add 'sure'"
            yield from _contradicts(bench, self)
            yield from _of_other_unit(bench, self)

    def effect(self, bench: Bench) -> None:
        readings = bench.air.setdefault(self.container or self.shelf, [])
        readings.append(self)
        del readings[:-MAX_AIR]

    def wording(self, measures: Measures) -> str:
        place = "" if self.container or self.shelf else "room "
        parts = [
            measures.warmth(self.temperature_c) if self.temperature_c is not None else "",
            f"mean since {dated(self.mean_since, self.at)}" if self.mean_since else "",
            (
                measures.span(self.low_c, self.high_c)
                if self.low_c is not None and self.high_c is not None
                else ""
            ),
            *(
                f"{end} {measures.warmth(one)}"
                for end, one, other in (
                    ("lowest", self.low_c, self.high_c),
                    ("highest", self.high_c, self.low_c),
                )
                if one is not None and other is None
            ),
            f"{self.humidity_percent:g} %" if self.humidity_percent is not None else "",
        ]
        return f"{place}air {comma_joined(*parts)}"


class LoggerRead(Entry, frozen=True, kw_only=True, tag="logger read"):
    """A logger's readings taken in; they lie in a file of the book: of a container, shelf or the
    room."""

    file: Annotated[
        str, Meta(min_length=1, max_length=80, description="the file in the book that holds them")
    ]
    rows: Annotated[int, Meta(ge=1, le=100_000_000, description="how many readings")]
    since: Annotated[datetime, Meta(description="the first of them")]
    until: Annotated[datetime, Meta(description="the last of them")]
    low_c: Celsius
    high_c: Celsius
    digest: Annotated[str, Meta(max_length=64, description="SHA-256 of the file")] = ""
    source: Annotated[str, Meta(max_length=200, description="the logger's own file")] = ""
    container: str = ""
    shelf: str = ""

    is_look = False
    of_now = True

    def refusals(self, bench: Bench) -> Iterator[str]:
        if not is_series_name(self.file):
            yield (
                f"file is '{self.file}'; a logger's readings come in with 'rounds temperatures"
                " FILE', which names the file itself"
            )
        if self.since > self.until:
            yield "since is after until; the first reading must be the earlier"
        if self.low_c > self.high_c:
            yield f"lowest {self.low_c:g} C is above highest {self.high_c:g} C; swap them"

    def effect(self, bench: Bench) -> None:
        """A logger's readings; the same file taken in on two laptops is one."""
        place = self.container or self.shelf
        known = bench.logged.setdefault(place, [])
        if all(read.file != self.file for read in known):
            known.append(self)

    def wording(self, measures: Measures) -> str:
        place = "" if self.container or self.shelf else "room "
        year = "" if self.since.year == self.until.year == self.at.year else " %Y"
        span = f"{self.since:%d %b{year} %H:%M} to {self.until:%d %b{year} %H:%M}"
        return comma_joined(
            f"{place}logger read: {self.rows} readings {span}",
            measures.span(self.low_c, self.high_c),
            self.source,
        )


class LidOpened(ContainerEntry, frozen=True, kw_only=True, tag="lid opened"):
    """Aired: the lid opened for a while."""

    only_here = True
    answers = "air"
    slots = Slots(synonyms=say("aired, lid off, lid open, opened lid, lid ajar, opened to air"))


LID = "lid"  # what was shut, of one that was closed and not covered against the sun


class Covered(ContainerEntry, frozen=True, kw_only=True, tag="covered"):
    """Covered, or the lid shut."""

    how: Annotated[str, Meta(max_length=60, description="half, with what")] = ""

    slots = Slots(
        words=("how",),
        after={"with": "how", "by": "how"},
        synonyms=(
            say("lid on, lid shut, lid closed, closed lid", how=LID)
            | say("half covered, half shaded, host half shaded, half in shade", how="half")
        ),
    )

    def wording(self, measures: Measures) -> str:
        return f"{LID} closed" if self.how == LID else f"covered {self.how}".strip()


class Misted(ContainerEntry, frozen=True, kw_only=True, tag="misted"):
    """A light spray on gauze, plant or lining."""

    only_here = True
    answers = "mist"
    slots = Slots(synonyms=say("sprayed, spray, mist, moistened"))


class Light(ContainerEntry, frozen=True, kw_only=True, tag="light"):
    """Moved into sun, shade or dark, or a lamp switched."""

    to: Literal["sun", "shade", "dark", "lamp on", "lamp off"]

    is_look = False
    cautions = ("lamps",)
    changes_company = True
    slots = Slots(
        synonyms=(
            _MOVED_INTO
            | say(
                "sun, in sun, in the sun, into sun, into the sun, to sun, full sun, in full sun",
                to="sun",
            )
            | say(
                "shade, in shade, in the shade, into shade, into the shade, to shade, shaded,"
                " out of sun, out of the sun, curtain drawn, curtain closed, blind down",
                to="shade",
            )
            | say("in the dark, into the dark, to the dark", to="dark")
            | say("lamp on, light on, lights on", to="lamp on")
            | say("lamp off, light off, lights off", to="lamp off")
        )
    )

    def effect(self, bench: Bench) -> None:
        container = container_for(bench, self.container, self)
        if self.to == "lamp on":
            container.lamp_since = container.lamp_since or self.at
        elif self.to == "lamp off":
            container.lamp_since = None
        else:
            if self.to not in ("dark", container.lit):
                container.without_eggs = {}  # one thing was changed: the wait for eggs begins anew
            container.lit = self.to

    def wording(self, measures: Measures) -> str:
        return (
            self.to
            if self.to.startswith("lamp")
            else f"into {'the ' if self.to != 'shade' else ''}{self.to}"
        )


def _outside(bench: Bench, entry: Air) -> Iterator[str]:
    """A reading that is not between the lowest and highest of its own line."""
    now, ends = entry.temperature_c, _span_read(replace(entry, temperature_c=None))
    if now is None or ends is None:
        return
    low, high = entry.low_c, entry.high_c
    if (low is not None and now < low - ROUNDED_C) or (high is not None and now > high + ROUNDED_C):
        measures = measures_of(bench.settings)
        said = _told(ends, measures)
        yield (
            f"{measures.warmth(now)} is outside of what was read as lowest and highest, {said};"
            " mend one, write a humidity with %, as 46%, or add 'sure'"
        )


def _contradicts(bench: Bench, entry: Air) -> Iterator[str]:
    """A reading too far from another of the same place at almost the same time: one of the two is
    mistyped."""
    place, new = entry.container or entry.shelf, _span_read(entry)
    for other in reversed(bench.air.get(place, [])):
        old, apart = _span_read(other), abs(entry.at - other.at)
        if new and old and apart <= SAME_READING and _apart(new, old) > MAX_APART_C:
            measures = measures_of(bench.settings)
            read = _told(old, measures)
            when = "1 min" if apart >= timedelta(minutes=1) else "0 min"
            yield (
                f"{place or 'the room'} was read {read} {when} ago; if that was wrong, cross that"
                " out, and if both were read, add 'sure'"
            )


def _of_other_unit(bench: Bench, entry: Air) -> Iterator[str]:
    """Frost, or heat that no room has, that is as warm as was read there before if the number was
    meant in the unit that is not the keeper's; as warm as a room where nothing was read."""
    measures, read = measures_of(bench.settings), _span_read(entry)
    meant = [in_other_unit(one, measures) for one in read or ()]
    other = [one for one in meant if one is not None]
    if read is None or len(other) < len(meant) or (read[1] >= 0 and read[0] <= ROOM_C[1]):
        return
    place = entry.container or entry.shelf
    before = [one for one in bench.air.get(place, []) if one.at <= entry.at and _span_read(one)]
    old = _span_read(before[-1]) if before else None
    fits = old is None or _apart((other[0], other[-1]), old) <= MAX_APART_C
    if fits and (old or ROOM_C[0] <= other[-1] <= ROOM_C[1]):
        odd = "below freezing" if read[1] < 0 else "hotter than a room"
        told = f"{measures.warmth(read[1])} is {odd}"
        told += f", {_told(old, measures)} was read there before" if old else ""
        yield f"{told}{if_meant(read[1], measures)}; if it was read so, add 'sure'"


def _told(span: tuple[float, float], measures: Measures) -> str:
    return measures.warmth(span[0]) if span[0] == span[1] else measures.span(*span)


def _apart(one: tuple[float, float], other: tuple[float, float]) -> float:
    """How far one span lies from another; under nought where they meet."""
    return max(one[0] - other[1], other[0] - one[1])


def _span_read(entry: Air) -> tuple[float, float] | None:
    read = [one for one in (entry.temperature_c, entry.low_c, entry.high_c) if one is not None]
    return (min(read), max(read)) if read else None
