"""A walk asks what may be lost by the next one, and no more: looks by what may happen, searches where eggs may be."""

from __future__ import annotations

from datetime import timedelta

from rounds.checks.short_round import short_round
from tests.stories.telling import Story, tell

LARVAE = """
brood B1 taxon='Boloria dia'
R4 set up rearing
R4 stocked 6 L3 B1
R4 host in violet leaf water 8 sprigs
"""
LAST = """
brood B1 taxon='Boloria dia'
R4 set up rearing
R4 stocked 4 L5 B1
"""
PUPAE = """
brood B1 taxon='Boloria dia'
P2 set up rearing
P2 stocked 6 L5 B1
P2 pupated 6
P2 changed pupation
P2 looked
"""


def standing(story: Story, code: str, check: str) -> str:
    due = story.due(code).get(check)
    return due["standing"] if due else "ahead"


def walked(story: Story) -> set[tuple[str, str]]:
    """What a round that begins now asks, by place."""
    desk = story.desk
    plan = short_round(desk.bench, desk.moment(), 0, desk.dues(), desk.foresight)
    return {(one.due.where, one.due.check) for one in plan.taken}


def comes_due(story: Story, code: str, check: str, *, after_h: int, by_h: int) -> None:
    """From now it is no sooner due than after so many hours, and is by so many."""
    story.later(hours=after_h)
    assert standing(story, code, check) == "ahead"
    story.later(hours=by_h - after_h)
    assert standing(story, code, check) == "due"


def test_larvae_with_food_in_are_looked_at_once_a_day(story: Story) -> None:
    tell(story, LARVAE.replace("water", "damp paper"))
    story.type("R4 looked")
    comes_due(story, "R4", "look", after_h=12, by_h=24)


def test_larvae_with_two_days_of_food_in_water_are_gone_to_every_other_day(story: Story) -> None:
    """Six L3 eat 1.5 stems a day of eight: nothing there wants a look the day after, nor is food asked about."""
    tell(story, LARVAE)
    story.type("R4 looked")
    comes_due(story, "R4", "food", after_h=36, by_h=48)
    assert standing(story, "R4", "look") == "due"


def test_food_in_water_that_they_eat_in_a_day_is_asked_about_after_a_day(story: Story) -> None:
    tell(story, LARVAE.replace("8 sprigs", "2 sprigs"))
    comes_due(story, "R4", "food", after_h=12, by_h=24)


def test_larvae_of_a_cup_with_mould_are_looked_at_once_a_day(story: Story) -> None:
    tell(story, LARVAE)
    story.type("R4 looked mould")
    comes_due(story, "R4", "look", after_h=12, by_h=24)


def test_once_some_may_come_to_the_last_instar_they_are_looked_at_once_a_day(story: Story) -> None:
    tell(story, LARVAE.replace("L3", "L4").replace("8 sprigs", "12 sprigs"))
    story.type("R4 looked", "R4 expected moult on 2027-05-02 until 2027-05-09")
    comes_due(story, "R4", "look", after_h=12, by_h=24)


def test_larvae_without_food_are_looked_at_each_round(story: Story) -> None:
    tell(story, LARVAE)
    story.type("R4 host out binned sure", "R4 looked")
    story.later(hours=12)
    assert standing(story, "R4", "look") != "ahead"


def test_pupae_are_looked_at_every_third_day_until_the_first_may_emerge(story: Story) -> None:
    tell(story, PUPAE)
    comes_due(story, "P2", "look", after_h=61, by_h=73)


def test_eggs_of_which_some_may_hatch_are_looked_at_every_day(story: Story) -> None:
    tell(story, "brood B1 taxon='Boloria dia'\nE3 set up eggs\nE3 stocked 20 eggs B1\nE3 looked")
    story.type("E3 expected hatch on 2027-05-02 until 2027-05-12")
    comes_due(story, "E3", "look", after_h=12, by_h=24)


def test_eggs_left_when_others_of_their_brood_have_hatched_are_asked_about_soon(
    story: Story,
) -> None:
    """A cup of eggs that were never to hatch was looked at for as long again as those beside them had taken."""
    story.at("2027-05-01 08:00")
    tell(story, "brood B1 taxon='Boloria dia'\nE3 set up eggs\nE3 laid 20 eggs B1")
    story.type("E3 expected hatch on 2027-05-10 until 2027-05-11")
    story.at("2027-05-10 08:00").type("E3 hatched 15")
    story.at("2027-05-14 18:00")
    assert standing(story, "E3", "hatch late") == "red"


def test_larvae_among_pupae_are_looked_at_every_day_all_the_same(story: Story) -> None:
    tell(story, PUPAE.replace("pupated 6", "pupated 5"))
    comes_due(story, "P2", "look", after_h=12, by_h=25)


def test_the_cup_of_females_is_looked_at_once_a_day_who_are_fed_each_round(story: Story) -> None:
    story.at("2027-05-01 05:30")
    tell(story, LAYING)
    story.type("L2 drank", "L2 looked", "L2 host seen fresh")
    here = story.at("2027-05-01 18:00").due("L2")
    assert "drink" in here
    assert not {"look", "host"} & here.keys()
    assert {"drink", "look", "host"} <= story.at("2027-05-02 07:00").due("L2").keys()


def test_a_plant_seen_limp_is_asked_about_in_the_next_round(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, LAYING)
    story.type("L2 drank", "L2 host seen limp")
    assert "host" in story.at("2027-05-01 18:00").due("L2")


def test_once_some_may_emerge_they_are_looked_at_every_day(story: Story) -> None:
    tell(story, PUPAE)
    story.type("P2 expected emergence on 2027-05-11 until 2027-05-14")
    story.at("2027-05-11 07:00").type("P2 looked")
    story.later(hours=24)
    assert standing(story, "P2", "look") == "due"


def test_larval_food_on_which_one_emerged_is_not_searched_for_eggs(story: Story) -> None:
    tell(story, LAST)
    story.type("R4 host in violet leaf water 4 sprigs", "R4 pupated 4")
    story.later(days=9).type("R4 emerged 1 female")
    story.later(hours=5).type("R4 released 1 female")
    story.later(hours=30)
    assert "eggs" not in story.due("R4")


def test_stems_on_which_a_female_stood_for_days_are_searched(story: Story) -> None:
    tell(story, LAST)
    story.type("R4 host in violet leaf water 4 sprigs", "R4 pupated 4")
    story.later(days=9).type("R4 emerged 1 female")
    story.later(days=2).type("R4 released 1 female")
    story.later(hours=30)
    assert "eggs" in story.due("R4")


def test_misting_opens_the_lid_too(story: Story) -> None:
    tell(story, "brood B1 taxon='Boloria dia'\nE3 set up eggs\nE3 stocked 20 eggs B1")
    story.later(hours=30).type("E3 misted")
    story.later(hours=12)
    assert "air" not in story.due("E3")


def test_food_put_in_by_number_lasts_as_long_as_they_eat_of_it(story: Story) -> None:
    tell(story, LAST)
    story.type("R4 host in violet leaf water 8 sprigs")
    comes_due(story, "R4", "food", after_h=13, by_h=24)
    story.type("R4 host in violet leaf water 2 sprigs", "R4 host seen plenty")
    comes_due(story, "R4", "food", after_h=13, by_h=24)  # plenty is enough for a day


async def test_what_one_look_answers_is_asked_in_one_round_of_the_day(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, LARVAE.replace("water", "damp paper"))
    story.at("2027-05-01 18:05").type("R4 looked")
    async with story.at("2027-05-02 08:05").screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert "Larvae moving, plenty of food." in " ".join(screen.text.split())
        await screen.press("space")
    story.at("2027-05-02 18:05")
    assert standing(story, "R4", "look") == "ahead"  # nobody comes again for it alone


async def test_who_sprays_pupae_looks_at_them_and_does_not_come_again_for_it(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, PUPAE + "P2 misted\n")
    async with story.at("2027-05-03 18:05").screens() as screen:
        await screen.press("r")
        await screen.walk_to("look", "P2")
        assert screen.check == "look"


async def test_what_was_looked_at_hours_ago_is_not_asked_along(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(story, LAST)
    story.type("R4 host in violet leaf water 1 sprig")
    story.at("2027-05-02 02:00").type("R4 looked")
    async with story.at("2027-05-02 07:05").screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert screen.check == "food"
        assert "Is all as usual?" not in screen.text


def test_a_moat_is_looked_at_once_a_day_and_in_the_first_round_after_cups_come(
    story: Story,
) -> None:
    story.at("2027-05-01 07:00")
    tell(story, "shelf set up A moat\n" + LARVAE)
    story.type("R4 changed shelf=A")
    assert "ants" in story.at("2027-05-01 18:00").due("A")
    story.type("A barrier full 20mm")
    assert "ants" not in story.at("2027-05-02 07:00").due("A")
    assert "ants" in story.at("2027-05-02 18:00").due("A")


def test_a_cup_in_which_little_is_eaten_is_cleaned_every_other_day(story: Story) -> None:
    tell(story, LAST)
    story.type("R4 cleaned")
    story.later(hours=25)
    assert standing(story, "R4", "clean") == "due"
    story.type("R4 died 2", "R4 cleaned")
    comes_due(story, "R4", "clean", after_h=25, by_h=49)


def test_in_air_that_was_read_to_be_dry_a_cup_is_cleaned_after_twice_as_much(
    story: Story,
) -> None:
    """Three stems a day: 4 are eaten after a day and a third; in air of 1.7 kPa deficit 8 may be, after two and two thirds: the third day, as it is looked at."""
    tell(story, LAST.replace("4 L5", "3 L5"))
    story.type("room air 23.5C 40%", "R4 cleaned")
    comes_due(story, "R4", "clean", after_h=70, by_h=73)


def test_damp_air_puts_off_no_cleaning(story: Story) -> None:
    tell(story, LAST)
    story.type("room air 18C 72%", "R4 cleaned")
    story.later(hours=25)
    assert standing(story, "R4", "clean") == "due"


def test_host_and_search_are_of_every_third_day_in_damp_air(story: Story) -> None:
    """At 18 C and 72 % the air takes half of what it does where it begins to dry: stems in water keep up to three days."""
    cut = story.desk.now()
    tell(story, LAYING)
    story.type("L2 searched 4", "room air 18C 72%")
    (host,) = [one for one in story.desk.dues() if (one.where, one.check) == ("L2", "host")]
    assert host.late is not None
    assert timedelta(hours=71) < host.late - cut < timedelta(hours=73)
    comes_due(story, "L2", "eggs", after_h=71, by_h=73)
    story.type("L2 searched 4", "room air 23.5C 40%")
    comes_due(story, "L2", "eggs", after_h=47, by_h=49)


def test_pupae_that_colour_beside_larvae_are_looked_at_each_round(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, LAST)
    story.type("R4 host in violet leaf water 8 sprigs", "R4 pupated 2", "R4 looked as usual")
    assert "look" not in story.at("2027-05-01 18:00").due("R4")
    story.type("R4 looked 1 colouring")
    assert "look" in story.at("2027-05-02 07:00").due("R4")


def test_a_leaf_is_not_renewed_days_after_the_last_was_to_hatch(story: Story) -> None:
    tell(story, "brood B1 taxon='Boloria dia'\nE3 set up eggs\nE3 stocked 20 eggs B1")
    story.type("E3 expected hatch on 2027-05-10 until 2027-05-12")
    story.at("2027-05-10 07:00")
    assert "leaf" in story.due("E3")
    story.type("E3 host in violet leaf")
    assert "leaf" not in story.due("E3")
    story.at("2027-05-12 20:00")
    assert "leaf" in story.due("E3")
    story.at("2027-05-14 07:00")
    assert "leaf" not in story.due("E3")


def test_once_she_lays_what_stands_is_searched_every_other_day(story: Story) -> None:
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 'Boloria dia' female
        K2 host in violet leaf water
        """,
    )
    story.later(hours=24).type("K2 searched 4")
    comes_due(story, "K2", "eggs", after_h=25, by_h=49)
    story.type(
        "K2 searched 0"
    )  # she lays in clusters, or it was cold: it is known that she takes it
    comes_due(story, "K2", "eggs", after_h=25, by_h=49)


def test_hours_of_cleaning_that_the_keeper_gave_stand(story: Story) -> None:
    tell(story, LAST)
    story.type("R4 died 2", "R4 cleaned")
    story.later(hours=30)
    assert standing(story, "R4", "clean") == "ahead"
    story.type("plan clean every_h=24")
    assert standing(story, "R4", "clean") != "ahead"


LAYING = """
L2 set up laying
L2 founder W2 Boloria dia female
L2 host in violet leaf water
"""


def test_two_searches_that_found_none_tell_enough_for_every_other_day(story: Story) -> None:
    tell(story, LAYING)
    story.later(hours=24).type("L2 searched none")
    story.later(hours=24)
    assert standing(story, "L2", "eggs") != "ahead"
    story.type("L2 searched none")
    comes_due(story, "L2", "eggs", after_h=24, by_h=48)


def test_searches_of_before_say_nothing_of_a_new_female_or_another_plant(story: Story) -> None:
    tell(story, LAYING)
    for _ in range(2):
        story.later(hours=24).type("L2 searched none")
    story.type("L2 founder W3 Boloria dia female")
    story.later(hours=24)
    assert standing(story, "L2", "eggs") != "ahead"
    for _ in range(2):
        story.type("L2 searched none")
        story.later(hours=24)
    assert standing(story, "L2", "eggs") == "ahead"
    story.type("L2 host in nettle water")
    story.later(hours=24)
    assert standing(story, "L2", "eggs") != "ahead"


async def test_a_keeper_who_feeds_by_hand_says_once_that_no_feeder_stands_there(
    story: Story,
) -> None:
    tell(story, LAYING)
    async with story.later(hours=24).screens() as screen:
        await screen.press("r")
        await screen.walk_to("feeder", "L2")
        assert "none stands here, all are fed by hand" in screen.text
        await screen.press("s")
    story.reopen()
    assert "feeder" not in story.due("L2")
    story.type("L3 set up laying", "L3 founder W3 Boloria dia female")
    story.later(hours=30)
    assert "feeder" not in story.due("L3")
    story.type("plan feeder off=no")
    assert "feeder" in story.due("L3")


async def test_no_change_is_asked_again_in_the_same_round_of_the_next_day(story: Story) -> None:
    """Said at the end of a round, it comes at its stop of the next day's, not once that is walked."""
    story.at("2027-05-01 07:00")
    tell(story, "E3 set up eggs\nbrood B1 taxon='Boloria dia'\nE3 stocked 20 eggs B1")
    async with story.at("2027-05-25 07:20").screens() as screen:
        await screen.press("r")
        await screen.walk_to("hatch late", "E3")
        await screen.press("space")
    story.at("2027-05-26 07:01")
    assert "hatch late" in story.due("E3")


def test_air_alone_is_asked_for_after_two_days(story: Story) -> None:
    tell(story, "E3 set up eggs\nbrood B1 taxon='Boloria dia'\nE3 stocked 20 eggs B1")
    story.type("E3 lid opened")
    comes_due(story, "E3", "air", after_h=47, by_h=49)


def test_eggs_found_late_are_misted_as_soon_as_they_are_in_a_box(story: Story) -> None:
    """Where she laid them nobody misted them: they may be as old as the search before."""
    tell(story, LAYING + "E3 set up eggs\n")
    story.type("E3 air 20C 50%")
    story.later(hours=48).type("L2 searched 5", "L2 moved to E3 5 eggs")
    assert standing(story, "E3", "mist") == "due"
    story.type("E3 misted")
    story.later(hours=24)
    assert standing(story, "E3", "mist") == "ahead"


def test_in_air_that_dries_food_in_water_is_asked_about_sooner(story: Story) -> None:
    """Cut leaf wilted before the second day was out, in a hot dry room."""
    tell(story, LARVAE)
    story.type("room air 26C 40%")
    comes_due(story, "R4", "food", after_h=30, by_h=37)


def test_nobody_goes_to_a_cup_to_count_alone_before_that_is_late(story: Story) -> None:
    """Counted on the third day, along with a look or with food; by itself once five days have gone by."""
    done = "R4 looked", "R4 host in violet leaf water 8 sprigs", "R4 cleaned"
    story.at("2027-05-01 07:00")
    tell(story, LAST + "R4 counted 4\n")
    story.at("2027-05-03 18:00").type(*done)
    story.at("2027-05-04 07:00")
    assert standing(story, "R4", "count") == "due"
    assert "R4" not in {where for where, _ in walked(story)}
    story.at("2027-05-04 18:00")
    assert {("R4", "look"), ("R4", "count")} <= walked(story)
    story.at("2027-05-06 07:00").type(*done)
    story.at("2027-05-06 18:00")
    assert ("R4", "count") in walked(story)


def test_misting_alone_is_gone_for_in_the_round_nearest_to_its_hour(story: Story) -> None:
    """Every 36 hours: what was misted in the evening was asked for 24 hours later, for it came due before the morning."""
    story.at("2027-05-01 18:00")
    tell(story, PUPAE + "P2 misted\n")
    story.at("2027-05-02 18:00")
    assert ("P2", "mist") not in walked(story)
    story.at("2027-05-03 07:00")
    assert ("P2", "mist") in walked(story)
    story.type("P2 misted")
    story.at("2027-05-04 07:00")
    assert ("P2", "mist") not in walked(story)
    story.at("2027-05-04 18:00")
    assert ("P2", "mist") in walked(story)


def test_who_looks_at_food_a_day_after_a_look_looks_at_the_larvae_too(story: Story) -> None:
    """Every other day by itself: food a few minutes short of a day after it came without a look, and the look cost a way the day after."""
    story.at("2027-05-01 18:05")
    tell(story, LARVAE.replace("8 sprigs", "2 sprigs"))
    story.type("R4 looked")
    story.at("2027-05-02 18:00")
    assert {("R4", "food"), ("R4", "look")} <= walked(story)


def test_stems_that_hardly_bear_a_live_egg_are_looked_under_every_other_day(story: Story) -> None:
    story.at("2027-05-01 07:00")
    tell(story, LAYING + "S2 set up eggs\n")
    story.later(hours=3).type(*["L2 searched none"])
    story.later(minutes=1).type("L2 host out held in S2")
    story.at("2027-05-10 07:00").type("S2 frass none")
    (held,) = story.desk.bench.at("S2").held
    chance = story.desk.foresight.chance(story.desk.bench.at("S2"), held, story.desk.now())
    assert 0.01 < chance.chance < 0.1
    comes_due(story, "S2", "frass", after_h=25, by_h=48)
