"""A plant behind the place that animals are from is asked about, and never kept as part of the place unasked."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, suggested


@pytest.mark.parametrize(
    "behind", ["Cardamine pratensis", "garlic mustard", "Allium + Cardamine", "nettle", "Rumex"]
)
def test_a_name_behind_the_place_is_asked_about(story: Story, behind: str) -> None:
    told = story.refused(f"K3 wild fem Pieris napi from Lohe, {behind}")
    assert told.startswith(
        f"K3 does not stand yet; '{behind}': the plant they are on, part of the place, or a note?"
    )
    assert f"from Lohe on {behind}" in told
    assert f'from "Lohe, {behind}"' in told
    assert not story.on_disk()


def test_each_way_to_say_it_is_taken(story: Story) -> None:
    said = "wild female Pieris napi from"
    story.type(
        f"K3 1 {said} Lohe on Cardamine pratensis",
        f'K4 1 {said} "Lohe, Cardamine pratensis"',
        f"K5 1 {said} Lohe -- Cardamine pratensis",
        f'K6 1 {said} "Lohe, upper part"',
        f"K7 1 {said} Lohe, Upper Wood",
        f"K8 1 {said} Lohe, cardamine pratensis 2 sprigs",
    )
    places = [one["place"] for one in story.on_disk() if one["what"] == "founder"]
    assert places == [
        "Lohe",
        "Lohe, Cardamine pratensis",
        "Lohe",
        "Lohe, upper part",
        "Lohe, Upper Wood",
        "Lohe",
    ]
    standing = story.desk.bench.containers
    assert [bool(standing[code].hosts) for code in ("K3", "K4", "K8")] == [True, False, True]


def test_of_a_founder_it_is_asked_too(story: Story) -> None:
    story.type("K3 set up laying")
    told = story.refused("K3 founder W8 Pieris napi female from Lohe, Cardamine pratensis")
    assert "'Cardamine pratensis': the plant they are on" in told
    assert suggested(told)
    story.type('K3 founder W8 Pieris napi female from "Lohe, upper meadow"')
    assert story.desk.bench.founders["W8"].place == "Lohe, upper meadow"


def test_at_the_first_start_stems_say_that_it_is_a_plant(story: Story) -> None:
    story.shell(
        "begin",
        typed="My bench\n49.2N 0.4W Europe/Paris\n1\nK3 laying\n"
        "wild fem Endromis versicolora from Birkensattel, betula pendula twig 2 sprigs\n\n",
    )
    story.reopen()
    (founder,) = story.desk.bench.founders.values()
    assert founder.place == "Birkensattel"
    (host,) = story.desk.bench.containers["K3"].hosts
    assert (host.plant.casefold(), host.sprigs) == ("betula pendula", 2)
