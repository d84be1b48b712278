"""Lines in another order or in everyday words, answers that cannot be, and what the screens say of them."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BASE = """
taxon 'Saturnia montis' short=montis instars=5
shelf set up sill
K4 set up laying
K5 set up laying
K4 founder W6 'Saturnia montis' sex=female
K5 founder W7 'Saturnia montis' sex=female
brood A-3 mothers=W6
R2 set up rearing
R3 set up rearing
R4 set up rearing
E2 set up eggs
R2 stocked A-3 10 larvae L1
R4 stocked A-3 3 larvae L1
E2 stocked A-3 30 eggs
"""


@pytest.fixture
def bench(story: Story) -> Story:
    story.at("2027-05-01 07:00")
    tell(story, BASE)
    return story.later(hours=1)


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("R2 moved to R3 5 arrived 4", "to R3, number 5, arrived 4, stage larva"),
        ("R3 merged R4", "merged: sources R4"),
        ("R3 merged R4 R2", "merged: sources R4 R2"),
        ("R8 set up laying sill", "purpose laying, shelf sill"),
        (
            "R2 host in Frangula alnus batch A 6 stems",
            "plant Frangula alnus NEW, batch A, stems 6",
        ),
        ("R2-R6 misted", "R2 R3 R4 misted (no R5, R6 stands there: left out)"),
    ],
)
def test_another_order_and_short_ways_are_understood(bench: Story, line: str, shown: str) -> None:
    assert shown in bench.preview(line)
    bench.type(line)


def test_a_range_of_which_one_is_there_or_a_code_named_itself_is_refused(bench: Story) -> None:
    assert "no container is called R5" in bench.refused("R4-R6 misted")
    assert "no container is called R6" in bench.refused("R2,R3,R6 misted")
    assert "left out" in bench.type("R2-R6 misted")[0]


@pytest.mark.parametrize(
    "line", ["R4 settled died 1", "R4 settled fate=died number=1", "R4 settled found dead 1"]
)
def test_missing_ones_that_died_are_settled(bench: Story, line: str) -> None:
    bench.type("R4 missing 2")
    assert "dead" in bench.type(line)[0]


def test_food_is_not_offered_to_eggs_and_larvae(bench: Story) -> None:
    assert "R4 holds no adults to feed; it holds 3 larvae L1 of A-3" in bench.refused("R4 offered")
    assert "E2 holds no adults to feed" in bench.refused("E2 offered")
    bench.type("K4 offered")


async def test_the_key_of_offered_is_refused_there_as_that_of_drank_is(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("R4")
        await screen.press("o")
        assert "holds no adults" in screen.message


async def test_more_dead_than_there_are_is_refused_before_it_is_asked_which(bench: Story) -> None:
    bench.type("R4 stocked A-3 2 larvae L2")
    bench.at("2027-05-01 18:30")
    async with bench.screens((100, 30)) as screen:
        await screen.press("r")
        await screen.walk_to("look", "R4")
        await screen.press("1", "7", "f")
        assert "17 out of R4" in screen.text
        assert "which?" not in screen.text


async def test_seen_fresh_a_minute_ago_is_not_late_by_the_clock(bench: Story) -> None:
    bench.type("K5 host in 'Frangula alnus' sprigs=3")
    bench.at("2027-05-03 18:10")
    assert bench.due("K5")["host"]["standing"] == "late"
    bench.type("K5 host seen fresh")
    bench.later(minutes=1)
    assert "host" not in bench.due("K5")
    bench.at("2027-05-04 08:10")
    assert bench.due("K5")["host"]["standing"] == "red", "three days after it was cut"
    bench.type("K5 host seen fresh")
    bench.later(minutes=1)
    assert "host" not in bench.due("K5")
    bench.type("K5 host seen limp")
    assert bench.due("K5")["host"]["standing"] == "red"


async def test_why_a_line_was_brought_back_is_shown(bench: Story) -> None:
    bench.type("K5 misted")
    async with bench.screens((110, 40)) as screen:
        await screen.press("y", "x", *"twice", "enter")
        screen.highlight(
            next(str(line["id"]) for line in bench.on_disk() if line["what"] == "misted")
        )
        await screen.press("x", *"needed", "enter")
        assert "brought back: K5 misted (needed)" in screen.text


async def test_a_brood_says_that_some_came_by_a_count_above_the_record(bench: Story) -> None:
    bench.type("R2 counted 14")
    async with bench.screens((120, 40)) as screen:
        await screen.press("z")
        screen.highlight("code A-3")
        await screen.press("enter")
        assert "4 of them by counts above the record" in screen.text


async def test_a_small_terminal_shows_lines_of_every_list(bench: Story) -> None:
    bench.type("K5 host in 'Frangula alnus' sprigs=3")
    bench.at("2027-05-03 18:10")
    for keys, wanted in (
        ((), "R2"),
        (("v",), "R2"),
        (("y",), "K5 hos"),
        (("z",), "W6"),
        (("8",), "Fra"),
        (("p",), "drink"),
    ):
        async with bench.screens((40, 10)) as screen:
            await screen.press(*keys)
            rows = screen.text.splitlines()
            rules = [
                place
                for place, row in enumerate(rows)
                if place > 0 and set(rows[place - 1].strip()) == {"▁"}
            ]
            heading = (
                rules[0]
                if rules
                else next(place for place, row in enumerate(rows) if "container" in row)
            )
            assert any(wanted in row for row in rows[heading + 1 : heading + 3]), screen.text


async def test_the_help_lists_the_answer_keys_of_every_question_and_where_lines_are_found(
    bench: Story,
) -> None:
    async with bench.screens((120, 400)) as screen:
        await screen.press("question_mark", "question_mark")
        text = screen.text
    assert "changed, old kept" in text
    assert "keys in lists" not in text
    assert "keys on the bench and in the daybook" in text


def test_a_clock_that_was_ahead_is_said_so(bench: Story) -> None:
    bench.type("R2 host in 'Frangula alnus' sprigs=3")
    bench.at("2027-05-01 06:11")
    assert "-1 h" not in bench.shell("due", "--json", "--within", "90h").out


async def test_an_intruder_is_recorded_as_such_and_both_words_are_read(bench: Story) -> None:
    assert "intruder" in bench.type("R4 looked intruder")[0]
    bench.type("R4 looked stranger")


async def test_hours_of_many_days_are_said_in_days(bench: Story) -> None:
    tell(bench, "P1 set up overwintering\nP1 stocked A-3 4 pupae")
    async with bench.screens((120, 40)) as screen:
        screen.highlight("P1")
        await screen.pilot.pause()
        assert "384 h" not in screen.text
        await screen.press("question_mark", "question_mark")
        assert "384 h" not in screen.text
