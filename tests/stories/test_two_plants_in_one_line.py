"""Two plants named in one line are two plants: put in, seen, changed and taken out."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUP = """
    K2 set up laying
    K2 founder W2 Iolana iolas female
"""


def hosts(story: Story, code: str = "K2") -> list[str]:
    return sorted(host.plant for host in story.desk.bench.containers[code].hosts)


@pytest.mark.parametrize(
    "said",
    [
        "Colutea arborescens and Astragalus glycyphyllos",
        "Colutea arborescens, Astragalus glycyphyllos",
        "Colutea arborescens & Astragalus glycyphyllos",
        "Colutea arborescens + Astragalus glycyphyllos water",
        "Colutea arborescens pod and Astragalus glycyphyllos pod",
        "'Colutea arborescens' and Astragalus glycyphyllos",
        '"Colutea arborescens" and "Astragalus glycyphyllos"',
    ],
)
def test_both_go_in_each_by_its_name(story: Story, said: str) -> None:
    tell(story, CUP)
    story.type(f"K2 host in {said}")
    assert hosts(story) == ["Astragalus glycyphyllos", "Colutea arborescens"]


def test_a_name_in_quotes_may_hold_an_and(story: Story) -> None:
    tell(story, CUP)
    story.type('K2 host in "salt and pepper vetch"')
    assert hosts(story) == ["salt and pepper vetch"]


def test_both_are_seen_changed_and_taken_out(story: Story) -> None:
    tell(story, CUP)
    story.type("K2 host in Colutea arborescens and Astragalus glycyphyllos")
    story.later(hours=24).type("K2 host seen limp Colutea and Astragalus")
    assert {host.state for host in story.desk.bench.containers["K2"].hosts} == {"limp"}
    story.type("K2 host changed Colutea and Astragalus")
    assert hosts(story) == ["Astragalus glycyphyllos", "Colutea arborescens"]
    assert len(story.desk.bench.containers["K2"].held) == 2
    story.type("K2 host out Colutea and Astragalus")
    assert hosts(story) == []


def test_what_is_not_clear_is_asked(story: Story) -> None:
    tell(story, CUP)
    asked = story.refused("K2 host in Colutea and Astragalus 3 sprigs")
    assert "3 stems of which? Say each on a line of its own, as: K2 host in Colutea 3" in asked
    story.type("K2 host in Colutea and Astragalus 3 sprigs each")
    assert [host.sprigs for host in story.desk.bench.containers["K2"].hosts] == [3, 3]
    assert "changed for both, or is one there?" in story.refused(
        "K2 host changed Vicia cracca and Lathyrus vernus"
    )


def test_so_it_is_at_the_first_start(story: Story) -> None:
    held = "2 females Iolana iolas on Colutea and Astragalus"
    story.shell("begin", typed=f"My bench\n49.2N 0.4W Europe/Paris\n1\nK2 laying\n{held}\n\n")
    story.reopen()
    assert hosts(story) == ["Astragalus", "Colutea"]


def test_and_in_a_list_of_a_bench_that_runs(story: Story) -> None:
    listed = "K2  2 females Iolana iolas  Colutea and Astragalus  Sat  sill 2\n"
    ran = story.shell("begin", "--list", "-", typed=listed)
    assert ran.status == 0, ran.err
    story.reopen()
    assert hosts(story) == ["Astragalus", "Colutea"]


def parts(story: Story, code: str) -> dict[str, str]:
    return {host.plant: host.part for host in story.desk.bench.at(code).hosts}


def test_each_plant_has_its_own_part(story: Story) -> None:
    each = {"fescue": "leaf", "oak": "bud"}
    story.type("K8 1 female Iolana iolas on fescue in leaf and oak in bud")
    assert parts(story, "K8") == each
    story.later(hours=2).type("K8 host changed fescue leaf and oak bud")
    assert parts(story, "K8") == each
    story.type("K9 set up laying", "K9 host in fescue leaf, oak bud")
    assert parts(story, "K9") == each
    story.type("K9 host out fescue leaf and oak bud", "K9 host in fescue and oak leaf")
    assert parts(story, "K9") == {"fescue": "leaf", "oak": "leaf"}


@pytest.mark.parametrize(
    ("line", "first", "then"),
    [
        ("K9 host in nettle 2 stems, dock 3 stems", "K9 host in nettle 2 stems", "dock 3"),
        ("K9 changed nettle 2 stems and dock 3", "K9 host changed nettle 2 stems", "dock 3"),
        (
            "K8 wild female Aglais io on nettle 2 stems, dock 3 stems",
            "K8 1 wild female Aglais io on nettle 2 stems",
            "dock 3",
        ),
    ],
)
def test_two_plants_each_with_its_stems_are_said_in_two_lines(
    story: Story, line: str, first: str, then: str
) -> None:
    story.type("K9 wild female Aglais io on nettle 2 stems")
    told = story.refused(line)
    assert f"one plant a line: {first}; then {line[:2]} host in {then} stems" in told
