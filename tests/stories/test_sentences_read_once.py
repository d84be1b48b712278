"""Sentences that a tired reader parses once: one idea each, with a verb, nothing left hanging."""

from __future__ import annotations

import re

from tests.stories.telling import Story, tell, tell_demo

DRY = """
K5 set up laying
K5 founder W5 "Boloria dia" female
K5 host in viola leaf damp paper 2 stems
"""


def old_and_fresh(story: Story) -> Story:
    """A host cut dry the day before yesterday, seen fresh this night."""
    tell(story.at("2027-05-01 11:34"), DRY)
    story.at("2027-05-03 02:03").type("K5 host fresh", "K5 drank")
    return story.at("2027-05-03 11:52")


def test_why_an_old_plant_is_asked_about_is_two_short_sentences(story: Story) -> None:
    row = old_and_fresh(story).due("K5")["host"]
    why = row["arithmetic"]
    assert "see whether it is stiff" in why
    assert "old by the clock" not in why
    instants = re.findall(r"from (\S+(?: \d\d:\d\d)?)", why)
    assert len(instants) == len(set(instants)), why


def test_why_calls_no_plant_fresh_of_which_only_was_said_what_is_left(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    story.at("2027-05-03 02:03").type("K5 food plenty", "K5 drank")
    why = story.at("2027-05-03 11:52").due("K5")["host"]["arithmetic"]
    assert "seen with plenty left 02:03, but cut" in why


def test_a_line_of_danger_has_its_verb(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    shelf = story.at("2027-05-03 12:00").shell("due", "--within", "0h").out
    assert "host" in shelf
    assert ", due since" not in shelf


async def test_no_line_of_danger_says_due_without_is(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    story.at("2027-05-03 12:00").type("K5 drank")
    async with story.screens((120, 40)) as screen:
        assert not re.search(r"\w, due since", screen.words)


async def test_a_plant_that_was_never_there_is_put_in(story: Story) -> None:
    tell(
        story.at("2027-05-01 11:34"),
        "R2 set up rearing\nbrood M/A taxon='Boloria dia'\nR2 stocked 7 L3 M/A\n"
        "R3 set up rearing\nR3 stocked 2 L3 M/A\nR3 host in viola",
    )
    async with story.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        await screen.walk_to("food", "R2")
        assert "a the usual plant" in screen.words
        assert "new added" not in screen.words
        assert "number, then a: that many stems" in screen.words


def test_nobody_set_is_no_dash_and_now_is_no_span_of_nought(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    story.type("K5 drank")
    said = "\n".join(story.plain(["?", *["- m", "?"] * 6, "q"]))
    assert "0 h 00 min ago" not in said
    assert not re.search(r", -[.;]", said)


async def test_the_daybook_tells_a_line_crossed_out_from_the_crossing_out(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    story.type("K5 drank")
    async with story.screens() as screen:
        await screen.press("u", "y")
        words = screen.words
        assert "NO LONGER COUNTS: K5 drank" in words
        assert "crossed out: K5 drank" in words
        assert "CROSSED OUT" not in words


def test_a_cutoff_is_printed_with_the_threshold_it_belongs_to(story: Story) -> None:
    days = ("calc", "degree-days", "--lower", "10", "--min", "8", "--max", "22")
    assert "horizontal" not in story.shell(*days).out
    assert "horizontal" in story.shell(*days, "--upper", "20").out


async def test_a_date_is_never_broken_between_day_and_month(story: Story) -> None:
    tell(story.at("2027-04-20 11:34"), DRY)
    story.at("2027-04-28 12:00")
    for width in range(60, 84, 3):
        async with story.screens((width, 40)) as screen:
            await screen.press("right")
            assert not re.search(r" \d{1,2} *\n +(Apr|May) ", screen.text), width


def test_a_round_after_noon_is_none_of_the_morning(story: Story) -> None:
    tell(story.at("2027-05-01 14:53"), DRY)
    said = story.plain(["q"])
    assert "afternoon round started" in said[0]


async def test_what_stands_behind_a_full_stop_begins_large(story: Story) -> None:
    tell_demo(story)
    async with story.screens((160, 60)) as screen:
        screen.highlight("R2")
        assert re.search(r"\. (It was last|Not) recorded", screen.card), screen.card
        assert not re.search(r"[a-z\d)]\. +(last|not recorded|it was)", screen.card), screen.card


def test_why_a_check_is_due_says_what_is_counted_in_few_words(story: Story) -> None:
    tell_demo(story)
    rows = [
        row
        for checks in (story.due(code) for code in ("K3", "R2", "E5"))
        for row in checks.values()
    ]
    said = " ".join(
        f"{row['last']} {row['arithmetic']} {row['source']} {row['worth']}" for row in rows
    )
    for stumbled in (
        "these hours count",
        ": hours:",
        "about to hatch at stake",
        "were eaten, up to",
    ):
        assert stumbled not in said, said
    assert "it can wait until 4 stems are eaten (8 in dry air), 3 days at most" in said


async def test_the_laying_page_says_none_in_words_and_not_in_noughts(story: Story) -> None:
    tell_demo(story)
    async with story.screens((160, 300)) as screen:
        await screen.press("i")
        for stumbled in (" 0.0 of ", "0 others laid", "though the exact test", "found over it"):
            assert stumbled not in screen.words, stumbled
        assert not re.search(r"\b0\.0 %", screen.words)
        assert not re.search(r"searches find \d+ %(?! of the eggs)", screen.words)


DARK = """
E3 set up eggs
brood W1/A taxon='Boloria dia'
E3 stocked 20 eggs W1/A
room 20
"""


async def test_a_date_that_is_past_should_have_been(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DARK)
    story.at("2027-06-30 08:00").type("room 20")
    async with story.screens((120, 60)) as screen:
        screen.highlight("E3")
        card = " ".join(screen.card.split())
        assert re.search(r"hatch of 20: should have (begun|happened)", card), card
        await screen.press("r")
        await screen.walk_to("look", "E3")
        assert "hatch should have happened by" in screen.words


async def test_what_a_forecast_rests_on_is_told_in_degree_days(story: Story) -> None:
    tell_demo(story)
    async with story.screens((160, 80)) as screen:
        await screen.press("full_stop")
        for _ in range(30):
            assert "C day" not in screen.words, screen.words
            assert "give or take what" not in screen.words
            assert "; 9 in 10 animals" not in screen.words
            await screen.press("down")


async def test_a_line_crossed_out_says_what_then_that_it_is_saved(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    story.type("K5 drank")
    async with story.screens() as screen:
        await screen.press("u")
        assert re.match(r"saved: K5 drank .*crossed out$", screen.message), screen.message
        await screen.press("r", *"20/24", "enter", "minus")
        assert "asleep" not in screen.words or "animals asleep" in screen.words
        await screen.press("escape", "escape", "y")
        assert "the newest" in screen.words or "older ones" not in screen.words


def test_the_round_by_ear_gives_the_usual_answer_by_space_and_enter(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    said = "\n".join(story.plain(["22/26", *["?", "- m"] * 6, "q"]))
    assert "Space, then Enter, gives the usual answer" in said
    assert "Waits, " not in said


async def test_words_that_are_none_of_the_screen(story: Story) -> None:
    tell_demo(story)
    async with story.screens((120, 300)) as screen:
        for page in ("p", "b", "z", "m", "equals_sign"):
            await screen.press(page)
            words = screen.words
            for stumbled in (
                "strike last",
                "how that is reckoned",
                "add as much",
                "no time = full",
                "weightthe",
            ):
                assert stumbled not in words, (page, stumbled)
            await screen.press("escape")


def test_help_says_if_and_keeps_where_for_places(story: Story) -> None:
    pages = [
        story.shell("help", page).out for page in ("book", "import", "round", "record", "json")
    ]
    pages += [
        story.shell(verb, "--help").out for verb in ("due", "import", "temperatures", "export")
    ]
    words = " ".join(" ".join(pages).split())
    assert not re.search(
        r"[Ww]here (another|no|nobody|not|neither|something|letters|they do)\b", words
    )
    assert "if something is late" in words


async def test_the_words_page_names_what_is_typed_by_the_words_of_the_screen(story: Story) -> None:
    tell(story.at("2027-05-01 11:34"), DRY)
    async with story.screens((150, 300)) as screen:
        await screen.press("question_mark", "question_mark")
        assert "do not disturb" in screen.words
        for stumbled in ("leave be", "is said dead", "where neither is said", "said once"):
            assert stumbled not in screen.words, stumbled


def test_a_check_called_by_a_question_is_read_out_without_a_stop_behind_it(story: Story) -> None:
    tell_demo(story)
    told = story.shell("shelves").out
    assert "?" in told
    assert "?." not in told


async def test_a_larva_that_hangs_up_is_called_so(story: Story) -> None:
    tell_demo(story)
    async with story.screens((120, 60)) as screen:
        await screen.press("b")
        assert not re.search(r"hanging(?! up)", screen.words)


def test_a_chance_is_never_told_as_none(story: Story) -> None:
    none = ("calc", "laying", "--eggs", "0", "--female-days", "30", "--usual-rate", "5")
    assert "none by now is under 0.1 %" in story.shell(*none).out


def test_a_moat_seen_low_twice_is_low_since_the_first_time(story: Story) -> None:
    tell(story.at("2027-05-01 08:00"), "shelf set up sill moat\nK1 set up laying shelf=sill")
    story.at("2027-05-01 12:19").type("sill moat low")
    story.at("2027-05-01 18:24").type("sill moat low")
    rows = story.at("2027-05-01 19:00").shell("due", "--json", "--within", "24h").out
    assert "moat low since 12:19, still so 18:24" in rows


async def test_a_stop_says_days_and_hours_since_it_was_done(story: Story) -> None:
    tell(
        story.at("2027-05-01 08:00"),
        "brood M/A taxon='Boloria dia'\nR2 set up rearing\nR2 stocked 7 L3 M/A\nR2 host in viola\n"
        "R2 cleaned",
    )
    story.at("2027-05-05 07:00")
    async with story.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        assert re.search(r"clean: +last done 3 d 23 h ago", screen.text), screen.text


def test_why_says_how_the_barrier_was_last_seen(story: Story) -> None:
    tell(story.at("2027-05-01 08:00"), "shelf set up sill moat\nK1 set up laying shelf=sill")
    story.at("2027-05-01 12:19").type("sill moat low 2.5 mm")
    rows = story.at("2027-05-01 19:00").shell("due", "--json", "--within", "24h").out
    assert "it was last recorded 12:19: barrier low, 2.5 mm" in rows


def test_a_check_put_off_to_later_today_names_no_day(story: Story) -> None:
    story.at("2027-05-03 07:00").type("K2 set up laying", "K2 2 females Boloria dia on violet")
    (told,) = story.type("K2 drink put off until 18:05, too cold")
    assert "put off until 18:05, too cold" in told
    (told,) = story.type("K2 feeder put off until Wed 18:05, too cold")
    assert "put off until Wed 18:05" in told


def test_the_time_a_moat_is_low_since_is_said_once(story: Story) -> None:
    story.at("2027-05-03 07:00").type("shelf set up sill moat", "K2 set up laying shelf=sill")
    story.type("K2 2 females Boloria dia on violet", "sill moat low")
    why = story.later(hours=5).due("sill")["ants"]["arithmetic"]
    assert why.startswith("moat low, seen 07:00, 5 h 00 min ago, late from 07:00"), why


def test_a_line_begun_with_a_lot_asks_which(story: Story) -> None:
    story.at("2027-05-03 07:00").type("S7 set up holding", "S7 host in violet, 2 stems")
    assert "say which lot" in story.refused("S7 frass trace lot=")
