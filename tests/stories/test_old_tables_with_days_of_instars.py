"""Old tables that tell how many days larvae were in each instar: durations of instars to the digit."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Melitaea orata"
# egg, L1 to L5, pupa [days]; the third came as far as L3, in which it died after 2 days
TOOK = ((5, 3, 4, 3, 4, 6, 10), (6, 4, 4, 3, 4, 7, 11), (5, 3, 5, 2))
MEANS = {"L1": 10 / 3, "L2": 13 / 3, "L3": 3.0, "L4": 4.0, "L5": 6.5, "larva": 21.0, "pupa": 10.5}


def durations(story: Story, tmp_path: Path) -> dict[str, float]:
    """The mean of each stage, of instars by their names, of all broods that tell of it."""
    took = table_of(story, tmp_path, "durations")
    names = [
        f"L{instar:.0f}" if instar == instar else stage
        for stage, instar in zip(took["stage"], took["instar"], strict=True)
    ]
    return dict(zip(names, took["mean (days)"], strict=True))


def animals(headings: str, *, who: str = "animal") -> str:
    rows = [
        ",".join([str(at), SPECIES, "2018-05-14", *map(str, took)] + [""] * (7 - len(took)))
        + f",{'x' if len(took) < 7 else ''},{'L3' if len(took) < 7 else ''}"
        for at, took in enumerate(TOOK, start=1)
    ]
    return "\n".join([f"{who},species,laid,{headings},died,died as", *rows]) + "\n"


@pytest.mark.parametrize(
    "headings",
    [
        "days egg,days L1,days L2,days L3,days L4,days L5,days pupa",
        "Tage Ei,Tage L1,Tage L2,Tage L3,Tage L4,Tage L5,Tage Puppe",
        "egg days,L1 days,L2 days,L3 days,L4 days,L5 days,pupa days",
        "days as egg,L1,L2,L3,L4,L5,days as pupa",
        "Ei (d),L1 (d),L2 (d),L3 (d),L4 (d),L5 (d),Puppe (d)",
        "durée œuf,durée stade 1,durée stade 2,durée stade 3,durée stade 4,durée stade 5,durée nymphe",
    ],
)
def test_of_animals(story: Story, tmp_path: Path, headings: str) -> None:
    ran = imported(story, tmp_path, "old.csv", animals(headings))
    assert ran.status == 0, ran.err + ran.out
    assert "3 animals" in ran.out
    found = durations(story, tmp_path)
    assert {name: found[name] for name in MEANS} == pytest.approx(MEANS)
    lived = table_of(story, tmp_path, "life-table").set_index("stage")
    assert lived.loc["L3", "died"] == 1
    assert lived["died"].sum() == 1


def test_the_days_of_the_larva_beside_are_those_of_its_instars(
    story: Story, tmp_path: Path
) -> None:
    rows = f"""animal,species,laid,days as egg,L1,L2,L3,days as larva,days as pupa,total
1,{SPECIES},2018-05-14,5,4,5,6,15,10,30
2,{SPECIES},2018-05-14,5,4,5,8,17,10,32
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    found = durations(story, tmp_path)
    assert (found["L3"], found["larva"], found["egg to adult"]) == (7.0, 16.0, 31.0)
    ran = imported(story, tmp_path, "slip.csv", rows.replace("6,15", "6,25"), "--same-as", "new")
    assert "the days of the instars are 15, but 25 as larva; mend one of them" in ran.out


def test_of_a_cell_that_tells_all_stages(story: Story, tmp_path: Path) -> None:
    rows = f"""animal;species;laid;stages
1;{SPECIES};2018-05-14;egg 5 d, L1 3 d, L2 4.5 d, L3 5 d, pupa 10 d
2;{SPECIES};2018-05-14;egg 6 d, L1 4 d, L2 4.5 d, L3 6 d, pupa 11 d
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    found = durations(story, tmp_path)
    assert (found["L1"], found["L2"], found["L3"], found["larva"]) == (3.5, 4.5, 5.5, 13.5)


def test_of_broods_with_counts(story: Story, tmp_path: Path) -> None:
    rows = f"""brood,species,laid,eggs,days egg,days L1,days L2,days L3,days pupa,larvae,pupae,adults
A,{SPECIES},2018-05-14,40,6,4,4,9,11,38,30,28
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert "left in A: 2 eggs, 8 larvae and 2 pupae taken as dead" in ran.out
    found = durations(story, tmp_path)
    assert (found["L1"], found["L2"], found["L3"], found["larva"]) == (4.0, 4.0, 9.0, 17.0)
    lived = table_of(story, tmp_path, "life-table").set_index("stage")
    assert dict(lived["died"]) == {"egg": 2, "L1": 8, "L2": 0, "L3": 0, "pupa": 2, "adult": 0}
    assert lived.loc["pupa", "share of the first stage that came through"] == pytest.approx(0.7)


def test_numbers_of_animals_in_each_instar_stay_so(story: Story, tmp_path: Path) -> None:
    rows = f"""brood,species,laid,eggs,hatched,L1,L2,L3,pupated,pupae
A,{SPECIES},2018-05-14,40,2018-05-20,38,36,30,2018-06-20,30
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    lived = table_of(story, tmp_path, "life-table").set_index("stage")["entered"]
    assert (lived["L1"], lived["L2"], lived["L3"], lived["pupa"]) == (38, 36, 30, 30)


def test_one_that_lives_on_in_the_middle_of_it_did_not_pupate(story: Story, tmp_path: Path) -> None:
    rows = f"""animal,species,laid,days egg,days L1,days L2,days L3,days pupa
1,{SPECIES},2018-05-14,5,4,4,,
2,{SPECIES},2018-05-14,5,4,4,6,9
"""
    assert imported(story, tmp_path, "old.csv", rows).status == 0
    lived = table_of(story, tmp_path, "life-table").set_index("stage")["entered"]
    assert (lived["L3"], lived["pupa"]) == (2, 1)
