"""A species that rests in summer gets no date from warmth in that stage, as one that winters in it; the keeper's own date is told."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BENCH = """
taxon 'Nova aestiva' rests_in_summer_as=pupa
room air 24C
brood A-1/A taxon='Nova aestiva'
R1 set up rearing
R1 stocked 6 L5 A-1/A
"""


def changes(story: Story, code: str) -> dict[str, object]:
    found = story.desk.foresight.coming(story.desk.bench.containers[code])
    return {one.change: one for one in found}


def wait_for_months(story: Story) -> None:
    for _ in range(12):
        story.later(days=10).type("room air 24C")


def test_its_pupae_have_no_date_and_are_not_late(story: Story) -> None:
    tell(story, BENCH)
    assert "pupation" in changes(story, "R1")
    story.later(days=3).type("R1 pupated 6")
    assert not changes(story, "R1"), "its pupae rest"
    wait_for_months(story)
    assert "emerge?" not in story.shell("due").out
    story.type("R1 expected emergence on 2027-09-20 until 2027-10-05")
    assert "emergence" in changes(story, "R1")


def test_of_others_they_are_late_by_then(story: Story) -> None:
    tell(story, BENCH.replace(" rests_in_summer_as=pupa", " instars=5"))
    story.later(days=3).type("R1 pupated 6")
    assert changes(story, "R1")
    wait_for_months(story)
    assert "emerge?" in story.shell("due").out


def test_the_calculator_says_that_the_bench_gives_none(story: Story) -> None:
    tell(story, BENCH)
    asked = ("calc", "forecast", "--species", "nova aestiva", "--temperature", "20")
    told = story.shell(*asked, "--stage", "pupa").out
    assert "it rests as pupa in summer, as the keeper says: the bench gives no date" in told
    assert "it rests" not in story.shell(*asked, "--stage", "egg").out


def test_larvae_that_rest_moult_but_have_no_date_for_pupation(story: Story) -> None:
    tell(story, BENCH.replace("=pupa", "=larva").replace("6 L5", "6 L3"))
    found = story.desk.foresight.coming(story.desk.bench.containers["R1"])
    moult, pupation = sorted(found, key=lambda one: one.change)
    assert moult.half is not None
    assert pupation.half is None
    assert "its larvae rest in summer" in pupation.why_not


async def test_a_larva_alone_of_a_kind_that_lives_together(story: Story) -> None:
    tell(story, BENCH.replace("rests_in_summer_as=pupa", "gregarious"))
    story.type("R2 set up rearing", "R1 moved 1 larva to R2")
    async with story.screens(size=(160, 60)) as screen:
        screen.highlight("R2")
        await screen.pilot.pause()
        assert "one is alone here and does badly" in screen.card
        screen.highlight("R1")
        await screen.pilot.pause()
        assert "leave the clutch together" in screen.card
