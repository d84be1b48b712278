"""A picture leaves with the record of those that were there when it was taken, never of ones that had left."""

from __future__ import annotations

from pathlib import Path

import pytest
from dwca.read import DwCAReader
from PIL import Image

from tests.stories.telling import Story, tell

DWC = "http://rs.tdwg.org/dwc/terms/"


def photographed(story: Story, tmp_path: Path, *codes: str) -> str:
    """Take a picture of each cup, write the archive; what was told."""
    story.reopen()
    for number, code in enumerate(codes):
        file = tmp_path / f"p{number}.png"
        Image.new("RGB", (4, 4), (number, 9, 9)).save(file)
        assert story.shell("photo", str(file), "--for", code).status == 0
    story.reopen()
    ran = story.shell("export", "dwca", str(tmp_path / "w.zip"))
    assert ran.status == 0, ran.err
    return " ".join((ran.out + ran.err).split())


def with_pictures(tmp_path: Path) -> list[tuple[str, str, str]]:
    """Kind, stage and day of each record with a picture."""
    with DwCAReader(str(tmp_path / "w.zip")) as archive:
        return [
            tuple(row.data[f"{DWC}{name}"] for name in ("basisOfRecord", "lifeStage", "eventDate"))
            for row in archive
            for one in row.extensions
            if "Multimedia" in one.rowtype
        ]


@pytest.mark.parametrize(
    "left",
    ["R2 preserved 1 larva voucher=V1", "R2 released 2 larvae at Heath", "R2 parasitoid 1 wasp V2"],
)
def test_a_picture_is_of_those_still_there(story: Story, tmp_path: Path, left: str) -> None:
    story.at("2027-06-10 08:00")
    tell(story, "R2 set up rearing\nR2 4 L2 Leptidea pallidula")
    story.later(days=2).type(left)
    story.later(days=1)
    photographed(story, tmp_path, "R2")
    ((basis, stage, day),) = with_pictures(tmp_path)
    assert (basis, stage, day[:10]) == ("LivingSpecimen", "larva", "2027-06-10")


def test_a_picture_is_of_its_cup_and_stage(story: Story, tmp_path: Path) -> None:
    story.at("2027-06-10 08:00")
    tell(
        story,
        """
        R2 set up rearing
        R3 set up rearing
        R2 9 L2 Leptidea pallidula
        R2 moved 3 to R3
        """,
    )
    story.later(days=2).type("R2 moulted 6 L3")
    story.later(days=1).type("R3 moulted 3 L3")
    story.later(days=6).type("R3 pupated 2")
    story.later(days=1)
    photographed(story, tmp_path, "R2")
    ((_, stage, day),) = with_pictures(tmp_path)
    assert (stage, day[:10]) == ("larva", "2027-06-12")


def test_a_picture_of_two_broods_is_said_to_stay(story: Story, tmp_path: Path) -> None:
    story.at("2027-06-10 08:00")
    tell(
        story,
        """
        R2 set up rearing
        R2 4 L2 Leptidea pallidula
        brood B-2 taxon='Leptidea pallidula'
        R2 stocked B-2 larva 3
        """,
    )
    told = photographed(story, tmp_path, "R2")
    assert "does not say one brood or animal in the archive, left out: R2-" in told
    assert not with_pictures(tmp_path)
