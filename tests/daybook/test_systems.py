"""What systems do differently: the lock of Windows, told with a stand-in for its module; the real one was not met."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from rounds.daybook import systems


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """The same file as Windows would load it; a byte is locked by one descriptor at a time, with the error that it gives."""
    held: dict[int, int] = {}  # by place in the file: which descriptor

    def locking(descriptor: int, mode: int, length: int) -> None:
        place = os.lseek(descriptor, 0, os.SEEK_CUR)
        if held.setdefault(place, descriptor) != descriptor:
            raise PermissionError(
                13, "Permission denied"
            )  # docs.python.org/3/library/msvcrt.html: OSError; EACCES where it is held

    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setitem(sys.modules, "msvcrt", SimpleNamespace(locking=locking, LK_NBLCK=2))
    loader = SourceFileLoader("systems_of_windows", str(systems.__file__))
    module = module_from_spec(spec_from_loader(loader.name, loader))  # type: ignore[arg-type]
    loader.exec_module(module)
    return module


@pytest.fixture
def two(tmp_path: Path) -> Iterator[tuple[int, int]]:
    """One file, opened twice."""
    path = tmp_path / "file"
    path.write_bytes(b"0123456789")
    both = os.open(path, os.O_RDWR), os.open(path, os.O_RDWR)
    yield both
    for one in both:
        os.close(one)


@pytest.mark.parametrize("where", ["here", "windows"])
def test_one_at_a_time_has_the_lock_and_the_other_is_told_so(
    where: str, two: tuple[int, int], request: pytest.FixtureRequest
) -> None:
    its = systems if where == "here" else request.getfixturevalue("windows")
    mine, yours = two
    os.lseek(yours, 3, os.SEEK_SET)
    its.lock(mine)
    with pytest.raises(BlockingIOError):
        its.lock(yours)
    assert os.read(yours, 2) == b"34", (
        "what is locked can be read by others, and from where they were"
    )


def test_reading_and_writing_at_a_place_move_nothing(
    two: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("", "pread", "pwrite"):
        if name:
            monkeypatch.delattr(os, name)
        one = two[0]
        os.lseek(one, 2, os.SEEK_SET)
        assert systems.write_at(one, b"X", 5) == 1
        assert systems.read_at(one, 3, 4) == b"4X6"
        assert systems.read_at(one, 3, 40) == b""
        assert os.lseek(one, 0, os.SEEK_CUR) == 2
