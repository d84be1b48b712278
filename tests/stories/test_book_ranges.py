"""A range of containers that is too long or runs backwards is refused with what is right; it never becomes one cup of that name."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def rearing(story: Story) -> Story:
    """A cup with larvae in it."""
    story.type(
        "K9 set up laying",
        "K9 founder QUE-27-01, Boloria dia female",
        "R6 set up rearing",
        "R6 stocked 12 larvae QUE-27-01",
    )
    return story


WRONG = [
    ("C2-C310", "C2-C310 are 309 containers; one line names at most 200, as: C2-C201"),
    ("Q1-300", "Q1-300 are 300 containers; one line names at most 200, as: Q1-Q200"),
    (
        "C9-C3",
        "C9-C3 is no range of containers; it runs from the lower number to the higher, as: C3-C9",
    ),
    (
        "C9-C9",
        "C9-C9 is no range of containers; it runs from the lower number to the higher, as: C9",
    ),
]


@pytest.mark.parametrize(("span", "told"), WRONG)
def test_it_is_refused_wherever_new_containers_are_named(
    rearing: Story, span: str, told: str
) -> None:
    before = len(rearing.on_disk())
    assert told in rearing.refused(f"R6 split 1 each into new {span}")
    assert told in rearing.refused(f"{span} set up rearing")
    listed = rearing.shell("begin", "--list", "-", typed=f"{span}  2 females Boloria dia\n")
    assert listed.status == 1
    assert told in listed.err
    assert len(rearing.on_disk()) == before


def test_a_right_range_and_a_code_with_a_dash_are_taken(rearing: Story) -> None:
    rearing.type("R6 split 1 each into new C2-C4", "W26-02 set up laying", "Q1-Q200 set up rearing")
    stand = {line["container"] for line in rearing.on_disk() if line["what"] == "set up"}
    assert {"C2", "C3", "C4", "W26-02", "Q1", "Q200"} <= stand
