"""Every calculation as the keeper meets it: it runs, says its formula and source, and refuses in one line."""

from __future__ import annotations

import io
import json
import os
import shlex
import subprocess
import sys

import pytest

from rounds.biology.distributions import binomial_chance
from rounds.views.calculations import all_calculations
from rounds.views.calculations.frame import Calculation
from rounds.views.calculations.report import calc

ALL = all_calculations()


def run(*words: str) -> tuple[int, str, str]:
    """Status, what was printed, what was refused."""
    out, err = io.StringIO(), io.StringIO()
    status = calc(words, out=out, err=err)
    return status, out.getvalue(), err.getvalue()


@pytest.mark.parametrize("calculation", ALL, ids=lambda one: one.name)
def test_its_example_runs_in_words_and_as_data(calculation: Calculation) -> None:
    words = shlex.split(calculation.example)
    status, told, trouble = run(calculation.name, *words)
    assert (status, trouble) == (0, "")
    for part in ("result", "formula  ", "source   "):
        assert part in told
    assert "None" not in told

    status, printed, _ = run(calculation.name, *words, "--json")
    data = json.loads(printed)

    assert status == 0
    assert data["calculation"] == calculation.name
    assert data["figures"]
    assert data["formula"]
    assert data["source"]
    assert {one.name for one in calculation.inputs} == data["inputs"].keys()


@pytest.mark.parametrize("calculation", ALL, ids=lambda one: one.name)
def test_its_help_names_every_input_and_bad_ones_are_refused_in_one_line(
    calculation: Calculation,
) -> None:
    status, told, _ = run(calculation.name, "--help")
    assert status == 0
    for one in calculation.inputs:
        assert f"--{one.name}" in told

    given = shlex.split(calculation.example)
    for place, one in enumerate(given):
        name = one.removeprefix("--")
        shape = next((known.shape for known in calculation.inputs if known.name == name), "")
        if shape not in ("number", "count", "numbers", "pairs"):
            continue
        for bad in ("many", "nan", "inf", "1e999"):
            status, _, trouble = run(
                calculation.name, *given[: place + 1], bad, *given[place + 2 :]
            )
            assert status == 1, (name, bad)
            assert trouble.startswith("rounds: ")
            assert trouble.count("\n") == 1


REFUSED = [
    ("degree-days --min 22 --max 6 --lower 10", "lowest 22 C is above highest 6 C; swap them"),
    ("degree-days --min 6 --max 22 --lower 30 --upper 10", "upper cutoff 10 C is not above the lower threshold 30 C; raise it"),
    ("degree-days --lower 10", "give --min and --max of a day, or --readings day:degrees,day:degrees"),
    ("degree-days --readings 0:12 --lower 10", "1 reading; an integral needs two or more at different times"),
    ("degree-days --readings 12 --lower 10", "readings has '12'; each item must be two numbers with a colon, as 12:3"),
    ("laying --eggs -1 --female-days 3", "eggs is -1; it must be at least 0"),
    ("laying --eggs 3 --female-days 0", "3 eggs in 0 female-days; give the time that females were with the host"),
    ("laying --eggs 2.5 --female-days 3", "eggs is 2.5; it must be a whole number"),
    ("laying --female-days 3", "--eggs is missing: found; as --eggs 0 --female-days 7.5 --usual-rate 1"),
    ("forecast --temperature 20 --stage L9", "'L9' is no stage of which anything is known; give egg, larva, pupa, L1 to L5 or egg to adult, or --lower and --constant"),
    ("forecast --lower 10 --constant 80", "give --temperature, or --readings day:degrees,day:degrees"),
    ("forecast --lower 10 --constant 80 --temperature 20 --begun-from 2 --begun-to 1",
     "begun between 2 and 1; the first must be the earlier"),
    ("development --points 20:10", "durations at one temperature only; a threshold needs two or more different temperatures"),
    ("development --points 20:10,25:12", "development is no faster where it is warmer; give durations from the range where it is"),
    ("life-table --stages 10:12", "stage 1: 12 died of 10; no more can die than entered"),
    ("kinship --pedigree A=BxC,B=AxC --mother A --father B", "A is among its own ancestors; correct the parents of one of them"),
    ("kinship --pedigree AB --mother A --father B", "pedigree has 'AB'; write each brood as CODE=MOTHERxFATHER, comma between"),
    ("kinship --pedigree A=f1xm1,A=f2xm2 --mother A --father A", "pedigree has A twice; a brood has one mother and one father"),
    ("kinship --pedigree A=fox1xm1 --mother A --father A",
     "pedigree has 'A=fox1xm1' with 2 x; put a space before and behind the one between mother and father"),
    ("choice-trial --used 0,0 --available 1,1", "nothing was used; a choice needs at least one egg or bite"),
    ("choice-trial --used 1 --available 1", "1 used and 1 available; give both for each of two or more plants"),
    ("solution --strength 70 --volume 10", "strength is 70 %; it must be at most 60 %"),
    ("air --temperature 200 --humidity 50", "temperature is 200 C; it must be at most 60 C"),
    ("sun --time 2026-05-20T13:00:00 --latitude 0 --longitude 0",
     "time is '2026-05-20T13:00:00', without its offset; write it as 2026-05-20T13:00:00+02:00"),
    ("sun --time noon --latitude 0 --longitude 0", "time is 'noon'; write it as 2026-05-20T13:00:00+02:00"),
    ("survival --died 1,-2", "died is -2 days; it must be at least 0 days"),
    ("survival", "no animal was given; give at least one time with its fate"),
    ("increase --daughters 30:0", "no daughter at any age; a rate of increase needs at least one"),
    ("effective-number --males 0 --females 3", "males is 0; it must be at least 1"),
    ("increase --daughters 30:4,30:5", "age 30 is given twice; give each age once"),
    ("increase --daughters 0:4", "age is 0; it must be more than 0"),
    ("degree-days --readings 0:12,1:20 --lower 10",
     "all readings lie more than 6 h apart; give closer ones, or --min and --max of each day"),
    ("degree-days --readings 0:12,0.1:20 --min 6 --max 20 --lower 10",
     "readings and a day's --min and --max are both given; give one of them"),
    ("forecast --lower 10 --constant 80 --upper 5 --temperature 20", "upper cutoff 5 C is not above the lower threshold 10 C; raise it"),
    ("forecast --lower 10 --constant 80 --readings 0:20,1:20 --temperature 20",
     "--readings and --temperature are both given; give one of them"),
    ("forecast --species 'Orthosia hibisci' --lower 5 --temperature 15",
     "--lower and --constant belong together; give both, or neither and a --species that is known"),
    ("hidden-eggs --rate 3", "--rate and --female-days belong together; give both, or --prior"),
    ("hidden-eggs --rate 0 --female-days 2 --found 3",
     "3 found though none can have been laid: a rate above 0 is needed, or --found 0"),
    ("hidden-eggs --rate 1 --female-days 0 --found 3",
     "3 found though none can have been laid: female-days above 0 are needed, or --found 0"),
    ("hidden-eggs --rate 1 --female-days 2 --lays 0 --found 3",
     "3 found though none can have been laid: a chance above 0 that they lay here is needed, or --found 0"),
    ("hidden-eggs --prior 0 --found 1",
     "1 found though none can have been laid: a prior above 0 is needed, or --found 0"),
    ("hidden-eggs --rate 1 --female-days 2 --found 3 --missed 1",
     "3 found by searches that miss all: --missed under 1 is needed, or --found 0"),
    ("moat --depth 22 --temperature 20", "--temperature and --humidity belong together; give both or neither"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "line"), REFUSED)
def test_what_cannot_be_is_refused_and_what_would_be_right_said(typed: str, line: str) -> None:
    status, told, trouble = run(*shlex.split(typed))

    assert (status, told, trouble) == (1, "", f"rounds: {line}\n")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (
            "kinship --pedigree A=f2xm3 --mother Q --father A",
            "Q is not in the pedigree: taken for a founder that is related to none",
        ),
        (
            "life-table --stages 10:3,5:1",
            "2 that came through stage 1 did not enter stage 2: not accounted for, and in no share",
        ),
        ("life-table --stages 10:3,5:1", "through all stages                 0.560"),
        (
            "kinship --pedigree 'A=fox1 x m1,B=f2xA' --mother B --father A",
            "inbreeding of their offspring      0.1250",
        ),
        (
            "kinship --pedigree A=f1xm1,B=f1xm2 --mother A --father B",
            "too close: at your limit of 0.125 or above it",
        ),
        (
            "kinship --pedigree A=f1xm1 --mother A --father A",
            "founders are taken to be unrelated and not inbred",
        ),
        ("effective-number --males 1 --females 1", "mean inbreeding after 5 generations 0.594"),
        ("effective-number --males 1 --females 1 --generations 2", "after 2 generations 0.25"),
        ("effective-number --males 1 --females 1 --generations 1", "after 1 generation 0"),
        (
            "kinship --pedigree A=f1xf1 --mother A --father A",
            "A: one founder paired with itself (selfing), a check value",
        ),
        (
            "life-table --stages 10:3,9:1",
            "9 entered stage 2, but 7 came through stage 1: count again",
        ),
        (
            "moat --depth 22 --readings 0:13,1:22",
            "the readings are not used: no two of them, some hours apart, lie between toppings-up",
        ),
        ("moat --depth 22", "from what is usual, for nothing was read"),
        (
            "forecast --lower 10 --constant 80 --temperature 9",
            "it never comes: no heat above the threshold",
        ),
        (
            "forecast --lower 10 --constant 80 --temperature 10.01",
            "it does not come within 400 days",
        ),
        (
            "development --points 20:25.8,25:19.6,30:12.9 --at 5",
            "at 5 C it never comes: no heat above the threshold",
        ),
        (
            "hosts-compared --eggs-1 0 --female-days-1 5 --eggs-2 0 --female-days-2 5",
            "that counts half an egg, for none was found",
        ),
        ("hidden-eggs --rate 3 --female-days 2", "chance of eggs before any search   0.998"),
        (
            "hosts-compared --eggs-1 0 --female-days-1 5 --eggs-2 15 --female-days-2 4.5",
            "p, two-sided                       under 0.0001",
        ),
    ],
)
def test_what_was_taken_for_granted_is_said(typed: str, words: str) -> None:
    status, told, _ = run(*shlex.split(typed))

    assert status == 0
    assert words in told
    assert "- days" not in told, "nothing has no unit"


def test_readings_a_day_apart_foretell_as_a_steady_temperature_does() -> None:
    def half(words: str) -> float:
        given = shlex.split(f"forecast --lower 10 --constant 80 {words} --json")
        figures = json.loads(run(*given)[1])["figures"]
        return float(next(one["value"] for one in figures if one["label"] == "half"))

    assert half("--readings 0:20,1:20,2:20") == pytest.approx(half("--temperature 20"))
    assert half("--readings 0:20,3:20") == pytest.approx(8.0), "80 degree-days at 10 a day"


@pytest.mark.parametrize(
    "typed",
    [
        "choice-trial --used 5000000,4990000 --available 10,10",
        "hosts-compared --eggs-1 9000000 --female-days-1 100000 --eggs-2 9100000 --female-days-2 100000",
        "laying --eggs 10000000 --female-days 1000000",
    ],
)
def test_large_counts_end_at_once(typed: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of millions no sum goes over each: the chance of a single number is asked for some dozens of times."""
    asked = 0

    def counted(k: int, n: int, p: float) -> float:
        nonlocal asked
        asked += 1
        assert asked < 200
        return binomial_chance(k, n, p)

    monkeypatch.setattr("rounds.biology.proportions.binomial_chance", counted)
    assert run(*shlex.split(typed))[0] == 0


def test_wrong_use_is_another_status() -> None:
    assert run("laying", "--eggs", "1", "--eggs", "2")[0] == 2
    assert run("nothing")[0] == 2
    assert run("laying", "--colour", "3")[0] == 2
    assert run("laying", "--eggs")[0] == 2
    status, listed, _ = run()
    assert status == 0
    for one in ALL:
        assert one.name in listed


def test_none_in_some_female_days_is_said_in_words() -> None:
    _, told, _ = run("laying", "--eggs", "0", "--female-days", "5.5")
    assert "none in 5.5 female-days: under 0.67 a day (two-sided 95 %)" in told
    _, told, _ = run("laying", "--eggs", "0", "--female-days", "1")
    assert "not enough to say" in told


def test_what_is_not_enough_is_said_with_what_was_given() -> None:
    """2 female-days are not fewer than 2: it is the share of them that searches find."""
    _, told, _ = run("laying", "--eggs", "0", "--female-days", "2", "--share-found", "0.6")
    assert "not enough to say: 2 female-days x share found 0.6 = 1.2, under 2" in told
    _, told, _ = run("laying", "--eggs", "0", "--female-days", "2")
    assert "not enough to say" not in told


def test_two_hosts_have_one_verdict() -> None:
    """By hand: 0 in 10 female-days against 6 in 1 has p under 0.0001, but a day is too little to say so."""
    _, told, _ = run(
        "hosts-compared", *shlex.split("--eggs-1 0 --female-days-1 10 --eggs-2 6 --female-days-2 1")
    )
    assert "not enough to say" in told
    assert "more than chance gives" not in told
    _, told, _ = run(
        "hosts-compared",
        *shlex.split("--eggs-1 0 --female-days-1 10 --eggs-2 12 --female-days-2 2"),
    )
    assert "not enough to say" not in told
    assert "says little about the plants" in told
    assert "eggs of one female are no independent choices" in told
    _, told, _ = run(
        "hosts-compared",
        *shlex.split("--eggs-1 0 --female-days-1 10 --eggs-2 12 --female-days-2 2"),
        *shlex.split("--females-1 4 --females-2 4"),
    )
    assert "the difference is more than chance gives, and than females differ" in told


def test_a_relatives_constants_are_never_shown_as_its_own() -> None:
    _, told, _ = run("forecast", "--species", "Orthosia gothica", "--temperature", "15")

    assert "a guess from Orthosia hibisci" in told


def test_calc_loads_neither_screens_nor_heavy_packages() -> None:
    code = (
        "import sys\nfrom rounds.shell.main import main\n"
        "main(['calc', 'laying', '--eggs', '3', '--female-days', '4'])\n"
        "assert not {'textual', 'numpy', 'scipy', 'pendulum', 'dataclasses', 'tinydb'} & sys.modules.keys(), 'too much was loaded'\n"
    )
    plain = {name: value for name, value in os.environ.items() if name != "ROUNDS_BOOK"}
    done = subprocess.run(
        [sys.executable, "-c", code], env=plain, capture_output=True, text=True, check=False
    )

    assert done.returncode == 0, done.stderr


def test_nobody_is_told_the_chance_of_none_who_found_some() -> None:
    def told(typed: str) -> str:
        return run(*shlex.split(typed))[1]

    some = told("laying --eggs 3 --female-days 4 --usual-rate 1")
    assert "having seen none" not in some
    assert "searches find 100 % of the eggs, 4.0 would be seen by now; 3 were" in some
    assert "none by now is 1.8 %" in told("laying --eggs 0 --female-days 4 --usual-rate 1")
    assert "-0.0" not in told("life-table --stages 5:0")


def test_without_a_name_all_are_told_as_data() -> None:
    status, printed, trouble = run("--json")
    assert (status, trouble) == (0, "")
    listed = json.loads(printed)["calculations"]
    assert [one["calculation"] for one in listed] == [one.name for one in ALL]
    assert all(one["formula"] and one["source"] and one["inputs"] for one in listed)


def test_as_data_may_stand_before_the_name() -> None:
    words = shlex.split(ALL[0].example)
    assert run("--json", ALL[0].name, *words) == run(ALL[0].name, *words, "--json")


def test_hosts_of_which_one_was_offered_too_briefly_have_one_verdict() -> None:
    """Said of which; and never beside it that there is enough."""
    _, told, _ = run(
        "hosts-compared",
        *shlex.split("--eggs-1 60 --eggs-2 59 --females-1 4 --females-2 5"),
        *shlex.split("--female-days-1 1 --female-days-2 20"),
    )
    assert "not enough to say: 1 female-day on the first, under 2" in told
    assert "there are enough" not in told
    assert "no egg" not in told
