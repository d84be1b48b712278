"""A notebook in which a word stands beside the name of a stage: it makes no new animals of what it says otherwise."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story
from tests.stories.test_old_tables_of_events import stages
from tests.stories.test_old_tables_taken_in_again import imported

SPECIES = "Colias verrina"
BEFORE = f"""Date;Cup;Species;What;Number
2022-05-01;K1;{SPECIES};laid;60
2022-05-08;K1;;hatched;50
2022-05-30;K1;;pupated;30
"""


def told_of(story: Story, tmp_path: Path, *said: str, then: tuple[str, ...] = ()) -> Ran:
    """A notebook with some more lines of words and a number, and what is said of them."""
    lines = "".join(f"2022-06-{day:02};K1;;{one}\n" for day, one in enumerate(said, start=1))
    options = [part for one in then for part in ("--as", one)]
    return imported(story, tmp_path, "notebook.csv", BEFORE + lines, *options)


@pytest.mark.parametrize(
    ("words", "likely"),
    [
        ("pupae black;2", "died"),
        ("1 larva limp;", "note"),
        ("threw away 10 eggs;", "died"),
        ("gave 5 larvae to Tom;", "given away"),
        ("sold 5 larvae;", "given away"),
        ("dud pupa;1", "died"),
        ("30 larvae left;", "counted"),
        ("2 larvae not eating;", "note"),
        ("Puppen schwarz;2", "died"),
        ("1 Raupe weniger;", "missing"),
        ("30 Raupen übrig;", "counted"),
        ("chrysalide noire;1", "died"),
        ("reste 30 chenilles;", "counted"),
        ("jeté 3 oeufs;", "died"),
        ("huevos secos;3", "died"),
        ("crisálida seca;1", "died"),
        ("quedan 30 orugas;", "counted"),
        ("oruga parasitada;1", "died"),
        ("pop zwart;1", "died"),
        ("nog 30 rupsen;", "counted"),
        ("2 L3 squished;", "died"),
    ],
)
def test_it_is_asked_what_it_means(story: Story, tmp_path: Path, words: str, likely: str) -> None:
    ran = told_of(story, tmp_path, words)
    asked = " ".join(one for one in words.partition(";")[0].split() if not one.isdecimal())
    assert f"What: '{asked}' in 1 line is not known; what does it mean?" in ran.err
    assert f"--as '{asked}={likely}'" in ran.err


@pytest.mark.parametrize(
    ("words", "stage", "dead"),
    [
        ("1 larva drowned;", "larva", 1),
        ("dies 1 larva;", "larva", 1),
        ("eggs dried up;2", "egg", 2),
        ("pupae shrivelled;2", "pupa", 2),
        ("Eier vertrocknet;4", "egg", 4),
        ("Raupe ertrunken;1", "larva", 1),
        ("meurt 1 chenille;", "larva", 1),
        ("œufs stériles;1", "egg", 1),
        ("huevos no viables;2", "egg", 2),
        ("muere 1 oruga;", "larva", 1),
        ("1 rups doodgegaan;", "larva", 1),
        ("eitjes onbevrucht;3", "egg", 3),
    ],
)
def test_a_word_for_a_death_is_known(
    story: Story, tmp_path: Path, words: str, stage: str, dead: int
) -> None:
    ran = told_of(story, tmp_path, words, then=("left=not known",))
    assert ran.status == 0, ran.err
    assert stages(story, tmp_path)[stage][1] == dead
    assert stages(story, tmp_path)["egg"][0] == 60


def test_it_is_asked_once_whatever_the_numbers(story: Story, tmp_path: Path) -> None:
    said = ("3 huevos secos;", "2 huevos secos;", "huevos secos;1")
    ran = told_of(story, tmp_path, *said)
    assert "What: 'huevos secos' in 3 lines is not known" in ran.err
    ran = told_of(story, tmp_path, *said, then=("huevos secos=died", "left=not known"))
    assert ran.status == 0, ran.err
    assert stages(story, tmp_path)["egg"] == (60, 6)


def test_what_it_is_said_to_mean_counts(story: Story, tmp_path: Path) -> None:
    said = ("5 larvae to Tom;", "larvae limp;2", "1 pupa black;", "10 larvae left;")
    then = ("larvae to Tom=missing", "larvae limp=note", "pupa black=died", "larvae left=counted")
    ran = told_of(story, tmp_path, *said, then=then)
    assert ran.status == 0, ran.err
    lines = story.on_disk()
    assert [one["number"] for one in lines if one["what"] == "stocked"] == [60]
    dead = [(one["number"], one["stage"]) for one in lines if one["what"] == "died"]
    assert dead == [(10, "egg"), (1, "pupa")]  # eggs of which no more is told, and the black one
    counted = [one for one in lines if one["what"] == "counted"]
    assert [(one["number"], one["stage"]) for one in counted] == [(10, "larva")]
    assert any("larvae limp" in str(one.get("text")) for one in lines if one["what"] == "note")


def test_it_can_be_said_to_mean_the_animals_alone(story: Story, tmp_path: Path) -> None:
    table = f"Date;Cup;Species;What;Number\n2022-05-01;K1;{SPECIES};larvae off nettle;12\n"
    ran = imported(story, tmp_path, "notebook.csv", table)
    assert "--as 'larvae off nettle=larvae'" in ran.err  # for none were there before
    ran = imported(story, tmp_path, "notebook.csv", table, "--as", "larvae off nettle=larvae")
    assert ran.status == 0, ran.err
    assert [one["number"] for one in story.on_disk() if one["what"] == "stocked"] == [12]


@pytest.mark.parametrize(
    "words", ["12 small larvae", "larvae K1 12 pcs", "12 erste Raupen", "12 Colias larvae"]
)
def test_what_says_no_more_than_that_is_not_asked(story: Story, tmp_path: Path, words: str) -> None:
    table = f"Date;Cup;Species;What\n2022-05-01;K1;{SPECIES};{words}\n"
    ran = imported(story, tmp_path, "notebook.csv", table)
    assert ran.status == 0, ran.err
    assert [one["number"] for one in story.on_disk() if one["what"] == "stocked"] == [12]


def test_so_it_is_in_a_column_of_stages(story: Story, tmp_path: Path) -> None:
    table = BEFORE.replace("What", "Stage").replace("laid", "egg").replace("hatched", "larva")
    table = table.replace("pupated", "pupa") + "2022-06-01;K1;;dead larva;2\n"
    ran = imported(story, tmp_path, "notebook.csv", table + "2022-06-02;K1;;pupa black;1\n")
    assert "Stage: 'pupa black' in 1 line is not known" in ran.err
    more = table + "2022-06-02;K1;;pupa black;1\n"
    ran = imported(story, tmp_path, "notebook.csv", more, "--as", "pupa black=died")
    assert ran.status == 0, ran.err
    dead = [one for one in story.on_disk() if one["what"] == "died"]
    assert [(one["number"], one["stage"]) for one in dead][1:3] == [(2, "larva"), (1, "pupa")]


@pytest.mark.parametrize("number", ["2 dead", "2 drowned"])
def test_so_it_is_beside_the_number(story: Story, tmp_path: Path, number: str) -> None:
    ran = told_of(story, tmp_path, f"larvae;{number}", then=("left=not known",))
    assert ran.status == 0, ran.err
    dead = [one for one in story.on_disk() if one["what"] == "died"]
    assert [(one["number"], one["stage"]) for one in dead] == [(2, "larva")]


def test_fewer_after_a_count_are_others(story: Story, tmp_path: Path) -> None:
    said = ("counted 15 larvae;", "1 larva missing;")
    ran = told_of(story, tmp_path, *said, then=("left=not known",))
    assert ran.status == 0, ran.err + ran.out


def test_who_was_given_away_left_alive(story: Story, tmp_path: Path) -> None:
    said = ("gave 3 larvae to Ted;", "2 larvae given away;", "4 Raupen verschenkt;")
    ran = told_of(story, tmp_path, *said, then=("gave larvae to Ted=given away",))
    assert ran.status == 0, ran.err
    lines = story.on_disk()
    taken = [one for one in lines if one.get("fate") == "taken"]
    assert [(one["number"], one["stage"]) for one in taken] == [(n, "larva") for n in (3, 2, 4)]
    assert [str(one["at"])[:10] for one in taken] == [f"2022-06-0{day}" for day in (1, 2, 3)]
    assert "gave 3 larvae to Ted" in [one["text"] for one in lines if one["what"] == "note"]
