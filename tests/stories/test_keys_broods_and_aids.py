"""With several broods or stages in a cup one more key says which; a search says with what it was made."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
    R2 set up rearing
    brood MOR-27-01/A taxon='Melitaea cinxia'
    brood MOR-27-02/A taxon='Melitaea cinxia'
    R2 stocked MOR-27-01/A larva 10 L2
    R2 stocked MOR-27-01/A larva 10 L5
    R2 stocked MOR-27-02/A larva 4 L3
    R2 host in plantain leaf water
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """Two broods and three instars in one cup."""
    tell(story, BENCH)
    return story


async def test_a_death_says_of_which_brood_and_instar(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R2")
        await screen.press("l", "f", "4", "enter")
        assert bench.on_disk()[-1]["what"] == "host in"
        assert "which?" in screen.text
        for words in (
            "1 10 larvae L2 of MOR-27-01/A",
            "2 10 larvae L5 of MOR-27-01/A",
            "3 4 larvae L3 of MOR-27-02/A",
        ):
            assert words in screen.words
        await screen.press("2")
        told = bench.on_disk()[-1]
        assert (told["what"], told["number"], told["brood"], told["instar"]) == (
            "died",
            4,
            "MOR-27-01/A",
            5,
        )


async def test_a_moult_says_which_moulted(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R2")
        await screen.press("l", "2", "m", "3")
        told = bench.on_disk()[-1]
        assert (told["what"], told["number"], told["brood"], told["instar"]) == (
            "moulted",
            2,
            "MOR-27-02/A",
            4,
        )


async def test_which_of_two_unmarked_females_died_may_stay_unknown(story: Story) -> None:
    tell(story, "K2 set up laying")
    tell(
        story,
        "K2 founder MOR-27-01, Melitaea cinxia female\nK2 founder MOR-27-02, Melitaea cinxia female",
    )
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.press("l", "f", "1", "enter")
        assert "k not known" in screen.words
        await screen.press("k")
        told = story.on_disk()[-1]
        assert (told["what"], told.get("brood"), told["among"]) == (
            "died",
            None,
            ["MOR-27-01", "MOR-27-02"],
        )
        screen.highlight("K2")
        await screen.press("l", "f", "1", "enter")
        assert story.on_disk()[-1]["what"] == "died"
        assert len([one for one in story.on_disk() if one["what"] == "died"]) == 2


async def test_all_needs_no_more(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R2")
        await screen.press("l", "full_stop", "p")
        assert (bench.on_disk()[-1]["what"], bench.on_disk()[-1]["number"]) == ("pupated", 24)


async def test_a_count_that_is_not_all_says_which_were_counted(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R2")
        await screen.press("c", "3", "enter")
        assert "20 larvae of MOR-27-01/A" in screen.text
        await screen.press("2")
        told = bench.on_disk()[-1]
        assert (told["what"], told["number"], told["brood"]) == ("counted", 3, "MOR-27-02/A")


def test_on_lines_too(bench: Story) -> None:
    bench.later(hours=25).type("R2 host seen plenty")
    printed = bench.plain(["20/22", "1 f", "3", "q"])

    told = [entry for entry in bench.on_disk() if entry["what"] == "died"]
    assert [(entry["brood"], entry["instar"]) for entry in told] == [("MOR-27-02/A", 3)]
    assert any("found dead: which?" in line for line in printed)


async def test_a_search_is_by_the_aid_named_last(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 founder MOR-27-01, Melitaea cinxia female\nK3 set up laying")
    tell(story, "K3 founder MOR-27-02, Melitaea cinxia female")
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.press("e")
        assert "How many eggs found, by naked eye?" in screen.text
        await screen.press("g")
        assert "How many eggs found, by lens?" in screen.text
        await screen.press("1", "2", "enter")
        told = story.on_disk()[-1]
        assert (told["what"], told["found"], told["aid"]) == ("searched", 12, "lens")
    story.reopen()
    async with story.screens() as screen:
        screen.highlight("K3")
        await screen.press("e", "0")
        assert (story.on_disk()[-1]["found"], story.on_disk()[-1]["aid"]) == (0, "lens")
        story.hand.now += 61
        await screen.press("e", "p", "0")
        assert (story.on_disk()[-1]["found"], story.on_disk()[-1]["aid"]) == (0, "macro photo")


async def test_a_number_goes_before_the_key_of_the_aid(story: Story) -> None:
    tell(
        story,
        "K2 set up laying\nK2 founder MOR-27-01, Melitaea cinxia female\nK2 host in plantain leaf water",
    )
    story.later(hours=30)
    async with story.screens() as screen:
        screen.highlight("K2")
        await screen.press("e", "4", "g")
        told = story.on_disk()[-1]
        assert (told["what"], told["found"], told["aid"]) == ("searched", 4, "lens")
        story.hand.now += 61
        await screen.press("e")
        assert "How many eggs found, by lens?" in screen.text
        await screen.press("0", "escape")
        assert story.on_disk()[-1]["found"] == 0


def test_the_aid_on_lines(story: Story) -> None:
    tell(
        story,
        "K2 set up laying\nK2 founder MOR-27-01, Melitaea cinxia female\nK2 host in plantain leaf water",
    )
    story.later(hours=60)
    story.plain(["20/22", " ", "d", " ", " ", "by lens", "0", "q"])

    assert [
        (entry["found"], entry["aid"]) for entry in story.on_disk() if entry["what"] == "searched"
    ] == [(0, "lens")]


def test_a_number_and_the_aid_on_lines(story: Story) -> None:
    tell(
        story,
        "K2 set up laying\nK2 founder MOR-27-01, Melitaea cinxia female\nK2 host in plantain leaf water",
    )
    story.later(hours=60)
    story.plain(["20/22", " ", "d", " ", " ", "3 p", "q"])

    assert [
        (entry["found"], entry["aid"]) for entry in story.on_disk() if entry["what"] == "searched"
    ] == [(3, "macro photo")]


def test_an_aid_that_a_line_names_is_kept_too(story: Story) -> None:
    tell(story, "K1 set up laying\nK1 founder W1 Boloria dia female\nK1 host in Viola hirta")
    story.later(hours=30)
    story.type("K1 searched 0 by lens")
    story.later(hours=30)
    assert any("by lens?" in line for line in story.plain([*["-", "m"] * 8, "q"]))
    story.type("K1 searched 0 naked eye yesterday 18:00")  # of then, not from now on
    story.type("K1 searched 0")
    assert story.on_disk()[-1]["aid"] == "lens"
