"""What a receiver of the pages asks: names in full, one word for no cause, hours held, who is in a curve."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_a_permits_return_adds_up import returned
from tests.stories.test_leaving_season_plots_and_permit import tables_in
from tests.stories.test_mixed_broods_of_one_permit import rows_of

HELD = """
setting names KM=Kay Marlow
permit P-12 females=3 hold_hours=96
K2 set up laying
K2 founder W1, 'Melitaea celans' female permit=P-12 caught -5h at Ferny collector=KM
K2 founder W2, 'Melitaea celans' female permit=P-12
K2 host in plantain
"""


def test_the_return_says_for_how_long_each_was_held(story: Story) -> None:
    story.at("2027-05-01 17:00")
    tell(story, HELD)
    story.at("2027-05-04 12:00").type("W1 released at Ferny")
    story.at("2027-05-06 17:00")
    rows = {one["code"]: one for one in returned(story, "P-12")["Taken from the wild"]}
    held = "hours held (at most 96)"
    assert (rows["W1"]["came in"], rows["W1"][held]) == ("1 May 2027", "72")
    assert rows["W2"][held] == "120, PAST THE LIMIT"


def test_without_a_limit_no_hours_are_told(story: Story) -> None:
    tell(story, HELD.replace(" hold_hours=96", ""))
    (first, *_) = returned(story, "P-12")["Taken from the wild"]
    assert not [name for name in first if name.startswith("hours held")]


def test_the_note_names_the_collector_in_full(story: Story) -> None:
    story.at("2027-05-01 17:00")
    tell(story, HELD)
    story.at("2027-05-02 17:00").type("K2 searched 6")
    (brood,) = story.desk.bench.broods
    page = story.folder.parent / "n.md"
    story.reopen()
    assert story.shell("export", "note", brood, str(page)).status == 0
    assert "| Kay Marlow |" in page.read_text()
    assert "| KM |" not in page.read_text()


@pytest.mark.parametrize(
    "line", ["R4 died 2 larvae", "R4 died 2 larvae voucher=V7", "R4 died 2 larvae cause unknown"]
)
def test_no_cause_is_one_word(story: Story, line: str) -> None:
    tell(
        story,
        """
        brood A1 taxon='Melitaea celans'
        R4 set up rearing
        R4 stocked 5 L2 A1
        """,
    )
    story.later(days=1).type(line)
    assert [one["cause"] for one in rows_of(story, "events") if one["fate"] == "died"] == [""]
    page = story.folder.parent / "s.md"
    assert story.shell("export", "season", str(page)).status == 0
    assert [one["cause"] for one in tables_in(page.read_text())["Losses by cause"]] == [
        "not recorded"
    ]


def test_one_of_either_of_two_species_is_a_curve_apart_in_the_plot_of_females(story: Story) -> None:
    tell(
        story,
        """
        brood A1 taxon='Melitaea celans'
        K2 set up holding
        K2 founder W1, 'Melitaea celans' female
        K2 founder W2, 'Melitaea orata' female
        K2 founder W3, 'Melitaea celans' female
        """,
    )
    story.later(days=2).type("W3 died", "K2 died 1 not known")
    story.later(days=1).reopen()
    page = story.folder.parent / "f.svg"
    ran = story.shell("export", "plot", "Melitaea celans", str(page), "--plot", "females")
    assert ran.status == 0, ran.err
    text = page.read_text()
    assert "wild-caught: 1 females, 1 died" in text
    assert "wild-caught, of it or of another species: 2 females, 1 died" in text


def test_one_taken_after_its_last_day_is_said_to_be(story: Story) -> None:
    story.at("2027-05-02 17:00")
    tell(
        story, "permit P-12 females=3 expires=2027-05-02\nK2 1 female 'Melitaea celans' permit=P-12"
    )
    story.at("2027-05-04 12:00")
    (told,) = [
        one for one in story.type("K3 1 female 'Melitaea celans' permit=P-12") if "P-12" in one
    ]
    rows = returned(story, "P-12")["Taken from the wild"]

    assert "permit P-12 had ended by then" in told
    assert [one["came in"] for one in rows] == ["2 May 2027", "4 May 2027, AFTER ITS LAST DAY"]
    assert "1 that came in AFTER ITS LAST DAY" in story.shell("export", "permit", "P-12", "-").out


def test_hours_near_the_limit_are_told_to_the_minute(story: Story) -> None:
    story.at("2027-05-01 17:00")
    tell(story, HELD)
    story.at("2027-05-05 12:10")
    rows = {one["code"]: one for one in returned(story, "P-12")["Taken from the wild"]}
    assert rows["W1"]["hours held (at most 96)"] == "96 h 10 min, PAST THE LIMIT"
