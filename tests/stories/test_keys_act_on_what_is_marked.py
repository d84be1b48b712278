"""After a find or a filter the mark stands on a line of the list, and every key acts on what it stands on."""

from __future__ import annotations

import pytest

from rounds.screens.rowlist import RowList
from rounds.screens.shelf_map import ShelfMap
from tests.stories.telling import Screen, Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Two laying cups: K1 in danger since nobody fed it, B5 fed this morning; B52 beside them."""
    tell(
        story.at("2027-05-01 08:00"),
        """
        shelf set up North
        K1 set up laying shelf=North
        B52 set up laying shelf=North
        B5 set up laying shelf=North
        K1 founder W1 'Boloria dia' female
        B52 founder W4 'Boloria dia' female
        B5 founder W5 'Boloria dia' female
        """,
    )
    story.at("2027-05-03 07:00").type("B5 drank", "B52 drank")
    return story.later(hours=10)


def marked(screen: Screen) -> str:
    """The container of the line that is drawn with the sign of the mark."""
    return next(line for line in screen.text.splitlines() if line.startswith(">"))


async def find(screen: Screen, words: str) -> None:
    await screen.press(
        "slash", *("space" if letter == " " else letter for letter in words), "enter"
    )
    await screen.pilot.pause()


async def test_a_find_leaves_the_lines_of_danger(bench: Story) -> None:
    async with bench.screens() as screen:
        rows = screen.app.screen.query_one(RowList)
        assert rows.cursor == 0
        assert rows.above
        assert "K1" in marked(screen)
        await find(screen, "B5")
        assert "B5 " in marked(screen)
        await screen.press("d")
        assert (bench.on_disk()[-1]["what"], bench.on_disk()[-1]["container"]) == ("drank", "B5")


@pytest.mark.parametrize(
    ("words", "found"), [("no drink recorded", "K1"), ("drank", "B52"), ("danger", "K1")]
)
async def test_a_find_finds_what_stands_on_the_screen(bench: Story, words: str, found: str) -> None:
    async with bench.screens((120, 30)) as screen:
        assert words in screen.text
        await find(screen, words)
        shown = [row.key for row in screen.app.screen.query_one(RowList).rows]
        assert found in shown
        assert len(shown) < 3
        assert "No line has" not in screen.text


async def test_a_code_is_that_container_also_where_the_marked_one_has_it(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("B52")
        await find(screen, "b5")
        await screen.press("d")
        assert bench.on_disk()[-1]["container"] == "B5"


async def test_where_nothing_is_left_no_key_acts_on_what_stands_above(bench: Story) -> None:
    async with bench.screens() as screen:
        await find(screen, "zzz")
        before = len(bench.on_disk())
        await screen.press("d")
        assert len(bench.on_disk()) == before


async def test_a_purpose_leaves_the_lines_of_danger_too(bench: Story) -> None:
    bench.type("R1 set up rearing")
    async with bench.screens() as screen:
        rows = screen.app.screen.query_one(RowList)
        await screen.press("home", "g")
        while "K1" in {row.key for row in rows.rows}:
            await screen.press("g")
        assert "R1" in marked(screen)
        assert rows.key == "R1"


async def test_where_the_map_is_walked_it_goes_along(bench: Story) -> None:
    async with bench.screens(size=(160, 50)) as screen:
        screen.highlight("K1")
        await screen.press("tab")
        await screen.pilot.pause()
        await find(screen, "B5")
        assert screen.app.screen.query_one(ShelfMap).key == "B5"
        await screen.press("d")
        assert bench.on_disk()[-1]["container"] == "B5"


async def test_a_star_on_a_line_above_is_meant_though_the_list_hides_its_own(
    bench: Story,
) -> None:
    async with bench.screens() as screen:
        screen.highlight("K1")
        await screen.press("space")
        rows = screen.app.screen.query_one(RowList)
        assert rows.marked == {"K1"}
        await find(screen, "B5")
        assert any("*" in line[:3] and "K1" in line for line in screen.text.splitlines())
        await screen.press("d")
        assert bench.on_disk()[-1]["container"] == "K1"
