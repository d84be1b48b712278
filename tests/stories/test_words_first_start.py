"""The first start: animals typed in words are animals, never a plant; several containers at once."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


def begun(story: Story, stands: str, holds: str) -> str:
    """Answer the questions of ``rounds begin``; all that was printed."""
    ran = story.shell("begin", typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\n{stands}\n{holds}\n\n")
    return ran.out + ran.err


@pytest.mark.parametrize(
    ("holds", "founders"),
    [
        ("one wild female Boloria dia", 1),
        ("a female Boloria dia", 1),
        ("wild female Boloria dia", 1),
        ("female Boloria dia", 1),
        ("Two wild females of Boloria dia on violet leaf", 2),
        ("2 females Boloria dia at Tannmoos on violet leaf in water", 2),
    ],
)
def test_a_female_typed_in_words_is_a_female(story: Story, holds: str, founders: int) -> None:
    begun(story, "L2 laying", holds)

    taken = [line for line in story.on_disk() if line["what"] == "founder"]
    assert [line["taxon"] for line in taken] == ["Boloria dia"] * founders
    plants = [line["plant"] for line in story.on_disk() if line["what"] == "host in"]
    assert plants == (["violet"] if "violet" in holds else [])
    assert [line.get("place", "") for line in taken] == [
        "Tannmoos" if "Tannmoos" in holds else ""
    ] * founders


@pytest.mark.parametrize(
    "holds",
    ["females Boloria dia", "some females on violet", "eggs Boloria dia", "oak with aphids"],
)
def test_what_is_not_clear_is_asked_again_and_makes_no_plant(story: Story, holds: str) -> None:
    assert "Not taken" in begun(story, "L2 laying", holds)
    assert not [line for line in story.on_disk() if line["what"] in ("founder", "host in")]


def test_several_containers_stand_at_once(story: Story) -> None:
    printed = begun(story, "L2 L3 laying", "")
    assert "L2, L3 stand: laying" in printed
    assert [line["container"] for line in story.on_disk() if line["what"] == "set up"] == [
        "L2",
        "L3",
    ]


def test_codes_with_numbers_are_taken_with_advice(story: Story) -> None:
    printed = begun(story, "1 laying", "")
    assert "easily misread on a label" in printed
    assert [line["container"] for line in story.on_disk() if line["what"] == "set up"] == ["1"]


@pytest.mark.parametrize(
    ("holds", "place", "caught", "plant"),
    [
        (
            "2 females Boloria dia from Hollow Mead 14:20, viola",
            "Hollow Mead",
            "2027-04-30 14:20",
            "viola",
        ),
        (
            "2 females Boloria dia from Hollow Mead yesterday 14:20, viola leaf",
            "Hollow Mead",
            "2027-04-30 14:20",
            "viola",
        ),
        (
            "2 females Boloria dia from Hollow Mead 29 Apr 14:20 on viola",
            "Hollow Mead",
            "2027-04-29 14:20",
            "viola",
        ),
        (
            "2 females Boloria dia at Hollow Mead, Devon caught 6:20",
            "Hollow Mead, Devon",
            "2027-05-01 06:20",
            "",
        ),
        ("2 females Boloria dia from Hollow Mead, Devon", "Hollow Mead, Devon", "", ""),
        ("2 females Boloria dia from Cape May on viola", "Cape May", "", "viola"),
        ("2 females Boloria dia from Site 12", "Site 12", "", ""),
    ],
)
def test_a_time_ends_the_place(
    story: Story, holds: str, place: str, caught: str, plant: str
) -> None:
    printed = begun(story, "L2 laying", holds)
    taken = [line for line in story.on_disk() if line["what"] == "founder"]
    assert [line.get("place", "") for line in taken] == [place] * 2, printed
    told = [line.get("caught", "")[:16].replace("T", " ") for line in taken]
    assert told == [caught] * 2
    assert [line["plant"] for line in story.on_disk() if line["what"] == "host in"] == (
        [plant] if plant else []
    )


def test_a_time_of_catch_ahead_of_now_is_asked_about(story: Story) -> None:
    story.at("2027-05-01 14:05")
    assert "ahead of now" in begun(
        story, "L2 laying", "2 females Boloria dia from Hollow Mead 14:20, viola"
    )
    assert not [line for line in story.on_disk() if line["what"] == "founder"]


@pytest.mark.parametrize(
    "first", ["Skerry Bank, 55.2 -6.1 Europe/London", "Skerry Bank 55.2N 6.1W Europe/London"]
)
def test_degrees_behind_the_name_are_where_the_bench_is(story: Story, first: str) -> None:
    ran = story.shell("begin", typed=f"{first}\n1\nL2 laying\n\n\n")
    said = {one["name"]: one["value"] for one in story.on_disk() if one["what"] == "setting"}
    assert {name: said.get(name) for name in ("bench", "latitude", "longitude", "zone")} == {
        "bench": "Skerry Bank", "latitude": "55.2", "longitude": "-6.1", "zone": "Europe/London",
    }, ran.out  # fmt: skip
    assert [one["container"] for one in story.on_disk() if one["what"] == "set up"] == ["L2"]


def test_numbers_that_are_no_degrees_stay_in_the_name(story: Story) -> None:
    story.shell("begin", typed="Shed 2 3\n49.2N 0.4W Europe/Paris\n1\nL2 laying\n\n\n")
    assert (
        next(
            one["value"]
            for one in story.on_disk()
            if one["what"] == "setting" and one["name"] == "bench"
        )
        == "Shed 2 3"
    )
