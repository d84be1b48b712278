"""Lines of a tired keeper with three laying cups, eggs, larvae and pupae; made up for this bench."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
room air 21C
shelf set up sill moat
K2 1 female Melitaea cinxia on plantain
K3 1 female Boloria dia on violet
K4 2 females Boloria dia on violet
K2 searched 12 on plantain
K2 moved 12 eggs to new E2
brood M1 taxon='Melitaea cinxia'
R2 set up rearing
R2 stocked 9 larvae L1 M1
R4 set up rearing
R4 stocked 7 larvae L5 M1
P2 set up emergence
P2 stocked 11 pupae M1
"""


@pytest.fixture
def bench(story: Story) -> Story:
    tell(story.at("2027-05-12 08:00"), BENCH)
    return story.at("2027-05-20 19:40")


TAKEN = {
    "K4 one drank one didnt": ["drank number=1", "refused number=1"],
    "K2 she drank": ["drank"],
    "K2 she is dead": ["died number=1"],
    "room 27 deg": ["air temperature_c=27.0"],
    "K3 31 degrees": ["air temperature_c=31.0"],
    "room 77 degrees F": ["air temperature_c=25.0"],
    "E2 hatched 10, 2 left": ["hatched number=10"],
    "R4 3 pupated and 4 left": ["pupated number=3"],
    "R4 2 prepupae to P2": ["moved number=2"],
    "P2 2 emerged 1 male 1 female": ["emerged number=1", "emerged number=1"],
}
REFUSED = {
    "E2 10 hatched 3 left": "of which 10 hatched leave 2, not 3; as: E2 hatched 10; or first E2",
    "R4 two pupae moved to P2": "if they are now: R4 pupated 2",
    "P2 3 emerged 1 male 1 female": "takes no more numbers",
    "K3 drank 7.15": "as a time: 7:15",
    "all drank": "as: K2,K3 drank",
    "ants": "sill moat full",
    "E2 dry": "E2 misted",
    "E2 mould": "As: E2 looked mould",
    "K3 5": "As: K3 searched 5; K3 counted 5 adults",
    "E2 going dark": "E2 darkening",
}


@pytest.mark.parametrize("line", TAKEN)
def test_it_is_taken(bench: Story, line: str) -> None:
    before = len(bench.on_disk())
    bench.type(line)
    said = bench.on_disk()[before:]
    for one, words in zip(said, TAKEN[line], strict=True):
        what, _, field = words.partition(" ")
        name, _, value = field.partition("=")
        assert one["what"] == what
        assert str(one.get(name, "")) == value


@pytest.mark.parametrize("line", REFUSED)
def test_it_is_refused_with_lines_that_work(bench: Story, line: str) -> None:
    assert REFUSED[line] in bench.refused(line)
