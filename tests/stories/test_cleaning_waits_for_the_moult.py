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
    assert "clean" in story.due("R3")  # urgent by the plan: it waits no longer
    assert last > first


def test_long_before_the_moult_it_is_cleaned(story: Story) -> None:
    begin(story)
    first, _ = moult_expected(story)
    story.later(hours=49)
    assert first > story.clock.now
    assert "clean" in story.due("R3")


def test_it_is_cleaned_round_those_that_do_not_move_where_others_eat(story: Story) -> None:
    begin(story)
    story.later(hours=49).type("R3 looked 3 still")
    assert "clean" in story.due("R3")
    story.type("R3 looked 10 still")
    assert "clean" not in story.due("R3")


async def test_the_question_says_round_whom(story: Story) -> None:
    begin(story)
    story.later(hours=49).type("R3 looked 3 still")
    async with story.screens() as screen:
        await screen.press("r", "enter")
        await screen.walk_to("clean", "R3")
        assert "Did you clean round those that do not move?" in screen.text


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
