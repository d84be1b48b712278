"""What a desk's outcome comes to for a script: a record, or a refusal that is raised."""

from __future__ import annotations

from rounds.app.desk import Desk, Outcome
from rounds.app.desk import Recorded as DeskSaid
from rounds.app.desk import Refusal as DeskRefused
from rounds.scripting.results import Recorded, Refused


def recorded(desk: Desk, outcome: Outcome) -> Recorded:
    """What an outcome recorded.

    Raises:
        Refused: it recorded nothing, or it could not be saved; then it is not saved later either.
    """
    if isinstance(outcome, DeskSaid):
        entries = outcome.entries
        text = desk.told(list(entries))
        return Recorded(tuple(entry.id for entry in entries), text, entries[-1].at)
    if isinstance(outcome, DeskRefused):
        raise Refused(outcome.line)
    desk.unsaved.give_up()
    raise Refused(f"not saved: {outcome.line}")
