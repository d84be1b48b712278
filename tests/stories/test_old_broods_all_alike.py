"""Old broods whose animals took much the same time are believed, and the bench still opens."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from tests.stories.telling import Story


def test_a_brood_on_the_bench_is_forecast_by_many_old_ones_that_agree(
    story: Story, tmp_path: Path
) -> None:
    rows = ["brood,species,laid,eggs,hatched,pupated,emerged,temperature"]
    for number in range(30):
        laid = date(2026, 4, 1) + timedelta(days=number)
        days = (laid + timedelta(days=after) for after in (0, 10, 40, 55))
        first, *others = (day.isoformat() for day in days)
        rows.append(f"Q{number},Boloria selene,{first},40,{','.join(others)},20")
    table = tmp_path / "old.csv"
    table.write_text("\n".join(rows) + "\n")
    story.at("2027-05-01 18:00").type("R1 set up rearing", "R1 7 eggs Boloria selene")
    story.at("2027-05-02 09:05").type("room 18/22", "R1 hatched 5")
    story.at("2027-05-10 09:30").type("room 18/22", "R1 moulted 3 to L2")
    assert story.shell("import", str(table), "--yes").status == 0
    for command in ("due", "shelves"):
        ran = story.shell(command)
        assert "spread" not in ran.out + ran.err
        assert "R1" in ran.out
