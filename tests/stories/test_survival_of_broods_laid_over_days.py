"""Survival of a brood whose eggs were laid over some days stays near the share that lives."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def begin(story: Story) -> None:
    story.at("2027-06-10 07:00")
    tell(
        story,
        "L3 set up laying\nL3 founder W4, Polyommatus icarus female\nL3 host in Lotus corniculatus",
    )
    story.at("2027-06-11 07:00").type("L3 searched 3 lens")
    story.at("2027-06-13 07:00").type("L3 searched 17 lens")
    story.type("E1 set up eggs", "L3 moved 20 eggs to E1")
    story.at("2027-06-17 07:00").type("E1 hatched 20")
    story.at("2027-06-20 07:00").type("E1 died 3 L1")


def survival(story: Story) -> list[list[float]]:
    """The rows of the survival curve in the life history: age, share alive, lowest, highest."""
    file = story.folder.parent / "note.md"
    ran = story.shell("export", "note", "W4/A", str(file), "--replace")
    assert ran.status == 0, ran.err
    section = file.read_text().split("## Survival")[1].split("\n## ")[0]
    rows = [line.split() for line in section.split("died\n")[1].splitlines()]
    return [[float(cell) for cell in row] for row in rows if len(row) > 2 and row[0][0].isdigit()]


def test_seventeen_of_twenty_live(story: Story) -> None:
    begin(story)
    for day in (20, 21):
        story.at(f"2027-06-{day} 08:00")
        rows = survival(story)
        assert rows
        assert 0.75 <= rows[-1][-3] <= 0.9, rows
