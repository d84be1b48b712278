"""On which shelf a standing cup is put is said as a keeper says it; a shelf that nobody set up is asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Four cups that stand nowhere in particular, and a shelf."""
    tell(story, 'L1 L2 L3 L4 set up laying\nshelf sill set up\nshelf set up "north window"')
    return story


def where(story: Story, code: str) -> tuple[str, int]:
    container = story.desk.bench.containers[code]
    return container.shelf, container.place


@pytest.mark.parametrize(
    "line",
    ["L1 on sill", "L1 sill", "L1 moved to sill", "L1 at sill", "L1 shelf sill", "L1 stands on the sill", "L1 put on sill",
     "L1 is now on shelf sill", 'L1 on "sill"', "L1 set on sill"],
)  # fmt: skip
def test_a_standing_cup_is_put_on_a_shelf(bench: Story, line: str) -> None:
    bench.type(line)
    assert where(bench, "L1") == ("sill", 0)


def test_with_its_place_and_a_shelf_of_two_words(bench: Story) -> None:
    bench.type("L1 on sill 3", "L2 on the north window place 2")
    assert (where(bench, "L1"), where(bench, "L2")) == (("sill", 3), ("north window", 2))


def test_several_at_once(bench: Story) -> None:
    bench.type("L1-L4 on sill")
    assert {where(bench, code)[0] for code in ("L1", "L2", "L3", "L4")} == {"sill"}


def test_a_time_and_a_note_may_follow(bench: Story) -> None:
    bench.later(hours=2).type("L1 on sill -20m -- out of the sun")
    assert where(bench, "L1")[0] == "sill"
    assert "out of the sun" in str(bench.on_disk()[-1]["text"])


@pytest.mark.parametrize(
    "line", ["L1 on board", "L1 moved to board", "L1 shelf board", "L1-L2 on board"]
)
def test_a_shelf_that_nobody_set_up_is_asked_about(bench: Story, line: str) -> None:
    asked = bench.refused(line)
    assert "no shelf is called board yet" in asked
    assert "there is north window, sill" in asked
    bench.type("shelf board set up")
    bench.type(line)
    assert where(bench, "L1")[0] == "board"


def test_the_other_line_that_is_shown_is_taken_too(bench: Story) -> None:
    shown = bench.refused("L1 on board").rpartition(": ")[2]
    bench.type(shown)
    assert where(bench, "L1")[0] == "board"


def test_what_else_begins_alike_stays_what_it_was(bench: Story) -> None:
    tell(
        bench,
        'L1 founder W1 "Boloria dia" female\nL1 moved 1 to L2\nL1 in diapause\nL3 host in sill-plant',
    )
    assert bench.desk.bench.containers["L2"].females == 1
    assert bench.desk.bench.containers["L1"].purpose == "overwintering"
    assert where(bench, "L3") == ("", 0)
