"""What a desk says of entries: of those just recorded, undone or not told yet, in a line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import tzinfo

from rounds import late
from rounds.bench.measures import Measures
from rounds.bench.plurals import count
from rounds.bench.state import Oddity
from rounds.entries.base import Entry
from rounds.entries.registry import CrossedOut, Imported
from rounds.entries.wording import saying_among
from rounds.grouping import grouped

MAX_TOLD = 8  # lines crossed out at once that are told one by one


def entries_words(
    entries: Sequence[Entry],
    turned: Callable[[], Iterable[Entry]],
    measures: Measures,
    aside: Callable[[Entry], str],
) -> str:
    """What entries say; a strike says what it struck.

    Args:
        turned: those among which strikes find what they crossed out.
        aside: what there is to say beside an entry, in brackets.
    """
    strikes = [one for one in entries if isinstance(one, CrossedOut)]
    known = {one.id: one for one in turned()} if strikes else {}
    said = [f"{saying_among(entry, known, measures)}{aside(entry)}" for entry in entries]
    said = list(dict.fromkeys(said)) if strikes else said
    if len(strikes) == len(entries) and len(said) > MAX_TOLD:
        said = [_in_one(said, entries, known)]
    return "; ".join(said) + _taken_back(entries, known)


def _in_one(said: Sequence[str], entries: Sequence[Entry], known: Mapping[str, Entry]) -> str:
    """That so many lines were crossed out or brought back, and the table that they came in with."""
    turned = [known[one.crosses_out] for one in entries if one.crosses_out in known]
    files = dict.fromkeys(one.file for one in turned if isinstance(one, Imported))
    of_files = f" of {' and '.join(files)}" if files else ""
    return f"{said[0].partition(':')[0]}: {len(entries):,} lines{of_files}"


def _taken_back(entries: Sequence[Entry], known: Mapping[str, Entry]) -> str:
    """That several lines of one crossing out, or bringing back, go at once, and whose; empty where
    no more than one does."""
    turned = (known.get(entry.crosses_out) for entry in entries)
    of_one = grouped((one.crosses_out, one) for one in turned if one and one.crosses_out)
    several = [one for lines in of_one.values() if len(lines) > 1 for one in lines]
    if not several:
        return ""
    who = " and ".join(dict.fromkeys(one.by for one in several if one.by)) or "nobody named"
    return f" ({len(several)} lines recorded otherwise, by {who}; all of them go)"


def undone_words(said: str, by: str) -> str:
    """That what was said last was crossed out, or brought back, by somebody else."""
    what = f"({said}) " if said else ""
    who = f" by {by}" if by else ""
    return (
        f"what was recorded last here {what}was undone already{who}; undo again for what was"
        " recorded before it"
    )


def misfits_words(misfits: Sequence[Oddity], last: Entry) -> str:
    """That entries, of which this is the last, make others, or themselves, fit no more."""
    later, more = ("later ", " any more") if isinstance(last, CrossedOut) else ("", "")
    do = f"1 {later}line does" if len(misfits) == 1 else f"{len(misfits)} {later}lines do"
    others = f", and {len(misfits) - 1} more" if len(misfits) > 1 else ""
    mend = "cross it out too, or bring this one back" if later else "cross out what is wrong"
    return f"{do} not fit{more}: {misfits[0].words}{others}; {mend}, in the daybook"


def future_words(waiting: Sequence[Entry], zone: tzinfo) -> str:
    """That entries do not count yet."""
    lines = count(len(waiting), "line is", "lines are")
    first = f"{waiting[0].at.astimezone(zone):%Y-%m-%d %H:%M}"
    return (
        f"{lines} of the future, from {first} on; nothing of it counts until then; cross out in the"
        " daybook what a wrong clock made"
    )


def no_check(check: str) -> str:
    """That no check has a name, and which is perhaps meant; empty where one has it."""
    from rounds.checks.registry import CHECKS

    if check in CHECKS:
        return ""
    labels = [known_check.label for known_check in CHECKS.values()]
    near = late.nearest(check, labels, 3)
    perhaps = f"perhaps {' or '.join(near)}" if near else f"there are {', '.join(labels)}"
    return f"no check is called {check}; {perhaps}"
