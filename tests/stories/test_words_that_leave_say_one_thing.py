"""What is said of one thing is the same wherever it is said: how a specimen died, where a setting goes, what ends."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_a_permits_return_adds_up import returned
from tests.stories.test_mixed_broods_of_one_permit import rows_of


def test_how_a_specimen_died_is_one_fact(story: Story) -> None:
    tell(
        story,
        """
        permit P-1 females=3
        K2 set up laying
        K2 founder W1 'Boloria dia' female permit=P-1
        K2 founder W2 'Boloria dia' female permit=P-1
        K2 founder W3 'Boloria dia' female permit=P-1
        K2 preserved W1 voucher=V1
        K2 preserved W2 voucher=V2 -- killed for the collection
        K2 died W3 cause=moult voucher=V3
        """,
    )
    page = [one["found dead or killed"] for one in returned(story, "P-1")["Kept as specimens"]]
    assert page == ["neither was said", "killed for the collection", "found dead"]
    table = [one["died"] for one in rows_of(story, "specimens")]
    assert [one or "neither was said" for one in table] == page


def test_one_dead_egg_was_an_egg(story: Story) -> None:
    tell(
        story,
        """
        permit P-1
        K2 set up laying
        K2 founder W1 'Boloria dia' female permit=P-1
        """,
    )
    story.later(days=1).type("K2 searched 3", "K2 died 1 egg")
    returned(story, "P-1")
    assert "Of those that died 1 was an egg." in (story.folder.parent / "p.md").read_text()


def test_a_grid_is_said_of_a_taxon(story: Story) -> None:
    assert "taxon 'Boloria dia' grid_degrees=0.5" in story.refused("setting grid_degrees 0.5")
    story.type("taxon 'Boloria dia' grid_degrees=0.5")


@pytest.mark.parametrize("grid", ["0.001", "1e-9", "0.099"])
def test_no_grid_is_so_fine_that_it_gives_the_place_away(story: Story, grid: str) -> None:
    told = story.refused(f"taxon 'Boloria dia' protected grid_degrees={grid}")
    assert "gives a protected place away; give 0.1 or more" in told
    assert "Boloria dia" not in story.desk.bench.taxa


def test_a_finer_grid_of_before_leaves_as_the_finest(story: Story) -> None:
    story.type("taxon 'Boloria dia' protected", "K2 set up laying")
    story.type(
        "K2 founder W1 'Boloria dia' female place=Ferny latitude=48.12345 longitude=11.54321"
    )
    for file in story.folder.glob("entries-*.jsonl"):
        old = file.read_text()
        file.write_text(old.replace('"protected":true', '"protected":true,"grid_degrees":0.001'))
    for checkpoint in story.folder.glob("checkpoint-*"):
        checkpoint.unlink()
    story.reopen()
    assert story.desk.bench.taxa["Boloria dia"].grid_degrees == 0.001
    story.type("taxon 'Boloria dia' stinging")  # which says nothing of the grid
    row = rows_of(story, "founders")[0]
    assert {"48.15", "11.55"} <= {*row.values()}, row
    assert "48.123" not in str(rows_of(story, "founders"))


def test_an_empty_cup_has_no_rest_to_end(story: Story) -> None:
    tell(story, "R4 set up rearing\nR4 3 larvae Boloria dia\nR4 do not disturb +48h")
    file = story.folder.parent / "c.ics"
    assert story.shell("export", "ics", str(file)).status == 0
    assert "'do not disturb' ends" in file.read_text()
    story.type("R4 released 3 larvae at Ferny")
    story.reopen()
    assert story.shell("export", "ics", str(file), "--replace").status == 0
    ends = file.read_text().partition("'do not disturb' ends")[0].rpartition("BEGIN:VEVENT")[2]
    assert "'do not disturb' ends" not in file.read_text() or "CANCELLED" in ends


def test_a_depository_is_a_name(story: Story) -> None:
    tell(story, "P2 set up pupation\nP2 3 pupae Boloria dia\nP2 preserved 1 depository='Museum'")
    ran = story.shell("export", "csv", str(story.folder.parent / "t.zip"))
    assert "free text" not in ran.out + ran.err


@pytest.mark.parametrize("cause", ["moult", "predator"])
def test_usual_causes_are_read(story: Story, cause: str) -> None:
    tell(story, "R4 set up rearing\nR4 3 larvae Boloria dia")
    story.type(f"R4 died 1 larva cause={cause}")


def test_a_fate_that_is_none_is_answered_with_shown_words(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 host in violet")
    told = story.refused("K2 host out fate=nonsense")
    assert "binned" not in told
