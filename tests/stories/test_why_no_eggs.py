"""No eggs: the wait goes by warm, fed female-days on a plant since its last egg, and what the evidence favours is usual."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell

HERS = """
room air 24C
K2 set up laying
K2 founder W-7, Boloria selene female wear=worn
K2 light sun
K2 host in 'dog violet' leaf water
K2 drank
"""
OTHERS = """
K6 set up laying
K6 founder W-6, Boloria selene female
K6 host in 'marsh violet' leaf water
"""


def a_day(story: Story, *lines: str) -> None:
    """A morning and an evening: she drinks, it is read; then what else is told."""
    for _ in range(2):
        story.later(hours=12).type("K2 drank", "room air 24C")
    story.type(*lines)


def change_due(story: Story) -> datetime | None:
    listed = story.desk.dues()
    return next((one.due for one in listed if one.check == "change" and one.where == "K2"), None)


def test_renewing_the_plant_does_not_begin_the_wait_anew(story: Story) -> None:
    """A keeper who follows the host rule, and renews each second day, is asked after a warm, fed day on one plant."""
    tell(story, HERS)
    begun = story.clock.now
    for day in range(1, 4):
        a_day(story, "K2 searched 0")
        if day == 2:
            story.type("K2 host out held sure", "K2 host in 'dog violet' leaf water")
    due = change_due(story)
    assert due is not None
    assert abs(due - begun - timedelta(days=1)) < timedelta(hours=1)
    assert "change" in story.due("K2")


def test_an_egg_begins_it_anew(story: Story) -> None:
    tell(story, HERS)
    a_day(story)
    a_day(story, "K2 searched 1 lens")
    due = change_due(story)
    assert due is not None
    assert due - story.clock.now > timedelta(days=2, hours=20)


def test_hungry_and_cool_days_do_not_count(story: Story) -> None:
    tell(story, HERS)
    a_day(story)
    for _ in range(3):
        story.later(days=1).type("room air 14C")  # nor did she drink
    assert change_due(story) is None  # so many hours went by, but only a search brings it
    assert "change" not in story.due("K2")


def test_those_that_were_hungry_for_most_of_it_are_fed_first(story: Story) -> None:
    """Fed for three days of eight, another plant is asked about when they were fed for as long as not."""
    tell(story, HERS)
    for _ in range(2):
        a_day(story)
    story.later(days=2).type("room air 24C", "K2 host changed")
    story.later(days=2).type("room air 24C")
    story.later(days=2).type("room air 24C", "K2 drank", "K2 searched 0")
    assert "change" not in story.due("K2")
    due = change_due(story)
    assert due is not None
    assert due - story.clock.now == timedelta(days=2)
    a_day(story, "K2 searched 0")
    assert "change" not in story.due("K2")
    a_day(story, "K2 searched 0")
    assert "change" in story.due("K2")


def test_where_it_was_too_cool_warmth_is_asked_for_and_no_other_plant(story: Story) -> None:
    tell(story, HERS)
    a_day(story)
    for _ in range(5):
        story.later(days=1).type("room air 14C", "K2 drank")
    story.type("K2 searched 0")
    asked = " ".join(story.plain(["- no time"] * 12))
    _, _, offered = asked.partition(
        "It was too cool to lay for most of it: warmth and light first."
    )
    answers = "Space or key s: into sun. Key 0: nothing yet. Key k: into shade. Saved"
    assert answers in offered, "no other plant"


async def test_the_page_weighs_plant_mating_warmth_sun_and_food(story: Story) -> None:
    tell(story, HERS)
    for _ in range(3):
        a_day(story, "K2 searched 0")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = " ".join(screen.text.split())
    assert "why no eggs? K2, dog violet" in text
    assert "a second plant beside it costs little" in text
    assert "host plant possible dog violet: none found in 3.0 warm, fed female-days" in text
    assert "mating unlikely not seen; she is worn, so probably" in text
    assert "warmth unlikely 18 C or more on all 3.0 female-days" in text
    assert "sun unlikely in the sun" in text
    assert "food unlikely never more than a day without drink" in text
    assert "One change at a time; it is yours to decide." in text


async def test_where_others_lay_on_another_plant_that_plant_is_the_usual_answer(
    story: Story,
) -> None:
    tell(story, HERS)
    tell(story, OTHERS)
    for _ in range(4):
        a_day(story, "K2 searched 0 lens", "K6 searched 9 lens")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("r")
        await screen.walk_to("change", "K2")
        assert "More was laid on marsh violet here: change the host plant." in " ".join(
            screen.text.split()
        )
        await screen.press("space")
        assert "K2 host in 'marsh violet'" in screen.text
    lines = " ".join(story.plain(["-", "m"] * 30))  # and so on lines
    assert "No eggs. More was laid on marsh violet here: change the host plant." in lines
    assert "Space or key p: another plant. Key 0: nothing yet." in lines
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = " ".join(screen.text.split())
    assert "marsh violet:" in text
    assert "host plant likely dog violet: none found" in text
    odds = "If they laid here as others do on marsh violet, the chance of none found in what was"
    assert f"{odds} searched would be" in text


async def test_the_keeper_may_wait_all_the_same(story: Story) -> None:
    tell(story, HERS)
    for _ in range(3):
        a_day(story, "K2 searched 0")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("r")
        await screen.walk_to("change", "K2")
        await screen.press("0")
    assert story.on_disk()[-1]["what"] == "put off"


async def test_what_was_not_read_is_told_as_not_recorded(story: Story) -> None:
    tell(story, HERS.replace("room air 24C\n", "").replace("K2 light sun\n", ""))
    for _ in range(4):
        story.later(hours=12).type("K2 drank")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = " ".join(screen.text.split())
    assert "warmth not known not read" in text
    assert "sun not known not recorded" in text


async def test_where_they_were_hungry_food_comes_first(story: Story) -> None:
    tell(story, HERS)
    for _ in range(4):
        a_day(story, "K2 searched 0")
    for _ in range(18):
        story.later(hours=12).type("room air 24C")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = " ".join(screen.text.split())
    assert "They were hungry for most of it: feed them first." in text, text


async def _page_i(story: Story) -> str:
    async with story.screens(size=(110, 60)) as screen:
        await screen.press("i")
        return " ".join(screen.text.split())


async def test_a_drink_does_not_feed_the_days_before_it(story: Story) -> None:
    """Fed for a day after she came, hungry for five, then one drink: the five stay hungry."""
    tell(story, HERS)
    for _ in range(6):
        story.later(days=1).type("room air 24C")
    before = await _page_i(story)
    assert "likely more than a day without drink on 5.0 of 6.0 female-days" in before
    story.type("K2 drank")
    after = await _page_i(story)
    assert "likely more than a day without drink on 5.0 of 6.0 female-days" in after
    assert "They were hungry for most of it: feed them first." in after
    assert "change" not in story.due("K2")


async def test_a_drink_of_some_does_not_feed_the_days_of_others(story: Story) -> None:
    tell(story, HERS)
    story.type("K2 founder W-8, Boloria selene female wear=worn", "K2 drank")
    for _ in range(4):
        story.later(days=1).type("room air 24C", "W-7 drank")
    page = await _page_i(story)
    assert "possible more than a day without drink on 3.0 of 8.0 female-days" in page


async def test_a_warm_reading_does_not_warm_the_days_before_it(story: Story) -> None:
    """Days at 9 to 13 C, each read, stay cool when 24 C is read at last, whoever looks between."""
    tell(story, HERS.replace("room air 24C", "room 9/13"))
    for day in range(1, 7):
        story.later(days=1).type("K2 drank", "room 18/24" if day == 6 else "room 9/13")
    page = await _page_i(story)
    assert "warmth likely never 18 C on 6.0 of 6.0 female-days" in page
    story.type("K2 searched 0")
    assert "warmth likely never 18 C on 6.0 of 6.0 female-days" in await _page_i(story)


async def test_a_reading_speaks_for_its_own_time_alone(story: Story) -> None:
    """Read at 24 C for two days, then not for four: of the first 36 h of these it is known."""
    tell(story, HERS)
    for day in range(1, 7):
        story.later(days=1).type("K2 drank", *(["room air 24C"] if day < 3 else []))
    page = await _page_i(story)
    assert "warmth not known 18 C or more whenever it was read, not on 2.5 female-days" in page


LISTED = "K7  2 females Leptidea sinapis  vetchling  08:00  window\n"


async def test_eggs_that_they_laid_and_that_hatched_are_not_denied(
    story: Story, tmp_path: Path
) -> None:
    listed = tmp_path / "bench.txt"
    listed.write_text(LISTED)
    story.at("2027-05-01 12:00")
    assert story.shell("begin", "--list", str(listed)).status == 0
    tell(story, "K7 drank\nK7 searched 0 lens\nK7 host fresh\nroom 24/27")
    for day in range(2, 13):
        story.at(f"2027-05-{day:02} 12:00").type("K7 drank", "room 24/27")
        story.type(
            *{
                2: ["K7 searched 14"],
                3: ["K7 searched 12"],
                12: ["K7 searched 0", "K7 13 hatched"],
            }.get(day, [])
        )
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
        assert "No new eggs since 3 May (26 eggs before, on vetchling)" in text, text
        assert (
            "vetchling accepted: 26 eggs. None found in 18.0 warm, fed female-days since" in text
        ), text
        assert "mating unlikely 13 of their eggs have hatched: at least one has mated" in text
        assert "age possible they may have laid all their eggs" in text
        assert "Too early to say" not in text
    lines = " ".join(story.plain(["-", "m"] * 30))
    assert "No eggs." not in lines
    assert "No new eggs since 3 May (26 eggs before, on vetchling)." in lines


async def test_what_is_not_on_record_is_not_called_warm_or_fed(story: Story) -> None:
    tell(story, HERS.replace("room air 24C\n", "").replace("K2 drank\n", ""))
    story.later(hours=20).type("K2 searched 0")
    story.later(hours=20)
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        assert "warm, fed" not in screen.words
        assert "warmth not known not read" in screen.words, screen.words
        assert "food not known no drink on record" in screen.words


async def test_no_drink_on_record_is_not_called_hunger(story: Story) -> None:
    tell(story, HERS.replace("K2 drank\n", ""))
    for _ in range(6):
        story.later(days=1).type("room air 24C")
    page = await _page_i(story)
    assert "No drink is on record for most of it: feed them first." in page
    assert "food not known no drink on record" in page


async def test_warmth_that_was_not_read_on_some_days_is_not_known(story: Story) -> None:
    tell(story, HERS)
    for day in range(8):
        story.later(days=1).type("K2 drank", *(["room air 24C"] if day < 3 else []))
    page = await _page_i(story)
    found = re.search(r"warmth (\w+ ?\w*) 18 C or more whenever it was read, not on ([\d.]+)", page)
    assert found, page
    assert found[1] == "not known"


async def test_a_plant_that_she_has_is_not_favoured_again(story: Story) -> None:
    """Others lay on marsh violet, she does not; dog violet is put beside it: she is not sent back to what she left alone."""
    tell(story, HERS.replace("dog violet", "marsh violet"))
    tell(story, OTHERS)
    for _ in range(4):
        a_day(story, "K2 searched 0 lens", "K6 searched 9 lens")
    story.type("K2 host in 'dog violet' leaf water")
    for _ in range(4):
        a_day(story, "K2 searched 0 lens on 'dog violet'", "K2 searched 0 lens on 'marsh violet'")
    await _favours_nothing_but_to_wait(story)
    story.type("K2 host out held 'marsh violet' sure")
    await _favours_nothing_but_to_wait(story)


async def _favours_nothing_but_to_wait(story: Story) -> None:
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = " ".join(screen.text.split())
    assert "why no eggs? K2, dog violet" in text
    assert "change the host plant" not in text


async def test_what_nobody_has_searched_for_is_not_said_to_be_missing(story: Story) -> None:
    """Eggs were found; for four warm, fed days nobody searched: the search comes first, and no page says none found."""
    tell(story, HERS)
    a_day(story, "K2 searched 6 lens")
    for _ in range(4):
        a_day(story)
    assert "eggs" in story.due("K2")
    assert "change" not in story.due("K2")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        assert "Nobody has searched since the last egg." in screen.words
        assert "accepted: 6 eggs. Not searched in the 4.0 warm, fed female-days since" in (
            screen.words
        )
    story.type("K2 searched 0 lens")
    assert "no new eggs in 4.0 warm, fed female-days" in story.due("K2")["change"]["arithmetic"]
    a_day(story)
    assert "no new eggs in 4.0 warm" in story.due("K2")["change"]["arithmetic"], (
        "as far as searched"
    )


def test_nor_before_the_first_search_of_all(story: Story) -> None:
    tell(story, HERS)
    for _ in range(4):
        a_day(story)
    assert "change" not in story.due("K2")
    story.type("K2 searched 0")
    assert "change" in story.due("K2")


def test_stems_that_were_kept_and_searched_tell_of_the_cup_they_came_from(story: Story) -> None:
    tell(story, HERS)
    for _ in range(4):
        a_day(story, "K2 host out held sure", "K2 host in 'dog violet' leaf water")
    story.type("K2 searched 0 lot=all")
    assert "change" in story.due("K2")


async def test_days_that_nobody_searched_tell_nothing(story: Story) -> None:
    """None was looked for: no share that searches find, no chance, no plant that is favoured."""
    tell(story, HERS)
    tell(story, OTHERS)
    for _ in range(4):
        a_day(story, "K6 searched 9 lens")
    assert "change" not in story.due("K2")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
    assert "Nobody has searched yet." in text, text
    assert "host plant possible dog violet: not searched in the 4.0 warm, fed female-days" in text
    assert "searches find 100 %" not in text
    assert "If they laid here as others do" not in text
    assert "change the host plant" not in text


async def test_only_days_before_the_last_search_count(story: Story) -> None:
    """Four days, one search by eye after the first: one day is searched, and four eggs in ten of it are found."""
    tell(story, HERS)
    tell(story, OTHERS)
    for day in range(4):
        a_day(story, "K6 searched 9 lens", *(["K2 searched 0 naked eye"] if not day else []))
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
    told = (
        "dog violet: none found in 1.0 of 4.0 warm, fed female-days. The rest was not searched;"
        " searches find 40 %"
    )
    assert told in text, text


async def test_stems_that_went_unsearched_stay_so(story: Story) -> None:
    """The first stems were discarded unseen: a search of the next ones looked at two days of four."""
    tell(story, HERS)
    for day in range(4):
        a_day(story)
        if day == 1:
            story.type("K2 host out discarded sure", "K2 host in 'dog violet' leaf water")
    story.type("K2 searched 0 lens")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
    assert "none found in 2.0 of 4.0 warm, fed female-days" in text, text


async def test_stems_searched_after_they_came_out_count(story: Story) -> None:
    tell(story, HERS + "\nH1 set up holding\n")
    for _ in range(3):
        a_day(story)
    story.type("K2 host out held sure", "K2 host in 'dog violet' leaf water")
    story.later(hours=2).type("K2 searched 0 lens lots=1")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
    assert "none found in 3.0 of 3.1 warm, fed female-days" in text, text


@pytest.mark.parametrize("cuttings", [1, 3])
async def test_a_rate_is_of_females_however_many_cuttings_stand(
    story: Story, cuttings: int
) -> None:
    """Nine eggs found a day with a lens, which finds 60 %: 15 laid a day."""
    tell(story, HERS)
    tell(story, OTHERS)
    story.type(*["K6 host in 'marsh violet' leaf water"] * (cuttings - 1))
    for _ in range(4):
        a_day(story, "K2 searched 0 lens", "K6 host out held sure", "K6 searched 9 lens")
        story.type(*["K6 host in 'marsh violet' leaf water"] * cuttings)
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
    assert "marsh violet: 15.0 laid a day" in text, text


async def test_a_plant_on_which_they_laid_has_one_verdict(story: Story) -> None:
    """Accepted is not refused: no odds against the plant beside the words that it was accepted."""
    tell(story, HERS)
    tell(story, OTHERS)
    a_day(story, "K2 searched 5 lens", "K6 searched 9 lens")
    for _ in range(4):
        a_day(story, "K2 searched 0 lens", "K6 searched 9 lens")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
    assert "Dog violet was accepted: she may have laid all her eggs, or pause." in text, text
    assert "change the host plant" not in text
    assert "If they laid here" not in text
    assert "accepted: 5 eggs. None found in 4.0 warm, fed female-days since" in text, text


async def test_the_page_gives_one_verdict_on_the_plants(story: Story) -> None:
    """What the records of all females say of two plants, and what is favoured in a cup, is one thing."""
    tell(story, HERS)
    tell(story, OTHERS)
    for _ in range(6):
        a_day(story, "K2 searched 0", "K6 searched 2 lens")
    async with story.screens(size=(110, 60)) as screen:
        await screen.press("i")
        text = screen.words
    assert "marsh violet against dog violet: p = 0.00" in text, text
    assert (
        "these females laid more on marsh violet; of so few (1 female and 1) that says little"
        in text
    )
    assert "More was laid on marsh violet here: change the host plant." in text
    assert "Nothing speaks against dog violet" not in text
    assert "is reasonable" not in text


def test_with_a_second_plant_beside_the_next_change_waits_three_days(story: Story) -> None:
    tell(story, HERS)
    story.type("K2 searched 0")
    a_day(story, "K2 searched 0")
    assert "change" in story.due("K2")
    story.type("K2 host in 'marsh violet' leaf water")
    begun = story.clock.now
    for _ in range(2):
        a_day(story, *(f"K2 searched 0 lens on '{plant} violet'" for plant in ("dog", "marsh")))
    assert "change" not in story.due("K2")
    due = change_due(story)
    assert due is not None
    assert abs(due - begun - timedelta(days=3)) < timedelta(hours=1)
