"""A species that an older version wrote with a small genus reads and leaves with its capital."""

from __future__ import annotations

from tests.stories.telling import Story


def test_it_has_its_capital(story: Story) -> None:
    story.at("2027-06-08 08:00")
    story.type("taxon Melitaea diamina gregarious", "R5 8 L3 Melitaea diamina")
    story.type("K2 1 female Melitaea diamina from Heath")
    for file in story.folder.glob("*"):
        if file.name.startswith("entries-"):
            file.write_text(file.read_text().replace("Melitaea diamina", "melitaea diamina"))
        elif file.is_file():
            file.unlink()
    story.reopen()
    bench = story.desk.bench
    named = {
        *bench.taxa,
        *(one.taxon for one in (*bench.broods.values(), *bench.founders.values())),
    }
    assert named == {"Melitaea diamina"}
    story.type("R6 4 L3 melitaea diamina")
    assert "melitaea" not in story.shell("export", "note", "MEL-27-01").out
    assert len({one.taxon for one in story.desk.bench.broods.values()}) == 1
