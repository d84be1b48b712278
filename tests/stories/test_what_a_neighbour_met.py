"""What somebody met who was asked to look after the bench, or began one of her own: words that fit what is there."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

FED = """
taxon 'Aglais vera'
shelf set up sill
brood B2 taxon='Aglais vera'
R7 set up rearing shelf sill
R7 stocked 4 larvae L5 B2
R7 host in nettle leaf water 4 stems
"""


@pytest.fixture
def fed(story: Story) -> Story:
    """A cup of caterpillars that are fed at each round, on Saturday morning at half past seven."""
    story.at("2027-05-01 06:00")
    tell(story, FED)
    return story.at("2027-05-01 07:30")


@pytest.mark.parametrize(
    ("back", "last"), [("2027-05-02 19:00", "07:00"), ("2027-05-02 19:01", "18:00")]
)
def test_a_visit_just_before_the_keeper_is_back_is_the_keepers(
    fed: Story, back: str, last: str
) -> None:
    ran = fed.shell("sheet", "--to", back)
    hours = next(line.split() for line in ran.out.splitlines() if line.strip().startswith("18:00"))
    assert hours[-1] == last


def test_a_hand_that_cleans_touches_none_that_does_not_move(fed: Story) -> None:
    words = " ".join(
        fed.shell("sheet", "--to", "+2d").out.replace("[   ]", "").replace("--", "").split()
    )
    assert "brush out frass; touch none that does not move." in words


def test_how_one_is_held_that_drinks_is_said_once(fed: Story) -> None:
    tell(
        fed,
        "K2 set up laying shelf sill\nK2 founder W2 'Aglais vera' female\nK2 founder W3 'Aglais vera' female",
    )
    words = " ".join(
        fed.shell("sheet", "--to", "+2d").out.replace("[   ]", "").replace(" -- ", " ").split()
    )
    assert words.count("Hold a butterfly by all four wings, shut, its feet on the pad;") == 1
    assert words.count("hold no moth with a stout body, let it walk onto the pad.") == 1


# --- lines ----------------------------------------------------------------------------------------------------------------


def test_of_two_females_and_their_eggs_the_female_escaped(fed: Story) -> None:
    tell(
        fed,
        "K2 set up laying\nK2 founder W2 'Aglais vera' female\nK2 founder W3 'Aglais vera' female\nK2 host in nettle",
    )
    fed.later(days=1).type("K2 searched 5")
    assert "K2 holds 2 adults; say which: brood=W2, brood=W3 or not known" in fed.refused(
        "K2 escaped 1"
    )
    assert fed.type("K2 escaped 1 W3") == ["K2 escaped 1 adult of W3"]


@pytest.mark.parametrize("sign", ["wandering", "hanging up", "not moving"])
def test_pupae_do_not_wander(fed: Story, sign: str) -> None:
    tell(fed, "P2 set up pupation\nP2 stocked 6 pupae B2")
    told = fed.refused(f"P2 {sign}")
    assert "P2 holds 6 pupae" in told
    assert "larvae" in told
    fed.type("P2 colouring", "R7 wandering 1")


def test_pupae_are_misted_in_whatever_cup_they_are(fed: Story) -> None:
    fed.type("R7 pupated 4")
    fed.later(hours=37)
    assert "mist" in fed.due("R7")


# --- the first page -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "answered", ["", "My bench\n", "My bench\n49.2N 0.4W Europe/Paris\n", "My bench\n\n1\n"]
)
def test_list_is_understood_at_each_question_before_a_container_stands(
    story: Story, answered: str
) -> None:
    ran = story.shell("begin", typed=f"{answered}list\n")
    assert "rounds begin --list FILE" in ran.out
    assert not [line for line in story.on_disk() if line["what"] == "set up"]


@pytest.mark.parametrize(
    ("typed", "unit"),
    [("C", "C"), ("1 for C", "C"), ("c, ml, mm", "C"), ("F", "F"), ("metric", "C"), ("2", "F")],
)
def test_units_are_named_by_their_letter_too(story: Story, typed: str, unit: str) -> None:
    story.shell("begin", typed=f"My bench\n49.2N 0.4W Europe/Paris\n{typed}\nL2 laying\n\n\n")
    assert [line["value"] for line in story.on_disk() if line.get("name") == "temperature"] == [
        unit
    ]


# --- coordinates without a time zone --------------------------------------------------------------------------------------


def test_coordinates_far_from_this_machines_hours_ask_for_the_zone(story: Story) -> None:
    ran = story.shell("begin", typed="My bench\n40.1N 105W\n40.1N 105W Denver\n1\nL2 laying\n\n\n")
    assert (
        "Not taken: the bench keeps UTC+2, the sun there about UTC-7: say its time zone too"
        in ran.out
    )
    assert story.desk.bench.settings["zone"] == "America/Denver"


def test_near_ones_are_taken_as_they_are(story: Story) -> None:
    ran = story.shell("begin", typed="My bench\n49.2N 0.4W\n1\nL2 laying\n\n\n")
    assert "Not taken" not in ran.out


def test_a_setting_says_it_beside_what_it_recorded(story: Story) -> None:
    story.type("setting latitude 40.1")
    assert "setting zone Europe/Paris" in story.type("setting longitude -105")[0]
    story.type("setting zone America/Denver")
    assert "setting zone" not in story.type("setting longitude -105.1")[0]


# --- what was not sure ----------------------------------------------------------------------------------------------------


def test_what_is_seen_again_and_still_not_sure_keeps_when_it_was_seen_first(fed: Story) -> None:
    tell(fed, "K2 set up laying\nK2 founder W2 'Aglais vera' female\nK2 host in nettle")
    fed.later(days=1).type("K2 searched 3 unsure")
    first = fed.desk.now()
    fed.later(days=2).type("K2 searched 4 unsure")
    fed.later(days=1).type("K2 confirmed 4")
    (lot,) = fed.desk.bench.containers["K2"].lots_of("egg")
    assert lot.since == first
    assert lot.number == 4
