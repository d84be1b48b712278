"""What a command prints as data: one JSON object that says what it is and in which version.

The version goes up where a name is taken away or comes to mean something else; new names may come
without. The guide's page ``json`` says what each name means.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from rounds.views.words import json_safe

VERSIONS = {"due": 1, "check": 1, "calc": 1, "merge": 1, "temperatures": 1}


def as_json(command: str, body: Mapping[str, Any]) -> str:
    """The data of a command under its format and version; no sign in it is obeyed by a terminal."""
    whole = {"format": f"rounds {command}", "version": VERSIONS[command], **body}
    return json_safe(json.dumps(whole, ensure_ascii=False, indent=1, allow_nan=False))
