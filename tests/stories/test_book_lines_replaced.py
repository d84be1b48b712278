"""A version of a file with as many lines, or more, comes to lie over it: what was acknowledged does not go unsaid."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.stories.telling import Story

OTHERWISE = "are not there any more or read otherwise"
WRITTEN_AGAIN = (
    "1 of the lines recorded here had been taken out of the book by others; written again"
)
THEIRS = "entries-other222-2027-04.jsonl"


@pytest.fixture
def story(story: Story, monkeypatch: pytest.MonkeyPatch) -> Story:
    """A machine that writes under a name of its own, at a book with a cup, seen a while ago."""
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 0)
    story._laptop = ""
    assert story.shell("log", "K2 set up laying").status == 0
    assert story.shell("log", "K2 founder W2 'Aglais vera' female").status == 0
    return story


def entry_file(story: Story) -> Path:
    (found,) = story.folder.glob("entries-*.jsonl")
    return found


def line(story: Story, text: str, name: str = "0-of-the-other") -> bytes:
    """A line as another machine writes it."""
    first = story.on_disk()[0]
    return (
        json.dumps(
            {"what": "note", "id": name, "at": first["at"], "logged": first["logged"], "text": text}
        ).encode()
        + b"\n"
    )


def put(file: Path, data: bytes, in_place: bool) -> None:
    if in_place:
        file.write_bytes(data)
    else:
        beside = file.with_name(".incoming")
        beside.write_bytes(data)
        beside.chmod(0o600)
        beside.replace(file)


def texts(story: Story) -> list[str]:
    """The texts of all notes in the files, each once."""
    return sorted({one["text"] for one in story.on_disk() if one["what"] == "note"})


@pytest.mark.parametrize("in_place", [True, False])
@pytest.mark.parametrize("looked", [True, False])
@pytest.mark.parametrize("longer", [1, 3])
def test_ones_own_line_is_written_again_under_its_id(
    story: Story, in_place: bool, looked: bool, longer: int
) -> None:
    file = entry_file(story)
    base = file.read_bytes()
    ran = story.shell("log", "K2 note sugar 15")
    assert ran.status == 0
    said = ran.out.split()[-1]
    if looked:
        assert story.shell("due").status in (0, 1)
    version = base + b"".join(
        line(story, f"of the other {number}", f"0-other-{number}") for number in range(longer)
    )
    put(file, version, in_place)

    found = story.shell("check")
    assert found.status == 1
    assert "lost: " in found.out
    assert story.shell("log", "K2 note after").status == 0
    assert texts(story) == [
        "after",
        *(f"of the other {number}" for number in range(longer)),
        "sugar 15",
    ]
    assert said in {one["id"] for one in story.on_disk()}
    assert file.read_bytes() == version, "what the other wrote stays as it is"
    ran = story.shell("due")
    assert "NOT WHOLE" not in ran.out
    assert story.shell("check").status == 0, story.shell("check").out


def test_it_is_told_once_that_a_line_was_written_again(story: Story) -> None:
    file = entry_file(story)
    base = file.read_bytes()
    story.shell("log", "K2 note sugar 15")
    put(file, base + line(story, "of the other"), in_place=False)

    told = [story.shell("log", f"K2 note {number}").err for number in range(2)]

    assert WRITTEN_AGAIN in told[0]
    assert WRITTEN_AGAIN not in told[1]


def test_lines_of_another_machine_that_read_otherwise_are_told_until_accepted(story: Story) -> None:
    theirs = story.folder / THEIRS
    theirs.write_bytes(line(story, "one", "1") + line(story, "two", "2"))
    theirs.chmod(0o600)
    assert story.shell("due").status == 0
    put(
        theirs,
        line(story, "one", "1") + line(story, "three", "3") + line(story, "four", "4"),
        in_place=False,
    )

    for _ in range(2):
        ran = story.shell("due")
        assert ran.status == 2
        assert f"{THEIRS}: lines that this machine has seen in it {OTHERWISE}" in ran.out
        ran = story.shell("check")
        assert ran.status == 1
        assert f"lost: {THEIRS}: lines that this machine has seen in it {OTHERWISE}" in ran.out
    story.shell("check", "--accept")
    assert story.shell("due").status == 0
    assert story.shell("check").status == 0


def test_a_number_changed_in_a_long_file_is_noticed(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 20)
    theirs = story.folder / THEIRS
    theirs.write_bytes(
        b"".join(line(story, f"weighed {number} mg", str(number)) for number in range(100, 200))
    )
    theirs.chmod(0o600)
    about = theirs.stat()
    for _ in range(2):
        assert story.shell("due").status == 0
    put(theirs, theirs.read_bytes().replace(b"weighed 120 mg", b"weighed 210 mg"), in_place=True)
    os.utime(theirs, ns=(about.st_atime_ns, about.st_mtime_ns))

    for command in ("check", "due"):
        ran = story.shell(command)
        assert OTHERWISE in ran.out, command
        assert ran.status


@pytest.mark.parametrize(
    "says", ["of the clone", "of the clone, and longer than what the first had said"]
)
def test_two_clones_that_write_one_file_lose_neither_line(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, says: str
) -> None:
    """The clone's book is brought back by writing over the file in place: device and inode are the same."""
    shutil.copytree(os.environ["XDG_STATE_HOME"], tmp_path / "clone")
    file = entry_file(story)
    base = file.read_bytes()
    assert story.shell("log", "K2 note of the first").status == 0
    file.write_bytes(base)
    with monkeypatch.context() as at_the_clone:
        at_the_clone.setenv("XDG_STATE_HOME", str(tmp_path / "clone"))
        assert story.shell("log", f"K2 note {says}").status == 0
        assert story.shell("log", "K2 note second of the clone").status == 0
    assert len(list(story.folder.glob("entries-*"))) == 1
    version = file.read_bytes()

    assert story.shell("log", "K2 note second of the first").status == 0

    assert file.read_bytes() == version
    assert texts(story) == sorted(
        ["of the first", "second of the first", says, "second of the clone"]
    )
    assert story.shell("check").status == 0


async def test_what_a_running_screen_wrote_again_is_not_lost(story: Story) -> None:
    file = entry_file(story)
    base = file.read_bytes()
    async with story.screens() as screen:
        await screen.type("K2 note sugar 15")
        put(file, base, in_place=False)
        screen.app.desk.hear()
        await screen.press("q")
    story.reopen()

    assert texts(story) == ["sugar 15"]
    assert "NOT WHOLE" not in story.shell("due").out
    assert story.shell("check").status == 0, story.shell("check").out


def test_nothing_is_written_into_another_book_at_its_place(story: Story) -> None:
    shutil.rmtree(story.folder)
    assert story.shell("log", "K9 set up laying").status == 0
    assert {one.get("container") for one in story.on_disk()} == {"K9"}


def test_a_book_taken_as_it_is_gets_what_was_said_here_all_the_same(story: Story) -> None:
    file = entry_file(story)
    base = file.read_bytes()
    story.shell("log", "K2 note sugar 15")
    put(file, base, in_place=False)

    assert story.shell("check", "--accept").status == 1
    assert story.shell("due").status == 0
    assert texts(story) == ["sugar 15"]


@pytest.mark.parametrize(
    "where",
    [
        "",
        *(
            pytest.param(one, marks=pytest.mark.skipif(not Path(one).is_dir(), reason="not here"))
            for one in ("/proc", "/sys")
        ),
    ],
)
async def test_where_nothing_can_be_remembered_it_is_said_once(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, where: str
) -> None:
    words = "nothing of this book can be remembered on this machine"
    assert words not in story.shell("due").err + story.shell("check").out
    (tmp_path / "no-folder").write_text("a file where the folder would be")
    monkeypatch.setenv("XDG_STATE_HOME", where or str(tmp_path / "no-folder"))

    for command in (("due",), ("log", "K2 note x"), ("sheet", "--to", "+2d")):
        ran = story.shell(*command)
        assert ran.err.count(words) == 1, command
        assert ran.status == 0
    ran = story.shell("check")
    assert ran.out.count(words) == 1
    assert ran.status == 0
    story.reopen()
    async with story.screens((120, 30)) as screen:
        assert screen.words.count(words) == 1
        await screen.type("note y")
        assert words not in screen.words


def test_where_the_memory_may_not_be_looked_into_it_says_all_the_same_what_is_due(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    really, kept = os.stat, tmp_path / "not-mine"
    monkeypatch.setenv("XDG_STATE_HOME", str(kept))

    def stat(path: object, **more: object) -> os.stat_result:
        if isinstance(path, Path) and path.is_relative_to(kept / "rounds" / "books"):
            raise PermissionError(13, "Permission denied", str(path))
        return really(path, **more)  # type: ignore[arg-type]

    kept.write_text("nothing can be made in it")
    monkeypatch.setattr(os, "stat", stat)
    ran = story.shell("due")
    assert ran.status == 0
    assert ran.err.count("nothing of this book can be remembered on this machine") == 1


def test_where_the_disk_of_the_home_is_full_the_same_is_said(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.daybook.machine_memory.PROBED", 1 << 62)  # more than any disk has
    really = bytes
    monkeypatch.setattr("rounds.daybook.machine_memory.bytes", lambda _: really(1), raising=False)
    words = "nothing of this book can be remembered on this machine"
    ran = story.shell("log", "K2 note x")
    assert (ran.status, ran.err.count(words)) == (0, 1)
    assert "No space left on device" in ran.err


@pytest.fixture
def home_fills(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The bytes that the home's disk has still room for, once the list holds a number."""
    room: list[int] = []
    really = os.write

    def write(descriptor: int, data: bytes) -> int:
        if not room:
            return really(descriptor, data)
        if not room[0]:
            raise OSError(28, "No space left on device")
        part, room[0] = data[: room[0]], max(0, room[0] - len(data))
        return really(descriptor, part)

    for where in ("kept_aside", "writer"):
        monkeypatch.setattr(f"rounds.daybook.{where}.os", _Os(write))
    return room


class _Os:
    """The system, but for one way of writing."""

    def __init__(self, write: object) -> None:
        self.write = write

    def __getattr__(self, name: str) -> object:
        return getattr(os, name)


async def test_a_home_that_fills_during_a_session_is_told_at_once(
    story: Story, home_fills: list[int]
) -> None:
    words = "nothing of this book can be remembered on this machine"
    file = entry_file(story)
    async with story.screens((160, 30)) as screen:
        await screen.type("note while there is room")
        home_fills.append(30)  # it ends within a line
        await screen.type("note one")
        story.desk.hear()
        screen.app.hear()
        await screen.press()
        assert "No space left on device" in screen.words
        assert screen.words.count(words) == 1
        await screen.type("note two")
        assert words not in screen.words
        home_fills.clear()  # somebody makes room
        await screen.type("note three")
        assert not story.desk.book.cannot_remember
    base = file.read_bytes().splitlines(keepends=True)
    file.write_bytes(b"".join(base[:3]))
    story.reopen()
    assert words not in story.shell("due").err
    assert texts(story) == ["one", "three", "two", "while there is room"]


def test_lines_piped_in_while_the_home_fills_are_told_of_it_once(
    story: Story, monkeypatch: pytest.MonkeyPatch, home_fills: list[int]
) -> None:
    def piped(*_: object) -> Iterator[str]:
        yield "note one"
        home_fills.append(0)
        yield "note two"
        yield "note three"

    monkeypatch.setattr("rounds.shell.log._lines", piped)
    ran = story.shell("log", "-")
    assert (ran.status, len(ran.out.splitlines())) == (0, 3)
    assert ran.err.count("nothing of this book can be remembered on this machine") == 1
    assert texts(story) == ["one", "three", "two"]


def test_what_another_process_writes_meanwhile_is_not_lost(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rounds.daybook import verify

    really = verify._series
    meanwhile = []

    def written_meanwhile(*given: Any) -> Any:  # after the files were read
        meanwhile.append(story.shell("log", "K2 note meanwhile").status)
        return really(*given)

    monkeypatch.setattr(verify, "_series", written_meanwhile)
    ran = story.shell("check")
    assert meanwhile == [0]
    assert (ran.status, "lost" in ran.out) == (0, False)


# --- a whole file of this machine ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["22222222", "zzzzzzzz"])
@pytest.mark.parametrize("began_it", [False, True])
def test_a_whole_file_taken_away_is_written_again_whatever_its_name(
    story: Story, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, name: str, began_it: bool
) -> None:
    other, folder = tmp_path / "other-machine", story.folder
    monkeypatch.setattr("rounds.daybook.writer.new_name", lambda: name)
    story.folder = folder.with_name("a-second-book")
    if began_it:
        assert story.shell("log", "K2 set up laying").status == 0
    with monkeypatch.context() as elsewhere:
        elsewhere.setenv("XDG_STATE_HOME", str(other))
        elsewhere.setattr("rounds.daybook.writer.new_name", lambda: "gggggggg")
        assert story.shell("log", "K2 2 females Hyles gallii").status == 0
    shutil.copytree(story.folder, tmp_path / "older")
    said = ("K2 drank", "K2 7 eggs")
    for line in said:
        assert story.shell("log", line).status == 0
    before = story.on_disk()
    shutil.rmtree(story.folder)
    shutil.copytree(tmp_path / "older", story.folder)
    for file in story.folder.glob(f"entries-{name}-*.jsonl"):
        file.unlink()
    ran = story.shell("due")
    assert "had been taken out of the book by others; written again" in ran.err + ran.out
    assert story.on_disk() == before


# --- one line is edited before anybody looked again ------------------------------------------------------------------------


@pytest.mark.parametrize("in_place", [True, False])
def test_an_edited_line_of_ones_own_is_told_though_no_look_came_after_it(
    story: Story, monkeypatch: pytest.MonkeyPatch, in_place: bool
) -> None:
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 10**15)
    assert story.shell("log", "K2 founder W3 'Melitaea deione' female").status == 0
    file = entry_file(story)
    whole = file.read_bytes()
    first, last = whole.split(b"deione")
    put(file, first + b"deione" + last.replace(b"female", b"male"), in_place)
    for _ in range(2):
        story.reopen()
        ran = story.shell("due")
        assert (ran.status, OTHERWISE in ran.out) == (2, True), ran
    checked = story.shell("check")
    assert (checked.status, checked.out.count(OTHERWISE)) == (1, 1)
    assert story.shell("log", "K2 drank").err.count(OTHERWISE) == 1
    story.shell("check", "--accept")
    story.reopen()
    assert OTHERWISE not in story.shell("due").out


def test_an_edited_line_that_is_mended_is_told_no_more(story: Story) -> None:
    assert story.shell("log", "K2 note as it was").status == 0
    file = entry_file(story)
    whole = file.read_bytes()
    put(file, whole.replace(b"as it was", b"as it is"), in_place=False)
    story.reopen()
    assert any(OTHERWISE in one for one in story.desk.gaps)
    put(file, whole, in_place=False)
    story.desk.hear()
    assert not story.desk.gaps
