"""What was not sure is confirmed as it was seen: on its plant, with its aid, at its time; to say so
is no search of its own."""

from __future__ import annotations

import json

import pytest

from tests.stories.telling import Story


@pytest.fixture
def laying(story: Story) -> Story:
    story.at("2027-06-01 08:00").type("K6 set up laying")
    story.type("K6 2 female Pieris napi on garlic mustard")
    return story


def test_the_plant_and_the_aid_of_a_sighting_stay(laying: Story) -> None:
    laying.type("K6 host in cuckooflower")
    laying.at("2027-06-02 18:00").type("K6 searched 2 unsure lens on cuckooflower")
    (told,) = laying.later(minutes=30).type("K6 confirmed 2")
    assert "2 confirmed, lens, cuckooflower" in told
    laying.later(minutes=30).type("K6 host changed all")
    held = laying.desk.bench.at("K6").held
    assert {lot.plant: lot.eggs for lot in held} == {"garlic mustard": 0, "cuckooflower": 2}
    of_plants = {
        one.plant: one.eggs for one in laying.desk.reckoning.tallies.on_hosts(laying.desk.now())
    }
    assert of_plants == {"garlic mustard": 0, "cuckooflower": 2}


def next_search(story: Story) -> str:
    rows = json.loads(story.shell("due", "--json", "--within", "72h").out)["due"]
    return next(row["due"] for row in rows if row["check"] == "eggs")


async def by_key(story: Story) -> None:
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K6")
        await screen.press("y")


async def by_prompt(story: Story) -> None:
    story.type("K6 confirmed 2")


DOORS = pytest.mark.parametrize("confirm", [by_key, by_prompt])


@DOORS
async def test_it_is_no_search_of_the_stems_that_stand_now(laying: Story, confirm) -> None:
    laying.at("2027-06-01 18:00").type("K6 searched 2 unsure lens")
    laying.later(hours=1).type("K6 host changed, old kept")
    laying.at("2027-06-02 18:00")
    await confirm(laying)
    cup = laying.desk.bench.at("K6")
    assert cup.count("egg") == 2
    assert [(host.eggs, host.searches) for host in cup.hosts] == [(0, [])], "the new stems"
    assert [lot.eggs for lot in cup.held] == [2], "they are on the stems that stood then"
    assert next_search(laying) == "2027-06-03T18:00:00+02:00", "from the search that saw them"
    said = [one for one in laying.on_disk() if one["what"] == "searched"][-1]
    assert said["aid"] == "lens"
    (on_host,) = laying.desk.reckoning.tallies.on_hosts(laying.desk.now())
    assert (on_host.eggs, on_host.searches) == (2, 1)
    assert on_host.female_days == pytest.approx(2 * 10 / 24), "up to its sighting, in the light"


@DOORS
async def test_it_is_no_second_search_of_the_stems_of_its_sighting(laying: Story, confirm) -> None:
    laying.at("2027-06-01 18:00").type("K6 searched 2 unsure lens")
    laying.at("2027-06-02 18:00")
    await confirm(laying)
    (host,) = laying.desk.bench.at("K6").hosts
    assert [(one.found, one.at.hour) for one in host.searches] == [(2, 18)]
    assert host.eggs == 2
    assert next_search(laying) == "2027-06-03T18:00:00+02:00", "from the search that saw them"


async def test_none_of_them_is_an_egg_and_the_question_stays(laying: Story) -> None:
    laying.at("2027-06-01 18:00").type("K6 searched 2 unsure lens")
    laying.at("2027-06-02 18:00")
    async with laying.screens() as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K6")
        await screen.press("r")
        assert (screen.check, screen.where) == ("eggs", "K6"), "today is not searched yet"
    assert next_search(laying) == "2027-06-02T18:00:00+02:00"


@pytest.fixture
def two_plants(story: Story) -> Story:
    """What may be eggs was seen in a cup of two plants; nobody said on which."""
    story.at("2031-06-11 18:00").type("K2 1 female Satyrium spini on buckthorn, sloe")
    story.at("2031-06-12 07:00").type("K2 searched 2 unsure")
    return story.later(minutes=20)


def test_of_two_plants_it_is_asked_on_which(two_plants: Story) -> None:
    told = two_plants.refused("K2 confirmed 2")
    assert "2 confirmed: on which plant? K2 has buckthorn and sloe" in told
    two_plants.type("K2 confirmed 2 on sloe")
    assert two_plants.desk.bench.at("K2").count("egg") == 2


@pytest.mark.parametrize("line", ["K2 confirmed 2 not known", "K2 not eggs"])
def test_none_or_not_known_is_taken(two_plants: Story, line: str) -> None:
    two_plants.type(line)


async def test_by_key_it_is_asked_too(two_plants: Story) -> None:
    async with two_plants.screens((120, 40)) as screen:
        screen.highlight("K2")
        await screen.press("e", "y")
        assert "on which plant?" in screen.words
        assert not two_plants.desk.bench.at("K2").count("egg")
        await screen.press("2")
    assert two_plants.on_disk()[-1]["plant"] == "sloe"
