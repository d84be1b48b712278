"""Which key does what in this book: the table's own keys, a set for one hand in the round, and the
keeper's changes."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from rounds import late
from rounds.checks.answers import DEAD_KEY
from rounds.checks.look import CONDENSATION_KEY, LOOKS
from rounds.checks.question import Answer, Question
from rounds.checks.questions import QUESTIONS, SKIP_QUESTION
from rounds.views.actions import (
    ACTIONS,
    KEY_SIGNS,
    SCREENS,
    Action,
    Scope,
    actions_of,
    scopes_of,
    sign_of,
)
from rounds.views.words import literal

KEY_SETTING = "key."  # a setting 'key.drank' names another key for the action 'drank'

# The round under one hand: what wants no typing lies under that hand, the answers fill what is left
# of its letters.
# Enter and Esc get a neighbour on the hand's own side. What must be typed in words wants the other
# hand anyway.
# An action, its key under the left hand, under the right.
_UNDER_ONE_HAND = """
skip_check z minus
skip_stop x comma
suspect c m
strike_last v u
previous_stop f left
next_stop g right
large b p
when t o
help question_mark question_mark
note n b
photo j v
prompt p t
leave escape escape,backspace
close_question escape escape,backspace
find_anything o f
"""
HANDS: dict[str, dict[str, str]] = {"left": {}, "right": {}}
for _row in _UNDER_ONE_HAND.strip().splitlines():
    _action, HANDS["left"][_action], HANDS["right"][_action] = _row.split()
# The hand's own letters first, then those that its first finger reaches over the middle for.
ANSWER_LETTERS = {"left": "asdqwerhuikml", "right": "jklhiynrdcsea"}
LOSS_LETTERS = {"left": "y", "right": "g"}  # a little out of the way, and nothing but found dead
# they want both hands: they work, and no footer under one hand names them
TYPED_IN = frozenset({"note", "prompt"})
# where answers and these keys must not clash
ANSWERING: frozenset[Scope] = frozenset({"round", "question"})
ENTER_TOO = {"left": "tab"}  # beside Enter itself
# Space and b read on and back there
READING: frozenset[Scope] = frozenset({"supplies", "away", "calculator", "laying"})


def hand_of(settings: Mapping[str, str]) -> str:
    """Which hand's set is in use: left, right, or empty for the usual keys."""
    hand = settings.get("hand", "")
    return hand if hand in HANDS else ""


def actions_in(settings: Mapping[str, str], *scopes: Scope) -> tuple[Action, ...]:
    """The actions of those scopes with the keys that they have in this book.

    ``scopes`` are those of one screen, its own last. A change that no longer fits is passed over.
    """
    passed = TYPED_IN if hand_of(settings) and scopes[-1] in ANSWERING else frozenset[str]()
    return tuple(
        replace(
            action,
            key=_key(settings, action, scopes[-1]),
            label="" if action.id in passed else action.label,
        )
        for action in actions_of(*scopes)
    )


def _key(settings: Mapping[str, str], action: Action, screen: Scope) -> str:
    hand = HANDS.get(hand_of(settings), {}) if screen in ANSWERING else {}
    changed = settings.get(f"{KEY_SETTING}{action.id}", "")
    if changed and key_refusal(settings, f"{KEY_SETTING}{action.id}", changed) is None:
        return key_named(changed)
    return hand.get(action.id, action.key)


def key_label(settings: Mapping[str, str], screen: Scope, action_id: str) -> str:
    """The key of one action on one screen, as it stands on the keyboard."""
    for action in actions_in(settings, *scopes_of(screen)):
        if action.id == action_id:
            return sign_of(action.key)
    return ""


def binding_id(screen: Scope, action: Action) -> str:
    """What tells one action on one screen from all others."""
    return f"{screen}.{action.id}"


def keymap(settings: Mapping[str, str]) -> dict[str, str]:
    """The keys that differ from the table's own, by binding."""
    changed: dict[str, str] = {}
    for screen in SCREENS:
        own = {action.id: action.key for action in actions_of(*scopes_of(screen))}
        for action in actions_in(settings, *scopes_of(screen)):
            if action.key != own[action.id]:
                changed[binding_id(screen, action)] = action.key
    return changed


def key_named(typed: str) -> str:
    """The name of a key from the sign that stands on it."""
    by_sign = {sign.casefold(): name for name, sign in KEY_SIGNS.items()}
    return by_sign.get(typed.strip().casefold(), typed.strip().casefold())


def key_refusal(settings: Mapping[str, str], name: str, value: str) -> str | None:
    """Why this key cannot be given to this action, in one line; an empty value gives its own key
    back."""
    action_id = name.removeprefix(KEY_SETTING)
    known = {action.id for action in ACTIONS}
    if action_id not in known:
        near = late.nearest(action_id, known, 3, 0.4)
        return f"no action is called {literal(action_id)}; {_perhaps(near)}"
    if not value:
        return None
    key = key_named(value)
    if not _is_bare(key):
        return (
            f"'{literal(value)}' cannot be a key here; one small letter, one of , ; ' - or f1 to"
            " f12 can"
        )
    for screen in SCREENS:
        trouble = _clash(settings, screen, action_id, key)
        if trouble:
            return trouble
    return None


def _perhaps(near: tuple[str, ...]) -> str:
    return f"perhaps {', '.join(near)}" if near else "the plan page lists all"


def _is_bare(key: str) -> bool:
    letter = len(key) == 1 and key.isascii() and key.isalpha() and key.islower()
    sign = key in ("comma", "semicolon", "apostrophe", "minus")
    return (
        letter or sign or (key.startswith("f") and key[1:].isdecimal() and 1 <= int(key[1:]) <= 12)
    )


def _clash(settings: Mapping[str, str], screen: Scope, action_id: str, key: str) -> str:
    actions = actions_of(*scopes_of(screen))
    if action_id not in {action.id for action in actions}:
        return ""
    hand = HANDS.get(hand_of(settings), {}) if screen in ANSWERING else {}
    for other in actions:
        changed = settings.get(f"{KEY_SETTING}{other.id}", "")
        if changed and _is_bare(key_named(changed)):
            own = key_named(changed)
        else:
            own = hand.get(other.id, other.key)
        if other.id != action_id and key in own.split(","):
            where = WHERE.get(screen, "there")
            return (
                f"{sign_of(key)} is the key of '{other.label or other.id}' {where}; give that"
                " another one first"
            )
    if screen in READING and key == "b":
        return "b reads back on pages to read; choose another key"
    if screen in ANSWERING and not hand and key in ANSWER_KEYS:
        return f"{sign_of(key)} answers '{ANSWER_KEYS[key]}' in the round; choose another key"
    return ""


def _answer_keys() -> dict[str, str]:
    answers = [
        answer for question in (*QUESTIONS.values(), SKIP_QUESTION) for answer in question.answers
    ]
    answers += [answer for look in LOOKS.values() for answer in look]
    return {answer.key: answer.label for answer in answers}


ANSWER_KEYS = _answer_keys()
WHERE: dict[Scope, str] = {
    "bench": "on the bench",
    "round": "in the round",
    "daybook": "in the daybook",
    "plan": "in the plan",
    "question": "while a question is asked",
}


def enter_keys(settings: Mapping[str, str]) -> set[str]:
    """The keys that do in the round what Enter does."""
    return {"enter"} | ({ENTER_TOO[hand]} if (hand := hand_of(settings)) in ENTER_TOO else set())


def handed(question: Question, settings: Mapping[str, str]) -> Question:
    """The question with its answers under the keeper's hand; digits and Enter stay what they are.

    Found dead has a letter that no other answer ever has.
    """
    hand = hand_of(settings)
    if not hand:
        return question
    taken = {
        key for action in actions_in(settings, *scopes_of("round")) for key in action.key.split(",")
    }
    letters = iter(letter for letter in ANSWER_LETTERS[hand] if letter not in taken)

    def under_hand(answer: Answer) -> Answer:
        is_letter = answer.key.isalpha() and len(answer.key) == 1
        if not is_letter and answer.key != CONDENSATION_KEY:
            return answer
        is_dead = answer.key == DEAD_KEY and LOSS_LETTERS[hand] not in taken
        return replace(answer, key=LOSS_LETTERS[hand] if is_dead else next(letters, answer.key))

    answers = tuple(under_hand(answer) for answer in question.answers)
    now = {answer.key: under.key for answer, under in zip(question.answers, answers, strict=True)}
    return replace(
        question, answers=answers, first=tuple(now.get(key, key) for key in question.first)
    )
