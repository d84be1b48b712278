"""A specimen carries the day on which it emerged, or the span of days that it may be: never that of the other sex or brood."""

from __future__ import annotations

import io

import pandas as pd

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
