"""One line crossed out by several: what is brought back counts, and what is said of it is true."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

import rounds
from tests.stories.telling import ZONE, Story

LAPTOPS = ("aaaa1111", "bbbb2222", "cccc3333")


@pytest.fixture
def laptops(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[Story]:
    """Three copies of one book, in which K2 was misted by the first laptop."""
    found = [Story(tmp_path / name, monkeypatch, name).at("2027-05-01 07:05") for name in LAPTOPS]
    for laptop in found[1:]:
        laptop.clock = found[0].clock
    found[0].type("K2 set up laying", "K2 misted")
    synchronise(found)
    return found


def synchronise(laptops: list[Story]) -> None:
    """What a synchroniser does: each laptop's own file goes to the others."""
    for laptop in laptops:
        for path in laptop.folder.glob(f"entries-{laptop._laptop}-*"):
            for other in laptops:
                other.folder.mkdir(exist_ok=True)
                if other is not laptop:
                    shutil.copy2(path, other.folder)
    for laptop in laptops:
        laptop.desk.hear()


def misting(story: Story) -> str:
    """The id of the misting."""
    return next(str(one["id"]) for one in story.on_disk() if one.get("what") == "misted")


def cross_out(laptops: list[Story]) -> str:
    """Each crosses the misting out before it hears of the others; its id."""
    misted = misting(laptops[0])
    for laptop in laptops:
        laptop.later(seconds=5).type(f"strike {misted}")
    synchronise(laptops)
    return misted


def counts(laptops: list[Story]) -> set[bool]:
    """Whether the misting counts, on each laptop."""
    return {"misted" in laptop.desk.bench.containers["K2"].last for laptop in laptops}


@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize("who", [0, 1, 2])
async def test_u_on_its_crossing_out_brings_the_line_back(
    laptops: list[Story], number: int, who: int
) -> None:
    several = laptops[:number]
    cross_out(several)
    assert counts(several) == {False}
    async with several[who % number].screens((110, 30)) as screen:
        await screen.press("u")
        assert screen.message.startswith("saved: K2 misted")
        assert screen.message.count("brought back") == 1
        others = f"({number} lines recorded otherwise, by KM; all of them go)"
        assert (others in screen.message) == (number > 1)
        assert "saved" in screen.message
    synchronise(several)
    assert counts(several) == {True}


async def test_u_hears_first_what_the_others_wrote(laptops: list[Story]) -> None:
    misted = misting(laptops[0])
    for laptop in laptops:
        laptop.later(seconds=5).type(f"strike {misted}")
    async with laptops[0].screens((110, 30)) as screen:
        for other in laptops[1:]:  # they arrive between the last look and the key
            for path in other.folder.glob(f"entries-{other._laptop}-*"):
                shutil.copy2(path, laptops[0].folder)
        await screen.press("u")
        assert screen.message.startswith("saved: K2 misted")
    laptops[0].desk.hear()
    assert counts(laptops[:1]) == {True}


async def test_the_key_of_the_daybook_follows_the_same_rule(laptops: list[Story]) -> None:
    misted = cross_out(laptops)
    crossing = next(str(one["id"]) for one in laptops[0].on_disk() if one.get("entry") == misted)
    async with laptops[0].screens((110, 30)) as screen:
        await screen.press("y")
        screen.highlight(crossing)  # the line that says 'crossed out' is itself crossed out
        await screen.press("x", "enter")
        assert screen.message.startswith("saved: K2 misted")
        assert counts(laptops[:1]) == {True}
        screen.highlight(crossing)
        await screen.press("x", "enter")
        assert screen.message.startswith("saved: K2 misted")
        assert counts(laptops[:1]) == {False}
        screen.highlight(misted)
        await screen.press("x", "enter")
        assert screen.message.startswith("saved: K2 misted")
        assert counts(laptops[:1]) == {True}


def test_the_shell_follows_the_same_rule(laptops: list[Story]) -> None:
    misted = cross_out(laptops)
    for one in laptops[0].on_disk():
        if one.get("entry") == misted:
            ran = laptops[0].shell("log", "strike", str(one["id"]))
            break
    assert ran.status == 0
    assert "brought back: K2 misted" in ran.out
    laptops[0].desk.hear()
    assert counts(laptops[:1]) == {True}


def test_a_script_follows_the_same_rule(laptops: list[Story]) -> None:
    misted = cross_out(laptops)
    book = rounds.open_book(
        laptops[1].folder, keeper="AB", clock=laptops[1].later(minutes=1).clock, zone=ZONE
    )
    crossing = next(str(one["id"]) for one in laptops[1].on_disk() if one.get("entry") == misted)
    book.cross_out(crossing, "it was misted")
    assert "misted" in book.desk.bench.containers["K2"].last
    book.undo()
    assert "misted" not in book.desk.bench.containers["K2"].last
    with pytest.raises(rounds.Refused, match="Nothing recorded since the start"):
        book.undo()


@pytest.mark.parametrize("first", [0, 1, 2])
async def test_brought_back_by_all_one_crosses_it_out_again(
    laptops: list[Story], first: int
) -> None:
    """Each brings it back before it hears of the others; `u` crosses it out, and it stays out."""
    cross_out(laptops)
    for laptop in laptops:
        async with laptop.later(seconds=5).screens((110, 30)) as screen:
            await screen.press("y")
            screen.highlight(misting(laptop))
            await screen.press("x", "enter")
    synchronise(laptops)
    assert counts(laptops) == {True}
    async with laptops[first].screens((110, 30)) as screen:
        await screen.press("u")
        assert screen.message.startswith("saved: K2 misted")
        assert screen.message.count("crossed out") == 1
    synchronise(laptops)
    assert counts(laptops) == {False}


async def test_u_does_not_go_on_to_an_older_line_for_one_that_others_crossed_out(
    laptops: list[Story],
) -> None:
    one, other = laptops[:2]
    other.type(f"strike {misting(one)}")
    synchronise(laptops)
    async with one.screens((110, 30)) as screen:
        await screen.press("u")
        assert "undone already by KM" in screen.message
        assert "K2 misted" in screen.message
        assert "K2" in one.desk.bench.containers
        await screen.press("u")
        assert screen.message.startswith("saved: K2 set up")


async def test_where_the_folder_is_gone_u_says_so_and_loses_nothing(
    laptops: list[Story], tmp_path: Path
) -> None:
    one = laptops[0]
    async with one.screens((110, 30)) as screen:
        one.folder.rename(tmp_path / "away")
        await screen.press("u")
        assert "NOT SAVED" in screen.message
        (tmp_path / "away").rename(one.folder)
    one.reopen()
    assert "K2" in one.desk.bench.containers
    assert counts(laptops[:1]) == {False}
