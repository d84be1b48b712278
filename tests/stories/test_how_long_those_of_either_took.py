"""Animals that may be of one brood or of another have durations, rows and stages of their own: nobody says that none was seen."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of, table
from tests.stories.test_life_table_says_what_is_known import page
from tests.stories.test_one_of_two_broods import TWO_CUPS, section
from tests.stories.test_tables_with_a_column_each import table_of

LASTING = "How long each stage took"
EITHER = "W2/A or W3/A"


def hatched_together(story: Story) -> None:
    """Ten eggs of each mother in one cup at 22 C; all hatch after eight days, of nobody knows which; an L1 dies."""
    tell(story, TWO_CUPS)
    story.later(days=1)
    tell(
        story,
        """
        room 22/22
        K2 searched 10
        K3 searched 10
        K2 moved 10 eggs to R6
        K3 moved 10 eggs to R6
        R6 host in speedwell
        """,
    )
    for _ in range(8):
        story.later(days=1).type("room 22/22")
    story.type("R6 hatched 20 not known")
    story.later(days=2).type("R6 died 1 L1 not known", "room 22/22")
    story.later(days=2).type("R6 moulted 19 L2 not known", "room 22/22")


def test_the_note_tells_how_long_they_took(story: Story, tmp_path: Path) -> None:
    hatched_together(story)
    note = note_of(story, tmp_path, "W3/A")
    told = section(note, LASTING)
    assert "No stage was seen" not in told
    rows = table(note, LASTING)
    assert [row[:3] for row in rows[1:]] == [
        [f"egg, {EITHER}", "20", "8.5"],
        [f"L1, {EITHER}", "19", "4.0"],
    ], rows


async def test_the_page_of_a_brood_tells_it_too(story: Story) -> None:
    hatched_together(story)
    shown = await page(story, "W2/A")
    assert f"how long each stage took, {EITHER}: nobody knows which" in shown, shown


def test_the_table_has_a_row_of_them(story: Story, tmp_path: Path) -> None:
    hatched_together(story)
    rows = table_of(story, tmp_path, "durations")
    assert rows["brood"].to_list() == [EITHER, EITHER]
    assert rows["number"].to_list() == [20, 19]
    assert set(rows["taxon"]) == {"Melitaea rubida"}


async def test_they_are_a_point_against_temperature(story: Story, tmp_path: Path) -> None:
    hatched_together(story)
    told = section(note_of(story, tmp_path, "W3/A"), "Development against temperature")
    assert "egg: no line from this bench yet; one brood with its temperatures" in told, told


def test_an_l1_that_died_is_not_told_as_an_egg(story: Story, tmp_path: Path) -> None:
    hatched_together(story)
    fates = section(note_of(story, tmp_path, "W3/A"), "What became of them")
    assert "(10 eggs)" not in fates, fates
    assert "last told apart as 1 egg" in fates
    assert "of W2/A, W3/A, not known which: 1 died (1 L1), 19 in R6 (19 L2)" in fates
