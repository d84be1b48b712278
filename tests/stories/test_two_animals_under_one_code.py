"""Two laptops apart gave one code to two animals: both count, each keeps its own lines, both laptops say the same."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_leaving_season_plots_and_permit import tables_in

FEMALE = "Melitaea cinxia"


def synchronise(*laptops: Story) -> None:
    """What a synchroniser does: each laptop's own files go to the others."""
    for laptop in laptops:
        for path in laptop.folder.glob(f"entries-{laptop._laptop}-*"):
            for other in laptops:
                other.folder.mkdir(mode=0o700, exist_ok=True)
                if other is not laptop:
                    shutil.copy2(path, other.folder)
    for laptop in laptops:
        laptop.desk.hear()


@pytest.fixture
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Story, Story]:
    """Two laptops with one book of two cups, which go apart."""
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("R5 set up laying", "R6 set up laying", "N1 set up rearing", "N2 set up rearing")
    synchronise(a, b)
    return a, b


def one_female_each(a: Story, b: Story, *, eggs_first: str = "b") -> None:
    """Each keeper brings in a female and finds her eggs, before the laptops meet."""
    a.later(minutes=1).type(f"R5 1 female {FEMALE} on plantain")
    b.later(minutes=1).type(f"R6 1 female {FEMALE} on speedwell")
    first, second = (b, a) if eggs_first == "b" else (a, b)
    for laptop in (first, second):
        laptop.later(minutes=30).type("R6 7 eggs" if laptop is b else "R5 5 eggs")
    synchronise(a, b)


def stock(story: Story, container: str) -> dict[str, int]:
    """How many of which code stand in a container."""
    lots = story.desk.bench.containers[container].lots
    return {f"{lot.brood} {lot.stage}": lot.number for lot in lots}


@pytest.mark.parametrize("eggs_first", ["a", "b"])
def test_each_female_and_her_eggs_are_her_own(apart: tuple[Story, Story], eggs_first: str) -> None:
    a, b = apart
    one_female_each(a, b, eggs_first=eggs_first)
    for laptop in apart:
        assert stock(laptop, "R5") == {"MEL-27-01 adult": 1, "MEL-27-01/A egg": 5}
        assert stock(laptop, "R6") == {"MEL-27-01b adult": 1, "MEL-27-01b/A egg": 7}
        assert list(laptop.desk.bench.founders) == ["MEL-27-01", "MEL-27-01b"]
        assert not laptop.desk.bench.misfits
        broods = laptop.desk.bench.broods
        assert {code: brood.mothers for code, brood in broods.items()} == {
            "MEL-27-01/A": ("MEL-27-01",),
            "MEL-27-01b/A": ("MEL-27-01b",),
        }


def test_both_laptops_have_one_bench_also_when_read_from_the_files(
    apart: tuple[Story, Story],
) -> None:
    a, b = apart
    one_female_each(a, b)
    assert a.desk.bench == b.desk.bench
    before = a.desk.bench
    for laptop in apart:
        for path in laptop.folder.glob("checkpoint*"):
            path.unlink()
        laptop.reopen()
        assert laptop.desk.bench == before


def test_the_table_of_founders_has_both(apart: tuple[Story, Story], tmp_path: Path) -> None:
    a, b = apart
    one_female_each(a, b)
    out = tmp_path / "founders.csv"
    ran = a.shell("export", "csv", str(out), "--table", "founders")
    assert ran.status == 0, ran.err
    assert [line.split(",")[0] for line in out.read_text().splitlines()[1:]] == [
        "MEL-27-01",
        "MEL-27-01b",
    ]


def test_a_line_said_before_they_met_is_of_the_one_in_that_cup(
    apart: tuple[Story, Story],
) -> None:
    a, b = apart
    a.later(minutes=1).type(f"R5 1 female {FEMALE}")
    b.later(minutes=1).type(f"R6 1 female {FEMALE}")
    b.later(minutes=5).type("R6 MEL-27-01 died")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R5") == {"MEL-27-01 adult": 1}
        assert stock(laptop, "R6") == {}
        assert not laptop.desk.bench.misfits


def test_larvae_that_went_on_are_of_their_own_brood(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type(f"R5 1 female {FEMALE}")
    b.later(minutes=1).type(f"R6 1 female {FEMALE}")
    a.later(hours=1).type("R5 5 eggs")
    b.later(hours=1).type("R6 7 eggs")
    a.later(days=9).type("R5 5 hatched", "R5 moved 5 larvae to N1")
    b.type("R6 7 hatched", "R6 moved 7 larvae to N2", "N2 1 died brood=MEL-27-01/A")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "N1") == {"MEL-27-01/A larva": 5}
        assert stock(laptop, "N2") == {"MEL-27-01b/A larva": 6}
        assert not laptop.desk.bench.misfits


@pytest.mark.parametrize("late", [0, 1])
def test_stocked_larvae_are_two_broods(apart: tuple[Story, Story], late: int) -> None:
    a, b = apart
    (first, cup), (second, other) = ((a, "N1"), (b, "N2")) if not late else ((b, "N2"), (a, "N1"))
    first.later(minutes=1).type(f"{cup} 12 L2 Saturnia pavonia")
    second.later(minutes=1).type(f"{other} 9 L2 Saturnia pavonia")
    second.later(minutes=1).type(f"{other} 2 died")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, cup) == {"SAT-27-01 larva": 12}
        assert stock(laptop, other) == {"SAT-27-01b larva": 7}
        assert not laptop.desk.bench.misfits


def test_a_code_of_the_keepers_own_too(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type(f"R5 founder W1 '{FEMALE}' female")
    b.later(minutes=1).type(f"R6 founder W1 '{FEMALE}' female", "R6 7 eggs", "R6 W1 fed")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R5") == {"W1 adult": 1}
        assert stock(laptop, "R6") == {"W1b adult": 1, "W1b/A egg": 7}
        assert not laptop.desk.bench.misfits


def test_it_is_told_until_the_label_says_it(apart: tuple[Story, Story]) -> None:
    a, b = apart
    one_female_each(a, b)
    for told in (a.shell("check").out, b.shell("check").out, a.shell("due").err):
        assert "two animals had the code MEL-27-01" in told.replace("TWO", "two")
        assert "R6's is MEL-27-01b now" in told
        assert "cross" not in told
    b.later(minutes=1).type("R6 note MEL-27-01b is on her label")
    synchronise(a, b)
    for laptop in apart:
        assert "MEL-27-01b now" not in laptop.shell("check").out
        assert "MEL-27-01b now" not in laptop.shell("due").err


def test_afterwards_each_is_named_by_her_own_code(apart: tuple[Story, Story]) -> None:
    a, b = apart
    one_female_each(a, b)
    a.later(minutes=1).type("R6 3 eggs")
    assert stock(a, "R6")["MEL-27-01b/A egg"] == 10
    assert "MEL-27-01b" in a.refused("R6 MEL-27-01 died")
    a.type("R6 MEL-27-01b died", f"R6 1 female {FEMALE}")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R5")["MEL-27-01 adult"] == 1
        assert stock(laptop, "R6") == {"MEL-27-02 adult": 1, "MEL-27-01b/A egg": 10}


def test_a_better_name_reaches_only_her(apart: tuple[Story, Story]) -> None:
    a, b = apart
    one_female_each(a, b)
    a.later(minutes=1).type("MEL-27-01b is Melitaea diamina")
    synchronise(a, b)
    for laptop in apart:
        bench = laptop.desk.bench
        assert bench.taxon_of("MEL-27-01") == bench.taxon_of("MEL-27-01/A") == FEMALE
        assert bench.taxon_of("MEL-27-01b/A") == "Melitaea diamina"
        assert stock(laptop, "R6") == {"MEL-27-01b adult": 1, "MEL-27-01b/A egg": 7}
        assert not bench.misfits


def test_a_permit_returns_both(apart: tuple[Story, Story], tmp_path: Path) -> None:
    a, b = apart
    a.type("permit P7 until 2027-09-01")
    synchronise(a, b)
    a.later(minutes=1).type(f"R5 founder W1 '{FEMALE}' female permit=P7")
    b.later(minutes=1).type(f"R6 founder W1 '{FEMALE}' female permit=P7")
    synchronise(a, b)
    for laptop in apart:
        assert [one.permit for one in laptop.desk.bench.founders.values()] == ["P7", "P7"]
        out = tmp_path / "return.md"
        ran = laptop.shell("export", "permit", "P7", str(out), "--replace")
        assert ran.status == 0, ran.err
        found = tables_in(out.read_text())
        assert [row["code"] for row in found["Taken from the wild"]] == ["W1", "W1b"]
        assert [row["taken"] for row in found["What became of them"]] == ["2"]


def test_two_who_search_one_cup_apart_say_nothing_wrong(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.type(f"R5 founder W1 '{FEMALE}' female")
    synchronise(a, b)
    b.later(hours=1).type("R5 7 eggs")
    a.later(hours=1).type("R5 5 eggs")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R5") == {"W1 adult": 1, "W1/A egg": 12}
        assert list(laptop.desk.bench.broods) == ["W1/A"]
        assert "nothing wrong was found" in laptop.shell("check").out


def test_in_one_cup_each_line_means_the_one_it_was_written_of(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type(f"R5 founder W1 '{FEMALE}' female")
    b.later(minutes=1).type(f"R5 founder W1 '{FEMALE}' female", "R5 W1 died")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "R5") == {"W1 adult": 1}
        assert list(laptop.desk.bench.founders) == ["W1", "W1b"]


def test_lines_with_the_second_code_follow_where_the_first_is_crossed_out(
    apart: tuple[Story, Story],
) -> None:
    a, b = apart
    a.later(minutes=1).type(f"R5 founder W1 '{FEMALE}' female")
    b.later(minutes=1).type(f"R6 founder W1 '{FEMALE}' female", "R6 7 eggs")
    synchronise(a, b)
    b.later(minutes=1).type("R6 W1b moved to N2", "N2 note W1b is on the label")
    (first,) = [one["id"] for one in a.on_disk() if one.get("container") == "R5" and "code" in one][
        :1
    ]
    a.desk.strike(first, "no such")
    synchronise(a, b)
    for laptop in apart:
        assert stock(laptop, "N2") == {"W1 adult": 1}
        assert stock(laptop, "R6") == {"W1/A egg": 7}
        assert not laptop.desk.bench.misfits


def test_a_brood_named_without_a_cup_is_of_the_mother_meant(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(minutes=1).type(f"R5 founder W1 '{FEMALE}' female")
    b.later(minutes=1).type(f"R6 founder W1 '{FEMALE}' female", "brood X9 mothers=W1")
    synchronise(a, b)
    for laptop in apart:
        assert laptop.desk.bench.broods["X9"].mothers == ("W1b",)
