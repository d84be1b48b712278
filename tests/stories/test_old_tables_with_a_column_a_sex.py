"""Old tables whose adults stand in two columns, one a sex: they are added up and kept by sex."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_broods import taken
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Aglia verrina"
HEAD = "brood,species,laid,laid until,eggs,hatched,larvae,pupated,pupae,emerged"
ROW = f"Z1,{SPECIES},2016-05-14,2016-05-15,37,2016-05-25,30,2016-06-25,20,2016-07-20"


def emerged(story: Story) -> dict[str, int]:
    """How many adults of each sex came in; '' of none that is written."""
    found: dict[str, int] = {}
    for line in story.on_disk():
        if line["what"] == "emerged" or (line["what"] == "stocked" and line["stage"] == "adult"):
            sex = line.get("sex", "")
            found[sex] = found.get(sex, 0) + line["number"]
    return found


@pytest.mark.parametrize(
    "columns",
    [
        "males,females",
        "♂,♀",
        "adults ♂,adults ♀",
        "Falter ♂,Falter ♀",
        "m,w",
        "no of males,females",
    ],
)
def test_males_and_females_are_added_up(story: Story, tmp_path: Path, columns: str) -> None:
    ran = taken(story, tmp_path, f"{HEAD},{columns}\n{ROW},8,9\n")
    assert emerged(story) == {"male": 8, "female": 9}
    lived = table_of(story, tmp_path, "life-table").set_index("stage")["entered"]
    assert lived["adult"] == 17
    assert "17 emerged" in ran.out
    assert "not written" not in ran.out


def test_a_heading_in_two_lines(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        "Zucht;Art;Eiablage;Eier;Schlupf;;Verpuppung;;Falter;;\n"
        ";;am;Stk.;am;Rpn.;ab;Stk.;ab;♂;♀\n"
        f"Z1;{SPECIES};14.5.2016;37;25.5.2016;30;25.6.2016;20;20.7.2016;8;9\n"
        f"Z2;{SPECIES};14.5.2017;37;25.5.2017;30;25.6.2017;20;20.7.2017;5;-\n",
    )
    assert emerged(story) == {"male": 13, "female": 9}


def test_adults_of_no_known_sex_are_the_rest_of_a_sum(story: Story, tmp_path: Path) -> None:
    taken(story, tmp_path, f"{HEAD},adults,males,females\n{ROW},17,8,7\n")
    assert emerged(story) == {"male": 8, "female": 7, "": 2}


def test_more_of_both_than_in_all_is_a_line_to_mend(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", f"{HEAD},adults,males,females\n{ROW},15,8,9\n")
    assert ran.status == 1
    assert "males and females are 17, but adults is 15; mend one of them" in ran.out


def test_a_column_of_one_sex_called_adults_is_still_of_that_sex(
    story: Story, tmp_path: Path
) -> None:
    said = ("--map", "Falter ♀=adults")
    taken(story, tmp_path, f"{HEAD},Falter ♂,Falter ♀\n{ROW},8,9\n", *said)
    assert emerged(story) == {"male": 8, "female": 9}


def test_a_notebook_with_a_column_a_sex(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        f"""date,cup,species,what,number,males,females
2016-05-14,C1,{SPECIES},laid,30,,
2016-05-24,C1,{SPECIES},hatched,30,,
2016-06-24,C1,{SPECIES},pupated,20,,
2016-07-10,C1,{SPECIES},emerged,,5,4
2016-07-11,C1,{SPECIES},emerged,3,1,2
""",
    )
    assert emerged(story) == {"male": 6, "female": 6}


def test_daily_counts_with_a_column_a_sex(story: Story, tmp_path: Path) -> None:
    taken(
        story,
        tmp_path,
        f"""date,cup,species,eggs,larvae,pupae,males,females
2016-05-14,C1,{SPECIES},20,,,,
2016-05-24,C1,{SPECIES},0,20,,,
2016-06-24,C1,{SPECIES},,0,20,,
2016-07-10,C1,{SPECIES},,,15,2,3
2016-07-11,C1,{SPECIES},,,12,4,4
2016-07-12,C1,{SPECIES},,,12,4,3
""",
    )
    assert emerged(story) == {"male": 4, "female": 4}


def test_that_all_are_taken_to_have_gone_on_is_told(story: Story, tmp_path: Path) -> None:
    ran = taken(story, tmp_path, f"{HEAD}\n{ROW}\n")
    assert (
        "how many emerged is not written; taken for all that were left: Z1 (20 adults)" in ran.out
    )


@pytest.mark.parametrize(
    ("heading", "male", "female"), [("geslacht", "m", "v"), ("sexe", "m", "v"), ("sexo", "m", "h")]
)
def test_a_word_for_a_sex_that_is_not_known_is_asked(
    story: Story, tmp_path: Path, heading: str, male: str, female: str
) -> None:
    lives = [
        f"{one},{SPECIES},2020-06-01,8,30,50,no,{male if one % 2 else female}"
        for one in (1, 2, 3, 4)
    ]
    table = "\n".join(
        [f"nr,species,laid,days as egg,days as larva,total,died,{heading}", *lives, ""]
    )
    ran = imported(story, tmp_path, "old.csv", table)
    assert f"{heading}: '{female}' is not known; which sex is it?" in ran.err
    ran = imported(story, tmp_path, "old.csv", table, "--as", f"{female}=female")
    assert ran.status == 0, ran.err
    sexes = [line["sex"] for line in story.on_disk() if line["what"] == "emerged"]
    assert sorted(sexes) == ["female", "female", "male", "male"]


@pytest.mark.parametrize("number", ["8m 9f", "8 m, 9 f", "8♂ 9♀"])
def test_signs_of_sexes_stand_close_to_their_numbers(
    story: Story, tmp_path: Path, number: str
) -> None:
    table = f"Date;Cup;Species;What;n\n3.5.2022;K1;{SPECIES};eggs laid;20\n5.7.2022;K1;;emerged;{number}\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert emerged(story) == {"male": 8, "female": 9}


@pytest.mark.parametrize(
    ("heading", "cell"),
    [
        ("Falter ♂/♀", "20/17"),
        ("Falter (m/w)", "20 / 17"),
        ("♀/♂ Falter", "17/20"),
        ("m/f adults", "20:17"),
    ],
)
def test_both_sexes_in_one_column(story: Story, tmp_path: Path, heading: str, cell: str) -> None:
    table = f"Zucht;Art;Eiablage;Eier;{heading}\nZ1;{SPECIES};2023-05-03;48;{cell}\nZ2;{SPECIES};2023-05-04;30;?\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err + ran.out
    assert emerged(story) == {"male": 20, "female": 17}
