"""Codes that an old table calls in words nobody listed: where animals went, and of which laying they are."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story
from tests.stories.test_old_tables_taken_in_again import broods, imported
from tests.stories.test_tables_with_a_column_each import table_of

SPECIES = "Melitaea orata"


@pytest.mark.parametrize(
    ("where", "warmth", "words", "answers"),
    [
        ("Pasa a", "Tª (ºC)", ("puesta", "nacen", "traslado", "pupan"), ()),
        ("Pasa a", "Temp", ("puesta", "nacen", "pasan a jaula", "pupan"), ("pasan a jaula=moved",)),
        ("Przeniesione", "T °C", ("laid", "hatched", "tipped", "pupated"), ("tipped=moved",)),
        ("Then in", "Temp", ("laid", "hatched", "moved", "pupated"), ()),
    ],
)
def test_where_they_went_is_known_by_the_containers_in_it(
    story: Story,
    tmp_path: Path,
    where: str,
    warmth: str,
    words: tuple[str, ...],
    answers: tuple[str, ...],
) -> None:
    laid, hatched, moved, pupated = words
    text = f"""Fecha;Caja;Especie;Suceso;Nº;{where};{warmth}
2022-05-01;T1;{SPECIES};{laid};20;;20,5
2022-05-10;T1;;{hatched};12;;
2022-05-10;T1;;{moved};12;J1a;
2022-05-12;T1;;{hatched};8;;
2022-05-12;T1;;{moved};8;J1b;
2022-06-10;J1a;;{pupated};12;;21
2022-06-13;J1b;;{pupated};8;;
"""
    ran = imported(story, tmp_path, "cuaderno.csv", text)
    if answers:
        asked = answers[0].removesuffix("=moved")
        assert f"--as '{asked}=moved'" in ran.err  # what is likely, for all of them went somewhere
        ran = imported(story, tmp_path, "cuaderno.csv", text, "--as", answers[0])
    assert ran.status == 0, ran.err + ran.out
    took = table_of(story, tmp_path, "durations").set_index("stage")
    assert took["number"]["larva"] == 20
    assert took["mean (days)"]["larva"] == pytest.approx((12 * 31 + 8 * 32) / 20)
    readings = [line["temperature_c"] for line in story.on_disk() if "temperature_c" in line]
    assert sorted(readings) == [20.5, 21]


@pytest.mark.parametrize(
    ("heading", "code"),
    [
        ("Ponte", "ponte {}"),
        ("Puesta", "puesta {}"),
        ("Gelege", "Gelege {}"),
        ("Laying", "{} wild"),
    ],
)
def test_layings_in_words_are_broods(story: Story, tmp_path: Path, heading: str, code: str) -> None:
    rows = [
        f"{number};{code.format('AB'[number % 2])};2022-06-0{1 + number % 2};9;{30 + number};18;no\n"
        for number in range(1, 7)
    ]
    head = f"No.;{heading};Laid;Egg days;Larva days;Pupa days;Died\n"
    text = head + "".join(rows) + "mean;;;9;33,5;18;\n"
    options = ("--species", SPECIES, "--as", "mean=sum")
    ran = imported(story, tmp_path, "animals.csv", text, *options)
    assert ran.status == 0, ran.err + ran.out
    assert broods(story) == sorted(code.format(one).replace(" ", "-") for one in "AB")
    assert sum(line["what"] == "emerged" for line in story.on_disk()) == 6


@pytest.mark.parametrize(
    ("first", "second", "number"),
    [
        ("umgesetzt in {}", "alle in {} umgesetzt", ""),
        ("moved to {}", "→ {}", "15"),
        ("15 nach {} umgesetzt", "15 larvae to {}", ""),
    ],
)
@pytest.mark.parametrize("cup", ["Kasten A", "Glas 3", "Big Box 12"])
def test_a_container_of_several_words_is_where_they_went(
    story: Story, tmp_path: Path, first: str, second: str, number: str, cup: str
) -> None:
    text = f"""Tag;Behälter;Art;Was war;Anz.
2019-05-01;Glas 1;{SPECIES};Eiablage;15
2019-05-02;Glas 2;{SPECIES};Eiablage;15
2019-05-10;Glas 1;{SPECIES};geschlüpft;15
2019-05-11;Glas 2;{SPECIES};geschlüpft;15
2019-05-12;Glas 1;{SPECIES};{first.format(cup)};{number}
2019-05-12;Glas 2;{SPECIES};{second.format("Kasten B")};{number}
2019-06-10;{cup};{SPECIES};verpuppt;15
2019-06-11;Kasten B;{SPECIES};verpuppt;15
"""
    ran = imported(story, tmp_path, "tagebuch.csv", text)
    assert ran.status == 0, ran.err + ran.out
    took = table_of(story, tmp_path, "durations")
    assert sorted(took[took["stage"] == "larva"]["mean (days)"]) == [31, 31]


@pytest.mark.parametrize(
    ("heading", "fate"),
    [
        ("entwischt", "escaped"),
        ("escaped", "escaped"),
        ("échappées", "escaped"),
        ("escapadas", "escaped"),
        ("ontsnapt", "escaped"),
        ("larvae escaped", "escaped"),
        ("larvae given away", "taken"),
        ("Raupen verschenkt", "taken"),
    ],
)
def test_those_that_left_are_counted_in_a_column_of_events(
    story: Story, tmp_path: Path, heading: str, fate: str
) -> None:
    text = f"""date,cup,species,what,number,dead,{heading}
2019-05-01,T1,{SPECIES},laid,20,,
2019-05-10,T1,{SPECIES},hatched,20,,
2019-05-20,T1,{SPECIES},checked,,1,2
2019-06-10,T1,{SPECIES},pupated,10,,1
2019-06-10,T1,{SPECIES},,,,3
2019-06-12,T1,{SPECIES},pupated,3,,
"""
    ran = imported(story, tmp_path, "old.csv", text)
    assert ran.status == 0, ran.err + ran.out
    events = table_of(story, tmp_path, "events")
    larvae = events[events["stage"].isin(["larva", "L1"])].groupby("fate")["number"].sum()
    assert dict(larvae) == {fate: 6, "went on": 13, "died": 1}


def test_yes_is_no_species(story: Story, tmp_path: Path) -> None:
    text = "ID,Laid,Egg days\n1,2021-05-01,8\n"
    ran = imported(story, tmp_path, "old.csv", text, "--species", "yes")
    assert "'yes' is no species; say its name" in ran.err


def test_headings_in_short_are_known(story: Story, tmp_path: Path) -> None:
    text = f"""Nr;Legsel;Soort;Legdatum;Ei dgn;Larve dgn;Pop dgn;Temp;M/V;Opm.
1;A;{SPECIES};2-6-2021;9,5;40,5;19,5;21 tot 23;m;klein
2;A;{SPECIES};14-6-2021;9;40;19;22;v;
gem.;;;;9,25;40,25;19,25;22;;
"""
    options = ("--as", "gem.=sum", "--as", "v=female")
    ran = imported(story, tmp_path, "proef.csv", text, *options)
    assert ran.status == 0, ran.err + ran.out
    emerged = [line for line in story.on_disk() if line["what"] == "emerged"]
    assert sorted(line["sex"] for line in emerged) == ["female", "male"]
    lines = table_of(story, tmp_path, "durations").set_index("stage")
    assert list(lines["mean temperature (C)"]) == [22] * 4


@pytest.mark.parametrize(
    "mother", ["18-03", "ex 18-03", "F1 of 18-03", "aus 18-03", "fille de 18-03"]
)
def test_a_mother_out_of_an_earlier_brood_is_of_it(
    story: Story, tmp_path: Path, mother: str
) -> None:
    text = f"""Brood;Species;Mother;Laid;Eggs;Hatched;Pupated;Adults
18-03;{SPECIES};wild;1/5/2018;40;36;30;28
18-04;{SPECIES};{mother};21/7/2018;30;26;20;18
18-05;Aglia verrina;ex 18-03;21/7/2018;30;26;20;18
"""
    ran = imported(story, tmp_path, "old.csv", text, "--dates", "day-first")
    assert ran.status == 0, ran.err + ran.out
    story.reopen()
    assert story.desk.bench.broods["18-04"].mothers == ("18-03",)
    assert story.desk.bench.broods["18-03"].mothers == ()
    assert "18-03" not in story.desk.bench.broods["18-05"].mothers  # of another species


@pytest.mark.parametrize("days", ["dgr", "dagar dgr", "dni", "d"])
def test_days_in_short_are_days_and_shown_to_the_digit(
    story: Story, tmp_path: Path, days: str
) -> None:
    text = f"""Brood;Species;Laid;Eggs;Larvae;Pupae;Adults;Egg {days};Larv {days};Pupa {days}
B1;{SPECIES};2018-05-01;40;36;30;28;8,5;13,25;30
"""
    ran = imported(story, tmp_path, "old.csv", text, "--as", "left=dead")
    assert ran.status == 0, ran.err + ran.out
    page = story.shell("export", "note", "B1", "-", "--as", ".md").out
    assert "13.25" in page
    assert "8.5" in page
