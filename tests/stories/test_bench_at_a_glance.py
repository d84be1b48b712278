"""The bench in two seconds: who is in danger, what is wrong, how long; quiet where all is in order; nothing cut."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from rounds.checks.registry import CHECKS
from rounds.screens.rowlist import RowList
from rounds.views.bench_page import BenchFilter, ScreenRoom, bench_page
from rounds.views.states import SIGNS, TONES, state_of
from tests.stories.telling import Screen, Story, tell, tell_demo

BEGIN = """
setting bench 'Marl Cottage'
taxon Leptidea sinapis
taxon Lycaena phlaeas
taxon Boloria selene
shelf set up sill moat
K2 set up laying shelf=sill place=1
K2 founder MOR-27-01, Leptidea sinapis female
K2 host in vetchling
K2 drank
K3 set up laying shelf=sill place=2
K3 founder MOR-27-02, Lycaena phlaeas female
K3 founder MOR-27-03, Lycaena phlaeas female
K3 host in sorrel
K3 drank
sill barrier full
room 20.8C 55%
"""


def rows_of(screen: Screen) -> list[str]:
    """The screen row by row."""
    return screen.text.splitlines()


async def test_what_is_in_danger_is_named_on_top_with_what_is_wrong_and_the_time(
    story: Story,
) -> None:
    story.at("2027-05-26 07:00")
    tell(story, BEGIN)
    story.later(hours=26).type("K2 drank")
    async with story.later(hours=7).screens() as screen:
        top, first = rows_of(screen)[:2]
        assert top.startswith(" Marl Cottage   Thu 27 May 16:00   1 in danger")
        assert re.match(
            r">. in danger  K3  2 females phlaeas have not drunk for 33 h +danger since 14:00$",
            first.replace(">#", ">."),
        )
        assert screen.app.screen.query_one(RowList).key == "K3", "the cursor begins on the worst"
        await screen.press("d")
        assert screen.message.startswith("saved K3 drank")
        assert "u undo" in rows_of(screen)[-1], (
            "what was saved and how to undo it stand in the last row"
        )
        assert "in danger" not in rows_of(screen)[0]


async def test_the_time_left_is_told_and_drawn(story: Story) -> None:
    story.at("2027-05-26 07:00")
    tell(story, BEGIN)
    async with story.later(hours=29.5).screens() as screen:
        first = rows_of(screen)[1]
        assert first.startswith(">= urgent")
        assert first.endswith("1 h 30 left")
        (line,) = [row for row in rows_of(screen) if row.startswith(" = K3")]
        assert line.endswith("drink urgent =====  1 h")
    async with story.later(hours=1.5).screens() as screen:
        (line,) = [row for row in rows_of(screen) if row.startswith(" # K3")]
        assert line.endswith("drink in danger ###### none")


async def test_a_quiet_bench_says_until_when_and_what_then(story: Story) -> None:
    story.at("2027-05-26 07:00")
    tell(story, BEGIN)
    story.type("K2 looked", "K3 looked")
    async with story.later(minutes=10).screens() as screen:
        rows = rows_of(screen)
        assert rows[0].endswith("nothing is late or due")
        assert (
            rows[2].rstrip() == "   Nothing is due until 18:00. Then read the room's temperature."
        )
        assert "room 20.8 C 55 %" in rows[3]
        assert "sill moat ok" in rows[3]
        assert not re.search(r"[#=]{2}", screen.text)
        for row in rows[5:7]:
            assert row[1] == " ", "no sign"


def many(count: int) -> Iterator[str]:
    """So many cups of larvae."""
    yield "brood B-1 taxon='Boloria selene'"
    for number in range(1, count + 1):
        yield f"R{number} set up rearing"
        yield f"R{number} stocked B-1 {number + 2} larvae instar=3"
        yield f"R{number} host in violet"


async def test_nineteen_lines_show_and_the_last_row_says_how_many_there_are(story: Story) -> None:
    story.at("2027-05-26 07:00")
    tell(story, "\n".join((*BEGIN.splitlines(), *many(21))))
    async with story.later(hours=33).screens() as screen:
        listed = [row for row in rows_of(screen) if re.match(r"[> ][ .:=#~][ *][A-Z]\d", row)]
        assert len(listed) == 19
        assert rows_of(screen)[-1].endswith("19 of 25")
        await screen.press("end")
        assert rows_of(screen)[-1].endswith("25 of 25")
        assert "in danger" in rows_of(screen)[1], "what is in danger stays in sight"


async def test_the_card_folds_and_opens(story: Story) -> None:
    story.at("2027-05-26 07:00")
    tell(story, "\n".join((*BEGIN.splitlines(), *many(21))))
    async with story.later(hours=33).screens() as screen:
        assert "why " not in screen.text
        await screen.press("right")
        assert "why " in screen.text
        await screen.press("left")
        assert "why " not in screen.text
    async with story.screens(size=(120, 40)) as screen:
        assert "why " in screen.text, "where there is room it is open"
        await screen.press("left")
        assert "why " not in screen.text


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20), (40, 12), (100, 30)])
async def test_no_word_is_cut_and_all_lines_write_names_alike(
    story: Story, size: tuple[int, int]
) -> None:
    story.at("2027-05-26 07:00")
    tell(story, "\n".join((*BEGIN.splitlines(), *many(3))))
    forms = {"whole": set(), "abbreviated": set(), "epithet": set()}  # type: dict[str, set[str]]
    async with story.later(hours=33).screens(size=size) as screen:
        assert "…" not in screen.text.replace(" … more: Right", "")  # the end of the card's pane
        for row in rows_of(screen):
            listed = re.match(r"[> ][ .:=#~][ *]([A-Z]\d) ", row)
            if listed:
                code = listed[1]
                told = next(form for form, name in _names(code).items() if name in row)
                forms[told].add(code)
    assert sum(1 for codes in forms.values() if codes) == 1, forms
    if size[0] >= 100:
        assert forms["whole"]


def _names(code: str) -> dict[str, str]:
    genus, epithet = {"K2": ("Leptidea", "sinapis"), "K3": ("Lycaena", "phlaeas")}.get(
        code, ("Boloria", "selene")
    )
    short = {"Leptidea": "Le.", "Lycaena": "Ly.", "Boloria": "B."}[genus]
    return {
        "whole": f"{genus} {epithet}",
        "abbreviated": f"{short} {epithet}",
        "epithet": f" {epithet}",
    }


async def test_a_shelf_that_is_late_has_a_line_and_enter_asks_there(story: Story) -> None:
    story.at("2027-05-26 07:00")
    tell(story, BEGIN)
    story.type("sill barrier dry")
    async with story.later(hours=1).screens() as screen:
        assert "urgent     shelf sill" in rows_of(screen)[1]
        await screen.press("enter")
        assert screen.check == "ants"
        assert "shelf sill: " in screen.text


async def test_an_empty_bench_offers_only_what_can_be_done(story: Story) -> None:
    async with story.screens() as screen:
        assert "Nothing stands here yet." in screen.text
        assert "0 containers" in rows_of(screen)[0]
        assert "as it stands" not in screen.text
        await screen.press("d")
        assert not story.on_disk()
        await screen.press("r")
        assert screen.message == "No round: nothing stands here yet."
        await screen.press("l")
        assert type(screen.app.screen).__name__ == "RunningBenchScreen"
        await screen.press("escape")
        await screen.type("K2 set up laying")
        assert "container, what it holds" in screen.text


async def test_a_question_leaves_the_list_above_it(story: Story) -> None:
    story.at("2027-05-26 07:00")
    tell(story, BEGIN)
    async with story.later(hours=33).screens() as screen:
        await screen.press("enter")
        assert screen.check == "drink"
        assert "in danger" in rows_of(screen)[1]


async def test_space_on_an_empty_bench_marks_nothing_and_no_question_opens(story: Story) -> None:
    async with story.screens((80, 24)) as screen:
        await screen.press("escape", "space")
        assert "Only containers can be marked" in screen.text
        await screen.press("e")
        assert "How many eggs" not in screen.text
        assert "ask_ants" not in screen.text


LARVAE = """
shelf set up sill
R2 set up rearing shelf=sill place=1
R2 23 L1 Melitaea cinxia
R2 14 L2 Melitaea cinxia
R2 3 L3 Melitaea cinxia
R2 host in 3 sprigs Veronica teucrium cut=2027-05-29T07:00
R3 set up rearing shelf=sill place=2
R3 123 L1 Boloria selene
R3 114 L2 Melitaea cinxia
R3 host in Veronica teucrium
K2 set up laying shelf=sill
K2 2f Melitaea cinxia
K2 host in plantago
"""


async def test_the_plant_of_larvae_is_the_one_they_eat_and_is_never_left_blank(
    story: Story,
) -> None:
    """Stems put in at noon decide when there must be more; those before them stand there too."""
    tell(story.at("2027-06-01 07:00"), LARVAE)
    story.at("2027-06-01 12:00").type("R2 host in 4 sprigs Veronica teucrium")
    async with story.at("2027-06-01 19:00").screens((130, 30)) as screen:
        row = next(one for one in rows_of(screen) if " R2  " in one)
        assert "teucrium 7 h, oldest 3 d 12 h" in row, screen.text
    story.at("2027-06-02 19:00").type("R2 host limp", "R3 host limp")
    async with story.screens() as screen:
        row = next(one for one in rows_of(screen) if " R2  " in one)
        assert "limp" in row, screen.text


def test_a_second_check_is_drawn_in_its_own_state(story: Story) -> None:
    """'clean urgent   ....   food 11 h': the food that keeps danger off is only due, and so it is drawn."""
    tell_demo(story.at("2027-05-17 18:00"))
    desk = story.desk
    page = bench_page(
        desk.bench,
        desk.dues(),
        desk.moment(),
        BenchFilter(),
        room=ScreenRoom(width=120),
        foresight=desk.foresight,
    )
    of_check = {(due.where, CHECKS[due.check].label): due for due in desk.dues()}
    seen = []
    for row in page.rows:
        *_, bar, left = row.cells
        due = of_check.get((row.key, left.text.partition(" ")[0]))
        if due is not None:
            state = state_of(due, desk.now())
            state = "due" if state == "in order" else state
            assert bar.tone == TONES[state], (row.key, left.text)
            assert set(bar.text) == {SIGNS[state]}, (row.key, left.text)
            seen.append(row.key)
    assert seen


async def test_the_cup_that_is_asked_about_stays_in_sight(story: Story) -> None:
    tell_demo(story.at("2027-05-17 18:00"))
    async with story.screens() as screen:
        rows = screen.app.screen.query_one(RowList)
        last = [row.key for row in rows.rows][-2:]
        for code in last:
            screen.highlight(code)
            await screen.press("l")
            await screen.pilot.pause()
            assert any(row.startswith(">") for row in rows_of(screen)), screen.text
            await screen.press("escape")
