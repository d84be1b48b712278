"""Every setting of a book: what it means, what holds where it was never set, and what it can be."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from datetime import time

from msgspec import Struct

from rounds import late
from rounds.bench.zones import zone_named
from rounds.checks.eggs import AIDS, SEARCH_AID
from rounds.views.keys import KEY_SETTING, key_refusal
from rounds.views.words import literal
from rounds.word_tables import table_rows

MAX_ZONES = 5  # that are named for one that there is not
# what is wrong with a value, and what would be right; empty where nothing is
Check = Callable[[str], str]


class KnownSetting(Struct, frozen=True):
    """One setting; ``default`` holds where the book says nothing."""

    name: str
    about: str
    default: str = ""
    check: Check = lambda value: ""


def _number(low: float, high: float, unit: str) -> Check:
    def check(value: str) -> str:
        try:
            fits = low <= float(value) <= high
        except ValueError:
            fits = False
        return "" if fits else f"it must be a number from {low:g} to {high:g}, {unit}"

    return check


def _one_of(*choices: str) -> Check:
    return lambda value: "" if value in choices else f"it can be {', '.join(choices)}"


def _time_of_day(value: str) -> str:
    try:
        time.fromisoformat(value)
    except ValueError:
        return "it must be a time of day, as 07:00"
    return "" if len(value) == 5 else "it must be a time of day, as 07:00"


def _zone(value: str) -> str:
    if zone_named(value):
        return ""
    near = nearest_zones(value)
    return (
        "no time zone is called that;"
        f" {'perhaps ' + ', '.join(near) if near else 'give one as Europe/Paris'}"
    )


def nearest_zones(typed: str) -> list[str]:
    """Time zones that have those letters in their name, else those spelled nearly so."""
    from zoneinfo import available_timezones

    wanted = typed.strip().casefold().replace(" ", "_")
    zones = sorted(
        zone
        for zone in available_timezones()
        if "/" in zone and not zone.startswith(("Etc/", "posix/", "right/"))
    )
    has = [zone for zone in zones if wanted and wanted in zone.casefold()]
    by_town = {zone.rsplit("/", 1)[-1].casefold(): zone for zone in zones}
    near = [by_town[town] for town in late.nearest(wanted, by_town, MAX_ZONES, 0.7)]
    return list(dict.fromkeys([*has, *near]))[:MAX_ZONES]


def _names(value: str) -> str:
    return (
        ""
        if len(_by_initials(value)) == len(_persons(value))
        else "it must be initials and a full name, a comma or semicolon between, as KM Karin Maas,"
        " AB Anna Berg; or KM Maas, Karin; AB Berg, Anna"
    )


def _by_initials(value: str) -> dict[str, str]:
    said = (re.split(r"[=:]\s*|\s+", part, maxsplit=1) for part in _persons(value))
    return {_plain(one[0]): one[1].strip() for one in said if len(one) == 2 and one[1]}


def _plain(initials: str) -> str:
    """``F. N.`` as ``fn``."""
    return re.sub(r"[.\s-]", "", initials).casefold()


def _persons(value: str) -> list[str]:
    """Each with initials first; a comma before what are no initials is one of a name."""
    if ";" in value:
        return [part.strip() for part in value.split(";") if part.strip()]
    persons: list[str] = []
    for part in (part.strip() for part in value.split(",")):
        if persons and not _begins_person(part):
            persons[-1] += f", {part}"
        else:
            persons.append(part)
    return persons


def _begins_person(text: str) -> bool:
    """Whether initials and a name stand there, as KM Karin Maas, and not a name alone, as Karin
    Anna."""
    initials, _, name = text.partition(" ")
    cased = len(initials) <= 4 and (initials.isupper() or initials.islower())
    return "=" in text or ":" in text or (bool(name) and cased)


_BETWEEN = re.compile(r"\s*[;|/+&]\s*|\s+(?:and|et|und|och|og)\s+", re.IGNORECASE)


def full_names_of(settings: Mapping[str, str], said: str) -> list[str]:
    """Each of the persons that a keeper named, by the full name that the setting ``names`` gives to
    their initials; what it does not know comes back as it is.

    A comma is between persons only where initials stand beside it: ``Maas, Karin`` is one.
    """
    known = _by_initials(settings.get("names", ""))
    persons: list[str] = []
    for part in filter(None, map(str.strip, _BETWEEN.split(said))):
        parts = [one.strip() for one in part.split(",")]
        apart = any(_plain(one) in known for one in parts) or all(map(are_initials, parts))
        persons += filter(None, parts) if apart else [part]
    return list(dict.fromkeys(known.get(_plain(one), one) for one in persons))


def are_initials(text: str) -> bool:
    """Whether a person is named by initials alone: ``FN``, ``F.N.``, ``fn``."""
    plain = re.sub(r"[.\s-]", "", text)
    return plain.isalpha() and len(plain) <= 4 and (plain.isupper() or plain.islower())


def full_name_of(settings: Mapping[str, str], said: str) -> str:
    """The persons that a keeper named, in full, for a text."""
    return " & ".join(full_names_of(settings, said))


THEME_NAMES = ("dark", "light", "contrast", "red")
# A line a setting: name, what it means, what holds where it was never set, and what it can be.
_TABLE = f"""
bench | name of the bench
morning | when the morning round begins, local time | 07:00 | time of day
evening | when the evening round begins, local time | 18:00 | time of day
zone | time zone of the bench, as Europe/Paris; this machine's if not set |  | zone
latitude | degrees north; south is below zero |  | -90..90 degrees north
longitude | degrees east; west is below zero |  | -180..180 degrees east
sill | which way the sill faces, degrees from north by east |  | 0..360 degrees from north
obstruction | how high houses or trees opposite the sill stand above the horizon, degrees | 0 |
    0..90 degrees above the horizon
usual temperature | C, taken if nothing was read | 20 | -10..45 C
usual eggs | eggs per female-day until your own records show it | 2 | 0.01..1000 eggs per female-day
moat low | mm of water at which a moat counts as low | 8 | 1..100 mm
{SEARCH_AID} | with what eggs are searched for; the last one named at a stop | {AIDS[0]} |
    {"/".join(AIDS)}
strength | percent sugar by weight that you mix | 15 | 1..60 % by weight
inbreeding | broods page warns of a planned pairing from this inbreeding on: 0.125 half sibs, 0.25
    full sibs | 0.125 | 0..1 a share
keeper | initials that go with every line on this book
temperature | unit of temperatures: C or F; the daybook itself keeps C | C | C/F
volume | unit of volumes: ml or fl oz; the daybook itself keeps ml | ml | ml/fl oz
length | unit of depths: mm or in; the daybook itself keeps mm | mm | mm/in
theme | colours: light, dark, contrast, red | dark | {"/".join(THEME_NAMES)}
text | the round: normal, or large to be read at arm's length | normal | normal/large
hand | keys of the round: both hands, or all under left or right | both | both/left/right
bell | on: one bell when a check turns late, two when it turns urgent | off | off/on
phone | whom a helper rings; stands on the helper's sheet
pads | where sugar pads and solution stand, for the helper's sheet
names | full names behind initials, as KM Karin Maas, AB Anna Berg |  | names
holder | whose record it is: the person's name in what leaves the bench; the keeper if not set
organisation | for whom the record is kept: a society, a museum, a scheme
licence | on what terms others may use what leaves the bench, as CC BY 4.0
country | where founders are from, if their line does not say, as France
province | state or province that they are from, if their line does not say
determiner | who determined specimens, if their line does not say
photos | folder where your camera's pictures arrive, for 'photo newest'
"""


def _check_of(spec: str) -> Check:
    if "/" in spec:
        return _one_of(*spec.split("/"))
    low, dots, rest = spec.partition("..")
    if dots:
        high, _, unit = rest.partition(" ")
        return _number(float(low), float(high), unit)
    known = {"time of day": _time_of_day, "zone": _zone, "names": _names}
    return known[spec] if spec else lambda value: ""


def _settings() -> Iterator[KnownSetting]:
    for row in table_rows(_TABLE):
        name, about, default, spec = (*row, "", "")[:4]
        yield KnownSetting(name, about, default, _check_of(spec))


SETTINGS = tuple(_settings())
ALSO_CALLED = {
    "timezone": "zone",
    "time zone": "zone",
    "lat": "latitude",
    "lon": "longitude",
    "long": "longitude",
}
BY_NAME = {known_setting.name: known_setting for known_setting in SETTINGS}


def setting_of(settings: Mapping[str, str], name: str) -> str:
    """A setting as it stands: the book's, else what holds where it was never set, also where the
    book's is unusable."""
    known = BY_NAME[name]
    value = settings.get(name, "")
    return value if value and not known.check(value) else known.default


def setting_refusal(name: str, value: str, settings: Mapping[str, str]) -> str | None:
    """Why a setting cannot be kept, in one line that says what would be right; an empty value takes
    it back."""
    if name.startswith(KEY_SETTING):
        return key_refusal(settings, name, value)
    from rounds.checks.learned import OFFER_SETTING  # no start sets anything

    if name.startswith(OFFER_SETTING):
        wrong = (
            f"{literal(name)} is '{literal(value)}'; it must be how much evidence there was, a"
            " whole number"
        )
        return wrong if value and not value.isdecimal() else None
    known = BY_NAME.get(name)
    if known is None and name == "grid_degrees":
        return "grid_degrees is set of a taxon, as: taxon 'Boloria dia' grid_degrees=0.5"
    if known is None:
        near = late.nearest(name, BY_NAME, 3, 0.4)
        return (
            f"no setting is called {literal(name)};"
            f" {f'perhaps {near[0]}' if near else 'the plan page lists all'}"
        )
    wrong = (known.check(value) if value else "") or _round_refusal(
        name, value or known.default, settings
    )
    return f"{name} is '{literal(value)}'; {wrong}" if wrong else None


def _round_refusal(name: str, value: str, settings: Mapping[str, str]) -> str:
    """Why a round of the day cannot begin then: the morning round comes before the evening
    round."""
    if name == "morning" and value >= (evening := setting_of(settings, "evening")):
        return f"it must be before the evening round at {evening}; change that first"
    if name == "evening" and value <= (morning := setting_of(settings, "morning")):
        return f"it must be after the morning round at {morning}; change that first"
    return ""


def setting_said(name: str, value: str) -> tuple[str, str]:
    """A setting as it was typed: names of two words are told from their value."""
    words = f"{name} {value}".split(" ")
    for length in (3, 2, 1):
        longer = " ".join(words[:length])
        longer = ALSO_CALLED.get(longer.casefold(), longer)
        if longer in BY_NAME:
            return longer, " ".join(words[length:])
    return name, value
