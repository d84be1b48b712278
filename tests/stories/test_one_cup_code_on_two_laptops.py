"""Two laptops apart set up one code: both cups stand, each with its own animals, and are asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import stock, synchronise


@pytest.fixture
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Story, Story]:
    """Two laptops with one book of two cups, which go apart."""
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("N1 set up rearing", "N2 set up rearing")
    synchronise(a, b)
    return a, b


def asked(story: Story) -> set[str]:
    """The containers that anything is due of, now or ahead."""
    return {due.where for due in story.desk.dues()}


@pytest.mark.parametrize("first", ["a", "b"])
def test_each_cup_keeps_its_own_animals(apart: tuple[Story, Story], first: str) -> None:
    a, b = apart
    for one in (a, b) if first == "a" else (b, a):
        one.later(minutes=5).type("R9 set up rearing")
    a.later(minutes=1).type("R9 12 L2 Saturnia pavonia on bramble")
    b.later(minutes=1).type("R9 9 L3 Aglais io on nettle", "R9 2 died")
    synchronise(a, b)
    of_a, of_b = ("R9", "R9b") if first == "a" else ("R9b", "R9")
    for laptop in apart:
        assert stock(laptop, of_a) == {"SAT-27-01 larva": 12}
        assert stock(laptop, of_b) == {"AGL-27-01 larva": 7}
        assert [one.plant for one in laptop.desk.bench.containers[of_b].hosts] == ["nettle"]
        assert not laptop.desk.bench.misfits
    assert a.desk.bench == b.desk.bench


def test_both_are_asked_for(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one, plant in ((a, "bramble"), (b, "hawthorn")):
        one.later(minutes=5).type("R9 set up rearing", f"R9 6 L2 Saturnia pavonia on {plant}")
    synchronise(a, b)
    for laptop in apart:
        laptop.later(hours=20)
        assert {"R9", "R9b"} <= {row["where"] for row in _due(laptop)}
        assert stock(laptop, "R9") == {"SAT-27-01 larva": 6}
        assert stock(laptop, "R9b") == {"SAT-27-01b larva": 6}


def _due(story: Story) -> list[dict[str, str]]:
    import json

    rows: list[dict[str, str]] = json.loads(story.shell("due", "--json", "--within", "24h").out)[
        "due"
    ]
    return rows


def test_one_of_another_purpose_keeps_it(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type("R9 set up rearing")
    b.later(minutes=1).type("R9 set up pupation")
    synchronise(a, b)
    for laptop in apart:
        purposes = {one.code: one.purpose for one in laptop.desk.bench.standing()}
        assert purposes["R9"] == "rearing"
        assert purposes["R9b"] == "pupation"


def test_larvae_that_went_on_follow(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one, number in ((a, 5), (b, 7)):
        one.later(minutes=5).type("R9 set up rearing", f"N2 {number} L2 Aglais io on nettle")
        one.type(f"N2 moved {number} larvae to R9", "R9 moved 2 to N1")
    synchronise(a, b)
    for laptop in apart:
        assert sum(stock(laptop, "R9").values()) == 3
        assert sum(stock(laptop, "R9b").values()) == 5
        assert sum(stock(laptop, "N1").values()) == 4


def test_it_is_told_until_the_label_has_it(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one in apart:
        one.later(minutes=5).type("R9 set up rearing", "R9 6 L2 Aglais io on nettle")
    synchronise(a, b)
    for told in (a.shell("check").out, b.shell("check").out, a.shell("due").err):
        told = told.replace("TWO", "two")
        assert "two containers had the code R9" in told
        assert "the one set up 1 May 08:10 by KM (rearing, 6 animals, Aglais io) is R9b now" in told
        assert "R9b note R9b is on the label" in told
        assert "R2 set up rearing, then R9b moved all to R2, then R9b closed" in told
    b.later(minutes=1).type("R9b 1 died")
    synchronise(a, b)
    assert "R9b now" in a.shell("check").out
    b.later(minutes=1).type("R9b note R9b is on the label")
    synchronise(a, b)
    for laptop in apart:
        assert "R9b now" not in laptop.shell("check").out
        assert "R9b now" not in laptop.shell("due").err


def test_what_is_typed_afterwards_means_what_is_shown(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one, number in ((a, 6), (b, 8)):
        one.later(minutes=5).type("R9 set up rearing", f"R9 {number} L2 Aglais io on nettle")
    synchronise(a, b)
    b.later(minutes=1).type("R9 1 died", "R9b 2 died")
    synchronise(a, b)
    for laptop in apart:
        assert sum(stock(laptop, "R9").values()) == 5
        assert sum(stock(laptop, "R9b").values()) == 6


def test_where_the_first_set_up_is_crossed_out_the_lines_follow(
    apart: tuple[Story, Story],
) -> None:
    a, b = apart
    a.later(minutes=5).type("R9 set up rearing")
    b.later(minutes=5).type("R9 set up rearing", "R9 8 L2 Aglais io on nettle")
    synchronise(a, b)
    b.later(minutes=1).type("R9b 2 died")
    (set_up,) = [one for one in a.on_disk() if one["what"] == "set up" and one["id"] in _own(a)][
        -1:
    ]
    a.desk.strike(set_up["id"], "never stood")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R9") == {"AGL-27-01 larva": 6}
        assert "R9b" not in laptop.desk.bench.containers


def _own(story: Story) -> str:
    return "".join(
        path.read_text() for path in story.folder.glob(f"entries-{story._laptop}-*.jsonl")
    )


def test_emptied_and_set_up_again_on_one_laptop_only(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type("R9 set up rearing")
    synchronise(a, b)
    b.later(minutes=1).type("R9 4 L2 Aglais io on nettle")
    a.later(minutes=1).type("R9 closed", "R9 set up rearing", "R9 6 L2 Saturnia pavonia")
    b.later(minutes=1).type("R9 1 died")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R9") == {"AGL-27-01 larva": 3}
        assert stock(laptop, "R9b") == {"SAT-27-01 larva": 6}


def test_what_came_in_after_the_other_laptop_washed_it(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type("R9 set up rearing")
    synchronise(a, b)
    a.later(minutes=1).type("R9 closed", "R9 set up pupation", "R9 6 pupae Saturnia pavonia")
    b.later(minutes=1).type("R9 4 L2 Aglais io on nettle", "R9 1 died")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R9") == {"SAT-27-01 pupa": 6}
        assert stock(laptop, "R9b") == {"AGL-27-01 larva": 3}
        assert laptop.desk.bench.containers["R9b"].purpose == "rearing"
        assert {"R9", "R9b"} <= asked(laptop)


def test_washed_and_set_up_anew_on_both(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type("R9 set up rearing")
    synchronise(a, b)
    for one, number in ((a, 6), (b, 4)):
        one.later(minutes=1).type("R9 closed", "R9 set up rearing", f"R9 {number} L2 Aglais io")
    synchronise(a, b)
    for laptop in apart:
        assert sum(stock(laptop, "R9").values()) == 6
        assert sum(stock(laptop, "R9b").values()) == 4


def test_washed_and_set_up_anew_on_one_laptop_is_one_code(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type("R9 set up rearing", "R9 closed", "R9 set up pupation")
    synchronise(a, b)
    for laptop in apart:
        assert {one.code for one in laptop.desk.bench.standing()} == {"N1", "N2", "R9"}
        assert "nothing wrong was found" in laptop.shell("check").out


def test_it_can_be_given_another_code(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one in apart:
        one.later(minutes=5).type("R9 set up rearing", "R9 6 L2 Aglais io on nettle")
    synchronise(a, b)
    a.later(minutes=1).type("X1 set up rearing", "R9b moved all to X1", "R9b closed")
    synchronise(a, b)
    for laptop in apart:
        assert sum(stock(laptop, "X1").values()) == 6
        assert "R9b now" not in laptop.shell("check").out


def test_what_was_emptied_is_closed(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one in apart:
        one.later(minutes=5).type("R9 set up rearing", "R9 6 L2 Aglais io on nettle")
    synchronise(a, b)
    a.later(minutes=1).type("R2 set up rearing", "R9b moved all to R2")
    assert "where it is put away, as: R9b closed" in a.shell("check").out
    a.later(minutes=1).type("R9b closed")
    assert "R9b now" not in a.shell("check").out


async def test_the_bench_and_the_round_tell_it(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one in apart:
        one.later(minutes=5).type("R9 set up rearing", "R9 6 L2 Saturnia pavonia on bramble")
    synchronise(a, b)
    ran = a.shell("round", typed="q\n")
    assert "R9b now" in ran.out + ran.err
    async with b.screens(size=(110, 40)) as screen:
        await screen.pilot.pause()
        assert "containers had the code R9" in screen.words
        await screen.press("m")
        assert "containers had the code R9" in screen.words


def test_kept_stems_in_jars_of_one_code(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one, cup, plant in ((a, "R5", "plantain"), (b, "R6", "speedwell")):
        one.later(minutes=5).type(
            f"{cup} set up laying",
            f"{cup} 1 female Melitaea cinxia on {plant}",
            "J1 set up eggs",
        )
    for one, cup in ((a, "R5"), (b, "R6")):
        one.later(hours=20).type(f"{cup} host out held held_in=J1", "J1 frass plain lot=1")
    synchronise(a, b)
    for laptop in apart:
        for jar, cup in (("J1", "R5"), ("J1b", "R6")):
            (lot,) = laptop.desk.bench.containers[jar].held
            assert (lot.source, lot.frass) == (cup, "plain")
            assert jar in asked(laptop)
    assert a.desk.bench == b.desk.bench


def test_stems_of_two_cups_of_one_code_in_one_jar(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.type("J1 set up eggs")
    synchronise(a, b)
    for one, plant in ((a, "plantain"), (b, "speedwell")):
        one.later(minutes=5).type("R5 set up laying", f"R5 1 female Melitaea cinxia on {plant}")
    for one, level in ((a, "none"), (b, "plain")):
        one.later(hours=20).type("R5 host out held held_in=J1", f"J1 frass {level} lot=1")
    synchronise(a, b)
    for laptop in apart:
        lots = laptop.desk.bench.containers["J1"].held
        assert {(lot.plant, lot.source, lot.frass) for lot in lots} == {
            ("plantain", "R5", "none"),
            ("speedwell", "R5b", "plain"),
        }


def test_a_helper_is_told_what_the_label_may_say(apart: tuple[Story, Story]) -> None:
    a, b = apart
    for one in apart:
        one.later(minutes=5).type("R9 set up rearing", "R9 6 L2 Saturnia pavonia on bramble")
    synchronise(a, b)
    for told in (True, False):
        sheet = " ".join(b.shell("sheet", "--from", "now", "--to", "3 May 18:00").out.split())
        assert ("R9b (its label may say R9)" in sheet) is told
        b.later(minutes=1).type("R9b note R9b is on the label")


def test_a_closing_crossed_out_after_the_code_was_set_up_anew(
    apart: tuple[Story, Story],
) -> None:
    a, b = apart
    a.later(minutes=5).type("R9 set up rearing", "R9 4 L2 Aglais io on nettle")
    a.later(hours=2).type("R9 moved all to N1", "R9 host out discarded", "R9 closed")
    closed = a.on_disk()[-1]
    synchronise(a, b)
    a.later(hours=2).type("R9 set up pupation", "R9 6 pupae Saturnia pavonia")
    b.type(f"strike {closed['id']}", "R9 3 L3 Aglais io on nettle")
    synchronise(a, b)
    a.later(minutes=1).type("R9 1 died", "R9b 1 died")
    b.later(minutes=1).type("R9 looked -3h")
    synchronise(a, b)
    assert a.desk.bench == b.desk.bench
    for laptop in apart:
        assert sum(stock(laptop, "R9").values()) == 2
        assert stock(laptop, "R9b") == {"SAT-27-01 pupa": 5}
        told = laptop.shell("check").out
        assert "by KM (pupation, 5 animals, Saturnia pavonia) is R9b now" in told


def test_a_line_dated_between_means_what_stood_then(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=5).type("R9 set up rearing", "R9 4 L2 Aglais io on nettle")
    a.later(hours=2).type("R9 moved all to N1", "R9 host out discarded", "R9 closed")
    a.later(hours=2).type("R9 set up pupation", "R9 6 pupae Saturnia pavonia")
    a.later(hours=1)
    synchronise(a, b)
    assert "R9" in b.refused("R9 sprayed -2h")
    b.type("R9 1 died -4h", "R9 1 died -30m")
    synchronise(a, b)
    assert a.desk.bench == b.desk.bench
    for laptop in apart:
        assert stock(laptop, "R9") == {"SAT-27-01 pupa": 5}
        assert "R9b" not in laptop.desk.bench.containers
