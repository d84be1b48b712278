"""Every key of every screen: one table that feeds the bindings, the footer and the help."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, cast, get_args

from msgspec import Struct
from msgspec.structs import replace

from rounds.word_tables import table_rows

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
    told in the help. ``help`` says what it does in a sentence, ``words`` in a few, for the page of
    keys. ``does`` is what the screen is told to do.
    """

    id: str
    key: str
    label: str
    words: str
    help: str
    scope: Scope
    does: str


# A line an action, under its scope: id, key, label, a few words where the label does not do, and
# the sentence of the help, which goes on in lines set in. ``>`` opens the page of that name.
_TABLE = """
-- bench
answer_next | enter | answer | most urgent check | Asks the most urgent check of the highlighted
    line.
round | r | round | begin or go on | Begins the round, or goes on; 15 before it: in so many
    minutes, what saves most.
open_card | right | card | open the card | Opens the card of the highlighted container, with all
    that is known of it and why; again: on a screen of its own, drawn.
fold_card | left | | fold the card | Folds the card, so that the list has its rows.
drank | d | drank | all drank | All females in the highlighted container drank by themselves.
offered | o | offered | only offered | Food was put before her; it does not say that she drank.
ask_host | h | host | host plant | Asks about the host plant: fresh, limp, changed.
ask_ants | a | barrier | barrier, ants | Asks about the ant barrier of the container or its shelf.
ask_eggs | e | search | eggs found | Asks how many eggs a search found; none is an answer too.
ask_count | c | count | | Asks how many animals are there.
ask_look | l | look | | Asks what you see; on an empty bench it opens the page where one that
    already runs is listed.
open_photo | 7 | | newest photo | Opens the highlighted container's newest picture with the
    system's viewer.
-- everywhere
note | n | note | | Opens the prompt with a note begun.
photo | j | | add a photo | Opens the prompt with a photo begun: its path, or newest; it is copied
    into the book.
prompt | t | type | type anything | Opens the prompt: one line records anything, as the help
    shows; list opens the page for many containers; import and a file name reads an old table.
find_anything | comma | | find anywhere | Finds a container, brood, plant or note by any words,
    and goes there.
strike_last | u | undo | undo the last | Undoes what was recorded last here; the line stays in the
    daybook, crossed out.
-- bench
mark | space | mark | mark this line | Marks the line; what is recorded next goes to all marked
    lines.
unmark | escape | | no marks, no filter | Takes all marks and filters away.
sort | s | | sort: worst first | Sorts in walking order, or most urgent first.
only_due | f | | only what is due | Shows only what is due; again shows everything.
purpose | g | | one purpose | Shows one purpose after another, then all.
-- list
find | slash | find | | Shows only lines with the words typed.
-- bench
> overdue | v | overdue | what is late | Every late check, the worst first.
> daybook | y | daybook | | All that was recorded, newest first.
> plan | p | plan | plan, settings | The care plan and the settings.
> ahead | full_stop | ahead | what is coming | What is coming, drawn: hatches, moults, pupae,
    adults, renewals, deadlines.
> laying | i | | who laid on what | Who laid on what: female-days and eggs by host, with limits,
    and a verdict in words.
> broods | z | | broods | Broods: the pedigree, what became of every animal, survival,
    development, planned pairings.
> batches | 8 | | cuttings | Cuttings: what each fed, and what was lost there since.
> learned | 6 | | what records say | What your records say about the plan, and one key to take it
    over.
> supplies | k | | cut and mix | What to cut and mix for the next rounds, with the arithmetic.
> away | b | | going away | Going away: what to do before, what breaks first, the helper's sheet.
> map | m | map | map of the shelves | The shelves as they stand, cup by cup.
other_side | tab | | list, map beside it | In a wide terminal: the arrows walk the map beside the
    list, or the list again.
> calculator | equals_sign | | calculator | Every calculation, with formula and source.
-- everywhere
help | question_mark | keys | these keys; words | Every key and every word explained.
-- bench
suspect | x | | suspect | Marks the container suspect: it goes to the end of the walk.
when | w | | when it happened | Says when the next answers happened, as -20m or 7:40; again for
    now.
quit | q | quit | quit, all is saved | Leaves; everything is on disk already, and if something
    is not it asks first.
-- round
skip_check | minus | skip | | Passes over this question, with a reason; it comes back at the end.
skip_stop | z | skip stop | | Passes over the whole stop, with a reason; it comes back at the end.
suspect | x | suspect | | Marks the container suspect: it goes to the end of the walk now.
when | w | when | | Says when the next answers happened, as -20m or 7:40; again for now.
one_by_one | semicolon | | each check alone | Asks each check of this stop by itself; again asks
    at once what one look answers.
large | tab | large | | Large letters, to be read at arm's length; again for the usual page. The
    book remembers.
to_worst | exclamation_mark | | worst first | Goes to the stop that is in danger, else to what is
    urgent; the round goes on from where it was.
next_stop | right | | next stop | Looks at the next stop without answering.
previous_stop | left | | stop before | Looks at the stop before.
more | down | more | | Shows what had no room: of what is known of the stop, and further answers.
less | up | | back to the first part | Back to what was shown before.
leave | escape | leave | | Leaves the round; it goes on where it was left.
-- question
when | w | when | | Says when the next answers happened, as -20m or 7:40; again for now.
close_question | escape | close | | Closes the question; nothing is recorded.
-- card
answer_next | enter | answer | | Asks the most urgent check of the container.
back_card | left,escape | back | | Back to where the card was opened, at this container.
previous_card | up | | cup before | Shows the container before in the walk.
next_card | down | other cup | | Shows the next container of the walk.
next_drawing | d | drawing | | Draws something else: eggs by day, when they hatch, warmth, the
    moat.
as_table | v | numbers | | Shows the drawing as a table of numbers; again draws it.
read_on | space | read on | | Reads on; at the end it begins again.
-- overdue
do | enter | do it | | Asks the question of the highlighted check.
put_off | o | put off | | Puts the check off by two hours, with a reason.
change_rule | c | change rule | | Opens the prompt with this rule for this container.
back | escape | bench | | Back to the bench.
-- daybook
strike | x | cross out | | Crosses the highlighted line out, or brings it back; asks why.
open_photo | enter | | newest photo | Opens the highlighted line's picture with the system's
    viewer.
only_container | c | | only this container | Shows only the highlighted line's container; again
    shows all.
older | o | older | | Reads older lines.
back_daybook | escape | bench | | Back to the bench.
-- plan
change | enter | change | | Opens the prompt with this rule or setting.
switch_off | x | off or on | | Switches the rule off, which asks why, or on again.
find | slash | find | | Shows only rules and settings with the words typed; changed shows what you
    changed.
theme | m | theme | | Light, dark, high contrast, dim red.
back_plan | escape | bench | | Back to the bench.
-- supplies
read_on | space | read on | | Reads on, if the page is longer than the screen; b reads back.
back_reading | escape | bench | | Back to the bench.
-- away
leaving | l | leaving | | Asks when you leave.
return | r | return | | Asks when you are back.
read_on | space | read on | | Reads on, if the page is longer than the screen; b reads back.
back_reading | escape | bench | | Back to the bench.
-- laying
read_on | space | read on | | Reads on, if the page is longer than the screen; b reads back.
back_reading | escape | bench | | Back to the bench.
-- broods
open_brood | enter | open | | All the numbers of the highlighted brood, founder or species.
plan_pairing | p | plan a pairing | | Opens the prompt with a pairing begun; the page shows how
    related they are.
back_broods | escape | bench | | Back to the bench.
-- brood
as_table | v | numbers | | Shows every plot as a table of numbers; again draws it.
plan_pairing | p | plan a pairing | | Opens the prompt with a pairing begun; the page shows how
    related they are.
read_on | space | read on | | Reads on, if the page is longer than the screen; b reads back.
back_brood | escape | broods | | Back to the pedigree.
-- calculator
ask_calculation | enter | calculate | | Asks for a calculation and its inputs.
read_on | space | read on | | Reads on, if the page is longer than the screen; b reads back.
back_reading | escape | bench | | Back to the bench.
-- map
answer_next | enter | answer | | Asks the most urgent check of the highlighted container.
round | r | round | | Begins the round, or goes on; 15 before it: in so many minutes, what saves
    most.
card | c | card | | Opens the card of the highlighted container on a screen of its own.
back_map | m,escape | list | | Back to the list, at the same container.
as_table | v | table | | Shows the map as a table, or draws it again.
find | slash | find | | Goes to the next container that has the words typed.
ask_ants | a | barrier | | Asks about the ant barrier of the container or its shelf.
-- ahead
do | enter | do it | | Does what the highlighted line wants: its check, the round, or unfolds what
    is past.
nearer | left | nearer | | Shows a shorter time.
further | right | further | | Shows a longer time, up to six weeks.
only_changes | f | animals | | Shows only what animals will do; again shows deadlines too.
as_table | v | table | | Shows the drawing as a table of days and hours, and back.
why | w | why | | Shows what the highlighted line rests on; again folds it.
what_came | c | what came | | Shows what came beside what was expected, and how well forecasts
    did.
back_reading | escape | bench | | Back to the bench.
-- learned
take_over | enter | take over | | Takes the highlighted offer over into the plan; undone like any
    line.
decline | x | do not ask again | | Hides the offer until there is twice the evidence.
back_reading | escape | bench | | Back to the bench.
-- short round
begin | enter | begin | | Begins the round with what is taken here; the rest follows if time is
    left.
more_minutes | right | longer | | Five minutes more.
fewer_minutes | left | shorter | | Five minutes less.
all_stops | a | all stops | | Begins the round with all its stops.
read_on | space | read on | | Reads on, if the page is longer than the screen; b reads back.
back_reading | escape | bench | | Back to the bench.
-- batches
read_on | space | read on | | Reads on below, if there is more than its room holds.
back_reading | escape | bench | | Back to the bench.
"""


def _actions() -> Iterator[Action]:
    for part in _TABLE.split("\n-- ")[1:]:
        scope, _, table = part.partition("\n")
        for name, key, label, words, about in table_rows(table):
            known = name.removeprefix("> ")
            does = known if known == name else f"open_page('{known}')"
            yield Action(known, key, label, words or label, about, cast("Scope", scope), does)


ACTIONS = tuple(_actions())


# Of a line while it is typed, where every letter is one of its words.
TYPING = tuple(
    Action(label, key, label, label, "", "everywhere", "")
    for key, label in (
        ("enter", "write it"),
        ("escape", "leave"),
        ("up", "earlier lines"),
        ("tab", "complete"),
    )
)


def typing_words(does: str) -> tuple[Action, ...]:
    """Of a few words while they are typed; ``does`` is what Enter does with them."""
    return replace(TYPING[0], label=does), TYPING[1]


def scopes_of(screen: Scope) -> tuple[Scope, ...]:
    """The scopes of a screen, its own last."""
    if screen in ("bench", "daybook"):
        return ("everywhere", "list", screen)
    return ("everywhere", screen) if screen in SCREENS else (screen,)


SCREENS: tuple[Scope, ...] = get_args(Scope)
SCREENS = tuple(scope for scope in SCREENS if scope not in ("everywhere", "list"))


def actions_of(*scopes: Scope) -> tuple[Action, ...]:
    """The actions of those scopes, scope by scope."""
    return tuple(action for scope in scopes for action in ACTIONS if action.scope == scope)


KEY_SIGNS = {
    "question_mark": "?",
    "exclamation_mark": "!",
    "slash": "/",
    "full_stop": ".",
    "comma": ",",
    "minus": "-",
    "semicolon": ";",
    "apostrophe": "'",
    "equals_sign": "=",
    "escape": "Esc",
}


def sign_of(key: str) -> str:
    """The key as it stands on the keyboard, one with a name by it; the first where there are
    two."""
    first = key.split(",")[0] or key
    is_named = len(first) > 1 and first.isalpha()
    return KEY_SIGNS.get(first, first.capitalize() if is_named else first)
