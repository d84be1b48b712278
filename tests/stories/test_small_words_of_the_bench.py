"""Small words of the bench and of the map, each of which a stranger asked about."""

from __future__ import annotations

import re

from rounds.shell.round import PlainRound
from rounds.views.block_letters import half_letters
from rounds.views.help_page import help_lines
from tests.stories.telling import Story, tell, tell_demo


async def test_eggs_of_which_some_hatched_are_hatching(story: Story) -> None:
    lines = ("E7 set up eggs", "E7 60 eggs Boloria dia", "E7 looked darkening")
    story.at("2027-05-17 18:00").type(*lines)
    async with story.at("2027-05-18 07:00").screens((120, 40)) as screen:
        assert "dark 13 h, no leaf" in screen.words
        assert "eggs are dark, no leaf is in, since Mon 18:00" in screen.card, screen.text
    story.type("E7 hatched 30")
    async with story.screens((120, 40)) as screen:
        assert "dark 13 h" not in screen.words, screen.text
        assert "hatching, no leaf" in screen.words


async def test_the_time_on_the_right_says_since_when_there_is_danger(story: Story) -> None:
    lines = ("E7 set up eggs", "E7 60 eggs Boloria dia", "E7 looked darkening")
    story.at("2027-05-17 18:00").type(*lines)
    async with story.at("2027-05-19 07:00").screens((120, 40)) as screen:
        row = next(row for row in screen.text.splitlines() if " in danger  E7 " in row)
        assert "eggs are dark, no leaf is in" in row
        assert row.rstrip().endswith("danger since 00:00"), screen.text


async def test_one_word_for_larvae_that_are_not_seen(story: Story) -> None:
    tell(story.at("2027-05-17 18:00"), "R2 set up rearing\nR2 9 L5 Boloria dia\nR2 missing 1")
    async with story.screens() as screen:
        assert "1 not seen" in screen.words
        await screen.press("m")
        assert "1 not seen" in screen.words, screen.text
        assert "1 missing" not in screen.words


async def test_the_colours_of_what_is_coming_are_explained(story: Story) -> None:
    story.at("2027-05-17 18:00").type("E7 set up eggs", "E7 60 eggs Boloria dia")
    async with story.screens() as screen:
        await screen.press("full_stop")
        assert "within 14 h" in screen.words, screen.text


async def test_of_many_stages_the_rest_is_called_more(story: Story) -> None:
    story.at("2027-05-17 18:00").type("R2 set up rearing", "R2 20 L2 Boloria dia")
    story.type("R2 moulted 17 L3", "R2 moulted 13 L4", "R2 moulted 9 L5")
    async with story.screens((60, 24)) as screen:
        assert "9 L5 + 11 more" in screen.words, screen.text


async def test_the_amount_of_a_supply_stands_out_from_its_sum(story: Story) -> None:
    lines = ("K2 set up laying", "K2 2f Boloria dia", "K2 host in viola")
    story.at("2027-05-17 18:00").type(*lines)
    async with story.screens() as screen:
        await screen.press("k")
        strips = screen.app.screen._compositor.render_strips()
        told = [one for strip in strips for one in strip if one.text.strip()]
        amount = next((one for one in told if "5 ml sugar solution" in one.text), None)
        assert amount is not None, screen.text
        behind = told[told.index(amount) + 1]
        assert amount.style is not None
        assert behind.style is not None
        assert amount.style.bold, screen.text
        assert not behind.style.bold


async def test_the_usual_answer_is_large_too(story: Story) -> None:
    """'yes, food' is longer than a row of large letters: its first word is drawn, all of it above."""
    lines = ("R2 set up rearing", "R2 9 L5 Boloria dia", "R2 host in viola", "room air 21C")
    story.at("2027-05-17 18:00").type(*lines)
    async with story.at("2027-05-18 18:00").screens() as screen:
        await screen.press("r", "tab")
        await screen.walk_to("look", "R2")
        rows = screen.text.splitlines()
        at = next(
            place
            for place, row in enumerate(rows)
            if row.startswith("Space") or row.strip().startswith("Space")
        )
        assert "█" in rows[at + 1] + rows[at + 2], screen.text


async def test_two_answers_are_large_in_the_size_that_fits_both(story: Story) -> None:
    """'low as before' has no room in the largest letters: 'topped up' below it is no larger."""
    tell_demo(story.at("2027-05-17 18:00"))
    async with story.screens((64, 24)) as screen:
        await screen.press("r", *"22/26", "enter")
        for _ in range(20):
            if "low as before" in screen.words:
                break
            await screen.press("right")
        assert "Space or k low as before" in screen.words, screen.text
        assert "p topped up" in screen.words, screen.text
        await screen.press("tab")
        rows = [row.strip() for row in screen.text.splitlines()]
        usual = rows.index("Space or k")
        width = screen.app.size.width
        assert rows[usual + 1] == half_letters("low as before", width)[0].strip(), screen.text
        assert half_letters("p: topped up", width)[0].strip() in rows[usual + 3 :], screen.text


async def test_the_search_shows_the_plant_that_was_searched_for(story: Story) -> None:
    tell_demo(story.at("2027-05-17 18:00"))
    async with story.screens() as screen:
        await screen.press("comma", *"stro")
        cups = [row for row in screen.text.splitlines() if "container " in row]
        assert len(cups) > 5
        assert all("strobilanthes" in row for row in cups), screen.text


async def test_the_bench_in_danger_shows_all_its_columns_and_whole_sentences(story: Story) -> None:
    """The demo a day later, of which nothing was done: the worst hour has the same page."""
    story.at("2027-05-17 18:00")
    tell_demo(story)
    async with story.later(hours=21).screens() as screen:
        assert "in danger" in screen.text
        assert "as it stands" in screen.text, screen.text
        sentences = screen.text.splitlines()[1:4]
        told = [
            re.search(r"# in danger .*?((?:danger )?since) \d\d:\d\d$", row) for row in sentences
        ]
        assert all(told), screen.text
        # The word is said once more in all of them or, where one has no room for it, in none.
        assert len({one[1] for one in told if one}) == 1, screen.text
        # The species gives way to the hour that harm began, the sentence stays whole.
        eggs = [row for row in sentences if " E7 " in row]
        assert len(eggs) == 1, screen.text
        assert "34 eggs: eggs are dark, no leaf is in" in eggs[0], screen.text
        assert [row for row in sentences if "  have " in row or "  has " in row] == [], screen.text


async def test_the_map_says_urgent_and_in_danger_in_words(story: Story) -> None:
    story.at("2027-05-17 18:00")
    tell_demo(story)
    async with story.later(hours=21).screens() as screen:
        await screen.press("m")
        drawn = screen.text.partition("# in danger  = urgent")[0]
        assert "in danger" in drawn.partition("\n")[2]
        assert re.findall(r"(?<![#=])[#=] [a-z]+", drawn.partition("\n")[2]) == [
            "= barrier"  # of the board, which says the state behind it
        ], screen.text
        await screen.press("v")
        assert "\N{HORIZONTAL ELLIPSIS}" not in screen.text, screen.text


async def test_what_comes_soon_is_marked_by_a_sign_as_well(story: Story) -> None:
    story.at("2027-05-17 18:00").type("E7 set up eggs", "E7 60 eggs Boloria dia")
    story.type("E7 looked darkening", "E8 set up eggs", "E8 9 eggs Boloria dia")
    async with story.screens() as screen:
        await screen.press("full_stop")
        assert "! within 14 h" in screen.text
        assert " ! E7 hatch" in screen.text.replace(">", " "), screen.text
        assert " ! E8 hatch" not in screen.text.replace(">", " "), screen.text
        await screen.press("v")
        assert " ! E7" in screen.text.replace(">", " "), screen.text


async def test_time_left_by_another_check_says_by_which(story: Story) -> None:
    """Cleaning has no hour of danger; the larvae there have one, by their food."""
    lines = ("R2 set up rearing", "R2 9 L5 Boloria dia", "R2 host in viola", "R2 cleaned")
    story.at("2027-05-17 18:00").type(*lines)
    for hours in (20, 20, 20, 20):
        story.later(hours=hours).type("R2 host in viola", "R2 looked as usual")
    async with story.later(hours=13).screens((120, 24)) as screen:
        assert "clean urgent . food 23 h" in screen.words, screen.text


async def test_what_cannot_be_taken_over_is_not_offered_as_a_key(story: Story) -> None:
    story.at("2027-05-17 18:00").type("K2 set up laying", "K2 2f Boloria dia")
    async with story.screens() as screen:
        await screen.press("6")
        assert "take over" not in screen.words, screen.text
        assert "bench" in screen.text.splitlines()[-1], screen.text


def test_the_short_mode_says_how_to_answer_a_question_it_asked_before(story: Story) -> None:
    lines = ("K2 set up laying", "K2 1f Boloria dia", "K3 set up laying", "K3 1f Boloria dia")
    story.at("2027-05-17 18:00").type(*lines, "K2 host in viola", "K3 host in viola")
    told: list[str] = []
    PlainRound(story.later(hours=13).desk, iter(["21", *[" "] * 12]), told.append, short=True).go()
    drank = [place for place, words in enumerate(told) if "Did she drink?" in words]
    assert len(drank) > 1, told
    for place in drank:
        assert any(words.startswith("Space") for words in told[place + 1 : place + 4]), told


def test_what_is_late_in_the_room_names_the_room_once(story: Story) -> None:
    story.at("2027-05-17 18:00").type("R2 set up rearing", "R2 9 L5 Boloria dia", "room air 21C")
    printed = story.later(days=3).shell("round", "--plain", typed="").out
    assert "room room" not in printed + story.shell().out


async def test_the_plan_finds_what_the_keeper_changed(story: Story) -> None:
    story.at("2027-05-17 18:00").type("K2 set up laying", "K2 2f Boloria dia")
    async with story.screens() as screen:
        await screen.press("p", "slash", *"changed", "enter")
        assert "1 with 'changed'" in screen.words, screen.text  # the zone that the story gave
    story.type("plan drink every_h=8 why=hot")
    async with story.screens() as screen:
        await screen.press("p", "slash", *"changed", "enter")
        assert "1 with 'changed'" not in screen.words, screen.text
        await screen.press("escape", "slash", *"no eggs? laying", "enter")
        assert "two females make 3 d in a day and a half" in screen.words, screen.text


async def test_the_questions_of_a_first_start_go_on_where_they_were_left(story: Story) -> None:
    story.at("2027-05-17 18:00")
    async with story.screens() as screen:
        await screen.press("a", *"Skerry Bank", "enter")
        assert "2  Where is it on the map?" in screen.text, screen.text
        await screen.press("escape", "a")
        assert "bench: Skerry Bank" in screen.text, screen.text
        assert "2  Where is it on the map?" in screen.text


def test_fields_are_called_by_the_words_of_the_screens(story: Story) -> None:
    lines = ("K2 set up laying", "E2 set up eggs", "K2 2f Boloria dia", "K2 host in viola stems=3")
    story.at("2027-05-17 18:00").type(*lines)
    assert "late 10 h" in story.preview("plan drink every_h=8 late_h=10")
    assert "kept in E2" in story.preview("K2 host out stems=2 kept_in=E2")
    assert "stems" in story.refused("K2 host in oxalis colour=green")
    story.type("plan drink every_h=8 amber_h=10 red_h=12", "K2 host out sprigs=2 held_in=E2")


async def test_the_help_lists_fields_by_those_words(story: Story) -> None:
    story.at("2027-05-17 18:00")
    text = "\n".join(line.text for line in help_lines(["bench"]))
    for name in ("sprigs", "held_in", "amber_h", "red_h", "harm_h"):
        assert name not in text
    assert "late_h" in text


def test_questions_left_on_lines_go_on_where_they_were(story: Story) -> None:
    story.at("2027-05-17 18:00")
    first = story.shell("begin", typed="Skerry Bank\n").out
    assert "What is the bench called?" in first
    again = story.shell("begin", typed="?\n").out
    assert "What is the bench called?" not in again
    assert "Where is it on the map?" in again
    assert "import FILE" in again


async def test_a_few_cups_need_no_map_and_no_search_in_the_line_of_keys(story: Story) -> None:
    story.at("2027-05-17 18:00").type("K1 set up laying", "K1 1f Boloria dia")
    async with story.screens() as screen:
        assert "m map" not in screen.text.splitlines()[-1]
        for code in ("K2", "K3", "K4"):
            await screen.type(f"{code} set up laying")
        await screen.press("escape")
        assert "m map  / find" in screen.text.splitlines()[-1], screen.text
