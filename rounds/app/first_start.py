"""The first start: five questions that lead from an empty book to its first container and first
round.

The same questions are asked on the screen and on lines; every answer is said at the desk.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable
from dataclasses import dataclass, field

from rounds import late
from rounds.app.desk import Desk, Outcome, Recorded, Refusal
from rounds.app.holding_line import purpose_of_line, read_holding, time_of_line
from rounds.app.holdings import (
    PURPOSES,
    asked_of_instar,
    kind_first,
    purpose_for,
    purpose_named,
    says_kinds,
)
from rounds.app.prompt_line import preview, read_typed, say_phrase
from rounds.bench.codes import like_codes
from rounds.bench.state import Round
from rounds.bench.zones import zone_doubt
from rounds.checks.registry import CHECKS
from rounds.checks.walk import stops
from rounds.entries import registry as k
from rounds.entries.base import Saying
from rounds.entries.check_labels import called
from rounds.entries.phrase.reader import Draft
from rounds.entries.validation import advice
from rounds.surroundings.coordinates import coordinates_asked_for
from rounds.views.cautions import CAUTIONS
from rounds.views.keys import key_label
from rounds.views.settings import nearest_zones
from rounds.views.states import place_words
from rounds.views.words import clock, literal

_FINE = late.pattern(r"\d[.,]\d|[°NSEW]", re.IGNORECASE)  # in degrees, as against other numbers
_PLACE = late.pattern(r"\s(?:on|at)\s+(?:the\s+)?(.+)$", re.IGNORECASE)

ONE_FEMALE = "1 female Lepidoptera"
# What each kind of container is called first: K2, E2 ..., for a 1 is easily misread. A female goes
# by the order's name until it is known better (W1 is NAME).
LETTERS = {"laying": "K", "eggs": "E", "rearing": "R", "pupation": "P", "host store": "S"}
FREE_CODE = "K2"
CAN_BE = f"it can be for {', '.join(map(called, PURPOSES))}"


@dataclass(frozen=True, slots=True)
class StartQuestion:
    """One question: its words, what can be typed, and what Enter alone means."""

    text: str
    hint: str


QUESTIONS: tuple[StartQuestion, ...] = (
    StartQuestion("1  What is the bench called?", "as: Weir House bench. Enter alone: no name"),
    StartQuestion(
        "2  Where is it on the map? Sunrise, sun on the sill and local hours go by it.",
        "latitude, longitude, time zone, as: 49.2N 0.4W Europe/Paris; for the zone alone the city"
        " it is named after, as: Paris. Enter alone: no place, and the zone"
        " of this machine",
    ),
    StartQuestion(
        "3  In which units?",
        "1 for C, ml, mm; 2 for F, fl oz, in. The book itself stays metric; settings change it"
        " later. Enter alone: 1",
    ),
    StartQuestion(
        "4  What stands on it first? A code for the label, and what it is for.",
        "as: L2 laying; or several: E2-E6 eggs. It can be for"
        f" {', '.join(LETTERS)}; ? and Enter lists more. Enter alone: the next answer decides",
    ),
    StartQuestion(
        "5  What is in it? How many, of what, on which plant.",
        "as: 2 females Boloria dia on violet leaf; or: 40 eggs Boloria dia; or a plant alone."
        " Enter alone: it is empty. " + CAUTIONS["protected"],
    ),
)
# the last where no container was named: one is set up for what is in it
FIRST_HELD = StartQuestion(
    QUESTIONS[-1].text,
    QUESTIONS[-1].hint.replace("it is empty", f"{ONE_FEMALE}, to be named once she is known"),
)
WHERE, STANDS = 1, 3  # the places of the questions for coordinates and zone, and for a container
METRIC_WORDS = ("1", "c", "celsius", "metric", "ml", "mm")
IMPERIAL_WORDS = ("2", "f", "fahrenheit", "imperial", "us", "fl oz", "in")
WELCOME = (
    (
        "Nothing stands here yet. Five questions lead to your first round. Every answer can be "
        "undone or changed later."
    ),
    (
        "Or type: demo, to look at an invented bench first; list, if yours already runs; ? for what"
        " else there is."
    ),
)
WAYS_IN = (
    "from FOLDER takes over species, plants and plan of another book; import FILE takes in years of"
    " an old spreadsheet"
)


@dataclass
class FirstStart:
    """Where the questions have come to.

    Args:
        desk: where every answer is said.
        take_over: reads what can be taken over from another book's folder, or says in one line why
            not.
    """

    desk: Desk
    take_over: Callable[[str], list[Saying] | str]
    place: int = 0
    container: str = ""
    wants_demo: bool = False
    wants_list: bool = False
    wants_import: str = ""  # the file of an old table
    told: list[str] = field(default_factory=list)
    has_told_zone: bool = False
    waiting: tuple[str, str] | None = None  # codes and a place, set up once it is said for what

    def __post_init__(self) -> None:
        """Ask on behind what this book knows from questions that were left."""
        settings = self.desk.bench.settings
        for known in ("bench", "latitude", "temperature"):
            if known not in settings:
                return
            self.place += 1
            self.told.append(f"{known}: {literal(settings[known])}")

    @property
    def asking(self) -> StartQuestion | None:
        """The question now; None at the end."""
        if self.place == len(QUESTIONS) - 1 and not self.container:
            return FIRST_HELD
        return QUESTIONS[self.place] if self.place < len(QUESTIONS) else None

    def take(self, typed: str) -> str:
        """Hear an answer; what is wrong with it in one line, or nothing."""
        text = " ".join(typed.split())
        if self.place < STANDS and text == "?":
            return WAYS_IN
        if self.place < STANDS and text.casefold() == "demo":
            self.wants_demo = True
            return ""
        if not self.container and text.casefold() == "list":
            self.wants_list = True
            return ""
        if not self.container and text.casefold().startswith("import "):
            self.wants_import = typed.strip()[len("import ") :].strip()
            return ""
        if self.place < STANDS and text.casefold().startswith("from "):
            return self._taken_over(typed.strip()[5:].strip())
        asking = self.asking
        if asking is None:
            return ""
        if self.place == STANDS and text.casefold() in ("?", "more"):
            return CAN_BE
        if not text and not (self.place == len(QUESTIONS) - 1 and not self.container):
            self._go_on()
            return ""
        outcome = (self._name, self._where, self._units, self._stands, self._holds)[self.place](
            text
        )
        if isinstance(outcome, str):
            return outcome
        if isinstance(outcome, Refusal):
            return outcome.line
        self._go_on()
        return ""

    def _go_on(self) -> None:
        """To the next question; behind that for the place the zone is told that nobody typed."""
        self.place += 1
        zone = self.desk.bench.settings.get("zone")
        if self.place > WHERE and zone and not self.has_told_zone:
            self.has_told_zone = True
            self.told.append(f"zone: {literal(zone)}; settings change it")

    def _taken_over(self, folder: str) -> str:
        result = self.take_over(folder)
        if isinstance(result, str):
            return result
        outcome = self.desk.say_many(result)
        if isinstance(outcome, Refusal):
            return outcome.line
        self.told.append(
            f"taken over from {literal(folder)}: {len(result)} lines of species, plants, plan and"
            " settings"
        )
        return ""

    def _settings(self, **values: str) -> Outcome | str:
        outcome = self.desk.say_many(
            [(k.Setting, {"name": name, "value": value}) for name, value in values.items()]
        )
        if not isinstance(outcome, Refusal):
            self.told += [f"{name}: {literal(value)}" for name, value in values.items()]
            self.has_told_zone |= "zone" in values
        return outcome

    def _name(self, text: str) -> Outcome | str:
        """The bench's name; where on earth it is, if that stands behind the name."""
        name, where = _name_and_degrees(text)
        outcome = self._where(where) if name and where else None
        if outcome is None or isinstance(outcome, str | Refusal):
            return self._settings(bench=text) if outcome is None else outcome
        self.place += 1
        return self._settings(bench=name)

    def _where(self, text: str) -> Outcome | str:
        result = read_place(text)
        if isinstance(result, str):
            return result
        if "longitude" in result and "zone" not in result:
            doubt = zone_doubt(self.desk.zone, float(result["longitude"]), self.desk.now())
            if doubt:
                return (
                    f"{doubt}: say its time zone too, as: {literal(text)} Europe/Paris; or UTC if"
                    " that is meant"
                )
        return self._settings(**result)

    def _units(self, text: str) -> Outcome | str:
        first = text.casefold().split(",")[0].split(" for ")[0].strip()
        if first not in (*METRIC_WORDS, *IMPERIAL_WORDS):
            return f"'{literal(text)}' is neither; type 1 for C, ml, mm or 2 for F, fl oz, in"
        chosen = ("C", "ml", "mm") if first in METRIC_WORDS else ("F", "fl oz", "in")
        return self._settings(temperature=chosen[0], volume=chosen[1], length=chosen[2])

    def _stands(self, text: str) -> Outcome | str | None:
        codes, wanted = _codes_and_purpose(text)
        place = None if wanted else _PLACE.search(codes)
        if _says_more(codes[: place.start()] if place else codes) and preview(self.desk, text)[1]:
            return self._stands_with_animals(text)
        if place:
            return self._waits(codes[: place.start()], f"on {place[1]}")
        if not wanted:
            code = codes.split()[0]
            if purpose_named(code) in PURPOSES:
                return f"say also which container is for that, as: L1 {literal(code.casefold())}"
            return f"say what {literal(code)} is for, as: {literal(code)} laying; {CAN_BE}"
        outcome = say_phrase(self.desk, f"{codes} set up {wanted}")
        if isinstance(outcome, Recorded):
            stand = [entry.container for entry in outcome.entries if isinstance(entry, k.SetUp)]
            self.container = stand[0]
            self.told.append(
                f"{literal(', '.join(stand))} {'stands' if len(stand) == 1 else 'stand'}:"
                f" {literal(called(wanted))}"
            )
            if advised := advice(outcome.entries, self.desk.bench):
                self.told.append(literal(advised))
        return outcome

    def _stands_with_animals(self, text: str) -> Outcome:
        """A container and what is in it in one line, as at the prompt: nothing is left to ask."""
        outcome = say_phrase(self.desk, text)
        if isinstance(outcome, Recorded):
            stand = [entry for entry in outcome.entries if isinstance(entry, k.SetUp)]
            self.container = stand[0].container if stand else ""
            self.place += bool(stand)
            self.told += [f"{one.container} stands: {called(one.purpose)}" for one in stand]
            self.told.append(f"in it: {literal(text)}")
        return outcome

    def _waits(self, codes: str, place: str) -> str | None:
        """Containers with a place are set up once it is said what is in them."""
        line, can_be = preview(self.desk, f"{codes} set up laying {place}")
        if not can_be:
            return line
        self.waiting = codes, place
        self.told.append(
            f"{literal(codes)} {literal(place)}: set up with what is in it, asked next"
        )
        return None

    def _set_up(self, purpose: str) -> list[Saying]:
        """The containers for what is said to be in the first of them."""
        codes, place = self.waiting or (f"{LETTERS.get(purpose, 'Q')}2", "")
        draft = read_typed(self.desk, f"{codes} set up {purpose} {place}")
        assert isinstance(draft, Draft)  # it was looked at when it was typed
        targets = [code for code, _ in draft.targets] or [draft.fields["container"]]
        return [(k.SetUp, draft.fields | {"container": code}) for code in targets]

    def _holds(self, text: str) -> Outcome | str:
        text = text or ONE_FEMALE
        begins, _, behind = text.partition(" ")
        stands = self.container or (self.waiting[0] if self.waiting else "")
        if like_codes(begins.rstrip(":")) and says_kinds(behind):
            if begins.rstrip(":").casefold() == stands.casefold():
                text = behind  # the code was said at the question before
            elif not stands and not asked_of_instar(text):
                return self._stands_with_animals(text)
            elif stands:
                return f"{literal(stands)} is what is asked about; as: {literal(behind)}"
        text = kind_first(text)
        rest, wanted = purpose_of_line(text)
        here = self.desk.bench.at(self.container)
        text = rest if wanted and (here is None or here.purpose == wanted) else text
        code = self.container or FREE_CODE
        timed = time_of_line(text, self.desk.clock.local_now(), self.desk.bench)
        if timed.asked:
            return timed.asked
        result = read_holding(
            timed,
            code,
            self.desk.clock.local_now(),
            set(self.desk.bench.founders) | set(self.desk.bench.broods),
            origin="first start",
        )
        if isinstance(result, str):
            return result
        if not self.container:
            purpose = wanted or purpose_for(result)
            set_up = self._set_up(purpose)
            code = str(set_up[0][1]["container"])
            placed = [
                (kind, fields | {"container": code} if "container" in fields else fields)
                for kind, fields in result
            ]
            result = [*set_up, *placed]
        outcome = self.desk.say_many(result, timed.at)
        if not isinstance(outcome, Refusal):
            if not self.container:
                self.container = code
                self.told.append(f"{code} stands: {called(purpose)}")
            self.told.append(f"in it: {literal(text)}")
        return outcome


def _name_and_degrees(text: str) -> tuple[str, str]:
    """A name, and the degrees that stand behind it with what follows those: ``Skerry Bank, 55.2
    -6.1``; '' without them."""
    for space in re.finditer(r"\s+", text):
        behind = text[space.end() :]
        with contextlib.suppress(ValueError):  # half of a pair is part of a name
            found = coordinates_asked_for(behind)
            if found and not found.begin and len(_FINE.findall(behind[: found.end])) > 1:
                return text[: space.start()].rstrip(",; "), behind
    return text, ""


def _codes_and_purpose(text: str) -> tuple[str, str]:
    """The codes that an answer begins with, and what they are for; '' where that is not said."""
    words = text.split()
    for position in range(1, len(words)):
        wanted = " ".join(words[position:])
        for before in ("set up for ", "set up ", "for ", ""):
            purpose = wanted.removeprefix(before)
            if any(purpose.casefold().startswith((known, called(known))) for known in PURPOSES):
                return " ".join(words[:position]), purpose
    return text, ""


def _says_more(codes: str) -> bool:
    """Whether behind the first code there stands what is none, as in ``K2 two females``."""
    first, *rest = codes.split()
    return like_codes(first) and any(
        not like_codes(word) and word.casefold() not in ("and", "to", "-") for word in rest
    )


def asks_now(desk: Desk) -> bool:
    """Whether a round that began now would have anything to ask."""
    now = desk.now()
    walk = Round(id="", name="first", started=now, by="", answered=now)
    return bool(stops(desk.bench, desk.moment(), walk, desk.dues()))


def first_words(desk: Desk) -> str:
    """What comes first where nothing is due yet."""
    ahead = min(desk.dues(), key=lambda due: due.due, default=None)
    if ahead is None:
        return "Nothing is asked of this bench yet."
    when = clock(ahead.due, desk.now(), desk.zone)
    first = f"First comes {CHECKS[ahead.check].label} at {place_words(ahead)}, {when}"
    return (
        f"Nothing is due yet. {first}; {key_label(desk.bench.settings, 'bench', 'round')} begins"
        " the round."
    )


def read_place(typed: str) -> dict[str, str] | str:
    """Latitude, longitude and time zone as typed, as settings; or one line that says what would be
    right."""
    try:
        found = coordinates_asked_for(typed)
    except ValueError as unclear:
        return str(unclear)
    said: dict[str, str] = {}
    if found:
        said = {"latitude": f"{found.latitude:.10g}", "longitude": f"{found.longitude:.10g}"}
        typed = f"{typed[: found.begin]} {typed[found.end :]}"
    words = typed.strip(" ,;")
    if re.match(r"[-+]?\d", words):
        return "give latitude and longitude together, as: 49.2N 0.4W"
    if words:
        zone = _zone_of(words)
        if zone.startswith("no time zone"):
            return zone
        said["zone"] = zone
    return said or "give latitude, longitude and time zone, as: 49.2N 0.4W Europe/Paris"


def _zone_of(typed: str) -> str:
    """The zone of that name or town; a line that begins 'no time zone' where it is not clear."""
    if typed.upper() == "UTC":
        return "UTC"
    near = nearest_zones(typed)
    exact = [
        zone
        for zone in near
        if typed.casefold().replace(" ", "_")
        in (zone.casefold(), zone.rsplit("/", 1)[-1].casefold())
    ]
    begun = [zone for zone in near if typed.casefold() in zone.casefold()]
    if len(exact) == 1 or len(begun) == 1:
        return (exact or begun)[0]
    return (
        f"no time zone is called {literal(typed)};"
        f" {'perhaps ' + ', '.join(near) if near else 'give one as Europe/Paris'}"
    )
