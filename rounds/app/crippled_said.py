"""Wings that failed, told after the emergence was: ``P2 1 crippled`` is said of those that emerged,
and ``P2 emerged 1 crippled`` may be one of them."""

from __future__ import annotations

from typing import Any

from rounds import late
from rounds.app.desk import Desk
from rounds.app.told_again import WITHIN
from rounds.bench.dates import dated
from rounds.checks.question import Saying
from rounds.entries import registry as k
from rounds.entries.better_record import INSTEAD_OF
from rounds.entries.phrase.reader import Draft
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.schema import said_by
from rounds.entries.validation import alike_in

_FAILED = r"(?:crippled|deformed|malformed|crumpled)"
_TOLD = late.pattern(
    rf"(?P<code>\S+) (?:(?P<number>\w+) (?:of (?:them|those) )?{_FAILED}"
    rf"|{_FAILED}(?: (?P<behind>\w+))?)"
)
_EMERGED = late.pattern(
    rf"(?P<code>\S+) emerged (?:(?P<number>\w+) {_FAILED}|{_FAILED}(?: (?P<behind>\w+))?)"
)


def crippled_said(desk: Desk, text: str) -> tuple[Draft, list[Saying]] | str | None:
    """What a line says that tells of failed wings alone: the emergence on record is written anew
    with them. A string where it must be asked or said otherwise, None for any other line."""
    line, dashes, remark = text.strip().partition(" -- ")
    line = " ".join(line.casefold().split())
    if told := _TOLD.fullmatch(line):
        code, number = _read(desk, told)
        last = _with_room(desk, code, number)
        if not code or not number or not desk.bench.containers[code].count("adult"):
            return None
        if last is None:
            return (
                f"no emergence in {code} is on record that they can be of; as: {code} emerged"
                f" {number} {number} crippled"
            )
        note: list[Saying] = [(k.Note, {"container": code, "text": remark.strip()})]
        said = _written_anew(last, number)
        return Draft(k.Emerged, None, {}), [*said, *(note if remark.strip() else [])]
    emerged = _EMERGED.fullmatch(line)
    if emerged is None:
        return None
    code, number = _read(desk, emerged)
    last = _with_room(desk, code, number)
    if last is None or desk.now() - last.at >= WITHIN:
        return None
    return (
        f"of the {last.number} that emerged {dated(last.at, desk.now())}, or {number} more? As:"
        f" {code} {number} crippled{dashes}{remark}; or {code} emerged {number} more"
        f" {number} crippled{dashes}{remark}"
    )


def _read(desk: Desk, match: Any) -> tuple[str, int]:
    """The container of a line, and how many it tells of; '' or 0 where it is no such line."""
    code = alike_in(match["code"], desk.codes)
    number = digits_of(match["number"] or match["behind"] or "1")
    return (code if desk.bench.at(code) else ""), int(number or 0)


def _with_room(desk: Desk, code: str, number: int) -> k.Emerged | None:
    """The last emergence in a container, if so many of it were not crippled on record."""
    container = desk.bench.at(code) if code else None
    last = container.last.get("emerged") if container else None
    if not isinstance(last, k.Emerged) or last.number - last.crippled < number:
        return None
    return last


def _written_anew(last: k.Emerged, number: int) -> list[Saying]:
    better = {"crippled": last.crippled + number, "at": last.at, INSTEAD_OF: last.id}
    return [(k.CrossedOut, {"entry": last.id}), (k.Emerged, said_by(last) | better)]
