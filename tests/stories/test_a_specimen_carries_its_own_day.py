"""A specimen carries the day on which it emerged, or the span of days that it may be: never that of the other sex or brood."""

from __future__ import annotations

import io

import pandas as pd
import pytest

from tests.stories.telling import Story, tell

SEXES_APART = """
R2 set up rearing
brood A-1/A taxon='Pieris orata'
R2 stocked A-1/A pupa 8
"""


def table(story: Story, name: str) -> pd.DataFrame:
    story.reopen()
    ran = story.shell("export", "csv", "-", "--table", name)
    assert ran.status == 0, ran.err
    return pd.read_csv(io.StringIO(ran.out.removeprefix("\ufeff")), keep_default_na=False)


def emerged(story: Story) -> dict[str, tuple[str, str]]:
    """By catalogue number the first and the last day on which it may have emerged."""
    return {
        row["catalogue number"]: (row["emerged from"][:10], row["emerged to"][:10])
        for _, row in table(story, "specimens").iterrows()
    }


def test_each_sex_keeps_its_day_after_one_died_not_known_which(story: Story) -> None:
    tell(story, SEXES_APART)
    story.at("2027-05-03 07:05").type("R2 emerged 2 males")
    story.at("2027-05-06 07:05").type("R2 emerged 3 females")
    story.at("2027-05-07 07:05").type("R2 died 1 adult not known")
    story.later(minutes=5).type("R2 preserved 1 female V1", "R2 preserved 1 male V2")
    story.later(minutes=5).type("R2 preserved 1 adult not known V3")
    assert emerged(story) == {
        "V1": ("2027-05-06", "2027-05-06"),
        "V2": ("2027-05-03", "2027-05-03"),
        "V3": ("2027-05-03", "2027-05-06"),
    }
    rows = table(story, "events")
    kept = rows[rows["fate"] == "preserved"]
    assert {(row["sex"], row["from"][:10]) for _, row in kept.iterrows() if row["sex"]} == {
        ("female", "2027-05-06"),
        ("male", "2027-05-03"),
    }


def test_those_of_one_sex_that_emerged_on_two_days_carry_the_span(story: Story) -> None:
    tell(story, SEXES_APART)
    story.at("2027-05-03 07:05").type("R2 emerged 1 male")
    story.at("2027-05-06 07:05").type("R2 emerged 2 males", "R2 emerged 1 female")
    story.at("2027-05-07 07:05").type("R2 died 1 adult not known", "R2 preserved 1 male V1")
    assert emerged(story) == {"V1": ("2027-05-03", "2027-05-06")}


def test_who_went_before_the_others_emerged_is_known(story: Story) -> None:
    tell(story, SEXES_APART)
    story.at("2027-05-03 07:05").type("R2 emerged 1")
    story.at("2027-05-04 07:05").type("R2 died 1 adult")
    story.at("2027-05-06 07:05").type("R2 emerged 2")
    story.at("2027-05-07 07:05").type("R2 preserved 1 adult V1")
    assert emerged(story) == {"V1": ("2027-05-06", "2027-05-06")}


def test_who_was_carried_elsewhere_may_have_been_of_either_day(story: Story) -> None:
    tell(story, SEXES_APART)
    story.type("K5 set up holding")
    story.at("2027-05-03 07:05").type("R2 emerged 1")
    story.at("2027-05-06 07:05").type("R2 emerged 2")
    story.at("2027-05-07 07:05").type("R2 moved 1 adult to K5")
    story.later(minutes=5).type("K5 preserved 1 adult V1", "R2 preserved 1 adult V2")
    assert emerged(story) == dict.fromkeys(("V1", "V2"), ("2027-05-03", "2027-05-06"))


def test_each_brood_keeps_its_day_after_one_died_not_known_which(story: Story) -> None:
    tell(
        story,
        """
        R2 set up rearing
        brood A-1/A taxon='Pieris orata'
        brood B-1/A taxon='Pieris orata'
        R2 stocked A-1/A pupa 2
        R2 stocked B-1/A pupa 3
        """,
    )
    story.at("2027-05-03 07:05").type("R2 emerged 2 A-1/A")
    story.at("2027-05-06 07:05").type("R2 emerged 3 B-1/A")
    story.at("2027-05-07 07:05").type("R2 died 1 adult not known")
    story.later(minutes=5).type("R2 preserved 1 adult B-1/A V1", "R2 preserved 1 adult A-1/A V2")
    assert emerged(story) == {
        "V1": ("2027-05-06", "2027-05-06"),
        "V2": ("2027-05-03", "2027-05-03"),
    }


TWO_DAYS = """
P2 set up pupation
brood A-1/A taxon='Pieris orata'
P2 stocked A-1/A pupa 10
"""


def spans(story: Story) -> dict[str, set[tuple[str, str]]]:
    """By fate between which days the adults of the table of events emerged."""
    rows = table(story, "events")
    found: dict[str, set[tuple[str, str]]] = {}
    for _, row in rows[rows["stage"] == "adult"].iterrows():
        days = row["from"][8:10], row["from (latest)"][8:10]
        found.setdefault(row["fate"], set()).add(days)
    return found


@pytest.fixture
def two_days(story: Story) -> Story:
    """Five that emerged on the third and five on the fourth, of no known sex."""
    tell(story, TWO_DAYS)
    story.at("2027-05-03 07:05").type("P2 emerged 5")
    story.at("2027-05-04 07:05").type("P2 emerged 5")
    return story


def test_those_sexed_after_both_days_carry_both(two_days: Story) -> None:
    two_days.later(minutes=30).type("P2 sexed 5 male", "P2 sexed 5 female")
    two_days.later(hours=30).type("P2 preserved 1 male V1", "P2 preserved 1 female V2")
    assert emerged(two_days) == dict.fromkeys(("V1", "V2"), ("2027-05-03", "2027-05-04"))
    assert spans(two_days) == {"preserved": {("03", "04")}, "in it now": {("03", "04")}}
    pins = " ".join(two_days.shell("export", "pins", "-").out.split())
    assert pins.count("em. 3 v 2027 to 4 v 2027") == 2, pins


def test_those_sexed_on_their_own_day_keep_it(story: Story) -> None:
    tell(story, TWO_DAYS)
    story.at("2027-05-03 07:05").type("P2 emerged 5")
    story.later(minutes=30).type("P2 sexed 5 male")
    story.at("2027-05-04 07:05").type("P2 emerged 5", "P2 sexed 5 female")
    story.later(hours=30).type("P2 preserved 1 male V1", "P2 preserved 1 female V2")
    assert emerged(story) == {"V1": ("2027-05-03",) * 2, "V2": ("2027-05-04",) * 2}
    assert spans(story)["in it now"] == {("03", "03"), ("04", "04")}


@pytest.mark.parametrize(
    "leave",
    ["P2 released 6 female", "P2 released 6", "P2 died 6 adults", "P2 preserved 6 voucher=V2-V7"],
)
def test_those_that_leave_unsexed_carry_both_days(two_days: Story, leave: str) -> None:
    two_days.later(minutes=30).type(leave)
    two_days.later(hours=30).type("P2 preserved 1 male V1")
    assert set(emerged(two_days).values()) == {("2027-05-03", "2027-05-04")}
    assert {span for found in spans(two_days).values() for span in found} == {("03", "04")}


def test_the_crippled_one_of_one_day_is_known(story: Story) -> None:
    tell(story, TWO_DAYS)
    story.at("2027-05-03 07:05").type("P2 emerged 5")
    story.at("2027-05-04 07:05").type("P2 emerged 5, 1 crippled")
    story.later(hours=30).type("P2 died 1 crippled voucher=V1", "P2 preserved 1 male V2")
    assert emerged(story) == {"V1": ("2027-05-04",) * 2, "V2": ("2027-05-03", "2027-05-04")}
    assert spans(story) == {
        "died": {("04", "04")},
        "preserved": {("03", "04")},
        "in it now": {("03", "04")},
    }


def test_of_those_that_may_be_either_all_days_are_a_span(story: Story) -> None:
    tell(
        story,
        "P2 set up pupation\nP3 set up pupation\nK2 set up holding\nbrood A-1/A taxon='Pieris orata'",
    )
    for cup, laid, hatched in (("P2", "2027-05-02", "10"), ("P3", "2027-05-04", "12")):
        story.at(f"{laid} 07:05").type(f"{cup} stocked A-1/A egg 2")
        story.at(f"2027-05-{hatched} 07:05").type(f"{cup} hatched 2")
        story.at("2027-06-01 07:05").type(f"{cup} pupated 2")
    story.at("2027-06-20 07:05").type("P2 emerged 2", "P3 emerged 2")
    story.later(minutes=30).type("P2 moved 2 adults to K2", "P3 moved 2 adults to K2")
    story.later(hours=30).type("K2 released 2")
    rows = table(story, "events")
    ranges = {
        (
            row["fate"],
            *(row[name][:10] for name in ("came", "came (latest)", "hatched", "hatched (latest)")),
        )
        for _, row in rows[rows["stage"] == "adult"].iterrows()
    }
    days = ("2027-05-02", "2027-05-04", "2027-05-10", "2027-05-12")
    assert ranges == {("released", *days), ("in it now", *days)}
    larvae = rows[rows["stage"] == "larva"]
    assert all(larvae["hatched"] == larvae["hatched (latest)"])
