"""Cannibals: thirty larvae go into thirty cups of their own by one line."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
shelf set up rack
R3 set up rearing shelf=rack place=4 lid=gauze volume=90
R4 set up rearing shelf=rack place=5
R3 host in hawthorn leaf 3 sprigs
brood COS-27/A taxon='Cosmia pyralina'
R3 stocked 30 L3 COS-27/A
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """Thirty larvae in one cup on a rack, another cup beside it."""
    story.at("2027-05-01 08:00")
    tell(story, BENCH)
    return story.later(minutes=20)


async def test_thirty_larvae_go_into_thirty_cups_in_under_sixty_keys(bench: Story) -> None:
    line = "split 1 each into new C2-C31"
    async with bench.screens() as screen:
        screen.highlight("R3")
        await screen.press("t", *(letter if letter != " " else "space" for letter in line))
        assert "C2" in screen.message
        await screen.press("enter")
        stood = bench.desk.bench
        assert sorted(code for code in stood.containers if code.startswith("C")) == sorted(
            f"C{number}" for number in range(2, 32)
        )
    assert 1 + len(line) + 1 < 60
    cups = [bench.desk.bench.containers[f"C{number}"] for number in range(2, 32)]
    assert [(one.purpose, one.shelf, one.lid, one.volume_ml) for one in cups] == [
        ("rearing", "rack", "gauze", 90)
    ] * 30
    assert [one.place for one in cups] == list(range(6, 36)), "they stand behind what stands there"
    assert [[(lot.number, lot.instar, lot.brood) for lot in one.lots] for one in cups] == [
        [(1, 3, "COS-27/A")]
    ] * 30
    assert bench.desk.bench.containers["R3"].count() == 0


async def test_one_undo_takes_all_of_it_back(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.type("R3 split 1 each into new C2-C31")
        await screen.press("u")
    assert [one.code for one in bench.desk.bench.standing()] == ["R3", "R4"]
    assert bench.desk.bench.containers["R3"].count() == 30


def test_thirty_are_shared_evenly_and_what_does_not_add_up_is_refused(bench: Story) -> None:
    assert "30 out of R3" not in bench.preview("R3 split 30 into new C2-C31")
    assert "but it holds 30 larvae" in bench.refused("R3 split 1 each into new C2-C33")
    assert "R4 stands on the bench already" in bench.refused("R3 split 1 each into new R4-R9")
    assert "split 1 each into new C2" in bench.refused("R3 split 1 each into C2-C31")
    assert [one.code for one in bench.desk.bench.standing()] == ["R3", "R4"], "all or nothing"
    assert "4 containers but 1 numbers" in bench.refused("R3 split 10 into new C2-C5")
    bench.type("R3 split 12 into new C2-C5")
    assert [bench.desk.bench.containers[f"C{number}"].count() for number in range(2, 6)] == [
        3,
        3,
        3,
        3,
    ]
    assert bench.desk.bench.containers["R3"].count() == 18
    bench.type("C2-C5 host in hawthorn leaf 8 sprigs")
    assert [line["sprigs"] for line in bench.on_disk() if line["what"] == "host in"][1:] == [
        2,
        2,
        2,
        2,
    ]
