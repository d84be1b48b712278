"""What commands print for a script says what it is, in which version, and every name in it stands in the guide."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from tests.stories.telling import Story, tell


def names(data: Any) -> Iterator[str]:
    """Every name in it, but for the inputs of a calculation, which are named by it."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield name
            if name == "inputs":
                yield from (one for said in value.values() for one in said)
            else:
                yield from names(value)
    elif isinstance(data, list):
        for value in data:
            yield from names(value)


@pytest.mark.parametrize(
    ("words", "name"),
    [
        (("due", "--json", "--within", "9d"), "due"),
        (("check", "--json"), "found"),
        (("calc", "laying", "--eggs", "9", "--female-days", "3", "--json"), "figures"),
    ],
    ids=["due", "check", "calc"],
)
def test_it_says_what_it_is_and_the_guide_says_what_each_name_means(
    story: Story, words: tuple[str, ...], name: str
) -> None:
    tell(
        story, "K2 set up laying\nK2 founder A-1, Pieris orata female\nK2 host in cress leaf water"
    )
    story.reopen()
    for file in story.folder.glob("entries-*.jsonl") if words[0] == "check" else ():
        file.write_bytes(file.read_bytes() + b"no line\n")
    data = json.loads(story.shell(*words).out)
    assert (data["format"], data["version"]) == (f"rounds {words[0]}", 1)
    assert data[name]
    guide = story.shell("help", "json").out
    head, part = (
        guide.split("rounds due\n")[0].split("**rounds")[0],
        guide.split(f"rounds {words[0]}** ")[-1],
    )
    told = set(re.findall(r"\w+", head + part.split("**rounds")[0]))
    assert set(names(data)) <= told
