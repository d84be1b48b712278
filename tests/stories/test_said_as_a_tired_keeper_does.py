"""Short lines of a moth keeper that are clear by what stands there."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

SINGLES = """
brood B2 taxon='Saturnia montis'
C2 set up rearing
C3 set up rearing
C4 set up rearing
C2 stocked 1 larva L3 B2
C3 stocked 1 larva L3 B2
C4 stocked 1 larva L3 B2
R2 set up rearing
R3 set up rearing
R2 stocked 8 larvae L3 B2
R3 stocked 8 larvae L3 B2
P2 set up emergence
P2 stocked 6 adults B2
"""


@pytest.fixture
def singles(story: Story) -> Story:
    tell(story, SINGLES)
    return story.later(hours=2)


@pytest.mark.parametrize("line", ["C2-C4 moulted 1 L4", "C2-C4 moulted L4", "C2-C4 moulted to L4"])
def test_where_each_holds_just_one_it_is_one_in_each(singles: Story, line: str) -> None:
    singles.type(line)
    moulted = [one for one in singles.on_disk() if one["what"] == "moulted"]
    assert [(one["container"], one["number"]) for one in moulted] == [
        ("C2", 1),
        ("C3", 1),
        ("C4", 1),
    ]


def test_where_they_hold_more_it_is_asked_as_before(singles: Story) -> None:
    assert "how many in which" in singles.refused("R2 R3 moulted 1 L4")
    assert "how many in which" in singles.refused("C2-C4 died 1")


@pytest.mark.parametrize("word", ["crippled", "deformed", "malformed"])
def test_one_that_was_crippled_died(singles: Story, word: str) -> None:
    assert singles.type(f"P2 died 1 {word}") == ["P2 died 1 adult, crippled"]
    assert singles.on_disk()[-1]["cause"] == "crippled"


@pytest.mark.parametrize("line", ["R2 host changed", "R2 changed host", "R2 host change"])
def test_the_host_was_changed(singles: Story, line: str) -> None:
    singles.type("R2 host in willow leaf water 3 stems")
    said = singles.later(days=1).type(line)[0]
    assert "host out: willow" in said
    assert "host in: willow" in said


@pytest.mark.parametrize("when", ["in the night", "overnight", "last night"])
def test_a_hatch_of_the_night_has_no_hour(story: Story, when: str) -> None:
    story.at("2027-05-05 18:00").type("E4 12 eggs 'Pieris vaga'")
    story.at("2027-05-12 07:00")
    assert story.type(f"E4 11 hatched {when}") == ["E4 hatched 11, inferred"]


@pytest.mark.parametrize("who", ["don't know which", "dont know which", "nobody knows which"])
def test_nobody_knows_which_is_said_in_several_words(story: Story, who: str) -> None:
    story.type("G2 3 females 'Pieris vaga' on Cardamine")
    assert "not known which" in story.type(f"G2 died 1, {who}")[0]
