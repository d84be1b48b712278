"""Stems on which a female sat after their last search are not discarded, however unlikely eggs are by her other days."""

from __future__ import annotations

from tests.stories.telling import Story, tell

CUPS = ("K2", "K3", "K4", "K5", "K6", "K7", "K8", "K9")


def of_idle_females(story: Story) -> Story:
    """Eight females that laid none in sixteen days of searches; the stems of the first came out half a day after the last."""
    story.at("2027-06-01 08:00")
    for code in CUPS:
        tell(
            story,
            f"{code} set up laying\n{code} founder W{code[1]} 'Boloria lapidata' female\n{code} host in viola water",
        )
    for day in range(2, 18):
        story.at(f"2027-06-{day:02} 08:00")
        for code in CUPS:
            story.type(f"{code} drank", f"{code} searched 0")
    story.at("2027-06-16 08:30").type("K2 host changed, old kept")
    for day in (18, 19):
        story.at(f"2027-06-{day:02} 09:00").type("K2 drank", "K2 searched 0")
    return story


def test_they_wait_for_a_search_and_may_go_after_it(story: Story) -> None:
    of_idle_females(story)
    story.at("2027-06-19 21:00").type("K2 host out held")
    told = story.refused("K2 host out discarded lots=2")
    assert "lot 2" in told or "viola" in told, told
    assert "was not searched since a female sat on it: search it" in told, told
    story.type("K2 searched 0 lot=2")
    story.type("K2 host out discarded lots=2")
    assert [held.number for held in story.desk.bench.containers["K2"].held] == [1]


def test_a_look_lets_them_go_only_past_when_the_last_may_hatch(story: Story) -> None:
    """A cluster was laid on such stems on their last day; one look, once half of any species' eggs should have hatched but days
    before these were to, let them go: nobody can see frass of what has not hatched."""
    of_idle_females(story)
    story.at("2027-06-19 21:00").type("K2 host out held", "K2 host out lots=1 discarded sure")
    for _ in range(8):
        story.later(hours=24).type("K2 frass none lot=2")
    assert "search it" in story.refused("K2 host out discarded lots=2")
    for _ in range(12):
        story.later(hours=24).type("K2 frass none lot=2")
    story.type("K2 host out discarded lots=2")
