"""The map: the bench as it stands, walked with the arrows, answered where it is pointed at, and read out."""

from __future__ import annotations

import re

import pytest

from rounds.screens.lines import KeysLine
from rounds.screens.prompt import Prompt
from rounds.screens.question import QuestionBar
from rounds.screens.rowlist import RowList
from rounds.screens.shelf_map import ShelfMap
from tests.stories.telling import Screen, Story, tell, tell_demo

BENCH = """
shelf set up upper barrier=moat place=1
shelf set up lower place=2
K2 set up laying shelf=upper place=1
K3 set up laying shelf=upper place=2
K4 set up holding shelf=upper place=3
E2 set up eggs shelf=lower place=1
R2 set up rearing shelf=lower place=2
R3 set up rearing shelf=lower place=3
R4 set up rearing inside R2
Q9 set up quarantine
K2 founder W1 'Melitaea cinxia'
K3 founder W2 'Melitaea cinxia'
K2 host in Plantago lanceolata water
brood CIN-27/A taxon='Melitaea cinxia'
E2 stocked 30 eggs CIN-27/A
R2 stocked 7 L3 CIN-27/A
R3 stocked 4 L4 CIN-27/A
R3 stocked 3 L5 CIN-27/A
R3 stocked 2 pupae CIN-27/A
R4 stocked 2 L2 CIN-27/A
upper moat full 15 mm
"""


SIGN_OF = {"in danger": "#", "urgent": "=", "late": ":", "now": ".", "do not disturb": "~"}
WORD_OF = {"due": "now"}


@pytest.fixture
def bench(story: Story) -> Story:
    """Two shelves, four cups on each, one that stands inside another, one without a place."""
    tell(story.at("2027-05-01 18:00"), BENCH)
    return story.at("2027-05-02 07:05")


def here(screen: Screen) -> str:
    """The highlighted cup."""
    return screen.app.screen.query_one(ShelfMap).key


async def test_the_map_stands_as_the_bench_stands(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m")
        rows = screen.text.splitlines()
        boards = [row for row in rows if row.startswith(" -- ")]
        assert [board[4:15].strip() for board in boards] == [
            "shelf upper",
            "shelf lower",
            "not placed",
        ]
        assert "moat about 13 mm by now, ok" in boards[0]
        order = [re.findall(r"\b[KERQ]\d\b", row) for row in rows]
        cups = [
            next(at for at, codes in enumerate(order) if code in codes)
            for code in ("K2", "E2", "Q9")
        ]
        assert [codes for codes in order if len(codes) > 1] == [
            ["K2", "K3", "K4"],
            ["E2", "R2", "R4", "R3"],
        ]
        assert [rows.index(board) for board in boards] == [at - 2 for at in cups]


async def test_arrows_walk_cup_by_cup_and_stop_at_the_ends(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m", "home", "up", "up")
        walked = [here(screen)]
        for key in (
            "left",
            "right",
            "right",
            "right",
            "down",
            "right",
            "right",
            "down",
            "down",
            "up",
        ):
            await screen.press(key)
            walked.append(here(screen))
        assert walked == ["K2", "K2", "K3", "K4", "K4", "R4", "R3", "R3", "Q9", "Q9", "E2"]


async def test_what_is_wrong_is_told_by_word_and_by_sign(bench: Story) -> None:
    bench.type("K2 drank", "K3 drank", "K4 founder W3 'Melitaea cinxia'", "K4 drank")
    bench.later(hours=27)
    async with bench.screens() as screen:
        await screen.press("m", "home", "up", "up")
        shelves = screen.app.screen.query_one(ShelfMap).shelves
        cups = {cup.code: cup for shelf in shelves for cup in shelf.cups}
        assert {cup.state for cup in cups.values()} & {"urgent", "in danger"}
        rows = screen.text.splitlines()
        for code, cup in cups.items():
            place = next(
                number for number, row in enumerate(rows) if re.search(rf"[ >]{code} ", row)
            )
            column = rows[place].index(f"{code} ")
            width = screen.app.screen.query_one(ShelfMap)._layout.cup
            edge = rows[place - 1][column : column + width].strip()
            words = " ".join(
                row[column : column + width].strip() for row in rows[place : place + 3]
            )
            by_word = next((state for state in SIGN_OF if words.endswith(state)), "")
            by_sign = next(
                (state for state, sign in SIGN_OF.items() if edge and edge[0] == sign), ""
            )
            assert (by_word or "in order", by_sign or "in order") == (
                WORD_OF.get(cup.state, cup.state),
            ) * 2, (code, words)


async def test_enter_asks_the_most_urgent_check_there_and_the_answer_is_on_disk(
    bench: Story,
) -> None:
    async with bench.screens() as screen:
        await screen.press("m", "home", "up", "up")
        before = len(bench.on_disk())
        await screen.press("enter")
        assert screen.check == "drink"
        assert "K2" in screen.text
        await screen.press("escape")
        assert len(bench.on_disk()) == before
        await screen.press("enter", "d")
        assert bench.on_disk()[-1]["what"] == "drank"
        assert bench.on_disk()[-1]["container"] == "K2"
        assert "saved" in screen.message
        assert here(screen) == "K2"


async def test_the_barrier_of_a_shelf_is_asked_at_its_cups(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m", "home", "up", "up", "a")
        assert "upper" in screen.text.split("?")[0].splitlines()[-1]
        await screen.press("k")
        assert bench.on_disk()[-1]["shelf"] == "upper"
        assert "low" in next(row for row in screen.text.splitlines() if "-- shelf upper" in row)


async def test_the_list_and_the_map_point_at_the_same_cup(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R3")
        await screen.press("m")
        assert here(screen) == "R3"
        await screen.press("left", "m")
        assert type(screen.app.screen).__name__ == "BenchScreen"
        assert screen.app.screen.query_one(RowList).key == "R4"


async def test_the_same_as_a_table(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R2")
        await screen.press("m", "v")
        rows = screen.app.screen.query_one(RowList)
        assert rows.key == "R2"
        assert [row.key for row in rows.rows] == ["K2", "K3", "K4", "E2", "R2", "R4", "R3", "Q9"]
        assert "4 L4 3 L5 2 pupae" in next(row for row in rows.rows if row.key == "R3").cells[
            3
        ].text.replace(",", "")
        await screen.press("down", "v")
        assert here(screen) == "R4"


async def test_finding_goes_to_the_next_cup_with_the_words(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m", "home", "up", "up")
        for words, code in (("pupa", "R3"), ("plantago", "K2"), ("eggs", "E2")):
            await screen.press("slash", *words, "enter")
            assert here(screen) == code, words
        await screen.press("slash", *"walrus", "enter")
        assert "No container has 'walrus'" in screen.message


async def test_a_cups_line_is_words_alone(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m", "home", "up", "up")
        told = next(row for row in screen.text.splitlines() if row.startswith(" K2, "))
        assert told.startswith(" K2, place 1, 1 female Melitaea cinxia, ")
        assert not set(told) & set("#=~")


async def test_a_code_that_is_scanned_is_shown_on_the_map(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m")
        await screen.type("Q9")
        assert here(screen) == "Q9"


async def test_no_code_is_shortened_and_no_word_is_cut(story: Story) -> None:
    tell(story, "shelf set up attic")
    codes = ["SOUTH-WINDOW-12", "L2", "L3"]
    for code in codes:
        story.type(f"{code} set up overwintering shelf=attic")
    story.type("brood X-27 taxon='Aporophyla luneburgensis'", "L2 stocked 12 pupae X-27")
    for size in ((80, 24), (60, 20), (40, 24), (24, 24)):
        async with story.screens(size) as screen:
            await screen.press("m")
            map_rows = [line.text for line in screen.app.screen.query_one(ShelfMap)._lines]
            text = " ".join(" ".join(map_rows).split())
            for code in codes:
                assert code in text, size
            assert "12 pupae" in text, size
            assert all(len(row.rstrip()) <= size[0] for row in map_rows), size
            assert "…" not in text


async def test_more_shelves_than_fit_scroll_and_the_title_says_which(story: Story) -> None:
    for number in range(1, 7):
        story.type(
            f"shelf set up s{number} place={number}",
            f"C{number} set up rearing shelf=s{number} place=1",
        )
    async with story.screens((80, 25)) as screen:
        await screen.press("m")
        for _ in range(6):
            await screen.press("up")
        assert "shelves 1 to 4 of 6" in screen.text.splitlines()[0]
        await screen.press(*["down"] * 5)
        assert here(screen) == "C6"
        assert "shelves 3 to 6 of 6" in screen.text.splitlines()[0]
        assert "-- shelf s6" in screen.text


async def test_the_card_opens_where_there_is_room_or_by_its_key(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m")
        assert not screen.app.screen.query_one("#card").display
        first = here(screen)
        await screen.press("c")
        assert screen.text.splitlines()[0].startswith(f" {first} ")
        await screen.press("down")
        other = screen.text.split()[0]
        assert other != first
        await screen.press("left")
        assert here(screen) == other
    async with bench.screens((120, 40)) as screen:
        await screen.press("m")
        assert screen.app.screen.query_one("#card").display


async def test_an_empty_bench_has_an_empty_map(story: Story) -> None:
    async with story.screens() as screen:
        await screen.press("m")
        assert "Nothing stands on this bench yet" in screen.text
        await screen.press("up", "right", "enter", "a", "c", "v", "v", "m")
        assert type(screen.app.screen).__name__ == "BenchScreen"


def test_the_shelves_are_read_out(bench: Story) -> None:
    told = bench.shell("shelves").out.splitlines()
    assert told[0] == "urgent: R2, food; R4, food; R3, food."
    assert told[1].startswith("shelf upper, moat about 13 mm by now, ok")
    assert "R4, inside R2, 2 L2 Melitaea cinxia, " in next(
        line for line in told if line.startswith("R4")
    )
    assert not set("\n".join(told)) & set("#=~>")
    short = bench.shell("shelves", "--short").out.splitlines()
    assert 0 < len(short) < len(told)
    assert not any("in order" in line for line in short)


async def test_the_keys_below_are_those_of_the_map(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("m")
        keys = str(screen.app.screen.query_one(KeysLine).render())
        for wanted in ("Enter answer", "m list", "v table", "/ find", "r round"):
            assert wanted in keys


async def test_in_a_wide_terminal_the_map_stands_beside_the_list(bench: Story) -> None:
    async with bench.screens((160, 40)) as screen:
        screen.highlight("E2")
        await screen.pilot.pause()
        assert "-- shelf lower" in screen.text
        assert here(screen) == "E2"
        rows = screen.app.screen.query_one(RowList)
        await screen.press("down")
        assert here(screen) == rows.key != "E2"
        screen.highlight("K2")
        await screen.press("tab", "right")
        assert here(screen) == "K3"
        assert rows.key == "K3"
        await screen.press("enter")
        due = screen.app.screen.query_one(QuestionBar).due
        assert due is not None
        assert due.where == "K3"
        await screen.press("escape", "d")
        assert [bench.on_disk()[-1][name] for name in ("what", "container")] == ["drank", "K3"]
        await screen.press("right")
        assert here(screen) == "K4"
        await screen.press("tab", "down")
        assert here(screen) == rows.key


async def test_what_the_map_points_at_is_meant_though_a_filter_hides_it(bench: Story) -> None:
    async with bench.screens((160, 40)) as screen:
        await screen.press("slash", *"pupa", "enter")
        assert [row.key for row in screen.app.screen.query_one(RowList).rows] == ["R3"]
        await screen.press("tab", "home")
        assert here(screen) == "E2"
        await screen.press("t")
        assert screen.app.screen.query_one(Prompt).value == "E2 "


async def test_in_a_narrow_one_its_key_says_where_it_is(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("tab")
        assert (
            screen.message == "the map stands beside the list from 150 columns on; m opens it alone"
        )


async def test_two_species_with_one_epithet_are_told_apart(story: Story) -> None:
    tell(story, "shelf set up A\nR1 set up rearing shelf=A\nR2 set up rearing shelf=A")
    tell(story, "brood ATH-27/A taxon='Melitaea athalia'\nbrood PLE-27/A taxon='Plebejus athalia'")
    tell(story, "R1 stocked 4 L3 ATH-27/A\nR2 stocked 5 L3 PLE-27/A")
    async with story.screens() as screen:
        await screen.press("m")
        assert "M. athalia" in screen.text
        assert "P. athalia" in screen.text


async def test_the_foot_of_the_list_names_no_other_cup_after_the_map(bench: Story) -> None:
    async with bench.screens((160, 45)) as screen:
        await screen.press("m", "right", "m")
        for _ in range(3):
            told = screen.text.splitlines()[-1]
            assert not told.strip().startswith(("R2", "R3", "R4", "K2", "E2")), told
            await screen.press("down")


async def test_narrow_cups_say_which_check_is_late(story: Story) -> None:
    """Seven cups side by side have ten cells each, and 'search late' is eleven."""
    story.at("2027-05-01 08:00")
    codes = [f"K{number}" for number in range(2, 9)]
    tell(story, "shelf set up sill")
    for place, code in enumerate(codes, 1):
        tell(story, f"{code} set up laying shelf=sill place={place}")
        tell(story, f"{code} founder W{place} 'Melitaea cinxia'")
        tell(story, f"{code} host in Plantago lanceolata water")
    story.later(hours=47)
    for code in codes:
        story.type(f"{code} drank", f"{code} looked", f"{code} host fresh")
    async with story.screens() as screen:
        await screen.press("m")
        rows = screen.text.splitlines()
    at = next(place for place, row in enumerate(rows) if "K2" in row and "K8" in row)
    assert re.findall(r"K\d 1 f", rows[at]) == [f"{code} 1 f" for code in codes]
    assert re.findall(r"\S+", rows[at + 1]) == ["cinxia"] * 7
    assert re.findall(r"\S+ \S+", rows[at + 2]) == [": search"] * 7


async def test_the_worst_cup_says_what_it_holds_and_its_shelf_stands_above(story: Story) -> None:
    """Six rows of seven cups, of which four are seen: the name of the shelf stands over whichever
    row is the upper."""
    tell(story.at("2027-05-01 08:00"), "shelf set up sill")
    for place in range(1, 43):
        tell(story, f"R{place + 1} set up rearing shelf=sill place={place}")
        tell(story, f"R{place + 1} 9 L5 Melitaea cinxia")
        tell(story, f"R{place + 1} host in Plantago lanceolata water")
    story.later(hours=40)
    async with story.screens() as screen:
        await screen.press("m", "home")
        rows = screen.text.splitlines()
        at = next(place for place, row in enumerate(rows) if "R2 9 L5" in row)
        assert rows[at - 2].startswith(" -- shelf sill ")
        assert rows[at + 1].split()[:2] == ["food", "food"]
        assert rows[at + 2].split()[:2] == ["in", "danger"]
        await screen.press("down", "down", "down", "down", "down")
        rows = screen.text.splitlines()
        assert "R37 9 L5" in screen.text
        first = next(place for place, row in enumerate(rows) if row.startswith(" -- "))
        assert rows[first].startswith(" -- shelf sill, further on "), screen.text
        assert "9 L5" in rows[first + 2]


async def test_words_of_two_cups_never_read_as_one(story: Story) -> None:
    """'no eggs? late drink now' was of two cups."""
    tell_demo(story.at("2026-11-28 12:05"))
    async with story.screens((120, 40)) as screen:
        await screen.press("m")
        assert "no eggs? late|drink now" in screen.text, screen.text
