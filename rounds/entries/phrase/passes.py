"""The way of a line to the kind that it says: what is said in short, joined, or in a keeper's own
words becomes words that are read one by one. Each pass reads the words as those before it left
them, and leaves a line alone that is not of its sort."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from rounds.entries.base import Entry
from rounds.entries.phrase.as_shown import as_shown
from rounds.entries.phrase.back_again import back_again, whose_is_back
from rounds.entries.phrase.behind_a_parasitoid import set_state_aside
from rounds.entries.phrase.beside_a_look import beside_a_look
from rounds.entries.phrase.carriage import set_carriage_aside
from rounds.entries.phrase.condition import (
    set_condition_aside,
    set_looks_aside,
    set_some_of_the_dead_aside,
)
from rounds.entries.phrase.counted_in_words import more_counted, so_many_left
from rounds.entries.phrase.cut_now import fresh_is_cut_now
from rounds.entries.phrase.drinkers import name_the_unmarked, some_refused
from rounds.entries.phrase.failed_wings import failed_wings
from rounds.entries.phrase.into_others import eggs_cut_off, goes_into, merged_into, split_up
from rounds.entries.phrase.killed_for import refuse_killed_for
from rounds.entries.phrase.leftover import ask_of_bare_day, day_of_catch
from rounds.entries.phrase.moved_stems import stems_kept_there, stems_moved
from rounds.entries.phrase.new_cups import read_new_cups
from rounds.entries.phrase.now_in_instar import instar_of_the_missing, now_in_instar
from rounds.entries.phrase.on_kept_stems import kept_are_stems
from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.record_words import name_what_is_said
from rounds.entries.phrase.same_again import more_of_those_there, one_more
from rounds.entries.phrase.short_forms import InFull, say_in_full
from rounds.entries.phrase.some_in_diapause import some_in_diapause
from rounds.entries.phrase.spelling_out import spell_out
from rounds.entries.phrase.time_span import set_span_aside
from rounds.entries.phrase.unsure_eggs import unsure_eggs
from rounds.entries.phrase.vessels import set_vessel_aside
from rounds.entries.phrase.young_larvae import young_larvae_seen
from rounds.entries.registry import (
    Died,
    Drank,
    Emerged,
    FoodRefused,
    FounderIntake,
    HostIn,
    Parasitoid,
    Preserved,
    Released,
    Searched,
    Settled,
    SetUp,
    Stocked,
)

Pass = Callable[[Reader], None]

# Whole lines of one container, of which the first that fits is taken.
_WHOLE_LINES: Final[Sequence[InFull]] = (
    young_larvae_seen,  # 'S2 hatched 3' of eggs, kept stems or a female
    more_counted,  # 'R2 1 more pupa' as pupated, else as a count of all
    now_in_instar,  # 'R2 8 are L4' as moulted
    so_many_left,  # 'R1 7 left' as counted; 'E2 hatched 10, 2 left' as hatched
    failed_wings,  # 'P2 1 crippled' as an emergence told anew
    back_again,  # 'K3 caught again' as settled
    some_in_diapause,  # 'R1 all in diapause' as the box's
)


def _whole_lines(reader: Reader) -> None:
    say_in_full(reader, _WHOLE_LINES)


# What takes which words, and gives which: before anybody knows what happened.
BEFORE_THE_VERB: Final[Sequence[Pass]] = (
    as_shown,  # 'feeder put off until 18:00, dark' as 'put off check=feeder ... why=dark'
    set_some_of_the_dead_aside,  # '2 dead, one black' as '2 dead'; the rest is a note
    spell_out,  # '12eggs', '1f 1m', 'overnight', 'K2 she is dead', '27 degrees'
    more_of_those_there,  # 'K2 another dead' as 'K2 1 dead', 'one more egg' as '1 more egg'
    one_more,  # 'K2 1 more worn female' as 'K2 another female'; worn is a note
    unsure_eggs,  # 'maybe 6' as '6 unsure'
    whose_is_back,  # 'LYC-27-01 caught again' as 'K3 LYC-27-01 caught again'
    beside_a_look,  # 'fine, 60 eggs' as '60 eggs'; the look goes beside it
    _whole_lines,
    read_new_cups,  # 'to new R8' as 'to R8', which is set up before
    stems_moved,  # 'move K2 stems to B2' as 'K2 kept stems to B2'
    stems_kept_there,  # 'host out violet kept in the fridge' as 'host out violet kept'
    eggs_cut_off,  # 'K2 84 eggs cut off into E2' as 'K2 moved 84 eggs to E2'
    merged_into,  # 'E6 merged into E4' as 'E4 merged from E6'
    split_up,  # 'R2 split 8 L1 to H2, 7 L1 to H3' as 'R2 split L1 into H2,H3 8,7'
    goes_into,  # 'R1 8 larvae to R3' as 'R1 moved 8 larvae to R3'
    some_refused,  # 'drank 2, 1 refused' as 'drank 2'; who refused goes beside it
)

# The same of what a kind alone may say, once it is known: of the words that are still to be read.
OF_A_KIND: Final[Mapping[type[Entry], Sequence[Pass]]] = {
    FounderIntake: (
        set_span_aside,  # 'between 14:00 and 15:00' as '14:00'; both are a note
        set_carriage_aside,  # 'carried cool' is a note
        ask_of_bare_day,
        day_of_catch,
        name_what_is_said,  # 'collector FN' as 'collector=FN'
    ),
    Stocked: (set_span_aside, set_carriage_aside, name_what_is_said),
    Settled: (instar_of_the_missing,),  # 'found 1 L4' as 'found 1 larva'
    Died: (refuse_killed_for, set_looks_aside),  # '1 dead, black and soft'
    Emerged: (set_looks_aside,),  # '1 female out wings ok'
    Searched: (kept_are_stems,),
    Drank: (name_the_unmarked,),  # 'drank unmarked' as 'drank W3'
    FoodRefused: (name_the_unmarked,),
    Released: (set_condition_aside,),  # 'released 1 crippled' as 'released 1'
    Preserved: (set_condition_aside,),
    Parasitoid: (set_state_aside,),  # '14 Cotesia kept' as '14 Cotesia kept=14'
    HostIn: (fresh_is_cut_now,),  # 'fresh plantain' as 'plantain cut 08:00', the line's time
    SetUp: (set_vessel_aside,),  # 'set up rearing sleeve' as 'set up rearing'
}
