"""What a table says, told to the bench of the past: containers and broods that begin, what became
of the animals, and an end at which what nobody wrote down is not known."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from textwrap import wrap
from typing import Any, get_args

from rounds.bench.codes import OR, members, names_of
from rounds.bench.folding.lots import PURPOSE_OF
from rounds.bench.movements import NOT_DATED
from rounds.bench.old_records import NEXT_IN_NOTE, place_note
from rounds.bench.plurals import PLURALS, of_stage
from rounds.bench.state import Container, Shortfall
from rounds.entries import registry as k
from rounds.entries.arrivals import is_instar
from rounds.entries.base import Entry
from rounds.entries.climate import MAX_APART_C, SAME_READING
from rounds.entries.losses import Cause
from rounds.entries.which_animals import NOT_KNOWN
from rounds.exchange.tables_in.columns import POINT
from rounds.exchange.tables_in.left_over import DEAD, LeftOver
from rounds.exchange.tables_in.past_entries import OF_MOTHERS, NotSo, PastEntries
from rounds.exchange.tables_in.rows import TableRow
from rounds.exchange.tables_in.told_beside import ToldBeside
from rounds.exchange.tables_in.values import INSTARS, STAGES
from rounds.exchange.tables_in.vocabulary import bare, code_key, first_of

LONGEST_CODE = 20  # with room for the year behind it
LONGEST_NOTE = 2_000  # letters, as many as its text may have
LONGEST_LAYING = timedelta(days=300)  # broods further apart are of two females; our choice
# Adults of an old table emerged where they are; a mother came in.
PURPOSE_WHERE = {**PURPOSE_OF, "adult": "emergence", "mother": OF_MOTHERS}
# What a mother is called by where it is a code: W3, Weibchen 3, B; not 'wild', 'two females'.
_CODE = re.compile(r"(?=.*\d)[^\W\d_]* ?[\w./-]+|[A-Z]{1,4}")
GROWN: Mapping[str, type[Entry]] = {
    kind.grows_to: kind for kind in k.KINDS if kind.grows_to and not kind.moults
}  # what is said of those that reach a stage
FATES: Mapping[str, type[Entry]] = {
    "died": k.Died,
    "escaped": k.Escaped,
    "released": k.Released,
    "kept": k.Preserved,
}
_SETTLED = {"given away": "taken"}  # left alive, whoever has them now
KNOWN_CAUSES: tuple[str, ...] = tuple(one for one in get_args(Cause) if one)
# Causes as other languages say them; what is none of them is kept as a note.
_CAUSES: Mapping[str, str] = {
    "ants": "ants, ameisen, fourmis, hormigas, mieren",
    "parasitised": "parasit*, schlupfwesp*, avispa*, sluipwesp*",
    "mould": "mould*, mold*, schimmel*, moisi*, moho",
    "dry": "dry, dried, desiccat*, vertrockn*, sec, desseche*, seco, uitgedroogd",
    "drowned": "drown*, ertrunken, noye*, ahogad*, verdronken",
    "starved": "starv*, verhunger*, faim, hambre, verhonger*",
    "heat": "heat, overheat*, hitze, chaleur, calor, hitte",
    "cold": "cold, frost, kalte, froid, frio, kou",
    "unknown": "unknown, unbekannt, inconnu*, desconocid*, onbekend",
}


@dataclass(frozen=True, slots=True)
class Catch:
    """Where and when a founder was caught; '' and None where that is not written down.

    Attributes:
        point: degrees north and east.
    """

    place: str = ""
    at: datetime | None = None
    point: tuple[float, float] | None = None

    @classmethod
    def of(cls, row: TableRow) -> Catch:
        """What a row tells of the catch of the mother.

        Raises:
            NotSo: the day is no date, or one of latitude and longitude is no number of degrees.
        """
        return cls(row.text("caught at"), row.date("caught"), row.point())


@dataclass
class PastRecord:
    """What is told so far.

    Attributes:
        past: the lines, and the bench that they add up to.
        taken: codes of the book that the table may not use, in small letters.
        broods: codes of broods by the table's own names for them.
        told: until when each container is told of.
        females: the table's own names for the founders that it brings in, by their codes.
        layings: when the broods of each mother began, by her name and taxon.
        named: the table's own names for all its broods.
        names: how the name of each container and brood is written most often.
        told_of: until when each brood is told of.
        went_on: when the last of a brood left a stage for the next one.
        seen: when some of a brood came to a container in a stage, or were counted there, last.
        left: those of which no line says what became of them.
        beside: what is told beside the rows.
    """

    past: PastEntries
    taken: Collection[str]
    broods: dict[str, str] = field(default_factory=dict)
    told: dict[str, datetime] = field(default_factory=dict)
    females: dict[str, str] = field(default_factory=dict)
    layings: dict[tuple[str, str], set[datetime]] = field(default_factory=dict)
    named: set[str] = field(default_factory=set)
    names: dict[str, str] = field(default_factory=dict)
    told_of: dict[str, datetime] = field(default_factory=dict)
    went_on: dict[tuple[str, str], datetime] = field(default_factory=dict)
    seen: dict[tuple[str, str, str], datetime] = field(default_factory=dict)
    left: LeftOver = field(default_factory=LeftOver)
    beside: ToldBeside = field(default_factory=ToldBeside)

    def container(self, code: str) -> Container:
        """A container that stands on the bench of the past."""
        return self.past.bench.containers[code]

    def begin_brood(
        self,
        name: str,
        taxon: str,
        at: datetime,
        laid: tuple[datetime, datetime] | None = None,
        mother: str = "",
        catch: Catch | None = None,
    ) -> str:
        """The code of a brood; it begins where it was not told of yet.

        Args:
            catch: where and when the mother was caught, if she comes in with this brood.

        Raises:
            NotSo: it is of another species in an earlier line, or no code is free for it.
        """
        key = code_key(name)
        if key in self.broods:
            code = self.broods[key]
            known = self.past.bench.taxon_of(code)
            if taxon and known != taxon:
                raise NotSo(f"brood {name} is {known} in an earlier line and {taxon} here")
            return code
        name = self.names.setdefault(key, name)
        own, year = code_of(name), f"{at.year % 100:02d}"
        # its container may be called like it, as far as that is no instar
        wanted = (f"{own}/{year}", f"{own}-{year}") if is_instar(own) else (own, f"{own}/{year}")
        code = self._free(*wanted)
        mothers = self._mothers(mother, taxon, at, catch or Catch())
        laid_from, laid_to = laid or (None, None)
        self.past.say(
            k.BroodBegun,
            at,
            code=code,
            taxon=taxon,
            mothers=mothers,
            laid_from=laid_from,
            laid_to=laid_to,
        )
        self.broods[key] = code
        return code

    def expect_names(self, names: Iterable[str]) -> None:
        """Names of containers and broods that the table will tell of, each as often as it does: the
        commonest spelling holds, of several the first."""
        for name, _ in Counter(names).most_common():
            self.names.setdefault(code_key(name), name)

    def is_parent(self, code: str, at: datetime) -> bool:
        """Whether a founder or brood of that code had come in by a time."""
        bench = self.past.bench
        known = bench.founders.get(code) or bench.broods.get(code)
        return known is not None and known.at <= at

    def not_of_mother(self, row: TableRow, broods: Iterable[str]) -> tuple[str, ...]:
        """What a row tells of a catch that is no founder's of these broods, as notes keep it."""
        catch = Catch.of(row)
        mothers = [
            self.past.bench.founders[code]
            for brood in broods
            for code in self.past.bench.broods[brood].mothers
            if code in self.past.bench.founders
        ]
        day = f"caught: {row.text('caught')}" if catch.at else ""
        point = " ".join(map(row.text, POINT)) if catch.point else ""
        points = [(one.latitude, one.longitude) for one in mothers]
        return (
            "" if any(one.place == catch.place for one in mothers) else place_note(catch.place),
            "" if catch.point in points else place_note(point),
            "" if any(one.caught == catch.at for one in mothers) else day,
        )

    def is_mother(self, name: str, brood: str) -> bool:
        """Whether a brood has a mother whom the table calls so."""
        return any(
            self.females.get(code, code_key(code)) == code_key(name)
            for code in self.past.bench.broods[brood].mothers
        )

    def expect_layings(self, layings: Iterable[tuple[str, str, str, datetime]]) -> None:
        """Broods that the table will tell of: by their mother, brood, taxon and when each began."""
        for mother, brood, taxon, at in layings:
            self.layings.setdefault((code_key(mother), taxon), set()).add(at)
            self.named.add(code_key(brood))

    def _mothers(self, name: str, taxon: str, at: datetime, catch: Catch) -> tuple[str, ...]:
        """The code of a brood's mother: a parent whom the book knows, else a founder that comes in
        by what the table calls her; none where it is no code."""
        founders = self.past.bench.founders
        for code, called in self.females.items():
            mine = called == code_key(name) and founders[code].taxon == taxon
            if mine and founders[code].at <= at < founders[code].at + LONGEST_LAYING:
                return (code,)
        if code_key(name) not in self.females.values() and self.is_parent(name, at):
            return (name,)
        last = name.split()[-1] if name else ""  # as ex 18-03, F1 of 18-03
        born_in = self.past.bench.broods.get(last)
        if born_in and born_in.taxon == taxon and any(map(str.isdigit, last)) and born_in.at <= at:
            return (last,)
        if code_key(name) in self.named or not is_code(name):
            return ()
        layings = self.layings.get((code_key(name), taxon), set())
        first = min([at, *(one for one in layings if at - LONGEST_LAYING < one < at)])
        year = f"{code_of(name)}/{first.year % 100:02d}"
        code = self._free(code_of(name), year, *(f"{year}.{again}" for again in range(2, 1_000)))
        self._bring_in(code, taxon, first, catch)
        self.females[code] = code_key(name)
        return (code,)

    def _bring_in(self, code: str, taxon: str, laid: datetime, catch: Catch) -> None:
        """A female of whom the table says her broods, and perhaps her catch: when she left is not
        known."""
        if catch.at is not None and catch.at > laid:
            raise NotSo(f"{code} was caught after her eggs were laid; mend one of the days")
        at = catch.at or laid
        container = self.set_up(code, "mother", at)
        latitude, longitude = catch.point or (None, None)
        self.past.say(
            k.FounderIntake,
            at,
            container=container,
            code=code,
            taxon=taxon,
            place=catch.place,
            caught=catch.at,
            latitude=latitude,
            longitude=longitude,
        )
        self.finish(container, at)

    def set_up(self, name: str, stage: str, at: datetime) -> str:
        """A container begins; its code has the year behind it, for containers are used again."""
        name = self.names.setdefault(code_key(name), name)
        year = f"{code_of(name)}/{at.year % 100:02d}"
        code = self._free(year, *(f"{year}.{again}" for again in range(2, 1_000)))
        self.past.say(k.SetUp, at, container=code, purpose=PURPOSE_WHERE[stage])
        self.told[code] = at
        return code

    def _free(self, *wanted: str) -> str:
        used = {*self.taken, *(code.casefold() for code in self.past.codes())}
        for code in wanted:
            if code.casefold() not in used:
                return code
        raise NotSo(
            f"{' and '.join(wanted[:2])} {'are' if len(wanted) > 1 else 'is'} in the book already;"
            " give it another code in the table; if the same table came in under another name, take"
            " that back first: rounds import --undo"
        )

    def say(self, kind: type[Entry], code: str, at: datetime, **fields: Any) -> None:
        """One line about a container."""
        self.past.say(kind, at, container=code, **fields)
        self.told[code] = max(at, self.told.get(code, at))
        there = str(fields.get("to", code))
        reached = str(kind.grows_to or ("larva" if kind is k.Moulted else ""))
        if kind in (k.Stocked, k.Counted, k.Moved):
            reached = str(fields.get("stage", ""))
        for brood in self._broods_of(there, str(fields.get("brood", ""))):
            self.told_of[brood] = max(at, self.told_of.get(brood, at))
            if reached in STAGES:
                key = there, brood, reached
                self.seen[key] = max(at, self.seen.get(key, at))

    def _broods_of(self, code: str, brood: str) -> Iterable[str]:
        """The broods that a line about a container is about: the one that it names, else all."""
        if brood:
            return members(brood)
        standing = self.past.bench.containers.get(code)
        lots = standing.lots if standing else ()
        return tuple(dict.fromkeys(one for lot in lots for one in lot.codes))

    def stock(
        self,
        code: str,
        brood: str,
        stage: str,
        number: int,
        at: datetime,
        *,
        laid: tuple[datetime, datetime] | None = None,
        instar: int = 0,
        sex: str = "",
    ) -> None:
        """Animals come to a container; eggs may say between when they were laid."""
        begun = self.past.bench.broods[brood]
        as_brood = (begun.laid_from, begun.laid_to) == laid
        laid_from, laid_to = laid if laid and stage == "egg" and not as_brood else (None, None)
        self.say(
            k.Stocked,
            code,
            at,
            brood=brood,
            stage=stage,
            number=number,
            instar=instar,
            sex=sex,
            laid_from=laid_from,
            laid_to=laid_to,
        )

    def grow(
        self,
        code: str,
        brood: str,
        to: str,
        number: int,
        at: datetime,
        *,
        dated: bool = True,
        sex: str = "",
        moults_told: bool = True,
        at_least: bool = False,
        days: float | None = None,
    ) -> None:
        """Animals reach a stage, ``at_least`` so many; where it is not dated, no duration rests on
        it.

        Args:
            days: how long the stage before took, where no date tells when it began or ended.
            moults_told: whether the table says of the moults of those that hatch; of what instar
                they are is not known where it tells of none.
        """
        evidence = "seen" if dated else NOT_DATED
        about: dict[str, Any] = {"brood": brood, "number": number, "evidence": evidence}
        if at_least:
            about["at_least"] = True
        if days is not None:
            about["stage_days"] = days
        if to in STAGES:
            left = brood, STAGES[STAGES.index(to) - 1]
            self.went_on[left] = max(at, self.went_on.get(left, at))
        if to in INSTARS:
            self.say(k.Moulted, code, at, **about, instar=int(to[1:]))
            return
        if to == "adult":
            about["sex"] = sex
        if to == "larva" and not moults_told:
            about["instar_not_known"] = True
        self.say(GROWN[to], code, at, **about)

    def leave(
        self,
        code: str,
        brood: str,
        fate: str,
        stage: str,
        number: int,
        at: datetime,
        cause: str = "",
        sex: str = "",
    ) -> None:
        """Animals leave by a fate; of none that is known, they are not seen and not known.

        Args:
            stage: in which they are; an instar where it is known of larvae, as L3.
            sex: where adults of both are there; empty where nobody wrote it.
        """
        about: dict[str, Any] = {"brood": brood, "number": number}
        about["stage"] = stage if stage not in INSTARS else "larva"
        of_sex = self._of_sex(code, brood, stage, sex)
        gone = about | self._of_instar(code, brood, stage) | of_sex
        if fate in ("died", "escaped"):
            number -= self._settle(code, about | {"cause": cause}, fate, at)
            gone |= {"number": number, "cause": cause if fate == "died" else ""}
        if fate in ("died", "escaped") or fate not in FATES:
            gone |= {"whose": "others"} if self._missing(code) else {}
        if number and fate in FATES:
            self.say(FATES[fate], code, at, **(about | of_sex if fate == "released" else gone))
        elif number:
            self.say(k.Missing, code, at, **gone)
            self.say(k.Settled, code, at, **about, fate=_SETTLED.get(fate, NOT_KNOWN))

    def _of_sex(self, code: str, brood: str, stage: str, sex: str) -> dict[str, Any]:
        """Of which sex they are, where adults of several are there."""
        lots = [lot for lot in self.container(code).lots if brood in ("", *lot.codes)]
        sexes = {lot.sex for lot in lots if lot.stage == stage == "adult"}
        return {} if len(sexes) < 2 else {"sex": sex} if sex else {"which": NOT_KNOWN}

    def _missing(self, code: str) -> list[Shortfall]:
        """What a count has shown to be missing from a container."""
        return [one for one in self.past.bench.shortfalls if one.container == code]

    def _settle(self, code: str, about: dict[str, Any], fate: str, at: datetime) -> int:
        """Of those that died or escaped, so many are the ones that a count of that day misses."""
        missed = sum(
            one.number
            for one in self._missing(code)
            if one.at == at and one.stage == about["stage"] and one.brood == about["brood"]
        )
        settled = min(missed, int(about["number"]))
        if settled:
            how = {"died": "dead"}.get(fate, fate)
            cause = {} if fate == "escaped" else {"cause": about["cause"]}
            said = {name: value for name, value in about.items() if name != "cause"}
            self.say(k.Settled, code, at, **(said | {"number": settled, "fate": how} | cause))
        return settled

    def _of_instar(self, code: str, brood: str, stage: str) -> dict[str, Any]:
        """Which larvae are meant where there are several instars: those of an instar that is named,
        else the youngest, which did not go on; where some are of one that is not known, nobody
        knows which."""
        if stage in INSTARS:
            return {"instar": int(stage[1:])}
        lots = [lot for lot in self.container(code).lots if brood in ("", *lot.codes)]
        instars = {lot.instar for lot in lots if lot.stage == "larva"}
        if stage != "larva" or len(instars) < 2:
            return {}
        return {"which": NOT_KNOWN} if 0 in instars else {"instar": min(instars)}

    def feed(self, code: str, plant: str, at: datetime) -> None:
        """A plant stands in the container from now on; when it was cut nobody wrote down."""
        if all(host.plant != plant for host in self.container(code).hosts):
            self.say(k.HostIn, code, at, plant=plant, cut=at, cut_not_known=True)

    def air(
        self,
        code: str,
        at: datetime,
        temperature_c: float | None,
        humidity_percent: float | None = None,
        since: datetime | None = None,
    ) -> None:
        """A reading, or the mean since a time."""
        if temperature_c is None and humidity_percent is None:
            return
        mean = since if since is not None and since < at and temperature_c is not None else None
        others = [
            one.temperature_c
            for one in self.past.bench.air.get(code, ())
            if abs(at - one.at) <= SAME_READING and one.temperature_c is not None
        ]  # of a table that gives no time of day: its readings of one day stand as they are
        far = temperature_c is not None and any(
            abs(one - temperature_c) > MAX_APART_C for one in others
        )
        self.say(
            k.Air,
            code,
            at,
            temperature_c=temperature_c,
            humidity_percent=humidity_percent,
            mean_since=mean,
            sure=far or None,
        )

    def note(self, code: str, at: datetime, *texts: str) -> None:
        """What has no field of its own is kept as it was typed; what is too long for a note, in
        several."""
        text = NEXT_IN_NOTE.join(text for text in texts if text)
        for part in wrap(text, LONGEST_NOTE, break_on_hyphens=False):
            self.say(k.Note, code, at, text=part)

    def expect_end(self, brood: str, went_on: Mapping[str, datetime], ended: datetime) -> None:
        """When the last of a brood will have left each stage, and until when it will be told of."""
        self.went_on |= {(brood, stage): at for stage, at in went_on.items()}
        self.told_of[brood] = max(ended, self.told_of.get(brood, ended))

    def finish(
        self, code: str, at: datetime, stage_of_fate: str = "", fate: str = ""
    ) -> dict[str, int]:
        """A container's record ends; how many are left that nobody knows what became of, by stage,
        those aside of which no line says.

        Args:
            stage_of_fate: the stage of those of which a line tells what became of them.
            fate: that, if they left; else nobody knows.
        """
        left: dict[str, int] = {}
        for short in self._missing(code):
            about = {"brood": short.brood, "stage": short.stage, "number": short.number}
            fate, last = self._end_of_left(code, short.brood, str(short.stage), short.number, at)
            settled = {"died": "dead"}.get(fate, fate)
            self.say(k.Settled, code, max(last, short.at), **about, fate=settled)
        lots = sorted(self.container(code).lots, key=lambda lot: (-lot.instar, not lot.sex))
        for lot in lots:  # those of no known instar or sex last, when no others are left
            brood = "" if OR in lot.brood else lot.brood
            stage = f"L{lot.instar}" if lot.instar > 1 else lot.stage
            if lot.stage not in ("adult", stage_of_fate):
                self.leave_over(code, lot.brood, stage, lot.number, at)
                continue
            left_as = fate if fate and lot.stage == stage_of_fate else NOT_KNOWN
            if left_as == NOT_KNOWN:
                left[lot.stage] = left.get(lot.stage, 0) + lot.number
            self.leave(code, brood, left_as, stage, lot.number, at, sex=lot.sex)
        at = max(at, self.told[code])
        if self.container(code).hosts:
            self.say(k.HostOut, code, at, fate="binned", sure=True)
        self.say(k.Closed, code, at)
        return left

    def leave_over(self, code: str, brood: str, stage: str, number: int, at: datetime) -> None:
        """Some leave of whom no line says what became of them, which is noted.

        Args:
            at: the last day that is told of them.
        """
        fate, last = self._end_of_left(code, brood, stage, number, at)
        self.leave(code, "" if OR in brood else brood, fate, stage, number, last)
        words = self.left.taken_for(_whole(stage))
        if words != NOT_KNOWN:
            left = of_stage(number, _whole(stage))
            self.note(code, last, f"{left} of which nothing more is written: {words}")

    def _end_of_left(
        self, code: str, brood: str, stage: str, number: int, at: datetime
    ) -> tuple[str, datetime]:
        """What those that are left are taken for, and when: those that lived on are not known, for
        the table ends before they do."""
        if stage == "adult":
            return NOT_KNOWN, at
        self.left.add(self._broods_of(code, brood), _whole(stage), number)
        if self.left.taken_for(_whole(stage)) != DEAD:
            return NOT_KNOWN, at
        return "died", self.last_day_of_left(code, brood, stage, at)

    def last_day_of_left(self, code: str, brood: str, stage: str, at: datetime) -> datetime:
        """When those died of whom nobody wrote it: when the last of their brood went on to the
        next stage, or, where none did, with the last line about it; not before they were seen."""
        broods, stage = list(self._broods_of(code, brood)), _whole(stage)
        went_on = [self.went_on[one, stage] for one in broods if (one, stage) in self.went_on]
        seen = [self.seen[code, one, stage] for one in broods if (code, one, stage) in self.seen]
        told = [self.told_of[one] for one in broods if one in self.told_of]
        return max([*(went_on or [at, *told]), *seen])


def _whole(stage: str) -> str:
    """The stage of an instar."""
    return "larva" if stage in INSTARS else stage


def likely_words(number: int, stage: str) -> str:
    """That nobody wrote of which stage some dead were."""
    return f"of which stage {number} were is not written; taken for {PLURALS.get(stage, stage)}"


def is_code(name: str) -> bool:
    """Whether a name can be the code of one animal."""
    is_one = len(name) <= LONGEST_CODE and names_of(name, ()) == [name]
    return is_one and bool(_CODE.fullmatch(name))


def code_of(name: str) -> str:
    """A name of the table as a code.

    Raises:
        NotSo: it is too long for one.
    """
    code = "-".join(name.replace(",", ".").split())
    if len(code) > LONGEST_CODE:
        raise NotSo(f"'{name}' is too long for a code; at most {LONGEST_CODE} letters")
    return code


def short_name(taxon: str) -> str:
    """The beginning of a species' epithet, for codes that the table does not give: SELE."""
    words = taxon.split()
    name = words[1] if len(words) > 1 else taxon
    return "".join(sign for sign in name if sign.isalnum())[:4].upper()


def cause_of(text: str) -> str:
    """A known cause of death; empty where the text is none."""
    wanted = bare(text)
    return wanted if wanted in KNOWN_CAUSES else first_of(_CAUSES, wanted)
