"""What the heading of a column says: what is measured, in what unit, and by which logger."""

from __future__ import annotations

import re

from rounds.exchange.loggers.cells import plain, unit_in

# As loggers of several countries write it; common practice, no source.
NAMES = r"device|serial|logger|sensor|probe|station|s/n|\bsn\b|mac\b|ger[äa]t|appareil|capteur|sonde|enregistreur|seriennummer"  # noqa: E501
_NAME = re.compile(
    rf"(?:{NAMES})(?:[\W_]{{1,3}}(?:(?:no|nr|number|nummer|id|s/n)\b\W{{0,3}})*"
    r"(?P<name>[^\W_]*\d(?:[^\W_]|-(?=\w))*)|(?P<number>\d+))",
    re.IGNORECASE,
)
_IN_BRACKETS = re.compile(rf"[(\[][^)\]]*(?:{NAMES})[^)\]]*[)\]]", re.IGNORECASE)

_TEMPERATURE = re.compile(
    r"temp|celsius|fahrenheit|kelvin|°|º|℃|℉|\bt\d*\b|\bdeg\.? ?[cf]\b|lämpötila|hőmérséklet"
)
_HUMIDITY = re.compile(
    r"hum|\brh\b|\br\.h|%|feucht|\brf\b|\brel\b|vocht|umid|fukt|fugt|kosteus|wilgotno|vlhkost"
)
_OTHER = re.compile(
    r"dew|dauw|tau|ros[ée]e|roc[íi]o|rugiada|wet|feels|index|\bmin|\bmax|high|low|alarm|batt|volt|lux|light|press|hpa|mbar|vpd|co2|ppm|absol"
)


def loggers_in(heading: str) -> list[str]:
    """The names or serial numbers of loggers in it, as 1234 in ``Temp, C (S/N: 1234)``."""
    return [match["name"] or match["number"] for match in _NAME.finditer(heading)]


def measured(heading: str) -> str:
    """The heading without what names the logger, in small letters."""
    return _NAME.sub("", _IN_BRACKETS.sub("", heading)).casefold().strip()


def bare(heading: str) -> str:
    """What is measured, without brackets and the unit, in letters alone."""
    name = re.sub(r"[(\[].*?[)\]]|°.", "", measured(heading))
    return re.sub(r"\W|_?[cfk]$|celsius|fahrenheit|kelvin|deg", "", name)


def unit_of(heading: str) -> str:
    """The unit that a heading or a line above the table names: c, f, k, or nothing. A serial
    number's letter is none."""
    return unit_in(measured(heading)) or unit_in(_NAME.sub("", plain(heading)))


def says_temperature(heading: str) -> bool:
    """Whether it says that a temperature stands below it, of the air and not its lowest."""
    name = measured(heading)
    if _OTHER.search(name) or re.search(r"hum|\brh\b|%", name):
        return False
    return bool(_TEMPERATURE.search(name) or unit_of(heading))


def says_humidity(heading: str) -> bool:
    """Whether it says that a relative humidity stands below it."""
    name = measured(heading)
    return bool(_HUMIDITY.search(name)) and not _OTHER.search(name)


def says_something_else(heading: str) -> bool:
    """Whether it says that it is not the temperature of the air."""
    name = measured(heading)
    return bool(_HUMIDITY.search(name) or _OTHER.search(name))
