"""When the eggs of a find were laid goes by the searches and females that are on record now, whenever they were typed."""

from __future__ import annotations

from datetime import datetime

import pytest

from rounds.exchange.source import Source
from rounds.exchange.tables.tables import TABLES
from tests.stories.telling import Story

FOUND = (
    ("2027-05-14 18:00", "K2 1 female Pieris napi on nettle"),
    ("2027-05-17 18:30", "K2 searched 5"),
)


def laid(story: Story) -> list[str]:
    """Between when the eggs were laid by the tables of broods and of events, where they agree."""
    spans = []
    for name in ("broods", "events"):
        table = TABLES[name]
        for row in table.rows(Source(story.desk)):
            cells = dict(zip(table.headings, row, strict=True))
            if cells["brood"] == "PIE-27-01/A":
                spans.append((cells["laid from"], cells["laid to"]))
    assert len(set(spans)) == 1, spans
    return [f"{at:%d %H:%M}" for at in spans[0] if isinstance(at, datetime)]


@pytest.mark.parametrize(
    ("late", "span"),
    [
        (["K2 searched 0 17 May 08:00"], ["17 08:00", "17 18:30"]),
        (["K2 PIE-27-01 died 16 May 20:00"], ["14 18:00", "16 20:00"]),
        # she cannot have laid them since: that search missed them
        (
            ["K2 searched 0 16 May 08:00", "K2 PIE-27-01 died 15 May 08:00"],
            ["14 18:00", "15 08:00"],
        ),
    ],
)
def test_what_is_typed_after_the_find_narrows_it(
    story: Story, late: list[str], span: list[str]
) -> None:
    for at, line in FOUND:
        story.at(at).type(line)
    assert laid(story) == ["14 18:00", "17 18:30"]
    story.at("2027-05-18 08:00").type(*late)
    assert laid(story) == span
    assert story.shell("check").status == 0
    story.reopen()
    assert laid(story) == span


def test_the_only_one_was_gone_before_there_was_a_plant(story: Story) -> None:
    story.at("2027-05-14 18:00").type("K2 1 female Pieris napi")
    story.at("2027-05-15 18:00").type("K2 host in nettle")
    story.at("2027-05-17 18:30").type("K2 searched 5")
    story.at("2027-05-18 08:00").type("K2 PIE-27-01 died 14 May 20:00")
    told = story.shell("check").out
    mends = "K2 eggs are of PIE-27-01 2027-05-17 18:30"
    assert "PIE-27-01 was there no more, nor any other female" in told
    assert f"as: {mends}" in told
    story.type(mends)
    assert story.shell("check").status == 0
    assert laid(story) == ["14 18:00", "14 20:00"]
