"""A broken line is no gap once each line that it held stands whole in another file of the book; as long as one does not, it is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

Lines = list[bytes]
HALF = 90  # bytes: behind the id


def _at(place: int, how: Callable[[bytes], bytes]) -> Callable[[Lines], Lines]:
    return lambda lines: [how(one) if at == place else one for at, one in enumerate(lines)]


DAMAGE: dict[str, Callable[[Lines], Lines]] = {
    "torn": _at(2, lambda line: line[:HALF] + b"\n"),
    "joined": _at(2, lambda line: line[:-1]),
    "torn and joined": _at(2, lambda line: line[:HALF]),
    "zero bytes": _at(2, lambda line: line[:HALF] + bytes(len(line) - HALF - 1) + b"\n"),
    "zero bytes within": _at(2, lambda line: line[:HALF] + bytes(20) + line[HALF + 20 :]),
    "zero bytes up to the next": _at(2, lambda line: line[:HALF] + bytes(len(line) - HALF)),
}


@pytest.fixture
def lines(story: Story) -> Lines:
    """Those of a laptop that comes by its files alone."""
    other = story.elsewhere()
    tell(other, "K3 set up laying\nK3 misted\nK3 cleaned\nK3 misted\nK3 cleaned")
    (file,) = other.folder.glob("entries-*.jsonl")
    tell(story, "K2 set up laying")
    story.folder.chmod(0o700)
    return file.read_bytes().splitlines(keepends=True)


def put(story: Story, name: str, lines: Lines) -> Path:
    file = story.folder / name
    file.write_bytes(b"".join(lines))
    file.chmod(0o600)
    return file


def is_not_whole(story: Story) -> bool:
    told = "NOT WHOLE" in story.shell("due").out
    assert (story.shell("check").status != 0) is told
    story.reopen()
    assert bool(story.desk.gaps) is told
    return told


@pytest.mark.parametrize("how", DAMAGE)
@pytest.mark.parametrize("copy", ["whole", "shorter", "in two"])
def test_a_copy_that_has_it_mends_it(story: Story, lines: Lines, how: str, copy: str) -> None:
    put(story, "entries-cccc3333-2027-05.jsonl", DAMAGE[how](lines))
    assert is_not_whole(story)
    if copy == "in two":
        put(story, "entries-dddd4444-2027-05.jsonl", lines[2:3])
        put(story, "entries-eeee5555-2027-05.jsonl", lines[3:])
    else:
        put(story, "entries-cccc3333-2027-05 (copy).jsonl", lines[: 4 if copy == "shorter" else 9])
    assert not is_not_whole(story)
    assert [one.what for one in story.desk.entries()].count("cleaned") == 2


@pytest.mark.parametrize("how", DAMAGE)
def test_as_long_as_one_of_them_stands_nowhere_it_is_told(
    story: Story, lines: Lines, how: str
) -> None:
    put(story, "entries-cccc3333-2027-05.jsonl", DAMAGE[how](lines))
    put(story, "entries-cccc3333-2027-05 (copy).jsonl", [*lines[:2], *lines[3:]])
    assert is_not_whole(story)


@pytest.mark.parametrize("room", [400, 4096])
def test_where_zero_bytes_leave_room_for_another_line_it_is_told(
    story: Story, lines: Lines, room: int
) -> None:
    torn = lines[2][:HALF] + bytes(room)
    put(story, "entries-cccc3333-2027-05.jsonl", [*lines[:2], torn, *lines[4:]])
    put(story, "entries-cccc3333-2027-05 (copy).jsonl", [*lines[:3], *lines[4:]])
    assert is_not_whole(story)
    assert "holds zero bytes" in story.shell("check").out


def test_what_was_set_aside_goes_once_it_is_whole(
    story: Story, lines: Lines, tmp_path: Path
) -> None:
    theirs = tmp_path / "theirs" / "entries-cccc3333-2027-05.jsonl"
    theirs.parent.mkdir()
    for damage in (None, "torn and joined"):
        theirs.write_bytes(b"".join(DAMAGE[damage](lines) if damage else lines[:2]))
        story.shell("merge", str(theirs.parent))
    (_,) = story.folder.glob("entries-damaged.*")
    assert is_not_whole(story)
    theirs.write_bytes(b"".join(lines))
    story.shell("merge", str(theirs.parent))
    assert not is_not_whole(story)


def test_an_open_desk_takes_it_when_it_comes_and_tells_it_when_it_goes(
    story: Story, lines: Lines
) -> None:
    put(story, "entries-cccc3333-2027-05.jsonl", DAMAGE["joined"](lines))
    desk = story.desk
    desk.hear()
    assert desk.gaps
    copy = put(story, "entries-dddd4444-2027-05.jsonl", lines[2:4])
    desk.hear()
    assert not desk.gaps
    copy.unlink()
    desk.hear()
    assert desk.gaps
