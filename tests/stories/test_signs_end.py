"""A sign ends with what it told of: a moult, a pupation, a hatch or an emergence, for those that made it."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def cup(story: Story) -> None:
    tell(
        story,
        'R2 set up rearing\nbrood WIL-27-02/A taxon="Callophrys montana"\nR2 stocked 4 L3 WIL-27-02/A\nR2 host in Vaccinium',
    )


def test_a_cup_whose_larvae_have_all_moulted_moves_again(story: Story) -> None:
    cup(story)
    story.type("R2 4 moulting")
    story.later(hours=48)
    assert "still" in story.due("R2")
    story.type("R2 moulted 4 to L4")
    story.later(hours=48)
    assert "still" not in story.due("R2")
    assert "clean" in story.due("R2"), "it may be disturbed again"


def test_those_that_have_not_moulted_yet_are_waited_for(story: Story) -> None:
    cup(story)
    story.type("R2 4 moulting")
    story.later(hours=24).type("R2 moulted 3 to L4")
    story.later(hours=6)
    assert "moult?" in story.shell("due", "--within", "24h").out
    story.type("R2 moulted 1 to L4")
    story.later(hours=48)
    assert "still" not in story.due("R2")


def test_two_of_four_moult_and_the_rest_go_on_feeding(story: Story) -> None:
    cup(story)
    story.type("R2 2 moulting")
    story.later(hours=24).type("R2 moulted 2 to L4")
    story.later(hours=30)
    assert "still" not in story.due("R2")


def test_a_pupation_ends_the_hanging(story: Story) -> None:
    tell(
        story,
        'R2 set up rearing\nbrood WIL-27-02/A taxon="Callophrys montana"\nR2 stocked 2 L5 WIL-27-02/A',
    )
    story.type("R2 hanging")
    story.later(hours=24).type("R2 pupated 1")
    story.later(hours=1)
    assert "moult?" in story.shell("due", "--within", "24h").out
    story.type("R2 stocked 1 L5 WIL-27-02/A", "R2 pupated 1 more")
    story.later(hours=30)
    assert "still" not in story.due("R2")


def test_a_look_that_sees_them_still_hang_is_no_late_look(story: Story) -> None:
    story.type("P7 set up pupation", "brood A1 taxon='Boloria dia'", "P7 stocked 5 L5 brood=A1")
    story.type("P7 hanging")
    story.later(hours=56)
    assert story.due("P7")["still"]["state"] == "late"
    story.type("P7 hanging")
    assert "still" not in story.due("P7")
    story.later(hours=16)  # the next round for which that look does not count
    assert "still" in story.due("P7")
