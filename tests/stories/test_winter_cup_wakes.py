"""What hatches, pupates or emerges in a cup set up for winter is cared for as what it is."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def _eggs_in_winter(story: Story) -> None:
    story.at("2027-01-10 18:00")
    tell(
        story,
        """
        taxon 'Cosmia rapax' overwinters_as=egg cannibalistic
        brood CR taxon='Cosmia rapax'
        X2 set up overwintering
        X2 stocked 40 eggs brood=CR
        """,
    )


def test_larvae_hatched_in_a_winter_cup_are_fed_and_looked_at(story: Story) -> None:
    _eggs_in_winter(story)
    story.at("2027-03-20 08:00").type("X2 hatched 30")
    story.at("2027-03-22 08:00")

    due = story.due("X2")
    assert due["food"]["standing"] == "red"
    assert due["food"]["hours_until_harm"] < 0
    assert "set up for winter" in due["food"]["arithmetic"]
    assert "30 larvae that eat each other: kept apart?" in due["look"]["arithmetic"]
    shown = story.shell("due", "--within", "2h", "--exit-code")
    assert shown.status == 1
    assert "X2" in shown.out


def test_the_helper_is_told_to_feed_them(story: Story) -> None:
    _eggs_in_winter(story)
    story.at("2027-03-20 08:00").type("X2 hatched 30")
    story.at("2027-03-20 09:00").type("X2 host in 'Salix pallens' leaf", "X2 looked")

    sheet = story.shell("sheet", "--from", "+11h", "--to", "+3d").out
    line = sheet[sheet.index("X2") :]
    assert "add fresh Salix pallens" in line
    assert "Leave alone, nothing to do: X2" not in sheet


def test_the_eggs_left_beside_them_are_still_resting(story: Story) -> None:
    _eggs_in_winter(story)
    story.at("2027-01-17 18:30")
    assert set(story.due("X2")) == {"look"}
    assert story.due("X2")["look"]["standing"] == "late"
    story.type("X2 looked")
    story.at("2027-01-20 08:00")
    assert "look" not in story.due("X2")


def test_a_species_that_rests_as_first_instar_is_left_in_peace(story: Story) -> None:
    story.at("2027-09-10 18:00")
    tell(
        story,
        """
        taxon 'Argynnis montis' overwinters_as=larva
        brood AM taxon='Argynnis montis'
        X3 set up overwintering
        X3 stocked 20 eggs brood=AM
        """,
    )
    # Its eggs do not rest: they are cared for as eggs are, and a thermometer is read for them.
    story.at("2027-09-12 18:00")
    assert {"look", "air", "room"} <= set(story.due())
    story.type("X3 hatched 20", "X3 looked")
    story.at("2027-09-14 18:00")
    assert "food" not in story.due("X3")
    assert "room" not in story.due()


def test_a_moth_that_emerged_in_the_winter_store_is_fed(story: Story) -> None:
    story.at("2027-11-01 18:00")
    tell(
        story,
        """
        taxon 'Hyles arvensis' overwinters_as=pupa
        brood R7 taxon='Hyles arvensis'
        P3 set up overwintering
        P3 stocked 6 brood=R7 stage=pupa
        """,
    )
    story.at("2028-01-20 08:00").type("P3 looked", "P3 misted", "P3 emerged 1 female")
    story.at("2028-01-22 20:00")
    assert story.due("P3")["drink"]["standing"] == "red"
    assert "set up for winter" in story.due("P3")["drink"]["arithmetic"]
    # Nobody said of this one as what it rests: its pupae are let alone, what emerged is not.
    tell(story, "P4 set up overwintering\nbrood R8\nP4 stocked 6 brood=R8 stage=pupa")
    story.later(days=3)
    assert story.due("P4") == {}
    story.type("P4 emerged 1 male")
    story.later(days=3)
    assert "drink" in story.due("P4")


def test_larvae_that_grow_in_a_winter_cup_have_woken(story: Story) -> None:
    story.at("2027-11-01 18:00")
    tell(
        story,
        """
        taxon 'Arctia lenta' overwinters_as=larva
        brood AL taxon='Arctia lenta'
        X5 set up overwintering
        X5 stocked 8 L3 brood=AL
        """,
    )
    story.at("2028-02-20 08:00").type("X5 looked", "X5 misted")
    story.later(hours=40)
    assert story.due("X5") == {}
    story.type("X5 moulted 2 to L4")
    story.later(days=2)
    assert "food" in story.due("X5")
    story.type("X5 changed rearing")
    assert "winter" not in story.due("X5")["food"]["arithmetic"]


async def test_the_pane_says_that_the_cup_is_set_up_for_winter(story: Story) -> None:
    _eggs_in_winter(story)
    story.at("2027-03-20 08:00").type("X2 hatched 30")
    story.at("2027-03-22 08:00")
    async with story.screens((110, 40)) as screen:
        screen.highlight("X2")
        await screen.pilot.pause()
        assert "set up for winter" in screen.text
        pane = screen.card
        assert (
            "30 larvae, but X2 is set up for winter: move them, or 'X2 changed young larvae'"
            in pane
        )
