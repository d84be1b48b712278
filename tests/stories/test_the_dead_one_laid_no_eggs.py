"""Which of two females died is known better later: a brood that began since then is of the one who lived."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def corrected(story: Story) -> Story:
    story.at("2027-05-14 18:00").type("K2 2 females Pieris napi on garlic mustard")
    story.at("2027-05-15 18:30").type("K2 searched 7", "K2 PIE-27-01 died 15 May 18:29")
    story.at("2027-05-16 18:30").type("K2 searched 5")
    assert story.shell("check").status == 0
    died = next(one["id"] for one in story.on_disk() if one["what"] == "died")
    story.at("2027-05-17 18:30").type(f"struck {died}", "K2 PIE-27-02 died 15 May 18:29")
    return story


GONE = (
    "PIE-27-02 was there no more and PIE-27-01 was there too; say whose they are, as: PIE-27-02/A is"
    " of PIE-27-01"
)


async def test_it_is_told_and_a_line_mends_it(corrected: Story) -> None:
    assert GONE in corrected.shell("check").out
    assert GONE in corrected.shell("due").err
    async with corrected.screens((120, 40)) as screen:
        assert "1 LINE DOES NOT FIT" in screen.words
        await screen.press("z")
        assert GONE in screen.words
        await screen.press("escape")
        await screen.type("PIE-27-02/A is of PIE-27-01")
        assert "FIT" not in screen.words
        await screen.press("z")
        assert "PIE-27-02/A 5 eggs" in screen.words
        assert "PIE-27-02/A 5 eggs" in screen.words.split("PIE-27-01 ", 1)[1]
    assert GONE not in corrected.shell("check").out
    assert corrected.desk.bench.broods["PIE-27-02/A"].mothers == ("PIE-27-01",)
    assert corrected.desk.bench.containers["K2"].count("egg") == 12


def test_the_line_that_mends_can_be_undone(corrected: Story) -> None:
    corrected.type("PIE-27-02/A is of PIE-27-01")
    corrected.desk.strike_last()
    assert GONE in corrected.shell("check").out
    corrected.reopen()
    assert corrected.desk.bench.broods["PIE-27-02/A"].mothers == ("PIE-27-02",)


def test_said_of_either_or_of_nobody_known(corrected: Story) -> None:
    corrected.type("PIE-27-02/A is of PIE-27-01 or PIE-27-02")
    assert corrected.desk.bench.broods["PIE-27-02/A"].mothers == ("PIE-27-01", "PIE-27-02")
    told = corrected.refused("PIE-27-02/A is of whom")
    assert told == "PIE-27-02/A is of whom? As: PIE-27-02/A is of PIE-27-01"


def test_nothing_is_told_of_eggs_that_she_may_have_laid(story: Story) -> None:
    story.at("2027-05-14 18:00").type("K2 2 females Pieris napi on garlic mustard")
    story.at("2027-05-15 18:30").type("K2 searched 7")
    story.at("2027-05-17 18:30").type("K2 searched 5", "K2 PIE-27-02 died 16 May 18:40")
    assert "no more" not in story.shell("check").out
