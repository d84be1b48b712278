"""A winter store is told warm or frozen by a logger too; sleeves wake one by one; pupae pause in summer."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


def _log(story: Story, place: str, *rows: tuple[str, float]) -> None:
    file = story.folder.parent / f"{place}-{rows[-1][0][:10]}.csv"
    file.write_text("time,temperature (C)\n" + "".join(f"{at},{warmth}\n" for at, warmth in rows))
    assert story.shell("temperatures", str(file), "--place", place).status == 0


def _frame(story: Story, limits: str = "cold_c=-2") -> None:
    story.at("2026-11-01 08:00")
    tell(
        story,
        f"""
        shelf set up frame apart {limits}
        P3 set up overwintering shelf=frame
        brood B2 taxon='Sphinx ligustri'
        P3 stocked 30 pupae B2
        """,
    )


def test_a_frost_that_a_logger_wrote_is_told(story: Story) -> None:
    _frame(story)
    story.at("2026-11-03 06:30")
    _log(
        story,
        "frame",
        ("2026-11-02 22:00", 1),
        ("2026-11-03 02:00", -8),
        ("2026-11-03 05:00", -9),
        ("2026-11-03 06:20", -1),
    )
    heat = story.due("frame")["heat"]
    assert heat["standing"] in ("late", "red")
    assert "read -9 C, too cold for a winter store" in heat["arithmetic"]
    story.reopen()
    assert "Too cold. What did you do?" in "\n".join(story.plain(["q"]))
    story.type("frame air 1")
    assert "heat" not in story.due()


def test_a_warm_spell_that_a_logger_wrote_is_told_and_what_was_before_the_winter_is_not(
    story: Story,
) -> None:
    _frame(story)
    story.at("2026-11-04 06:30")
    _log(story, "frame", ("2026-10-20 15:00", 28), ("2026-11-01 09:00", 6), ("2026-11-04 06:00", 4))
    assert "heat" not in story.due()
    story.at("2026-11-20 18:00")
    _log(story, "frame", ("2026-11-15 14:00", 16.7), ("2026-11-20 17:00", 4))
    assert "read 16.7 C, too warm for a winter store" in story.due("frame")["heat"]["arithmetic"]


def test_a_logger_read_is_a_reading_of_the_place(story: Story) -> None:
    _frame(story)
    story.at("2026-11-18 08:00")
    assert story.due("frame")["room"]["standing"] == "late"
    _log(story, "frame", ("2026-11-02 14:00", 5), ("2026-11-18 07:00", 4))
    assert "room" not in story.due()
    story.later(days=17)
    assert story.due("frame")["room"]["standing"] == "late"


def test_what_a_logger_wrote_long_ago_of_a_place_where_all_are_awake_is_no_alarm(
    story: Story,
) -> None:
    story.at("2026-06-20 08:00")
    tell(
        story,
        "shelf set up porch apart\nR3 set up rearing shelf=porch\nbrood B2 taxon='Sphinx ligustri'\nR3 stocked 9 L3 B2",
    )
    _log(story, "porch", ("2026-06-10 15:00", 36), ("2026-06-20 07:00", 17))
    assert "heat" not in story.due()
    story.at("2026-06-20 16:00")
    _log(story, "porch", ("2026-06-20 09:00", 20), ("2026-06-20 15:30", 35))
    assert "read 35 C" in story.due("porch")["heat"]["arithmetic"]


def _sleeves(story: Story) -> None:
    story.at("2026-11-20 08:00")
    tell(
        story,
        """
        shelf set up garden apart
        brood B5 taxon='Arctia lenta'
        S2 set up overwintering shelf=garden
        S2 stocked 28 L4 B5
        S2 host in 'Salix caprea' tree
        S2 host fresh plenty
        S3 set up overwintering shelf=garden
        S3 stocked 12 L4 B5
        E4 set up overwintering shelf=garden
        E4 stocked 40 eggs B5
        """,
    )


def test_one_sleeve_awake_does_not_silence_the_alarm_of_those_that_winter_beside_it(
    story: Story,
) -> None:
    _sleeves(story)
    story.at("2027-01-16 08:00").type("garden 3/15")
    assert story.due("garden")["heat"]["standing"] == "late"
    story.type("S2 moulted 28 L5")
    heat = story.due("garden")["heat"]
    assert heat["standing"] == "late"
    assert "read 15 C, too warm for a winter store: S3, E4" in heat["arithmetic"]
    story.type("S3 changed rearing", "E4 changed eggs")
    assert "heat" not in story.due()


def test_larvae_that_woke_on_a_living_tree_are_hungry_since_they_woke(story: Story) -> None:
    _sleeves(story)
    story.at("2027-01-16 08:00").type("S2 moulted 28 L5")
    assert "food" not in story.due("S2")
    story.later(hours=22)
    food = story.due("S2")["food"]
    assert "plenty seen on a growing plant" in food["arithmetic"]
    assert food["hours_until_harm"] > 24
    story.later(days=4)
    assert story.due("S2")["food"]["hours_until_harm"] < 0


def test_plenty_on_a_living_tree_is_no_danger_the_next_day_and_plenty_of_a_cut_branch_is(
    story: Story,
) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        brood B5 taxon='Arctia lenta'
        S2 set up rearing
        S2 stocked 28 L5 B5
        S2 host in 'Salix caprea' tree
        S2 host fresh plenty
        R3 set up rearing
        R3 stocked 28 L5 B5
        R3 host in 'Salix caprea' water
        R3 host fresh plenty
        """,
    )
    story.later(hours=37)
    assert story.due("S2")["food"]["hours_until_harm"] > 24
    assert story.due("R3")["food"]["hours_until_harm"] < 0


@pytest.mark.parametrize(
    ("limits", "told"),
    [("hot_c=32", False), ("hot_c=26", True), ("warm_c=24 hot_c=40", True), ("", True)],
)
def test_the_limit_of_warmth_that_the_keeper_gave_a_place_is_the_one_that_counts(
    story: Story, limits: str, told: bool
) -> None:
    story.at("2026-06-20 15:00")
    tell(
        story,
        f"shelf set up frame apart {limits}\nR3 set up rearing shelf=frame\nbrood B2\nR3 stocked 9 L3 B2",
    )
    story.type("frame 3/31")
    assert ("heat" in story.due("frame")) is told
    limit = {"hot_c=32": "32", "hot_c=26": "26", "warm_c=24 hot_c=40": "24", "": "30"}[limits]
    sheet = " ".join(
        story.shell("sheet", "--from", "+2h", "--to", "+2d").out.replace("[   ]", "").split()
    )
    assert f"Over {limit} C: shade it" in sheet
    if limits and told:
        assert f"over its limit of {limit} C" in story.due("frame")["heat"]["arithmetic"]


def test_a_limit_of_summer_says_nothing_of_the_winter(story: Story) -> None:
    _frame(story, "cold_c=-2 hot_c=32")
    story.type("frame 3/17")
    assert "read 17 C, too warm for a winter store" in story.due("frame")["heat"]["arithmetic"]


@pytest.mark.parametrize(
    "says", ["P2 changed purpose=overwintering", "P2 in diapause", "P2 dormant", "P2 lying over"]
)
def test_pupae_that_pause_in_summer_are_in_no_winter_store_that_is_too_warm(
    story: Story, says: str
) -> None:
    story.at("2026-06-20 08:00")
    tell(
        story,
        """
        shelf set up shed apart
        brood B2 taxon='Clostera curtula'
        P2 set up emergence shelf=shed
        P2 stocked 30 pupae B2
        """,
    )
    assert "still for a day before a change, or for months?" in story.refused("P2 resting")
    story.at("2026-07-20 08:00").type(says, "P2 looked", "shed 13/22")
    assert story.due() == {}
    story.later(hours=10).type("shed 18/34")
    assert story.due("shed")["heat"]["standing"] in ("late", "red")
    story.later(hours=14).type("shed -1/23")
    assert "too cold" in story.due("shed")["heat"]["arithmetic"]
    # It was cold by now in that refrigerator; or the cold months came.
    story.later(hours=20).type("shed 3/6")
    story.later(hours=20).type("shed 8/14")
    assert "too warm for a winter store" in story.due("shed")["heat"]["arithmetic"]


def test_from_november_a_store_is_to_be_cold_and_in_the_south_from_may(story: Story) -> None:
    story.at("2026-08-20 08:00")
    tell(
        story,
        "shelf set up shed apart\nbrood B2\nE2 set up overwintering shelf=shed\nE2 stocked 30 eggs B2\nshed 13/22",
    )
    assert "heat" not in story.due()
    story.type("setting latitude -40")
    assert "heat" in story.due()
    story.type("setting latitude 40")
    story.at("2026-11-02 08:00").type("shed 13/16")
    assert "heat" in story.due()
