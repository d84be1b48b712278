"""A book that cannot be read wholly is never 'nothing is due': each command and screen says so first."""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.stories.telling import Story

FIRST = "THE BOOK IS NOT WHOLE"


def damaged(folder: Path) -> str:
    file = min(folder.glob("entries-*"))
    file.write_bytes(file.read_bytes() + b"\0\0\0\0\n")
    return "holds zero bytes"


def not_an_entry(folder: Path) -> str:
    file = min(folder.glob("entries-*"))
    file.write_bytes(file.read_bytes() + b'{"what": "drank", "id": "x"}\n')
    return "has no 'at'"


def says_a_field_of_no_kind(folder: Path) -> str:
    file = min(folder.glob("entries-*"))
    said = json.loads(file.read_bytes().split(b"\n")[0])
    line = {name: said[name] for name in ("at", "logged")} | {
        "what": "taxon",
        "id": "said-1",
        "name": "Aglais polychloros",
        "protected": True,
        "says": [["protectedd", ""]],
    }
    with file.open("a") as lines:
        lines.write(json.dumps(line) + "\n")
    return "says 'protectedd', which is no field"


def no_text_in_the_first_id(folder: Path) -> str:
    file = min(folder.glob("entries-*"))
    first = file.read_bytes().split(b"\n")[0]
    file.write_bytes(first.replace(b'"id":"', b'"id":"\xe9', 1) + b"\n" + file.read_bytes())
    return "is no UTF-8"


def one_of_two_gone(folder: Path) -> str:
    (folder / "entries-other222-2027-04.jsonl").unlink()
    return "is gone, and this machine has seen 1 in it"


def all_gone(folder: Path) -> str:
    folder.rename(folder.with_name("away"))
    folder.mkdir(mode=0o700)
    return "is gone, and this machine has seen"


WRONG = [
    damaged,
    not_an_entry,
    says_a_field_of_no_kind,
    no_text_in_the_first_id,
    one_of_two_gone,
    all_gone,
]
Broken = Callable[[Path], str]


@pytest.fixture
def begun(story: Story, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Story:
    """A book that was seen whole a while ago."""
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 0)
    story.shell("log", "K2", "set", "up", "laying")
    broken = request.getfixturevalue("broken") if "broken" in request.fixturenames else None
    if broken is one_of_two_gone:
        said = {name: story.on_disk()[0][name] for name in ("at", "logged")}
        line = said | {"what": "note", "id": "other-1", "text": "theirs"}
        (story.folder / "entries-other222-2027-04.jsonl").write_text(json.dumps(line) + "\n")
    assert story.shell("due", "--exit-code").status == 0
    return story


@pytest.mark.parametrize("broken", WRONG)
def test_each_command_says_so_first(begun: Story, broken: Broken, tmp_path: Path) -> None:
    why = broken(begun.folder)

    due = begun.shell("due", "--exit-code")
    assert due.out.startswith(FIRST)
    assert why in due.out
    assert "nothing is due\n" not in due.out
    assert due.status == 2
    assert begun.shell("due").status == 2, "never well by default"

    data = begun.shell("due", "--json", "--exit-code")
    assert data.err.startswith(FIRST)
    assert json.loads(data.out)["whole"] is False
    assert data.status == 2

    assert begun.shell("sheet", "--to", "+2d").out.startswith(FIRST)
    assert begun.shell("export", "csv", str(tmp_path / "out.csv")).err.startswith(FIRST)
    assert begun.shell("log", "note", "still taken").err.startswith(FIRST)
    assert begun.shell("round", "--plain").out.startswith(FIRST)
    bench = begun.shell()
    assert bench.out.startswith(FIRST)
    assert bench.status == 2


@pytest.mark.parametrize("broken", WRONG)
async def test_each_screen_says_so_above_all_else(begun: Story, broken: Broken) -> None:
    begun.type("K2 note seen")  # by the desk at which it is opened then
    broken(begun.folder)
    begun.reopen()
    async with begun.screens() as screen:
        for keys in ((), ("p",), ("escape",), ("y",), ("escape",)):
            await screen.press(*keys)
            assert screen.text.lstrip().startswith(FIRST), keys


def refusing(name: str) -> Callable[..., int]:
    """The system's own opening, but for a file of that name; the administrator could read it whatever its mode."""
    really = os.open

    def opened(path: str, flags: int, *arguments: Any, **more: Any) -> int:
        if Path(path).name == name:
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
        return really(path, flags, *arguments, **more)

    return opened


def test_a_file_that_may_not_be_read_is_told(begun: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "open", refusing(min(begun.folder.glob("entries-*")).name))
    ran = begun.shell("due", "--exit-code")
    assert ran.out.startswith(FIRST)
    assert "cannot be read: Permission denied" in ran.out
    assert "is gone" not in ran.out, "it is there"
    assert "--accept" not in ran.out
    assert ran.status == 2


def test_a_folder_that_may_not_be_read_is_told(
    begun: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    really = os.scandir

    def refused(path: object) -> object:
        if str(path) == str(begun.folder):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
        return really(path)  # type: ignore[call-overload]

    monkeypatch.setattr(os, "scandir", refused)
    for arguments in (("due", "--exit-code"), ("due",), ("due", "--json")):
        ran = begun.shell(*arguments)
        assert ran.status == 2
        assert "Permission denied" in ran.err
        assert ran.out == ""
    ran = begun.shell("sheet", "--to", "+2d")
    assert (ran.status, "Permission denied" in ran.err) == (2, True)
    for command in (("log", "note", "x"), ("check",), ()):
        ran = begun.shell(*command)
        assert ran.status == 1, command
        assert "Permission denied" in ran.err


def test_a_missing_folder_is_told_and_is_2(begun: Story) -> None:
    away = begun.folder.rename(begun.folder.with_name("away"))
    ran = begun.shell("due", "--exit-code")
    assert ran.status == 2
    assert "there is no book in" in ran.err
    assert "nothing is due" not in ran.out
    away.rename(begun.folder)
    assert begun.shell("due", "--exit-code").status == 0


async def test_a_disk_pulled_out_is_told_as_long_as_it_is_out(begun: Story) -> None:
    begun.type("K2 note seen")
    async with begun.screens() as screen:
        away = begun.folder.rename(begun.folder.with_name("away"))
        screen.app.hear()
        await screen.pilot.pause()
        assert screen.text.lstrip().startswith(FIRST)
        assert "the book's folder cannot be read" in screen.text
        away.rename(begun.folder)
        screen.app.hear()
        await screen.pilot.pause()
        assert FIRST not in screen.text


def test_damage_that_the_keeper_knows_of_is_taken_as_it_is(begun: Story) -> None:
    damaged(begun.folder)
    assert begun.shell("due", "--exit-code").status == 2
    assert "line 3" in begun.shell("check", "--accept").out

    ran = begun.shell("due", "--exit-code")
    assert ran.status == 0
    assert FIRST not in ran.out + ran.err
    not_an_entry(begun.folder)
    assert begun.shell("due", "--exit-code").status == 2, "another damaged line is told"


def test_a_checkpoint_remembers_the_damage(begun: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)
    why = damaged(begun.folder)
    for _ in range(2):
        ran = begun.shell("due", "--exit-code")
        assert why in ran.out
        assert ran.status == 2
    assert list(begun.folder.glob("checkpoint-*"))


NOTHING = (
    "Nothing is late.",
    "a new bench",
    "Add the first",
    "Nothing stands here yet",
    "Nothing stands here now.",
    "Nothing stands on this bench.",
    "is asked about now.",
)


async def test_nothing_is_claimed_to_be_empty_where_lines_cannot_be_read(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rounds.daybook.line_counts.SETTLED_NS", 0)
    story.shell("log", "K2", "set", "up", "laying")
    (file,) = story.folder.glob("entries-*")
    file.rename(story.folder.parent / "away")
    file.mkdir()

    shelves, walked = story.shell("shelves"), story.shell("round", "--plain")
    assert (shelves.status, walked.status) == (2, 2)
    assert "Nothing stands on this bench in what can be read." in shelves.out
    assert "Nothing on this bench is asked about now in what can be read." in walked.out
    said = [shelves.out, story.shell("due").out, walked.out, story.shell().out]
    async with story.screens((110, 30)) as screen:
        said.append(screen.text)
        assert "Nothing stands here now in what can be read." in screen.text
        for key in "!", "O", "m", "r":
            await screen.press(key)
            said += [screen.text, screen.message]
            await screen.press("escape")
    for words in said:
        assert not [one for one in NOTHING if one in words], words
