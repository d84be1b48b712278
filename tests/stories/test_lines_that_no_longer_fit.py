"""Crossing out a line on which later ones rest: which no longer fit is shown at once, and until it is put right."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

MOVED = """
taxon 'Saturnia montis' short=montis instars=5
K4 set up laying
K4 founder W6 'Saturnia montis' sex=female
brood A-3 mothers=W6
R2 set up rearing
R4 set up rearing
R2 stocked A-3 20 larvae L1
"""


@pytest.fixture
def moved(story: Story) -> Story:
    story.at("2027-05-01 07:00")
    tell(story, MOVED)
    story.at("2027-05-01 12:00").type("R2 moved 8 to R4")
    story.at("2027-05-01 14:00").type("R4 died 4")
    return story.later(hours=1)


def id_of(story: Story, what: str) -> str:
    return str(next(line["id"] for line in story.on_disk() if line["what"] == what))


async def test_the_echo_the_row_the_daybook_and_the_broods_show_what_no_longer_fits(
    moved: Story,
) -> None:
    async with moved.screens((110, 30)) as screen:
        await screen.press("y")
        screen.highlight(id_of(moved, "moved"))
        await screen.press("x", "enter")
        assert (
            "1 later line does not fit any more: R4 died 4 larvae (R4 had 0, not 4)"
            in screen.message
        )
        assert "cross it out too, or bring this one back" in screen.message
        assert "DOES NOT FIT: R4 died 4" in screen.text
        screen.highlight(id_of(moved, "died"))
        await screen.pilot.pause()
        assert "R4 had 0, not 4" in screen.text.split("DOES NOT FIT")[-1]
        await screen.press("escape")
        assert "1 LINE DOES NOT FIT: R4 died 4 larvae (R4 had 0, not 4)" in screen.text
        await screen.press("z")
        assert "not in these numbers: R4 died 4 larvae (R4 had 0, not 4)" in screen.text


async def test_brought_back_all_fits_again(moved: Story) -> None:
    async with moved.screens((110, 30)) as screen:
        await screen.press("y")
        screen.highlight(id_of(moved, "moved"))
        await screen.press("x", "enter", "x", "enter")
        assert "fit" not in screen.message
        assert "FIT" not in screen.text
        await screen.press("z")
        assert "not in these numbers" not in screen.text


def test_typed_and_undone_the_same_is_said(moved: Story) -> None:
    said = moved.type(f"struck {id_of(moved, 'moved')} why='wrong cup'")[0]
    assert "does not fit any more: R4 died 4" in said
    assert "1 LINE DOES NOT FIT: R4 died 4" in moved.shell("due").err
    assert "R4 had 0, not 4" in moved.shell("check").out


def test_a_late_line_that_does_not_fit_says_so(moved: Story) -> None:
    refused = moved.refused("R4 moved 4 to R2 -4h")
    assert refused.startswith("4 out of R4, but it holds nothing")
    said = moved.type("R4 died 8 -2h")[0]
    assert (
        "1 line does not fit: R4 died 4 larvae (R4 had 0, not 4); cross out what is wrong" in said
    )


def test_a_set_up_crossed_out_names_what_rests_on_it(moved: Story) -> None:
    setups = [
        line["id"]
        for line in moved.on_disk()
        if line["what"] == "set up" and line["container"] == "R4"
    ]
    said = moved.type(f"struck {setups[0]}")[0]
    assert "does not fit any more" in said
    assert "R4 was not set up before this" in said


def test_crossing_out_what_does_not_fit_ends_it(moved: Story) -> None:
    moved.type(f"struck {id_of(moved, 'moved')}", f"struck {id_of(moved, 'died')}")
    assert "FIT" not in moved.shell("due").err
