"""Wings that failed, told after the emergence was: ``P2 1 crippled`` is said of those that emerged,
and ``P2 emerged 1 crippled`` may be one of them."""

from __future__ import annotations

from datetime import timedelta

from rounds import late
from rounds.bench.dates import dated
from rounds.bench.state import Container
from rounds.entries.better_record import INSTEAD_OF
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.registry import Emerged

WITHIN = timedelta(days=1)  # the same number after that is the next of a series; our estimate
MOST_TOLD = 4  # emergences that are asked about, the newest
_FAILED = "crippled|deformed|malformed|crumpled"
_TOLD = late.of_words(
    rf"(?P<emerged>emerged )?(?:(?P<number>\w+) (?:of (?:them|those) )?(?P<word>{_FAILED})"
    rf"|(?:{_FAILED})(?: (?P<behind>\w+))?)"
)


def failed_wings(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """A line that tells of failed wings alone as the emergence on record, written anew with them;
    nothing of any other line.

    Raises:
        PhraseProblem: it must be asked or said otherwise.
    """
    told = _TOLD.fullmatch(form.said)
    if told is None:
        return []
    code, number = form.code, int(digits_of(told["number"] or told["behind"] or "1") or 0)
    last = container.last.get("emerged")
    has_room = isinstance(last, Emerged) and last.number - last.crippled >= number
    if told["emerged"]:
        if number and isinstance(last, Emerged) and has_room and reader.now - last.at < WITHIN:
            raise PhraseProblem(
                f"of the {last.number} that emerged {dated(last.at, reader.now)}, or {number} more?"
                f" As: {code} {number} crippled; or {code} emerged {number} more {number} crippled"
            )
        return []
    adults = container.count("adult")
    if not number or not (adults or container.count("pupa")):
        return []
    has_room = has_room and adults > 0
    is_timed = len(form.before) > 1 or form.behind
    if adults and not is_timed and (asked := _which(reader, container, number)):
        raise PhraseProblem(asked)
    if not isinstance(last, Emerged) or not has_room:
        emerged = f"{code} emerged {number} {number} crippled"
        note = f"as a note: {code} note {number} crippled"
        raise PhraseProblem(
            f"no emergence in {code} is on record that they can be of; "
            + (f"as: {emerged}" if container.count("pupa") >= number else note)
        )
    reader.fields[INSTEAD_OF] = last.id
    return ["emerged", f"crippled={number}"]


def _which(reader: Reader, container: Container, number: int) -> str:
    """What to ask where adults of several emergences are there, of which so many may be; empty
    where only those of the last are."""
    last = container.last.get("emerged")
    if not isinstance(last, Emerged):
        return ""
    emerged = {last.at: last.number}
    for one in reader.bench.passed:
        if (one.container, one.stage) == (container.code, "pupa") and one.at != last.at:
            emerged[one.at] = emerged.get(one.at, 0) + one.number
    sound = sum(lot.number for lot in container.lots_of("adult") if not lot.crippled)
    if len(emerged) < 2 or sound <= last.number - last.crippled:
        return ""
    zone = reader.zone
    fits = sorted(at.astimezone(zone) for at, there in emerged.items() if there >= number)
    told = [f"the {emerged[at]} of {at.day} {at:%b %H:%M}" for at in fits]
    lines = [f"{container.code} {number} crippled {at.day} {at:%b %H:%M}" for at in fits]
    if not told:
        most = max(emerged.values())
        return (
            f"{number} crippled in {container.code}, where {most} emerged at the most at one time;"
            f" say so of each emergence, as: {container.code} 1 crippled"
            f" {last.at.astimezone(zone).day} {last.at.astimezone(zone):%b %H:%M}"
        )
    return f"of {' or of '.join(told[-MOST_TOLD:])}? As: {'; or '.join(lines[-MOST_TOLD:])}"
