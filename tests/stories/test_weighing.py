"""A keeper who weighs: switched on in the plan, asked once a week, and told wherever the mass is wanted."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from tests.stories.telling import Story, tell

BENCH = """
    R1 set up rearing
    taxon "Melitaea vesperia"
    brood MEV-27-01/A taxon="Melitaea vesperia"
    R1 stocked 3 L3 MEV-27-01/A origin=bought
    R1 host in plantain in water
"""


def begin(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, BENCH)


def test_nobody_is_asked_to_weigh_unless_the_plan_says_so(story: Story) -> None:
    begin(story)
    story.later(days=8)
    assert "weigh" not in story.due("R1")

    story.type("plan weigh off=no")
    assert (
        story.due("R1")["weigh"]["question"]
        == "Did you weigh any? Type the mass of one in mg, as 132.5, then Enter."
    )

    assert story.type("R1 weighed 41.5 mg") == ["R1 weighed 41.5 mg, 1 larva of MEV-27-01/A"]
    assert "weigh" not in story.due("R1")
    story.later(days=7)
    assert "weigh" in story.due("R1")


def test_what_moults_is_not_taken_up_to_be_weighed(story: Story) -> None:
    begin(story)
    story.type("plan weigh off=no")
    story.later(days=8)
    story.type("R1 looked still")
    assert "weigh" not in story.due("R1")

    story.type("R1 all eating")
    assert "weigh" in story.due("R1")


async def test_the_mass_is_typed_at_the_stop_and_stands_on_the_card(story: Story) -> None:
    begin(story)
    story.type("plan weigh off=no")
    story.later(days=8)
    async with story.screens((120, 60)) as screen:
        await screen.press("r")
        await screen.walk_to("weigh", "R1")
        assert "Handle little" in screen.text
        await screen.press("4", "1", "full_stop", "5", "enter")
        await screen.press("escape")
        screen.highlight("R1")
        await screen.pilot.pause()
        assert "mass  41.5 mg, 1 larva of" in screen.text

    weighed = story.on_disk()[-1]
    assert {name: weighed[name] for name in ("what", "container", "mass_mg", "brood", "stage")} == {
        "what": "weighed", "container": "R1", "mass_mg": 41.5, "brood": "MEV-27-01/A", "stage": "larva",
    }  # fmt: skip


def test_a_mass_that_cannot_be_is_refused(story: Story) -> None:
    begin(story)

    assert "R1 holds 3 larvae" in story.refused("R1 weighed 41.5 number=4")
    assert "mass" in story.refused("R1 weighed 0")


def test_masses_leave_in_their_table_and_in_the_note(story: Story, tmp_path: Path) -> None:
    begin(story)
    story.type("R1 weighed 83 number=2")

    file, note = tmp_path / "masses.csv", tmp_path / "note.md"
    assert story.shell("export", "csv", str(file), "--table", "masses").status == 0
    rows = list(csv.reader(io.StringIO(file.read_text(encoding="utf-8-sig"))))
    assert rows[0][5:8] == ["number together", "mass (mg)", "mass of one (mg)"]
    assert rows[1][1:8] == ["R1", "MEV-27-01/A", "Melitaea vesperia", "larva", "2", "83", "41.5"]

    assert story.shell("export", "note", "MEV-27-01/A", str(note)).status == 0
    assert "| 1 May 2027 | larva | 2 | 41.5 |" in note.read_text()
