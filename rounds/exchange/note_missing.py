"""What a life-history note would need and the daybook does not say."""

from __future__ import annotations

from collections.abc import Iterator

from rounds.bench.parents import line_of
from rounds.entries.registry import FounderIntake
from rounds.exchange.note_parts import BroodAccount
from rounds.tallies.cohorts import rank
from rounds.tallies.stages import durations, stage_counts


def missing(account: BroodAccount) -> tuple[str, ...]:
    """Each missing thing in a line."""
    return (*_about_origin(account), *_about_stages(account), *_about_evidence(account))


def _about_origin(account: BroodAccount) -> Iterator[str]:
    bench = account.source.bench
    begun = account.record.begun
    if not account.taxon:
        yield "The name of the species."
    if begun is None or not begun.mothers:
        yield "Its mother."
    if begun is None or not (begun.laid_from and begun.laid_to):
        yield "Between when it was laid."
    founders = [bench.founders[code] for code in account.founders] or line_of(bench, account.code)
    if not founders:
        yield "A wild-caught forebear with place and date."
    for founder in founders:
        gaps = list(_gaps(founder))
        if gaps:
            yield f"Of {founder.code}: {', '.join(gaps)}."


def _gaps(founder: FounderIntake) -> Iterator[str]:
    if not founder.place:
        yield "the place"
    if founder.latitude is None or founder.longitude is None:
        yield "the coordinates"
    elif founder.uncertainty_m is None:
        yield "how uncertain the coordinates are"
    if founder.caught is None:
        yield "the date"
    if not founder.collector:
        yield "who caught it"


def _about_stages(account: BroodAccount) -> Iterator[str]:
    counts = stage_counts(account.back.course, [account.code])
    lasting = {
        row.stage: row
        for code in (*account.either, account.code)
        for row in durations(account.back.course, [code], account.back.warmth)
    }
    for count in counts:
        if count.stage in ("adult", "larva") or not count.passed:
            continue
        if count.stage not in lasting:
            yield f"How long {_named(count.stage)} took: its begin or its end was not seen."
        elif lasting[count.stage].read < lasting[count.stage].number:
            unread = lasting[count.stage].number - lasting[count.stage].read
            yield (
                f"The temperature of {_named(count.stage)} for {unread} of"
                f" {lasting[count.stage].number}."
            )
    course = account.back.course
    all_counts = [
        *counts,
        *(row for code in account.either for row in stage_counts(course, [code])),
    ]
    furthest = max((count.stage for count in all_counts), key=rank, default="adult")
    if rank(furthest) < rank("adult"):
        yield f"The stages after {_named(furthest)}: none came so far yet."
    for code in account.either:
        yield f"Which of the animals of {code} are of it."
    if any(count.not_seen for count in counts):
        yield f"What became of {sum(count.not_seen for count in counts)} that were not seen."


def _named(stage: str) -> str:
    return {"egg": "the egg", "pupa": "the pupa"}.get(stage, stage)


def _about_evidence(account: BroodAccount) -> Iterator[str]:
    grades = {
        piece.grade
        for piece in account.back.evidence
        if piece.brood in (account.code, *account.either)
    }
    if "laid on" not in grades:
        yield "The plant that it was laid on."
    if grades.isdisjoint(("fed on", "pupated", "adult reared on")):
        yield "The plant that it was fed on."
    if not any(account.source.bench.founders[code].found_on for code in account.founders):
        yield "The plant that the species uses where it was caught: a rearing does not tell."
    endings = [
        ended
        for code in (account.code, *account.either)
        for ended in account.back.course.told_apart(code).ended
    ]
    if not any(ended.fate == "preserved" for ended in endings):
        yield "A specimen kept as proof of the name."
