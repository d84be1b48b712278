"""Two broods are put in one cup and nobody knows any more which is which: what is told of each, and of those that may be either."""

from __future__ import annotations

from pathlib import Path

from dwca.read import DwCAReader

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_pins_and_permits import pin_of
from tests.stories.test_leaving_protected import DWC, written

TWO_CUPS = """
    taxon 'Melitaea rubida'
    plant speedwell kept=water hours=48
    K2 set up laying
    K3 set up laying
    R6 set up rearing
    K2 founder W2 'Melitaea rubida' female place='Bank Aster' caught=2027-04-28 collector=AK
    K3 founder W3 'Melitaea rubida' female place='Bank Birch' caught=2027-04-29 collector=BN
    K2 host in speedwell
    K3 host in speedwell
    """


def grown_up(story: Story) -> None:
    """Ten eggs of each mother go into one cup; of the larvae 4, of the pupae 6 die, nobody knows whose; ten come out."""
    tell(story, TWO_CUPS)
    story.later(days=1)
    tell(
        story,
        """
        K2 searched 10
        K3 searched 10
        K2 moved 10 eggs to R6
        K3 moved 10 eggs to R6
        R6 host in speedwell
        """,
    )
    story.later(days=8).type("R6 hatched 10 brood=W2/A", "R6 hatched 10 brood=W3/A")
    story.later(days=3).type("R6 died 4 larvae not known")
    story.later(days=20).type("R6 pupated 16 not known")
    story.later(days=4).type("R6 died 6 pupae not known")
    story.later(days=6).type("R6 emerged 10 male not known", "R6 preserved 1 not known voucher=V-3 depository=Mus")


def test_the_pin_of_one_that_is_of_either_brood_says_it_was_reared(story: Story, tmp_path: Path) -> None:
    grown_up(story)
    pin = pin_of(story, tmp_path)
    assert pin[:2] == ["Bank Aster, caught 28 iv 2027, leg. AK", "or: Bank Birch, caught 29 iv 2027, leg. BN"]
    assert "ex ovo, ex \N{FEMALE SIGN} W2 or W3, laid in captivity" in pin
    assert any(line.startswith("em. ") for line in pin)


def test_its_rows_of_the_archive_name_the_mothers(story: Story, tmp_path: Path) -> None:
    grown_up(story)
    story.reopen()
    written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        rows = [row.data for row in archive]
    mothers = {row[DWC + "organismName"]: row[DWC + "organismID"] for row in rows if row[DWC + "organismName"] in ("W2", "W3")}
    of_either = [row[DWC + "associatedOrganisms"] for row in rows if " or " in row[DWC + "organismName"]]
    assert len(of_either) == 3
    for told in of_either:
        assert told.count("offspring of one of several") == 2
        assert all(mother in told for mother in mothers.values())
