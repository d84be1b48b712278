"""Old stems in a keeper's own words are the kept lots; a search of these alone leaves the plant she sits on unsearched."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

NAMED = [
    "K7 5 eggs on old stems",
    "K7 5 eggs on the old stems",
    "K7 searched 5 old stems",
    "K7 searched 5 on the old stems",
    "K7 searched 5 kept stems",
    "K7 found 5 eggs on old sprigs",
    "K7 found 5 eggs on the old gorse",
    "K7 old stems searched 5",
    "K7 kept stems searched 5",
    "K7 old stems 5 eggs",
    "K7 searched 5 old stems lot=1",
    "K7 5 eggs on old stems of lot 1",
    "K7 searched 5 lot=1",
]


def kept(story: Story, *, changes: int = 1) -> Story:
    """A plant searched in vain and changed, once or twice, its old stems kept; then 5 June."""
    story.at("2027-06-01 07:00").type("K7 2 females Callophrys arenosa on gorse")
    for day in range(changes):
        story.at(f"2027-06-0{2 + day} 08:30")
        story.type("K7 searched 0", "K7 host changed, old kept")
    return story.at("2027-06-05 08:50")


@pytest.mark.parametrize("line", NAMED)
def test_eggs_on_old_stems_were_laid_before_these_came_out(story: Story, line: str) -> None:
    told = kept(story).type(line)[0]
    assert "laid from Tue 01 Jun 07:00, laid to Wed 02 Jun 08:30" in told
    assert "lot K7 A 2 Jun 08:30" in told
    assert "eggs" in story.due("K7")


def test_none_on_old_stems_is_a_search_of_all_of_them(story: Story) -> None:
    kept(story, changes=2).type("K7 searched 0 on the old stems")
    assert len(story.on_disk()[-1]["lots"]) == 2
    story.type("K7 old stems frass none")
    assert len(story.on_disk()[-1]["lots"]) == 2


@pytest.mark.parametrize("line", NAMED[:9])
def test_of_several_kept_lots_it_is_asked_which(story: Story, line: str) -> None:
    asked = kept(story, changes=2).refused(line)
    assert "say on which lot" in asked
    assert "lot=1 (gorse A from K7), lot=2 (gorse B from K7)" in asked
    assert "lot=all if it is not known" in asked
    assert story.on_disk()[-1]["what"] != "searched"


@pytest.mark.parametrize("which", ["lot=all", "lot=not known"])
def test_of_which_of_them_may_be_not_known(story: Story, which: str) -> None:
    kept(story, changes=2).type(f"K7 searched 5 old stems {which}")
    assert len(story.on_disk()[-1]["lots"]) == 2


def test_old_stems_kept_in_another_cup_are_meant_too(story: Story) -> None:
    story.at("2027-06-01 07:00").type("K7 2 females Callophrys arenosa on gorse")
    story.at("2027-06-02 08:30")
    tell(story, "B2 set up eggs\nK7 host out held_in=B2\nK7 host in gorse")
    told = story.at("2027-06-05 08:50").type("K7 5 eggs on old stems")[0]
    assert "laid to Wed 02 Jun 08:30" in told
    assert story.on_disk()[-1]["container"] == "B2"


def test_where_none_are_kept_it_is_said(story: Story) -> None:
    story.at("2027-06-01 07:00").type("K7 2 females Callophrys arenosa on gorse")
    refused = story.at("2027-06-05 08:50").refused("K7 5 eggs on old stems")
    assert "K7 has no kept stems" in refused
    assert "K7 searched 5" in refused


def test_eggs_on_the_plant_and_on_old_stems_are_two_finds(story: Story) -> None:
    kept(story).type("K7 3 eggs on gorse, 2 on old stems")
    of_plant, of_lot = [line for line in story.on_disk() if line["what"] == "searched"][-2:]
    assert (of_plant["found"], of_plant.get("lots")) == (3, None)
    assert (of_lot["found"], of_lot["lots"]) == (2, ["K7 A 06-02 08:30"])


@pytest.mark.parametrize(
    "line",
    ["K7 frass trace old stems", "K7 frass trace under the old stems", "K7 old stems frass trace"],
)
def test_frass_under_old_stems(story: Story, line: str) -> None:
    kept(story).type(line)
    assert story.on_disk()[-1]["lots"] == ["K7 A 06-02 08:30"]


@pytest.mark.parametrize("line", ["K7 searched 0 lot=1", "K7 searched 2 lot=1"])
def test_a_search_of_kept_stems_leaves_her_plant_unsearched(story: Story, line: str) -> None:
    before = kept(story).due("K7")["eggs"]
    story.type(line)
    assert story.due("K7")["eggs"] == before
    story.type("K7 searched 0")
    assert "eggs" not in story.due("K7")


def test_a_search_of_stems_that_just_came_out_is_of_all_there_is(story: Story) -> None:
    story.at("2027-06-01 07:00").type("K7 2 females Callophrys arenosa on gorse")
    story.at("2027-06-05 08:30").type("K7 host changed, old kept", "K7 searched 3 lot=1")
    assert "eggs" not in story.due("K7")


async def test_the_round_asks_on_for_her_plant(story: Story) -> None:
    kept(story)
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K7")
        await screen.type("K7 searched 0 old stems")
        await screen.walk_to("eggs", "K7")
        await screen.press("2")
        await screen.press("enter")
    assert [line.get("lots") for line in story.on_disk() if line["what"] == "searched"][1:] == [
        ["K7 A 06-02 08:30"],
        None,
    ]


@pytest.mark.parametrize(
    "line",
    [
        "K7 cut host, old stems kept",
        "K7 fresh host, old kept",
        "K7 new host, old stems kept",
        "K7 host changed, old stems kept",
        "K7 cut host gorse, old kept",
        "K7 host in gorse, old stems kept",
    ],
)
def test_a_fresh_host_for_the_old_that_is_kept(story: Story, line: str) -> None:
    kept(story).type(line)
    out, fresh = story.on_disk()[-2:]
    assert (out["what"], out.get("fate", "held"), out["plant"]) == ("host out", "held", "gorse")
    assert (fresh["what"], fresh["plant"], fresh.get("part", "")) == ("host in", "gorse", "")


def test_a_cut_host_alone_is_asked_about(story: Story) -> None:
    assert "K7 host changed, old kept" in kept(story).refused("K7 cut host")


@pytest.mark.parametrize("line", ["K7 1 larva on old stems", "K7 2 larvae on the kept stems"])
def test_a_larva_on_old_stems_hatched_there_of_an_egg_that_nobody_found(
    story: Story, line: str
) -> None:
    kept(story).type(line)
    recorded = story.on_disk()
    assert [one["lots"] for one in recorded if one["what"] == "frass"] == [["K7 A 06-02 08:30"]]
    assert recorded[-1]["what"] == "hatched"
    assert recorded[-1]["lots"] == ["K7 A 06-02 08:30"]
    assert story.desk.bench.at("K7").held, "the rest may hatch yet"
    assert story.desk.bench.at("K7").count("larva") == int(line[3])
