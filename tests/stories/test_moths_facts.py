"""What is true of a species is said once, and every cup that holds it knows."""

from __future__ import annotations

import pytest

from tests.stories.telling import Screen, Story, tell


def _pane(screen: Screen) -> str:
    """The words of the card below the list."""
    return screen.card


def _moth(story: Story, facts: str, purpose: str = "laying") -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        f"""
        taxon 'Saturnia montis' {facts}
        M2 set up {purpose}
        M2 founder W2 'Saturnia montis'
        """,
    )


@pytest.mark.parametrize(
    "flag",
    [
        "no_adult_food",
        "night_fed",
        "lays_without_plant",
        "cannibalistic",
        "gregarious",
        "stinging",
        "hairs",
        "no adult food",
    ],
)
def test_a_flag_alone_says_yes(story: Story, flag: str) -> None:
    story.type(f"taxon 'Saturnia montis' {flag}")

    (line,) = [line for line in story.on_disk() if line["what"] == "taxon"]
    assert True in line.values()
    assert line["name"] == "Saturnia montis"


def test_a_fact_added_later_keeps_what_was_said_before_and_can_be_taken_back(story: Story) -> None:
    story.type("taxon 'Saturnia montis' short=montis protected instars=6")
    story.type("taxon 'Saturnia montis' cannibalistic")

    for cannibalistic in (True, False):
        story.reopen()
        known = story.desk.bench.taxa["Saturnia montis"]
        assert (known.short, known.protected, known.instars) == ("montis", True, 6)
        assert known.cannibalistic is cannibalistic
        if cannibalistic:
            story.type("taxon 'Saturnia montis' cannibalistic=no")


async def test_an_adult_that_takes_no_food_is_asked_for_no_drink_no_feeder_and_no_host(
    story: Story,
) -> None:
    _moth(story, "no_adult_food")
    story.type("food made sugar 15")

    for hours in (1, 24, 72):
        story.at("2027-06-01 08:00").later(hours=hours)
        assert not {"drink", "feeder", "host", "solution"} & story.due().keys()
    async with story.screens((120, 40)) as screen:
        row = next(row for row in screen.text.splitlines() if "M2" in row)
        assert "not yet" not in row
        screen.highlight("M2")
        assert "adults take no food" in _pane(screen)


def test_one_that_does_feed_in_the_same_cup_is_still_fed(story: Story) -> None:
    _moth(story, "no_adult_food")
    story.type("M2 founder W3 'Agrotis prati'")

    story.later(hours=26)
    assert "drink" in story.due("M2")


def test_a_moth_fed_at_night_is_asked_in_the_evening_round_and_not_late_all_day(
    story: Story,
) -> None:
    _moth(story, "night_fed")
    story.at("2027-06-01 18:10")
    assert "drink" in story.due("M2")
    story.at("2027-06-01 21:00").type("M2 drank")

    story.at("2027-06-02 12:00")  # fifteen hours on: late for a butterfly
    assert "drink" not in story.due("M2")
    story.at("2027-06-02 18:01")
    assert story.due("M2")["drink"]["standing"] == "due"
    story.at("2027-06-03 07:00")
    assert story.due("M2")["drink"]["standing"] == "late"


async def test_eggs_of_one_that_lays_without_a_plant_count_by_female_days_without_host(
    story: Story,
) -> None:
    _moth(story, "short=montis")
    story.at("2027-06-03 08:00").type("M2 searched 24")
    story.type("taxon 'Saturnia montis' lays_without_plant")  # said late, it holds from the first

    assert "host" not in story.due("M2")
    async with story.screens((120, 40)) as screen:
        await screen.press("i")
        row = next(row for row in screen.text.splitlines() if "no plant" in row)
        assert "2.0" in row  # female-days
        assert "24" in row
        assert "12.00" in row  # a female-day


async def test_larvae_that_eat_each_other_are_looked_at_to_be_kept_apart(story: Story) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        taxon 'Lysandra calida' cannibalistic
        brood R7 taxon='Lysandra calida'
        R3 set up rearing
        R3 stocked 5 brood=R7 stage=larva instar=3
        R4 set up rearing
        R4 stocked 1 brood=R7 stage=larva instar=3
        """,
    )
    story.at("2027-06-01 18:05")

    assert story.due("R3")["look"]["arithmetic"].count("5 larvae that eat each other") == 1
    assert "eat each other" not in story.due("R4")["look"]["arithmetic"]
    async with story.screens((120, 40)) as screen:
        screen.highlight("R3")
        assert "larvae eat each other" in _pane(screen)


async def test_larvae_that_live_together_and_hairs_are_cautioned(story: Story) -> None:
    story.at("2027-06-01 08:00")
    tell(
        story,
        """
        taxon 'Melitaea prati' gregarious hairs
        brood R7 taxon='Melitaea prati'
        R3 set up rearing
        R3 stocked 1 brood=R7 stage=larva instar=2
        """,
    )
    async with story.screens((120, 40)) as screen:
        screen.highlight("R3")
        assert "live together" in _pane(screen)
        assert "hairs may sting" in _pane(screen)
