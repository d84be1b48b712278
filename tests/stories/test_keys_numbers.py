"""A number is an answer only where the question asks for it; 0 is none; no death is one key."""

from __future__ import annotations

import pytest

from tests.stories.telling import Screen, Story, tell

BENCH = """
    shelf set up sill barrier=moat
    taxon Melitaea cinxia
    K2 set up laying shelf=sill place=1
    K2 founder MOR-27-01, Melitaea cinxia female
    K2 founder MOR-27-02, Melitaea cinxia female
    R2 set up rearing shelf=sill place=2
    brood MOR-27-01/A mothers=MOR-27-01 taxon='Melitaea cinxia'
    R2 stocked MOR-27-01/A larva 12 L2
    R2 host in plantain leaf damp paper
"""


@pytest.fixture
def bench(story: Story) -> Story:
    """Two females in K2, twelve larvae in R2, a moat round the shelf."""
    tell(story, BENCH)
    return story


async def ask(screen: Screen, code: str, key: str) -> None:
    screen.highlight(code)
    await screen.press(key)


async def to_check(screen: Screen, check: str) -> None:
    """Skip in a round to the first stop that asks a check."""
    await screen.press("r", *"20/22", "enter")
    for _ in range(12):
        if screen.check == check:
            return
        await screen.press("minus", "m")
    raise AssertionError(f"{check} is not asked")


def last(story: Story) -> dict[str, object]:
    return story.on_disk()[-1]


@pytest.mark.parametrize(("code", "keys"), [("K2", ["1"]), ("R2", ["9"]), ("R2", ["1", "2"])])
async def test_a_number_and_enter_at_a_look_record_nothing(
    bench: Story, code: str, keys: list[str]
) -> None:
    before = bench.on_disk()
    async with bench.screens() as screen:
        await ask(screen, code, "l")
        await screen.press(*keys)
        assert f"number {''.join(keys)}_" in screen.text
        await screen.press("enter")
        assert bench.on_disk() == before
        assert screen.message.startswith(
            f"{''.join(keys)} and Enter record nothing here; type {''.join(keys)}, then: "
        )
        assert f"number {''.join(keys)}_" in screen.text, "what was typed is not lost"
        await screen.press(*["backspace"] * len(keys))
        assert "number " not in screen.text.split("What do you see?")[1].splitlines()[0]


@pytest.mark.parametrize(("code", "key"), [("K2", "f"), ("R2", "f"), ("R2", "m"), ("R2", "p")])
async def test_0_at_a_look_is_none(bench: Story, code: str, key: str) -> None:
    before = bench.on_disk()
    async with bench.screens() as screen:
        await ask(screen, code, "l")
        await screen.press("0", key)
        assert bench.on_disk() == before
        assert "0 is none: nothing is recorded" in screen.message


async def test_found_dead_asks_how_many(bench: Story) -> None:
    before = bench.on_disk()
    async with bench.screens() as screen:
        await ask(screen, "R2", "l")
        await screen.press("f")
        assert "found dead: how many?" in screen.text
        assert bench.on_disk() == before
        await screen.press("f", "f", "enter")
        assert bench.on_disk() == before
        await screen.press("escape")
        assert "What do you see?" in screen.text
        await screen.press("f", "2", "enter")
        assert (last(bench)["what"], last(bench)["number"]) == ("died", 2)
        assert len(bench.on_disk()) == len(before) + 1


async def test_escape_takes_a_number_back_before_it_closes_the_question(bench: Story) -> None:
    async with bench.screens() as screen:
        await ask(screen, "R2", "l")
        await screen.press("4", "escape")
        assert screen.check == "look"
        await screen.press("escape")
        assert screen.check == ""


@pytest.mark.parametrize(
    ("keys", "what", "number"),
    [
        (["d"], "drank", None),
        (["1", "enter"], "drank", 1),
        (["1", "h"], "drank", 1),
        (["0", "enter"], "offered", None),
        (["0", "d"], "offered", None),
        (["0", "h"], "offered", None),
        (["full_stop", "d"], "drank", None),
    ],
)
async def test_how_many_drank(bench: Story, keys: list[str], what: str, number: int | None) -> None:
    bench.later(hours=13)
    async with bench.screens() as screen:
        await to_check(screen, "drink")
        assert "number, Enter how many drank" in screen.words
        await screen.press(*keys)
        assert (last(bench)["what"], last(bench).get("number")) == (what, number)


@pytest.mark.parametrize(
    ("keys", "what", "state", "mm"),
    [
        (["2", "enter"], "barrier", "low", 2),
        (["2", "space"], "barrier", "low", 2),
        (["2", "0", "enter"], "barrier", "full", 20),
        (["0", "enter"], "barrier", "dry", 0),
        (["2", "0", "k"], "barrier", "low", 20),
        (["2", "0", "p"], "topped up", None, 20),
    ],
)
async def test_a_depth_says_what_the_moat_is(
    bench: Story, keys: list[str], what: str, state: str | None, mm: float
) -> None:
    async with bench.screens() as screen:
        await ask(screen, "K2", "a")
        assert "number, Enter depth in mm" in screen.words
        await screen.press(*keys)
        told = last(bench)
        assert (told["what"], told.get("state"), told["depth_mm"]) == (what, state, mm)


async def test_a_shallow_moat_typed_as_full_is_low(bench: Story) -> None:
    assert bench.type("shelf sill barrier full 2mm") == ["shelf sill barrier low, 2 mm"]


async def test_0_stems_are_no_food(bench: Story) -> None:
    before = bench.on_disk()
    async with bench.screens() as screen:
        await ask(screen, "R2", "h")
        assert screen.check == "food"
        for key in ("a", "c"):
            await screen.press("0", key)
            assert bench.on_disk() == before
            assert "0 is none: nothing is recorded" in screen.message
        await screen.press("3", "a")
        assert (last(bench)["what"], last(bench)["sprigs"]) == ("host in", 3)


async def test_moulted_is_one_unless_a_number_or_all_is_given(bench: Story) -> None:
    async with bench.screens() as screen:
        for keys, number in ((["m"], 1), (["3", "m"], 3), (["full_stop", "m"], 8)):
            await ask(screen, "R2", "l")
            await screen.press(*keys)
            if "which?" in screen.text:
                await screen.press("1")
            assert [
                entry["number"] for entry in bench.on_disk()[-2:] if entry["what"] == "moulted"
            ][-1] == number


async def test_moulted_is_one_where_larvae_have_not_moved_for_long_too(bench: Story) -> None:
    bench.type("R2 looked still")
    bench.later(hours=80)
    async with bench.screens() as screen:
        await to_check(screen, "still")
        await screen.press("m")
        assert (last(bench)["what"], last(bench)["number"]) == ("moulted", 1)


def test_the_plain_round_keeps_the_same_rules(bench: Story) -> None:
    bench.later(hours=26)
    before = len(bench.on_disk())
    # a moat first seen low is asked about once more, that it can be filled up
    printed = bench.plain(["20/22", "2", "2", "0", "f", "", "1", "0 f", "q"])
    new = [
        (entry["what"], entry.get("state"), entry.get("depth_mm"))
        for entry in bench.on_disk()[before:]
    ]

    assert ("barrier", "low", 2.0) in new
    assert not any(what == "died" for what, _, _ in new)
    assert any("found dead: how many?" in line for line in printed)
    assert any("1 and Enter record nothing here; type 1, then: " in line for line in printed)
    assert any("0 is none: nothing is recorded" in line for line in printed)


def test_a_death_on_lines_is_a_key_and_a_number(bench: Story) -> None:
    bench.later(hours=26)
    bench.plain(["20/22", "20", "f", "1", "1", "q"])

    assert [
        (entry["container"], entry["number"])
        for entry in bench.on_disk()
        if entry["what"] == "died"
    ] == [("R2", 1)]
