"""A name in quotes is that name and no more: a word behind it says something of its own, or is asked about."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def cup(story: Story) -> Story:
    """An empty laying cup."""
    story.at("2027-05-02 09:00").type("K2 set up laying")
    return story


@pytest.mark.parametrize("line", ['"Anthyllis vulneraria" cut 3 sprigs', '"Anthyllis vulneraria" 3 sprigs cut', '"Anthyllis vulneraria" 3 sprigs fresh',
                                  "Anthyllis vulneraria cut 3 sprigs", '"Anthyllis vulneraria" freshly cut 3 sprigs'])  # fmt: skip
def test_cut_is_no_part_of_a_plants_name(cup: Story, line: str) -> None:
    cup.type(f"K2 host in {line}")
    (host,) = cup.desk.bench.containers["K2"].hosts
    assert (host.plant, host.sprigs, host.cut) == ("Anthyllis vulneraria", 3, cup.desk.now())


@pytest.mark.parametrize(("when", "cut"), [("7:30", "02T07:30"), ("yesterday 18:00", "01T18:00")])
def test_cut_with_a_time_says_when(cup: Story, when: str, cut: str) -> None:
    cup.type(f'K2 host in "Anthyllis vulneraria" cut {when} 3 sprigs')
    (host,) = cup.desk.bench.containers["K2"].hosts
    assert (host.plant, host.cut.strftime("%dT%H:%M"), host.put_in) == (
        "Anthyllis vulneraria",
        cut,
        cup.desk.now(),
    )


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ('K2 host in "Anthyllis vulneraria" washed 3 sprigs', "washed"),
        ("K2 host in 'Anthyllis vulneraria' from the bank, washed", ""),
        ('K2 founder W2 "Polyommatus montis" worn-out', "worn-out"),
        ('taxon "Polyommatus montis" rare', "rare"),
        ('plant "Anthyllis vulneraria" tall 48h', "tall"),
    ],
)
def test_another_word_behind_a_quoted_name_is_asked_about(cup: Story, line: str, word: str) -> None:
    if not word:
        cup.type(line)
        assert cup.desk.bench.containers["K2"].hosts[0].plant == "Anthyllis vulneraria"
        return
    told = cup.refused(line)
    assert f"'{word}' stands behind a name in quotes" in told
