"""More eggs or larvae than are on record, where a count has found them: ``E5 2 more eggs``."""

from __future__ import annotations

import re

from rounds import late
from rounds.bench.state import Bench
from rounds.checks.rule import LAYING_OR_PAIRING
from rounds.entries.validation import alike_in

_MORE = late.pattern(
    r"(?P<code>\S+)\s+(?:counted\s+)?(?P<number>\d+)\s+more\s+"
    r"(?P<kind>eggs?|larvae?|caterpillars?|L(?P<instar>[1-9]))(?=\s|$)",
    re.IGNORECASE,
)


def more_counted(bench: Bench, text: str) -> str:
    """The line as a count of all that are there then; any other line stays as it is. Beside females
    and kept stems eggs are found by a search."""
    more = _MORE.match(text.strip())
    if more is None:
        return text
    code = alike_in(more["code"], bench.containers)
    container = bench.at(code)
    if container is None:
        return text
    is_egg, instar = more["kind"].casefold().startswith("egg"), int(more["instar"] or 0)
    lots = container.lots_of("egg" if is_egg else "larva")
    there = sum(lot.number for lot in lots if not instar or lot.instar == instar)
    laid_here = container.females or container.held or container.purpose in LAYING_OR_PAIRING
    if not there or len({lot.brood for lot in lots}) > 1 or (is_egg and laid_here):
        return text
    number = there + int(more["number"])
    return f"{code} counted {number} {more['kind']}{text.strip()[more.end() :]}"
