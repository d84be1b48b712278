"""Eggs that nobody knew of until they hatched on kept stems were never watched: no egg survival, no egg duration is told of them."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story, tell, tell_demo
from tests.stories.test_leaving_note import note_of, table
from tests.stories.test_leaving_pins_and_permits import pin_of
from tests.stories.test_life_table_says_what_is_known import page
from tests.stories.test_tables_with_a_column_each import table_of

LEFT_OUT = "5 more were known only by hatching; left out of egg survival"


def laid_and_kept(story: Story) -> None:
    """Ten eggs are found, of which four hatch; the stems are kept."""
    tell(
        story.at("2027-05-14 18:00"),
        """
        taxon "Zygaena ligurta"
        plant "Lotus saltans" kept=water hours=60
        K2 set up laying
        H2 set up holding
        E2 set up eggs
        K2 founder W2 "Zygaena ligurta" sex=female place="Bank"
        K2 host in "Lotus saltans" 3 stems
        """,
    )
    tell(
        story.at("2027-05-15 18:00"),
        """
        room air 21
        K2 searched 10
        K2 moved 10 eggs to E2
        K2 host out held held_in=H2
        K2 released W2
        """,
    )
    story.at("2027-05-25 18:00").type("room air 21", "E2 hatched 4", "E2 died 6 eggs")


async def hatched_unseen(story: Story) -> None:
    """A week later five young larvae are on the kept stems."""
    laid_and_kept(story)
    story.at("2027-06-01 12:00").type("room air 21", "H2 misted", "H2 frass trace lots=1")
    async with story.screens() as screen:
        screen.highlight("H2")
        await screen.press("l", "space", "enter", "5", "y")
    assert story.on_disk()[-1]["what"] != "frass"


async def test_the_note_leaves_them_out_of_egg_survival_and_says_so(
    story: Story, tmp_path: Path
) -> None:
    await hatched_unseen(story)
    note = note_of(story, tmp_path, "W2/A")
    rows = {row[0]: row for row in table(note, "Stage by stage")}
    assert rows["egg"][1:3] == ["10", "6"]
    assert rows["egg"][-1].startswith("0.40 ")
    assert rows["L1"][1] == "9"
    assert LEFT_OUT in note
    assert "egg: cause not recorded | 10 | 6 | 0.6 " in note
    lasted = {row[0]: row for row in table(note, "How long each stage took")}
    assert lasted["egg"][1:5] == ["4", "10.5", "10.5", "10.5"]
    assert "hatched unseen" not in note
    assert "10 animals, 6 died" in note


async def test_the_brood_page_says_so_too(story: Story) -> None:
    await hatched_unseen(story)
    text = await page(story, "W2/A")
    assert LEFT_OUT in text
    assert "0.40 (" in text
    assert "15 came (10 eggs, 5 L1)" in text


async def test_the_life_table_has_a_column_for_them(story: Story, tmp_path: Path) -> None:
    await hatched_unseen(story)
    rows = table_of(story, tmp_path, "life-table").set_index("stage")
    egg = rows.loc["egg"]
    assert (egg["entered"], egg["died"], egg["share that went on"]) == (10, 6, 0.4)
    assert rows["known only by hatching, in no egg number"].to_dict() == {"egg": 5, "L1": 0}
    assert rows.loc["L1", "entered"] == 9


def test_what_is_typed_or_lies_in_an_old_book_is_read_alike(story: Story, tmp_path: Path) -> None:
    """The stems may be kept in the cup of the watched eggs, which are older: it is the new ones that were unseen."""
    laid_and_kept(story)
    tell(
        story.at("2027-05-24 08:00"),
        """
        E2 stocked W2/A egg 5
        E2 hatched 5 W2/A inferred
        """,
    )
    story.at("2027-05-26 08:00")
    rows = table_of(story, tmp_path, "life-table").set_index("stage")
    assert rows.loc["egg", "entered"] == 10
    assert rows.loc["egg", "known only by hatching, in no egg number"] == 5


def test_what_is_written_of_one_look_may_take_its_time(story: Story, tmp_path: Path) -> None:
    """It is one look that finds them hatched, whatever seconds or minutes its lines are apart."""
    laid_and_kept(story)
    tell(story.at("2027-05-24 08:00"), "E2 stocked W2/A egg 5")
    tell(story.at("2027-05-24 08:20"), "E2 hatched 5 W2/A inferred")
    story.at("2027-05-26 08:00")
    rows = table_of(story, tmp_path, "life-table").set_index("stage")
    assert rows.loc["egg", "entered"] == 10
    assert rows.loc["egg", "known only by hatching, in no egg number"] == 5
    assert rows.loc["L1", "entered"] == 9


def test_the_eggs_of_the_demo_that_were_seen_hatched_are_in_no_egg_survival(
    story: Story, tmp_path: Path
) -> None:
    tell_demo(story)
    rows = table_of(story, tmp_path, "life-table").set_index("stage").loc[["egg"]]
    (egg,) = [row for _, row in rows.iterrows() if row["known only by hatching, in no egg number"]]
    assert egg["known only by hatching, in no egg number"] == 3
    assert (egg["entered"], egg["died"]) == (20, 2)
    assert "3 more were known only by hatching" in note_of(story, tmp_path, egg["brood"])


def test_eggs_that_were_watched_and_hatched_unseen_stay_in(story: Story, tmp_path: Path) -> None:
    laid_and_kept(story)
    tell(story.at("2027-05-26 08:00"), "E2 stocked W2/A egg 3")
    tell(story.at("2027-05-28 08:00"), "E2 hatched 3 W2/A inferred")
    rows = table_of(story, tmp_path, "life-table").set_index("stage")
    assert rows.loc["egg", "entered"] == 13
    assert rows.loc["egg", "known only by hatching, in no egg number"] == 0


def test_the_pin_of_one_of_them_still_says_that_it_was_reared_from_the_egg(
    story: Story, tmp_path: Path
) -> None:
    laid_and_kept(story)
    tell(
        story.at("2027-06-01 08:00"),
        """
        R9 set up rearing
        R9 stocked W2/A egg 2
        R9 hatched 2 W2/A inferred
        R9 preserved 1 larva voucher=V-1 depository=Mus
        """,
    )
    assert any("ex ovo" in told for told in pin_of(story, tmp_path))


def test_two_that_came_in_at_one_look_are_told_apart_by_bench_and_tallies(story: Story) -> None:
    tell(
        story.at("2027-05-14 18:00"),
        """
        taxon "Zygaena ligurta"
        brood F1/A taxon="Zygaena ligurta"
        brood F2/A taxon="Zygaena ligurta"
        E1 set up eggs
        E1 stocked 4 eggs F1/A
        """,
    )
    story.later(hours=30).type("E1 stocked 6 eggs F1/A")
    story.later(seconds=20).type("E1 stocked 4 eggs F2/A")
    story.later(seconds=20).type(
        "E1 hatched 8 brood F1/A inferred", "E1 hatched 4 brood F2/A inferred"
    )
    ended = {}
    for one in story.desk.bench.passed:
        key = (one.brood, one.by_hatching)
        ended[key] = ended.get(key, 0) + one.number
    assert ended == {("F1/A", True): 6, ("F1/A", False): 2, ("F2/A", True): 4}
    course = story.desk.reckoning.tallies.course
    known = {(one.brood, one.by_hatching): one.number for one in course.alive if one.stage == "L1"}
    assert known == ended
    story.reopen()
    assert [one.by_hatching for one in story.desk.bench.passed] == [True, False, True]
