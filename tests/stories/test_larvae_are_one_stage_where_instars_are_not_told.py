"""Of some broods together, one with instars and one without: no larva passes two larval stages."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def two(story: Story) -> Story:
    """Thirty eggs of which 28 emerge, and six larvae of no told instar of which four do."""
    tell(
        story,
        "E2 set up rearing\nQ2 set up rearing\nE2 30 eggs Pieris napi\nQ2 6 larvae Pieris napi",
    )
    tell(story.later(days=5), "E2 hatched 28\nE2 died 2 eggs")
    tell(story.later(days=2), "Q2 died 2 larvae")
    tell(story.later(days=20), "E2 pupated 28\nQ2 pupated 4")
    tell(story.later(days=12), "E2 emerged 28\nQ2 emerged 4")
    story.reopen()
    return story


def test_a_season_counts_each_larva_once(two: Story, tmp_path: Path) -> None:
    file = tmp_path / "season.md"
    assert two.shell("export", "season", str(file)).status == 0
    rows = [[cell.strip() for cell in line.split("|")[1:-1]] for line in file.read_text().splitlines()]  # fmt: skip
    (short,) = (row for row in rows if row[:1] == ["Pieris napi"])
    assert short[-1] == f"{28 / 30 * 32 / 34:.2f}"
    stages = {row[0]: row[1:3] for row in rows if len(row) == 9}
    assert stages["larva"] == ["34", "2"]
    assert "L1" not in stages
    (killed,) = (row for row in rows if row[:1] == ["larva: cause not recorded"])
    assert killed[1:4] == ["34", "2", f"{2 / 34:.3f}"]


@pytest.mark.parametrize("instar", ["", "L2", "L3"])
def test_where_no_moult_was_written_down_nobody_knows_who_died_in_which_instar(
    story: Story, tmp_path: Path, instar: str
) -> None:
    tell(story, "E2 set up rearing\nE2 20 eggs Pieris napi")
    tell(story.later(days=5), "E2 hatched 20")
    tell(story.later(days=15), "E2 died 6 larvae")
    if instar:
        story.type(f"E2 moulted 14 to {instar}")
    (brood,) = story.desk.bench.broods
    assert larval_rows(story, tmp_path)["L1"] == ("20", "6")  # it may be so, as yet
    tell(story.later(days=15), "E2 pupated 14")
    rows = larval_rows(story, tmp_path)
    if instar:
        assert rows == {"L1": ("20", "6"), instar: ("14", "0")}
        return
    assert rows == {"larva": ("20", "6")}
    note = tmp_path / "note.md"
    assert story.shell("export", "note", brood, str(note)).status == 0
    assert "died: 6 (6 larvae)" in note.read_text()


def larval_rows(story: Story, tmp_path: Path) -> dict[str, tuple[str, str]]:
    """How many entered each larval stage and died in it, by the life table."""
    file = tmp_path / "life.csv"
    story.reopen()
    ran = story.shell("export", "csv", str(file), "--table", "life-table", "--replace")
    assert ran.status == 0, ran.err
    rows = csv.DictReader(file.read_text("utf-8-sig").splitlines())
    stages = {row["stage"]: (row["entered"], row["died"]) for row in rows}
    return {name: row for name, row in stages.items() if name[0] in "Ll"}
