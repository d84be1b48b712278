"""The broods' screens: the tree, one brood, plots as numbers, a pairing that should not be made."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.broods_screen import BroodScreen, BroodsScreen
from rounds.screens.lines import Lines
from rounds.screens.prompt import Prompt
from rounds.screens.rowlist import RowList
from tests.bench.test_stories import tell
from tests.conftest import Clock
from tests.screens.conftest import Opened
from tests.screens.test_bench_screen import message
from tests.screens.test_reference_screens import page


def rows(app: object) -> str:
    """Every row of the list."""
    return "\n".join(
        " | ".join(cell.text for cell in row.cells) for row in app.screen.query_one(RowList).rows
    )  # type: ignore[attr-defined]


async def test_the_tree_opens_a_brood_and_every_plot_is_a_table_on_one_key(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk) as (app, pilot):
        await pilot.press("z")
        assert isinstance(app.screen, BroodsScreen)
        assert "├─ SHI-26-01+/A of 2 mothers | 8 L3, 2 L4, 9 L5 | 4" in rows(app)
        app.screen.query_one(RowList).highlight("code SHI-26-01+/A")
        await pilot.pause()
        card = str(app.screen.query_one("#card", Lines).render())
        assert "SHI-26-01 or SHI-26-02, by a male from the wild" in card
        assert "23 came (20 eggs, 3 L1) = 19 alive + 4 died (2 eggs, 1 L1, 1 L3)" in card

        await pilot.press("enter")
        assert isinstance(app.screen, BroodScreen)
        drawn = page(app)
        assert "└" in drawn
        assert (
            "0.90 (0.68 to 0.99)" in drawn
        )  # 18 of 20: Clopper & Pearson 1934, by scipy.stats.binomtest(18, 20)
        await pilot.press("v")
        told = page(app)
        assert "└" not in told
        assert "share alive  low 95 %  high 95 %" in told
        await pilot.press("v")
        assert page(app) == drawn
        await pilot.press("escape")
        assert isinstance(app.screen, BroodsScreen)
        await pilot.press("escape")
        assert isinstance(app.screen, BenchScreen)


async def test_a_pairing_of_brothers_and_sisters_is_warned_of_by_the_keepers_limit(
    demo_desk: Desk, opened: Opened
) -> None:
    async with opened(demo_desk, (120, 40)) as (app, pilot):
        await pilot.press("z")
        app.screen.query_one(RowList).highlight("code SHI-26-80/A")
        await pilot.press("p")
        prompt = app.screen.query_one(Prompt)
        assert prompt.value == "pairing planned SHI-26-80/A with "
        prompt.value += "SHI-26-07/A -- only to see what is said"
        await pilot.press("enter")
        assert "saved" in message(app)
        assert "planned: SHI-26-80/A with SHI-26-07/A | inbreeding 0" in rows(app)
        assert "planned: SHI-26-80/A with SHI-26-80/A | inbreeding 0.25, TOO CLOSE" in rows(app)
        app.screen.query_one(RowList).highlight("pair SHI-26-80/A SHI-26-80/A")
        await pilot.pause()
        assert "TOO CLOSE by the default limit, yours to change: setting inbreeding 0.125" in str(
            app.screen.query_one("#card", Lines).render()
        )
        await pilot.press("t", *"setting inbreeding 0.3", "enter")
        assert "under your limit 0.3" in str(app.screen.query_one("#card", Lines).render())
        assert "TOO CLOSE" not in rows(app)
        await pilot.press("enter")
        assert "planned pairings" in page(app)
        await pilot.press("p")
        assert app.screen.query_one(Prompt).value == "pairing planned SHI-26-80/A with "


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_a_species_page_fits_its_room(
    demo_desk: Desk, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(demo_desk, size) as (app, pilot):
        await pilot.press("z")
        app.screen.query_one(RowList).highlight("taxon Zizeeria maha")
        await pilot.press("enter")
        told = page(app)

        assert "captive females" in told
        assert "a guess from 34 other species" in " ".join(told.split())
        assert max(map(len, told.splitlines())) <= size[0] - 2


async def test_an_empty_bench_says_what_to_do(desk: Desk, opened: Opened) -> None:
    async with opened(desk) as (app, pilot):
        await pilot.press("z", "enter")
        assert "No female came in" in str(app.screen.query_one("#card", Lines).render())
        await pilot.press("p", "escape", "escape")
        assert isinstance(app.screen, BenchScreen)


async def test_hostile_codes_are_shown_as_they_are(
    desk: Desk, clock: Clock, opened: Opened
) -> None:
    tell(
        desk,
        clock,
        "L2 set up laying\nL2 founder '[/]QA[b' taxon='[red]x[/' female\nbrood 'QB[0]' mothers='[/]QA[b'",
    )
    async with opened(desk) as (app, pilot):
        await pilot.press("z")
        assert "[/]QA[b female" in rows(app)
        await pilot.press("enter", "v", "escape", "down", "enter")
        assert "[/]QA[b" in page(app)
