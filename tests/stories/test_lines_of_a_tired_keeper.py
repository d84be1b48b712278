"""Lines as they are typed half awake: each is understood, or refused with the line that is right."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """A cup with two plants, one with eggs, one with larvae."""
    tell(
        story,
        """
        L1 set up laying
        E6 set up eggs
        R1 set up rearing
        K3 set up laying
        K3 host in "Viola canina"
        K3 host in "Rubus idaeus"
        brood A1 taxon="Boloria lapidata"
        R1 stocked 9 L4 brood=A1
        E6 stocked 10 eggs brood=A1
        """,
    )
    return story.later(hours=12)


def shown(asked: str) -> str:
    """The line that a refusal shows last."""
    return asked.rpartition("As: ")[2].rpartition("; or ")[2]


def test_the_list_is_a_page_of_its_own(bench: Story) -> None:
    for line in ("L1 list", "list"):
        asked = bench.refused(line)
        assert "type list alone" in asked
        assert "rounds begin --list FILE" in asked


async def test_the_list_behind_the_code_that_the_prompt_began(bench: Story) -> None:
    async with bench.screens() as screen:
        screen.highlight("L1")
        await screen.press("t", *"list")
        assert "Enter opens a page" in screen.message
        await screen.press("enter")
        assert "a bench that already runs" in screen.text


def test_a_leaf_put_in_with_no_plant_named(bench: Story) -> None:
    asked = bench.refused("E6 leaf in")
    assert asked.startswith("which plant?")
    bench.type(shown(asked))
    bench.type("E6 leaf in")  # more of the one that stands there now
    assert len({host.plant for host in bench.desk.bench.containers["E6"].hosts}) == 1
    assert len(bench.desk.bench.containers["E6"].hosts) == 2
    assert "K3 has Viola canina and Rubus idaeus" in bench.refused("K3 leaf in")


@pytest.mark.parametrize(
    "line",
    ["R1 2 L4 moulted L5", "R1 2 L4 moulted to L5", "R1 2 L4 larvae moulted L5", "R1 2 moulted L5"],
)
def test_what_they_were_before_the_moult_may_be_said(bench: Story, line: str) -> None:
    bench.type(line)
    assert sorted((lot.instar, lot.number) for lot in bench.desk.bench.containers["R1"].lots) == [
        (4, 7),
        (5, 2),
    ]


def test_they_do_not_moult_backwards(bench: Story) -> None:
    bench.refused("R1 2 L5 moulted L4")


def plants(story: Story) -> list[tuple[str, str]]:
    return sorted((host.plant, host.batch) for host in story.desk.bench.containers["K3"].hosts)


def test_which_of_two_plants_was_changed_is_asked(bench: Story) -> None:
    asked = bench.refused("K3 host changed")
    assert "which plant was changed? K3 has Viola canina and Rubus idaeus" in asked
    bench.type(shown(asked))
    assert [plant for plant, _ in plants(bench)] == ["Rubus idaeus", "Viola canina"]
    assert {batch for _, batch in plants(bench)}.isdisjoint({"A", "B"})


@pytest.mark.parametrize("name", ["Rubus idaeus", "rubus", "idaeus 4 stems"])
def test_one_of_two_plants_is_changed_and_the_other_stays(bench: Story, name: str) -> None:
    bench.type(f"K3 host changed {name}")
    assert plants(bench) == [("Rubus idaeus", "C"), ("Viola canina", "A")]


def test_both_are_changed_for_a_third(bench: Story) -> None:
    bench.type("K3 host changed willow")
    assert [plant for plant, _ in plants(bench)] == ["willow"]


def test_all_of_one_is_that_one(bench: Story) -> None:
    bench.type("R1 host in willow", "R1 host changed all")
    assert [host.plant for host in bench.desk.bench.containers["R1"].hosts] == ["willow"]
