"""Eggs found as stems come out are on those stems; all plants go back in; what is not sure is no egg until it is settled."""

from __future__ import annotations

import csv

from tests.stories.telling import Story, tell
from tests.stories.test_stems_are_never_lost import begin, row_of, shown, two_lots


async def test_eggs_found_after_c_are_on_what_came_out(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:10")
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("host", "K2")
        await screen.press("c")
        await screen.walk_to("eggs", "K2")
        await screen.press("5", "enter")
    searched = story.on_disk()[-1]
    assert (searched["container"], searched["found"]) == ("E2", 5)
    brood = next(line for line in story.on_disk() if line["what"] == "brood")
    assert (brood["laid_from"][:16], brood["laid_to"][:16]) == (
        "2027-05-22T07:00",
        "2027-05-24T07:10",
    )
    assert "eggs" not in story.due("K2")
    text = await shown(story, "E2")
    assert "5 eggs" in text
    assert "searched 1 time," in text


def test_eggs_found_after_the_change_count_for_the_plant_that_came_out(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:10")
    story.type("K2 host out held in E2", "K2 host in veronica leaf", "K2 searched 5")
    story.at("2027-05-26 07:10").type("K2 searched 2")
    ran = story.shell("export", "csv", str(story.folder.parent / "out.csv"), "--table", "laying")
    assert ran.status == 0, ran.err
    rows = csv.DictReader((story.folder.parent / "out.csv").read_text("utf-8-sig").splitlines())
    assert {row["host"]: row["eggs"] for row in rows if row["container"] == "K2"} == {
        "plantago": "5",
        "veronica": "2",
    }


async def test_changed_puts_back_every_plant_that_stood_there(story: Story) -> None:
    begin(story)
    tell(story, "K2 host in veronica leaf 2 sprigs")
    story.at("2027-05-24 07:10")
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("host", "K2")
        await screen.press("c", "3")
    put_in = [
        line for line in story.on_disk() if line["what"] == "host in" and line["at"] > "2027-05-24"
    ]
    assert [(line["plant"], line["sprigs"]) for line in put_in] == [
        ("plantago", 9),
        ("veronica", 2),
    ]
    text = await shown(story, "E2")
    assert "plantago A from K2, 9 stems" in text
    assert "veronica" in text


async def test_a_search_in_a_box_of_several_lots_says_which(story: Story) -> None:
    two_lots(story)
    story.at("2027-05-26 07:00")
    assert "say on which lot the eggs were: lot=1 (plantago A from K2), lot=2" in story.refused(
        "E2 searched 3"
    )
    story.type("E2 searched 3 lot=2")
    assert "MOR-27-02/A" in story.on_disk()[-1]["brood"]
    story.type("E2 searched 0 lot 1", "E2 searched lots=1:2,2:1")
    found = [
        (line["found"], line["brood"])
        for line in story.on_disk()
        if line["what"] == "searched" and line["found"]
    ]
    assert found == [(3, "MOR-27-02/A"), (2, "MOR-27-01/A"), (1, "MOR-27-02/A")]
    text = await shown(story, "E2")
    assert "6 eggs" in row_of(text, "E2")
    assert text.count("searched 2 times") == 2


async def test_a_search_of_the_standing_host_is_none_of_what_is_kept_beside_it(
    story: Story,
) -> None:
    begin(story)
    story.at("2027-05-24 07:10").type("K2 host out held", "K2 host in plantago leaf 9 sprigs")
    story.later(hours=2).type("K2 searched 0")
    assert "searched 0 times" in await shown(story, "K2")


async def test_six_unsure_are_no_eggs_and_six_confirmed_are_six(story: Story) -> None:
    begin(story)
    story.at("2027-05-23 07:10").type("K2 searched 6 unsure")
    text = await shown(story, "K2")
    assert "6 unsure" in row_of(text, "K2")
    assert "eggs? 6 unsure since" in text
    assert "6 eggs" not in text

    story.later(hours=1).type("K2 searched 6 lens")
    text = await shown(story, "K2")
    assert "6 eggs" in text
    assert "unsure" not in text


async def test_what_was_not_sure_is_confirmed_in_part_or_denied(story: Story) -> None:
    begin(story)
    story.at("2027-05-23 07:10").type(
        "K2 searched 6 unsure", "K2 confirmed 4", "K3 searched 2 unsure", "K3 not eggs"
    )
    text = await shown(story, "K2")
    assert "4 eggs" in text
    assert "unsure" not in text
    assert "eggs" not in row_of(text, "K3")
    assert "nothing seen that was not sure" in story.refused("K3 confirmed 1")
    story.type("K3 searched 3 unsure", "K3 confirmed")
    assert story.on_disk()[-1]["found"] == 3


async def test_the_round_takes_not_sure_and_settles_it(story: Story) -> None:
    begin(story)
    story.at("2027-05-23 07:10")
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K2")
        await screen.press("6", "v")
    assert "6 unsure" in row_of(await shown(story, "K2"), "K2")
    story.later(hours=2)
    async with story.screens(size=(100, 40)) as screen:
        screen.highlight("K2")
        await screen.press("e")
        assert "the 6 unsure are eggs" in screen.text
        await screen.press("y")
    text = await shown(story, "K2")
    assert "6 eggs" in text
    assert "unsure" not in text
