"""Adults whose wings failed are told apart from the others: on card, pages and tables, and by whoever takes one of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from rounds.exchange.source import Source
from rounds.exchange.tables.tables import TABLES
from rounds.views.card import card
from tests.stories.telling import Story


@pytest.fixture
def emerged(story: Story) -> Story:
    """Four adults, one of them with wings that failed."""
    story.at("2027-05-01 08:00").type(
        "R1 set up rearing", "R2 set up holding", "R1 4 pupae Pieris napi"
    )
    story.at("2027-05-03 08:00").type("R1 emerged 4", "R1 crippled 1")
    return story


def crippled(story: Story, code: str = "R1") -> list[int]:
    """How many stand there sound, and how many crippled."""
    lots = story.desk.bench.containers[code].lots
    return [sum(lot.number for lot in lots if lot.crippled is one) for one in (False, True)]


@pytest.mark.parametrize(
    "line", ["released 1", "moved 1 to R2", "preserved 1", "died 1", "escaped 1"]
)
def test_which_one_is_asked(emerged: Story, line: str) -> None:
    told = emerged.refused(f"R1 {line}")
    assert told == "R1 holds 3 adults and 1 crippled; say which: sound or crippled"
    for word, left in (("crippled", [3, 0]), ("sound", [2, 1])):
        emerged.type(f"R1 {line} {word}")
        assert crippled(emerged) == left
        emerged.type("undo")


def test_a_split_asks_too(emerged: Story) -> None:
    told = emerged.refused("R1 split into R2 1 adult")
    assert told == "R1 holds 3 adults and 1 crippled; say which: sound or crippled"
    assert emerged.refused("R1 split into R2 2 adults").endswith("say which: sound")
    emerged.type("R1 split into R2 1 adult crippled")
    assert (crippled(emerged), crippled(emerged, "R2")) == ([3, 0], [0, 1])
    emerged.type("undo", "R3 set up holding")
    assert "who go last" in emerged.refused("R1 split into R2,R3 3,1")
    emerged.type("R1 split into R2,R3 3,1 wings=both")
    assert (crippled(emerged, "R2"), crippled(emerged, "R3")) == ([3, 0], [0, 1])


def test_the_crippled_one_is_not_released_unasked(emerged: Story) -> None:
    asked = "R1 holds 3 adults and 1 crippled; say which: 3 sound or wings=both"
    assert emerged.refused("R1 released all") == emerged.refused("R1 released 4") == asked
    emerged.type("R1 released all sound")
    assert crippled(emerged) == [0, 1]
    assert "all that are left are crippled" in emerged.refused("R1 released 1")
    emerged.type("R1 released 1 crippled")
    assert emerged.on_disk()[-1]["wings"] == "crippled"  # and no note beside it
    assert crippled(emerged) == [0, 0]


def test_it_is_said_of_it_wherever_it_goes(emerged: Story, tmp_path: Path) -> None:
    emerged.type("R1 moved 1 crippled to R2", "R2 missing 1", "R2 settled found 1")
    emerged.reopen()
    assert (crippled(emerged), crippled(emerged, "R2")) == ([3, 0], [0, 1])
    desk = emerged.desk
    shown = card(desk.bench, desk.dues(), desk.moment(), "R2", desk.foresight)
    assert any("1 adult of PIE-27-01, crippled" in line.text for line in shown)
    stock = TABLES["stock"]
    rows = [dict(zip(stock.headings, row, strict=True)) for row in stock.rows(Source(desk))]
    assert [(row["crippled"], row["number"]) for row in rows] == [("no", 3), ("yes", 1)]
    events = TABLES["events"]
    rows = [dict(zip(events.headings, row, strict=True)) for row in events.rows(Source(desk))]
    adults = [row for row in rows if row["stage"] == "adult"]
    assert sorted((row["crippled"], row["number"]) for row in adults) == [("no", 3), ("yes", 1)]
    to = tmp_path / "season.md"
    assert emerged.shell("export", "season", str(to)).status == 0
    assert "| adults | of them crippled |" in to.read_text()


def test_a_count_that_is_short_says_whom_it_takes(emerged: Story) -> None:
    assert "taken for 1 crippled adult" in emerged.type("R1 counted 3 adults")[0]


async def test_the_page_of_broods_says_it(emerged: Story) -> None:
    async with emerged.screens((120, 40)) as screen:
        await screen.press("z", "down", "down")
        assert "R1 3 adults, 1 adult crippled" in screen.words


@pytest.mark.parametrize("word", ["crippled", "deformed", "crumpled"])
@pytest.mark.parametrize("number", ["1", "one"])
def test_failed_wings_by_any_word_are_counted(story: Story, word: str, number: str) -> None:
    story.at("2027-06-01 07:05").type("P1 6 pupae Aglais io")
    (told,) = story.type(f"P1 2 out, {number} {word}")
    assert told.startswith("P1 emerged 2, 1 crippled")
