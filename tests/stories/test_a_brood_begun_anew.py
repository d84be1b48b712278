"""A brood whose line was crossed out stands by its finds alone; its line can be said anew, and whose it is."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

CODE = "PIE-27-01/A"


@pytest.fixture
def crossed_out(story: Story) -> Story:
    story.at("2027-05-14 18:00").type("K2 2 females Pieris napi on garlic mustard")
    story.at("2027-05-16 18:30").type("K2 searched 5 of PIE-27-01")
    line = next(one["id"] for one in story.on_disk() if one["what"] == "brood")
    story.at("2027-05-17 18:30").type(f"struck {line}")
    return story


def mothers(story: Story) -> tuple[str, ...]:
    assert [lot.brood for lot in story.desk.bench.containers["K2"].lots_of("egg")] == [CODE]
    return story.desk.bench.broods[CODE].mothers


@pytest.mark.parametrize(
    ("line", "hers"),
    [
        (f"brood {CODE} mothers=PIE-27-01", ("PIE-27-01",)),
        (f"brood {CODE} taxon='Pieris napi' mothers=PIE-27-02", ("PIE-27-02",)),
        (f"brood {CODE}", ("PIE-27-01", "PIE-27-02")),
        (f"{CODE} is of PIE-27-02", ("PIE-27-02",)),
    ],
)
def test_its_line_is_said_anew(crossed_out: Story, line: str, hers: tuple[str, ...]) -> None:
    assert mothers(crossed_out) == ("PIE-27-01", "PIE-27-02")
    crossed_out.type(line, "undo")
    assert mothers(crossed_out) == ("PIE-27-01", "PIE-27-02")
    crossed_out.type(line)
    crossed_out.reopen()
    assert mothers(crossed_out) == hers
    assert crossed_out.shell("check").status == 0
    assert "was used before" in crossed_out.refused(f"brood {CODE}")


def test_what_cannot_be_is_refused(crossed_out: Story) -> None:
    assert "no founder or brood is called W9" in crossed_out.refused(f"brood {CODE} mothers=W9")
