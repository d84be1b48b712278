"""A missing larva that is found is as old as before; one that nobody can tell keeps no instar that nobody saw."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story, tell

CUP = """
R4 set up rearing
brood A1 taxon="Boloria lapidata"
R4 host in "Viola canina"
room 22
"""


async def begun_of(story: Story, number: int) -> str:
    """Since when the cup's larvae are in their instar, as all that is coming says it."""
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        if "should have happened" in screen.text:  # unfolded, each has its line
            await screen.press("enter", "down")
        (who,) = [row.strip() for row in screen.text.splitlines() if row.strip().startswith("who")]
    assert f"{number} of A1" in who
    return who.partition("begun between ")[2]


async def test_a_missing_larva_that_is_found_is_as_old_as_the_others(story: Story) -> None:
    story.at("2027-05-29 12:00")
    tell(story, CUP + "R4 stocked 12 L3 brood=A1")
    story.at("2027-06-02 07:00").type("R4 counted 11")
    before = await begun_of(story, 11)
    story.at("2027-06-03 07:00").type("R4 settled found 1")
    assert await begun_of(story, 12) == before


async def test_a_missing_pupa_found_by_a_count_is_as_old_as_before(story: Story) -> None:
    story.at("2027-05-29 12:00")
    tell(story, CUP + "R4 stocked 12 L5 brood=A1")
    story.at("2027-05-30 12:00").type("R4 pupated 12")
    story.at("2027-06-01 07:00").type("R4 counted 11 pupae")
    before = await begun_of(story.at("2027-06-02 07:00"), 11)
    story.type("R4 counted 12 pupae")
    assert await begun_of(story, 12) == before


def note_of(story: Story, tmp_path: Path) -> str:
    file = tmp_path / "note.md"
    ran = story.shell("export", "note", "A1", str(file))
    assert ran.status == 0, ran.err
    return file.read_text()


def test_a_dead_larva_of_no_known_instar_stays_one(story: Story, tmp_path: Path) -> None:
    tell(story, CUP + "R4 stocked 3 L3 brood=A1")
    story.later(days=1).type("R4 moulted 2 L4")
    story.later(hours=1).type("R4 died 1 not known")
    story.later(days=1).type("R4 moulted 1 L4")
    note = note_of(story, tmp_path)
    assert "died: 1 (1 larva)" in note
    assert "alive: 2 (2 L4)" in note
    rows = {
        line.split("|")[1].strip(): [cell.strip() for cell in line.split("|")[2:-1]]
        for line in note.splitlines()
        if "|" in line
    }
    assert rows["larva"] == [
        "1",
        "1",
        "-",
        "-",
        "-",
        "-",
        "-",
        "-",
    ]  # no share: it is not known of which instar it was
    assert rows["L4"] == ["3", "-", "-", "-", "-", "1", "2", "-"]
    assert (rows["L3"][0], rows["L3"][-1]) == ("3", "-")


def test_a_missing_larva_of_no_known_instar_stays_one_when_it_is_found_dead(
    story: Story, tmp_path: Path
) -> None:
    tell(story, CUP + "R4 stocked 3 L3 brood=A1")
    story.later(days=1).type("R4 moulted 2 L4")
    story.later(hours=1).type("R4 missing 1 not known")
    story.later(hours=1).type("R4 settled dead 1")
    assert "died: 1 (1 larva)" in note_of(story, tmp_path)


def test_bodies_of_one_of_two_broods_in_mixed_instars_have_no_instar(story: Story) -> None:
    tell(
        story,
        CUP
        + 'brood B1 taxon="Boloria lapidata"\nR4 stocked 5 L4 brood=A1\nR4 stocked 2 L3 brood=B1',
    )
    story.later(hours=1).type("R4 died 1 not known")
    table = story.shell(
        "export", "csv", str(story.folder.parent / "t.csv"), "--table", "life-table"
    )
    assert table.status == 0, table.err
    rows = [line.split(",") for line in (story.folder.parent / "t.csv").read_text().splitlines()]
    died = {row[2]: row[rows[0].index("died")] for row in rows[1:] if " or " in row[0]}
    assert died["larva"] == "1"
    assert all(number in ("0", "") for stage, number in died.items() if stage != "larva")


def test_all_of_them_dead_are_known_by_instar(story: Story, tmp_path: Path) -> None:
    tell(story, CUP + "R4 stocked 3 L3 brood=A1")
    story.later(days=1).type("R4 moulted 2 L4")
    story.later(hours=1).type("R4 died 3")
    assert "died: 3 (1 L3, 2 L4)" in note_of(story, tmp_path)


def test_missing_after_a_count_that_fell_short_is_not_taken_twice(story: Story) -> None:
    tell(story, CUP + "R4 stocked 10 L4 brood=A1")
    story.later(days=1).type("R4 counted 9")
    for line in ("R4 missing 1", "R4 1 missing", "R4 missing 1 larva"):
        asked = story.refused(line)
        assert "1 of R4 is missing already, by the count" in asked
        assert "others" in asked
    assert story.desk.bench.containers["R4"].count("larva") == 9
    story.type("R4 missing 1 others")
    assert story.desk.bench.containers["R4"].count("larva") == 8
    story.type("R4 counted 8", "R4 missing 1 more")
    assert story.desk.bench.containers["R4"].count("larva") == 7
