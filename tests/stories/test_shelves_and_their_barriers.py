"""A shelf's name ends where its fields begin; what was never set up has no moat to log; a winter store keeps its own limit."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    ("line", "name", "fields"),
    [
        ("shelf set up B barrier moat", "B", {"barrier": "moat"}),
        (
            "shelf set up kitchen sill barrier sticky band place 2",
            "kitchen sill",
            {"barrier": "sticky band", "place": 2},
        ),
        ("shelf D set up barrier moat", "D", {"barrier": "moat"}),
        ("shelf set up F at place 3", "F", {"place": 3}),
        ("shelf set up H apart cold 4 hot 30", "H", {"apart": True, "cold_c": 4, "hot_c": 30}),
        ("shelf set up cold room apart", "cold room", {"apart": True}),
        ("shelf set up 'table by window'", "table by window", {}),
    ],
)
def test_field_words_end_the_name_of_a_shelf(
    story: Story, line: str, name: str, fields: dict[str, object]
) -> None:
    story.type(line)
    written = story.on_disk()[-1]
    assert written["shelf"] == name
    assert {field: written[field] for field in fields} == fields


def test_a_preposition_in_a_name_is_asked_about(story: Story) -> None:
    assert (
        "'in' ends the name; in quotes it is part of it: shelf set up 'Q in the cellar'"
        in story.refused("shelf set up Q in the cellar")
    )
    assert "which barrier? moat" in story.refused("shelf set up B barrier")


def test_a_moat_on_a_shelf_without_a_barrier_is_refused_with_what_would_be_right(
    story: Story,
) -> None:
    tell(story, "shelf set up C\nR1 set up rearing shelf=C\nbrood A-1/A\nR1 stocked 6 larvae A-1/A")
    for line in ("C moat full 12 mm", "C topped up", "C moat low"):
        assert "C has no barrier on record; first: shelf set up C moat" in story.refused(line)
    assert "R1 has no barrier on record; first: R1 changed barrier=moat" in story.refused(
        "R1 moat full 12 mm"
    )
    story.type("R1 3 ants above")  # ants are told wherever they are
    tell(story, "shelf set up C moat\nC moat full 12 mm")
    story.later(hours=30)
    assert story.due("C")["ants"]["where"] == "C"


def test_a_winter_store_keeps_its_own_limit(story: Story) -> None:
    story.at("2027-12-01 08:00")
    tell(
        story,
        """
        shelf set up cellar apart hot_c=14
        P3 set up overwintering shelf=cellar
        brood R7 taxon='Hyles arvensis'
        P3 stocked 6 brood=R7 stage=pupa
        cellar air 12
        """,
    )
    assert "heat" not in story.due("cellar")
    story.type("cellar air 15")
    heat = story.due("cellar")["heat"]
    assert "read 15 C, over its limit of 14 C" in heat["arithmetic"]
    assert heat["standing"] == "red"


async def away_page(story: Story) -> str:
    async with story.screens((120, 60)) as screen:
        await screen.press("b")
        return " ".join(screen.text.split())


async def test_only_a_refill_or_a_moat_called_full_says_how_deep_full_is(story: Story) -> None:
    story.at("2027-05-01 06:00")
    tell(
        story,
        "shelf set up C moat\nR1 set up rearing shelf=C\nbrood A-1/A\nR1 stocked 6 larvae A-1/A\nC moat dirty 40 mm",
    )
    story.later(hours=6).type("C moat dirty 34 mm")
    assert "filled to" not in await away_page(story), "nobody said how deep it is when full"
    story.later(hours=1).type("C topped up 9 mm")
    shown = await away_page(story)
    assert "filled to 9 mm on leaving" in shown
    assert "40 mm" not in shown
