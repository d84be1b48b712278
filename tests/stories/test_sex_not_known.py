"""Of both sexes, not known which: the sex stays not known until it is told, and counts no female-days."""

from __future__ import annotations

from tests.stories.telling import Story, tell

PAIRS = """
P2 set up pairing
M2 set up laying
M3 set up laying
brood WIL-27-02/A taxon="Callophrys montana"
P2 stocked 3 adults WIL-27-02/A female
P2 stocked 2 adults WIL-27-02/A male
M2 host in Vaccinium 3 sprigs
"""


async def shown(story: Story, *keys: str, code: str = "") -> str:
    """What the bench, or a page opened by keys, shows."""
    async with story.screens(size=(160, 50)) as screen:
        if code:
            screen.highlight(code)
            await screen.pilot.pause()
        await screen.press(*keys)
        return screen.text


async def test_two_of_five_moved_are_of_no_certain_sex(story: Story) -> None:
    tell(story, PAIRS)
    assert "female, male or not known" in story.refused("P2 moved 2 adults to M2")
    story.type("P2 moved 2 adults to M2 not known")
    text = "\n".join(
        row for row in (await shown(story, code="M2")).splitlines() if "at stake" not in row
    )
    assert "2 adults" in text
    assert "2 f" not in text
    assert "3 adults" in text, "nor is it known of which sex those are that stayed"


def test_a_dead_one_of_no_known_sex_is_not_said_to_count_as_the_commonest(story: Story) -> None:
    tell(story, PAIRS)
    (told,) = story.type("P2 died 1 not known")
    assert told == "P2 died 1 adult, not known which"
    assert {lot.sex for lot in story.desk.bench.containers["P2"].lots} == {""}
    assert "at most 2 males" in story.refused("P2 released 3 male")


async def test_they_count_no_female_days_and_the_page_says_so(story: Story) -> None:
    tell(story, PAIRS)
    story.type("P2 moved 2 adults to M2 not known")
    story.later(hours=24).type("M2 searched 0")
    text = await shown(story, "i")
    assert "2.0 days of adults whose sex is not known count as no female-days" in text
    assert "2.0     0" not in text


async def test_a_sex_told_later_is_known_again(story: Story) -> None:
    tell(story, PAIRS)
    story.type(
        "P2 moved 2 adults to M2 not known", "M2 released 1 male at moor", "M2 moved 1 to M3 female"
    )
    assert "1 f" in await shown(story, code="M3")
    assert "stock " not in await shown(story, code="M2")
    assert "2 out of P2" in story.refused("P2 died 4 female") or "but it holds" in story.refused(
        "P2 died 4 female"
    )


async def test_all_of_them_moved_keep_their_sexes(story: Story) -> None:
    tell(story, PAIRS)
    story.type("P2 moved 5 adults to M2")
    text = await shown(story, code="M2")
    assert "3 f, 2 m" in text


async def test_the_balance_of_the_brood_stays_right(story: Story) -> None:
    tell(story, PAIRS)
    story.type(
        "P2 moved 2 adults to M2 not known", "M2 released 1 male at moor", "P2 died 1 not known"
    )
    async with story.screens((110, 60)) as screen:
        await screen.press("z")
        screen.highlight("code WIL-27-02/A")
        await screen.pilot.pause()
        await screen.press("enter")
        text = screen.text
    assert "1 released" in text
    assert "1 died" in text
    assert "not told" not in text
