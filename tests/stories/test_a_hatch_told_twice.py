"""Who hatched by a later line did not hatch before by one that is told late."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def eggs(story: Story) -> Story:
    story.at("2027-05-10 08:00").type("E4 140 eggs Papilio machaon")
    story.at("2027-05-24 08:00").type("E4 hatched 120")
    return story.later(hours=1)


def test_the_same_hatch_with_an_earlier_date_is_asked_about(eggs: Story) -> None:
    asked = eggs.refused("E4 hatched 120 2 days ago")
    assert "hatched 120 on Mon 24 May 08:00 already" in asked
    assert "give 20 or fewer" in asked
    cup = eggs.desk.bench.at("E4")
    assert (cup.count("egg"), cup.count("larva")) == (20, 120)


def test_crossed_out_first_the_earlier_one_counts(eggs: Story) -> None:
    eggs.type("undo", "E4 hatched 120 2 days ago")
    cup = eggs.desk.bench.at("E4")
    assert (cup.count("egg"), cup.count("larva")) == (20, 120)


def test_others_that_hatched_before_are_taken(eggs: Story) -> None:
    eggs.type("E4 hatched 15 2 days ago")
    assert eggs.desk.bench.at("E4").count("egg") == 5


def test_others_beside_them_leave_the_later_line_as_it_was(eggs: Story) -> None:
    assert "already" in eggs.refused("E4 hatched 120 2 days ago sure"), "only 20 are left"
    eggs.type("E4 hatched 20 2 days ago sure")
    assert eggs.desk.bench.at("E4").count("larva") == 140
    assert sorted(one.number for one in eggs.desk.bench.passed) == [20, 120]
    assert not eggs.desk.bench.oddities


def test_pupae_told_twice_are_asked_about_too(eggs: Story) -> None:
    eggs.at("2027-06-20 08:00").type("E4 pupated 100")
    assert "already" in eggs.refused("E4 pupated 100 yesterday 8:00")


@pytest.mark.parametrize(
    "when", ["14:10 23 May", "23 May 14:10", "14:10 on 23 May", "14:10 yesterday"]
)
def test_a_day_behind_its_hour_is_read(eggs: Story, when: str) -> None:
    eggs.type(f"E4 hatched 2 {when}")
    assert eggs.on_disk()[-1]["at"].startswith("2027-05-23T14:10")


@pytest.mark.parametrize(
    "when", ["14:10 23 May", "23 May 14:10", "14:10, 23 May", "14:10 yesterday"]
)
def test_a_catch_keeps_its_day(eggs: Story, when: str) -> None:
    eggs.type("L1 1 female Papilio machaon on fennel", f"PAP-27-02 at Larchet meadow caught {when}")
    founder = [line for line in eggs.on_disk() if line["what"] == "founder"][-1]
    assert founder["caught"].startswith("2027-05-23T14:10")
    assert founder["place"] == "Larchet meadow"


def test_a_note_keeps_its_words(eggs: Story) -> None:
    eggs.type("E4 note seen dark 14:10 23 May, fog")
    assert eggs.on_disk()[-1]["text"] == "seen dark 14:10 23 May, fog"


@pytest.fixture
def cups(story: Story) -> Story:
    """Eggs of which fifty hatched this morning, and pupae and larvae of which some went on."""
    story.at("2027-05-10 08:00").type("E4 140 eggs Papilio machaon")
    story.type("P5 20 pupae Boloria dia", "R5 20 L2 Boloria dia", "R6 20 L5 Boloria dia")
    story.at("2027-05-24 08:00").type("E4 hatched 50", "P5 emerged 3", "R5 moulted 6 L3")
    return story.type("R6 pupated 4") and story.at("2027-05-24 19:00")


@pytest.mark.parametrize(
    "line", ["E4 hatched 50", "P5 emerged 3", "P5 3 emerged", "R5 moulted 6 L3", "R6 pupated 4"]
)
def test_the_same_number_within_a_day_is_asked_about(cups: Story, line: str) -> None:
    before = len(cups.on_disk())
    asked = cups.refused(line)
    assert "on Mon 24 May 08:00 already" in asked or "at 08:00 already" in asked
    assert len(cups.on_disk()) == before
    cups.type(asked.partition("as: ")[2])
    assert len(cups.on_disk()) == before + 1


def test_sure_says_so_too(cups: Story) -> None:
    cups.type("E4 hatched 50 sure")
    assert cups.desk.bench.at("E4").count("larva") == 100


@pytest.mark.parametrize(
    "line", ["E4 hatched 30", "P5 emerged 2", "R5 moulted 5 L3", "R5 moulted 6 L4"]
)
def test_another_number_is_another_event(cups: Story, line: str) -> None:
    cups.type(line)


def test_as_many_of_the_other_sex_are_others(cups: Story) -> None:
    cups.type("P5 emerged 2 male", "P5 emerged 2 female")
    assert "already" in cups.refused("P5 emerged 2"), "of either sex they may be the same"


def test_another_between_them_hides_it_not(cups: Story) -> None:
    cups.type("E4 hatched 20")
    assert "already" in cups.refused("E4 hatched 50")


def test_a_day_later_it_is_the_next_of_a_series(cups: Story) -> None:
    cups.at("2027-05-25 08:05").type("E4 hatched 50", "P5 emerged 3")


@pytest.mark.parametrize("line", ["P5 emerged 1 female", "R5 moulted 1 L3", "R6 pupated 1"])
def test_the_next_morning_it_is_the_next_of_a_series(cups: Story, line: str) -> None:
    cups.type(line)
    assert "19:00 already" in cups.at("2027-05-24 19:30").refused(line)
    cups.at("2027-05-25 06:50").type(line)
    assert "already" in cups.at("2027-05-25 07:10").refused(line)


def test_told_late_the_day_counts_too(cups: Story) -> None:
    assert "already" in cups.refused("E4 hatched 50 yesterday 20:00")
    cups.type("E4 hatched 50 22 May 20:00")


def test_crossed_out_it_is_told_anew(cups: Story) -> None:
    cups.type("undo", "R6 pupated 4")


async def test_by_key_a_series_goes_on(cups: Story) -> None:
    async with cups.screens((120, 40)) as screen:
        screen.highlight("E4")
        await screen.press("l", "5", "0", "y")
    assert cups.desk.bench.at("E4").count("larva") == 100
