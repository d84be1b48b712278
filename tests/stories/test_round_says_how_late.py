"""The stop says how late and how dangerous each check is, the worst first, and why it is asked."""

from __future__ import annotations

import re

import pytest

from tests.stories.telling import Story, tell, tell_demo

BENCH = """
K2 set up laying place=1
K2 founder MOR-27-01, Melitaea cinxia female
K2 host in plantain leaf water 3 sprigs
K3 set up laying place=2
K3 founder MOR-27-02, Melitaea cinxia female
K3 host in plantain leaf water 3 sprigs
brood MOR-27-01/A mothers=MOR-27-01 laid_from=-20d laid_to=-20d
R4 set up rearing place=3
R4 host in plantain leaf water
R4 stocked 9 L3 MOR-27-01/A
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """Two females and a brood since eight in the morning."""
    story.at("2027-05-01 08:00")
    tell(story, BENCH)
    return story


async def test_food_that_is_in_danger_is_said_so_at_the_stop_and_asked_first(bench: Story) -> None:
    bench.at("2027-05-03 08:00")  # two days: plan L3 late 30 h, urgent 36 h, in danger 47 h
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert screen.check == "food"
        assert "# in danger   food" in screen.text
        assert "in danger since 07:00" in screen.text
        assert "in danger after 47 h" in " ".join(screen.text.split())
        assert ". due         look" in screen.text


async def test_what_is_only_due_makes_no_noise(bench: Story) -> None:
    bench.at("2027-05-01 18:00")
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert screen.check == "drink"
        assert ". due         drink" in screen.text
        assert "danger since" not in screen.text
        assert "late since" not in screen.text


def test_on_lines_too(bench: Story) -> None:
    bench.at("2027-05-03 08:00")
    told = "\n".join(bench.plain(["20/24"]))
    assert "In danger, food: plantain, cut 2 d ago; in danger since 07:00." in told
    assert "Why: plan, rearing, L3-L4: every 24 h; late after 30 h" in told


def test_of_two_females_the_one_in_danger_comes_first_and_the_stop_says_so(bench: Story) -> None:
    bench.at("2027-05-01 18:00")
    tell(bench, "K2 drank\nR4 host seen plenty\nR4 looked\nR4 cleaned\nroom air 20C")
    bench.at("2027-05-02 17:00")  # K3 came 33 h ago and did not drink; in danger after 31 h
    tell(bench, "R4 host seen plenty\nR4 looked\nR4 cleaned\nroom air 20C")
    printed = bench.plain(["h", " ", " ", "0", "0", " "])
    told = "\n".join(printed)
    assert told.index("K3, 1 female") < told.index("K2, 1 female")
    assert "K3 comes first in its group because it is in danger" in told
    assert "in danger since 15:00." in told
    # Once she drank, the rest of her stop is asked before the next cup.
    drink, look = (
        told.index("Drink. Did she drink?"),
        told.index("Look and host. Late since 14:00, urgent from Mon 08:00. Is all as usual?"),
    )
    assert drink < look < told.index("K2, 1 female")


def test_a_host_seen_fresh_each_round_is_not_missed_and_says_why_it_is_asked(bench: Story) -> None:
    for at in ("2027-05-01 18:05", "2027-05-02 07:05", "2027-05-02 18:05", "2027-05-03 07:05"):
        bench.at(at)
        tell(bench, "K2 host seen fresh")
    bench.at("2027-05-03 18:10")
    tell(bench, "K2 drank\nK2 looked\nK2 feeder changed\nK2 searched 0\nR4 host seen plenty")
    tell(
        bench,
        "R4 looked\nR4 cleaned\nroom air 20C\nK3 released\nK3 host out binned sure\nK3 closed",
    )
    printed = bench.plain(["?"])
    assert "K2, 1 female Melitaea cinxia, MOR-27-01." in printed
    host = next(
        place
        for place, line in enumerate(printed)
        if line.startswith("Host. How is the host plant?")
    )
    why = printed[host + 1]
    assert why.startswith("Why: seen fresh 07:05, but cut Sat 08:00"), why
    assert not any("missed" in line for line in printed)


def test_a_round_in_which_nobody_answered_is_missed(bench: Story) -> None:
    bench.at("2027-05-01 18:05")
    tell(bench, "R4 looked")
    bench.at("2027-05-04 07:05")
    tell(bench, "R4 host seen plenty\nR4 cleaned\nroom air 20C")
    printed = bench.plain([])
    assert any(line.startswith("Why: plan, rearing, food in water") for line in printed)


def test_a_shelfs_moat_that_was_seen_is_not_told_as_never_seen(bench: Story) -> None:
    tell(bench, "shelf set up sill barrier=moat\nK2 changed shelf=sill\nsill barrier low")
    bench.at("2027-05-01 18:05")
    told = "\n".join(bench.plain(["20/24", "?"]))
    assert "Late, barrier: last 10 h ago, barrier low; late since 08:00" in told
    assert told.count("Why: moat low, seen 08:00; plan, barrier: once a day") == 1, (
        "said once, not each time"
    )


async def test_what_should_have_begun_is_expected_since_then(story: Story) -> None:
    story.at("2027-05-17 07:05")
    tell_demo(story)
    async with story.screens() as screen:
        await screen.press("r", "!")
        assert screen.where == "R2", screen.text
        assert re.search(
            r"expected L5 (likely since|should have happened by) Sat 15 May", screen.words
        ), screen.text
