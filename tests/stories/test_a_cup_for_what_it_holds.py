"""Containers that some come into are for what they hold: a laying cup whose eggs go into new ones makes egg cups."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_eggs_out_of_a_laying_cup_go_into_egg_cups(story: Story) -> None:
    story.at("2027-05-01 07:05")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 'Boloria inventa' female
        K2 searched 40
        K2 split 20 eggs into new E1
        K2 split 10 eggs each into new E2-E3
        """,
    )
    purposes = {one.code: one.purpose for one in story.desk.bench.standing()}
    assert purposes == {"K2": "laying", "E1": "eggs", "E2": "eggs", "E3": "eggs"}
    assert "drink" not in story.due("E1")


def test_young_larvae_of_it_go_into_cups_for_young_larvae_and_all_others_are_set_up_alike(
    story: Story,
) -> None:
    story.at("2027-05-01 07:05")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 'Boloria inventa' female
        K2 searched 40
        K2 hatched 8
        K2 split 4 larvae into new H1
        R1 set up rearing
        brood S taxon='Boloria inventa'
        R1 stocked 8 L4 S
        R1 split 4 into new R2
        Q1 set up quarantine
        Q1 stocked 8 eggs S
        Q1 split 4 into new Q2
        """,
    )
    purposes = {one.code: one.purpose for one in story.desk.bench.standing()}
    assert (purposes["H1"], purposes["R2"], purposes["Q2"]) == (
        "hatchlings",
        "rearing",
        "quarantine",
    )
