"""Two broods are put in one cup and nobody knows any more which is which: what is told of each, and of those that may be either."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
from dwca.read import DwCAReader

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of, table
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
    story.later(days=6).type(
        "R6 emerged 10 male not known", "R6 preserved 1 not known voucher=V-3 depository=Mus"
    )


def test_the_pin_of_one_that_is_of_either_brood_says_it_was_reared(
    story: Story, tmp_path: Path
) -> None:
    grown_up(story)
    pin = pin_of(story, tmp_path)
    assert pin[:2] == [
        "Bank Aster, caught 28 iv 2027, leg. AK",
        "or: Bank Birch, caught 29 iv 2027, leg. BN",
    ]
    assert "ex ovo, ex \N{FEMALE SIGN} W2 or W3, laid in captivity" in pin
    assert any(line.startswith("em. ") for line in pin)


def test_its_rows_of_the_archive_name_the_mothers(story: Story, tmp_path: Path) -> None:
    grown_up(story)
    story.reopen()
    written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        rows = [row.data for row in archive]
    mothers = {
        row[DWC + "organismName"]: row[DWC + "organismID"]
        for row in rows
        if row[DWC + "organismName"] in ("W2", "W3")
    }
    of_either = [
        row[DWC + "associatedOrganisms"] for row in rows if " or " in row[DWC + "organismName"]
    ]
    assert len(of_either) == 3
    for told in of_either:
        assert told.count("offspring of one of several") == 2
        assert all(mother in told for mother in mothers.values())


def note_of_second(story: Story, tmp_path: Path) -> str:
    return note_of(story, tmp_path, "W3/A")


def section(note: str, name: str) -> str:
    """The text of one section of a note."""
    return note.split(f"## {name}\n")[1].split("\n## ")[0]


def test_the_note_never_says_of_one_brood_where_the_other_stood(
    story: Story, tmp_path: Path
) -> None:
    tell(story, TWO_CUPS)
    story.later(days=1)
    tell(story, "K2 searched 10\nK3 searched 10\nK2 moved 10 eggs to R6\nK3 moved 10 eggs to R6")
    story.later(hours=1).type("R6 died 2 eggs not known")
    conditions = section(note_of_second(story, tmp_path), "Conditions")
    assert "It stood in K3 (laying), R6 (rearing)." in conditions


def test_the_note_tells_beside_each_brood_what_may_be_of_it(story: Story, tmp_path: Path) -> None:
    grown_up(story)
    note = note_of_second(story, tmp_path)
    short = section(note, "In short")
    assert "at least 0 came to be adults, at least 0 are alive" in short
    assert (
        "Of W2/A or W3/A, nobody knows which: 10 came to be adults, 9 of them are alive." in short
    )
    assert "none came so far" not in note
    assert "V-3" in section(note, "Specimens and photos")
    assert "of W2/A or W3/A" in section(note, "Specimens and photos")
    assert "No specimen" not in note
    assert "fed on speedwell" in section(note, "Plants")
    assert "The plant that it was fed on" not in note
    rows = table(note, "Stage by stage")
    assert [
        "larva, W2/A or W3/A",
        "20",
        "4",
        "-",
        "-",
        "-",
        "-",
        "-",
        "0.80 (0.56 to 0.94)",
    ] in rows
    assert [row[-1] for row in rows if row[0] == "larva"] == ["-"], (
        "4 of 20 died, and nobody knows whose"
    )


def test_the_life_table_has_a_row_for_those_of_either_and_no_share_that_they_would_change(
    story: Story, tmp_path: Path
) -> None:
    grown_up(story)
    story.reopen()
    file = tmp_path / "life.csv"
    assert story.shell("export", "csv", str(file), "--table", "life-table", "--replace").status == 0
    rows = pd.read_csv(file).set_index(["brood", "stage"])
    either = rows.loc[("W2/A or W3/A", "larva")]
    assert (either["entered"], either["went on"], either["died"], either["share that went on"]) == (
        20,
        16,
        4,
        0.8,
    )
    pupae = rows.loc[("W2/A or W3/A", "pupa")]
    assert (pupae["entered"], pupae["went on"], pupae["died"]) == (16, 10, 6)
    for brood in ("W2/A", "W3/A"):
        assert rows.loc[(brood, "egg"), "share that went on"] == 1
        assert rows.loc[brood].drop("egg")["share that went on"].isna().all()
        assert rows.loc[(brood, "larva"), "not known which"] == 4


async def test_the_page_of_a_brood_has_them_too(story: Story) -> None:
    grown_up(story)
    async with story.screens((120, 90)) as screen:
        await screen.press("z")
        screen.highlight("code W3/A")
        await screen.pilot.pause()
        await screen.press("enter")
        rows = [line.split() for line in screen.text.splitlines()]
    assert ["stage", "by", "stage,", "W2/A", "or", "W3/A:", "nobody", "knows", "which"] in [
        row[:9] for row in rows
    ]
    assert ["larva", "20", "4"] in [row[:3] for row in rows]
