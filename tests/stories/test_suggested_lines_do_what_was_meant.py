"""A line that is suggested does what the keeper had typed, and nothing else."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def bench(story: Story) -> Story:
    """Larvae, eggs, adults of which one is crippled, and a laying cup without a barrier."""
    tell(
        story,
        """
        shelf set up shed
        brood A1 taxon="Aglia tau"
        R4 set up rearing
        R4 stocked 5 L3 brood=A1
        R4 host in Fagus sylvatica
        E4 set up eggs
        E4 stocked 12 eggs brood=A1
        K3 set up laying
        K3 founder W2 Aglia tau female
        P5 set up emergence
        P5 stocked 5 pupae brood=A1
        P5 emerged 2 females 1 crippled
        P6 set up emergence
        P6 stocked 5 pupae brood=A1
        P6 emerged 2 females
        """,
    )
    return story


@pytest.mark.parametrize(
    ("line", "suggested"),
    [
        ("R4 moved 3 to new R8 host Taraxacum", "R4 moved 3 to new R8; then R8 host in Taraxacum"),
        ("R4 fed with Taraxacum", "R4 host in Taraxacum"),
        ("R4 host Taraxacum leaf", "R4 host in Taraxacum leaf"),
        ("R4 moved 3 to new R8, R4 counted 2", "R4 moved 3 to new R8; then R4 counted 2"),
        ("E4 moved 2 to new E6 on twig", "E4 moved 2 to new E6 -- on twig"),
        ("E4 moved all to new S2 shed", "S2 set up eggs shelf=shed; then E4 moved all to S2"),
        ("E4 moved 2 to new S2 on shelf shed", "S2 set up eggs shelf=shed; then E4 moved 2 to S2"),
        ("K3 barrier sticky band", "K3 changed barrier='sticky band'"),
        ("K3 barrier grease", "K3 changed barrier='grease'"),
        ("shed barrier grease", "shelf set up shed grease"),
        ("P6 died 1 female wings=crippled", "P6 died 1 female cause=crippled"),
    ],
)
def test_the_line_that_is_suggested_says_the_same(bench: Story, line: str, suggested: str) -> None:
    told = bench.refused(line)
    assert suggested in told
    for one in suggested.split("; then "):
        bench.type(one)


def test_the_crippled_one_is_not_let_go_for_a_sound_one(bench: Story) -> None:
    assert "wings crippled" in bench.preview("P5 released 1, wings crippled")
    bench.type("P5 died 1, wings crippled -- for the collection")
    assert bench.refused("P6 released 1 wings=crippled") == "none on record in P6 is crippled"


def test_what_is_done_with_the_bench_is_no_name_of_it(bench: Story) -> None:
    assert "bench is called Garden" in bench.refused("bench closed")
    bench.type("bench is called closed", "bench Gannel End")
