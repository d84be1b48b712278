"""What the tool itself advises, a name in double quotes, is taken on the first line of a cup too."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def known(story: Story) -> Story:
    """A book that knows a species by nearly the same name."""
    story.at("2027-05-02 09:00").type("taxon 'Pieris brassicae'")
    return story


def taxa(story: Story) -> list[str]:
    """The species of all animals, in the order in which they came."""
    bench = story.desk.bench
    named = [one.taxon for one in (*bench.founders.values(), *bench.broods.values())]
    return list(dict.fromkeys(named))


def test_the_advice_can_be_typed(known: Story) -> None:
    assert 'or "Pieris brassicea" in double quotes' in known.refused(
        "K3 1 female Pieris brassicea on cabbage"
    )
    known.type('K3 1 female "Pieris brassicea" on cabbage')
    assert taxa(known) == ["Pieris brassicea"]
    assert [host.plant for host in known.desk.bench.containers["K3"].hosts] == ["cabbage"]


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ('K3 2 males "Pieris brassicea"', "Pieris brassicea"),
        ('K3 1 female "Pieris brassicea", worn on "Brassica oleracea" 3 sprigs', "Pieris brassicea"),
        ('R5 5 L3 "Pieris sp. 2" from Hollow Mead on cabbage', "Pieris sp. 2"),
        ('E4 20 eggs "some white" on cabbage', "some white"),
        ("K3 2 females 'Pieris brassicae' on cabbage", "Pieris brassicae"),
        ('K3 1 female "P. brassicae" on cabbage', "Pieris brassicae"),
        ('yesterday 18:00 K3 1 female "Pieris brassicea" on cabbage', "Pieris brassicea"),
    ],
)  # fmt: skip
def test_in_any_form_of_the_line(known: Story, line: str, name: str) -> None:
    known.type(line)
    assert taxa(known) == [name]


def test_also_where_the_cup_stands(known: Story) -> None:
    known.type("K3 1 female 'Pieris brassicae' on cabbage", 'K3 1 male "Pieris brassicea"')
    assert taxa(known) == ["Pieris brassicae", "Pieris brassicea"]
