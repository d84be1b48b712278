"""What a check is worth is one number wherever it is shown, and its sum on screen gives it."""

from __future__ import annotations

import re

import pytest

from rounds.views.plain_round import why_spoken
from tests.stories.telling import Story, tell_demo


@pytest.fixture
def demo(story: Story) -> Story:
    tell_demo(story)
    return story


def _arithmetic(story: Story, check: str, where: str) -> str:
    desk = story.desk
    due = next(due for due in desk.dues() if (due.check, due.where) == (check, where))
    lines = list(why_spoken(desk.bench, due, desk.moment(), desk.foresight))
    return next(line for line in lines if line.startswith("Worth: "))


async def test_the_card_shows_what_the_order_goes_by(demo: Story) -> None:
    for where in ("E7", "E5"):
        row = demo.due(where)["leaf"]
        stake = re.match(r".*?; ((?:about )?\d+ eggs?) may hatch before", row["worth"])
        assert stake, row["worth"]
        async with demo.screens((160, 60)) as screen:
            screen.highlight(where)
            await screen.pilot.pause()
            assert f"{stake[1]} may hatch before the next round" in " ".join(screen.card.split())
            await screen.press("question_mark", "question_mark")
            assert f"= {row['lost_if_left']:.2g} lost if left" in screen.words


def test_those_on_a_shelf_add_up(demo: Story) -> None:
    row = demo.due("window")["ants"]
    told = _arithmetic(demo, "ants", "window")
    total, parts = re.search(r"\. ([\d.]+) animals \((.*?)\) x", told).groups()
    assert "3 eggs, 11 adults, " in parts
    assert sum(float(part.split()[0]) for part in parts.split(", ")) == pytest.approx(
        float(total), abs=0.06
    )
    chance, each = (float(one) / 100 for one in re.findall(r"x ([\d.]+) % ", told))
    assert float(total) * chance * each == pytest.approx(row["lost_if_left"], rel=0.05)


def test_a_chance_that_is_known_is_drawn_from_no_records(demo: Story) -> None:
    told = _arithmetic(demo, "ants", "window")
    assert "x 100 % (it needs doing whatever is found)" in told
