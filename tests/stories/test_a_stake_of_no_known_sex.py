"""What is at stake names no female that is a male, or may be one."""

from __future__ import annotations

from tests.stories.telling import Story


def test_a_lone_male_puts_no_female_at_stake(story: Story) -> None:
    story.type("R8 1 male Boloria dia")
    story.later(hours=30)
    assert "0 females" not in str(story.due("R8"))


def test_of_those_left_nobody_knows_the_sex(story: Story) -> None:
    story.type("R7 3 females Boloria dia on violet", "R7 2 males Boloria dia")
    story.type("R7 died 1 not known which")
    story.later(hours=30)
    told = str(story.due("R7")["drink"])
    assert "4 females at stake" not in told
    assert "4 adults that may be females at stake" in told
