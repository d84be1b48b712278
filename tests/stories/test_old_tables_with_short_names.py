"""Species that an old table writes in short are those that the book or the table has in full; where that is not sure, it is asked once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_of_broods import taken
from tests.stories.test_old_tables_taken_in_again import imported

FULL = "Polygonia c-verrina"
HEAD = "brood,species,laid,eggs,larvae\n"
FIRST = f"{HEAD}A,{FULL},2016-05-14,37,30\n"


def taxa(story: Story) -> set[str]:
    story.reopen()
    return {one.taxon for one in story.desk.bench.broods.values()}


@pytest.mark.parametrize(
    "short",
    ["C. verrina", "verrina", "Vanessa", "N. c-verrina", f"{FULL} L.", f"{FULL} (L., 1758)"],
)
@pytest.mark.parametrize("is_in_book", [True, False])
def test_a_short_name_is_asked_once(
    story: Story, tmp_path: Path, short: str, is_in_book: bool
) -> None:
    full = FULL if short != "Vanessa" else "Vanessa orata"
    first = FIRST.replace(FULL, full)
    rows = f'B,"{short}",2016-06-14,20,10\nC,"{short}",2016-07-14,20,10\n'
    if is_in_book:
        taken(story, tmp_path, first, name="first.csv")
    text = f"{HEAD}{rows}" if is_in_book else f"{first}{rows}"
    ran = imported(story, tmp_path, "old.csv", text)
    assert ran.status == 1
    assert f"species: 2 lines with '{short}': is it {full}, or another?" in ran.err
    taken(story, tmp_path, text, "--as", f"{short}={full}")
    assert taxa(story) == {full}


def test_another_species_after_all(story: Story, tmp_path: Path) -> None:
    text = f"{FIRST}B,C. verrina,2016-06-14,20,10\n"
    taken(story, tmp_path, text, "--as", "C. verrina=C. verrina")
    assert taxa(story) == {FULL, "C. verrina"}


def test_the_full_name_comes_later_than_the_short_one(story: Story, tmp_path: Path) -> None:
    taken(story, tmp_path, f"{HEAD}A,P. verrina,2016-05-14,37,30\n", name="first.csv")
    text = f"{HEAD}B,Pieris verrina,2017-05-14,37,30\n"
    ran = imported(story, tmp_path, "old.csv", text)
    assert "'Pieris verrina': is it P. verrina, or another?" in ran.err
    taken(story, tmp_path, text, "--as", "Pieris verrina=P. verrina")
    assert taxa(story) == {"P. verrina"}


def test_two_genera_may_have_one_epithet(story: Story, tmp_path: Path) -> None:
    taken(story, tmp_path, f"{FIRST}B,Actias c-verrina,2016-06-14,20,10\n")
    assert taxa(story) == {FULL, "Actias c-verrina"}


def test_an_answer_may_be_short_too(story: Story, tmp_path: Path) -> None:
    text = f"{FIRST}B,Comma,2016-06-14,20,10\n"
    taken(story, tmp_path, text, "--as", "Comma=P. c-verrina")
    assert taxa(story) == {FULL}
