"""Wings that failed are seen hours after the emergence was told, and count no animal twice."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story
from tests.stories.test_leaving_season_plots_and_permit import tables_in
from tests.stories.test_mixed_broods_of_one_permit import rows_of


@pytest.fixture
def emerged(story: Story) -> Story:
    story.at("2027-05-10 09:00").type("P2 set up pupation", "P2 6 pupae Melitaea cinxia")
    story.at("2027-05-20 09:00").type("P2 emerged 3")
    return story.at("2027-05-20 11:00")


def adults(story: Story) -> tuple[int, int]:
    """How many stand there, and how many of those that emerged were crippled."""
    lines = story.on_disk()
    struck = {line["entry"] for line in lines if line["what"] == "struck"}
    crippled = [
        line.get("crippled", 0)
        for line in lines
        if line["what"] == "emerged" and line["id"] not in struck
    ]
    return story.desk.bench.containers["P2"].count("adult"), sum(crippled)


def test_one_crippled_may_be_of_those(emerged: Story) -> None:
    asked = emerged.refused("P2 emerged 1 crippled")
    assert asked == (
        "of the 3 that emerged Thu 20 May 09:00, or 1 more? As: P2 1 crippled; or P2 emerged 1"
        " more 1 crippled"
    )
    emerged.type("P2 1 crippled")
    assert adults(emerged) == (3, 1)
    emerged.type("P2 emerged 1 more 1 crippled")
    assert adults(emerged) == (4, 2)


@pytest.mark.parametrize(
    "line", ["P2 1 crippled", "P2 deformed 1", "p2 one of them crippled", "P2 crippled"]
)
def test_it_is_one_of_those_that_emerged(emerged: Story, line: str) -> None:
    emerged.type(line)
    assert adults(emerged) == (3, 1)
    assert emerged.shell("check").status == 0
    emerged.type("undo")
    assert emerged.desk.bench.containers["P2"].last["emerged"].crippled == 0  # type: ignore[union-attr]


def test_of_several_emergences_it_is_asked_of_which(emerged: Story) -> None:
    emerged.at("2027-05-22 09:00").type("P2 emerged 2 male")
    emerged.at("2027-05-22 11:00")
    asked = emerged.refused("P2 1 crippled")
    assert asked == (
        "of the 3 of 20 May 09:00 or of the 2 of 22 May 09:00? As: P2 1 crippled 20 May 09:00; or"
        " P2 1 crippled 22 May 09:00"
    )
    before = {line["id"]: line for line in emerged.on_disk()}
    emerged.type("P2 1 crippled 20 May 09:00")
    (anew,) = [
        line for line in emerged.on_disk() if line["what"] == "emerged" and line["id"] not in before
    ]
    (was,) = [line for line in before.values() if line.get("number") == 3]
    changed = {name for name in anew if anew[name] != was.get(name)}
    assert changed == {"id", "logged", "crippled"}
    assert adults(emerged) == (5, 1)
    assert "where 3 emerged at the most at one time" in emerged.refused("P2 4 crippled")


def test_one_that_died_crippled_is_no_pupa(emerged: Story) -> None:
    emerged.type("P2 released 3")
    told = emerged.refused("P2 died 1 crippled")
    assert "P2 holds no adults" in told
    emerged.type("P2 emerged 1", "P2 died 1 crippled")
    assert (emerged.desk.bench.at("P2").count("pupa"), adults(emerged)[0]) == (2, 0)
    emerged.type("P2 died 1 pupa crippled")
    assert emerged.desk.bench.at("P2").count("pupa") == 1


def test_with_adults_there_it_is_one_of_them(emerged: Story) -> None:
    emerged.type("P2 died 1 deformed")
    assert (emerged.desk.bench.at("P2").count("pupa"), adults(emerged)[0]) == (3, 2)


def test_no_more_than_emerged(emerged: Story) -> None:
    assert "no emergence in P2 is on record" in emerged.refused("P2 4 crippled")


def test_the_next_day_it_is_another(emerged: Story) -> None:
    emerged.at("2027-05-21 10:00").type("P2 emerged 1 crippled")
    assert adults(emerged) == (4, 1)


def test_a_female_named_after_one_that_nobody_knew_may_be_she(story: Story) -> None:
    story.at("2027-05-10 09:00").type("K1 2 females Melitaea cinxia on plantain")
    story.at("2027-05-10 18:00").type("K1 drank 1")
    story.at("2027-05-10 18:20").type("MEL-27-01 drank")
    assert "drink" in story.due("K1"), "only one is known to have drunk"
    story.type("MEL-27-02 drank")
    assert "drink" not in story.due("K1")


@pytest.mark.parametrize(
    ("line", "way"),
    [
        ("K1 has a moat", "K1 changed barrier=moat"),
        ("K1 cup too wet", "K1 lid opened"),
    ],
)
def test_what_cannot_be_read_shows_the_way(story: Story, line: str, way: str) -> None:
    story.at("2027-05-10 09:00").type("K1 1 female Melitaea cinxia on plantain")
    assert way in story.refused(line)
    story.type(way)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("L7 moulted all L5", "none of L7 is left that could have moulted; it holds 5 larvae L5"),
        ("L7 emerged all", "none of L7 is left that could have emerged; it holds 5 larvae L5"),
    ],
)
def test_all_of_none_says_what_is_there(story: Story, line: str, told: str) -> None:
    story.at("2027-05-10 09:00").type("L7 5 L4 Melitaea cinxia on plantain")
    story.at("2027-05-12 09:00").type("L7 moulted all L5")
    assert told in story.refused(line)


def test_an_adult_that_died_crippled_is_a_crippled_one_in_the_season(emerged: Story) -> None:
    emerged.later(days=1).type("P2 died 1 adult crippled")
    page = emerged.folder.parent / "s.md"
    emerged.reopen()
    assert emerged.shell("export", "season", str(page)).status == 0
    (row,) = tables_in(page.read_text())["In short"]
    assert (row["adults"], row["of them crippled"]) == ("3", "1")
    dead = [one for one in rows_of(emerged, "events") if one["fate"] == "died"]
    assert [(one["stage"], one["number"], one["crippled"]) for one in dead] == [
        ("adult", "1", "yes")
    ]


def test_one_told_crippled_as_it_emerged_counts_once_when_it_dies(emerged: Story) -> None:
    emerged.type("P2 1 crippled")
    emerged.later(days=1).type("P2 died 1 adult crippled")
    rows = [one for one in rows_of(emerged, "events") if one["crippled"] == "yes"]
    assert [(one["number"], one["fate"]) for one in rows] == [("1", "died")]


def test_found_dead_is_dead(story: Story) -> None:
    story.at("2027-05-10 09:00").type("K1 1 female Melitaea cinxia on plantain")
    assert story.type("K1 found 1 dead") == ["K1 died 1 adult"]
