"""A check's clock begins when the check begins to apply, whatever stood, lived or was said there before."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

LATE = ("late", "red")


def _late(story: Story, container: str = "") -> set[str]:
    return {check for check, row in story.due(container).items() if row["standing"] in LATE}


def _larvae(story: Story, purpose: str = "rearing", instar: int = 4, stage: str = "larva") -> None:
    tell(
        story,
        f"""
        brood R7 taxon='Boloria inachus'
        R3 set up {purpose}
        R3 stocked 6 brood=R7 stage={stage} {f"instar={instar}" if stage == "larva" else ""}
        """,
    )


def test_pupae_put_to_rest_at_six_are_not_late_next_morning(story: Story) -> None:
    story.at("2027-09-01 08:00")
    _larvae(story, "pupation", stage="pupa")
    story.at("2027-11-10 18:00").type("R3 changed purpose=overwintering")

    story.at("2027-11-11 07:10")
    assert not _late(story, "R3")


def test_larvae_woken_in_march_are_not_late_a_minute_later(story: Story) -> None:
    story.at("2027-09-01 08:00")
    _larvae(story)
    story.type("R3 host in 'Viola alpina' leaf 4 sprigs", "R3 cleaned", "R3 counted 6")
    story.at("2027-10-01 18:00").type("R3 host out binned", "R3 changed purpose=overwintering")
    story.at("2028-03-05 09:00").type("R3 looked", "R3 changed purpose=rearing")

    story.later(minutes=1)
    assert not _late(story, "R3")
    story.later(hours=13)
    assert "food" in _late(story, "R3")  # but hunger runs from then on


@pytest.mark.parametrize(("stage", "purpose"), [("egg", "eggs"), ("pupa", "emergence")])
def test_what_is_woken_is_not_late_to_hatch_or_emerge_at_once(
    story: Story, stage: str, purpose: str
) -> None:
    story.at("2027-09-01 08:00")
    _larvae(story, "overwintering", stage=stage)
    story.at("2028-03-05 09:00").type(f"R3 changed purpose={purpose}")

    story.later(minutes=1)
    assert not _late(story, "R3")


def test_a_purpose_changed_does_not_forget_thirst(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, "L2 set up holding\nL2 founder W2 'Lysandra calida'\nL2 drank")
    story.at("2027-05-02 10:00").type("L2 changed purpose=laying")

    story.later(minutes=1)
    assert "drink" in _late(story, "L2")


def test_grown_larvae_moved_into_a_cup_that_stood_empty_are_not_late_there(story: Story) -> None:
    story.at("2027-05-01 08:00")
    _larvae(story)
    story.type("R4 set up rearing")
    story.at("2027-05-04 08:00").type(
        "R3 cleaned", "R3 counted 6", "R3 host in 'Viola alpina' leaf 4 sprigs"
    )
    story.later(minutes=5).type("R4 host in 'Viola alpina' leaf 4 sprigs", "R3 moved 6 to R4")

    story.later(minutes=1)
    assert not _late(story, "R4")


def test_a_cup_that_got_a_new_name_is_not_late(story: Story) -> None:
    """A cup is renamed by setting up the new one and moving all that was in the old."""
    story.at("2027-05-01 08:00")
    tell(story, "L2 set up laying\nL2 founder W2 'Lysandra calida'\nL2 drank")
    story.at("2027-05-05 08:00").type("L2 drank", "L2 searched 0", "L2 feeder changed")
    story.type("L3 set up laying", "L2 moved 1 to L3", "L2 closed")

    story.later(minutes=1)
    assert not _late(story, "L3")


def test_a_female_moved_to_a_cup_that_stood_long_is_not_late_there(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, "L2 set up laying\nL3 set up laying\nL2 founder W2 'Lysandra calida'\nL2 drank")
    story.at("2027-05-05 08:00").type("L2 drank", "L2 moved 1 to L3")

    story.later(minutes=1)
    assert not _late(story, "L3")


def test_larvae_that_reach_the_third_instar_are_not_late_to_be_cleaned(story: Story) -> None:
    story.at("2027-05-01 08:00")
    _larvae(story, instar=2)
    story.type("R3 host in 'Viola alpina' leaf 4 sprigs", "R3 cleaned")
    for day in (2, 3, 4):
        story.at(f"2027-05-0{day} 08:00").type(
            "R3 host seen fresh left=plenty", "R3 looked", "R3 counted 6"
        )
    story.at("2027-05-05 08:00").type(
        "R3 host seen fresh left=plenty", "R3 looked", "R3 moulted 6 L3"
    )

    story.later(minutes=1)
    assert not _late(story, "R3")
    story.later(hours=31).type("R3 moulted 6 L4")
    assert "clean" in _late(story, "R3")  # a further moult does not clean the cup


def test_a_moat_put_round_an_old_cup_is_not_late_at_once(story: Story) -> None:
    story.at("2027-05-01 08:00").type("L2 set up laying")
    story.at("2027-05-09 08:00").type("L2 changed barrier=moat")

    story.later(minutes=1)
    assert "ants" not in _late(story)
    story.later(hours=30)
    assert "ants" in _late(story)


def test_a_shelf_that_gets_a_moat_is_not_late_at_once(story: Story) -> None:
    story.at("2027-05-01 08:00").type("shelf set up A", "L2 set up laying shelf=A")
    story.at("2027-05-09 08:00").type("shelf set up A barrier=moat")

    story.later(minutes=1)
    assert "ants" not in _late(story)


def test_stock_put_into_quarantine_is_asked_for_a_week_later(story: Story) -> None:
    story.at("2027-05-01 08:00")
    _larvae(story)
    story.at("2027-05-20 08:00").type("R3 changed purpose=quarantine")

    story.later(minutes=1)
    assert "quarantine" not in story.due("R3")
    story.later(days=8)
    assert "quarantine" in story.due("R3")


def test_the_second_half_of_winter_makes_nothing_late(story: Story) -> None:
    story.at("2027-11-01 08:00")
    _larvae(story, "overwintering", stage="pupa")
    story.at("2028-01-05 08:00").type("R3 misted", "R3 looked")

    story.at("2028-01-16 00:05")  # from now on every week instead of every fortnight
    assert not _late(story, "R3")
