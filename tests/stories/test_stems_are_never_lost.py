"""Kept stems move whole, each lot has its own watch, frass of a lot not known ends none, and none goes but by leave."""

from __future__ import annotations

from tests.stories.telling import Story, shown, tell

BEGIN = """
shelf set up sill
K2 set up laying shelf=sill place=1
K2 founder MOR-27-01, Melitaea cinxia female
K3 set up laying shelf=sill place=2
K3 founder MOR-27-02, Melitaea cinxia female
E2 set up eggs shelf=sill place=3
E3 set up eggs shelf=sill place=4
K2 host in plantago leaf 9 sprigs
K3 host in plantago leaf 4 sprigs
"""


def begin(story: Story) -> None:
    story.at("2027-05-22 07:00")
    tell(story, BEGIN)


def two_lots(story: Story) -> None:
    """A lot of K2 out on the 24th, one of K3 on the 25th, both kept in E2."""
    begin(story)
    story.at("2027-05-24 07:10").type("K2 host out held in E2", "K2 host in plantago leaf 9 sprigs")
    story.at("2027-05-25 19:10").type("K3 host out held in E2", "K3 host in plantago leaf 4 sprigs")


def row_of(text: str, code: str) -> str:
    """The line of a container in the list, as it is drawn."""
    return next(line for line in text.splitlines() if line.lstrip(" >#=:.~").startswith(f"{code} "))


async def test_stems_moved_to_another_cup_move_whole(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:00").type("K2 searched 0 lens")
    story.later(minutes=3).type("K2 host out held in E2")
    story.later(hours=12).type("E2 frass none")
    story.later(hours=12).type("E2 searched 0")
    story.later(minutes=2).type("E2 host out held in E3")

    text = await shown(story, "E3")
    assert "9 kept stems" in text
    assert "plantago A from K2, 9 stems" in text
    assert (
        "searched 2 times, 1 look for frass" in text
    )  # the search just before they came out is theirs
    row = row_of(text, "E2")
    assert "empty" in row
    assert "frass" in story.later(days=16).due("E3")


async def test_five_of_nine_stems_go_to_another_box(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:00").type(
        "K2 host out held in E2", "E2 searched 0 lens", "E2 host out 5 stems held in E3"
    )

    assert "plantago A from K2, 4 stems" in (text := await shown(story, "E2"))
    assert "searched 1 time," in text
    assert "plantago A from K2, 5 stems" in (text := await shown(story, "E3"))
    assert "searched 1 time," in text
    assert "8 stems out of E2, but 4 are kept there" in story.refused(
        "E2 host out 8 stems held in E3"
    )


async def test_some_stems_taken_out_leave_the_others_standing(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:00").type("K2 host out 2 sprigs held in E2")
    assert "plantago A from K2, 2 stems" in await shown(story, "E2")
    assert "7 stems" in await shown(story, "K2")


def test_kept_stems_go_nowhere_unsaid(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:00").type("K2 host out held in E2")
    assert "say where to" in story.refused("E2 host out")
    assert "say where to" in story.refused("E2 host out fridge")
    assert "kept stems that may bear eggs; move them first" in story.refused("E2 closed")
    assert "plantago in K3 may bear eggs; take it out first" in (
        story.type("K3 released 1") and story.refused("K3 closed")
    )


async def test_stems_beside_eggs_still_show_on_the_bench(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:00").type("K2 host out held in E2", "E2 searched 3 lens")
    row = row_of((await shown(story, "E2")), "E2")
    assert "3 eggs" in row
    assert "+ 9 kept stems" in row


def test_a_new_lot_does_not_silence_the_look_under_the_old_one(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:10").type("K2 host out held in E2")
    story.at("2027-06-07 19:20")  # eggs may have hatched by now
    assert "frass" in story.due("E2")
    story.type("K3 host out held in E2")
    due = story.due("E2")["frass"]
    assert "lot 1, plantago A from K2 waits longest" in due["arithmetic"]


def test_frass_under_one_lot_is_of_that_lot(story: Story) -> None:
    two_lots(story)
    story.at("2027-05-26 19:00").type("E2 frass trace lot=2")
    assert "lot 2, plantago" in story.due("E2")["turn"]["arithmetic"]
    assert "E2 has lot=1 (plantago A from K2), lot=2" in story.refused("E2 frass trace lot=4")


async def test_frass_is_asked_lot_by_lot_and_an_unknown_lot_ends_none(story: Story) -> None:
    begin(story)
    story.at("2027-05-24 07:10").type("K2 host out held in E2")
    story.at("2027-06-03 19:10").type("K3 host out held in E2")
    story.at("2027-06-04 07:20")
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("frass", "E2")
        text = screen.text
        assert "keep until" in text
        assert "lot not known, all stay" in text
        await screen.press("y")
        await screen.walk_to("turn", "E2")
        await screen.press("1", "y")
    bench = await shown(story, "E2")
    assert "lot 1" in bench
    assert "lot 2" in bench
    larvae = [line for line in story.on_disk() if line["what"] == "hatched"]
    assert [line["number"] for line in larvae] == [1]
    stocked = next(line for line in story.on_disk() if line["what"] == "stocked")
    assert stocked["brood"] == "MOR-27-01/A"  # of the lot that is older by its warmth
    assert "turn" not in story.due("E2")


async def test_a_digit_says_which_lot_and_it_alone_has_its_larvae(story: Story) -> None:
    two_lots(story)
    story.at("2027-06-07 07:20")
    async with story.screens(size=(100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("frass", "E2")
        await screen.press("2")
        await screen.walk_to("turn", "E2")
        await screen.press("3", "y")
    text = await shown(story, "E2")
    assert "plantago A from K2, 9 stems" in text
    assert "plantago A from K3, 4 stems" in text, "the rest of its eggs may hatch yet"
    assert "3 L1" in text
    (hatched,) = (line for line in story.on_disk() if line["what"] == "hatched")
    assert [lot.partition(" ")[0] for lot in hatched["lots"]] == ["K3"]
    assert "turn" not in story.due("E2")
