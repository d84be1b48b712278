"""Two hosts that were searched otherwise are compared by what was laid on each, not by what was found."""

from __future__ import annotations

import csv
import json
import re
import shlex
import zipfile
from pathlib import Path
from typing import Any

import pytest

from tests.stories.telling import Story, tell


async def page(story: Story) -> str:
    async with story.screens((120, 60)) as screen:
        await screen.press("i")
        return " ".join(screen.text.split())


def counted_like(text: str) -> list[str]:
    """How uncertain the page says that the shares are, as the calculator is told."""
    known = re.findall(r"(\w+): \d+ %, known as well as by counting ([\d.]+) eggs", text)
    eggs = dict(known)
    return ["--share-eggs-1", eggs["cress"], "--share-eggs-2", eggs["charlock"]]


def p_value(text: str) -> float:
    found = re.search(r"p = ([\d.]+)", text)
    assert found, text
    return float(found[1])


async def test_a_plant_searched_with_the_eye_alone_is_not_called_the_worse_for_it(
    story: Story, tmp_path: Path
) -> None:
    """12 eggs in 5 days by three searches with a macro photo, 5 in 5 by one look: by the share each finds 12.9 and 12.5."""
    tell(
        story,
        "K1 set up laying\nK2 set up laying\nK1 founder F1, Pieris orata female\nK2 founder F2, Pieris orata female",
    )
    tell(story, "K1 host in cress leaf water\nK2 host in charlock leaf water")
    story.later(days=5)
    tell(
        story,
        "K1 searched 8 macro photo\nK1 searched 3 macro photo\nK1 searched 1 macro photo\nK2 searched 5 naked eye",
    )
    text = await page(story)
    assert re.search(r"cress 5.0 93 % 12", text), text  # 1 - 1.2 x 2.2 x 3.2 / (4 x 5 x 6)
    assert re.search(r"charlock 5.0 40 % 5", text), text
    assert p_value(text) > 0.9  # by what was found alone it would be 0.14
    done = story.shell(
        "calc", "hosts-compared", "--eggs-1", "12", "--female-days-1", "5", "--share-found-1", "0.9296",
        "--eggs-2", "5", "--female-days-2", "5", "--share-found-2", "0.4",
        *counted_like(text),
    )  # fmt: skip
    assert f"{p_value(text):.4f}" in done.out, done.out + done.err
    # laid is found / share found: the page, the calculator and the season give one rate of each
    assert "2.58 (1.32 to 4.6" in text, text
    assert "2.50 (0.63 to 25.84)" in text, text
    assert "(1.32 to 4.69;" in done.out.replace(" .. ", " to "), done.out
    season = tmp_path / "season.md"
    assert story.shell("export", "season", str(season)).status == 0
    (of_cress,) = re.findall(r"\| *cress *\|.*", season.read_text())
    cells = [cell.strip() for cell in of_cress.strip("|").split("|")]
    assert cells[:-1] == ["cress", "5.0", "3", "12", "93 %"]
    assert cells[-1].startswith("2.58 (1.32 to 4.6")


def test_a_females_own_row_goes_by_the_searches_of_her_own_time(
    story: Story, tmp_path: Path
) -> None:
    """One female's cup was searched once, the other's three times, on one plant: note and table give each her own share."""
    tell(
        story,
        "K1 set up laying\nK2 set up laying\nK1 founder F1, Pieris orata female\nK2 founder F2, Pieris orata female",
    )
    tell(story, "K1 host in cress leaf water\nK2 host in cress leaf water")
    story.later(days=2)
    tell(story, "K1 searched 4\nK2 searched 6\nK2 searched 2\nK2 searched 0 lens")
    table = tmp_path / "tables.zip"
    assert story.shell("export", "csv", str(table)).status == 0
    with zipfile.ZipFile(table) as tables:
        rows = csv.DictReader(tables.read("laying.csv").decode("utf-8-sig").splitlines())
        of_cup = {row["container"]: row for row in rows}
    told = "share of eggs that searches find, as reckoned"
    shares = {cup: float(row[told]) for cup, row in of_cup.items()}
    assert shares["K2"] - shares["K1"] > 0.2
    for cup, brood, eggs in (("K1", "F1/A", 4), ("K2", "F2/A", 8)):
        note = story.shell("export", "note", brood, "-", "--as", ".md").out
        (row,) = re.findall(rf"\| cress \| {cup}, .*", note)
        cells = [cell.strip() for cell in row.strip("|").split("|")]
        assert cells[-2] == f"{shares[cup]:.0%}".replace("%", " %"), note
        assert float(cells[-1].split()[0]) == pytest.approx(eggs / 2 / shares[cup], abs=0.006)


def compared(story: Story, *given: str) -> dict[str, Any]:
    ran = story.shell("calc", "hosts-compared", *given, "--json")
    assert ran.status == 0, ran.err
    told: dict[str, Any] = json.loads(ran.out)
    return told


def test_more_female_days_are_days_of_the_keeper_whatever_searches_find(story: Story) -> None:
    given = shlex.split("--eggs-1 15 --female-days-1 18.75 --eggs-2 6 --female-days-2 18.75")
    for share in ("1", "0.663", "0.5"):
        told = compared(story, *given, "--share-found-1", share, "--share-found-2", share)
        assert "about 84 more female-days" in json.dumps(told), share


def test_p_and_the_limits_of_the_ratio_say_the_same(story: Story) -> None:
    given = "--eggs-1 16 --female-days-1 7.37 --eggs-2 14 --female-days-2 3.05"
    told = compared(story, *given.split())
    figures = {one["label"]: one for one in told["figures"]}
    assert figures["first over second"]["high"] > 1
    assert figures["p, two-sided"]["value"] > 0.05


def test_a_lamp_is_what_a_search_was_made_by_and_no_plant(story: Story) -> None:
    tell(story.at("2027-05-20 21:00"), "L3 1 female Deilephila porcellus on Galium verum")
    for line in ("searched 1 with lamp", "no eggs by lamp light", "searched 2 by torch"):
        story.later(hours=1).type(f"L3 {line}")

    assert [host.plant for host in story.desk.bench.containers["L3"].hosts] == ["Galium verum"]
    assert story.desk.bench.containers["L3"].count("egg") == 3
