"""An animal killed for the collection was not found dead; and who drank of those without a mark."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cup(story: Story) -> Story:
    """Four females in one cup, two of them marked."""
    tell(
        story,
        """
        K3 set up laying
        K3 founder W1 Boloria dia female mark=red
        K3 founder W2 Boloria dia female mark=blue
        K3 founder W3 Boloria dia female
        K3 founder W4 Boloria dia female
        K3 host in Viola hirta
        """,
    )
    return story.later(hours=12)


@pytest.mark.parametrize(
    ("line", "right"),
    [
        (
            "W3 died voucher=V2 -- killed for the collection",
            "W3 preserved voucher=V2 -- killed for the collection",
        ),
        ("K3 died W3 killed for collection", "K3 preserved W3 -- killed for the collection"),
    ],
)
def test_it_is_a_specimen(cup: Story, line: str, right: str) -> None:
    assert right in cup.refused(line)
    cup.type(right)
    (kept,) = (one for one in cup.on_disk() if one.get("what") == "preserved")
    assert not kept.get("cause")


def test_killed_alone_is_asked_about(cup: Story) -> None:
    assert "for the collection?" in cup.refused("W1 killed")
    assert "found dead" not in "".join(cup.type("W1 killed for the collection"))
    assert "injury" in "".join(cup.type("W2 died killed"))


def test_the_guide_names_the_line(cup: Story) -> None:
    told = cup.shell("help", "record").out
    assert "K1 preserved W4 voucher=V3 -- killed for the collection" in told


@pytest.mark.parametrize("line", ["K3 drank W3 W4", "K3 drank W3, W4", "K3 drank W3 and W4"])
def test_several_that_drank_are_named_first(cup: Story, line: str) -> None:
    assert "as: W3 W4 drank" in cup.refused(line)
    assert cup.type("W3 W4 drank") == ["K3 drank, W3; K3 drank, W4"]


def test_who_drank_of_the_unmarked(cup: Story) -> None:
    assert "W3 W4 drank" in cup.refused("K3 drank unmarked")
    cup.type("W4 marked green")
    assert cup.type("K3 drank unmarked") == ["K3 drank, W3"]
    cup.type("W3 marked white")
    assert "none in K3 is unmarked" in cup.refused("K3 refused unmarked")
