"""``K2 another female cinxia`` is one more of that species, never an animal called cinxia."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def bench(story: Story) -> Story:
    """Two species on one bench, one of them with a short name."""
    story.at("2027-05-10 08:00").type("taxon 'Melitaea cinxia' short=glan")
    story.type("K2 1 female Boloria dia on violet", "K3 1 female Melitaea cinxia on plantain")
    return story


@pytest.mark.parametrize(
    "line",
    [
        "K3 another female cinxia",
        "K3 one more female cinxia",
        "K3 another cinxia female",
        "K3 another female glan",
        "K3 another female M. cinxia",
        "K3 another female",
    ],
)
def test_it_is_one_more_of_that_species(bench: Story, line: str) -> None:
    bench.type(line)
    (code,) = bench.desk.bench.founders.keys() - {"BOL-27-01", "MEL-27-01"}
    assert bench.desk.bench.founders[code].taxon == "Melitaea cinxia"
    assert bench.desk.bench.at("K3").count("adult", sex="female") == 2
    assert "cinxia" not in bench.desk.bench.founders


def test_it_is_never_of_the_species_that_sits_there(bench: Story) -> None:
    bench.type("K3 another female dia")
    assert bench.desk.bench.founders["BOL-27-02"].taxon == "Boloria dia"


def test_a_name_that_is_no_species_is_her_code(bench: Story) -> None:
    bench.type("K3 another female W7")
    assert bench.desk.bench.founders["W7"].taxon == "Melitaea cinxia"


def test_the_first_of_a_species_is_taken_too(bench: Story) -> None:
    bench.type("taxon 'Argynnis paphia'", "K3 another female paphia")
    assert bench.desk.bench.founders["ARG-27-01"].taxon == "Argynnis paphia"
