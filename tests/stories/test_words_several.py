"""Several containers in one line, and codes as people's cups have them."""

from __future__ import annotations

from tests.stories.telling import Story


def test_several_are_set_up_at_once(story: Story) -> None:
    story.type(
        "shelf set up sill",
        "L2 L3 L4 set up laying shelf=sill place=1",
        "E2-E6 set up eggs",
        "B7,B8 set up laying",
    )
    story.type("set up R2 R3 rearing", "P2 and P3 set up pupation")

    codes = [line["container"] for line in story.on_disk() if line["what"] == "set up"]
    assert codes == [
        "L2",
        "L3",
        "L4",
        "E2",
        "E3",
        "E4",
        "E5",
        "E6",
        "B7",
        "B8",
        "R2",
        "R3",
        "P2",
        "P3",
    ]
    assert [line.get("place", 0) for line in story.on_disk()[2:5]] == [1, 2, 3]


def test_one_that_stands_already_lets_none_be_set_up(story: Story) -> None:
    story.type("E4 set up eggs")
    before = story.on_disk()
    assert "E4 stands on the bench already" in story.refused("E2-E6 set up eggs")
    assert story.on_disk() == before


def test_one_thing_is_said_of_several(story: Story) -> None:
    story.type(
        "K2-K4 set up laying",
        "K2 K3 misted",
        "misted K2, K3 and K4",
        "K2-K4 host in violet leaf 8 sprigs",
    )
    lines = story.on_disk()
    assert [line["container"] for line in lines if line["what"] == "misted"] == [
        "K2",
        "K3",
        "K2",
        "K3",
        "K4",
    ]
    shared = [line["sprigs"] for line in lines if line["what"] == "host in"]
    assert shared == [3, 3, 2], "eight stems of one batch are eight, not eight each"
    story.type("K2 K3 host in violet leaf 8 sprigs each")
    assert [line["sprigs"] for line in story.on_disk()[-2:]] == [8, 8]
    assert "K2 K3 misted" in story.preview("K2 K3 misted")
    assert "no container is called K9" in story.refused("K2 K9 misted")


def test_a_number_of_animals_is_never_said_of_several(story: Story) -> None:
    story.type(
        "K2 K3 set up laying",
        "K2 founder W2 Boloria dia female",
        "K2 founder W3 Boloria dia female",
    )
    assert "each on a line of its own" in story.refused("K2 K3 died")
    assert "each on a line of its own" in story.refused("K2 K3 12 eggs")
    story.type("W2 W3 released at Tannmoos")
    assert [(line["what"], line["brood"]) for line in story.on_disk()[-2:]] == [
        ("released", "W2"),
        ("released", "W3"),
    ]


def test_codes_with_0_and_1_are_taken_with_a_word_of_advice(story: Story) -> None:
    assert "K10: 0 and 1 are easily misread on a label" in story.preview("K10 set up laying")
    ran = story.shell("log", "K10", "set", "up", "laying")
    assert ran.status == 0
    assert "easily misread" in ran.err
    story.reopen()
    story.type("K10 misted")
    assert "misread" not in story.preview("K10 misted")


async def test_marked_cups_that_share_a_batch_of_eight_share_eight(story: Story) -> None:
    story.type("R2 R3 R4 set up rearing", "brood A/2 taxon=Boloria dia")
    for code in ("R2", "R3", "R4"):
        story.type(f"{code} stocked 5 larvae A/2", f"{code} host in violet leaf 2 sprigs")
    story.later(hours=30)
    async with story.screens() as screen:
        for code in ("R2", "R3", "R4"):
            screen.highlight(code)
            await screen.press("space")
        await screen.press("h", "8", "c")
    put_in = [line for line in story.on_disk() if line["what"] == "host in"][3:]
    assert [line["sprigs"] for line in put_in] == [3, 3, 2]
    assert len({line["batch"] for line in put_in}) == 1


def test_two_stems_do_not_go_into_three_cups(story: Story) -> None:
    story.type("R2 R3 R4 set up rearing")
    assert "2 stems for 3 containers" in story.refused("R2 R3 R4 host in violet leaf 2 stems")
