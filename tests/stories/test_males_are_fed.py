"""Males drink too: who drank is counted of all adults that take food."""

from __future__ import annotations

from tests.stories.telling import Story, tell

MIXED = """
brood MV taxon='Macroglossum vernum'
W2 set up pairing
W2 stocked 3 adults MV female
W2 stocked 2 adults MV male
"""


def test_a_cage_of_males_only_can_answer_for_its_drink(story: Story) -> None:
    tell(
        story,
        "brood MV taxon='Macroglossum vernum'\nW3 set up holding\nW3 stocked 2 adults MV male",
    )
    story.later(days=1, hours=1)
    assert story.due("W3")["drink"]["standing"] == "late"
    story.type("W3 drank 2 by hand")
    assert "drink" not in story.due("W3")
    story.later(days=1, hours=1).type("W3 refused 1", "W3 drank")
    assert "drink" not in story.due("W3")


def test_with_three_females_and_two_males_four_may_drink_and_one_is_left(story: Story) -> None:
    tell(story, MIXED)
    story.later(hours=13).type("W2 drank 4 by hand")
    assert "drink" in story.due("W2")
    story.later(minutes=10).type("W2 drank 1")
    assert "drink" not in story.due("W2")
    assert "W2 holds 5" in story.refused("W2 drank 6")


def test_so_many_of_all_that_stand_there(story: Story) -> None:
    tell(story, MIXED)
    story.type("W2 drank 5 of 5", "W2 drank 3 of 3")
    assert "holds 5 adults" in story.refused("W2 drank 2 of 4")


def test_an_adult_that_takes_no_food_is_not_waited_for(story: Story) -> None:
    tell(
        story,
        f"taxon 'Saturnia alta' no_adult_food\nbrood SA taxon='Saturnia alta'\n{MIXED}\nW2 stocked 2 adults SA female",
    )
    story.later(hours=13).type("W2 drank 5")
    assert "drink" not in story.due("W2")


async def test_the_list_and_the_question_are_of_all_of_them(story: Story) -> None:
    tell(story, f"{MIXED}\nW3 set up pairing\nW3 stocked 2 adults MV male")
    story.later(hours=13).type("W2 drank 4")
    async with story.screens() as screen:
        assert "4 of 5" in screen.text
        assert "not yet" in screen.text
        screen.highlight("W3")
        await screen.press("d")
        assert "W3" in screen.message
    assert story.on_disk()[-1]["container"] == "W3"
    story.later(hours=13)
    printed = "\n".join(story.plain(["-", "-", "-", "-"]))
    assert "Did they drink?" in printed
