"""What an old notebook tells of one day: two temperatures, times of day, a species said once, words all at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES, OTHER = "Pieris verrina", "Melitaea orata"


@pytest.mark.parametrize("evening", [22, 0])
def test_two_temperatures_of_one_day_stand(story: Story, tmp_path: Path, evening: int) -> None:
    rows = f"""date,cup,species,what,number,temp
2022-06-01,K1,{SPECIES},laid,20,16.5
2022-06-08,K1,,hatched,18,14
2022-06-08,K1,,died,2,{evening}
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    read = [line["temperature_c"] for line in story.on_disk() if line["what"] == "air"]
    assert read == [16.5, 14, evening]
    assert "the book has all of it already" in imported(story, tmp_path, "old.csv", rows).out


@pytest.mark.parametrize(
    ("heading", "morning", "evening"),
    [
        ("Uhrzeit", "7:30", "19:00"),
        ("time", "7:30 am", "7 pm"),
        ("heure", "7h30", "19h"),
        ("Uhr", "7", "19"),
        ("hora", "7.30", "19.00"),
    ],
)
def test_times_of_day_stand_beside_the_date(
    story: Story, tmp_path: Path, heading: str, morning: str, evening: str
) -> None:
    rows = f"""date;{heading};cup;species;what;number
2022-06-01;{morning};K1;{SPECIES};laid;20
2022-06-08;{evening};K1;;hatched;18
2022-06-20;;K1;;died;2
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert "time (by its name)" in ran.out
    at = {line["what"]: line["at"][11:16] for line in story.on_disk()}
    assert at["hatched"] == "19:00"
    assert at["died"] == "12:00"


def test_what_is_no_time_is_told(story: Story, tmp_path: Path) -> None:
    rows = f"""date;Uhrzeit;cup;species;what;number
2022-06-01;8:00;K1;{SPECIES};laid;20
2022-06-08;27:00;K1;;hatched;18
"""
    ran = imported(story, tmp_path, "old.csv", rows, "--map", "Uhrzeit=time")
    assert "Uhrzeit is '27:00'; it must be a time, as 8:30 or 19h" in ran.out


def test_a_species_on_a_line_that_brings_none_is_that_of_the_cup(
    story: Story, tmp_path: Path
) -> None:
    rows = f"""date,cup,what,number,species
2023-05-18,T1,cleaned,,{SPECIES}
2023-05-18,T2,cleaned,,{OTHER}
2023-05-19,T1,laid,60,
2023-05-20,T2,laid,20,
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    came = table_of(story, tmp_path, "broods").set_index("taxon")["came"]
    assert dict(came) == {SPECIES: 60, OTHER: 20}


def test_an_empty_species_of_new_ones_is_asked(story: Story, tmp_path: Path) -> None:
    rows = f"""date,cup,what,number,Art
2023-05-19,T1,laid,60,{SPECIES}
2023-06-01,T1,hatched,50,
2023-06-02,T2,laid,30,
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 1
    assert "under Art nothing stands in line 4, where new ones came" in ran.err
    ran = imported(story, tmp_path, "old.csv", rows, "--as", "empty Art=as above")
    assert ran.status == 0, ran.err + ran.out
    assert "90 animals" in ran.out
    options = ("--as", "empty Art=no species", "--same-as", "new")
    ran = imported(story, tmp_path, "none.csv", rows, *options)
    assert "of which species is not recorded" in ran.out


def test_all_words_that_are_not_known_are_told_at_once(story: Story, tmp_path: Path) -> None:
    rows = f"""date,cup,species,what,number
2023-05-19,T1,{SPECIES},laid,60
2023-05-20,T1,,zzlup,
2023-05-21,T1,,Weibchen gefangen,
2023-05-22,T1,,gremmelt,
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    words = "--as 'zzlup=note' --as 'Weibchen gefangen=note' --as 'gremmelt=note'"
    assert words in ran.err
    options = words.replace("'", "").replace("--as ", "\n--as\n").split("\n")
    options = [one.strip() for one in options if one.strip()]
    assert imported(story, tmp_path, "old.csv", rows, *options).status == 0


def test_a_column_of_words_of_events_is_what_happened(story: Story, tmp_path: Path) -> None:
    rows = f"""Date;Boîte;Espèce;Observation;Nb
2023-05-19;B1;{SPECIES};pondu;60
2023-06-01;B1;;éclos;50
2023-06-05;B1;;mort;c. 4
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert "what happened (by what is in it)" in ran.out
    assert "'c. 4' is taken for 4" in ran.out


def test_a_temperature_with_what_it_may_be_off(story: Story, tmp_path: Path) -> None:
    rows = f"""brood,species,laid,eggs,hatched,larvae,temp
A,{SPECIES},2016-05-03,40,2016-05-11,38,21 ± 1
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert ran.status == 0, ran.err + ran.out
    assert "'21 ± 1' is taken for 21" in ran.out


def test_a_column_that_is_half_words_of_events_is_so_too(story: Story, tmp_path: Path) -> None:
    rows = f"""Date;Boîte;Espèce;Observation;Nb
2023-05-19;B1;{SPECIES};pondu;60
2023-05-20;B1;;plante en eau;
2023-06-01;B1;;éclos;50
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert "Observation: 'plante en eau' in 1 line is not known; what does it mean?" in ran.err
    assert imported(story, tmp_path, "old.csv", rows, "--as", "plante en eau=note").status == 0


def test_days_among_dates_are_told(story: Story, tmp_path: Path) -> None:
    rows = f"""brood,species,laid,eggs,hatched,larvae,pupated,pupae,emerged,adults
A,{SPECIES},2016-05-14,20,2016-05-20,18,2016-06-14,17,2016-06-25,16
B,{SPECIES},2016-05-24,20,6 d,18,25 d,17,11 d,16
"""
    ran = imported(story, tmp_path, "old.csv", rows)
    assert "line 3 cannot be read: hatched is '6 d', days among dates; write the date" in ran.out
    assert "1 line is understood, 1 cannot be read" in ran.out
