"""Young larvae that a count did not see may sit inside plant: they are fed, and their plant does not go without a word."""

from __future__ import annotations

from tests.stories.telling import Story

LISTED = "R5\t30 L1 Melitaea vespina\tplantain\t12 Jul\track 2\n"


def listed(story: Story) -> Story:
    """Thirty young larvae since the morning of 12 July; it is the evening of that day."""
    story.at("2027-07-12 18:05")
    ran = story.shell("begin", "--list", "-", typed=LISTED)
    assert ran.status == 0, ran.err
    story.reopen()
    return story


async def test_a_cup_none_of_whose_larvae_were_seen_is_asked_for_food_and_a_look(
    story: Story,
) -> None:
    listed(story)
    async with story.screens() as screen:
        screen.highlight("R5")
        await screen.press("c", "0", "enter")
        assert story.on_disk()[-1]["number"] == 0
    for day in range(13, 19):
        story.at(f"2027-07-{day} 18:30")
        due = story.due("R5")
        look = {"look"} if day % 2 == 0 else set()  # every other day, with food in water
        assert {"food", "balance", *look} <= due.keys(), f"{day} Jul: {due.keys()}"
        assert "30 not seen may be in the plant still" in " ".join(
            str(said) for said in due["food"].values()
        )
        assert due["food"]["lost_if_left"] > 0
        story.type("R5 host seen plenty", *(["R5 looked as usual"] if look else []))
        assert "food" not in story.due("R5")


def test_the_plant_does_not_go_while_some_that_were_not_seen_may_be_on_it(story: Story) -> None:
    listed(story).type("R5 counted 0")
    story.at("2027-07-13 07:10")
    for line in ("R5 host changed", "R5 host out discarded"):
        asked = story.refused(line)
        assert "30 larvae not seen may be on it" in asked
        assert "R5 host out held" in asked
        assert "sure" in asked
    story.type("R5 host out held", "R5 host in plantain")
    assert [held.plant for held in story.desk.bench.containers["R5"].held] == ["plantain"]


def test_once_it_is_settled_what_became_of_them_the_plant_may_go(story: Story) -> None:
    listed(story).type("R5 counted 0", "R5 settled dead 30")
    story.at("2027-07-13 18:30")
    assert not {"food", "look"} & story.due("R5").keys()
    story.type("R5 host out discarded")


def test_sure_takes_the_plant_out_all_the_same(story: Story) -> None:
    listed(story).type("R5 counted 0", "R5 host changed sure")
    assert len(story.desk.bench.containers["R5"].hosts) == 1


def test_what_becomes_of_the_old_stems_is_no_plant(story: Story) -> None:
    listed(story).type("R5 counted 0")
    for line in (
        "R5 host changed held",
        "R5 host changed, all old held",
        "R5 food changed plantain kept",
    ):
        assert "NEW" not in story.preview(line)
        story.type(line)
        assert {host.plant for host in story.desk.bench.containers["R5"].hosts} == {"plantain"}
    assert len(story.desk.bench.containers["R5"].held) == 3


async def test_at_the_stop_the_same_is_asked(story: Story) -> None:
    listed(story).type("R5 counted 0")
    story.at("2027-07-13 18:30")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("food", "R5")
        before = len(story.on_disk())
        await screen.press("c")
        assert len(story.on_disk()) == before
        assert "30 larvae not seen may be on it: keep the stems?" in screen.words
        await screen.press("1")
    cup = story.desk.bench.containers["R5"]
    assert ([held.plant for held in cup.held], len(cup.hosts)) == (["plantain"], 1)


def test_a_few_missing_among_many_are_said_too_when_the_plant_goes(story: Story) -> None:
    listed(story).type("R5 counted 28")
    assert "2 larvae not seen may be on it" in story.refused("R5 host changed")


def test_none_could_be_counted_changes_no_number(story: Story) -> None:
    listed(story)
    for line in (
        "R5 not countable",
        "R5 larvae inside leaf",
        "R5 counted not known",
        "R5 counted not possible",
    ):
        assert "counted: not possible" in story.type(line)[0]
        assert story.desk.bench.containers["R5"].count() == 30
        assert story.desk.bench.shortfalls == []
    assert "count" not in story.due("R5")
