"""Animals that went on through a stage whose days nobody wrote down, and eggs that did not hatch."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages, taken
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Actias verrina"
HEAD = "Animal,Species,Laid,Egg days,Larva days,Pupa days,{}Sex,Fate\n"


@pytest.mark.parametrize("days", [",24,14", "8,,14", "8,24,", ",,14"])
@pytest.mark.parametrize("fate", ["eclosed", "emerged", "ok", "alive", "released", ""])
def test_an_animal_goes_on_through_an_empty_stage(
    story: Story, tmp_path: Path, days: str, fate: str
) -> None:
    text = HEAD.format("") + f"A3,{SPECIES},2019-05-06,{days},female,{fate}\n"
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    assert stages(story, tmp_path)["adult"] == (1, 0)
    lines = story.on_disk()
    assert [line["sex"] for line in lines if line["what"] == "emerged"] == ["female"]


def test_the_fate_alone_says_that_it_emerged(story: Story, tmp_path: Path) -> None:
    rows = "".join(
        f"A{n},{SPECIES},2019-05-06,8,,,,{fate}\n" for n, fate in enumerate(("emerged",))
    )
    assert imported(story, tmp_path, "alt.csv", HEAD.format("") + rows).status == 0
    assert stages(story, tmp_path)["adult"] == (1, 0)


def test_a_larva_that_lives_or_is_let_go_stays_a_larva(story: Story, tmp_path: Path) -> None:
    rows = "".join(f"{fate},{SPECIES},2019-05-06,8,,,,{fate}\n" for fate in ("alive", "released"))
    assert imported(story, tmp_path, "alt.csv", HEAD.format("") + rows).status == 0
    assert "pupa" not in stages(story, tmp_path)


@pytest.mark.parametrize("days", [",24,14", "8,,14", "8,24,"])
def test_the_days_of_an_empty_stage_are_the_difference(
    story: Story, tmp_path: Path, days: str
) -> None:
    text = HEAD.format("Total,") + f"A3,{SPECIES},2019-05-06,{days},46,female,eclosed\n"
    ran = imported(story, tmp_path, "alt.csv", text)
    assert ran.status == 0, ran.err + ran.out
    at = {line["what"]: line["at"][:10] for line in story.on_disk() if "at" in line}
    grown = [at[what] for what in ("hatched", "pupated", "emerged")]
    assert grown == ["2019-05-14", "2019-06-07", "2019-06-21"]
    assert all(line.get("evidence") != "not dated" for line in story.on_disk())


NOT_HATCHED = (
    "egg didn't hatch",
    "didn’t hatch",
    "did not hatch",
    "never hatched",
    "unhatched",
    "failed to hatch",
    "Ei nicht geschlüpft",
    "nicht geschlüpft",
    "nie geschlüpft",
    "non éclos",
    "n'a pas éclos",
    "œuf pas éclos",
    "jamais éclos",
)


@pytest.mark.parametrize("fate", NOT_HATCHED)
@pytest.mark.parametrize("said", [False, True])
def test_what_did_not_hatch_is_a_dead_egg(
    story: Story, tmp_path: Path, fate: str, said: bool
) -> None:
    rows = f"A1,{SPECIES},2019-05-06,8,24,14,male,emerged\nA2,{SPECIES},2019-05-06,,,,,{fate}\n"
    options = ("--as", f"{fate}=died") if said else ()
    ran = imported(story, tmp_path, "alt.csv", HEAD.format("") + rows, *options)
    assert ran.status == 0, ran.err + ran.out
    assert stages(story, tmp_path)["egg"] == (2, 1)


@pytest.mark.parametrize("what", NOT_HATCHED)
def test_a_line_of_what_did_not_hatch(story: Story, tmp_path: Path, what: str) -> None:
    taken(
        story,
        tmp_path,
        f"""date,cup,species,what,number
        2024-05-03,X1,{SPECIES},laid,20
        2024-05-12,X1,{SPECIES},hatched,17
        2024-05-20,X1,{SPECIES},{what},3""",
    )
    assert stages(story, tmp_path)["egg"] == (20, 3)
    assert stages(story, tmp_path)["larva"] == (17, 0)


@pytest.mark.parametrize("days", ["8,24,", "8,24,90"])
def test_of_one_that_came_further_it_is_no_egg(story: Story, tmp_path: Path, days: str) -> None:
    rows = f"A2,{SPECIES},2019-05-06,{days},,nicht geschlüpft\n"
    assert imported(story, tmp_path, "alt.csv", HEAD.format("") + rows).status == 0
    assert stages(story, tmp_path)["egg"] == (1, 0)
    assert "adult" not in stages(story, tmp_path)


@pytest.mark.parametrize("fate", ["pupa did not hatch", "Puppe nicht geschlüpft"])
def test_a_pupa_that_did_not_hatch_is_a_dead_pupa(story: Story, tmp_path: Path, fate: str) -> None:
    rows = f"A2,{SPECIES},2019-05-06,8,24,,,{fate}\n"
    assert imported(story, tmp_path, "alt.csv", HEAD.format("") + rows).status == 0
    assert stages(story, tmp_path)["pupa"] == (1, 1)
