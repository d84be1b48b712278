"""Small untruths of the screens: each page says what holds here and now."""

from __future__ import annotations

from rounds.screens.rowlist import RowList
from tests.stories.telling import Story, tell

MOTH = "L2 2 females Agriopis aurantiaria on oak"


async def test_help_on_an_empty_bench_shows_its_own_keys(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("question_mark")
        assert "Add the first container" in screen.text
        assert "List a bench that already runs" in screen.text
        for words in ("all drank", "eggs found", "who laid on what", "map of the shelves"):
            assert words not in screen.text, words


async def test_adults_that_take_no_food_are_said_so_at_the_first_question(story: Story) -> None:
    story.at("2027-11-20 07:10").type(MOTH)
    story.at("2027-11-20 18:10")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("drink", "L2")
        assert "adults of this species take no food" in screen.words
        before = len(story.on_disk())
        await screen.press("e")
        assert "No adult of Agriopis aurantiaria takes any food? Sure?" in screen.words
        assert len(story.on_disk()) == before
        await screen.press("1")
        assert "drink" not in screen.checks
    assert (
        story.on_disk()[-1] | {"name": "Agriopis aurantiaria", "no_adult_food": True}
        == story.on_disk()[-1]
    )
    assert "drink" not in story.due("L2")


async def test_it_is_not_offered_once_any_drank(story: Story) -> None:
    story.at("2027-11-20 07:10").type(MOTH, "L2 drank")
    story.at("2027-11-20 18:10")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("drink", "L2")
        assert "take no food" not in screen.words


async def test_supplies_claim_no_round_that_nobody_began(story: Story) -> None:
    story.at("2027-05-26 07:10").type("L2 2 females Boloria dia on violet")
    async with story.screens() as screen:
        await screen.press("k")
        assert "that is on" not in screen.text
        assert "for this round, 07:00" in screen.text


async def test_broods_and_their_pane_name_the_same_limit(story: Story) -> None:
    story.at("2027-05-26 07:10")
    tell(
        story,
        """
    brood DIA-27/A taxon='Boloria dia'
    P2 set up emergence
    P2 stocked 1 female adult DIA-27/A
    P2 stocked 1 male adult DIA-27/A
    pairing planned DIA-27/A DIA-27/A
    """,
    )
    async with story.screens(size=(120, 40)) as screen:
        await screen.press("z")
        assert "TOO CLOSE by the default limit" in screen.text
        assert "your limit" not in screen.text


async def test_a_town_that_is_no_zone_is_refused_until_one_types(story: Story) -> None:
    story.at("2027-05-26 07:10")
    async with story.screens() as screen:
        await screen.press("a")
        await screen.pilot.press(*"Home")
        await screen.press("enter")
        assert "the city it is named after" in screen.words
        await screen.pilot.press(*"Whitby")
        await screen.press("enter")
        assert "no time zone is called Whitby" in screen.text
        await screen.press("L")
        assert "no time zone is called" not in screen.text


def test_a_reason_may_stand_at_its_sign(story: Story) -> None:
    story.at("2027-05-26 07:10").type("L2 2 females Boloria dia on violet")
    story.at("2027-05-26 18:10")
    printed = story.plain(["-no light", "q"])
    assert not any("-no" in line and "not" in line.casefold() for line in printed), printed
    assert any(line.get("why") == "no light" for line in story.on_disk())


async def test_right_on_a_shelf_shows_its_moat(story: Story) -> None:
    story.at("2027-05-26 07:10")
    tell(
        story,
        """
    shelf set up sill barrier=moat
    L2 set up laying on sill
    L2 2 females Boloria dia on violet
    sill moat dry
    """,
    )
    async with story.screens() as screen:
        rows = screen.app.screen.query_one(RowList)
        await screen.press("left")
        shelf = next((row.key for row in rows.rows if "sill" in row.key or "shelf" in row.key), "")
        assert shelf, [row.key for row in rows.rows]
        assert rows.highlight(shelf)
        await screen.pilot.pause()
        assert "shelf sill   moat" not in screen.text
        await screen.press("right")
        assert "shelf sill   moat 0 mm, dry" in screen.text
        assert "Right" not in screen.text.splitlines()[-1]
