"""Pages that look back do not read the book again, and late and crossed-out lines correct them at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from rounds.daybook import Daybook
from tests.stories.telling import Story, tell

SEASON = """
taxon 'Pieris orata'
K2 set up laying
R4 set up rearing
E3 set up eggs
K2 founder W-7, Pieris orata female
brood A-1 mothers=W-7
K2 host in cress leaf water batch=C sprigs=3
R4 stocked 9 larvae A-1
R4 host in cress leaf water batch=D
"""


async def page(story: Story, key: str) -> str:
    async with story.screens((150, 60)) as screen:
        await screen.press(key)
        return screen.text


def without_keys(text: str) -> str:
    """A page without its last row: what was typed before the lid was closed no key undoes."""
    return text.rpartition("\n")[0]


@pytest.fixture
def unread(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody may read the entries of the book."""

    def read(*_: object) -> None:
        pytest.fail("the book was read for a page")

    monkeypatch.setattr(Daybook, "entries", read)


def eggs_on_cress(text: str) -> str:
    """What stands behind the share that the searches of cress find; '' where no line has it."""
    return next(
        (
            line.partition(" % ")[2].split()[0]
            for line in text.splitlines()
            if line.split()[:1] == ["cress"] and " % " in line
        ),
        "",
    )


async def test_no_page_reads_the_book(story: Story, unread: None) -> None:
    tell(story, SEASON)
    story.later(days=2)
    tell(story, "K2 searched 5 brood=A-1\nR4 died 3 larvae")
    assert eggs_on_cress(await page(story, "i")) == "5"
    assert "3 DIED" not in await page(story, "8"), "two days after it was given"
    assert "A-1" in await page(story, "z")


async def test_a_search_that_is_crossed_out_is_gone_and_one_typed_late_is_there(
    story: Story, unread: None
) -> None:
    tell(story, SEASON)
    story.later(days=2)
    tell(story, "K2 searched 5 brood=A-1")
    assert eggs_on_cress(await page(story, "i")) == "5"
    story.desk.strike_last()
    assert "cress" in await page(story, "i")
    assert eggs_on_cress(await page(story, "i")) != "5"
    story.later(days=3)
    tell(story, "K2 searched 4 brood=A-1")
    story.type("K2 searched 2 brood=A-1 at -2d")
    assert eggs_on_cress(await page(story, "i")) == "6"


async def test_a_death_typed_late_is_told_of_the_cutting_that_they_had_then(
    story: Story, unread: None
) -> None:
    tell(story, SEASON)
    story.later(days=3)
    tell(story, "R4 host out cress binned\nR4 host in cress leaf water batch=E")
    story.later(hours=2).type("R4 died 2 larvae at -70h")
    text = await page(story, "8")
    (row,) = [line for line in text.splitlines() if line.split()[:2] == ["D", "cress"]]
    assert "2 DIED" in row


async def test_pages_are_the_same_after_the_lid_was_closed(
    story: Story, monkeypatch: pytest.MonkeyPatch, unread: None, tmp_path: Path
) -> None:
    monkeypatch.setattr("rounds.app.reading.WORTH_A_CHECKPOINT", 1)
    tell(story, SEASON)
    story.later(days=2)
    tell(story, "K2 searched 5 brood=A-1\nR4 died 3 larvae\nroom air 22C")
    before = [without_keys(await page(story, key)) for key in "i2z"]
    story.desk.reading.rest()
    assert list(story.folder.glob("checkpoint-*"))
    monkeypatch.setattr(
        "rounds.daybook.full_read.history_of",
        lambda _: pytest.fail("the checkpoint was not believed"),
    )
    story.reopen()
    assert [without_keys(await page(story, key)) for key in "i2z"] == before
    tell(story, "K2 searched 1 brood=A-1")
    assert eggs_on_cress(await page(story, "i")) == "6"
