"""All of what is not there is refused by what is there, in no number that nobody typed; and what is offered can be typed."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
R3 set up rearing
Q6 20 L4 Pieris napi
P7 6 pupae Pieris napi
K4 2 females Pieris napi on nettle
"""


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("P7 released all", "all released, but P7 holds no adults; it holds 6 pupae of"),
        ("R3 all dead", "all died, but R3 holds nothing"),
        ("K4 all eggs moved to R3", "all moved, but K4 holds no eggs; it holds 1 female"),
        ("Q6 all dead 13 May 08:00", "Q6 was set up later, on Fri 14 May 18:05"),
        ("P7 all pupae dead 14 May 18:00", "all died, but P7 holds nothing"),
        ("Q6 all settled dead", "Q6 has 0 not seen"),
        ("K4 sexed all female", "K4 holds no adults whose sex is not known"),
        ("Q6 paired", "Q6 holds no adults on record"),
        ("R3 all L4", "R3 holds no larvae on record"),
        ("K4 all female", "all of what, or what happened to them?"),
    ],
)
def test_it_says_what_is_there(story: Story, line: str, told: str) -> None:
    story.at("2027-05-14 18:00").type("P7 set up pupation")
    tell(story.at("2027-05-14 18:05"), BENCH)
    story.at("2027-05-15 08:00")
    refused = story.refused(line)
    assert told in refused
    assert "number is 0" not in refused


def test_all_that_were_missing_are_settled(story: Story) -> None:
    tell(story, BENCH)
    story.later(days=1).type("Q6 counted 17")
    story.type("Q6 settled all dead")
    assert story.desk.bench.shortfalls == []
