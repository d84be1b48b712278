"""An answer that changes nothing leaves the question where it is: that is said, with the key that ends it."""

from __future__ import annotations

from rounds.shell.round import PlainRound
from tests.stories.telling import Story, tell

BENCH = """
shelf set up sill moat
K2 set up laying shelf=sill place=1
K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
sill moat dry
"""


async def test_a_moat_dry_as_before_says_why_it_stays(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), BENCH)
    async with story.at("2027-05-02 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        await screen.press("space")
        assert "saved, still asked: p topped up, - passes over; u undo" in screen.words
        await screen.press("space")
        assert "shelf sill ants: Space or e recorded that less than a minute ago" in screen.words


def test_on_lines_the_same_answer_is_recorded_once(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), BENCH)
    story.at("2027-05-02 18:05")
    printed: list[str] = []
    for _ in range(12):
        printed = story.plain(["q"])
        if any("ant barrier" in line for line in printed):
            break
        story.plain(["- m", "q"])
    before = len(story.on_disk())
    printed = story.plain([" ", " ", " ", "q"])
    assert len(story.on_disk()) == before + 1, printed
    assert any(
        "Still asked: key p, topped up; or minus and a reason passes over." in one
        for one in printed
    )
    assert any("recorded that less than a minute ago" in one for one in printed)


async def test_no_usual_plant_is_offered_where_none_is_known(story: Story) -> None:
    story.at("2027-05-01 18:00").type("K2 1f Boloria dia")
    async with story.at("2027-05-02 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("host", "K2")
        assert "p  name the plant" in screen.text
        assert "the usual plant" not in screen.text
        assert "then a" not in screen.text


async def test_the_usual_plant_is_offered_with_a_number_that_is_of_stems(story: Story) -> None:
    story.at("2027-05-01 18:00").type("K2 1f Boloria dia", "K2 host in viola", "K2 host out viola")
    async with story.at("2027-05-02 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("host", "K2")
        assert "a  the usual plant" in screen.text
        assert "number, then a: that many stems" in screen.words


async def test_undo_with_nothing_to_undo_names_the_key_of_the_daybook(story: Story) -> None:
    async with story.at("2027-05-02 18:05").screens() as screen:
        await screen.press("escape", "u")
        assert (
            "Nothing recorded since the start. y opens the daybook; x there crosses a line out,"
            in screen.words
        )


def test_on_lines_minutes_are_not_ignored_in_silence(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), BENCH)
    story.at("2027-05-02 18:05")
    story.plain(["q"])
    printed: list[str] = []
    PlainRound(story.desk, iter(["q"]), printed.append, 15).go()
    assert printed[0] == "The evening round is open and goes on; 15 minutes are for a new one."


async def test_one_ant_above_the_water_is_said_in_one_way(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), BENCH)
    async with story.at("2027-05-02 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("ants", "sill")
        assert "a  ant above the water" in screen.text
        await screen.press("a")
        assert "Space  1 ant above the water as before" in screen.text
    assert story.desk.told([story.desk.entries()[-1]]).endswith("barrier breached, 1 ant above")


def test_ants_above_are_typed_as_they_are_shown(story: Story) -> None:
    tell(story.at("2027-05-01 18:00"), BENCH)
    for shown in (
        "barrier breached, 1 ant above",
        "barrier low, 2 ants below, 3 ants above",
    ):
        assert story.type(f"shelf sill {shown}")[0].endswith(shown)
