"""Those that a count misses were alive until they were last counted: survival says so."""

from __future__ import annotations

import csv

import pytest

from tests.stories.telling import Story, survival, tell


def begin(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        "brood G/A taxon='Euphydryas orata'\nR1 set up rearing\nR1 host in Succisa pratensis\nR1 stocked 20 L1 G/A",
    )
    story.at("2027-05-10 08:00").type("R1 counted 20", "R1 died 4", "R1 counted 16")


def last_known(story: Story) -> set[str]:
    file = story.folder.parent / "events.csv"
    assert story.shell("export", "csv", str(file), "--table", "events", "--replace").status == 0
    rows = list(csv.DictReader(file.read_text().splitlines()))
    return {row["to"][:10] for row in rows if row["fate"] in ("not seen", "not known")}


def test_four_of_twenty_died(story: Story) -> None:
    begin(story)
    story.at("2027-05-14 08:00").type("R1 counted 4")
    assert survival(story, "G/A")[-1][1] == pytest.approx(0.8)
    assert last_known(story) == {"2027-05-10"}


def test_the_curve_does_not_jump_without_a_death(story: Story) -> None:
    begin(story)
    story.at("2027-05-14 08:00").type("R1 counted 4")
    before = survival(story, "G/A")
    story.type("R1 settled not known 12")
    assert survival(story, "G/A") == before
    assert last_known(story) == {"2027-05-10"}


def test_the_calculator_agrees(story: Story) -> None:
    begin(story)
    story.at("2027-05-14 08:00").type("R1 counted 4")
    alive = ",".join(["9"] * 12 + ["13"] * 4)
    ran = story.shell("calc", "survival", "--died", "9,9,9,9", "--alive", alive)
    assert "0.8" in ran.out, ran.out + ran.err


def test_a_move_is_seen_too(story: Story) -> None:
    begin(story)
    story.at("2027-05-12 08:00")
    tell(story, "R2 set up rearing\nR2 host in Succisa pratensis\nR1 moved 16 to R2")
    story.at("2027-05-14 08:00").type("R2 counted 4")
    assert survival(story, "G/A")[-1][1] == pytest.approx(0.8)
    assert last_known(story) == {"2027-05-12"}


def test_a_moult_is_seen_too(story: Story) -> None:
    begin(story)
    story.at("2027-05-12 08:00").type("R1 moulted 16 to L2")
    story.at("2027-05-14 08:00").type("R1 counted 4")
    assert survival(story, "G/A")[-1][1] == pytest.approx(0.8)
    assert last_known(story) == {"2027-05-12"}


def test_a_count_of_one_instar_says_nothing_of_the_other(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        "brood G/A taxon='Euphydryas orata'\nR1 set up rearing\nR1 host in Succisa pratensis\nR1 stocked 20 L1 G/A",
    )
    story.at("2027-05-06 08:00").type("R1 moulted 8 to L2")
    story.at("2027-05-10 08:00").type("R1 counted 12 L1")
    story.at("2027-05-11 08:00").type("R1 died 2 L1")
    story.at("2027-05-14 08:00").type("R1 counted 3 L2")
    assert last_known(story) == {"2027-05-06"}


def test_some_moved_before_the_count_keep_the_time_of_their_move(story: Story) -> None:
    begin(story)
    story.at("2027-05-12 08:00")
    tell(story, "R2 set up rearing\nR2 host in Succisa pratensis\nR1 moved 6 to R2")
    story.at("2027-05-14 08:00").type("R1 counted 4", "R2 counted 2")
    assert last_known(story) == {"2027-05-10", "2027-05-12"}


def test_a_female_was_alive_when_she_last_drank(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(story, "L3 set up laying\nL3 founder W4, Polyommatus icarus female")
    story.at("2027-06-15 07:00").type("L3 drank")
    story.at("2027-06-18 07:00").type("L3 counted 0")
    assert last_known(story) == {"2027-06-15"}
