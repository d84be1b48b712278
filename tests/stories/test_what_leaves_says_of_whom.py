"""What leaves says by itself of whom each line is and how long stages took; a pin keeps its size, a calendar has no empty round."""

from __future__ import annotations

from pathlib import Path
from statistics import median

import pandas as pd
import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_calendar import Phone, take_in
from tests.stories.test_leaving_pins_and_permits import pin_of
from tests.stories.test_tables_with_a_column_each import table_of

CUP = """
taxon "Zygaena ligurta"
plant "Lotus saltans" kept=water hours=60
K2 set up laying
E2 set up eggs
K2 founder W2 "Zygaena ligurta" sex=female place="Bank"
K2 host in "Lotus saltans" 3 stems
"""


def reared(story: Story) -> None:
    """Ten eggs found, of which eight hatch and moult; six pupate."""
    tell(story.at("2027-05-14 18:00"), CUP)
    for day in range(15, 31):
        story.at(f"2027-05-{day} 06:00").type("room air 20")
        story.at(f"2027-05-{day} 17:00").type("room air 20")
    tell(story.at("2027-05-15 18:00"), "K2 searched 10\nK2 moved 10 eggs to E2")
    tell(story.at("2027-05-25 18:00"), "E2 hatched 8")
    tell(story.at("2027-05-29 18:00"), "E2 moulted 5 to L2")
    tell(story.at("2027-05-30 18:00"), "E2 moulted 3 to L2")


def test_lines_of_those_that_grew_have_brood_stage_and_instar(story: Story, tmp_path: Path) -> None:
    reared(story)
    tell(story.at("2027-06-20 18:00"), "E2 pupated 6\nE2 died 1 larva")
    rows = table_of(story, tmp_path, "entries").set_index("what")
    hatched, moulted, pupated, died = (
        rows.loc["hatched"],
        rows.loc["moulted"].iloc[0],
        rows.loc["pupated"],
        rows.loc["died"],
    )
    assert (hatched["number"], hatched["brood"], hatched["stage"], hatched["instar"]) == (
        8,
        "W2/A",
        "larva",
        1,
    )
    assert (moulted["number"], moulted["brood"], moulted["stage"], moulted["instar"]) == (
        5,
        "W2/A",
        "larva",
        2,
    )
    assert (pupated["number"], pupated["brood"], pupated["stage"]) == (6, "W2/A", "pupa")
    assert pd.isna(pupated["instar"])
    assert (died["brood"], died["stage"], died["instar"]) == ("W2/A", "larva", 2)


def test_of_two_broods_at_once_none_is_named(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        "taxon 'Pieris orata'\nR1 set up rearing\nbrood A-1 taxon='Pieris orata'\nbrood B-1 taxon='Pieris orata'",
    )
    tell(story, "R1 stocked 5 L2 A-1\nR1 stocked 5 L2 B-1")
    story.later(days=2).type("R1 moulted 10 to L3")
    row = table_of(story, tmp_path, "entries").set_index("what").loc["moulted"]
    assert pd.isna(row["brood"])
    assert row["number"] == 10


def test_a_table_says_how_long_each_stage_took(story: Story, tmp_path: Path) -> None:
    reared(story)
    rows = table_of(story, tmp_path, "durations")
    egg, first = rows.to_dict("records")
    assert (egg["brood"], egg["taxon"], egg["stage"], egg["number"]) == (
        "W2/A",
        "Zygaena ligurta",
        "egg",
        8,
    )
    assert (egg["mean (days)"], egg["shortest (days)"], egg["longest (days)"]) == (10.5, 10.5, 10.5)
    assert egg["mean temperature (C)"] == pytest.approx(20)
    assert egg["basis"] == "from the middle of when they were laid"
    assert (first["stage"], first["instar"], first["number"]) == ("larva", 1, 8)
    assert first["mean (days)"] == pytest.approx((5 * 4 + 3 * 5) / 8)
    assert first["median (days)"] == median([4] * 5 + [5] * 3)
    assert (first["shortest (days)"], first["longest (days)"]) == (4, 5)
    assert first["basis"] == "from when it was seen to begin"


def test_an_abbreviated_name_in_double_quotes_is_the_same_species(story: Story) -> None:
    tell(story, CUP)
    story.type('K2 founder W3 "Z. ligurta" sex=female place="Bank"')
    assert story.on_disk()[-1]["taxon"] == "Zygaena ligurta"
    story.type('K2 founder W4 "Zygaena ligurti" sex=female place="Bank"')
    assert story.on_disk()[-1]["taxon"] == "Zygaena ligurti", (
        "a whole name in quotes is meant as it is written"
    )


def test_stems_for_two_cups_say_what_each_gets(story: Story) -> None:
    tell(story, "K2 set up laying\nK3 set up laying")
    assert "K2 K3 host in: plant Lotus NEW, batch A, stems 2, in each" in story.preview(
        "K2 K3 host in Lotus 4 stems"
    )
    uneven = story.preview("K2 K3 host in Lotus 3 stems")
    assert (
        "K2 host in: plant Lotus NEW, batch A, stems 2; K3 host in: plant Lotus NEW, batch A, stems 1"
        in uneven
    )


def test_a_larva_that_was_kept_has_its_day_and_a_withheld_place_is_short(
    story: Story, tmp_path: Path
) -> None:
    reared(story)
    tell(story, 'taxon "Zygaena ligurta" protected')
    tell(story.at("2027-06-02 18:00"), "E2 preserved 1 larva voucher=V-1")
    pin = pin_of(story, tmp_path)
    assert "kept 2 vi 2027" in pin
    assert pin[0] == "exact place withheld"


def test_no_event_for_a_round_with_nothing_to_do(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    tell(
        story,
        "K2 set up eggs\ntaxon 'Pieris orata'\nbrood A-1 taxon='Pieris orata'\nK2 stocked 5 eggs A-1",
    )
    take_in(story, phone, tmp_path, "--within", "5d")
    assert phone.titled(" round: ")
    assert not phone.titled(": 0 checks")
    story.later(hours=1).type("K2 died 5 eggs", "K2 closed")
    take_in(story, phone, tmp_path, "--within", "5d")
    assert not phone.titled(" round: "), "rounds that have nothing left are cancelled"
