"""Young of different ages of which some die: which ones, as durations take it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_tables_with_a_column_each import table_of


@pytest.mark.parametrize(
    "lines",
    [  # of those hatched on both days, before any pupated; then of those that are late
        ("17 May 08:00 E2 died 10", "20 May 08:00 E2 pupated 5", "24 May 08:00 E2 pupated 5"),
        (
            "20 May 08:00 E2 pupated 5",
            "20 May 09:00 E2 died 5 larvae",
            "24 May 08:00 E2 pupated 10",
        ),
    ],
)
def test_those_that_live_took_as_long_as_they_did(
    story: Story, tmp_path: Path, lines: tuple[str, ...]
) -> None:
    story.at("2027-06-01 08:00").type(
        "11 May 06:00 brood B1 taxon='Pieris napi'",
        "11 May 06:00 E2 set up eggs",
        "11 May 07:00 E2 stocked 20 eggs B1",
        "11 May 08:00 E2 hatched 10",
        "15 May 08:00 E2 hatched 10",
        *lines,
    )
    rows = table_of(story, tmp_path, "durations").to_dict("records")
    assert [row["mean (days)"] for row in rows if row["stage"] == "larva"] == [9.0], rows
