"""A porch, a shed, a garden, a winter store: each place has its own thermometer and its own limits."""

from __future__ import annotations

import pytest

from tests.stories.telling import Screen, Story, tell


def _pane(screen: Screen) -> str:
    return screen.card


def _moths_on_the_porch(story: Story, limits: str) -> None:
    story.at("2027-06-01 18:05")
    tell(
        story,
        f"""
        shelf set up porch {limits}
        M2 set up laying shelf=porch
        M2 founder W2 'Agrotis prati'
        """,
    )


def test_a_cold_porch_is_no_alarm_all_night_while_overheating_still_is(story: Story) -> None:
    _moths_on_the_porch(story, "apart cold_c=4")
    story.at("2027-06-01 23:00").type("porch air 9", "room air 16")
    assert "heat" not in story.due()

    story.at("2027-06-02 04:00").type("porch air 3")
    assert "under its limit of 4 C" in story.due("porch")["heat"]["arithmetic"]

    story.at("2027-06-02 15:00").type("porch air 34")
    assert story.due("porch")["heat"]["standing"] == "late"


def test_without_a_limit_of_its_own_a_cold_place_still_alarms(story: Story) -> None:
    _moths_on_the_porch(story, "apart")
    story.type("porch air 9")

    assert "heat" in story.due("porch")


def test_what_is_too_warm_is_said_by_the_place(story: Story) -> None:
    _moths_on_the_porch(story, "apart warm_c=24 hot_c=27")
    story.type("porch air 25")
    assert "read 25 C" in story.due("porch")["heat"]["arithmetic"]


@pytest.mark.parametrize("name", ["shed", "garden", "'back room'"])
def test_a_place_apart_is_asked_for_its_thermometer_each_round(story: Story, name: str) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        f"""
        shelf set up {name} apart
        R3 set up rearing shelf={name}
        brood R7 taxon='Boloria inachus'
        R3 stocked 6 brood=R7 stage=larva instar=3
        """,
    )
    story.at("2027-06-01 18:05")
    place = name.strip("'")
    assert story.due()["room"]["where"] == place

    printed = "\n".join(story.plain(["", "15/24", "q"]))
    assert place in printed
    assert "room" not in story.due()
    assert story.on_disk()[-1]["shelf"] == place


def test_a_limit_or_barrier_said_later_keeps_what_was_said_of_the_place(story: Story) -> None:
    story.type("shelf set up A barrier=moat apart cold_c=4", "shelf set up A warm_c=24")

    known = story.desk.bench.shelves["A"]
    assert (known.barrier, known.apart, known.cold_c, known.warm_c) == ("moat", True, 4, 24)
    newest = story.on_disk()[-1]
    assert newest["warm_c"] == 24
    assert not {"barrier", "apart", "cold_c"} & newest.keys()


def test_limits_the_wrong_way_round_are_refused(story: Story) -> None:
    assert "cold_c=26 is above warm_c=24" in story.refused("shelf set up A cold_c=26 warm_c=24")


async def test_a_sleeve_outdoors_is_not_forecast_from_the_room_without_a_word(story: Story) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        shelf set up garden apart
        P3 set up emergence shelf=garden
        brood R7 taxon='Boloria inachus'
        constants 'Boloria inachus' pupa lower_c=8 constant_dd=150
        P3 stocked 6 brood=R7 stage=pupa
        room air 22
        """,
    )
    async with story.screens((120, 40)) as screen:
        screen.highlight("P3")
        assert "nothing was read of garden" in _pane(screen)

    story.later(hours=1).type("garden air 14")
    async with story.screens((120, 40)) as screen:
        screen.highlight("P3")
        assert "nothing was read of" not in _pane(screen)


def _winter_store(story: Story, limits: str = "") -> None:
    story.at("2027-12-01 08:00")
    tell(
        story,
        f"""
        shelf set up cellar apart {limits}
        P3 set up overwintering shelf=cellar
        brood R7 taxon='Hyles arvensis'
        P3 stocked 6 brood=R7 stage=pupa
        """,
    )


@pytest.mark.parametrize(
    ("reading", "says", "standing"),
    [("12", "12 C", "late"), ("21", "21 C", "red"), ("-2", "-2 C", "red")],
)
def test_a_winter_store_that_warms_or_freezes_alarms(
    story: Story, reading: str, says: str, standing: str
) -> None:
    _winter_store(story)
    story.type(f"cellar air {reading}")

    heat = story.due("cellar")["heat"]
    assert says in heat["arithmetic"]
    assert heat["standing"] == standing
    story.later(days=2)
    assert "heat" in story.due("cellar")  # seldom read: it stands until it is read again
    story.type("cellar air 4")
    assert "heat" not in story.due()


def test_a_winter_box_read_by_itself_alarms_too(story: Story) -> None:
    _winter_store(story)
    story.type("P3 air 14")
    assert "heat" in story.due("P3")


def test_frost_is_no_alarm_where_the_place_may_freeze(story: Story) -> None:
    _winter_store(story, "cold_c=-15")
    story.type("cellar air -8")
    assert "heat" not in story.due()


def test_a_winter_store_is_asked_for_its_thermometer_when_it_is_looked_at(story: Story) -> None:
    _winter_store(story)
    story.type("cellar air 4")
    story.later(days=2)
    assert "room" not in story.due()
    story.later(days=6)
    assert story.due()["room"]["where"] == "cellar"
    assert story.shell("due", "--within", "2h", "--exit-code").status == 0
