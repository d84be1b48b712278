"""A field life table with several causes a stage, entered death by death, and the k-values that the broods page gives.

Source: Campbell 1981, as adapted in Sharov, Quantitative Population Ecology, lecture 6 (read there): Lymantria dispar, by
stage and cause the number entering and dying, and k as a natural logarithm. Numbers are per brood and not whole; they are
entered ten times as many, which changes no share. Dates are ours.

The book has no word for some of its causes, so they are entered as what they leave: dispersion and the loss by sex ratio
(males do not lay) as deaths of unknown cause. Larvae I to III stand as L1, IV to VI as L4, and the prepupa, which is no stage
of the book, is a cause in L4 of its own, as it was the last to come.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from rounds.biology.life_table import StageTable, stage_table
from rounds.tallies.broods import Lookback
from rounds.tallies.stages import causes, so_far
from rounds.views.brood_page import PlotRoom, brood_lines
from tests.published.replays.telling import at, looked_back, retold, words

ZONE = "America/New_York"
START = datetime(1980, 4, 1, 8, 0, tzinfo=ZoneInfo(ZONE))
# Stage as entered, cause as entered, entering, dying (ten times the study's numbers), k as printed.
ROWS = (
    ("eggs", "eaten", 4500, 675, 0.1625), ("eggs", "parasitised", 3825, 675, 0.1942), ("L1", "unknown", 3150, 1575, 0.6932),
    ("L4", "eaten", 1575, 1181, 1.3857), ("L4", "disease suspected", 394, 79, 0.2238), ("L4", "parasitised", 315, 79, 0.2887),
    ("L4", "dry", 236, 7, 0.0301), ("pupae", "eaten", 229, 46, 0.2242), ("pupae", "unknown", 183, 23, 0.1343),
    ("adults", "unknown", 160, 56, 0.4308),
)  # fmt: skip
YOUNG = ROWS[:-1]
CHANGES = {
    "L1": "hatched 3150",
    "L4": "moulted 1575 L4",
    "pupae": "pupated 229",
    "adults": "emerged 160",
}


def lines() -> list[str]:
    """Deaths cause by cause, each stage when the one before is done."""
    said = [
        f"T2 set up rearing {at(START)}",
        f"brood LD-2 taxon='Lymantria dispar' {at(START)}",
        f"T2 stocked 4500 eggs LD-2 {at(START)}",
    ]
    before = "eggs"
    for day, (stage, cause, _, dying, _) in enumerate(ROWS, start=1):
        when = START + timedelta(days=7 * day)
        if stage != before:
            said.append(f"T2 {CHANGES[stage]} {at(when)}")
            before = stage
        said.append(f"T2 died {dying} {stage} cause='{cause}' {at(when + timedelta(hours=1))}")
    return said


@pytest.fixture(scope="module")
def back(tmp_path_factory: pytest.TempPathFactory) -> Lookback:
    """The life table entered through the desk."""
    return looked_back(retold(Path(tmp_path_factory.mktemp("tussock")), ZONE, lines()))


@pytest.fixture(scope="module")
def table(back: Lookback) -> StageTable:
    """What killed them, as the broods page has it."""
    found = causes(back.course, ["LD-2"])
    assert found is not None
    return found


def test_who_entered_and_died_of_what_is_the_studys(table: StageTable) -> None:
    assert [(row.entered, row.died) for row in table.rows] == [
        (entering, dying) for _, _, entering, dying, _ in YOUNG
    ]


def test_of_adults_that_live_there_is_no_share(back: Lookback) -> None:
    # The study counts 56 of 160 adults as lost; here the others live, and each will die.
    assert so_far(back.course, ["LD-2"]) == [
        "adult: cause not recorded 56; 104 still in it, no share yet"
    ]


def test_k_values_are_the_studys_and_are_natural_logarithms(table: StageTable) -> None:
    # Printed to four places from numbers rounded to a tenth of an animal: the last digits of small k cannot be had back.
    for row, (_, _, entering, _, printed) in zip(table.rows, YOUNG, strict=True):
        rounding = (
            2 * 0.5 / entering
        )  # each number may be off by half of the tenth that it was rounded to
        assert row.k_natural == pytest.approx(printed, abs=max(1e-4, rounding / (1 - row.q))), (
            row.stage
        )
        assert row.k_ten == pytest.approx(row.k_natural * 0.4342945, abs=1e-6)


def test_its_sum_and_survival_are_the_studys_with_its_adults(table: StageTable) -> None:
    counted = [(row.stage, row.entered, row.died) for row in table.rows]
    table = stage_table([*counted, ("adult: unknown", 160, 56)])
    assert table.total_k_natural == pytest.approx(3.7674, abs=2e-3)
    assert table.survival == pytest.approx(0.0231, abs=5e-5)
    assert 1 - table.survival == pytest.approx(0.9769, abs=5e-5)


def test_the_page_says_which_logarithm(back: Lookback) -> None:
    page = words(brood_lines(back, "LD-2", START + timedelta(days=90), START.tzinfo, PlotRoom()))  # type: ignore[arg-type]

    assert "k (ln)  k (log10)" in page
    assert "egg: eaten                   4500   675   0.15   0.163      0.071" in page
    assert "L4: disease suspected         394    79  0.201   0.224      0.097" in page
