"""Who laid on what: a rate is drawn in its own row, and all kept stems stand in one table before their numbers."""

from __future__ import annotations

from tests.stories.telling import Story


async def page_of(story: Story, size: tuple[int, int] = (80, 60)) -> list[str]:
    async with story.screens(size) as screen:
        await screen.press("i")
        await screen.pilot.pause()
        return [row.strip() for row in screen.text.splitlines()]


async def test_the_bar_of_a_high_rate_stays_in_its_row(story: Story) -> None:
    story.at("2027-05-16 08:00").type("K2 1f Zerynthia polyxena", "K2 host in birthwort")
    story.at("2027-05-16 20:00").type("K2 searched 107 eggs")
    rows = await page_of(story)
    row = next(one for one in rows if one.startswith("birthwort "))
    assert "(" in row
    assert row.endswith(("]", ">")), "\n".join(rows)  # the arrow: its limit lies beyond
    assert 0.4 < row.index("o", 50) / len(row) <= 1


async def test_the_table_of_kept_stems_is_not_cut_apart(story: Story) -> None:
    story.at("2027-05-16 08:00").type("K2 1f Zerynthia polyxena", "K2 host in birthwort")
    story.type("H1 set up host store")
    for day in (17, 18, 19):
        story.at(f"2027-05-{day} 08:00").type("K2 changed birthwort, old kept in H1")
    rows = await page_of(story, (120, 100))
    table = [at for at, row in enumerate(rows) if row.startswith("H1 ") and "birthwort" in row]
    assert len(table) >= 3, "\n".join(rows)
    assert table[2] - table[0] == 2, "\n".join(rows)
    assert any(row.startswith("laid ") for row in rows[table[2] :])
