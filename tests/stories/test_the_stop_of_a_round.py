"""The stop of a round: what is known above a rule that stays in its row, the question below it as the one strong thing."""

from __future__ import annotations

import pytest

from rounds.shell.round import PlainRound
from tests.stories.telling import Screen, Story, tell, tell_demo

BENCH = """
shelf set up sill
K3 set up laying shelf=sill place=3
K3 founder ASH-27-03, Leptidea sinapis female
K3 founder ASH-27-04, Leptidea sinapis female
K3 host in vetchling leaf water 3 sprigs
K2 set up laying shelf=sill place=2
K2 founder ASH-27-02, Leptidea sinapis female
K2 host in vetchling leaf water 3 sprigs
E2 set up eggs shelf=sill place=1
brood ASH-27-01/A taxon='Leptidea sinapis' laid_from=-20d laid_to=-20d
R4 set up rearing shelf=sill place=4
R4 host in vetchling leaf water 3 sprigs
R4 stocked 6 L3 ASH-27-01/A
room air 20C
"""
RULE = 14  # of 24 rows


@pytest.fixture
def bench(story: Story) -> Story:
    """Females that did not drink when food was offered twice, two lots of kept stems, larvae in moult; it got warm."""
    story.at("2027-05-24 08:00")
    tell(story, BENCH)
    for at, said in (
        (
            "2027-05-25 07:10",
            "K3 drank\nK2 drank\nK2 searched 3\nK2 host out held in E2\nK2 host in vetchling leaf water 2 sprigs",
        ),
        (
            "2027-05-26 10:04",
            "K3 drank when helped\nK2 drank\nK2 searched 0\nK2 host out held in E2",
        ),
        (
            "2027-05-26 19:10",
            "K3 offered\nK2 drank\nK2 host in vetchling leaf water 2 sprigs\nE2 frass none\nR4 looked\nR4 host seen plenty",
        ),
        (
            "2027-05-27 07:30",
            "K3 offered\nK3 looked\nK3 host seen fresh\nK2 drank\nR4 looked still 4\nE2 looked",
        ),
    ):
        story.at(at)
        tell(story, f"round started morning\n{said}\nround finished")
    story.at("2027-05-27 19:04")
    tell(story, "room air 28.2C")
    return story


async def at(screen: Screen, code: str) -> list[str]:
    """Begin the round and look at the stop of a container; its rows."""
    await screen.press("r")
    for _ in range(12):
        rows = screen.text.splitlines()
        if any(row.startswith(f" {code} ") for row in rows[:4]):
            return rows
        await screen.press("right")
    raise AssertionError(screen.text)


async def test_a_stop_with_danger_is_seen_at_once(bench: Story) -> None:
    async with bench.screens() as screen:
        rows = await at(screen, "K3")
        assert rows[0].startswith(" evening round   stop ")
        assert "checks, about " in rows[0]
        assert set(rows[RULE - 1]) == {"▔"}, "the rule stands in row 14"
        assert rows[RULE].startswith("   Did they drink?"), "and the question below it"
        above = "\n".join(rows[: RULE - 1])
        assert "K3   2 females Leptidea sinapis   ASH-27-03 and ASH-27-04" in above
        assert rows[1].endswith("sill, place 3"), rows[1]
        assert "# in danger   drink:   last 33 h ago, hand-fed; in danger since 17:04" in above
        assert "changed   the room rose to 28.2 C since Mon 08:00" in above
        before = next(place for place, row in enumerate(rows) if row.startswith("   before"))
        assert rows[before].split() == [
            "before",
            "07:30",
            "offered;",
            "as",
            "usual;",
            "fresh",
            "KM",
        ]
        assert rows[before + 1].split() == ["Wed", "19:10", "offered", "KM"]


async def test_after_food_that_was_not_drunk_feeding_by_hand_is_the_first_answer(
    bench: Story,
) -> None:
    async with bench.screens() as screen:
        rows = await at(screen, "K3")
        answers = [row for row in rows[RULE:] if row.startswith("   h  ")]
        assert answers == ["   h  hand-fed                           d  drank"]
        assert "Space" not in "\n".join(rows[RULE:])
        await screen.press("escape")
        bench.type("K3 drank")
        rows = await at(screen, "K2")
        assert "Space or d  drank" in "\n".join(rows[RULE:]) or screen.check != "drink"


async def test_what_comes_next_is_the_first_answer_and_keeps_its_letter_under_one_hand(
    story: Story,
) -> None:
    story.at("2027-05-24 08:00")
    tell(
        story,
        "brood A1 taxon='Leptidea sinapis'\nE4 set up eggs\nE4 stocked A1 egg 28\nsetting hand left",
    )
    letters = []
    for said in ("E4 looked", "E4 looked darkening"):
        story.at("2027-05-24 08:00") if said == "E4 looked" else story.at("2027-05-25 08:00")
        tell(story, said)
        story.later(hours=37 if said == "E4 looked" else 25)
        printed = story.plain(["20/22", "q"])
        asked = next(line for line in printed if ": hatched." in line)
        letters.append(asked.split(": hatched.")[0][-1])
        first = asked.split(". ")[1]
        assert first.endswith(": darkening" if said == "E4 looked" else ": hatched"), asked
    assert letters[0] == letters[1], "the same letter, wherever it stands"


async def test_a_stop_that_is_not_to_be_disturbed_says_so_first(bench: Story) -> None:
    async with bench.screens() as screen:
        rows = await at(screen, "R4")
        above = "\n".join(rows[: RULE - 1])
        assert "~ do not disturb   until Fri 07:30, since 07:30: not moving (moult?)" in above
        assert "Leave the lid on. Do not move, clean, count or mist. Look from outside." in above
        assert "count, weigh: not asked before Fri 07:30" in above
        assert rows[RULE].startswith("   How much food is left, seen through the lid?")
        assert "Space  plenty" in screen.text
        before = len(bench.on_disk())
        await screen.press("space")
        assert {line["what"] for line in bench.on_disk()[before:]} <= {"looked", "host seen"}


async def test_kept_stems_are_shown_and_asked_lot_by_lot(bench: Story) -> None:
    async with bench.screens() as screen:
        rows = await at(screen, "E2")
        heading = next(row for row in rows if "eggs left?" in row)
        assert heading.split() == [
            "lot",
            "from",
            "stems",
            "kept",
            "since",
            "searched",
            "looks",
            "eggs",
            "left?",
            "keep",
            "until",
        ]
        assert rows[RULE].startswith("   Is there frass (droppings) on the paper?")
        assert "1  under lot 1" in screen.text
        assert "2  under lot 2" in screen.text
        await screen.press("4")
        assert screen.message == "there is no 4 here; there is 1 to 2"
        await screen.press("2")
        assert bench.on_disk()[-1]["what"] == "frass"
        assert len(bench.on_disk()[-1]["lots"]) == 1


async def test_down_shows_what_had_no_room_and_nothing_is_cut(bench: Story) -> None:
    async with bench.screens() as screen:
        await at(screen, "R4")
        await screen.press("c")
        seen = screen.text
        assert "more" in seen.splitlines()[-1]
        for _ in range(5):
            await screen.press("down")
            assert screen.text.splitlines()[RULE - 1][0] == "▔", "the rule stays where it is"
            seen += screen.text
        for label in (
            "k  low",
            "l  limp",
            "e  bare",
            "a  fresh set beside them",
            "why",
            "set up for",
        ):
            assert label in seen


@pytest.mark.parametrize("size", [(40, 10), (60, 20), (80, 24), (120, 40)])
async def test_the_question_and_an_answer_are_there_at_any_size(
    bench: Story, size: tuple[int, int]
) -> None:
    async with bench.screens(size) as screen:
        await screen.press("r")
        for _ in range(4):
            assert "?" in screen.text
            first = screen.app.screen.bar.question.answers[0]  # type: ignore[attr-defined]
            assert f" {first.label}" in screen.words or "number, Enter" in screen.text
            await screen.press("right")


async def test_large_letters_show_the_question_and_two_answers_large(bench: Story) -> None:
    async with bench.screens() as screen:
        await at(screen, "K3")
        await screen.press("tab")
        rows = screen.text.splitlines()
        assert "K3, shelf sill, place 3   # in danger since" in rows[0]
        assert sum("█" in row for row in rows) >= 15, "the question and two answers, five rows each"
        assert "o  ONLY OFFERED" in screen.text
        await screen.press("down")
        assert "h  HAND-FED" in screen.text, "the next two are large, these small"
        await screen.press("h")
        assert bench.on_disk()[-1]["how"] == "when helped"


async def test_what_is_done_is_named_in_one_row_and_asked_no_more(bench: Story) -> None:
    async with bench.screens() as screen:
        await at(screen, "K3")
        await screen.press("h")
        rows = screen.text.splitlines()
        assert any(row.split() == ["done", "drink"] for row in rows), screen.text
        assert "saved K3 drank, hand-fed 19:04, u undo" in screen.text.splitlines()[-1]


async def test_the_end_says_when_to_be_back_what_is_open_and_what_to_cut(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("r")
        for _ in range(60):
            if not screen.check and "Enter ends the round" in screen.text:
                break
            if not screen.check:
                await screen.press("enter")
                continue
            await screen.press("minus", "m")
        rows = screen.text.splitlines()
        assert rows[0].startswith(" evening round   19:04, 0 min   ")
        assert "0 of " in rows[0]
        assert "skipped" in rows[0]
        assert "Be back on Fri 28 May 07:00." in screen.text
        assert "still open" in screen.text
        assert "# K3     drink in danger" in screen.text
        words = screen.text
        for _ in range(3):
            await screen.press("down")
            words += screen.text
        assert "vetchling" in words
        assert "needed" in words


def test_the_round_on_lines_names_keys_and_reads_no_signs(bench: Story) -> None:
    told = bench.plain(["q"])
    printed = "\n".join(told)
    assert (
        "K3, 2 females Leptidea sinapis, ASH-27-03 and ASH-27-04, sill, place 3." in printed
        or "stop 1 of" in printed
    )
    assert any(line.startswith("Key minus and a reason") for line in bench.plain(["?", "q"]))
    assert not any(sign in line for line in told for sign in ("[", "#", "▔"))


def test_the_short_mode_says_only_what_is_not_as_usual(bench: Story) -> None:
    long = bench.shell("round", "--plain", typed="\n".join(["- no time"] * 9)).out.splitlines()
    bench.later(hours=24)
    short = bench.shell("round", "--short", typed="\n".join(["- no time"] * 9)).out.splitlines()
    assert len(short) < len(long)
    assert not any(
        line.startswith(("Due, ", "Due: ", "Waits: ", "Before: ", "Expected: ")) for line in short
    )
    assert any(line.startswith("In danger, ") for line in short)
    assert any("; plan, " in line for line in long if line.startswith("Why: "))
    assert not any("plan, " in line for line in short if line.startswith("Why: "))
    kept = [line for line in long if line.startswith("Lot 1, ")]
    assert kept == [] or kept[0].endswith(".")


def test_the_short_mode_reads_no_whole_reason_and_lots_only_where_they_are_asked_about(
    story: Story,
) -> None:
    tell_demo(story.at("2026-11-28 12:05"))

    def said(short: bool) -> list[str]:
        told: list[str] = []
        PlainRound(story.desk, iter(["- no time"] * 40), told.append, short=short).go()
        story.later(days=1)
        return told

    long, short = said(False), said(True)
    assert max(len(one.split()) for one in long if one.startswith("Why: ")) > 40
    reasons = [one for one in short if one.startswith("Why: ")]
    assert reasons
    assert max(len(one.split()) for one in reasons) <= 20, reasons
    assert not any(one.endswith(" warm.") for one in reasons), "a sentence is read to its end"
