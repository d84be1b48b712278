"""A cup told in one line, with the time it was set up behind the plant: the time holds for all of it, or is asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

TIMES = {
    "yesterday": "2027-06-01T12:00",
    "-2h": "2027-06-02T16:10",
    "2 hours ago": "2027-06-02T16:10",
    "8:00": "2027-06-02T08:00",
    "at 8:00": "2027-06-02T08:00",
    "since 8:00": "2027-06-02T08:00",
    "since yesterday": "2027-06-01T12:00",
    "21 May 2027 18:00": "2027-05-21T18:00",
    "since 21 May": "2027-05-21T12:00",
    "on 21 May 18:00": "2027-05-21T18:00",
    "yesterday evening at 19:30": "2027-06-01T19:30",
    "at noon": "2027-06-02T12:00",
    "Mon 19:30": "2027-05-31T19:30",
}
HOLDS = ["15 L3", "2 females", "20 eggs", "6 pupae"]


@pytest.fixture
def keeper(story: Story) -> Story:
    story.at("2027-05-01 07:00").type("K1 set up laying shelf=sill")
    return story.at("2027-06-02 18:10")


@pytest.mark.parametrize("holds", HOLDS)
@pytest.mark.parametrize("time", TIMES)
def test_it_holds_for_every_entry_of_the_line(keeper: Story, holds: str, time: str) -> None:
    line = f"K2 {holds} Hyles euphorbiae on spurge {time}"
    shown, before = keeper.preview(line), len(keeper.on_disk())
    keeper.type(line)
    written = keeper.on_disk()[before:]
    assert {entry["at"][:16] for entry in written} == {TIMES[time]}
    assert [entry["plant"] for entry in written if entry["what"] == "host in"] == ["spurge"]
    assert not any("caught" in entry or entry["what"] == "note" for entry in written)
    assert TIMES[time][11:] in shown.partition("K2")[0]


@pytest.mark.parametrize(
    "line",
    [
        "K2 15 L3 Hyles euphorbiae yesterday 18:00",
        "K2 15 L3 Hyles euphorbiae since yesterday 18:00",
        "K2 15 L3 Hyles euphorbiae yesterday 18:00 on spurge",
        "K2 15 L3 Hyles euphorbiae from Weir Hill yesterday 18:00",
        "K2 2 females Hyles euphorbiae since yesterday 18:00",
        "yesterday 18:00 K2 2 females Hyles euphorbiae",
        "K2 yesterday 18:00 15 L3 Hyles euphorbiae on spurge",
    ],
)
def test_also_without_a_plant_and_in_front(keeper: Story, line: str) -> None:
    before = len(keeper.on_disk())
    keeper.type(line)
    assert {entry["at"][:16] for entry in keeper.on_disk()[before:]} == {"2027-06-01T18:00"}
    assert "caught" not in str(keeper.on_disk()[before:])


async def test_the_echo_says_when(keeper: Story) -> None:
    async with keeper.screens((200, 40)) as screen:
        await screen.type("K2 15 L3 Hyles euphorbiae on spurge yesterday 18:00")
        assert "Tue 18:00" in screen.message


def test_of_females_it_is_asked_whether_it_was_the_catch(keeper: Story) -> None:
    asked = keeper.refused("K2 2 females Hyles gallii yesterday")
    caught, since = asked.partition("As: ")[2].split("; or: ")
    (told,) = keeper.type(caught)
    assert {one.get("caught", "")[:10] for one in keeper.on_disk()[-2:]} == {"2027-06-01"}
    assert {one["at"][:10] for one in keeper.on_disk()[-3:]} == {"2027-06-02"}
    assert "caught Tue" in told
    keeper.desk.strike_last()
    keeper.type(since)
    assert {one["at"][:10] for one in keeper.on_disk()[-3:]} == {"2027-06-01"}


def test_the_cutting_keeps_its_time(keeper: Story) -> None:
    keeper.type("K2 15 L3 Hyles euphorbiae on spurge cut yesterday")
    last = keeper.on_disk()[-1]
    assert (last["at"][:10], last["cut"][:10]) == ("2027-06-02", "2027-06-01")


@pytest.mark.parametrize("code", ["K1", "K2"])
def test_a_part_of_a_day_asks_its_hour_in_a_cup_that_stands_too(keeper: Story, code: str) -> None:
    line = f"{code} 1 female Hyles gallii on gorse yesterday evening"
    asked = keeper.refused(line)
    assert "yesterday evening at what time?" in asked
    keeper.type(line.replace("yesterday evening", asked.rpartition("say it as: ")[2]))
    assert keeper.on_disk()[-1]["at"][:16] == "2027-06-01T19:30"


def test_of_a_cup_that_stands_the_shelf_is_no_part_of_the_plant(keeper: Story) -> None:
    asked = keeper.refused("K1 15 L3 Hyles gallii on bedstraw sill 2")
    keeper.type(asked.partition("as: ")[2])


def test_a_shelf_behind_the_plant_is_where_it_stands(keeper: Story) -> None:
    keeper.type(
        "K4 15 L3 Hyles gallii on bedstraw sill 2", "K5 6 L3 Hyles gallii on bedstraw on sill"
    )
    cups = keeper.desk.bench.containers
    assert (cups["K4"].shelf, cups["K4"].place, cups["K5"].shelf) == ("sill", 2, "sill")
    assert {host.plant for code in ("K4", "K5") for host in cups[code].hosts} == {"bedstraw"}
