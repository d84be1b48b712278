"""Lines of an old table that count animals and do not say how many, or of which sex."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_events import stages, taken
from tests.stories.test_old_tables_taken_in_again import broods, imported

SPECIES = "Pieris verrina"


def notebook(what: str, number: str = "") -> str:
    return f"""Date;Cup;Species;What happened;Number
13/5/2019;C1;{SPECIES};laid;20
23/5/2019;C1;{SPECIES};hatched;20
19/6/2019;C1;{SPECIES};pupated;10
1/7/2019;C1;{SPECIES};{what};{number}
"""


def emerged(story: Story) -> dict[str, int]:
    """How many emerged of each sex."""
    sexes: dict[str, int] = {}
    for line in story.on_disk():
        if line["what"] == "emerged":
            sex = str(line.get("sex", ""))
            sexes[sex] = sexes.get(sex, 0) + line["number"]
    return sexes


@pytest.mark.parametrize(
    ("what", "sexes"),
    [
        ("female emerged", {"female": 1}),
        ("a butterfly emerged", {"": 1}),
        ("une femelle sortie", {"female": 1}),
        ("macho salió", {"male": 1}),
        ("3 came out", {"": 3}),
        ("came out 3", {"": 3}),
        ("salieron 2 hembras y 1 machos", {"female": 2, "male": 1}),
        ("emerged 1 female and 2 males", {"female": 1, "male": 2}),
        ("emerged 3♀ 1♂", {"female": 3, "male": 1}),
        ("emerged ♀ 3, ♂ 1", {"female": 3, "male": 1}),
        ("zwei Weibchen geschlüpft", {"female": 2}),
        ("all emerged", {"": 10}),
    ],
)
def test_who_emerged_by_the_words(
    story: Story, tmp_path: Path, what: str, sexes: dict[str, int]
) -> None:
    taken(story, tmp_path, notebook(what))
    assert emerged(story) == sexes
    assert stages(story, tmp_path)["pupa"][0] == 10


@pytest.mark.parametrize("fate", ["died", "female escaped", "males released", "kept as specimen"])
def test_who_leaves_a_cup_of_both_sexes(story: Story, tmp_path: Path, fate: str) -> None:
    table = (
        notebook("emerged", "2 f 3 m")
        + f"1/7/2019;C1;;emerged;2\n2/7/2019;C1;;{fate};1\n3/7/2019;C1;;fed;\n"
    )
    taken(story, tmp_path, table)
    assert emerged(story) == {"female": 2, "male": 3, "": 2}


@pytest.mark.parametrize(
    ("what", "number", "sexes"),
    [
        ("emerged", "1 f 2 m", {"female": 1, "male": 2}),
        ("emerged", "3♀ 1♂", {"female": 3, "male": 1}),
        ("females emerged", "2", {"female": 2}),
        ("machos eclosionados", "2", {"male": 2}),
    ],
)
def test_the_sex_beside_the_number(
    story: Story, tmp_path: Path, what: str, number: str, sexes: dict[str, int]
) -> None:
    taken(story, tmp_path, notebook(what, number))
    assert emerged(story) == sexes


@pytest.mark.parametrize(
    ("what", "sexes"),
    [
        ("2 females and 1 male flew out", {"female": 2, "male": 1}),
        ("flew out 3", {"": 3}),
        ("female flew out", {"female": 1}),
        ("3 flew out", {"": 3}),
    ],
)
def test_what_is_answered_keeps_its_numbers(
    story: Story, tmp_path: Path, what: str, sexes: dict[str, int]
) -> None:
    assert imported(story, tmp_path, "notebook.csv", notebook(what)).status == 1
    taken(story, tmp_path, notebook(what), "--as", f"{what}=emerged")
    assert emerged(story) == sexes


@pytest.mark.parametrize("what", ["females emerged", "emerged", "Falter geschlüpft", "adults"])
def test_those_who_emerge_without_a_number_are_asked(
    story: Story, tmp_path: Path, what: str
) -> None:
    ran = imported(story, tmp_path, "alt.csv", notebook(what))
    assert ran.status == 1
    assert "how many emerged is not written; by the lines before 10 pupae are there" in ran.err
    assert "1, all, or how many?" in ran.err
    assert story.on_disk() == []
    taken(story, tmp_path, notebook(what), "--as", f"1/7/2019 C1 {what}=3")
    assert sum(emerged(story).values()) == 3


def test_pupation_without_a_number_is_asked(story: Story, tmp_path: Path) -> None:
    table = notebook("female emerged").replace("pupated;10", "pupated;")
    ran = imported(story, tmp_path, "alt.csv", table)
    assert "how many pupated is not written; by the lines before 20 larvae are there" in ran.err
    taken(story, tmp_path, table, "--as", "19/6/2019 C1 pupated=all")
    assert stages(story, tmp_path)["pupa"][0] == 20


def test_a_larva_that_pupated_is_one(story: Story, tmp_path: Path) -> None:
    taken(story, tmp_path, notebook("a larva pupated"))
    assert stages(story, tmp_path)["pupa"][0] == 11


def test_one_question_for_all_lines_of_a_word(story: Story, tmp_path: Path) -> None:
    table = notebook("emerged") + f"2/7/2019;C1;{SPECIES};emerged;\n3/7/2019;C1;;emerged;\n"
    ran = imported(story, tmp_path, "alt.csv", table)
    assert "3 lines say 'emerged' without a number" in ran.err
    assert "1 each" in ran.err
    by_line = imported(
        story, tmp_path, "alt.csv", table, "--as", "emerged without a number=one by one"
    )
    assert "line 5, 1/7/2019 C1 emerged: how many emerged is not written" in by_line.err
    taken(story, tmp_path, table, "--as", "emerged without a number=1 each")
    assert emerged(story) == {"": 3}


def test_a_stage_in_the_word_is_kept(story: Story, tmp_path: Path) -> None:
    table = notebook("dead pupae") + f"2/7/2019;C1;{SPECIES};dead pupae;2\n"
    taken(story, tmp_path, table, "--as", "dead pupae=1 died")
    assert stages(story, tmp_path)["pupa"] == (10, 3)


def test_a_mark_among_eggs_and_larvae(story: Story, tmp_path: Path) -> None:
    table = f"""Date;Cup;Species;What happened;Number
13/5/2019;C1;{SPECIES};laid;20
23/5/2019;C1;{SPECIES};hatched;12
24/5/2019;C1;{SPECIES};†;
"""
    ran = imported(story, tmp_path, "alt.csv", table)
    assert ran.status == 1
    assert "by the lines before 8 eggs and 12 larvae are there. Which?" in ran.err
    assert "--as '24/5/2019 C1 †=1 larva'" in ran.err
    taken(story, tmp_path, table, "--as", "24/5/2019 C1 †=1 larva")
    assert stages(story, tmp_path)["larva"] == (12, 1)


@pytest.mark.parametrize("word", ["†", "24/5/2019 C1 †"])
def test_a_mark_that_is_answered_with_its_stage(story: Story, tmp_path: Path, word: str) -> None:
    table = f"""Date;Cup;Species;What happened;Number
13/5/2019;C1;{SPECIES};laid;20
23/5/2019;C1;{SPECIES};hatched;12
24/5/2019;C1;{SPECIES};†;
"""
    taken(story, tmp_path, table, "--as", f"{word}=1 larva died")
    assert stages(story, tmp_path)["larva"] == (12, 1)


def test_an_id_beside_counts_is_of_a_brood(story: Story, tmp_path: Path) -> None:
    ran = imported(
        story,
        tmp_path,
        "old.csv",
        "ID,sp,oviposition,n eggs,incubation,n larvae,m,f\n"
        "B14-1,Aglia verrina,2014-05-03,30,9,20,5,6\n"
        "B14-2,Aglia verrina,2014-05-03,20,8,10,4,3\n",
    )
    assert ran.status == 0, ran.err + ran.out
    assert "days as egg (by its name)" in ran.out
    assert broods(story) == ["B14-1", "B14-2"]


def test_an_id_of_events_is_of_a_cup(story: Story, tmp_path: Path) -> None:
    ran = imported(
        story,
        tmp_path,
        "old.csv",
        "ID,date,event,number,sp\n"
        "K1,2014-05-03,laid,30,Aglia verrina\n"
        "K2,2014-05-03,laid,20,Aglia verrina\n"
        "K1,2014-05-12,hatched,20,\n",
    )
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == ["K1/14A", "K2/14A"]
