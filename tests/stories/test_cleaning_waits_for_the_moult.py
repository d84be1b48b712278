"""Cleaning and counting wait while a moult is expected by warmth, though not for ever; food is asked all the same."""

from __future__ import annotations

from datetime import datetime

from tests.stories.telling import Story, tell

START = "2027-06-10 08:00"


def begin(story: Story) -> None:
    story.at(START)
    tell(
        story,
        """
        R3 set up rearing
        brood W4/A taxon="Polyommatus icarus"
        room air 21C
        R3 stocked 10 L2 brood=W4/A
        R3 host in Lotus corniculatus
        R3 moulted 10 L3
        """,
    )


def moult_expected(story: Story) -> tuple[datetime, datetime]:
    """Between when the moult of the first and of the last is expected, as `rounds` tells a script."""
    import rounds
    from tests.stories.telling import ZONE

    book = rounds.open_book(story.folder, keeper="KM", clock=story.clock, zone=ZONE)
    one = next(one for one in book.forecasts("R3") if one.change == "moult")
    assert one.first
    assert one.last
    return one.first, one.last


def test_cleaning_waits_and_food_does_not(story: Story) -> None:
    begin(story)
    first, last = moult_expected(story)
    story.clock.now = first
    story.later(hours=-52).type("R3 cleaned", "R3 counted 10", "R3 host in Lotus corniculatus")
    story.clock.now = first
    story.later(hours=-2)
    due = story.due("R3")
    assert "clean" not in due
    assert "food" in due
    ahead = story.shell("due", "--json", "--within", "2d").out
    assert "waits for a moult" in ahead
    story.later(hours=23)
    clean = story.due("R3")["clean"]  # urgent by the plan: it waits no longer
    assert "a moult is expected by" in clean["arithmetic"]
    assert last > first


def test_long_before_the_moult_it_is_cleaned(story: Story) -> None:
    begin(story)
    first, _ = moult_expected(story)
    story.later(hours=49)
    assert first > story.clock.now
    assert "clean" in story.due("R3")


def test_while_a_moult_that_was_seen_may_last_it_is_not_cleaned(story: Story) -> None:
    """Two days at most, as a moult does: then a look is asked for, and cleaning too."""
    begin(story)
    story.type("R3 cleaned", "R3 counted 10")
    story.later(hours=47).type("R3 2 not moving")
    for hours in (2, 21, 23, 1):  # past the day that any is left be, and past urgent
        story.later(hours=hours)
        assert not {"clean", "count"} & set(story.due("R3")), story.clock.now
    ahead = story.shell("due", "--json", "--within", "2d").out
    assert "waits for those that do not move" in ahead
    assert {"clean", "still"} <= set(story.later(hours=2).due("R3"))


def test_a_moult_that_is_over_keeps_no_cleaning_waiting(story: Story) -> None:
    begin(story)
    story.later(hours=49).type("R3 2 not moving")
    assert "clean" not in story.later(hours=25).due("R3")
    story.type("R3 2 moulted L4")
    assert "clean" in story.due("R3")


def test_it_is_cleaned_round_those_that_hang_where_others_eat(story: Story) -> None:
    begin(story)
    story.later(hours=49).type("R3 looked 3 hanging")
    assert "clean" in story.due("R3")
    story.type("R3 looked 10 hanging")
    assert "clean" not in story.due("R3")


async def test_the_question_says_round_whom(story: Story) -> None:
    """Mould waits for nobody."""
    begin(story)
    story.later(hours=49).type("R3 looked 3 still", "R3 looked mould")
    async with story.screens() as screen:
        await screen.press("r", "enter")
        await screen.walk_to("clean", "R3")
        assert "Did you clean round those that do not move?" in screen.text


async def test_what_waits_no_longer_for_a_forecast_says_so(story: Story) -> None:
    begin(story)
    story.clock.now, _ = moult_expected(story)
    story.later(hours=-52).type("R3 cleaned")
    story.later(hours=73).type("R3 looked", "R3 host in Lotus corniculatus")
    async with story.screens() as screen:
        assert "not been cleaned" in screen.text  # not the moult is what is urgent
        await screen.press("r", "enter")
        await screen.walk_to("clean", "R3")
        assert "Did you clean round any that do not move?" in screen.text


def test_nobody_cleans_what_the_keeper_said_to_leave(story: Story) -> None:
    begin(story)
    story.later(hours=49).type("R3 looked 3 still", "R3 do not disturb 20h")
    assert "clean" not in story.due("R3")


def test_where_mould_was_seen_it_is_cleaned_at_once(story: Story) -> None:
    begin(story)
    story.type("R3 cleaned")
    story.later(hours=10)
    assert "clean" not in story.due("R3")
    story.type("R3 looked mould")
    assert "clean" in story.due("R3")
    story.type("R3 cleaned")
    assert "clean" not in story.due("R3")


def test_what_was_cleaned_before_walls_were_wet_is_told(story: Story) -> None:
    story.at("2027-06-01 08:00").type("R2 5 L3 Pieris napi on garlic mustard")
    story.at("2027-06-01 18:00").type("R2 cleaned")
    story.at("2027-06-02 07:00").type("R2 condensation")
    clean = story.due("R2")["clean"]
    assert clean["last"].startswith("it was last recorded Tue 18:00: cleaned")
    assert "condensation, since 07:00" in clean["arithmetic"]


def test_a_cup_that_was_mouldy_once_is_cleaned_again(story: Story) -> None:
    """Cleaned, it goes by what is eaten as any other; mould that is seen again is cleaned out at once, for it is new."""
    begin(story)
    story.type("R3 looked mould", "R3 cleaned")
    story.later(hours=74)
    assert "clean" in story.due("R3")
    story.type("R3 looked", "R3 cleaned", "R3 looked mould", "R3 cleaned")
    story.later(hours=5).type("R3 looked mould")
    clean = story.due("R3")["clean"]
    assert "mould, since 15:00" in clean["arithmetic"]
