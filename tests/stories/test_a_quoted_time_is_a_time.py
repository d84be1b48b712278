"""Words that the shell held together are a time where they read as one, and no part of a name or place."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.mark.parametrize(
    ("words", "at"),
    [
        (("K2", "drank", "yesterday 20:00"), "2027-04-30T20:00:00+02:00"),
        (("K2 drank", "06:30"), "2027-05-01T06:30:00+02:00"),
        (("K2 searched 3", "30 Apr 18:10"), "2027-04-30T18:10:00+02:00"),
        (("K2", "host in", "violet leaf", "Fri 08:00"), "2027-04-30T08:00:00+02:00"),
        (("K2", "searched", "3", "on", "violet", "Fri 08:00"), "2027-04-30T08:00:00+02:00"),
    ],
)
def test_a_time_in_quotes_is_when_it_happened(
    story: Story, words: tuple[str, ...], at: str
) -> None:
    story.at("2027-04-29 07:05").type(
        "K2 set up laying", 'K2 founder W2 "Boloria inventa"', "K2 host in violet"
    )
    story.at("2027-05-01 07:05")
    ran = story.shell("log", *words)
    assert ran.status == 0, ran.err
    told = story.on_disk()[-1]
    assert told["at"] == at
    assert told.get("where", "") == ""
    assert told.get("plant", "violet") == "violet"
