"""What a tired keeper types is taken as meant; what may mean several things is asked about, and nothing is written."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Three females in one cup, one in another, eggs, larvae, pupae, and a moated shelf."""
    tell(
        story,
        """
        shelf set up sill moat 1
        K2 K3 K4 set up laying shelf=sill place=1
        E2 E3 set up eggs
        R4 R5 set up rearing
        P2 set up pupation
        taxon Melitaea cinxia short=cinxia
        K2 founder W2 Melitaea cinxia female
        K2 founder W3 Melitaea cinxia female
        K2 founder W4 Melitaea cinxia female
        K3 founder W5 Melitaea cinxia female
        K2 host in plantain leaf 3 sprigs
        R4 host in plantain leaf
        brood A/2 taxon=Melitaea cinxia
        E2 stocked 30 eggs A/2
        R4 stocked 12 larvae L2 A/2
        P2 stocked 4 pupae A/2
        """,
    )
    return story.later(hours=1)


TAKEN = [
    ("fed K2", {"what": "drank", "container": "K2"}),
    ("K2 fed", {"what": "drank", "container": "K2"}),
    ("K2: Drank.", {"what": "drank", "container": "K2"}),
    ("cup K2 drank!", {"what": "drank", "container": "K2"}),
    ("K2 fed by hand", {"what": "drank", "how": "when helped"}),
    ("hand-fed K2", {"what": "drank", "container": "K2", "how": "when helped"}),
    ("K2 drank 2 of 3", {"what": "drank", "number": 2}),
    ("2 of 3 drank K2", {"what": "drank", "container": "K2", "number": 2}),
    ("K2 two drank", {"what": "drank", "number": 2}),
    ("drank W2", {"what": "drank", "container": "K2", "number": 1, "female": "W2"}),
    ("W2 drank", {"what": "drank", "container": "K2", "number": 1, "female": "W2"}),
    ("K2 drank none", {"what": "refused", "container": "K2"}),
    ("K2 did not drink", {"what": "refused"}),
    ("K2 laid 12", {"what": "searched", "found": 12}),
    ("12 eggs K2", {"what": "searched", "container": "K2", "found": 12}),
    ("K2 eggs 5", {"what": "searched", "found": 5}),
    ("K2 found 6 eggs on gauze", {"what": "searched", "found": 6, "where": "gauze"}),
    ("K2 no eggs", {"what": "searched", "found": 0}),
    ("no eggs K2 lens", {"what": "searched", "container": "K2", "found": 0, "aid": "lens"}),
    ("K2 searched 0 on plantain", {"what": "searched", "found": 0, "plant": "plantain"}),
    ("K2 6 eggs not sure", {"what": "searched", "found": 0, "unsure": 6}),
    ("6 unsure eggs K2", {"what": "searched", "container": "K2", "found": 0, "unsure": 6}),
    ("E2 25 eggs", {"what": "counted", "number": 25, "stage": "egg"}),
    ("K2 swab changed", {"what": "feeder changed"}),
    (
        "new swab K2 sugar 10%",
        {"what": "feeder changed", "container": "K2", "food": "sugar", "strength_percent": 10.0},
    ),
    ("K2 shade", {"what": "light", "to": "shade"}),
    ("K2 in the sun", {"what": "light", "to": "sun"}),
    ("lamp off K2", {"what": "light", "container": "K2", "to": "lamp off"}),
    ("K2 covered half", {"what": "covered", "how": "half"}),
    ("K2 aired", {"what": "lid opened"}),
    ("K2 sprayed", {"what": "misted"}),
    ("3 ants above K2", {"what": "barrier", "shelf": "sill", "state": "breached", "ants_above": 3}),
    ("moat low 4 mm", {"what": "barrier", "shelf": "sill", "state": "low", "depth_mm": 4.0}),
    ("K2 moat low 4 mm", {"what": "barrier", "shelf": "sill", "state": "low", "depth_mm": 4.0}),
    ("moat low 4 in K2", {"what": "barrier", "shelf": "sill", "state": "low", "depth_mm": 4.0}),
    ("sill dry", {"what": "barrier", "shelf": "sill", "state": "dry"}),
    ("moat ok", {"what": "barrier", "shelf": "sill", "state": "full"}),
    ("moat filled 20", {"what": "topped up", "shelf": "sill", "depth_mm": 20.0}),
    ("R4 1 wandering sure", {"what": "looked", "sign": "wandering", "number": 1}),
    ("R4 moulting", {"what": "looked", "sign": "still"}),
    ("R4 all ok", {"what": "looked"}),
    ("K2 looks weak", {"what": "looked", "sign": "weak"}),
    ("E2 eggs dark", {"what": "looked", "sign": "darkening"}),
    (
        "P2 emerged 1 female crippled",
        {"what": "emerged", "number": 1, "sex": "female", "crippled": 1},
    ),
    ("P2 male emerged", {"what": "emerged", "number": 1, "sex": "male"}),
    ("R4 died 3 mould", {"what": "died", "number": 3, "cause": "mould"}),
    ("2 died R4", {"what": "died", "container": "R4", "number": 2}),
    ("R4 two larvae died", {"what": "died", "number": 2, "stage": "larva"}),
    ("K3 died", {"what": "died", "container": "K3", "number": 1}),
    ("died W3", {"what": "died", "container": "K2", "number": 1, "brood": "W3"}),
    ("W3 dead", {"what": "died", "container": "K2", "number": 1, "brood": "W3"}),
    ("released W2", {"what": "released", "container": "K2", "brood": "W2"}),
    (
        "W2 released at Tannmoos by the brook",
        {"what": "released", "brood": "W2", "place": "Tannmoos by the brook"},
    ),
    ("W2 to K4", {"what": "moved", "container": "K2", "brood": "W2", "to": "K4"}),
    ("moved 4 from R4 to R5", {"what": "moved", "container": "R4", "number": 4, "to": "R5"}),
    (
        "E2 12 eggs moved to E3",
        {"what": "moved", "container": "E2", "number": 12, "stage": "egg", "to": "E3"},
    ),
    ("E2 5 eggs hatched", {"what": "hatched", "number": 5}),
    ("R4 5 larvae moulted L3", {"what": "moulted", "number": 5, "instar": 3}),
    ("R4 moulted all L3", {"what": "moulted", "number": 12, "instar": 3}),
    ("R4 12 larvae", {"what": "counted", "number": 12, "stage": "larva"}),
    ("R4 all there", {"what": "counted", "number": 12}),
    ("R4 no frass", {"what": "frass", "level": "none"}),
    ("R4 no food", {"what": "host seen", "left": "none"}),
    ("R4 leaves limp", {"what": "host seen", "state": "limp"}),
    ("R4 half eaten", {"what": "host seen", "left": "half"}),
    ("R4 leave alone 24h", {"what": "leave be", "container": "R4"}),
    ("room 18/24", {"what": "air", "low_c": 18.0, "high_c": 24.0}),
    ("room 21 60%", {"what": "air", "temperature_c": 21.0, "humidity_percent": 60.0}),
    ("K2 humidity 60", {"what": "air", "container": "K2", "humidity_percent": 60.0}),
    (
        "K2 -- left hind wing torn",
        {"what": "note", "container": "K2", "text": "left hind wing torn"},
    ),
]


@pytest.mark.parametrize(("typed", "meant"), TAKEN)
def test_it_is_taken_as_meant(bench: Story, typed: str, meant: dict[str, object]) -> None:
    bench.type(typed)

    written = bench.on_disk()[-1]
    assert {name: written.get(name) for name in meant} == meant


ASKED = [
    ("K2 outside", "K2 sun; K2 shade; K2 changed shelf=garden"),
    ("K2 carried", "K2 moved 1 to K4"),
    ("K2 caught", "K2 1 female Celastrina argiolus from Tannmoos"),
    ("K2 ants", "K2 moat full; K2 moat low 2 below; K2 3 ants above"),
    ("K2 ants 2 below", "how does the moat stand?"),
    ("K2 gone", "K2 died 1; K2 escaped 1; K2 moved 1 to K3; K2 missing 1"),
    ("K2 found 1", "K2 6 eggs; K2 note one found"),
    ("K2 water low", "K2 moat low 4 mm"),
    ("K2 mould", "K2 looked mould; or K2 host seen mouldy"),
    ("E2 dark", "E2 darkening; or E2 light dark"),
    ("K2 too hot", "K2 air 31C"),
    ("R4 fed", "R4 host in plantain 3 stems"),
    ("K2 fed honey", "K2 drank; or K2 offered honey"),
    ("K2 plantain", "K2 host in plantain; K2 host seen fresh; K2 host out plantain"),
    ("R4 fresh leaf", "which plant?"),
    ("K2 drank 0", "K2 refused"),
    ("K2 drank 2 of 5", "K2 holds 3 females on record, not 5"),
    ("E3 12 eggs", "E3 12 eggs Melitaea cinxia"),
    ("R4 L3", "R4 moulted all L3"),
    ("P2 emerged 3 female crippled", "emerged 3 female 1 crippled"),
    ("K2 died", "brood=W2, brood=W3, brood=W4"),
    ("released W2 at plot 3", "is 3 the number"),
    ("K4 laid 3", "no female stood in K4 then"),
    ("W9 died", "no container is called W9"),
    ("R4 cleaned, misted", "one thing a line"),
    ("K2 thin", "as a note: K2 note thin"),
    ("K2 misted K3", "K2 K3 misted"),
    ("K2 host in 0 sprigs plantain", "0 stems is no plant"),
]


@pytest.mark.parametrize(("typed", "question"), ASKED)
def test_what_may_mean_several_things_is_asked_about(
    bench: Story, typed: str, question: str
) -> None:
    before = bench.on_disk()

    assert question in bench.refused(typed)
    assert bench.on_disk() == before


def test_a_note_goes_with_every_verb(bench: Story) -> None:
    for typed, what, text in (
        ("R4 looked stranger -- a small spider", "looked", "a small spider"),
        ("K2 misted -- twice", "misted", "twice"),
        ("W2 drank -- slowly", "drank", "slowly"),
        ("R4 counted 12 -- two on the lid", "counted", "two on the lid"),
    ):
        bench.type(typed)
        said, note = bench.on_disk()[-2:]
        assert (said["what"], note["what"], note["text"]) == (what, "note", text)
        assert note["container"] == said["container"]
    bench.type("K2 released 1 W3 -- strong wind")
    assert "place" not in bench.on_disk()[-2]
    bench.type("sill moat full -- refilled from the rain barrel")
    assert bench.on_disk()[-1]["text"] == "shelf sill: refilled from the rain barrel"


def test_two_of_three_that_drank_stand_so_in_the_column_and_one_female_is_not_two(
    bench: Story,
) -> None:
    bench.type("drank W2")
    assert "W2 drank already at 08:05" in bench.refused("drank W2")
    bench.type("drank W3")
    assert "drink" in bench.due("K2")


async def test_the_column_says_two_of_three(bench: Story) -> None:
    bench.type("K2 drank 2 of 3")
    async with bench.screens() as screen:
        row = next(line for line in screen.text.splitlines() if "K2" in line)
        assert "2 of 3" in row


def test_her_eggs_are_of_her_brood_not_of_herself(bench: Story) -> None:
    bench.type("W5 laid 12")
    bench.later(hours=12)
    bench.type("laid 3 W5")

    begun, first, second = bench.on_disk()[-3:]
    assert (begun["what"], begun["mothers"]) == ("brood", ["W5"])
    assert first["brood"] == second["brood"] == begun["code"]


def test_a_flag_alone_says_yes(story: Story) -> None:
    story.type("taxon Boloria eunomia cannibalistic protected")
    assert story.on_disk()[-1]["eats_its_own"] is True
    assert story.on_disk()[-1]["protected"] is True
    story.type("taxon Boloria dia eats its own")
    assert story.on_disk()[-1]["eats_its_own"] is True
    assert "cannibalistic" not in story.on_disk()[-1], "a field has one name in a book"
    assert story.desk.bench.taxa["Boloria dia"].cannibalistic
    story.type("taxon Boloria dia cannibalistic=no")
    assert story.on_disk()[-1]["eats_its_own"] is False
    story.reopen()
    assert not story.desk.bench.taxa["Boloria dia"].cannibalistic
    assert story.desk.bench.taxa["Boloria eunomia"].cannibalistic


def test_without_a_place_two_moats_are_asked_about(bench: Story) -> None:
    bench.type("shelf set up rack moat 2")
    assert "say whose barrier" in bench.refused("moat low 4 mm")


def test_one_of_several_is_said_in_any_order(bench: Story) -> None:
    for typed in (
        "one of W2, W3 or W4 died",
        "W2 or W3 died",
        "K2 one of W2,W3 died",
        "died one of W2, W3, W4",
    ):
        assert "K2 died: number 1" in bench.preview(typed), typed
        assert "among W2 W3" in bench.preview(typed), typed
