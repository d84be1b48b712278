"""Each specimen leaves on its own: record, number, label; with full names, rights and pictures, read by programs that are not ours."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path

import pandas as pd
import pytest
from dwca.read import DwCAReader
from PIL import Image

from tests.exchange.browser import needs_browser, printed_heights
from tests.stories.telling import Story, tell
from tests.stories.test_leaving_pins_and_permits import rows_of

DWC, DC = "http://rs.tdwg.org/dwc/terms/", "http://purl.org/dc/terms/"
PLACE = "51.9471"


def kept(story: Story) -> None:
    """A wild female kept, six reared adults of two days of which three are kept, a pupa kept."""
    tell(
        story,
        """
        setting names KM Karin Maas, AB Anna Berg
        setting holder Karin Maas
        setting organisation Veluna Moth Group
        setting licence CC BY 4.0
        setting country Ostravia
        setting determiner AB
        taxon 'Pieris orata' instars=3
        K2 set up laying
        R2 set up rearing
        K2 founder A-1, 'Pieris orata' female at 'Mill lane' collector=KM caught=2027-04-28 province=Veluna
        brood A-1/A taxon='Pieris orata' mothers=A-1
        R2 stocked A-1/A pupa 7
        """,
    )
    story.later(days=5)
    tell(story, "R2 emerged 2")
    story.later(days=2)
    tell(story, "R2 emerged 4\nR2 preserved 2 adults voucher=V3-V4 depository='Town museum'")
    story.type(
        "R2 preserved 1 adult voucher=V9", "R2 preserved 1 pupa", "K2 preserved 1 adult voucher=V1"
    )


def test_the_archive_has_a_row_a_specimen_with_its_own_number(story: Story, tmp_path: Path) -> None:
    kept(story)
    rows = [row for row in rows_of(story, tmp_path) if row["basisOfRecord"] == "PreservedSpecimen"]
    assert [row["catalogNumber"] for row in rows] == ["V3", "V4", "V9", "", "V1"]
    assert {row["individualCount"] for row in rows} == {"1"}
    assert len({row["occurrenceID"] for row in rows}) == 5
    for row in rows:
        assert row["recordedBy"] == "Karin Maas"
        assert row["identifiedBy"] == "Anna Berg"
        assert (row["taxonRank"], row["ownerInstitutionCode"]) == ("species", "Veluna Moth Group")
        assert (row[f"{DC}license"], row[f"{DC}rightsHolder"]) == ("CC BY 4.0", "Karin Maas")
    wild = [row for row in rows_of(story, tmp_path) if row["stateProvince"]]
    assert {(row["country"], row["stateProvince"]) for row in wild} == {("", "Veluna")}
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        creator = archive.metadata.find("dataset/creator")
    assert creator is not None
    assert creator.findtext("individualName/surName") == "Maas"
    assert creator.findtext("organizationName") == "Veluna Moth Group"


def test_wild_only_leaves_what_was_reared_at_home(story: Story, tmp_path: Path) -> None:
    kept(story)
    story.reopen()
    for what, name in (("dwca", "wild.zip"), ("occurrences", "wild.csv")):
        ran = story.shell("export", what, str(tmp_path / name), "--wild-only")
        assert ran.status == 0, ran.err
    with DwCAReader(str(tmp_path / "wild.zip")) as archive:
        found = [row.data[f"{DWC}organismName"] for row in archive]
    flat = pd.read_csv(tmp_path / "wild.csv")
    assert found == flat["organismName"].tolist() == ["A-1"]
    assert flat["basisOfRecord"].tolist() == ["PreservedSpecimen"], "her catch, told once"
    whole = story.shell("export", "occurrences", str(tmp_path / "all.csv"))
    assert whole.status == 0, whole.err
    assert len(pd.read_csv(tmp_path / "all.csv")) == len(rows_of(story, tmp_path))


def photographed(at: Path) -> Path:
    """A JPEG as a camera writes it: turned, with its place, a comment, and a film behind its end."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (51.0, 56.0, 49.56)
    out = io.BytesIO()
    Image.new("RGB", (40, 20), "green").save(
        out, "JPEG", exif=exif, comment=f"lat {PLACE}".encode()
    )
    at.write_bytes(out.getvalue() + b"film " + PLACE.encode())
    return at


@pytest.mark.parametrize("ending", ["jpg", "png"])
def test_pictures_leave_as_media_without_what_the_camera_wrote(
    story: Story, tmp_path: Path, ending: str
) -> None:
    kept(story)
    file = tmp_path / f"camera.{ending}"
    photographed(file)
    if ending == "png":
        from PIL.PngImagePlugin import PngInfo

        info = PngInfo()
        info.add_text("place", PLACE)
        Image.new("RGB", (40, 20), "green").save(file, pnginfo=info)
    assert story.shell("photo", str(file), "--for", "R2", "--by", "KM").status == 0
    story.reopen()
    ran = story.shell("export", "dwca", str(tmp_path / "r.zip"))
    assert ran.status == 0, ran.err
    with DwCAReader(str(tmp_path / "r.zip")) as archive:
        media = [
            one.data for row in archive for one in row.extensions if "Multimedia" in one.rowtype
        ]
    (one,) = media
    assert (one[f"{DC}license"], one[f"{DC}creator"]) == ("CC BY 4.0", "Karin Maas")
    with zipfile.ZipFile(tmp_path / "r.zip") as archive:
        data = archive.read(one[f"{DC}identifier"])
    assert PLACE.encode() not in data
    with Image.open(io.BytesIO(data)) as picture:
        assert picture.size == (40, 20)
        assert picture.getpixel((5, 5))[1] > 100
        assert dict(picture.getexif()) == ({0x0112: 6} if ending == "jpg" else {})
        assert not picture.info.get("comment")


def test_a_broken_picture_stays_at_home(story: Story, tmp_path: Path) -> None:
    kept(story)
    (tmp_path / "half.jpg").write_bytes(photographed(tmp_path / "a.jpg").read_bytes()[:90])
    (tmp_path / "odd.jpg").write_bytes(b"\xff\xd8\xff\xe1" + struct.pack(">H", 9000))
    for name in ("half.jpg", "odd.jpg"):
        assert story.shell("photo", str(tmp_path / name), "--for", "R2").status == 0
    story.reopen()
    ran = story.shell("export", "dwca", str(tmp_path / "r.zip"))
    assert ran.status == 0, ran.err
    with zipfile.ZipFile(tmp_path / "r.zip") as archive:
        assert not [name for name in archive.namelist() if name.startswith("media")]


def pins_of(story: Story, tmp_path: Path, *more: str) -> tuple[list[list[str]], str]:
    """The lines of every pin, and what was told."""
    story.reopen()
    ran = story.shell("export", "pins", str(tmp_path / "pins.html"), "--replace", *more)
    assert ran.status == 0, ran.err
    drawn = (tmp_path / "pins.html").read_text().split('<div class="pin">')[1:]
    return [one.split("</div>")[0].replace("\n", " ").split("<br>") for one in drawn], ran.out


def test_a_pin_has_its_own_number_determiner_depository_and_region(
    story: Story, tmp_path: Path
) -> None:
    kept(story)
    pins, told = pins_of(story, tmp_path)
    assert [
        sum(number in line.split() for pin in pins for line in pin)
        for number in ("V3", "V4", "V9", "V1")
    ] == [1, 1, 1, 1]
    assert "1 specimen without a number" in told
    for pin in pins:
        assert pin[0] == "Veluna"
        assert "det. Anna Berg" in pin
        assert "leg. Karin Maas" in pin
    assert "Town museum" in pins[0]


def test_an_adult_has_the_days_it_may_have_emerged_on_and_a_pupa_none(
    story: Story, tmp_path: Path
) -> None:
    kept(story)
    pins, _ = pins_of(story, tmp_path)
    span = "em. 6 v 2027 to 8 v 2027"
    assert [span in pin for pin in pins] == [True, True, True, False, False]
    assert not any(line.startswith("em.") for pin in pins[3:] for line in pin)
    tell(story, "R2 preserved 3 adults")
    story.reopen()
    assert "em." in str(pins_of(story, tmp_path)[0][-1])


def test_a_name_in_any_case_is_the_name_and_a_wrong_one_lists_all(
    story: Story, tmp_path: Path
) -> None:
    kept(story)
    assert len(pins_of(story, tmp_path, "--for", "a-1/a")[0]) == 4
    for command in (
        ("pins", "p.html", "--for", "B-7"),
        ("note", "B-7", "n.md"),
        ("labels", "l.html", "--for", "B-7"),
    ):
        ran = story.shell(
            "export", *(str(tmp_path / one) if "." in one else one for one in command)
        )
        assert ran.status == 1
        wanted = ("K2", "R2") if command[0] == "labels" else ("A-1/A", "A-1")
        assert "B-7; there are: " in ran.err
        assert all(name in ran.err.split("there are: ")[1] for name in wanted)


@needs_browser
def test_a_pin_is_printed_as_high_as_was_told(story: Story, tmp_path: Path) -> None:
    kept(story)
    tell(
        story,
        "R2 preserved 1 adult voucher=V20 depository='Museum of natural history and of the memory of all meadows'",
    )
    _, told = pins_of(story, tmp_path)
    heights = printed_heights(tmp_path / "pins.html", tmp_path, "main > div")
    assert len(heights) == 6
    for told_px, needed_px in heights:
        assert needed_px <= told_px + 0.5
        assert f"by {round(told_px / 96 * 25.4)} mm" in told
