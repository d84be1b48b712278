"""Whatever slips at the prompt, each line that the refusal suggests would be taken, or asks for one thing more."""

from __future__ import annotations

import re

import pytest

from rounds.app.prompt_line import preview
from tests.stories.telling import ASKS, Story, suggested, tell

SLIPS = """
nothing | none | none seen | gone | lost | found | found 1 | dead | 1 dead | died | 2 died |
leaf | leaves | fresh | food | new food | host | hungry | wet | dry | mould | water | water low
| full | low | sick | hatching | hatched | hatched 30 | emerged | emerged 2 | moulted | moulted
3 | pupated | pupated 2 | pupating | open | closed | new cup | first | swapped | kept | held |
apart | spinning | cocoon | resting | not paired | swab | sponge | moved | moved to | moved 2 |
to K4 | 3 | all | some | 2 left | ok | fine | same | again | weak | limp | wilted | eaten | 3
eggs | no eggs | eggs | laid | laid 3 | frass | no frass | ants | moat | clean | cleaned | drank
| 2 drank | fed | refused | sugar | honey | misted | cold | hot | 31 | shade | window | released
| release | escaped | escaped 1 | missing | missing 2 | settled | settled found 1 | counted |
counted 40 | count | paired | pairing | mated | L4 | 3 L4 | L3 2 | in L5 | instar | moulting |
still | not moving | stems | 3 stems | stems out | stems gone | discard | binned | bin lot 1 |
lot 1 | lot 9 frass | search | searched | looked | look | seen | not seen | none found | nobody
| she is dead | both drank | one of them dead | 3 males | 1 female | male | female | egg | pupa
| pupae | larva | hang | hanging | hung up | wings | crippled | deformed | parasite | wasps |
spider | mite | killed | pinned | frozen | photo | note | who | where | K9 | R3 | in R3 | from
K4 | on nettle | on violet | nettle | violet | violet limp | Viola hirta | hirta | changed |
host changed | host out | host in | topped up | top up | moat low | moat 4 | sill | shelf |
shelf b | permit | brood | taxon | air | temp | 20C | 140% | lid | lid open | covered | drunk |
ate | feeding | not feeding | ate nothing | emty | empty | washed | yesterday | 07:00 | tomorrow
| -30m | hatch 2 | emerge 1 | pupate 1 | moult 1 | die 1 | escape | lay 4 | search 0 | search 3
| find 2 | drink | feed | eat | count 5 | count all | mated wild | paired wild | release 1 | let
go | move all | move 1 to C2 | put in Z9 | split | merge | merged | joined | into K4 | out | in
| off | up | down
"""
PLACES = ("K2", "R3", "E2", "P5", "C2", "H2", "K4", "R6", "K7", "sill", "room", "")
MORE = re.compile(r"\badd:? |say whether|already")


@pytest.fixture
def bench(story: Story) -> Story:
    """A cup of each kind: one empty, one from which a larva is missing, one with kept stems."""
    story.at("2027-06-08 08:00")
    tell(
        story,
        """
        shelf set up sill moat
        K2 wild female Boloria dia from Heath on Viola hirta 3 stems
        K4 2 wild female Boloria dia, 1 male from Heath on Viola hirta 3 stems
        R3 6 L2 Melitaea diamina on Plantago lanceolata 3 stems
        R6 4 L3, 5 L5 Melitaea diamina on Plantago lanceolata 3 stems
        E2 20 eggs Boloria dia
        P5 7 pupae Melitaea diamina
        C2 set up pairing
        H2 3 males Boloria dia
        K7 set up laying
        """,
    )
    story.later(hours=20).type("K2 host out held", "K2 host in Viola hirta 2 stems")
    story.later(hours=3).type("R3 counted 5")
    return story


def test_each_line_that_a_refusal_suggests(bench: Story) -> None:
    slips = " ".join(SLIPS.split()).split(" | ")
    tried = 0
    for at, slip in enumerate(slips):
        line = f"{PLACES[at % len(PLACES)]} {slip}".strip()
        told, taken = preview(bench.desk, line)
        for suggestion in [] if taken else suggested(told):
            shown, fits = preview(bench.desk, suggestion)
            asks = ASKS.search(shown) or MORE.search(shown)
            assert fits or asks, f"{line!r}: {told}\n{suggestion!r}: {shown}"
            tried += 1
    assert tried > 100


def test_what_is_not_there_is_said_and_noted(bench: Story) -> None:
    assert bench.refused("R3 none seen").endswith(
        "As: R3 searched 0; R3 frass none; R3 looked as usual"
    )
    assert bench.refused("H2 hatching").endswith(
        "through by now? H2 holds 1 male of BOL-27-06, 1 male of BOL-27-07, 1 male of BOL-27-08;"
        " as a note: H2 note hatching"
    )
    assert bench.refused("sill nothing") == "'nothing' is said of a container; say of which"
    assert bench.refused("closed") == "say which container first, as: C2 closed"


@pytest.mark.parametrize(
    ("line", "as_meant"),
    [
        ("R6 one less", "R6 missing 1"),
        ("R6 2 shrivelled", "R6 died 2"),
        ("E2 3 dents", "E2 died 3"),
        ("K4 2 stems out, held", "K4 host out held"),
        ("K4 vase topped up", "K4 note vase topped up"),
        ("K2 mating ended", "K2 paired BOL-27-01 with wild"),
    ],
)
def test_half_awake_it_is_asked_what_was_meant(bench: Story, line: str, as_meant: str) -> None:
    assert as_meant in bench.refused(line)
