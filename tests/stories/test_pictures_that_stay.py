"""A picture that can leave in no file is told, where it is taken in and where it would leave."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path

import pytest
from PIL import Image

from tests.stories.telling import Story, tell


@pytest.fixture
def reared(story: Story) -> Story:
    tell(
        story,
        "K2 set up laying\nK2 founder W1 female 'Pieris orata'\nK2 host in cress\nK2 searched 4",
    )
    return story


def _jpeg(exif: bytes = b"") -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (4, 4)).save(made, "JPEG")
    data = made.getvalue()
    begun = b"\xff\xe1" + struct.pack(">H", 8 + len(exif)) + b"Exif\0\0" + exif if exif else b""
    return data[:2] + begun + data[2:]


def _taken(story: Story, path: Path, data: bytes) -> str:
    path.write_bytes(data)
    ran = story.shell("photo", str(path), "--for", "W1/A", "--stage", "egg")
    assert ran.status == 0, ran.err
    return ran.out


def _exported(story: Story, what: str, path: Path) -> str:
    ran = story.shell("export", what, *(["W1/A"] if what == "note" else []), str(path), "--replace")
    assert ran.status == 0, ran.err
    return ran.out


@pytest.mark.parametrize(
    ("name", "data", "why"),
    [
        ("a.HEIC", b"\0\0\0\x18ftypheic" + b"\0" * 60, "neither JPEG nor PNG"),
        ("a.gif", b"GIF89a" + b"\0" * 60, "neither JPEG nor PNG"),
        ("a.webp", b"RIFF\x30\0\0\0WEBP" + b"\0" * 60, "neither JPEG nor PNG"),
        ("a.jpg", _jpeg()[:-40], "broken inside"),
    ],
    ids=["heic", "gif", "webp", "broken"],
)
def test_a_picture_that_cannot_leave_is_told_at_once_and_at_each_export(
    reared: Story, tmp_path: Path, name: str, data: bytes, why: str
) -> None:
    assert f"{why}, so no archive or note takes it" in _taken(reared, tmp_path / name, data)
    assert "no archive" not in _taken(reared, tmp_path / "b.jpg", _jpeg())
    for what, file in ("dwca", "a.zip"), ("note", "a.md"), ("note", "a.html"):
        said = _exported(reared, what, tmp_path / file)
        assert f"pictures left out: 1 is {why}: W1-A-" in said, (what, said)
    assert "pictures left out" not in _exported(reared, "occurrences", tmp_path / "o.csv")


def test_a_picture_leaves_without_what_its_camera_wrote_though_that_is_broken(
    reared: Story, tmp_path: Path
) -> None:
    said = _taken(reared, tmp_path / "a.jpg", _jpeg(b"MM\0*\0\0\xff\xffsecret bank"))
    assert "no archive" not in said
    assert "left out" not in _exported(reared, "dwca", tmp_path / "a.zip")
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        (media,) = (name for name in archive.namelist() if name.startswith("media/"))
        left = archive.read(media)
    assert b"secret" not in left
    assert Image.open(io.BytesIO(left)).size == (4, 4)
