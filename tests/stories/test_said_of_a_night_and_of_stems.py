"""Lines of a morning whose hour, state or place a keeper says beside the number."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    tell(
        story,
        """
        K2 set up laying
        K2 founder W1 Boloria dia female
        K2 host in Viola hirta 3 sprigs
        K3 set up laying
        K3 founder W2 Boloria dia female
        K3 host in Viola hirta 3 sprigs
        brood A1 taxon="Boloria dia"
        E4 set up eggs
        E4 stocked 10 eggs brood=A1
        R1 set up rearing
        R1 stocked 8 L3 brood=A1
        R2 set up rearing
        P1 set up pupation
        P1 stocked 4 pupae brood=A1
        """,
    )
    story.later(hours=12)
    tell(story, "K3 host out held")
    return story.later(hours=8)


@pytest.mark.parametrize("night", ["overnight", "in the night", "during the night"])
def test_the_dead_of_a_night_need_no_hour(bench: Story, night: str) -> None:
    (told,) = bench.type(f"E4 3 died {night}")
    assert night in told
    assert bench.desk.bench.containers["E4"].count("egg") == 7


def test_what_grew_overnight_is_inferred(bench: Story) -> None:
    bench.type("R1 2 pupated overnight sure")
    assert bench.on_disk()[-1]["evidence"] == "inferred"


def test_stages_of_what_is_there(bench: Story) -> None:
    bench.type("R1 5 L4, 3 L3")
    instars = {lot.instar: lot.number for lot in bench.desk.bench.containers["R1"].lots}
    assert instars == {4: 5, 3: 3}
    assert "counted" in bench.type("R1 5 L4 and 3 L3")[0]
    assert "how many" in bench.refused("R1 5 L4 2 L3")


def test_how_warm_and_how_damp(bench: Story) -> None:
    bench.type("room 22/48%")
    entry = bench.on_disk()[-1]
    assert (entry["temperature_c"], entry["humidity_percent"]) == (22, 48)


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("P1 one crippled", "P1 emerged 1 1 crippled"),
        ("K3 lot 1 gone", "K3 lot 1 discarded"),
        ("K3 kept stems mouldy", "K3 kept stems discarded"),
        ("R1 swapped ribwort for speedwell", "R1 host changed"),
        ("R1 let one go", "R1 holds no adults"),
        ("K2 offered twice, no interest", "K2 offered -- no interest"),
        ("move R1 to R2", "R1 moved all to R2"),
        ("move R1 larvae to R2", "R1 moved all to R2"),
    ],
)
def test_what_is_not_clear_is_asked_with_lines_that_are_right(
    bench: Story, line: str, asked: str
) -> None:
    assert asked in bench.refused(line)


def test_a_plant_put_in(bench: Story) -> None:
    bench.type("K2 Calluna vulgaris put in", "K2 offered honey twice", "K2 let her go")
    assert "Calluna vulgaris" in [one.plant for one in bench.desk.bench.containers["K2"].hosts]
    assert [line["food"] for line in bench.on_disk() if line["what"] == "offered"] == ["honey"]
    assert not bench.desk.bench.containers["K2"].females


def test_what_no_shelf_is_called_may_be_a_plant(bench: Story) -> None:
    asked = bench.refused("R9 set up rearing on plantain")
    assert "R9 set up rearing; then R9 host in plantain" in asked
    bench.type("R8 set up rearing on windowsill", "R9 set up rearing shelf=plantain")
    assert bench.desk.bench.containers["R9"].shelf == "plantain"
