"""When she was caught stands behind the plant, with how she was carried, in any order."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story
from tests.stories.test_from_nothing_to_the_first_check import typed

LINES = [
    ("on plantain, caught yesterday 15:30", "2027-05-09T15:30", ""),
    ("on plantain, caught 11:00, carried cool", "2027-05-10T11:00", "carried cool"),
    ("on plantain, carried cool, caught 11:00", "2027-05-10T11:00", "carried cool"),
    (", carried cool, caught 11:00 on plantain", "2027-05-10T11:00", "carried cool"),
    (" caught yesterday 15:30 carried cool on plantain", "2027-05-09T15:30", "carried cool"),
    (
        "carried cool on plantain, netted at Low Mead yesterday 15:30",
        "2027-05-09T15:30",
        "carried cool",
    ),
]


def came(story: Story) -> tuple[set[str], set[str], list[str]]:
    lines = story.on_disk()
    return (
        {line["caught"][:16] for line in lines if line["what"] == "founder"},
        {line["plant"] for line in lines if line["what"] == "host in"},
        [line["text"] for line in lines if line["what"] == "note"],
    )


@pytest.mark.parametrize(("behind", "caught", "note"), LINES)
@pytest.mark.parametrize("stands", [True, False])
def test_at_the_prompt(story: Story, behind: str, caught: str, note: str, stands: bool) -> None:
    story.at("2027-05-10 18:00")
    if stands:
        story.type("K1 set up laying")
    story.type(f"K1 2 females, 1 male Melitaea cinxia {behind}")
    assert came(story) == ({caught}, {"plantain"}, [note] if note else [])
    assert [line["at"][:16] for line in story.on_disk() if line["what"] == "set up"] == [
        "2027-05-10T18:00"
    ]


@pytest.mark.parametrize(("behind", "caught", "note"), LINES)
async def test_at_the_first_start(story: Story, behind: str, caught: str, note: str) -> None:
    story.at("2027-05-10 18:00")
    async with story.screens() as screen:
        await screen.press("a", *["enter"] * 4)
        await typed(screen, f"2 females Melitaea cinxia {behind}")
    assert came(story) == ({caught}, {"plantain"}, [note] if note else [])
