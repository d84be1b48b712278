"""A bench stands in one time zone: its hours are the same on every device that opens the book."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

import rounds
from rounds.entries import codec
from rounds.entries.registry import Setting
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


def test_a_zone_that_is_answered_is_the_one(story: Story) -> None:
    ran = story.at(MORNING).shell("begin", typed="Weir\nLisbon\n\nL2 laying\n2 Boloria dia\n")
    assert story.desk.bench.settings["zone"] == "Europe/Lisbon"
    assert "zone: Europe/Paris" not in ran.out


async def test_the_first_start_on_the_screen_gives_one(story: Story) -> None:
    from rounds.screens.app import RoundsApp

    story.at(MORNING)
    app = RoundsApp(story.desk, greet=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for _ in range(5):
            await pilot.press("enter")
            await pilot.pause()
        assert story.desk.bench.containers
        assert zones(story) == ["Europe/Paris"]


@pytest.mark.parametrize("first", ["K2 set up laying", "setting bench Weir House", "room 21"])
def test_a_first_line_gives_one_and_undo_passes_over_it(story: Story, first: str) -> None:
    story.at(MORNING)
    assert story.shell("log", *first.split()).status == 0
    assert zones(story) == ["Europe/Paris"]
    story.type("K3 set up laying", "undo")
    assert story.desk.bench.settings["zone"] == "Europe/Paris"
    assert "K3" not in story.desk.bench.containers


async def test_a_first_cup_at_the_prompt_of_the_screen_gives_one(story: Story) -> None:
    story.at(MORNING)
    async with story.screens() as screen:
        await screen.type("K2 2 females Boloria dia")
        assert zones(story) == ["Europe/Paris"]
        await screen.press("u")
        assert not story.desk.bench.containers
        assert story.desk.bench.settings["zone"] == "Europe/Paris"


def test_a_first_line_said_late_stands_behind_its_zone(story: Story) -> None:
    story.at(MORNING).type("K2 set up laying -3d")
    assert story.on_disk()[-1]["at"] == story.on_disk()[0]["at"]
    story.type("setting zone Europe/Lisbon -1d")
    assert story.desk.bench.settings["zone"] == "Europe/Lisbon"


@pytest.mark.parametrize("when", ["", "2027-05-01 "])
def test_a_first_line_that_names_the_zone_is_the_only_one(story: Story, when: str) -> None:
    story.at(MORNING)
    ran = story.shell("log", *f"{when}setting zone Europe/Warsaw".split())
    assert ran.status == 0, ran.err
    assert zones(story) == ["Europe/Warsaw"]
    story.shell("log", "K2", "set", "up", "laying")
    assert zones(story) == ["Europe/Warsaw"]
    ran = story.shell("check")
    assert "two laptops" not in (ran.out + ran.err).lower()
    assert story.desk.bench.settings["zone"] == "Europe/Warsaw"


def test_the_machines_zone_stands_before_a_first_line_however_long_that_took(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    story.at(MORNING)
    standing = story.clock.now
    monkeypatch.setattr(story.desk.reading, "clock", lambda: story.clock.on(milliseconds=40))
    story.type("K2 set up laying")
    assert story.clock.now > standing
    assert [line["what"] for line in story.on_disk()] == ["setting", "set up"]


def test_an_old_book_that_began_with_two_zones_was_of_one_laptop(story: Story) -> None:
    story.folder.mkdir(mode=0o700, exist_ok=True)
    line = (
        '{"what":"setting","id":"%s","at":"2027-05-03T07:10:00.52Z","logged":"2027-05-03T07:10:00.%sZ"'
        ',"says":[["name",""],["value",""]],"name":"zone","value":"%s"}\n'
    )
    (story.folder / "entries-aaaa1111-2027-05.jsonl").write_text(
        line % ("246mbh2dhw-edu5bq", "525211", "America/Halifax")
        + line % ("246mbh2dhx-u2y68s", "52", "Europe/Warsaw")
    )
    story.at("2027-05-03 18:00")
    ran = story.shell("check")
    assert "two laptops" not in (ran.out + ran.err).lower(), ran.out
    assert story.desk.bench.settings["zone"] == "Europe/Warsaw"


def hours(story: Story) -> str:
    """The hours of a bench, with what is told above them."""
    ran = story.shell("due", "--within", "1d")
    return ran.err + ran.out


def test_a_wrong_zone_that_is_undone_is_gone(story: Story) -> None:
    story.at(MORNING).type("K2 set up laying", "K2 2 females Boloria dia")
    before = hours(story)
    story.type("setting zone America/Halifax", "K2 host in violet")
    assert hours(story) != before
    story.type("undo", "undo")
    assert hours(story) == before


def test_a_wrong_zone_that_began_the_book_is_gone_when_crossed_out(story: Story) -> None:
    story.at(MORNING).type("setting zone America/Halifax", "K2 set up laying")
    story.type("K2 2 females Boloria dia")
    for line in [one for one in story.on_disk() if one.get("name") == "zone"]:
        story.type(f"strike {line['id']}")
    assert "ZONE" not in hours(story)
    assert story.desk.bench.settings["zone"] == "Europe/Paris"
    assert str(story.desk.now().utcoffset()) == "2:00:00"


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
    assert "K2" in str(story.on_disk()[-1])
    book.undo()
    assert book.desk.bench.settings["zone"] == "America/Halifax"
    assert not book.containers()


def test_the_demo_has_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from rounds.shell.demo import laid_out

    monkeypatch.setenv("TZ", "America/Halifax")
    assert laid_out(tmp_path / "demo").bench.settings["zone"] == "America/Halifax"


def old_book(story: Story) -> Story:
    """A book that names no zone, written in Paris: its lines come from one that does."""
    story.at(MORNING)
    named = story.elsewhere()
    named.type("K2 set up laying", "K2 2 females Boloria dia", "K2 host in violet")
    story.desk.book.append_many(
        [codec.write(entry) for entry in named.desk.entries() if not isinstance(entry, Setting)]
    )
    story.reopen()
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
            " its hours are shown, this machine keeps UTC-3; type its zone, as: setting zone"
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
    assert "ZONE" not in story.shell("due").err + story.shell("check").out


def test_a_zone_that_is_changed_says_what_becomes_of_the_hours(story: Story) -> None:
    story.at(MORNING).type("K2 set up laying", "setting latitude 49.2", "setting longitude 2.4")
    (told,) = story.type("setting zone America/Denver")
    assert "the bench's clock was at 07:10 and is at 23:10 now" in told
    assert "the bench keeps UTC-6, the sun there about UTC+0" in told
    story.type("undo")
    assert str(story.desk.now().utcoffset()) == "2:00:00"
    (told,) = story.type("setting zone Europe/Berlin")
    assert told == "setting zone: Europe/Berlin"


async def test_a_laptop_of_another_zone_says_whose_hours_it_tells(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    story.at(MORNING).type("K2 set up laying", "K2 2 females Boloria dia")
    assert "this machine keeps" not in story.shell("log", "K2", "sprayed").err
    abroad(monkeypatch)
    ran = story.shell("log", "K2", "drank")
    assert (
        "this machine keeps UTC-3, the bench UTC+2 (Europe/Paris): hours shown and typed are the"
        " bench's, where it is 07:10 now"
    ) in ran.err
    assert "this machine keeps UTC-3" in story.shell("round", typed="q\n").out
    story.reopen()
    async with story.screens((120, 40)) as screen:
        await screen.pilot.pause()
        assert "this machine keeps UTC-3" in screen.message
        await screen.type("K2 sprayed")
        assert "this machine keeps" not in screen.text


async def test_it_says_so_beside_what_is_wrong_in_the_book_too(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    story.at(MORNING).type("K2 set up laying")
    abroad(monkeypatch)
    story.reopen()
    story.desk.reading.problems.append("a photo is not there")
    async with story.screens((120, 40)) as screen:
        await screen.pilot.pause()
        assert "a photo is not there" in screen.message
        assert "this machine keeps UTC-3" in screen.message
