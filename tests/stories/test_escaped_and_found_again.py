"""One that got out may be the one that was missing, and may come back."""

from __future__ import annotations

from tests.stories.telling import Story, tell
from tests.stories.test_animals_which import pages, stock

BROOD = "WIL-27-02/A"
LARVAE = """
H6 set up rearing
H7 set up rearing
brood WIL-27-02/A taxon="Boloria inventa"
H6 stocked 8 L1 WIL-27-02/A
H7 stocked 2 L1 WIL-27-02/A
"""


async def test_escaped_beside_a_missing_one_is_asked_about(story: Story) -> None:
    tell(story, LARVAE + "H6 counted 7")
    asked = story.refused("H6 escaped 1")
    assert "1 of H6 is missing; say whether it is of them: missing or others" in asked
    story.type("H6 escaped 1 missing")
    assert sum(stock(story, "H6").values()) == 7
    assert "10 came (10 L1) = 9 alive + 1 escaped" in await pages(story, f"code {BROOD}")
    story.type("H6 escaped 1")  # nobody is missing now
    assert sum(stock(story, "H6").values()) == 6


def test_another_one_escaped_leaves_the_missing_open(story: Story) -> None:
    tell(story, LARVAE + "H6 counted 7\nH6 escaped 1 others")
    assert sum(stock(story, "H6").values()) == 6
    story.type("H6 settled found 1")
    assert sum(stock(story, "H6").values()) == 7


async def test_an_escaped_larva_is_found_again(story: Story) -> None:
    tell(story, LARVAE + "H6 escaped 1")
    story.later(days=1).type("H6 settled found 1")
    assert sum(stock(story, "H6").values()) == 8
    assert "10 came (10 L1) = 10 alive" in await pages(story, f"code {BROOD}")
    assert "H6 has 0 not seen" in story.refused("H6 settled found 1")


async def test_a_count_may_find_an_escaped_one(story: Story) -> None:
    tell(story, LARVAE + "H6 escaped 1")
    story.later(days=1)
    assert "1 escaped from H6 found" in story.preview("H6 counted 8")
    assert "1 escaped from H6 found" in story.type("H6 counted 8")[0]
    assert "10 came (10 L1) = 10 alive" in await pages(story, f"code {BROOD}")
    assert "1 MORE THAN ON RECORD" in story.type("H6 counted 9")[0]


async def test_one_missing_that_had_escaped_is_found_again(story: Story) -> None:
    tell(story, LARVAE + "H6 counted 6\nH6 settled escaped 1\nH6 settled dead 1")
    story.later(days=1)
    assert "H6 has 0 not seen and 1 escaped" in story.refused("H6 settled found 2")
    story.type("H6 settled found 1")
    assert "10 came (10 L1) = 9 alive + 1 died" in await pages(story, f"code {BROOD}")


def test_only_what_is_not_seen_is_given_up(story: Story) -> None:
    tell(story, LARVAE + "H6 escaped 1")
    assert "H6 has 0 not seen" in story.refused("H6 settled dead 1")
