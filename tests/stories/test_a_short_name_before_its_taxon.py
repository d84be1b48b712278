"""A short name in use before its taxon line names the same species once that line comes, with all that it says."""

from __future__ import annotations

from tests.stories.telling import Story, tell

USED_BEFORE = """
K2 set up laying
K2 founder W1, enoptes female place='Secret' latitude=51.94712 longitude=0.20491
K3 set up laying
K3 founder W2, 'E. enoptes' female
K2 host in veronica
"""
TAXON = "taxon 'Euphilotes enoptes' short=enoptes no_adult_food stinging protected"


def in_use(story: Story) -> None:
    tell(story, USED_BEFORE)
    story.later(days=1).type("K2 searched 6", "brood C-1 taxon=enoptes")


def test_the_taxon_line_names_those_that_it_means(story: Story) -> None:
    in_use(story)
    (shown,) = story.type(TAXON)
    assert "W1" in shown
    bench = story.desk.bench
    codes = ("W1", "W2", "C-1", *bench.broods)
    assert {bench.taxon_of(code) for code in codes} == {"Euphilotes enoptes"}
    story.reopen()
    assert story.desk.bench.taxon_of("W1") == "Euphilotes enoptes"


def test_its_rules_hold_for_them(story: Story) -> None:
    in_use(story)
    assert "drink" in story.due("K2")
    story.reopen()
    story.type(TAXON)
    story.later(hours=12)
    assert "drink" not in story.due("K2")


def test_what_is_typed_since_is_that_species_too(story: Story) -> None:
    in_use(story)
    story.type(TAXON, "K4 set up laying", "K4 founder W3, enoptes female", "K4 host in veronica")
    story.later(days=1).type("K4 searched 3")
    assert {story.desk.bench.taxon_of(code) for code in story.desk.bench.broods} == {
        "Euphilotes enoptes"
    }


def test_their_places_leave_as_those_of_a_protected_species(story: Story) -> None:
    in_use(story)
    story.type(TAXON)
    story.reopen()
    for words in (("csv", "-", "--table", "founders"), ("occurrences", "-"), ("pins", "-")):
        out = story.shell("export", *words).out
        assert "Secret" not in out
        assert "51.947" not in out


def test_undo_takes_the_whole_of_it_back(story: Story) -> None:
    in_use(story)
    story.type(TAXON)
    story.type("undo")
    assert story.desk.bench.taxon_of("W1") == "enoptes"
    assert not story.desk.bench.taxa


def test_another_species_keeps_its_name(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 founder W1, 'Boloria enoptes' female")
    story.type(TAXON)
    assert story.desk.bench.taxon_of("W1") == "Boloria enoptes"
