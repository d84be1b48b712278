"""Who is meant where a cup holds several kinds, and who it was where nobody knows."""

from __future__ import annotations

from tests.stories.telling import Story, tell

THREE = """
K2 set up holding
K3 set up holding
K2 founder W2 "Boloria inventa"
K2 founder W3 "Boloria inventa"
K2 founder W4 "Boloria inventa"
"""
CAGE = """
P2 set up emergence
P3 set up emergence
brood WIL-27-02/A taxon="Boloria inventa"
P2 stocked 17 pupae WIL-27-02/A
P2 emerged 4 female
"""


def stock(story: Story, code: str) -> dict[tuple[str, str, int], int]:
    """What a container holds on record, as the export lists it."""
    found: dict[tuple[str, str, int], int] = {}
    container = story.desk.bench.at(code)
    for lot in container.lots if container else ():
        key = (lot.brood, lot.stage, lot.instar)
        found[key] = found.get(key, 0) + lot.number
    return found


async def pages(story: Story, *keys: str) -> str:
    """The page of a brood or founder, opened by keys from the bench, and the pane beside the list."""
    async with story.screens((110, 60)) as screen:
        await screen.press("z")
        screen.highlight(keys[0])
        await screen.pilot.pause()
        pane = screen.text
        await screen.press("enter")
        return f"{pane}\n{screen.text}"


async def test_one_of_three_unmarked_females_died_and_nobody_knows_which(story: Story) -> None:
    story.at("2027-05-02 08:00")
    tell(story, THREE)
    story.later(hours=8)

    line = story.refused("K2 died 1")
    assert "brood=W2, brood=W3, brood=W4 or not known" in line
    assert "number 1, stage adult, which not known, among W2 W3 W4" in story.preview(
        "K2 died 1 not known"
    )
    story.type("K2 died 1 not known")
    assert stock(story, "K2") == {("W2 or W3 or W4", "adult", 0): 2}
    founder = await pages(story, "code W3")
    assert "of W2, W3, W4, not known which: 1 died, 2 in K2" in founder
    assert "alive" not in founder

    # One of the two that are left is let go: still nobody knows which.
    story.later(hours=20)
    story.type("K2 released 1")
    assert "of W2, W3, W4, not known which: 1 died, 1 released, 1 in K2" in await pages(
        story, "code W2"
    )


async def test_their_eggs_are_of_one_of_them_and_the_death_counts_once(story: Story) -> None:
    story.at("2027-05-02 08:00")
    tell(story, THREE)
    story.later(hours=1)
    tell(story, "K2 changed laying\nK2 host in violet leaf\nK2 died 1 of W2, W3 or W4")
    story.later(hours=24)
    assert "mothers W2 W3 W4" in "".join(story.type("K2 searched 6"))

    together = await pages(story, "taxon Boloria inventa")
    assert "1 died, 2 alive" in together
    assert "a death of one of several counts once" in together
    brood = await pages(story, "code W2+/A")
    assert "W2 or W3 or W4, by a male from the wild" in brood


async def test_one_that_is_known_again_leaves_the_doubt_to_the_others(story: Story) -> None:
    story.at("2027-05-02 08:00")
    tell(story, THREE)
    story.later(hours=1)
    tell(story, "K2 died 1 not known\nK2 moved 1 to K3 brood=W3")
    assert stock(story, "K3") == {("W3", "adult", 0): 1}
    assert stock(story, "K2") == {("W2 or W4", "adult", 0): 1}
    assert "in K3" in await pages(story, "code W3")
    assert "of W2, W4, not known which: 1 died, 1 in K2" in await pages(story, "code W2")
    assert "no founder or brood" not in story.refused("K2 died 1 brood=W3")


def test_in_a_mixed_cage_the_stage_is_asked_and_named(story: Story) -> None:
    tell(story, CAGE)
    for line in ("P2 died 1", "P2 moved 1 to P3", "P2 preserved 1 V7", "P2 missing 1"):
        assert "P2 holds 13 pupae, 4 adults; say which: pupae or adults" in story.refused(line)
    assert "stage adult" in story.preview("P2 escaped 1")  # pupae do not walk
    assert "released: number 1, place heath, stage adult" in story.preview("P2 released 1 at heath")
    tell(
        story,
        "P2 released 1 at heath\nP2 moved 1 adult to P3\nP2 died 1 adult\nP2 preserved 1 adult V7",
    )
    assert stock(story, "P2") == {("WIL-27-02/A", "pupa", 0): 13}
    assert stock(story, "P3") == {("WIL-27-02/A", "adult", 0): 1}
    assert "holds no adults" in story.refused("P2 released 1")


def test_young_larvae_moved_out_leave_the_eggs(story: Story) -> None:
    tell(
        story,
        "E2 set up eggs\nH2 set up hatchlings\nbrood WIL-27-02/A\nE2 stocked 20 eggs WIL-27-02/A\nE2 hatched 5",
    )
    assert "15 eggs, 5 larvae; say which: eggs or larvae" in story.refused("E2 moved 5 to H2")
    story.type("E2 moved 5 larvae to H2")
    assert stock(story, "E2") == {("WIL-27-02/A", "egg", 0): 15}
    assert stock(story, "H2") == {("WIL-27-02/A", "larva", 1): 5}


def test_mixed_instars_and_sexes_are_asked_and_nobody_knows_is_an_answer(story: Story) -> None:
    tell(
        story,
        """
        R4 set up rearing
        R5 set up rearing
        brood WIL-27-02/A
        R4 stocked 10 L2 WIL-27-02/A
        R4 stocked 10 L5 WIL-27-02/A
        R5 stocked 2 adults WIL-27-02/A female
        R5 stocked 3 adults WIL-27-02/A male
        """,
    )
    assert "say which: L2, L5 or not known" in story.refused("R4 died 4")
    assert "say which: L2, L5 or not known" in story.refused("R4 split into R5 4")
    assert "say which: female, male or not known" in story.refused("R5 released 1")
    assert "not known which" in story.type("R4 died 4 not known")[0]
    assert sum(stock(story, "R4").values()) == 16
    story.type("R4 died 1 L5")
    assert stock(story, "R4")[("WIL-27-02/A", "larva", 5)] == 5  # four may be of those that died


def test_a_split_into_several_cups_asks_even_if_all_go(story: Story) -> None:
    tell(story, THREE)
    tell(story, "K4 set up holding")
    assert "not known" in story.refused("K2 split into K3,K4 2,1")
    story.type("K2 split into K3,K4 2,1 not known")
    assert stock(story, "K3") == {("W2 or W3 or W4", "adult", 0): 2}
    assert stock(story, "K4") == {("W2 or W3 or W4", "adult", 0): 1}


def test_larvae_of_two_broods_that_nobody_can_tell_apart_grow_and_die_as_such(story: Story) -> None:
    tell(
        story,
        """
        R4 set up rearing
        brood A-27-02/A taxon="Boloria inventa"
        brood B-27-02/A taxon="Boloria inventa"
        R4 stocked 10 L2 A-27-02/A
        R4 stocked 6 L2 B-27-02/A
        """,
    )
    assert "brood=A-27-02/A, brood=B-27-02/A or not known" in story.refused("R4 moulted 4 to L3")
    told = story.type("R4 moulted 4 to L3 not known")[0]
    assert "A-27-02/A or B-27-02/A, not known which" in told
    both = "A-27-02/A or B-27-02/A"
    assert stock(story, "R4") == {(both, "larva", 2): 12, (both, "larva", 3): 4}
    story.type("R4 died 1 L3", "R4 died 2 L2 brood=A-27-02/A")
    assert stock(story, "R4") == {(both, "larva", 2): 10, (both, "larva", 3): 3}


async def test_the_balance_of_each_says_what_is_not_known(story: Story) -> None:
    test_larvae_of_two_broods_that_nobody_can_tell_apart_grow_and_die_as_such(story)
    page = await pages(story, "code A-27-02/A")
    assert (
        "10 came (10 L2) = 4 alive + 2 died (2 L2) + 4 not known which (last told apart as 4 L2)"
        in page
    )
    assert "of A-27-02/A, B-27-02/A, not known which: 1 died (1 L3), 13 in R4 (10 L2, 3 L3)" in page
    assert "4 of one of several broods, nobody knows which" in page


def test_eggs_found_where_two_broods_lie_ask_whose_they_are(story: Story) -> None:
    tell(
        story,
        """
        E2 set up eggs
        brood A-27-02/A
        brood B-27-02/A
        E2 stocked 10 eggs A-27-02/A
        E2 stocked 6 eggs B-27-02/A
        """,
    )
    assert "as brood=A-27-02/A or brood=B-27-02/A" in story.refused("E2 searched 3")


def test_a_deadline_for_a_cup_holds_for_each_that_may_be_in_it(story: Story) -> None:
    tell(story, THREE)
    tell(story, "K2 died 1 not known\nK2 release by +2h")
    story.later(hours=3)
    assert "release" in story.due("K2")
    story.type("K2 released 1 at moor")
    assert "release" in story.due("K2")
    story.type("K2 released 1 more at moor")
    assert "release" not in story.due("K2")


def test_what_became_of_some_of_the_missing_asks_of_which(story: Story) -> None:
    tell(story, CAGE)
    tell(story, "P2 missing 2 pupae\nP2 missing 1 adult")
    assert "P2 misses pupae and adults; say which: pupae or adults" in story.refused(
        "P2 settled found 1"
    )
    story.type("P2 settled found 1 adult")
    assert stock(story, "P2") == {("WIL-27-02/A", "pupa", 0): 11, ("WIL-27-02/A", "adult", 0): 4}


async def test_at_the_stop_one_more_key_says_the_stage_and_not_known_the_instar(
    story: Story,
) -> None:
    tell(story, CAGE)
    tell(story, "R4 set up rearing\nR4 stocked 10 L2 WIL-27-02/A\nR4 stocked 10 L5 WIL-27-02/A")
    async with story.screens() as screen:
        screen.highlight("P2")
        await screen.press("l", "f", "1", "enter")
        assert "4 adults" in screen.text
        assert "not known" not in screen.text
        await screen.press("2")
        assert story.on_disk()[-1]["stage"] == "adult"
        screen.highlight("R4")
        await screen.press("l", "f", "4", "enter", "k")
        assert "not known which" in screen.message
    assert sum(stock(story, "R4").values()) == 16
    assert stock(story, "P2")[("WIL-27-02/A", "adult", 0)] == 3


def test_a_death_of_nobody_knows_which_is_counted_among_the_commonest(story: Story) -> None:
    """Seven of eight are L4: one of these is taken for it, and the stages say so."""
    story.type("R2 8 larvae 'Pieris vaga' on Cardamine", "R2 7 L4 moulted")
    assert story.type("R2 died 1, not known which")[0].endswith("1 larva, not known which")
    lots = story.desk.bench.containers["R2"].lots
    assert sorted((lot.instar, lot.number) for lot in lots) == [(0, 1), (4, 6)]
