"""A search of one of two plants says nothing of the other: what was not searched is still due, by its name."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUP = """
    K7 1 female Callophrys arenosa on gorse, rockrose
    room 20/24
"""


@pytest.fixture
def cup(story: Story) -> Story:
    """One female with two plants, looked at and fed at each round of a day; none was searched yet."""
    tell(story.at("2027-06-01 08:00"), CUP)
    return evening_and_morning(story, 1)


def evening_and_morning(story: Story, day: int) -> Story:
    """Looked at and fed in the evening of a day and in the morning of the next."""
    for at in (f"2027-06-{day:02} 19:00", f"2027-06-{day + 1:02} 08:00"):
        story.at(at).type("K7 looked", "K7 drank", "K7 host fresh", "room 20/24")
    return story


def finds(story: Story) -> list[tuple[str, int]]:
    lines = [one for one in story.on_disk() if one["what"] == "searched"]
    return [(one.get("plant", ""), one["found"]) for one in lines]


def test_the_other_plant_is_still_due_and_named(cup: Story) -> None:
    assert "eggs" in cup.due("K7")
    cup.type("K7 searched 0 gorse")
    told = cup.due("K7")["eggs"]
    assert "rockrose not yet" in told["last"], told
    assert "gorse 08:00" in told["last"], told
    assert "rockrose" in told["arithmetic"], told
    cup.type("K7 searched 0 rockrose")
    assert "eggs" not in cup.due("K7")


def test_a_search_of_all_is_one_of_each(cup: Story) -> None:
    cup.type("K7 searched 0")
    assert "eggs" not in cup.due("K7")


def test_left_out_for_days_it_becomes_urgent(cup: Story) -> None:
    for day in (2, 3):
        cup.type("K7 searched 2 gorse")
        evening_and_morning(cup, day)
    cup.type("K7 searched 1 gorse")
    told = cup.due("K7")["eggs"]
    assert told["state"] == "urgent", told
    assert "K7" in cup.shell("due").out
    assert "rockrose" in cup.shell("due").out


async def test_the_stop_asks_for_the_plant_that_was_left_out(cup: Story) -> None:
    cup.type("K7 searched 3 gorse")
    cup.later(minutes=5)
    async with cup.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K7")
        assert "How many eggs found on rockrose" in screen.words
        await screen.press("0")
    assert finds(cup)[-1] == ("rockrose", 0)
    assert "eggs" not in cup.due("K7")


async def test_where_both_are_due_the_stop_asks_for_both(cup: Story) -> None:
    cup.type("K7 searched 3 gorse")
    evening_and_morning(cup, 2)
    async with cup.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K7")
        assert "How many eggs found, by" in screen.words
        await screen.press("0")
    assert finds(cup)[-1] == ("", 0)
    assert "eggs" not in cup.due("K7")


def test_on_lines_too(cup: Story) -> None:
    cup.type("K7 searched 3 gorse")
    said = " ".join(cup.later(minutes=5).plain(["-", "m"] * 20))
    assert "How many eggs found on rockrose" in said, said


def test_a_plant_that_came_later_is_not_overdue(cup: Story) -> None:
    cup.type("K7 host out held rockrose sure", "K7 searched 0 gorse")
    for day in (2, 3):
        evening_and_morning(cup, day).type("K7 searched 0 gorse")
    cup.type("K7 host in rockrose")
    assert "eggs" not in cup.due("K7")
    evening_and_morning(cup, 4).type("K7 searched 0 gorse")
    assert "rockrose" in cup.due("K7")["eggs"]["arithmetic"]


def test_a_changed_plant_was_not_searched(cup: Story) -> None:
    """Its old stems came out unsearched: asked still, and an answer at this stop is of those."""
    cup.type("K7 searched 0 gorse", "K7 host changed rockrose")
    assert "rockrose" in cup.due("K7")["eggs"]["arithmetic"]
    cup.later(minutes=2).type("K7 searched 4 rockrose")
    (held,) = cup.desk.bench.containers["K7"].held
    assert (held.plant, held.eggs) == ("rockrose", 4)
    assert "eggs" not in cup.due("K7")


def test_kept_stems_are_no_search_of_what_stands_there(cup: Story) -> None:
    cup.type("K7 searched 0", "K7 host out held rockrose sure")
    evening_and_morning(cup, 2).type("K7 searched 0 lot=1")
    assert "eggs" in cup.due("K7")


async def test_one_rule_with_the_page_of_no_eggs(cup: Story) -> None:
    """What is due is what page i says is not searched."""
    evening_and_morning(cup, 2).type("K7 searched 0 gorse")
    assert "rockrose" in cup.due("K7")["eggs"]["arithmetic"]
    async with cup.screens(size=(100, 50)) as screen:
        await screen.press("i")
        assert "Nobody has searched rockrose yet." in screen.words
        assert "rockrose: not searched in the 2.0 warm, fed female-days" in screen.words
    cup.type("K7 searched 0 rockrose")
    assert "eggs" not in cup.due("K7")


async def test_a_stop_is_not_left_before_its_second_plant(cup: Story) -> None:
    async with cup.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K7")
        await screen.press("4", "g", "1")
        assert (screen.check, screen.where) == ("eggs", "K7")
        assert "How many eggs found on rockrose" in screen.words
        await screen.press("0")
        assert (screen.check, screen.where) != ("eggs", "K7")
    assert finds(cup) == [("gorse", 4), ("rockrose", 0)]


async def test_a_plant_is_left_alone_only_where_it_was_searched(cup: Story) -> None:
    async def said(words: str) -> None:
        async with cup.screens(size=(110, 50)) as screen:
            await screen.press("i")
            assert words in screen.words
            assert ("alone: no change" in screen.words) == ("alone: no change" in words)

    cup.type("K7 searched 4 gorse")
    await said("She lays on gorse; rockrose not searched yet.")
    evening_and_morning(cup, 2).type("K7 searched 4 gorse", "K7 searched 0 rockrose")
    await said("She lays on gorse; whether she leaves rockrose alone is too early to say:")
    evening_and_morning(cup, 3).type("K7 searched 4 gorse", "K7 searched 0 rockrose")
    await said("She lays on gorse and leaves rockrose alone: no change is needed.")
