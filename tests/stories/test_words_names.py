"""Names of species and plants: a preposition ends them, quotes hold them, known ones are found, new ones are shown."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """One female of a known species on a known plant."""
    tell(
        story,
        """
        K2 K3 set up laying
        taxon Euphilotes enoptes short=dotted protected
        K2 founder W2 Euphilotes enoptes female
        K2 host in Eriogonum nudum flower
        """,
    )
    return story


def test_a_preposition_ends_the_name(bench: Story) -> None:
    bench.type("K2 host in Cornus sanguinea bud 3 sprigs in water")
    host = bench.on_disk()[-1]
    assert (host["plant"], host["part"], host["sprigs"]) == ("Cornus sanguinea", "bud", 3)
    bench.type("K2 host in hedge oak from the lower hedge in damp paper")
    host = bench.on_disk()[-1]
    assert (host["plant"], host["source"], host["kept"]) == (
        "hedge oak",
        "the lower hedge",
        "damp paper",
    )
    bench.type("K3 founder W3 Celastrina argiolus at Tannmoos")
    founder = bench.on_disk()[-1]
    assert (founder["code"], founder["taxon"], founder["place"]) == (
        "W3",
        "Celastrina argiolus",
        "Tannmoos",
    )
    bench.type("founder W4 Celastrina argiolus female worn by HB in K3")
    founder = bench.on_disk()[-1]
    assert (founder["container"], founder["taxon"], founder["collector"]) == (
        "K3",
        "Celastrina argiolus",
        "HB",
    )
    assert "'with' ends the name" in bench.refused("K2 host in oak with aphids")
    assert "'in' what?" in bench.refused("K2 host in Cornus sanguinea in")


def test_a_quoted_name_stays_as_quoted_and_a_named_field_takes_all_its_words(bench: Story) -> None:
    bench.type('K2 host in "oak in the hedge" leaf')
    assert bench.on_disk()[-1]["plant"] == "oak in the hedge"
    bench.type("K3 founder W3 taxon=Celastrina argiolus female place=North meadow")
    founder = bench.on_disk()[-1]
    assert (founder["code"], founder["taxon"], founder["sex"]) == (
        "W3",
        "Celastrina argiolus",
        "female",
    )
    assert founder["place"] == "North meadow"
    ran = bench.shell("log", "K2", "host", "in", "bramble in the lane", "leaf")
    assert ran.status == 0, ran.err
    bench.reopen()
    assert bench.on_disk()[-1]["plant"] == "bramble in the lane"


@pytest.mark.parametrize(
    "typed",
    [
        "dotted",
        "DOTTED",
        "enoptes",
        "E. enoptes",
        "E enoptes",
        "euphilotes enoptes",
        "Euph. enoptes",
        "Euphilotes  enoptes",
    ],
)
def test_a_species_typed_short_is_the_known_one(bench: Story, typed: str) -> None:
    bench.type(f"K3 founder A-27-02, {typed} female")
    assert bench.on_disk()[-1]["taxon"] == "Euphilotes enoptes"


@pytest.mark.parametrize("typed", ["Eriogonum Nudum", "E. nudum", "eriogonum nudum"])
def test_a_plant_typed_otherwise_is_the_known_one(bench: Story, typed: str) -> None:
    bench.type(f"K3 host in {typed} leaf")
    assert bench.on_disk()[-1]["plant"] == "Eriogonum nudum"


@pytest.mark.parametrize(
    "typed", ["Euphilotes enoptis", "Euphilotes enotpes", "E. enopte", "enoptis", "doted"]
)
def test_one_slip_is_asked_about_and_quotes_insist(bench: Story, typed: str) -> None:
    before = bench.on_disk()

    question = bench.refused(f"K3 founder A-27-02, {typed} female")

    assert "perhaps Euphilotes enoptes?" in question
    assert f'"{typed}" in double quotes' in question
    assert bench.on_disk() == before
    bench.type(f'K3 founder A-27-02, "{typed}" female')
    assert bench.on_disk()[-1]["taxon"] == typed


def test_the_shell_asks_as_well(bench: Story) -> None:
    ran = bench.shell("log", "K3", "founder", "A-27-02,", "Euphilotes enoptis", "female")
    assert ran.status == 1
    assert "perhaps Euphilotes enoptes?" in ran.err
    bench.reopen()
    ran = bench.shell("log", "K3", "founder", "A-27-02,", '"Euphilotes enoptis"', "female")
    assert ran.status == 0, ran.err


def test_a_slip_in_a_plant_is_asked_about(bench: Story) -> None:
    assert "perhaps Eriogonum nudum?" in bench.refused("K3 host in Eriogonum nudun leaf")
    assert "perhaps Eriogonum nudum?" in bench.refused("plant Eriogonum nudim water 60h")
    bench.type("K3 host in Eriogonum umbellatum leaf", 'K2 host in "tree 1"', 'K2 host in "tree 2"')
    assert bench.on_disk()[-1]["plant"] == "tree 2"


def test_the_preview_names_every_field_and_marks_what_is_new(bench: Story) -> None:
    shown = bench.preview("K2 host in Cornus sanguinea bud 3 sprigs in water")
    assert "plant Cornus sanguinea NEW, part bud" in shown
    assert "kept water" in shown
    assert "stems 3" in shown
    shown = bench.preview("K3 founder W3 Celastrina argiolus at Tannmoos")
    assert "code W3, taxon Celastrina argiolus NEW, place Tannmoos" in shown
    shown = bench.preview("K3 founder W3 enoptes at Tannmoos")
    assert "taxon Euphilotes enoptes, place Tannmoos" in shown
    assert "NEW" not in shown
