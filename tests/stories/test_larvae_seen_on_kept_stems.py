"""Young larvae under kept stems are said at the prompt as they are seen."""

from __future__ import annotations

import pytest

from rounds.views.kept_chance import calculated_as
from tests.stories.telling import Story
from tests.stories.telling import shown as card


@pytest.fixture
def stems(story: Story) -> Story:
    """Stems of one female kept in a store, and nobody found an egg on them."""
    story.at("2027-05-10 08:00").type("L2 1 female Papilio machaon on fennel")
    story.at("2027-05-12 08:00").type(
        "S2 set up host store", "L2 host changed fennel", "L2 moved kept stems to S2"
    )
    return story.at("2027-05-24 08:00")


@pytest.mark.parametrize(
    "line",
    [
        "S2 hatched 3",
        "S2 counted 3 larvae",
        "S2 3 larvae",
        "S2 3 L1",
        "S2 three young larvae",
        "S2 hatched 3 on kept stems",
        "S2 3 larvae yesterday 19:00",
    ],
)
def test_they_are_of_the_females_that_stood_there(stems: Story, line: str) -> None:
    stems.type(line)
    (lot,) = stems.desk.bench.at("S2").lots
    assert (lot.number, lot.stage, lot.brood) == (3, "larva", "PAP-27-01/A")
    assert stems.desk.bench.at("S2").held, "the rest may hatch yet"
    stems.type("S2 moved 3 larvae to new R5")
    assert stems.desk.bench.at("R5").count("larva") == 3


def test_a_key_says_the_same(stems: Story) -> None:
    other = stems.elsewhere()
    other.at("2027-05-10 08:00").type("L2 1 female Papilio machaon on fennel")
    other.at("2027-05-12 08:00").type(
        "S2 set up host store", "L2 host changed fennel", "L2 moved kept stems to S2"
    )
    other.at("2027-05-24 08:00").type("S2 frass trace lot=1", "S2 3 larvae")
    stems.type("S2 3 larvae")
    kinds = [
        [line["what"] for line in one.on_disk() if line["at"] >= "2027-05-24"]
        for one in (stems, other)
    ]
    assert sorted(kinds[0]) == sorted(kinds[1])


def test_moved_before_they_are_said_names_both_lines(stems: Story) -> None:
    asked = stems.refused("S2 moved 3 larvae to new R5")
    assert "first S2 3 larvae, then S2 moved 3 larvae to new R5" in asked


def test_under_which_of_several_is_asked_and_each_line_that_is_named_works(stems: Story) -> None:
    stems.type("L2 host changed fennel", "L2 moved kept stems to S2")
    asked = stems.refused("S2 3 larvae")
    assert "S2 3 larvae lot 1" in asked
    assert "S2 frass trace, then S2 3 larvae" in asked
    stems.type("S2 3 larvae lot 1")
    assert stems.desk.bench.at("S2").count("larva") == 3
    assert len(stems.desk.bench.at("S2").held) == 2


def test_a_count_of_larvae_on_record_stays_a_count(stems: Story) -> None:
    stems.type("S2 3 larvae", "S2 2 larvae")
    assert stems.on_disk()[-1]["what"] == "counted"


@pytest.fixture
def first_larvae(story: Story) -> Story:
    """Stems of two females kept in S3, and the first three larvae of them moved into R6."""
    story.at("2027-05-14 07:10").type("L3 2 females Boloria dia on violet")
    story.at("2027-05-16 07:11").type("L3 host changed violet", "L3 kept stems to new S3")
    story.at("2027-05-24 07:41").type("S3 3 larvae")
    story.at("2027-05-24 07:42").type("S3 moved 3 larvae to new R6")
    return story


async def test_the_rest_stays_on_watch(first_larvae: Story) -> None:
    assert "turn" not in first_larvae.due("S3"), "what showed has its larvae"
    shown = await card(first_larvae, "S3")
    assert "keep until" in shown
    assert "S3, empty" not in str(first_larvae.shell("shelves").out)
    for day in (25, 27):
        first_larvae.at(f"2027-05-{day} 19:30")
        assert "frass" in first_larvae.due("S3")
        first_larvae.type("S3 frass none")
    first_larvae.at("2027-05-27 19:40").type("S3 frass trace")
    assert "turn" in first_larvae.due("S3"), "frass seen again asks for larvae again"
    assert "has shown frass" in first_larvae.refused("S3 kept stems discarded")


@pytest.mark.parametrize("line", ["S3 2 larvae", "S3 hatched 2", "S3 2 more larvae"])
def test_later_ones_join_the_brood(first_larvae: Story, line: str) -> None:
    first_larvae.at("2027-05-27 07:40").type(line)
    (lot,) = first_larvae.desk.bench.at("S3").lots
    (earlier,) = first_larvae.desk.bench.at("R6").lots
    assert (lot.number, lot.stage, lot.brood) == (2, "larva", earlier.brood)
    assert len(first_larvae.desk.bench.at("S3").held) == 1
    first_larvae.type("S3 moved 2 larvae to R6")
    assert first_larvae.desk.bench.at("R6").count("larva") == 5


@pytest.mark.parametrize("line", ["S2 1 more larva", "S2 hatched 1", "S2 one more larva"])
def test_one_more_of_the_same_morning_is_added(stems: Story, line: str) -> None:
    stems.type("S2 3 larvae", line)
    assert stems.desk.bench.at("S2").count("larva") == 4
    assert {lot.brood for lot in stems.desk.bench.at("S2").lots} == {"PAP-27-01/A"}


async def test_the_key_of_the_stop_says_it_twice(story: Story) -> None:
    story.at("2027-05-14 07:10").type("L3 2 females Boloria dia on violet")
    story.at("2027-05-16 07:11").type("L3 host changed violet", "L3 kept stems to new S3")
    for day in (24, 27):
        story.at(f"2027-05-{day} 07:41").type("S3 frass trace")
        async with story.screens() as screen:
            await screen.press("r")
            await screen.walk_to("turn", "S3")
            await screen.press("2", "y")
        assert "turn" not in story.due("S3")
        story.type("S3 moved 2 larvae to new R6" if day == 24 else "S3 moved 2 larvae to R6")
    assert len(story.desk.bench.at("S3").held) == 1
    assert story.desk.bench.at("R6").count("larva") == 4
    assert len({lot.brood for lot in story.desk.bench.at("R6").lots}) == 1


async def test_larvae_of_eggs_that_were_found_end_the_alarm_and_not_the_watch(story: Story) -> None:
    story.at("2027-05-14 07:10").type("L3 2 females Boloria dia on violet")
    story.at("2027-05-16 07:11").type("L3 host changed violet", "L3 kept stems to new S3")
    story.at("2027-05-16 07:30").type("S3 searched 4 on violet")
    story.at("2027-05-24 07:41").type("S3 frass trace")
    async with story.screens() as screen:
        await screen.press("r")
        await screen.walk_to("turn", "S3")
        await screen.press("2", "y")
    assert "turn" not in story.due("S3")
    bench = story.desk.bench.at("S3")
    assert (bench.count("egg"), bench.count("larva"), len(bench.held)) == (2, 2, 1)


def chance_told(story: Story, code: str) -> tuple[float, str]:
    """The chance of live eggs on the one lot that is kept there, and until when to keep it."""
    bench = story.desk.bench
    (held,) = bench.at(code).held
    chance = story.desk.foresight.chance(bench.at(code), held, story.clock.now)
    return chance.chance, str(chance.keep_until)


def test_the_first_larvae_make_more_likelier(story: Story) -> None:
    story.at("2027-05-14 07:10").type("room air 20C", "L3 2 females Boloria dia on violet")
    story.at("2027-05-15 07:11").type("L3 host changed violet", "L3 kept stems to new S3")
    story.at("2027-05-21 07:40").type("S3 frass none")
    story.at("2027-05-22 07:40")
    before, keep_before = chance_told(story, "S3")
    story.type("S3 3 larvae", "S3 moved 3 larvae to new R6")
    after, keep_after = chance_told(story, "S3")
    assert after > before + 0.1
    assert keep_after >= keep_before
    for day in range(23, 32):
        story.at(f"2027-05-{day} 07:40").type("S3 frass none")
    for day in range(1, 9):
        story.at(f"2027-06-0{day} 07:40").type("S3 frass none")
    assert chance_told(story, "S3")[0] < 0.05, "looks that see nothing more bring it down"


def test_the_calculator_says_the_same(first_larvae: Story) -> None:
    bench = first_larvae.desk.bench
    (held,) = bench.at("S3").held
    chance = first_larvae.desk.foresight.chance(bench.at("S3"), held, first_larvae.clock.now)
    assert "--larvae 3 " in calculated_as(chance)
    told = first_larvae.shell("calc", "hidden-eggs", *calculated_as(chance).split()).out
    assert f"{chance.chance:.3g}" in told
    assert "the higher chance is told" in told
