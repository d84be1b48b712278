"""What is asked at a stop fits what is there: one missing, a cup not to be disturbed, no food in."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

BENCH = """
K2 set up laying place=1
K2 founder MOR-27-01, Melitaea cinxia female
brood MOR-27-01/A mothers=MOR-27-01 laid_from=-20d laid_to=-20d
R4 set up rearing place=3
R4 host in plantain leaf water 4 sprigs
R4 stocked 9 L3 MOR-27-01/A
R4 looked
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """A brood of nine and a female without a plant, since eight in the morning."""
    story.at("2027-05-01 08:00")
    tell(story, BENCH)
    return story.at("2027-05-02 07:05")


def asked(printed: list[str], check: str) -> list[str]:
    """Every time a check was asked on lines, with the line of its answers."""
    lines = []
    for place, line in enumerate(printed):
        about, _, rest = line.partition(". ")
        if check in about.casefold().split(" and ") and "?" in rest:
            answers = next(
                one for one in printed[place + 1 :] if not one.startswith(("Why", "Care"))
            )
            lines.append(f"{line} {answers}")
    return lines


async def test_one_that_is_missing_is_looked_for_before_the_cup_is_cleaned(bench: Story) -> None:
    tell(bench, "R4 counted 8\nR4 looked")
    bench.later(days=1)  # cleaning is urgent by now, the search only late
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter")
        checks = []
        for _ in range(8):
            if not screen.check or screen.check in checks:
                break
            checks.append(screen.check)
            await screen.press({"balance": "y", "food": "b"}.get(screen.check, "space"))
        assert checks.index("balance") < checks.index("clean")
        assert checks.index("balance") < checks.index("food")


def test_a_cup_not_to_be_disturbed_is_only_looked_at_through_the_lid(bench: Story) -> None:
    tell(bench, "R4 looked still")
    bench.at("2027-05-02 18:05")
    printed = bench.plain(["20/24", " ", " ", " "])
    told = "\n".join(printed)
    assert "Do not disturb: until Mon 07:05, since 07:05: not moving (moult?)" in told
    assert "Leave the lid on. Do not move, clean, count or mist. Look from outside." in told
    food = asked(printed, "food")[-1]
    assert "How much food is left, seen through the lid?" in food
    for touching in ("new added", "changed", "another plant", "sprigs"):
        assert touching not in food
    assert not asked(printed, "clean")


def test_little_seen_through_the_lid_is_an_answer_and_the_walk_goes_on(bench: Story) -> None:
    tell(bench, "R4 looked still")
    bench.at("2027-05-02 18:05")
    printed = bench.plain(["20/24", "bare", " ", "q"])
    assert len([line for line in asked(printed, "food") if line.startswith("Food. ")]) == 1
    assert "R4 host eaten, none left" in "\n".join(printed)
    assert "goes on at K2" in printed[-1]


async def test_plenty_is_no_answer_where_no_food_is_in_on_record(bench: Story) -> None:
    tell(bench, "R4 host out binned")
    bench.later(hours=12)
    async with bench.screens() as screen:
        await screen.press("r", *"20/24", "enter", "space")
        assert screen.check == "food"
        assert "No food is recorded here. Did you put some in?" in screen.text
        assert "Space plenty" not in screen.words
        assert "a the usual plant" in screen.words
        assert "name the plant" in screen.text
        before = len(bench.on_disk())
        await screen.press("space")
        assert len(bench.on_disk()) == before, "there is no usual answer to this"


def test_fresh_is_no_answer_where_no_host_plant_is_in_on_record(bench: Story) -> None:
    printed = bench.plain(["20/24", *[" "] * 6, "0", " ", " "])
    host = asked(printed, "host")[0]
    assert "No host plant is recorded here. Did you put one in?" in host
    assert "fresh" not in host


async def test_counting_on_the_bench_waits_too_until_it_may_be_disturbed(bench: Story) -> None:
    tell(bench, "R4 looked still")
    async with bench.screens() as screen:
        screen.highlight("R4")
        await screen.press("c")
        assert screen.check == ""
        assert "do not disturb R4 until Mon 07:05; nothing is recorded" in screen.message
