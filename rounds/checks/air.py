"""Air for eggs in a closed tub."""

from __future__ import annotations

from msgspec.structs import replace

from rounds.checks.answers import LID_OPENED
from rounds.checks.base import Check, Helped, Value
from rounds.checks.question import Question
from rounds.checks.rule import Rule, hours

CHECK = Check(
    name="air",
    help="Eggs in a closed tub want air every day or two.",
    value=Value(30, 0.05, 0.002),
    severity=1,
    place=225,
    answered_by=("lid opened", "misted"),
    disturbs=True,
    along=True,
    rules=(
        Rule(
            ("eggs",),
            "egg",
            **hours(48, late=60, urgent=72),
            basis=(
                "lid opened or looked at daily: Bohart Museum of Entomology; Wildflower Rescue"
                " Society; University of Kansas monarch programme; asked along from a day on if"
                " somebody stands there anyway, by itself after two; hours: our estimate"
            ),
        ),
    ),
    question=Question("Did you open the lid for air?", (replace(LID_OPENED, usual=True),)),
    helped=(Helped("Lift the lid for a minute.", opens=True),),
)
