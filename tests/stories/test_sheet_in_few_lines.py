"""The neighbour's sheet on little paper: cups that want the same under one number, a look joined with what else is done, no line half empty."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_sheet_for_the_neighbour import BENCH, places, told

ALIKE = """
shelf set up B
taxon Leptidea sinapis instars=5
N1 set up rearing shelf B
N1 founder SIN-9, Leptidea sinapis female
R5 set up rearing shelf B
R6 set up rearing shelf B
R7 set up rearing shelf B
R5 stocked 4 L3 SIN-9
R6 stocked 4 L3 SIN-9
R7 stocked 6 L3 SIN-9
R5 host in vetchling leaf water
R6 host in vetchling leaf water
R7 host in vetchling leaf water
"""


def title(sheet: str, code: str) -> str:
    """All that stands under the number where a cup is named, in one line."""
    return next(words for words, _ in places(sheet).values() if f"{code} (" in words)


def test_cups_that_want_the_same_have_one_number_and_each_its_own_stems(story: Story) -> None:
    tell(story, ALIKE)
    words = title(told(story)[0], "R7")
    assert words.startswith("R5 (4 caterpillars), R6 (4 caterpillars), R7 (6 caterpillars) on")
    assert "on shelf B. Each: Look." in words
    assert "Open, add fresh vetchling from ____________: R5 1 stem, R6 1 stem, R7 2 stems." in words


@pytest.mark.parametrize(
    "line",
    [
        "R6 suspect -- pale",
        "R6 leave be +1d -- moulting",
        "R6 host in clover leaf water",
        "R6 1 looked still",
        "R6 to shelf C",
        "R6 host seen plenty at 2027-05-02 07:30",
    ],
)
def test_a_cup_that_differs_stands_alone(story: Story, line: str) -> None:
    tell(story, "shelf set up C\n" + ALIKE)
    story.at("2027-05-02 07:40").type(line)
    found = places(told(story)[0])
    assert "R6" in found
    assert all("R6 (" not in words for words, _ in found.values())


def test_nothing_of_a_cup_is_lost_under_a_common_number(story: Story) -> None:
    """Hairs, sap and animals that eat each other are said of the cups that are together as of one alone."""
    tell(story, ALIKE)
    story.type("taxon Leptidea sinapis hairs cannibalistic")
    words = title(told(story)[0], "R6")
    assert "Gloves: hairs sting." in words
    assert "May eat each other: move none, add none." in words


def test_more_cups_than_one_keeps_in_mind_have_a_second_number(story: Story) -> None:
    tell(story, ALIKE)
    for number in range(10, 18):
        tell(
            story,
            f"R{number} set up rearing shelf B\nR{number} stocked 4 L3 SIN-9\nR{number} host in vetchling leaf water",
        )
    named = [
        words.split(" on shelf")[0].count(",") + 1 for words, _ in places(told(story)[0]).values()
    ]
    assert max(named) == 6
    assert sum(named) >= 10


def test_a_look_at_other_visits_than_the_feeding_is_in_its_row(story: Story) -> None:
    tell(story, BENCH.replace(" water", " damp paper"))
    story.at("2027-05-02 07:30").type("R2 host seen plenty")
    sheet, _ = told(story)
    words, rows = places(sheet)["R2"]
    assert rows == [["look", True, "look", True]]
    assert "Look. Open, add fresh sallow" in words
    assert "Round brackets: only look, from outside." in " ".join(sheet.split())


def test_what_is_done_only_at_times_has_a_row_beside_the_look(story: Story) -> None:
    """A spray without opening, and what is added only to a limp plant, never stand beside a box to look."""
    tell(
        story,
        """
        taxon 'Lasiocampa alta' no_adult_food
        brood LA taxon='Lasiocampa alta'
        P4 set up pupation shelf A
        P4 stocked 6 pupae LA
        """,
    )
    story.at("2027-05-02 06:30").type(
        "P4 misted", "W5 set up laying shelf A", "W5 founder D1 'Lasiocampa alta'"
    )
    story.type("W5 host in sallow leaf water 2 stems", "W5 searched none")
    found = places(told(story)[0])
    for code, beside in {"P4": "One light spray", "W5": "Plant limp? Open, add"}.items():
        words, (first, *rows) = found[code]
        assert set(first) == {"look"}, (code, first)
        assert beside in words.partition("Look.")[2]
        assert all("look" not in row for row in rows), (code, rows)


def test_lines_without_boxes_go_on_to_the_edge_of_the_paper(story: Story) -> None:
    tell(story, BENCH)
    story.type("taxon Smerinthus ocellata instars=5 hairs cannibalistic")
    lines = told(story)[0].splitlines()
    assert max(map(len, lines)) <= 80
    assert any(
        line.startswith("   ") and len(line) > 62 and line[-1] not in "])-" for line in lines
    )


def test_cups_that_hold_the_same_say_it_once(story: Story) -> None:
    tell(story, ALIKE.replace("stocked 6", "stocked 4"))
    found = places(told(story)[0])
    words = next(text for text, _ in found.values() if "R6" in text)
    assert words.startswith("R5, R6, R7 on shelf B. Each: 4 caterpillars.")
    assert "1 stem each." in words


WINTER = """
shelf set up B
taxon Leptidea sinapis instars=5
W1 set up overwintering shelf B
W1 stocked 12 pupae brood=SIN-9
W2 set up overwintering shelf B
W2 stocked 20 pupae brood=SIN-9
"""


def test_a_neighbour_need_not_come_when_nothing_is_to_do(story: Story) -> None:
    """Of a week of winter most visits had no box at all."""
    tell(story.at("2027-12-10 08:00"), "brood SIN-9 taxon='Leptidea sinapis'\n" + WINTER)
    sheet, _ = told(story, "--from", "2027-12-12 08:00", "--to", "2027-12-26 08:00")
    rows = [row for _, found in places(sheet).values() for row in found]
    assert rows
    assert all(any(boxes) for boxes in zip(*rows, strict=True))
    assert "at others there is nothing to do." in " ".join(sheet.split())


def test_where_each_visit_has_something_nothing_is_said_of_others(story: Story) -> None:
    tell(story, BENCH)
    assert "at others there is nothing" not in " ".join(told(story)[0].split())
