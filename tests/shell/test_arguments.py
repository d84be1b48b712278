"""What a short command takes of its arguments without the parser is what the parser takes of them."""

from __future__ import annotations

import pytest

from rounds.shell.arguments import parser_of
from rounds.shell.commands import plainly_said

PLAIN = (
    "due",
    "due --json",
    "due --within 2h --exit-code",
    "due --within=90m --json --book B",
    "--book A due --book B --by KM",
    "--by=KM --book=A due",
    "log L2 drank -20m",
    "log --book B --by KM L2 drank --json",
    "log --by=KM - x",
    "log -",
    "log due",
    "--book log log L2 drank",
)
FOR_THE_PARSER = (
    "",
    "--book B",
    "due --help",
    "due -h",
    "due --jso",
    "due --within",
    "due --within -2h",
    "due --json=1",
    "due K7",
    "log",
    "log --",
    "log -- L2 drank",
    "log --book",
    "log -20m L2",
    "log --book B",
    "check",
    "due --book -x",
)


@pytest.mark.parametrize("line", PLAIN)
def test_plain_arguments_say_what_the_parser_reads(line: str) -> None:
    words = line.split()
    mine, parsed = plainly_said(words), parser_of(words).parse_args(words)
    assert mine is not None
    ours, theirs = vars(mine).copy(), vars(parsed).copy()
    assert ours.pop("do").__qualname__ == theirs.pop("do").__qualname__
    assert ours == theirs


@pytest.mark.parametrize("line", FOR_THE_PARSER)
def test_all_others_are_left_to_the_parser(line: str) -> None:
    assert plainly_said(line.split()) is None
