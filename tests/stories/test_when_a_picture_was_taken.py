"""When a picture was taken: as the keeper says, else as its camera does; and which record of the animals it is of."""

from __future__ import annotations

from pathlib import Path

import pytest
from dwca.read import DwCAReader
from PIL import Image

from tests.stories.telling import Story, tell

REARED = """
R3 set up rearing
brood A-1/A taxon='Pieris orata'
R3 stocked A-1/A egg 31
"""


@pytest.fixture
def reared(story: Story) -> Story:
    """Larvae from the egg to the fourth instar, seen at each moult."""
    tell(story.at("2027-05-20 08:00"), REARED)
    for day, line in (
        ("05-27", "R3 hatched 31"),
        ("06-02", "R3 moulted 31 to L2"),
        ("06-06", "R3 moulted 31 to L3"),
        ("06-10", "R3 moulted 31 to L4"),
    ):
        story.at(f"2027-{day} 08:00").type(line)
    return story.at("2027-06-20 09:00")


def camera(at: Path, taken: str = "", offset: str = "") -> str:
    """A picture with the time that a camera wrote into it."""
    exif = Image.Exif()
    if taken:
        exif.get_ifd(0x8769)[0x9003] = taken
    if offset:
        exif.get_ifd(0x8769)[0x9011] = offset
    Image.new("RGB", (4, 4), (len(at.name), 9, 9)).save(at, "JPEG", exif=exif)
    return str(at)


def media(story: Story, tmp_path: Path) -> list[tuple[str, str]]:
    """Of each picture of the archive what its record says of the animals, and when it was taken."""
    story.reopen()
    ran = story.shell("export", "dwca", str(tmp_path / "record.zip"), "--replace")
    assert ran.status == 0, ran.err
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        return [
            (
                row.data["http://rs.tdwg.org/dwc/terms/occurrenceRemarks"],
                one.data["http://purl.org/dc/terms/created"][:16],
            )
            for row in archive
            for one in row.extensions
            if "Multimedia" in one.rowtype
        ]


@pytest.mark.parametrize(("code", "instar"), [("A-1/A", 2), ("R3", 3), ("A-1/A", 4)])
def test_a_picture_stands_with_the_record_of_its_instar(
    reared: Story, tmp_path: Path, code: str, instar: int
) -> None:
    file = camera(tmp_path / "a.jpg")
    ran = reared.shell("photo", file, "--for", code, "--instar", str(instar))
    assert ran.status == 0, ran.err
    ((remarks, _),) = media(reared, tmp_path)
    assert f"instar {instar}" in remarks


@pytest.mark.parametrize(
    ("taken", "offset", "at", "told", "when"),
    [
        ("2027:06-05", "", "", "taken now: no time can be read in it; 'rounds photo --at' says another", "2027-06-20T09:00"),
        ("2027:06:05 10:00:00", "", "", "taken Sat 5 Jun 10:00, as its camera says", "2027-06-05T10:00"),
        ("2027:06:05 10:00:00", "+00:00", "", "taken Sat 5 Jun 12:00", "2027-06-05T12:00"),
        ("2027:06:05 10:00:00", "", "7 Jun 11:00", "taken Mon 7 Jun 11:00", "2027-06-07T11:00"),
        ("", "", "7 Jun 11:00", "taken Mon 7 Jun 11:00", "2027-06-07T11:00"),
        ("2028:06:05 10:00:00", "", "", "now; its camera says Mon 5 Jun 2028 10:00, which cannot be", "2027-06-20T09:00"),
        ("2001:01:01 00:00:00", "", "", "now; its camera says Mon 1 Jan 2001 00:00, which cannot be", "2027-06-20T09:00"),
    ],
)  # fmt: skip
def test_a_picture_was_taken_when_its_camera_says_or_the_keeper(
    reared: Story, tmp_path: Path, taken: str, offset: str, at: str, told: str, when: str
) -> None:
    file = camera(tmp_path / "a.jpg", taken, offset)
    ran = reared.shell("photo", file, "--for", "R3", *(["--at", at] if at else []))
    assert ran.status == 0, ran.err
    assert told in ran.out
    ((remarks, created),) = media(reared, tmp_path)
    assert created == when
    assert "06-05" not in when or "instar 2" in remarks


def test_a_time_that_is_none_takes_no_picture(reared: Story, tmp_path: Path) -> None:
    ran = reared.shell("photo", camera(tmp_path / "a.jpg"), "--for", "R3", "--at", "soon")
    assert (ran.status, ran.out) == (2, "")
    assert "--at: 'soon'" in ran.err


@pytest.mark.parametrize("kind", ["PNG", "HEIC"])
def test_of_a_picture_of_another_kind_it_is_told_that_no_time_was_read(
    reared: Story, tmp_path: Path, kind: str
) -> None:
    file = tmp_path / f"a.{kind.lower()}"
    if kind == "PNG":
        Image.new("RGB", (4, 4)).save(file)
    else:
        file.write_bytes(b"\0\0\0\x18ftypheic" + b"\0" * 60)
    said = reared.shell("photo", str(file), "--for", "R3").out
    assert "taken now: no time can be read in it; 'rounds photo --at' says another" in said
    said = reared.shell("photo", str(file), "--for", "R3", "--at", "5 Jun 10:00").out
    assert "no time" not in said
