"""Attaching a picture: by its path, by its name in the camera's folder, or the newest one there."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from rounds.app.desk import Desk, Outcome, Recorded, Refusal
from rounds.bench.state import Bench
from rounds.daybook import photos
from rounds.daybook.bare_picture import CannotLeave, bare_file
from rounds.daybook.camera import taken_at
from rounds.daybook.safe_files import NO_FILE
from rounds.entries.registry import Photo
from rounds.views.words import day_and_time

NEWEST = "newest"
NO_TIME = "taken now: no time can be read in it; 'rounds photo --at' says another"
MAX_HEAD = 1 << 20  # bytes of a picture in which its camera's own words stand


def attach(desk: Desk, fields: Mapping[str, Any], at: datetime | None) -> Outcome:
    """Copy the picture into the book, then say it; a bare name that is nowhere to be found is said
    as a name alone.

    Args:
        at: when it was taken; where that is not said, as its camera says, else now.
    """
    typed = str(fields.get("file", "")).strip()
    source = _found(desk, typed)
    if isinstance(source, Refusal):
        return source
    if source is None:
        return desk.record(Photo, at, **dict(fields) | _whose(desk.bench_of(at), fields))
    taken = _taken(desk, source) if at is None else None
    outcome = _kept(desk, fields, source, typed or NEWEST, at or taken)
    stays = _stays(source)
    known = at or taken
    says = day_and_time(known, desk.zone, desk.now()) if known else NO_TIME
    if isinstance(outcome, Refusal) and taken:
        outcome = _kept(desk, fields, source, typed or NEWEST, None)
        says = f"now; its camera says {says}, which cannot be"
    elif taken:
        says = f"taken {says}, as its camera says"
    elif at:
        says = f"taken {says}"
    says = "; ".join(filter(None, (says, stays)))
    if isinstance(outcome, Recorded) and says:
        desk.say_beside(outcome.entry, says)
    return outcome


def _stays(source: Path) -> str:
    """Why a picture will be in no archive and no note, and what would be; empty where it can
    leave."""
    try:
        bare_file(source)
    except CannotLeave as wrong:
        return f"{wrong}, so no archive or note takes it; a JPEG of it would be taken"
    except OSError:
        pass
    return ""


def _taken(desk: Desk, source: Path) -> datetime | None:
    try:
        with source.open("rb") as file:
            return taken_at(file.read(MAX_HEAD), desk.zone)
    except OSError:
        return None


def _kept(
    desk: Desk, fields: Mapping[str, Any], source: Path, typed: str, at: datetime | None
) -> Outcome:
    said = dict(fields) | _whose(desk.bench_of(at), fields)
    checked = desk.prepare([(Photo, said | {"file": typed})], at)
    if isinstance(checked, Refusal):
        return checked
    happened = (at or desk.now()).astimezone(desk.zone)
    stem = f"{said.get('container') or said.get('brood') or 'bench'}-{happened:%Y%m%d-%H%M}"
    try:
        desk.book.refuse_another()
        kept = photos.keep(desk.book.folder, source, stem)
    except photos.NoPicture as wrong:
        return Refusal(str(wrong))
    except OSError as trouble:
        return Refusal(f"{source} could not be copied into the book: {trouble.strerror or trouble}")
    outcome = desk.record(Photo, at, **said | {"file": kept.name, "digest": kept.digest})
    if isinstance(outcome, Refusal):
        photos.drop(desk.book.folder, kept.name)
    return outcome


def _found(desk: Desk, typed: str) -> Path | Refusal | None:
    """The file that is meant; None where it is only a name."""
    named = desk.bench.settings.get("photos", "")
    camera = Path(named).expanduser() if named else None
    if typed.casefold() == NEWEST:
        if camera is None:
            return Refusal(
                "say first where your camera's pictures arrive, as: setting photos"
                " ~/Pictures/camera"
            )
        try:
            newest = photos.newest_in(camera)
        except OSError as trouble:
            return Refusal(f"{camera} cannot be read: {trouble.strerror or trouble}")
        return newest or Refusal(f"there is no picture in {camera}")
    path = Path(typed).expanduser()
    for place in (path, *([camera / typed] if camera is not None else [])):
        if _is_there(place):
            return place
        if typed and _is_folder(place):
            return Refusal(f"{place} is a folder; name a picture in it")
        if typed and _exists(place):
            return Refusal(f"{place} cannot be read as a picture: it {NO_FILE}")
    return Refusal(f"there is no picture at {path}") if path.name != typed else None


def _is_there(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):
        return False


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


def _whose(bench: Bench, fields: Mapping[str, Any]) -> dict[str, Any]:
    """The brood and stage in the container, where there is only one of each and neither was
    said."""
    container = bench.at(str(fields.get("container", "")))
    if container is None or fields.get("brood"):
        return {}
    broods = {lot.brood for lot in container.lots}
    stages = {lot.stage for lot in container.lots}
    return {
        **({"brood": next(iter(broods))} if len(broods) == 1 else {}),
        **({"stage": next(iter(stages))} if len(stages) == 1 and not fields.get("stage") else {}),
    }


def newest_of(desk: Desk, code: str) -> str:
    """The name of the newest picture of a container; empty where there is none."""
    container = desk.bench.at(code)
    return container.photos[-1].text if container and container.photos else ""


def was_kept(outcome: Outcome) -> bool:
    """Whether a picture lies in the book now."""
    return (
        isinstance(outcome, Recorded)
        and isinstance(outcome.entry, Photo)
        and outcome.entry.file.startswith(f"{photos.FOLDER}/")
    )
