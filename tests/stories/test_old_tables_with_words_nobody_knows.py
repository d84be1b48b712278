"""Old tables with words that are not known, of a sex, a time, beside a number: each is asked, and what it is said to mean counts."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Pieris verrina"
HEAD = f"""Date,Cup,Species,What,Number,Sex
2022-05-01,A1,{SPECIES},laid,20,
2022-05-12,A1,,hatched,20,
2022-06-01,A1,,pupated,18,
"""
LIVES = "Brood,Species,Laid,Eggs,Hatched,Pupae,Adults,Sex\n"


def told(story: Story, what: str, *fields: str) -> list[tuple[object, ...]]:
    lines = [line for line in story.on_disk() if line["what"] == what]
    return [tuple(line.get(field, "") for field in fields) for line in lines]


@pytest.mark.parametrize("word", ["fem", "samica"])
def test_a_sex_that_is_not_known_is_asked(story: Story, tmp_path: Path, word: str) -> None:
    table = f"{HEAD}2022-07-01,A1,,emerged,3,{word}\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert f"Sex: '{word}' is not known; which sex is it? Say it as: --as '{word}=" in ran.err
    ran = imported(story, tmp_path, "old.csv", table, "--as", f"{word}=female")
    assert ran.status == 0, ran.err
    assert told(story, "emerged", "number", "sex") == [(3, "female")]


def test_so_it_is_in_a_row_of_a_brood(story: Story, tmp_path: Path) -> None:
    table = f"{LIVES}A,{SPECIES},2022-05-01,1,1,1,1,samica\n"
    assert "Sex: 'samica' is not known" in imported(story, tmp_path, "old.csv", table).err
    ran = imported(story, tmp_path, "old.csv", table, "--as", "Samica=female")
    assert ran.status == 0, ran.err
    assert told(story, "emerged", "number", "sex") == [(1, "female")]


@pytest.mark.parametrize(
    ("cells", "answers", "emerged"),
    [
        ("emerged,12 samców", ["samców=male"], [(12, "male")]),
        (
            'emerged,"7 samce, 3 samice"',
            ["samce=male", "samice=female"],
            [(7, "male"), (3, "female")],
        ),
        ('"7 samce, 3 samice",', ["samce=male", "samice=female"], [(7, "male"), (3, "female")]),
    ],
)
def test_a_sex_beside_a_number_is_asked_and_counts(
    story: Story, tmp_path: Path, cells: str, answers: list[str], emerged: list[tuple[int, str]]
) -> None:
    table = f"{HEAD}2022-07-01,A1,,{cells},\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert "is not known" in ran.err
    said = [part for one in answers for part in ("--as", one)]
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert ran.status == 0, ran.err
    assert told(story, "emerged", "number", "sex") == emerged


@pytest.mark.parametrize("word", ["weak", "small"])
def test_another_word_beside_a_number_is_asked_and_noted(
    story: Story, tmp_path: Path, word: str
) -> None:
    table = f"{LIVES}A,{SPECIES},2022-05-01,20,20,12,8 {word},\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert f"Adults: '{word}' is not known; what does it mean ('8 {word}')?" in ran.err
    ran = imported(story, tmp_path, "old.csv", table, "--as", f"{word}=note")
    assert ran.status == 0, ran.err
    assert told(story, "emerged", "number") == [(8,)]
    assert any(f"Adults: 8 {word}" in str(text) for (text,) in told(story, "note", "text"))


@pytest.mark.parametrize(
    ("cells", "answers"),
    [("died,12 parasitised", []), ("12 parasitised,", ["--as", "parasitised=died"])],
)
def test_of_what_they_died_is_read(
    story: Story, tmp_path: Path, cells: str, answers: list[str]
) -> None:
    ran = imported(story, tmp_path, "old.csv", f"{HEAD}2022-06-10,A1,,{cells},\n", *answers)
    assert ran.status == 0, ran.err
    assert told(story, "died", "number", "cause") == [(12, "parasitised")]


def test_plain_pieces_are_no_word_to_ask_about(story: Story, tmp_path: Path) -> None:
    table = f"{LIVES}A,{SPECIES},2022-05-01,20 pcs,20 szt.,12 pupae,8 Stück,\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert ran.status == 0, ran.err
    assert told(story, "emerged", "number") == [(8,)]


def test_words_that_were_taught_count_in_a_cell_of_several(story: Story, tmp_path: Path) -> None:
    table = f'{HEAD}2022-06-10,A1,,"2 padlo, 1 uciekla",,\n'
    said = ("--as", "padlo=died", "--as", "uciekla=escaped")
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert ran.status == 0, ran.err
    assert told(story, "died", "number") == [(2,)]
    assert told(story, "escaped", "number") == [(1,)]


def test_a_number_before_a_comma_counts(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", f'{HEAD}2022-06-10,A1,,"died 2, fed",,\n')
    assert ran.status == 0, ran.err
    assert told(story, "died", "number") == [(2,)]


TIMES = f"""Date,Time,Cup,Species,What,Number
1.6.2022,rano,A1,{SPECIES},laid,20
,9:00,A1,,counted,20
"""


def test_a_time_in_words_is_asked(story: Story, tmp_path: Path) -> None:
    above = ("--as", "empty Date=as above")
    ran = imported(story, tmp_path, "old.csv", TIMES, *above)
    assert "Time: 'rano' is not known; which time of day is meant?" in ran.err
    ran = imported(story, tmp_path, "old.csv", TIMES, *above, "--as", "rano=8:00")
    assert ran.status == 0, ran.err
    (at,) = (line["at"] for line in story.on_disk() if line["what"] == "stocked")
    assert "T06:00" in str(at) or "T08:00" in str(at)


def test_a_line_below_one_that_cannot_be_read_keeps_its_date(story: Story, tmp_path: Path) -> None:
    table = f"{TIMES}2.6.2022,25:99,A1,,counted,20\n,9:00,A1,,counted,20\n"
    said = ("--as", "empty Date=as above", "--as", "rano=8:00", "--leave-out", "--dry-run")
    ran = imported(story, tmp_path, "old.csv", table, *said)
    assert "line 4 cannot be read: Time is '25:99'" in ran.out
    assert "line 5: 2 Jun 2022: A1/22 counted 20" in ran.out


def test_what_was_said_of_no_word_of_the_table_is_told(story: Story, tmp_path: Path) -> None:
    ran = imported(story, tmp_path, "old.csv", HEAD, "--as", "fem=female", "--dry-run")
    assert "said of words that it does not have, or does not ask about: fem=female" in ran.out


@pytest.mark.parametrize("answer", ["empty Species=as above", "broods called alike=other"])
def test_an_answer_to_a_question_of_its_own_is_no_strange_word(
    story: Story, tmp_path: Path, answer: str
) -> None:
    ran = imported(story, tmp_path, "old.csv", HEAD, "--as", answer, "--dry-run")
    assert "said of words" not in ran.out


def test_a_day_that_is_none_is_asked_for_as_a_date(story: Story, tmp_path: Path) -> None:
    table = f"{LIVES}A,{SPECIES},31.6.2022,20,20,12,8,\n"
    ran = imported(story, tmp_path, "old.csv", table)
    assert "line 2 cannot be read: Laid is '31.6.2022'; it must be a date" in ran.out


def test_of_two_days_the_middle_is_between_them(story: Story, tmp_path: Path) -> None:
    table = HEAD.replace("2022-05-12", "2022-05-12 - 2022-05-13")
    ran = imported(story, tmp_path, "old.csv", table, "--dry-run")
    assert "'2022-05-12 - 2022-05-13' is taken for 13 May 2022 00:00, its middle" in ran.out
