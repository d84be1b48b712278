"""What a spreadsheet needs stands in columns of its own, and a specimen is no animal that left alive."""

from __future__ import annotations

from pathlib import Path

import pandas as pd

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_note import note_of


def table_of(story: Story, tmp_path: Path, name: str) -> pd.DataFrame:
    """A table as it leaves."""
    story.reopen()
    ran = story.shell("export", "csv", str(tmp_path / "table.csv"), "--table", name, "--replace")
    assert ran.status == 0, ran.err
    return pd.read_csv(tmp_path / "table.csv")


def kept_and_let_go(story: Story) -> None:
    """Of eight larvae two are kept as specimens, one is let go and one escapes."""
    tell(
        story,
        """
        taxon 'Pieris orata'
        R2 set up rearing
        brood B-1 taxon='Pieris orata'
        R2 stocked B-1 larva 8 instar=3
        R2 preserved 2 larvae voucher=V-3
        R2 released 1 larva B-1
        R2 escaped 1 larva
        """,
    )


def test_entries_tell_number_brood_stage_sex_and_voucher(story: Story, tmp_path: Path) -> None:
    kept_and_let_go(story)
    tell(story, "K2 set up laying\nK2 founder W3 'Pieris orata' female")
    found = table_of(story, tmp_path, "entries").set_index("what")
    stocked, kept, caught = found.loc["stocked"], found.loc["preserved"], found.loc["founder"]
    assert (stocked["number"], stocked["brood"], stocked["stage"]) == (8, "B-1", "larva")
    assert (kept["number"], kept["voucher"]) == (2, "V-3")
    assert (caught["number"], caught["brood"], caught["stage"], caught["sex"]) == (
        1,
        "W3",
        "adult",
        "female",
    )
    assert pd.isna(found.loc["set up"]["number"]).all()


def test_specimens_kept_did_not_leave_alive(story: Story, tmp_path: Path) -> None:
    kept_and_let_go(story)
    (row,) = table_of(story, tmp_path, "life-table").to_dict("records")
    assert (row["left the bench alive"], row["kept as specimens"], row["in it now"]) == (2, 2, 4)
    note = note_of(story, tmp_path, "B-1")
    assert "left alive" not in note
    assert "left, or kept as a specimen" in note
