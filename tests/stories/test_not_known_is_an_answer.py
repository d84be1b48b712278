"""Where 'or not known' is offered it can be said as it is read: also as brood=not known."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cup(story: Story) -> Story:
    """Two broods, two instars, both sexes."""
    story.at("2027-05-01 07:05")
    tell(
        story,
        """
        R4 set up rearing
        R5 set up rearing
        P2 set up emergence
        brood A taxon='Boloria inventa'
        brood B taxon='Boloria inventa'
        R4 stocked 5 L2 A
        R4 stocked 6 L2 B
        R5 stocked 4 L2 A
        R5 stocked 4 L3 A
        P2 stocked 4 adult female A
        P2 stocked 4 adult male A
        """,
    )
    return story


@pytest.mark.parametrize(
    ("line", "answer"),
    [
        ("R4 died 1 larva", "brood=not known"),
        ("R4 died 1 larva", "brood=?"),
        ("R4 moved 2 larvae to R5", 'brood="not known"'),
        ("R5 died 1 larva", "instar=not known"),
        ("P2 released 1 adult", "sex=not known"),
    ],
)
def test_the_answer_can_be_typed_as_the_question_has_it(cup: Story, line: str, answer: str) -> None:
    assert cup.refused(line).endswith("or not known")
    cup.type(f"{line} {answer}")
    assert cup.on_disk()[-1]["which"] == "not known"


def test_where_it_is_no_answer_that_is_said(cup: Story) -> None:
    assert (
        cup.refused("P2 sexed 1 female brood=not known")
        == "'sexed' is said of a brood that is known; name it, as brood="
    )
