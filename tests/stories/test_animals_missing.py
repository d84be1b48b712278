"""Who was missing: found by a count elsewhere, or found dead."""

from __future__ import annotations

from tests.stories.telling import Story, tell
from tests.stories.test_animals_which import pages, stock

BROOD = "WIL-27-02/A"
LARVAE = """
R3 set up rearing
R4 set up rearing
brood WIL-27-02/A taxon="Boloria inventa"
R3 stocked 4 L3 WIL-27-02/A
R4 stocked 8 L3 WIL-27-02/A
"""


async def test_a_count_above_the_record_first_finds_the_missing(story: Story) -> None:
    tell(story, LARVAE.replace("R4 stocked 8", "R4 stocked 5"))
    story.type("R3 moved 4 to R4, arrived 3")
    assert sum(stock(story, "R4").values()) == 8

    assert "1 missing from R3 found" in story.preview("R4 counted 9")
    assert "1 missing from R3 found" in story.type("R4 counted 9")[0]
    assert "9 came (9 L3) = 9 alive" in await pages(story, f"code {BROOD}")

    assert "2 MORE THAN ON RECORD" in story.type("R4 counted 11")[0]
    assert "11 came (11 L3; 2 of them by counts above the record) = 11 alive" in await pages(
        story, f"code {BROOD}"
    )


def test_a_count_below_the_record_says_how_many_are_missing(story: Story) -> None:
    tell(story, LARVAE)
    assert "2 fewer than on record, missing until" in story.type("R4 counted 6")[0]
    tell(story, "R3 stocked 3 L5 WIL-27-02/A")
    assert (
        "1 fewer than on record, not known which instar, missing until"
        in story.type("R3 counted 6")[0]
    )


async def test_a_death_after_a_short_count_asks_whether_it_is_the_missing_one(story: Story) -> None:
    tell(story, LARVAE.replace("R4 stocked 8", "R4 stocked 60"))
    story.type("R4 counted 58")

    assert "2 of R4 are missing; say whether it is of them: missing or others" in story.refused(
        "R4 died 2"
    )
    story.type("R4 died 2 missing dry")
    assert sum(stock(story, "R4").values()) == 58
    assert "= 62 alive + 2 died" in await pages(story, f"code {BROOD}")
    story.type("R4 died 1")
    assert sum(stock(story, "R4").values()) == 57


def test_dead_ones_that_are_not_the_missing_leave_those_open(story: Story) -> None:
    tell(story, LARVAE)
    tell(story, "R4 counted 6\nR4 died 1 others")
    assert sum(stock(story, "R4").values()) == 5
    assert "has 2 not seen" in story.refused("R4 settled found 3")


def test_more_dead_than_were_missing(story: Story) -> None:
    tell(story, LARVAE)
    tell(story, "R4 counted 7\nR4 died 3 missing")
    assert sum(stock(story, "R4").values()) == 5
    assert "has 0 not seen" in story.refused("R4 settled found 1")


async def test_a_dead_one_is_kept_as_a_specimen_with_its_cause_of_death(story: Story) -> None:
    tell(story, LARVAE)
    told = story.type("R4 died 1 parasitised voucher=V-12 depository=museum")[0]
    assert "parasitised" in told
    assert "V-12" in told
    story.type("R4 preserved 1 V13 cause=heat")
    page = await pages(story, f"code {BROOD}")
    assert "10 alive + 2 died" in page
    assert "L3: parasitised" in page
    pins = story.shell("export", "pins", str(story.folder.parent / "pins.html"))
    assert pins.status == 0, pins.err


async def test_at_the_stop_one_more_key_says_whether_a_dead_one_was_missing(story: Story) -> None:
    tell(story, LARVAE)
    tell(story, "R4 host in violet leaf water\nR4 counted 6")
    async with story.screens() as screen:
        screen.highlight("R4")
        await screen.press("l", "f", "1", "enter")
        assert "2 of R4 are missing; say whether it is of them" in screen.text
        assert story.on_disk()[-1]["what"] == "counted"
        await screen.press("1")
        assert (story.on_disk()[-1]["what"], story.on_disk()[-1]["fate"]) == ("settled", "dead")
        await screen.press("l", "f", "1", "enter", "2")
        assert story.on_disk()[-1]["what"] == "died"
    assert sum(stock(story, "R4").values()) == 5


async def test_a_short_count_of_all_asks_of_which_brood_they_are_missing(story: Story) -> None:
    tell(story, LARVAE)
    tell(story, "brood B-27-02/A\nR4 stocked 5 L3 B-27-02/A\nR4 host in violet leaf water")
    async with story.screens() as screen:
        screen.highlight("R4")
        await screen.press("c", "1", "1", "enter")
        assert "of which are the 2 missing?" in screen.text
        await screen.press("1")
    assert stock(story, "R4") == {(BROOD, "larva", 3): 8, ("B-27-02/A", "larva", 3): 3}
