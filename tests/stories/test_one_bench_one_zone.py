"""A bench stands in one time zone: its hours are the same on every device that opens the book."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

import rounds
from tests.stories.telling import Story

# offsets as the IANA time zone database has them in May: Berlin UTC+2, Halifax UTC-3
BERLIN, HALIFAX = ZoneInfo("Europe/Berlin"), ZoneInfo("America/Halifax")
MORNING = "2027-05-03 07:10"


def zones(story: Story) -> list[str]:
    return [line["value"] for line in story.on_disk() if line.get("name") == "zone"]


def abroad(monkeypatch: pytest.MonkeyPatch, zone: ZoneInfo = HALIFAX) -> None:
    """The same shell on a machine that keeps another zone."""
    monkeypatch.setattr("tests.stories.telling.ZONE", zone)


def due_with_offset(story: Story) -> str:
    return story.shell("due", "--within", "1d").out


@pytest.mark.parametrize("where", ["", "49.2N 2.4E"])
def test_a_book_that_begins_has_a_zone_whatever_is_answered(story: Story, where: str) -> None:
    story.at(MORNING)
    ran = story.shell("begin", typed=f"Weir House bench\n{where}\n\nL2 laying\n2 Boloria dia\n")
    assert zones(story) == ["Europe/Paris"]
    assert "zone: Europe/Paris" in ran.out


def test_a_zone_that_is_answered_is_the_only_one(story: Story) -> None:
    story.at(MORNING).shell("begin", typed="Weir\nLisbon\n\nL2 laying\n2 Boloria dia\n")
    assert zones(story) == ["Europe/Lisbon"]


async def test_the_first_start_on_the_screen_gives_one(story: Story) -> None:
    from rounds.screens.app import RoundsApp

    story.at(MORNING)
    app = RoundsApp(story.desk, greet=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for _ in range(2):
            await pilot.press("enter")
            await pilot.pause()
        assert zones(story) == ["Europe/Paris"]


def test_a_list_gives_one(story: Story, tmp_path: Path) -> None:
    cups = tmp_path / "cups.txt"
    cups.write_text("K2  2 females Boloria dia  violet\n")
    ran = story.at(MORNING).shell("begin", "--list", str(cups))
    assert ran.status == 0, ran.err
    assert zones(story) == ["Europe/Paris"]


def test_an_old_table_that_begins_a_book_gives_one(story: Story, tmp_path: Path) -> None:
    table = tmp_path / "old.csv"
    table.write_text("date,container,event,number\n2027-05-01,K2,eggs found,12\n")
    ran = story.at(MORNING).shell("import", str(table), "--species", "Boloria dia", "--yes")
    assert ran.status == 0, ran.out + ran.err
    assert zones(story) == ["Europe/Paris"]


def test_a_script_that_begins_a_book_gives_one_and_undo_passes_over_it(story: Story) -> None:
    story.at(MORNING)
    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock, zone=HALIFAX)
    book.record("K2 set up laying")
    assert zones(story) == ["America/Halifax"]
    assert "K2" in str(story.on_disk()[0])
    book.undo()
    assert book.desk.bench.settings["zone"] == "America/Halifax"
    assert not book.containers()


def test_the_demo_has_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from rounds.shell.demo import laid_out

    monkeypatch.setenv("TZ", "America/Halifax")
    assert laid_out(tmp_path / "demo").bench.settings["zone"] == "America/Halifax"


def old_book(story: Story) -> Story:
    """A book that names no zone, written in Paris."""
    story.at(MORNING).type("K2 set up laying", "K2 2 females Boloria dia", "K2 host in violet")
    return story.later(hours=11)


def test_an_old_book_abroad_says_so_and_keeps_its_hours(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    old_book(story)
    at_home = [
        story.shell(*command).out
        for command in (
            ("due", "--within", "1d"),
            ("sheet", "--from", "now", "--to", "4 May 18:00"),
            ("shelves",),
        )
    ]
    assert not any("ZONE" in text for text in at_home)
    abroad(monkeypatch)
    for text, command in zip(
        at_home,
        (
            ("due", "--within", "1d"),
            ("sheet", "--from", "now", "--to", "4 May 18:00"),
            ("shelves",),
        ),
        strict=True,
    ):
        ran = story.shell(*command)
        told, *rest = (ran.out if "ZONE" in ran.out else ran.err + ran.out).splitlines()
        assert told == (
            "THE BENCH'S TIME ZONE IS NOT KNOWN: its newest entry was written at UTC+2, by which"
            " its hours are told, this machine keeps UTC-3; type its zone, as: setting zone"
            " Europe/Berlin"
        )
        assert rest == text.splitlines()
    assert "TIME ZONE IS NOT KNOWN" in story.shell("check").out
    story.shell("log", "setting", "zone", "Europe/Paris")
    assert story.shell("due", "--within", "1d").out == at_home[0]
    assert "ZONE" not in story.shell("check").out


async def test_the_screens_say_it(story: Story, monkeypatch: pytest.MonkeyPatch) -> None:
    old_book(story)
    written = story.clock.now
    story.reopen()
    abroad(monkeypatch)
    story.clock.now = written
    async with story.screens() as screen:
        assert "TIME ZONE IS NOT KNOWN" in screen.text
        assert f"{written:%H:%M}" in screen.text
    story.type("setting zone Europe/Berlin")
    async with story.screens() as screen:
        assert "NOT KNOWN" not in screen.text


def test_a_clock_time_typed_abroad_is_one_of_the_bench(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    old_book(story)
    abroad(monkeypatch)
    ran = story.shell("log", "K2", "sprayed", "18:00")
    assert ran.status == 0, ran.err
    assert story.on_disk()[-1]["at"].startswith("2027-05-03T18:00:00")
    assert datetime.fromisoformat(story.on_disk()[-1]["at"]).utcoffset() == BERLIN.utcoffset(
        datetime(2027, 5, 3, 18)
    )


def test_winter_time_alone_is_no_other_zone(story: Story) -> None:
    story.at("2027-10-30 18:00").type("K2 set up laying")
    story.at("2027-11-01 07:00")
    assert "ZONE" not in story.shell("due").out + story.shell("check").out
