"""The end of a round tells all changes since the round before, and the eggs of all searches, not the last line alone."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def laying(story: Story) -> Story:
    story.at("2027-05-01 07:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W2 "Boloria lapidata" female
        K2 host in "Viola canina"
        """,
    )
    story.at("2027-05-01 18:10").plain([*["- later"] * 30, ""])
    return story.at("2027-05-02 07:05")


def end_of_round(story: Story) -> str:
    printed = story.plain(["- later"] * 40)
    told = "\n".join(printed)
    return told[told.index("Be back on") :]


def test_all_eggs_of_several_searches(story: Story) -> None:
    laying(story).type("K2 searched 4 on gauze")
    story.later(minutes=2).type("K2 searched 2 lens")
    story.later(minutes=2).type("K2 searched 0")
    printed = end_of_round(story)
    assert "K2 6 eggs found in 2 searches" in printed
    assert "2 found" not in printed


def test_one_search_is_told_as_it_was_said(story: Story) -> None:
    laying(story).type("K2 searched 4 on gauze")
    assert "K2 searched, 4 found, naked eye, on gauze" in end_of_round(story)


def test_a_search_that_found_none_after_one_that_did(story: Story) -> None:
    laying(story).type("K2 searched 4 on gauze")
    story.later(minutes=2).type("K2 searched 0")
    assert "K2 searched, 4 found" in end_of_round(story)


def test_what_was_found_before_the_last_round_is_not_told_again(story: Story) -> None:
    laying(story)
    story.at("2027-05-01 18:00").type("K2 searched 4 on gauze")
    story.at("2027-05-02 07:05").type("K2 searched 1")
    printed = end_of_round(story)
    assert "1 found" in printed
    assert "5 eggs found" not in printed


def test_each_death_is_told(story: Story) -> None:
    story.at("2027-05-01 06:00").type("R2 9 L4 Boloria lapidata on violet")
    laying(story).type("R2 1 pupated", "R2 2 L4 dead")
    story.later(minutes=2).type("R2 died 1 L4")
    printed = end_of_round(story)
    assert "R2 died 2 larvae" in printed
    assert "R2 died 1 larva" in printed
    assert "R2 pupated 1" in printed


def test_a_death_told_after_the_round_it_was_before(story: Story) -> None:
    story.at("2027-05-01 06:00").type("R2 9 L4 Boloria lapidata on violet")
    laying(story).type("R2 died 1 L4 2027-05-01 17:00")
    assert "R2 died 1 larva" in end_of_round(story)


def test_what_is_confirmed_is_told(story: Story) -> None:
    laying(story)
    story.at("2027-05-01 18:00").type("K2 searched 4 unsure")
    story.at("2027-05-02 07:05").type("K2 confirmed 4")
    assert "K2 searched, 4 confirmed" in end_of_round(story)
