"""A bench that only holds resting pupae is left in peace all winter."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def _resting(story: Story) -> None:
    story.at("2027-10-30 18:00")
    tell(
        story,
        """
        taxon 'Hyles arvensis' overwinters_as=pupa
        brood R7 taxon='Hyles arvensis'
        P3 set up overwintering
        P3 stocked 6 brood=R7 stage=pupa
        """,
    )


def test_resting_pupae_under_a_sealed_lid_are_never_misted_and_looked_at_every_fortnight(
    story: Story,
) -> None:
    _resting(story)
    story.later(days=8)
    assert "look" in story.due("P3")
    story.type("P3 changed lid=sealed")
    assert "look" not in story.due("P3")
    story.later(days=70)
    assert story.due("P3")["look"]["standing"] == "red"
    assert "mist" not in story.due("P3")

    story.type("P3 changed lid=gauze")
    assert {"look", "mist"} <= story.due("P3").keys()


def test_overwintering_pupae_alone_ask_for_no_room_and_send_no_mail(story: Story) -> None:
    _resting(story)

    for day, hour in (
        ("2027-10-31", "07:30"),
        ("2027-11-01", "18:30"),
        ("2027-11-05", "07:30"),
        ("2027-11-10", "18:30"),
    ):
        story.at(f"{day} {hour}")
        assert "room" not in story.due()
        assert story.shell("due", "--within", "2h", "--exit-code").status == 0


def test_looked_at_every_fortnight_they_send_no_mail_all_winter(story: Story) -> None:
    _resting(story)

    for week in range(2, 20, 2):
        story.at("2027-10-30 18:00").later(days=7 * week)
        assert story.shell("due", "--within", "2h", "--exit-code").status == 0, week
        story.type("P3 looked", "P3 misted")


def test_the_room_is_asked_again_when_one_is_woken_and_is_not_late_at_once(story: Story) -> None:
    _resting(story)
    story.type("room air 20")
    story.at("2028-03-10 09:00").type("P3 changed purpose=emergence")

    assert "room" not in {
        check for check, row in story.due().items() if row["standing"] in ("late", "red")
    }
    story.later(hours=10)
    assert "room" in story.due()
