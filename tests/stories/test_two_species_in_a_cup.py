"""Females of two species in one cup: whose the eggs are is asked, and what is not known is told as not known wherever it goes."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest
from dwca.read import DwCAReader

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_protected import everything, written
from tests.stories.test_whose_eggs import page

DWC = "http://rs.tdwg.org/dwc/terms/"
EITHER = "Kallima montis or Parasa montana"
CUP = """
    taxon 'Kallima montis' short=montis
    taxon 'Parasa montana' short=montana
    K2 set up laying
    K2 founder W2 montis
    K2 founder W3 montana
    K2 host in ruellia 3 sprigs
    """
ASKED = "females of several species may have laid them in K2; say whose they are: brood=W2, brood=W3 or not known"


@pytest.fixture
def cup(story: Story) -> Story:
    """A female of each of two species, a day with one plant."""
    story.at("2027-05-01 08:00")
    tell(story, CUP)
    return story.later(days=1)


def table(story: Story, tmp_path: Path, name: str) -> pd.DataFrame:
    """One table, as it leaves."""
    story.reopen()
    ran = story.shell("export", "csv", str(tmp_path / f"{name}.csv"), "--table", name, "--replace")
    assert ran.status == 0, ran.err
    return pd.read_csv(tmp_path / f"{name}.csv").fillna("")


def test_whose_eggs_is_asked(cup: Story) -> None:
    assert ASKED in cup.refused("K2 searched 6")
    assert ASKED in cup.refused("6 eggs in K2")
    assert "brood W2/A" in cup.type("K2 searched 4 brood=W2")[0]
    assert "brood W3/A" in cup.type("K2 searched 2 brood=W3")[0]
    assert ASKED in cup.refused("K2 searched 1"), "each find is asked about"
    bench = cup.desk.bench
    assert [bench.taxon_of(code) for code in ("W2/A", "W3/A")] == [
        "Kallima montis",
        "Parasa montana",
    ]
    assert bench.broods["W3/A"].mothers == ("W3",)


async def test_the_round_asks_it_with_a_key(cup: Story) -> None:
    async with cup.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K2")
        await screen.press("6", "enter")
        assert "say whose they are" in " ".join(screen.text.split())
        assert "not known" in screen.text
        await screen.press("2")
        assert cup.desk.bench.containers["K2"].count("egg", "W3/A") == 6


async def test_with_eggs_of_both_there_the_round_takes_not_known(cup: Story) -> None:
    cup.type("K2 searched 4 brood=W2", "K2 searched 2 brood=W3")
    cup.later(days=2)
    async with cup.screens((100, 40)) as screen:
        await screen.press("r")
        await screen.walk_to("eggs", "K2")
        await screen.press("5", "enter")
        assert "not known" in screen.text
        await screen.press("k")
        eggs = {lot.brood: lot.number for lot in cup.desk.bench.containers["K2"].lots_of("egg")}
        assert sorted(eggs.values()) == [2, 4, 5]
        assert EITHER in {cup.desk.bench.taxon_of(code) for code in eggs}


def test_two_of_one_species_and_one_of_another(story: Story) -> None:
    tell(story, CUP + "K2 founder W4 montis\n")
    story.later(days=1)
    assert "say whose they are: of W2,W4, brood=W3 or not known" in story.refused("K2 searched 6")
    told = story.type("K2 searched 6 of W2,W4")[0]
    assert "mothers W2 W4" in told
    assert "Kallima montis" in told


def test_two_of_one_species_are_not_asked_about(story: Story) -> None:
    tell(story, CUP.replace("W3 montana", "W3 montis"))
    assert "mothers W2 W3" in story.later(days=1).type("K2 searched 6")[0]


async def test_not_known_stays_one_of_two_species(cup: Story, tmp_path: Path) -> None:
    told = cup.type("K2 searched 6 not known")[0]
    assert "mothers W2 W3" in told
    assert "Kallima montis" not in told
    (code,) = cup.desk.bench.broods
    shown = await page(cup, "i")
    assert EITHER in shown
    assert "6 eggs more may be of it" in shown
    assert shown.count("which species?") == 2, "neither has a rate of none"
    stock = table(cup, tmp_path, "stock")
    assert EITHER in set(stock["taxon"])
    laying = table(cup, tmp_path, "laying")
    in_no_rate = "time in which eggs in doubt were laid (female-days)"
    heads = ("effort (female-days)", "eggs", in_no_rate)
    of = {row["taxon"]: tuple(row[head] for head in heads) for _, row in laying.iterrows()}
    assert of["Kallima montis"] == pytest.approx((0, 0, 1), abs=0.01)
    assert of["Parasa montana"] == pytest.approx((0, 0, 1), abs=0.01)
    assert of[EITHER][1] == 6
    written(cup, "note", tmp_path / "note.md", code)
    note = (tmp_path / "note.md").read_text()
    assert "Kallima montis or Parasa montana" in note.replace("*", "")
    sheet = cup.shell("sheet", "--to", "+2d").out
    assert "montis" not in sheet or "montis or montana" in " ".join(sheet.split())
    assert cup.shell("export", "dwca", str(tmp_path / "record.zip")).status == 0
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        (eggs,) = [row.data for row in archive if row.data[DWC + "lifeStage"] == "egg"]
    assert eggs[DWC + "scientificName"] == "Lepidoptera", (
        "the lowest rank that can be told, as Darwin Core asks"
    )
    assert eggs[DWC + "verbatimIdentification"] == EITHER
    assert f"one of two species: {EITHER}" in eggs[DWC + "identificationRemarks"]


def test_larvae_that_hatch_from_them_stay_so(cup: Story) -> None:
    cup.type("K2 searched 6 not known", "R4 set up rearing", "K2 moved 6 eggs to R4")
    cup.later(days=6).type("R4 hatched 6")
    (lot,) = cup.desk.bench.containers["R4"].lots
    assert cup.desk.bench.taxon_of(lot.brood) == EITHER


@pytest.mark.parametrize("protected", ["montis", "montana"])
def test_any_of_the_two_that_is_protected_withholds_its_place(
    story: Story, tmp_path: Path, protected: str
) -> None:
    places = (
        "place='Sorrel bluff' latitude=44.1234 longitude=-121.5678",
        "place='Heron ford' latitude=43.9876 longitude=-120.1234",
    )
    tell(
        story,
        CUP.replace(f"short={protected}", f"short={protected} protected").replace("W2 montis", f"W2 montis female {places[0]}")
        .replace("W3 montana", f"W3 montana female {places[1]}"),
    )  # fmt: skip
    story.later(days=1)
    story.type(
        "K2 searched 6 not known",
        "K2 released 1 brood=W2 'Sorrel bluff'",
        "R4 set up rearing",
        "K2 moved 6 eggs to R4",
    )
    story.later(days=6).type("R4 hatched 6")
    written(story, "csv", tmp_path / "all.zip")
    text = everything(tmp_path / "all.zip")
    hidden, shown = ("44.1234", "43.9876") if protected == "montis" else ("43.9876", "44.1234")
    assert hidden not in text
    assert shown in text, "the other was known for what she is"
    written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        rows = [row.data for row in archive]
    young = [row for row in rows if row[DWC + "lifeStage"] in ("egg", "larva")]
    assert young
    assert all("withheld" in row[DWC + "informationWithheld"] for row in young)


def test_two_species_none_of_which_is_protected_are_not_withheld(
    story: Story, tmp_path: Path
) -> None:
    """A third species of the keeper's is protected; what is one of two others is none of it."""
    tell(story, "taxon 'Celastrina arcta' protected\n" + CUP.replace("W2 montis", "W2 montis female place='Sorrel bluff' latitude=44.1234"
         " longitude=-121.5678"))  # fmt: skip
    story.later(days=1)
    tell(
        story,
        """
        K2 searched 6 brood=W2
        K2 searched 6 brood=W3
        K2 died 1 egg not known
        R4 set up rearing
        K2 moved 11 eggs to R4
        """,
    )
    story.later(days=8).type("R4 hatched 11")
    story.later(days=20).type("R4 pupated 11")
    story.later(days=10).type(
        "R4 emerged 4 female", "R4 emerged 4 male", "K8 set up laying", "R4 moved 2 female to K8"
    )
    story.type("K8 host in ruellia 3 sprigs").copy()
    story.later(days=1).type(
        "K8 searched 5 not known", "K8 released 1 'garden of the mill' not known"
    )
    said = written(story, "csv", tmp_path / "all.csv")
    assert "treated as protected" not in said
    assert "withheld" not in everything(tmp_path / "all.csv")
    written(story, "dwca", tmp_path / "record.zip")
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        assert {row.data[DWC + "informationWithheld"] for row in archive} == {""}


def test_each_species_has_the_days_of_its_own_females_on_kept_stems(cup: Story) -> None:
    cup.type("K2 searched 0", "K2 host out A held_in=K2", "K2 host in ruellia 3 sprigs")
    for species in ("Kallima montis", "Parasa montana"):
        ((mothers, laid),) = cup.desk.bench.laid[species]["ruellia"].laid.items()
        assert mothers == "W2,W3"
        assert laid.sought == {
            "e": pytest.approx(1, abs=0.01)
        }  # a day each that one search by eye looked at
    (held,) = cup.desk.bench.containers["K2"].held
    assert held.taxon == EITHER
