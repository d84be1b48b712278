"""A permit's last day, what is past its limit, eggs taken, kept and released, and a permit that is given back."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story, tell


def _held_under(story: Story, limits: str) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        f"""
        permit P-12 body='county office' {limits}
        L2 set up laying
        L2 founder Q-1 'Lysandra calida' permit=P-12
        """,
    )


async def test_a_permit_that_expires_on_a_date_lasts_to_the_end_of_that_day(story: Story) -> None:
    _held_under(story, "females=3 expires=2027-05-04")

    story.at("2027-05-04 23:30")
    async with story.screens((120, 40)) as screen:
        screen.highlight("L2")
        assert "permit past" not in screen.text
        assert "ENDED" not in screen.text

    story.at("2027-05-05 00:10")
    async with story.screens((120, 40)) as screen:
        screen.highlight("L2")
        assert "permit past" in screen.text


async def test_a_permit_that_expires_at_an_hour_ends_at_that_hour(story: Story) -> None:
    _held_under(story, "females=3 expires='2027-05-04 14:00'")

    story.at("2027-05-04 14:10")
    async with story.screens((120, 40)) as screen:
        assert "permit past" in screen.text


async def test_past_a_limit_the_line_and_the_pane_say_so_before_anything_else(story: Story) -> None:
    _held_under(story, "females=3 hold_hours=24 expires=2027-05-03")
    story.at("2027-05-05 08:00")  # she is thirsty too, and the host is missing

    async with story.screens() as screen:
        screen.highlight("L2")
        rows = screen.text.splitlines()
        assert "1 female" in rows[1], "who is held"
        assert "release past the limit" in rows[1]
        row = next(row for row in rows[3:] if row[3:].startswith("L2"))
        assert "permit past" in row
        assert "release in danger" in row
        pane = screen.text.split(row, 1)[1]
        assert "PAST THE LIMIT" in pane
        assert pane.index("ENDED") < pane.index("release")


def test_eggs_taken_kept_and_released_are_counted_apart(story: Story) -> None:
    _held_under(story, "eggs=40 eggs_kept=10")
    tell(
        story,
        """
        L2 searched 12
        E3 set up eggs
        L2 moved 12 to E3 stage=egg
        E3 released 4 stage=egg
        E3 died 1
        """,
    )
    card = story.shell(
        "export", "csv", str(story.folder.parent / "permits.csv"), "--table", "permits"
    )
    assert card.status == 0
    told = (story.folder.parent / "permits.csv").read_text()
    assert "12 of 40 eggs taken" in told
    assert "8 of 10 eggs kept" in told
    assert "4 of them released" in told


def test_more_eggs_kept_than_allowed_is_past(story: Story) -> None:
    _held_under(story, "eggs=40 eggs_kept=10")
    story.type("L2 searched 12")
    story.shell("export", "csv", str(story.folder.parent / "permits.csv"), "--table", "permits")
    assert "12 of 10 eggs kept, PAST THE LIMIT" in (story.folder.parent / "permits.csv").read_text()


async def test_a_permit_given_back_is_closed_and_silent(story: Story) -> None:
    _held_under(story, "females=1 hold_hours=24 expires=2027-05-03")
    story.at("2027-05-05 08:00")
    assert "permit" in story.due()

    story.type("permit P-12 closed")

    assert "permit" not in story.due()
    assert "release" not in story.due()
    async with story.screens() as screen:
        assert "PERMIT" not in screen.text


def test_nothing_more_is_taken_in_under_a_closed_permit(story: Story) -> None:
    _held_under(story, "females=3")
    story.type("permit P-12 closed")

    assert "closed" in story.refused("L2 founder Q-2 'Lysandra calida' permit=P-12")

    story.type("permit P-12 closed=no", "L2 founder Q-2 'Lysandra calida' permit=P-12")


def test_the_table_and_the_note_give_a_last_day_as_a_day(story: Story, tmp_path: Path) -> None:
    _held_under(story, "females=3 expires=2027-05-04")
    tell(
        story,
        "permit P-13 body='town office' expires='2027-05-06 14:00'\nL2 host in thyme 2\nL2 searched 4",
    )
    assert "12:00" not in story.preview("permit P-14 expires=2027-05-04")
    assert (
        story.shell("export", "csv", str(tmp_path / "permits.csv"), "--table", "permits").status
        == 0
    )
    table = (tmp_path / "permits.csv").read_text()
    assert ",2027-05-04," in table
    assert "T12:00" not in table
    assert ",2027-05-06T14:00:00+02:00," in table
    assert story.shell("export", "note", "Q-1/A", str(tmp_path / "note.md")).status == 0
    assert "| P-12 | not recorded | county office | 4 May 2027 |" in (
        tmp_path / "note.md"
    ).read_text().replace("\\", "")
