"""One table of actions: every key works where it is shown, and none clash."""

from __future__ import annotations

import pytest
from textual.widget import Widget

from rounds.app.desk import Desk
from rounds.checks.look import LOOKS
from rounds.checks.questions import QUESTIONS, SKIP_QUESTION
from rounds.entries.check_labels import label_of
from rounds.screens.bench_screen import BenchScreen
from rounds.screens.broods_screen import BroodScreen
from rounds.screens.lines import KeysLine
from rounds.screens.page import Page
from rounds.screens.question_page import QuestionPage
from rounds.screens.registry import PAGES, page_class
from rounds.screens.short_round_screen import ShortRoundScreen
from rounds.views.actions import ACTIONS, actions_of, scopes_of
from rounds.views.calculations import all_calculations
from rounds.views.cautions import CAUTIONS
from rounds.views.help_page import help_lines
from rounds.views.settings import SETTINGS
from tests.screens.conftest import Opened

SCREENS: list[type[Page]] = [
    BenchScreen,
    BroodScreen,
    ShortRoundScreen,
    *(page_class(name) for name in PAGES),
]


@pytest.mark.parametrize("screen", SCREENS)
def test_every_action_of_a_screen_can_be_done_and_no_two_share_a_key(screen: type[Page]) -> None:
    actions = actions_of(*screen.SCOPES)

    for action in actions:
        assert hasattr(screen, f"action_{action.does.partition('(')[0]}"), action
        assert action.help.endswith("."), action
    keys = [action.key for action in actions]
    assert len(keys) == len(set(keys)), screen


def test_every_action_belongs_to_a_screen() -> None:
    shown = {action.id for screen in SCREENS for action in actions_of(*screen.SCOPES)}
    shown |= {
        action.id
        for action in actions_of(*scopes_of("question"))
        if hasattr(QuestionPage, f"action_{action.id}")
    }

    without = {f"{action.scope}: {action.id}" for action in ACTIONS if action.id not in shown}

    assert not without, f"no screen in SCREENS, above, has the scope of {sorted(without)}"


def test_no_answer_key_hides_a_key_of_the_round() -> None:
    own = {action.key for action in actions_of("everywhere", "round", "question")} - {
        "left",
        "right",
    }
    questions = [*QUESTIONS.values(), SKIP_QUESTION]
    keys = {answer.key for question in questions for answer in question.answers}
    keys |= {answer.key for looks in LOOKS.values() for answer in looks}

    assert keys & own == set()


def test_answers_of_one_question_have_keys_of_their_own() -> None:
    for name, question in QUESTIONS.items():
        keys = [answer.key for answer in question.answers]
        assert len(keys) == len(set(keys)), name
        assert sum(answer.usual for answer in question.answers) <= 1, name


def test_keys_want_no_shift_but_for_the_question_mark() -> None:
    keys = {action.key for action in ACTIONS} | {
        a.key for q in QUESTIONS.values() for a in q.answers
    }

    assert {key for key in keys if len(key) == 1 and (key.isupper() or not key.isalnum())} == set()
    assert {key for key in keys if "+" in key} == set()


def test_the_help_tells_every_key_and_every_check() -> None:
    told = "\n".join(line.text for line in help_lines(("bench",)))

    wanted = [action.help for action in ACTIONS]
    wanted += [known.about for known in SETTINGS]
    wanted += [f"  {one.name} " for one in all_calculations()]
    wanted += [*CAUTIONS.values(), *map(label_of, QUESTIONS)]
    wanted += [answer.label for question in QUESTIONS.values() for answer in question.answers]
    missing = [words for words in wanted if words not in told]

    assert not missing, (
        f"{missing}; keys of a new screen want a heading in SCOPE_WORDS (views/help_page.py)"
    )


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_line_of_keys_never_wraps(
    demo_desk: Desk, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(demo_desk, size) as (app, pilot):
        for key in (
            "v",
            "escape",
            "y",
            "escape",
            "p",
            "escape",
            "k",
            "escape",
            "b",
            "escape",
            "m",
            "escape",
            "equals_sign",
            "escape",
            "i",
            "escape",
            "z",
            "escape",
            "r",
        ):
            await pilot.press(key)
            line = app.screen.query_one("#keys", KeysLine)
            assert line.size.height == 1
            assert "keys" in str(line.render())
            assert isinstance(app.screen, Widget)
