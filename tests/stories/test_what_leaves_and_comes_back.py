"""Country and province leave with a catch; a backup brings the bench back; old broods weigh beside own ones."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

from dwca.read import DwCAReader

import rounds
from tests.stories.telling import ZONE, Story, tell

DWC = "http://rs.tdwg.org/dwc/terms/"


def test_country_and_province_leave_in_archive_and_on_pins(story: Story, tmp_path: Path) -> None:
    """As a line gives them, else as the settings do; of what was reared on the pin alone."""
    tell(
        story,
        """setting country Sweden
        setting province Scania
        K2 set up laying
        K2 founder A-1, 'Pieris orata' female at 'Mill lane' caught=2027-04-28
        K2 founder A-2, 'Pieris orata' male at 'Dune' caught=2027-04-28 country=Denmark province=Bornholm
        K2 preserved A-2 voucher=V1
        R1 set up emergence
        brood B1 taxon='Pieris orata' mothers=A-1
        R1 2 pupae brood=B1
        R1 emerged 2 females sure
        R1 preserved 1 adult voucher=V2""",
    )
    story.reopen()
    assert story.shell("export", "dwca", str(tmp_path / "all.zip")).status == 0
    assert story.shell("export", "pins", str(tmp_path / "pins.html")).status == 0
    with DwCAReader(str(tmp_path / "all.zip")) as archive:
        regions = {
            (row.data[f"{DWC}organismName"], row.data[f"{DWC}country"], row.data[f"{DWC}stateProvince"])
            for row in archive
        }  # fmt: skip
    assert regions == {("A-1", "Sweden", "Scania"), ("A-2", "Denmark", "Bornholm"), ("B1", "", "")}
    pins = re.findall(r'<div class="pin">(.*?)</div>', (tmp_path / "pins.html").read_text(), re.S)
    labels = [" ".join(re.sub("<[^>]*>", " ", pin).split()) for pin in pins]
    assert [label.split(" caught")[0] for label in labels] == [
        "Denmark, Bornholm Dune",
        "Sweden, Scania Mill lane",
    ]


def test_a_backup_brings_the_bench_back(story: Story, tmp_path: Path) -> None:
    """Two days after the backup the machine is gone; what was said until then is there, once."""
    tell(story, "K2 set up laying\nK2 founder A-1, 'Pieris orata' female\nK2 fed")
    picture = tmp_path / "K2.png"
    picture.write_bytes(PNG)
    assert story.shell("photo", str(picture), "--for", "K2").status == 0
    kept = tmp_path / "kept.zip"
    ran = story.shell("backup", str(kept))
    assert (ran.status, f"written to {kept} and read back" in ran.out) == (0, True)
    before = story.shell("due", "--json", "--within", "48h").out
    assert story.shell("backup", str(kept)).status == 1, "an older one is not lost unasked"

    new = tmp_path / "new"
    ran = story.shell("--book", str(new), "merge", str(kept))
    assert (ran.status, ran.err) == (0, "")
    assert story.shell("--book", str(new), "check").status == 0
    after = story.shell("--book", str(new), "due", "--json", "--within", "48h").out
    assert after.replace(str(new), "") == before.replace(str(story.folder), "")
    assert [one.read_bytes() for one in (new / "photos").iterdir()] == [
        one.read_bytes() for one in (story.folder / "photos").iterdir()
    ]
    story.type("K2 fed")
    ran = story.shell("merge", str(kept))
    assert ran.status == 0
    assert "0 lines added" in ran.out, "what is here already comes in once"


PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de"
    "0000000c49444154789c63606060000000040001f61738550000000049454e44ae426082"
)


def test_old_broods_weigh_beside_own_ones_in_a_forecast(story: Story, tmp_path: Path) -> None:
    """A pupa of an own brood took 10 days, of two old ones 20: the next is awaited in between."""

    def awaited() -> tuple[float, str]:
        book = rounds.open_book(story.folder, keeper="KM", clock=story.clock, zone=ZONE)
        (coming,) = (one for one in book.forecasts() if one.container == "R2")
        assert coming.half is not None
        return (coming.half - story.clock.now) / timedelta(days=1), coming.basis

    story.at("2027-05-01 08:00")
    story.type("room 20C")
    tell(story, "R1 set up rearing\nR1 8 larvae 'Boloria selene'\nR1 pupated 8")
    for _ in range(10):
        tell(story.later(days=1), "room 20C")
    story.type("R1 emerged 8 females sure")
    tell(story, "R2 set up rearing\nR2 8 larvae 'Boloria selene'\nR2 pupated 8")
    own, basis = awaited()
    assert "1 own brood" in basis
    rows = ["brood,species,laid,eggs,hatched,pupated,emerged,temperature"]
    rows += [
        f"Q{day},Boloria selene,2026-05-0{day},40,2026-05-1{day},2026-06-1{day},2026-07-0{day},20"
        for day in (1, 2)
    ]
    table = tmp_path / "old.csv"
    table.write_text("\n".join(rows) + "\n")
    assert story.shell("import", str(table), "--yes").status == 0
    story.reopen()
    both, basis = awaited()
    assert own < both < 20
    assert "3 own broods" in basis
