"""One key has one meaning at one time: while a question is asked its answers and the footer's keys alone are alive."""

from __future__ import annotations

import re

import pytest

from rounds.checks.look import LOOKS
from rounds.checks.questions import QUESTIONS, SKIP_QUESTION, question_for
from rounds.views.actions import actions_of
from tests.stories.telling import Screen, Story, tell

BENCH = """
    shelf set up sill barrier=moat
    K2 set up laying shelf=sill place=1
    K2 founder MOR-27-01, Melitaea cinxia female
    K2 host in plantain leaf water
    K3 set up laying shelf=sill place=2
    K3 founder MOR-27-03, Melitaea cinxia female
"""
WORDS_AND_KEYS = {
    "drank": "d", "hand-fed": "h", "only offered": "o", "refused": "r", "limp": "l", "none": "0", "another plant": "p",
    "moulted": "m", "not moving": "s", "found dead": "f", "new added": "a", "new, old out": "c", "low": "k", "into shade": "k",
}  # fmt: skip


@pytest.fixture
def bench(story: Story) -> Story:
    """Two females in two cups behind one moat."""
    tell(story, BENCH)
    return story


def all_answers() -> list[tuple[str, str, bool]]:
    """Key, label and whether it ends animals, of every answer there is."""
    asked = [*QUESTIONS.values(), SKIP_QUESTION]
    told = [answer for question in asked for answer in question.answers] + [
        one for look in LOOKS.values() for one in look
    ]
    return [(answer.key, answer.label, answer.loss) for answer in told]


def test_the_same_word_has_the_same_key_everywhere() -> None:
    keys: dict[str, set[str]] = {}
    for key, label, _ in all_answers():
        keys.setdefault(label, set()).add(key)

    assert {label: told for label, told in keys.items() if len(told) > 1} == {}
    assert {label: keys[label] for label in WORDS_AND_KEYS} == {
        label: {key} for label, key in WORDS_AND_KEYS.items()
    }


def test_no_letter_of_a_death_means_anything_else() -> None:
    dead = {
        key
        for key, label, is_loss in all_answers()
        if is_loss and label in ("found dead", "collapsed")
    }

    assert dead == {"f"}
    assert {label for key, label, _ in all_answers() if key == "f"} == {"found dead", "collapsed"}
    assert {label for key, label, _ in all_answers() if key == "d"} == {"drank"}


def test_condensation_shares_its_key_with_nothing() -> None:
    told = {(key, label) for key, label, _ in all_answers()}
    its_own = ("apostrophe", "condensation")
    assert {one for one in told if {*one} & {*its_own}} == {its_own}


def test_no_answer_of_a_mixed_cup_hides_another() -> None:
    looks = [answer for stage in LOOKS.values() for answer in stage]
    by_key: dict[str, set[str]] = {}
    for answer in looks:
        by_key.setdefault(answer.key, set()).add(answer.label)

    assert all(len(labels) == 1 for labels in by_key.values()), by_key
    assert question_for


async def test_keys_of_the_bench_rest_while_a_question_is_asked(bench: Story) -> None:
    before = bench.on_disk()
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("a")
        for key in ("d", "o", "h", "x", "l", "y", "v", "q", "s", "f", "enter", "tab"):
            await screen.press(key)
            assert screen.check == "ants", key
            assert bench.on_disk() == before, key
        await screen.press("d")
        assert screen.message == "d does nothing here. ? shows the keys."
        footer = screen.text.splitlines()[-1]
        assert "close" in footer
        assert "drank" not in footer
        await screen.press("escape", "d")
        assert bench.on_disk()[-1]["what"] == "drank"


async def test_what_the_footer_shows_is_alive_and_comes_back_to_the_question(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("a", "n", *"wet", "enter")
        assert bench.on_disk()[-1]["what"] == "note"
        assert screen.check == "ants"
        await screen.press("question_mark", "escape")
        assert screen.check == "ants"
        await screen.press("w", *"-5m", "enter", "space")
        assert bench.on_disk()[-1]["what"] == "barrier"
        assert bench.on_disk()[-1]["at"] < bench.on_disk()[-1]["logged"]


def footer(screen: Screen) -> str:
    return screen.text.splitlines()[-1]


async def test_a_key_in_the_footer_does_something_on_each_page(bench: Story) -> None:
    """Space reads on where there is more; a shelf is not suspect; why is asked where it is not shown."""
    bench.type("room 20", "K2 1 f Melitaea cinxia", "K2 searched 3")
    for size in ((80, 24), (120, 40)):
        async with bench.screens(size) as screen:
            for opens in (
                ("right", "right"),
                ("i",),
                ("k",),
                ("b",),
                ("8",),
                ("z", "down", "down", "enter"),
            ):
                await screen.press(*opens)
                await screen.pilot.pause()
                before = screen.text
                if "Space read on" in footer(screen):
                    await screen.press("space")
                    await screen.pilot.pause()
                    assert screen.text != before, screen.text
                while "bench" not in type(screen.app.screen).__name__.lower():
                    await screen.press("escape")
                await screen.press("escape")
            await screen.press(".")
            await screen.pilot.pause()
            assert ("w why" in footer(screen)) == (size == (80, 24)), screen.text
            await screen.press("escape", "r")
            while screen.where in ("", "sill"):
                assert "suspect" not in footer(screen), screen.text
                await screen.press("minus", "m")
            assert "x suspect" in footer(screen), screen.text


async def test_enter_has_one_meaning_while_a_line_is_typed(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("t")
        assert "Enter goes to K2" in screen.text
        assert "write it" not in footer(screen), screen.text
        await screen.press("space", *"drank")
        assert "Enter write it" in footer(screen), screen.text
        await screen.press("ctrl+u", *"list")
        assert "write it" not in footer(screen), screen.text


async def test_the_number_of_lines_is_right_once_the_card_is_folded(story: Story) -> None:
    story.type(*(f"P{cup} 3 pupae Boloria dia" for cup in range(1, 31)))
    async with story.screens() as screen:
        before = re.search(r"\d+ of 3\d$", footer(screen))
        assert before, screen.text
        for opens, folds in (("right", "left"), ("enter", "escape")):
            await screen.press(opens)
            assert not footer(screen).endswith(before[0]), screen.text
            await screen.press(folds)
            await screen.pilot.pause()
            assert footer(screen).endswith(before[0]), screen.text


async def test_a_line_of_words_says_what_enter_does_with_them(bench: Story) -> None:
    async with bench.screens() as screen:
        for opens, does in (
            (("slash",), "find"),
            (("=", "enter"), "work out"),
            (("b", "l"), "set"),
        ):
            await screen.press(*opens)
            assert f"Enter {does}" in footer(screen), screen.text
            await screen.press("escape", "escape")


async def test_the_footer_names_no_key_that_is_of_no_use(bench: Story) -> None:
    bench.type("R2 set up rearing", "R2 6 L3 Boloria dia", "R2 host in viola", "R2 looked")
    async with bench.screens((120, 40)) as screen:
        screen.highlight("K2")
        await screen.pilot.pause()
        assert "d drank" in footer(screen)
        screen.highlight("R2")
        await screen.pilot.pause()
        assert "drank" not in footer(screen)
        assert "offered" not in footer(screen)
        await screen.press("space")
        screen.highlight("K2")
        await screen.pilot.pause()
        assert "drank" not in footer(screen), "the marked one is meant"
        await screen.press("escape", "right")
        while "bench" not in type(screen.app.screen).__name__.lower():
            assert "drawing" not in footer(screen)
            assert "numbers" not in footer(screen)
            await screen.press("escape")
        await screen.press("v")
        assert "Enter do it" not in footer(screen)
        assert "put off" not in footer(screen)


async def test_that_a_key_does_nothing_is_said_until_the_next_key(bench: Story) -> None:
    async with bench.screens() as screen:
        await screen.press("A")
        assert screen.message == "A does nothing here. ? shows the keys."
        await screen.press("greater_than_sign")
        assert screen.message == "> does nothing here. ? shows the keys."
        await screen.press("down")
        assert "does nothing" not in screen.text


@pytest.mark.parametrize("hand", ["left", "right"])
async def test_a_death_has_a_letter_of_its_own_under_one_hand_too(bench: Story, hand: str) -> None:
    bench.type(f"setting hand {hand}")
    letter = {"left": "y", "right": "g"}[hand]
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("l")
        assert f"{letter} found dead" in screen.words
        await screen.press(letter, "1", "enter")
        assert (bench.on_disk()[-1]["what"], bench.on_disk()[-1]["number"]) == ("died", 1)
        await _opens_no_other(screen)


async def _opens_no_other(screen: Screen) -> None:
    assert screen.check == ""


async def test_an_alarm_is_not_switched_off_without_a_reason(bench: Story) -> None:
    before = bench.on_disk()
    async with bench.screens() as screen:
        await screen.press("p", "x")
        assert bench.on_disk() == before
        await screen.press("enter")
        assert bench.on_disk() == before
        assert "say why" in screen.message
        await screen.press("x", *"asleep", "enter")
        assert (
            bench.on_disk()[-1]["what"],
            bench.on_disk()[-1]["off"],
            bench.on_disk()[-1]["why"],
        ) == ("plan", True, "asleep")
        await screen.press("x")
        assert bench.on_disk()[-1]["off"] is False


@pytest.mark.parametrize(
    ("typed", "container"),
    [("K2 drank", "K2"), ("K3 drank", "K3"), ("k3 drank", "K3"), ("drank", "K2")],
)
async def test_a_code_typed_behind_the_code_begun_is_the_one_meant(
    bench: Story, typed: str, container: str
) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("t", *(("space" if sign == " " else sign) for sign in typed))
        assert container in screen.message
        await screen.press("enter")
        assert (bench.on_disk()[-1]["what"], bench.on_disk()[-1]["container"]) == (
            "drank",
            container,
        )


async def test_a_line_about_the_room_behind_the_code_begun_is_about_the_room(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("K2")
        await screen.press("t", *"room", "space", *"air", "space", *"21", "enter")
        assert (bench.on_disk()[-1]["what"], bench.on_disk()[-1].get("container")) == ("air", None)


async def test_a_quiet_stop_where_only_a_look_is_asked_takes_one_key(story: Story) -> None:
    tell(
        story,
        """
        P2 set up pupation
        brood MOR-27-01/A taxon='Melitaea cinxia'
        P2 stocked MOR-27-01/A pupa 4
        P2 misted
        P2 looked
        """,
    )
    story.later(hours=24)
    async with story.screens() as screen:
        await screen.press("r", *"20/22", "enter")
        assert screen.check == "look"
        await screen.press("space")
        assert story.on_disk()[-1]["what"] == "looked"
        assert screen.check != "look"


@pytest.mark.parametrize("hand", ["left", "right"])
async def test_a_footer_under_one_hand_names_no_key_of_the_other(bench: Story, hand: str) -> None:
    bench.type(f"setting hand {hand}")
    async with bench.screens() as screen:
        assert "n note" in screen.text or "t type" in screen.text or "r round" in screen.text
        await screen.press("r")
        footer = screen.text.splitlines()[-1]
        assert "skip stop" in footer
        assert "note" not in footer
        assert "type" not in footer
        await screen.press("p" if hand == "left" else "t")
        assert screen.app.screen.query_one("#prompt").display, "it types all the same"


# What an answer records, by its words: animals or stems that end here, what was done for them, and
# what was only seen. A new answer is put among one of them.
ENDS = {"found dead", "collapsed", "escaped", "taken", "released", "discarded"}
DONE = {
    "drank", "hand-fed", "only offered", "misted", "lid opened", "cleaned", "topped up", "leaf put in", "another plant",
    "new added", "new, old out", "changed", "changed, old kept", "into sun", "into shade", "switched off", "made new",
    "by eye", "by lens", "by photo", "weighed",
}  # fmt: skip
SEEN = {
    "none", "weak", "look again later", "ant above the water", "condensation", "colouring", "of eggs that nobody found",
    "bridged", "do not disturb", "all there", "cleared", "never there, miscounted", "emerged", "bare", "dry", "read",
    "read again", "mould", "hanging up", "intruder", "darkening", "low", "not up yet", "looked, not needed", "fresh pupa",
    "limp", "no light", "moulted", "no time", "other words", "pupated", "clearly there", "refused", "wandering",
    "a little", "those on record", "dirty", "none stands here, all are fed by hand", "not moving", "animals asleep", "as usual",
    "fresh", "wait another day", "not yet", "seen", "no change", "keep another day", "plenty", "not today",
    "not moving, not limp", "up", "not low", "stays on an hour", "still not seen", "looked, all well", "still good",
    "still sweet", "hatched, inferred", "hatched", "yellow", "young larvae, one at least", "found, alive",
}  # fmt: skip


def by_letter() -> dict[str, set[str]]:
    """All that a letter records at some stop, and on the bench at once, in words."""
    told: dict[str, set[str]] = {}
    for key, label, _ in all_answers():
        told.setdefault(key, set()).add(label)
    return told


def test_every_answer_ends_something_is_done_or_is_seen() -> None:
    labels = {label for _, label, _ in all_answers()}
    assert labels == ENDS | DONE | SEEN
    assert {label for _, label, loss in all_answers() if loss} <= ENDS


def test_no_letter_ends_animals_or_stems_in_one_place_and_is_a_care_in_another() -> None:
    both = {key: told for key, told in by_letter().items() if told & ENDS and told & DONE}
    assert both == {}


def test_what_the_bench_records_at_once_has_the_letter_of_the_stop() -> None:
    at_once = {"drank": "drank", "offered": "only offered"}  # its other keys ask, or say suspect
    keys = {action.id: action.key for action in actions_of("bench")}
    told = by_letter()
    for action, label in at_once.items():
        assert told[keys[action]] == {label} | (told[keys[action]] & SEEN), action
