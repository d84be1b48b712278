"""Counted up, then down again: those that are short are asked about, and were never there if the
keeper says so; what came and what became of it stay the same number."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story

BEGIN = ("R1 set up rearing", "R2 set up rearing", "R1 14 L3 Zygaena levis on kidney vetch")


@pytest.fixture
def cup(story: Story) -> Story:
    """Fourteen larvae."""
    story.at("2026-06-14 07:30").type(*BEGIN)
    return story.later(hours=1)


async def sum_of(story: Story) -> str:
    """The account of the brood, as its page has it."""
    async with story.screens(size=(120, 40)) as screen:
        await screen.press("z", "down")
        found = re.search(r"sum +(.*)", screen.text)
        assert found, screen.text
        return found[1].strip()


@pytest.mark.parametrize(
    ("lines", "account"),
    [
        (
            ["R1 counted 20", "R1 counted 14", "R1 settled miscounted 6"],
            "14 came (14 L3) = 14 alive",
        ),
        (
            ["R1 counted 20", "R1 counted 14", "R1 settled never there 6"],
            "14 came (14 L3) = 14 alive",
        ),
        (
            ["R1 counted 10", "R1 counted 20", "R1 counted 14", "R1 settled miscounted 6"],
            "14 came (14 L3) = 14 alive",
        ),
        (
            ["R1 counted 20", "R1 died 2", "R1 counted 12", "R1 settled miscounted 6"],
            "14 came (14 L3) = 12 alive + 2 died (2 L3)",
        ),
        (
            ["R1 counted 20", "R1 moved 12 to R2", "R2 counted 6", "R2 settled miscounted 6"],
            "14 came (14 L3) = 14 alive",
        ),
        (
            ["R1 counted 20", "R1 counted 14", "R1 counted 18", "R1 settled miscounted 2"],
            "18 came (18 L3; 4 of them by counts above the record) = 18 alive",
        ),
        (["R1 counted 13", "R1 settled miscounted 1"], "13 came (13 L3) = 13 alive"),
        (
            ["R1 counted 20", "R1 moulted 20 L4", "R1 counted 14", "R1 settled miscounted 6"],
            "20 came (20 L3; 6 of them by counts above the record) = 14 alive + 6 miscounted (6 L4)",
        ),
    ],
)
async def test_what_was_never_there_did_not_come(
    cup: Story, lines: list[str], account: str
) -> None:
    for line in lines:
        cup.type(line)
        cup.later(minutes=20)
    assert await sum_of(cup) == account


async def test_until_then_they_are_asked_about(cup: Story) -> None:
    cup.type("R1 counted 20")
    cup.later(minutes=20).type("R1 counted 14")
    assert "+ 6 not seen (6 L3)" in await sum_of(cup)
    assert "balance" in cup.due("R1")
    printed = "\n".join(cup.plain(["?"] * 30))
    assert "never there, miscounted" in printed


def test_no_more_than_are_missing_were_never_there(cup: Story) -> None:
    cup.type("R1 counted 13")
    assert "R1 has 1 not seen" in cup.refused("R1 settled miscounted 2")
