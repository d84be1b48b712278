"""Pictures: copied into the book, named by code and date, private; what leads out of the book is not opened."""

from __future__ import annotations

import json
import os
import stat
import zlib
from hashlib import sha256
from pathlib import Path

import pytest

from rounds.app.desk import Desk, Recorded, Refusal
from rounds.app.photos import newest_of
from rounds.app.prompt_line import say_phrase
from rounds.daybook import photos
from rounds.entries import registry as k
from rounds.exchange import viewer
from tests.command import rounds
from tests.conftest import Clock


def png() -> bytes:
    """The smallest picture: one white dot, after the PNG specification (ISO/IEC 15948, 11.2)."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            len(data).to_bytes(4, "big") + name + data + zlib.crc32(name + data).to_bytes(4, "big")
        )

    head = (1).to_bytes(4, "big") * 2 + bytes([8, 0, 0, 0, 0])
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\x00\xff"))
        + chunk(b"IEND", b"")
    )


@pytest.fixture
def camera(tmp_path: Path) -> Path:
    """A folder with two pictures and a text."""
    folder = tmp_path / "camera roll"
    folder.mkdir()
    for place, name in enumerate(("DSC_1.PNG", "DSC_2.png", "notes.txt")):
        (folder / name).write_bytes(png() + bytes([place]))
        os.utime(folder / name, (1_000_000 + place, 1_000_000 + place))
    return folder


@pytest.fixture
def stocked(desk: Desk) -> Desk:
    """A desk with one cup of eggs."""
    for line in (
        "E2 set up eggs",
        'brood BOL-26-01 taxon="Boloria dia"',
        "E2 stocked BOL-26-01 40 eggs",
    ):
        said = say_phrase(desk, line)
        assert isinstance(said, Recorded), said
    return desk


def test_a_picture_is_copied_named_and_private(stocked: Desk, camera: Path) -> None:
    outcome = say_phrase(stocked, f'E2 photo "{camera / "DSC_1.PNG"}"')

    assert isinstance(outcome, Recorded)
    entry = outcome.entry
    assert isinstance(entry, k.Photo)
    digest = sha256((camera / "DSC_1.PNG").read_bytes()).hexdigest()
    assert (entry.file, entry.digest) == (f"photos/E2-20260520-0704-{digest[:8]}.png", digest)
    assert (entry.brood, entry.stage) == ("BOL-26-01", "egg")
    kept = stocked.book.folder / entry.file
    assert kept.read_bytes() == (camera / "DSC_1.PNG").read_bytes()
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert stat.S_IMODE(kept.parent.stat().st_mode) == 0o700
    assert newest_of(stocked, "E2") == entry.file


def test_newest_takes_the_last_picture_and_two_in_a_minute_keep_apart(
    stocked: Desk, camera: Path
) -> None:
    assert say_phrase(stocked, "E2 photo newest") == Refusal(
        "say first where your camera's pictures arrive, as: setting photos ~/Pictures/camera"
    )
    say_phrase(stocked, f"setting photos {camera}")
    for _ in range(2):
        assert isinstance(say_phrase(stocked, "E2 photo newest"), Recorded)
    say_phrase(stocked, "E2 photo DSC_1.PNG")

    names = [photo.text for photo in stocked.bench.containers["E2"].photos]
    digests = [sha256((stocked.book.folder / name).read_bytes()).hexdigest()[:8] for name in names]
    ends = ("", "-2", "")  # the second is the first picture again
    assert names == [
        f"photos/E2-20260520-0704-{digest}{end}.png"
        for digest, end in zip(digests, ends, strict=True)
    ]
    kept = [(stocked.book.folder / name).read_bytes()[-1] for name in names]
    assert kept == [1, 1, 0]


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ("{camera}/none.jpg", "there is no picture at "),
        ("{camera}/notes.txt", "notes.txt is no picture; it can be bmp, dng, gif"),
        ("{camera}/DSC_1.PNG nonsense=3", "'photo' has no nonsense"),
    ],
)
def test_what_is_no_picture_is_refused_and_nothing_is_left(
    stocked: Desk, camera: Path, typed: str, wrong: str
) -> None:
    camera = camera.rename(camera.with_name("roll"))
    outcome = say_phrase(stocked, f"E2 photo {typed.format(camera=camera)}")

    assert isinstance(outcome, Refusal)
    assert outcome.line.startswith(wrong)
    assert not list(stocked.book.folder.glob("photos/*"))


def test_a_picture_of_a_container_that_is_not_there_leaves_no_copy(
    stocked: Desk, camera: Path
) -> None:
    from rounds.app.photos import attach

    outcome = attach(stocked, {"file": str(camera / "DSC_1.PNG"), "container": "P9"}, None)

    assert isinstance(outcome, Refusal)
    assert outcome.line.startswith("no container is called P9")
    assert not list(stocked.book.folder.glob("photos/*"))


@pytest.mark.parametrize(
    "name",
    [
        "../outside.png",
        "photos/../../outside.png",
        "/etc/passwd",
        "photos",
        "photos/none.png",
        "-x",
    ],
)
def test_a_name_that_leads_out_of_the_book_is_not_opened(tmp_path: Path, name: str) -> None:
    book = tmp_path / "book"
    (book / "photos").mkdir(parents=True)
    (tmp_path / "outside.png").write_bytes(png())

    assert photos.path_of(book, name) is None
    assert viewer.open_photo(book, name).startswith("no picture called")


def test_a_link_out_of_the_book_is_not_opened(tmp_path: Path) -> None:
    book = tmp_path / "book"
    (book / "photos").mkdir(parents=True)
    (tmp_path / "outside.png").write_bytes(png())
    (book / "photos" / "link.png").symlink_to(tmp_path / "outside.png")

    assert photos.path_of(book, "photos/link.png") is None


def test_the_systems_viewer_gets_the_path_alone(
    stocked: Desk, camera: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    say_phrase(stocked, f'E2 photo "{camera / "DSC_1.PNG"}"')
    started: list[list[str]] = []
    monkeypatch.setattr(viewer.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(viewer.subprocess, "Popen", lambda words, **_: started.append(words))

    assert viewer.open_photo(stocked.book.folder, newest_of(stocked, "E2")) == ""
    assert started[0][1:] == [str((stocked.book.folder / newest_of(stocked, "E2")).resolve())]
    monkeypatch.setattr(viewer.shutil, "which", lambda name: None)
    assert viewer.open_photo(stocked.book.folder, newest_of(stocked, "E2")).startswith(
        "no viewer was found; the picture is "
    )


def test_at_the_shell(tmp_path: Path, camera: Path, clock: Clock) -> None:
    book = tmp_path / "book"
    rounds("log", "K7", "set", "up", "laying", book=book)
    done = rounds("photo", str(camera / "DSC_2.png"), "--for", "K7", "--stage", "adult", book=book)
    assert (done.returncode, done.stderr) == (0, "")
    entries = [
        json.loads(line)
        for file in book.glob("entries-*.jsonl")
        for line in file.read_text().splitlines()
    ]
    assert entries[-1]["file"].startswith("photos/K7-")
    assert (book / entries[-1]["file"]).is_file()
    assert "mode" not in rounds("check", book=book).stdout

    refused = rounds("photo", str(camera / "none.png"), "--for", "K7", book=book)
    assert refused.returncode == 1
    assert "there is no picture at" in refused.stderr
    assert rounds("photo", str(camera / "DSC_2.png"), "--for", "Z9", book=book).returncode == 1
