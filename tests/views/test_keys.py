"""Keys that a keeper changes: what fits, what clashes, one hand, and that no two things share a key anywhere."""

from __future__ import annotations

import pytest

from rounds.checks.look import LOOKS
from rounds.checks.question import Question
from rounds.checks.questions import QUESTIONS, SKIP_QUESTION
from rounds.views.actions import SCREENS, Scope, scopes_of
from rounds.views.keys import (
    HANDS,
    LOSS_LETTERS,
    actions_in,
    enter_keys,
    handed,
    key_label,
    key_refusal,
    keymap,
)
from rounds.views.settings import SETTINGS, nearest_zones, setting_of, setting_refusal

# Of a look each stage has its own; all of them together are never asked.
ALL_QUESTIONS = [
    *(one for name, one in QUESTIONS.items() if name != "look"),
    SKIP_QUESTION,
    *(Question("?", looks) for looks in LOOKS.values()),
]
# The letters that lie under each hand on the usual typewriter order of keys, and those that its first finger reaches.
UNDER = {"left": set("qwertasdfgzxcvb"), "right": set("yuiophjklnm")}


@pytest.mark.parametrize(
    ("name", "value", "refused"),
    [
        ("key.drank", ";", None),
        ("key.drank", "f5", None),
        ("key.drank", "", None),
        ("key.drank", "o", "o is the key of 'offered' on the bench; give that another one first"),
        ("key.suspect", "u", "u is the key of 'undo' on the bench; give that another one first"),
        ("key.skip_check", "h", "h answers 'hatched' in the round; choose another key"),
        (
            "key.drank",
            "D3",
            "'D3' cannot be a key here; one small letter, one of , ; ' - or f1 to f12 can",
        ),
        (
            "key.drank",
            "7",
            "'7' cannot be a key here; one small letter, one of , ; ' - or f1 to f12 can",
        ),
        ("key.drnk", "z", "no action is called drnk; perhaps drank, mark, round"),
    ],
)
def test_a_key_that_clashes_is_refused_in_one_line(
    name: str, value: str, refused: str | None
) -> None:
    told = setting_refusal(name, value, {})

    assert told == refused or (
        refused is not None and told is not None and told.split("'")[0] == refused.split("'")[0]
    )


def test_a_key_given_free_can_be_given_on() -> None:
    assert key_refusal({"key.offered": "f5"}, "key.drank", "o") is None
    assert key_label({"key.offered": "f5", "key.drank": "o"}, "bench", "drank") == "o"


def test_a_change_from_elsewhere_that_clashes_is_passed_over() -> None:
    assert key_label({"key.drank": "o"}, "bench", "drank") == "d"
    assert keymap({"key.drank": "o"}) == {}
    assert keymap({"key.drank": ";"}) == {"bench.drank": "semicolon"}


@pytest.mark.parametrize("hand", ["", "left", "right"])
@pytest.mark.parametrize("screen", list(SCREENS))
def test_no_two_things_share_a_key_on_a_screen(hand: str, screen: Scope) -> None:
    keys = [
        key
        for action in actions_in({"hand": hand}, *scopes_of(screen))
        for key in action.key.split(",")
    ]

    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("hand", list(HANDS))
def test_the_round_lies_under_one_hand(hand: str) -> None:
    settings = {"hand": hand}
    actions = {action.id: action.key for action in actions_in(settings, *scopes_of("round"))}
    without_typing = ("suspect", "strike_last", "large") + (
        ("skip_check", "skip_stop", "when") if hand == "left" else ("when",)
    )
    assert {actions[name] for name in without_typing} <= UNDER[hand]

    taken = {key for key in actions.values() for key in key.split(",")} | enter_keys(settings)
    for question in ALL_QUESTIONS:
        keys = [answer.key for answer in handed(question, settings).answers]
        assert len(keys) == len(set(keys)), question.text
        assert not taken & set(keys) - {"enter"}, question.text
        letters = [
            key for key in keys if key.isalpha() and len(key) == 1 and key != LOSS_LETTERS[hand]
        ]
        assert set(letters[:7]) <= UNDER[hand], question.text


def test_the_same_answers_in_the_same_order_whatever_the_hand() -> None:
    for question in ALL_QUESTIONS:
        told = [answer.label for answer in question.answers]
        assert [answer.label for answer in handed(question, {"hand": "left"}).answers] == told
        assert handed(question, {}) == question


@pytest.mark.parametrize(
    ("name", "value", "refused"),
    [
        ("latitude", "95", "latitude is '95'; it must be a number from -90 to 90, degrees north"),
        ("latitude", "nan", "latitude is 'nan'; it must be a number from -90 to 90, degrees north"),
        ("theme", "pink", "theme is 'pink'; it can be dark, light, contrast, red"),
        ("morning", "7", "morning is '7'; it must be a time of day, as 07:00"),
        ("morning", "7:30", "morning is '7:30'; it must be a time of day, as 07:00"),
        ("zone", "Lisbon", "zone is 'Lisbon'; no time zone is called that; perhaps Europe/Lisbon"),
        (
            "zone",
            "../../etc/passwd",
            "zone is '../../etc/passwd'; no time zone is called that; give one as Europe/Paris",
        ),
        ("tempereture", "C", "no setting is called tempereture; perhaps temperature"),
        ("volume", "fl oz", None),
        ("bell", "", None),
    ],
)
def test_a_setting_that_cannot_be_used_is_refused(
    name: str, value: str, refused: str | None
) -> None:
    assert setting_refusal(name, value, {}) == refused


def test_every_default_is_one_that_could_be_set() -> None:
    for known in SETTINGS:
        assert not known.default or not known.check(known.default), known.name
        assert setting_of(
            {known.name: "\x00 no such value"}, known.name
        ) == known.default or not known.check("\x00 no such value")


def test_zones_are_found_by_their_town() -> None:
    assert nearest_zones("tokyo") == ["Asia/Tokyo"]
    assert "America/New_York" in nearest_zones("new york")
    assert nearest_zones("Lisbn")[0] == "Europe/Lisbon"
