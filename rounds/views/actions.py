"""Every key of every screen: one table that feeds the bindings, the footer and the help."""

from __future__ import annotations

from typing import Literal, get_args

from msgspec import Struct

Scope = Literal[
    "everywhere",
    "bench",
    "round",
    "question",
    "overdue",
    "daybook",
    "plan",
    "list",
    "supplies",
    "away",
    "calculator",
    "laying",
    "broods",
    "brood",
    "ahead",
    "batches",
    "map",
    "short round",
    "card",
    "learned",
]


class Action(Struct, frozen=True):
    """One thing that a key does.

    ``label`` stands beside the key in the footer; an action with an empty label works but is only
    told in the help. ``help`` says what it does in a sentence.
    """

    id: str
    key: str
    label: str
    help: str
    scope: Scope


READ_ON = "Reads on, where the page is longer than the screen; b reads back."
ACTIONS: tuple[Action, ...] = (
    Action(
        "answer_next",
        "enter",
        "answer",
        "Asks the most urgent check of the highlighted line.",
        "bench",
    ),
    Action(
        "round",
        "r",
        "round",
        "Begins the round, or goes on; 15 before it: in so many minutes, what saves most.",
        "bench",
    ),
    Action(
        "open_card",
        "right",
        "card",
        "Opens the card of the highlighted container, with all that is known of it and why; again:"
        " on a screen of its own, drawn.",
        "bench",
    ),
    Action("fold_card", "left", "", "Folds the card, so that the list has its rows.", "bench"),
    Action(
        "drank",
        "d",
        "drank",
        "All females in the highlighted container drank by themselves.",
        "bench",
    ),
    Action(
        "offered",
        "o",
        "offered",
        "Food was put before her; it does not say that she drank.",
        "bench",
    ),
    Action("ask_host", "h", "host", "Asks about the host plant: fresh, limp, changed.", "bench"),
    Action(
        "ask_ants",
        "a",
        "barrier",
        "Asks about the ant barrier of the container or its shelf.",
        "bench",
    ),
    Action(
        "ask_eggs",
        "e",
        "search",
        "Asks how many eggs a search found; none is an answer too.",
        "bench",
    ),
    Action("ask_count", "c", "count", "Asks how many animals are there.", "bench"),
    Action(
        "ask_look",
        "l",
        "look",
        "Asks what you see; on an empty bench it opens the page where one that already runs is"
        " listed.",
        "bench",
    ),
    Action(
        "open_photo",
        "7",
        "",
        "Opens the highlighted container's newest picture with the system's viewer.",
        "bench",
    ),
    Action("note", "n", "note", "Opens the prompt with a note begun.", "everywhere"),
    Action(
        "photo",
        "j",
        "",
        "Opens the prompt with a photo begun: its path, or newest; it is copied into the book.",
        "everywhere",
    ),
    Action(
        "prompt",
        "t",
        "type",
        "Opens the prompt: one line records anything, as the help shows; list opens the page for"
        " many containers, import and a file the one for an old table.",
        "everywhere",
    ),
    Action(
        "find_anything",
        "comma",
        "",
        "Finds a container, brood, plant or note by any words, and goes there.",
        "everywhere",
    ),
    Action(
        "strike_last",
        "u",
        "undo",
        "Undoes what was recorded last here; the line stays in the daybook, crossed out.",
        "everywhere",
    ),
    Action(
        "mark",
        "space",
        "mark",
        "Marks the line; what is recorded next goes to all marked lines.",
        "bench",
    ),
    Action("unmark", "escape", "", "Takes all marks and filters away.", "bench"),
    Action("sort", "s", "", "Sorts as walked, or most urgent first.", "bench"),
    Action("only_due", "f", "", "Shows only what is due; again shows everything.", "bench"),
    Action("purpose", "g", "", "Shows one purpose after another, then all.", "bench"),
    Action("find", "slash", "find", "Shows only lines with the words typed.", "list"),
    Action("overdue", "v", "overdue", "Every late check, the worst first.", "bench"),
    Action("daybook", "y", "daybook", "All that was recorded, newest first.", "bench"),
    Action("plan", "p", "plan", "The care plan and the settings.", "bench"),
    Action(
        "ahead",
        "full_stop",
        "ahead",
        "What is coming, drawn: hatches, moults, pupae, adults, renewals, deadlines.",
        "bench",
    ),
    Action(
        "laying",
        "i",
        "",
        "Who laid on what: female-days and eggs by host, with limits, and a verdict in words.",
        "bench",
    ),
    Action(
        "broods",
        "z",
        "",
        "Broods: the pedigree, what became of every animal, survival, development, planned"
        " pairings.",
        "bench",
    ),
    Action("batches", "8", "", "Cuttings: what each fed, and what was lost there since.", "bench"),
    Action(
        "learned",
        "6",
        "",
        "What your records say about the plan, and one key to take it over.",
        "bench",
    ),
    Action(
        "supplies",
        "k",
        "",
        "What to cut and mix for the next rounds, with the arithmetic.",
        "bench",
    ),
    Action(
        "away",
        "b",
        "",
        "Going away: what to do before, what breaks first, the helper's sheet.",
        "bench",
    ),
    Action("map", "m", "map", "The shelves as they stand, cup by cup.", "bench"),
    Action(
        "other_side",
        "tab",
        "",
        "In a wide terminal: the arrows walk the map beside the list, or the list again.",
        "bench",
    ),
    Action("calculator", "equals_sign", "", "Every calculation, with formula and source.", "bench"),
    Action("help", "question_mark", "keys", "Every key and every word explained.", "everywhere"),
    Action(
        "suspect", "x", "", "Marks the container suspect: it goes to the end of the walk.", "bench"
    ),
    Action(
        "when",
        "w",
        "",
        "Says when the next answers happened, as -20m or 7:40; again for now.",
        "bench",
    ),
    Action(
        "quit",
        "q",
        "quit",
        "Leaves; everything is on disk already, and where something is not it asks first.",
        "bench",
    ),
    Action(
        "skip_check",
        "minus",
        "skip",
        "Passes over this question, with a reason; it comes back at the end.",
        "round",
    ),
    Action(
        "skip_stop",
        "z",
        "skip stop",
        "Passes over the whole stop, with a reason; it comes back at the end.",
        "round",
    ),
    Action(
        "suspect",
        "x",
        "suspect",
        "Marks the container suspect: it goes to the end of the walk now.",
        "round",
    ),
    Action(
        "when",
        "w",
        "when",
        "Says when the next answers happened, as -20m or 7:40; again for now.",
        "round",
    ),
    Action(
        "one_by_one",
        "semicolon",
        "",
        "Asks each check of this stop by itself; again asks at once what one look answers.",
        "round",
    ),
    Action(
        "large",
        "tab",
        "large",
        "Large letters, to be read at arm's length; again for the usual page. The book remembers.",
        "round",
    ),
    Action("next_stop", "right", "", "Looks at the next stop without answering.", "round"),
    Action("previous_stop", "left", "", "Looks at the stop before.", "round"),
    Action(
        "more",
        "down",
        "more",
        "Shows what had no room: of what is known of the stop, and further answers.",
        "round",
    ),
    Action("less", "up", "", "Back to what was shown before.", "round"),
    Action("leave", "escape", "leave", "Leaves the round; it goes on where it was left.", "round"),
    Action(
        "when",
        "w",
        "when",
        "Says when the next answers happened, as -20m or 7:40; again for now.",
        "question",
    ),
    Action(
        "close_question", "escape", "close", "Closes the question; nothing is recorded.", "question"
    ),
    Action(
        "answer_next", "enter", "answer", "Asks the most urgent check of the container.", "card"
    ),
    Action(
        "back_card",
        "left,escape",
        "back",
        "Back to where the card was opened, at this container.",
        "card",
    ),
    Action("previous_card", "up", "", "Shows the container before in the walk.", "card"),
    Action("next_card", "down", "other cup", "Shows the next container of the walk.", "card"),
    Action(
        "next_drawing",
        "d",
        "drawing",
        "Draws something else: eggs by day, when they hatch, warmth, the moat.",
        "card",
    ),
    Action(
        "as_table",
        "v",
        "numbers",
        "Shows the drawing as a table of numbers; again draws it.",
        "card",
    ),
    Action("read_on", "space", "read on", "Reads on; at the end it begins again.", "card"),
    Action("do", "enter", "do it", "Asks the question of the highlighted check.", "overdue"),
    Action("put_off", "o", "put off", "Puts the check off by two hours, with a reason.", "overdue"),
    Action(
        "change_rule",
        "c",
        "change rule",
        "Opens the prompt with this rule for this container.",
        "overdue",
    ),
    Action("back", "escape", "bench", "Back to the bench.", "overdue"),
    Action(
        "strike",
        "x",
        "cross out",
        "Crosses the highlighted line out, or brings it back; asks why.",
        "daybook",
    ),
    Action(
        "open_photo",
        "enter",
        "",
        "Opens the highlighted line's picture with the system's viewer.",
        "daybook",
    ),
    Action(
        "only_container",
        "c",
        "",
        "Shows only the highlighted line's container; again shows all.",
        "daybook",
    ),
    Action("older", "o", "older", "Reads older lines.", "daybook"),
    Action("back_daybook", "escape", "bench", "Back to the bench.", "daybook"),
    Action("change", "enter", "change", "Opens the prompt with this rule or setting.", "plan"),
    Action(
        "switch_off",
        "x",
        "off or on",
        "Switches the rule off, which asks why, or on again.",
        "plan",
    ),
    Action(
        "find",
        "slash",
        "find",
        "Shows only rules and settings with the words typed; yours shows what you changed.",
        "plan",
    ),
    Action("theme", "m", "theme", "Light, dark, high contrast, dim red.", "plan"),
    Action("back_plan", "escape", "bench", "Back to the bench.", "plan"),
    Action("read_on", "space", "read on", READ_ON, "supplies"),
    Action("back_reading", "escape", "bench", "Back to the bench.", "supplies"),
    Action("leaving", "l", "leaving", "Asks when you leave.", "away"),
    Action("return", "r", "return", "Asks when you are back.", "away"),
    Action("read_on", "space", "read on", READ_ON, "away"),
    Action("back_reading", "escape", "bench", "Back to the bench.", "away"),
    Action("read_on", "space", "read on", READ_ON, "laying"),
    Action("back_reading", "escape", "bench", "Back to the bench.", "laying"),
    Action(
        "open_brood",
        "enter",
        "open",
        "All the numbers of the highlighted brood, founder or species.",
        "broods",
    ),
    Action(
        "plan_pairing",
        "p",
        "plan a pairing",
        "Opens the prompt with a pairing begun; the page shows how related they are.",
        "broods",
    ),
    Action("back_broods", "escape", "bench", "Back to the bench.", "broods"),
    Action(
        "as_table",
        "v",
        "numbers",
        "Shows every plot as a table of numbers; again draws it.",
        "brood",
    ),
    Action(
        "plan_pairing",
        "p",
        "plan a pairing",
        "Opens the prompt with a pairing begun; the page shows how related they are.",
        "brood",
    ),
    Action("read_on", "space", "read on", READ_ON, "brood"),
    Action("back_brood", "escape", "broods", "Back to the pedigree.", "brood"),
    Action(
        "ask_calculation",
        "enter",
        "calculate",
        "Asks for a calculation and its inputs.",
        "calculator",
    ),
    Action("read_on", "space", "read on", READ_ON, "calculator"),
    Action("back_reading", "escape", "bench", "Back to the bench.", "calculator"),
    Action(
        "answer_next",
        "enter",
        "answer",
        "Asks the most urgent check of the highlighted container.",
        "map",
    ),
    Action(
        "round",
        "r",
        "round",
        "Begins the round, or goes on; 15 before it: in so many minutes, what saves most.",
        "map",
    ),
    Action(
        "card",
        "c",
        "card",
        "Opens the card of the highlighted container on a screen of its own.",
        "map",
    ),
    Action("back_map", "m,escape", "list", "Back to the list, at the same container.", "map"),
    Action("as_table", "v", "table", "Shows the map as a table, or draws it again.", "map"),
    Action("find", "slash", "find", "Goes to the next container that has the words typed.", "map"),
    Action(
        "ask_ants",
        "a",
        "barrier",
        "Asks about the ant barrier of the container or its shelf.",
        "map",
    ),
    Action(
        "do",
        "enter",
        "do it",
        "Does what the highlighted line wants: its check, the round, or unfolds what is past.",
        "ahead",
    ),
    Action("nearer", "left", "nearer", "Shows a shorter time.", "ahead"),
    Action("further", "right", "further", "Shows a longer time, up to six weeks.", "ahead"),
    Action(
        "only_changes",
        "f",
        "animals",
        "Shows only what animals will do; again shows deadlines too.",
        "ahead",
    ),
    Action(
        "as_table",
        "v",
        "table",
        "Shows the drawing as a table of days and hours, and back.",
        "ahead",
    ),
    Action("why", "w", "why", "Shows what the highlighted line rests on; again folds it.", "ahead"),
    Action(
        "what_came",
        "c",
        "what came",
        "Shows what came beside what was expected, and how well forecasts did.",
        "ahead",
    ),
    Action("back_reading", "escape", "bench", "Back to the bench.", "ahead"),
    Action(
        "take_over",
        "enter",
        "take over",
        "Takes the highlighted offer over into the plan; undone like any line.",
        "learned",
    ),
    Action(
        "decline",
        "x",
        "do not ask again",
        "Hides the offer until there is twice the evidence.",
        "learned",
    ),
    Action("back_reading", "escape", "bench", "Back to the bench.", "learned"),
    Action(
        "begin",
        "enter",
        "begin",
        "Begins the round with what is taken here; the rest follows if time is left.",
        "short round",
    ),
    Action("more_minutes", "right", "longer", "Five minutes more.", "short round"),
    Action("fewer_minutes", "left", "shorter", "Five minutes less.", "short round"),
    Action("all_stops", "a", "all stops", "Begins the round with all its stops.", "short round"),
    Action("read_on", "space", "read on", READ_ON, "short round"),
    Action("back_reading", "escape", "bench", "Back to the bench.", "short round"),
    Action(
        "read_on",
        "space",
        "read on",
        "Reads on below, where there is more than its room holds.",
        "batches",
    ),
    Action("back_reading", "escape", "bench", "Back to the bench.", "batches"),
)


# The scopes of each screen, its own last. A screen that is not named here has 'everywhere' and its
# own.
SCOPES_OF: dict[Scope, tuple[Scope, ...]] = {
    "bench": ("everywhere", "list", "bench"),
    "daybook": ("everywhere", "list", "daybook"),
    **{
        scope: ("everywhere", scope)
        for scope in get_args(Scope)
        if scope not in ("everywhere", "list", "bench", "daybook")
    },
}


def scopes_of(screen: Scope) -> tuple[Scope, ...]:
    """The scopes of a screen, its own last."""
    if screen in ("everywhere", "list"):
        return (screen,)
    return SCOPES_OF.get(screen, ("everywhere", screen))


def actions_of(*scopes: Scope) -> tuple[Action, ...]:
    """The actions of those scopes, scope by scope."""
    return tuple(action for scope in scopes for action in ACTIONS if action.scope == scope)


KEY_SIGNS = {
    "question_mark": "?",
    "slash": "/",
    "full_stop": ".",
    "comma": ",",
    "minus": "-",
    "semicolon": ";",
    "apostrophe": "'",
    "equals_sign": "=",
    "tab": "Tab",
    "backspace": "Backspace",
    "enter": "Enter",
    "escape": "Esc",
    "space": "Space",
    "left": "Left",
    "right": "Right",
    "up": "Up",
    "down": "Down",
}


def sign_of(key: str) -> str:
    """The key as it stands on the keyboard; the first where there are two."""
    first = key.split(",")[0]
    return KEY_SIGNS.get(first, first)
