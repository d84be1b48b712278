"""Any season of lines typed at the prompt balances: animals in are here, dead, gone or missing, on every page."""

from __future__ import annotations

import re
import tempfile
from collections import Counter
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rounds.app.desk import Recorded
from rounds.app.prompt_line import say_phrase
from rounds.bench.beginnings import beginnings
from rounds.bench.codes import members
from rounds.exchange.source import Source
from rounds.exchange.tables.tables import TABLES
from rounds.views.broods_page import broods_page
from rounds.views.card import card
from tests.added_up import tallies_of
from tests.stories.telling import Story, tell

BEGIN = """
K2 set up holding
K3 set up holding
R4 set up rearing
R5 set up rearing
K2 founder W2 "Boloria inventa"
K2 founder W3 "Boloria inventa"
K2 founder W4 "Boloria inventa"
brood A-27-02/A taxon="Boloria inventa" mothers=W2,W3
brood B-27-02/A taxon="Boloria inventa" mothers=W4
R4 stocked 12 eggs A-27-02/A
R4 stocked 5 L2 A-27-02/A
R4 stocked 6 L2 B-27-02/A
R5 stocked 4 L5 B-27-02/A
R5 stocked 9 pupae A-27-02/A
R5 emerged 2
"""
LATER = ("R5 emerged 2 more", "R5 emerged 3 1 crippled more", "R5 moved 3 adults sound to K3")
CODES = ("K2", "K3", "R4", "R5")
WHAT = (
    "",
    "eggs",
    "larvae",
    "L2",
    "L5",
    "pupae",
    "adults",
    "female",
    "male",
    "adult sound",
    "adult crippled",
)
WHOSE = (
    "",
    "not known",
    "brood=A-27-02/A",
    "brood=B-27-02/A",
    "brood=W3",
    "of W2,W3,W4",
    "of A-27-02/A,B-27-02/A",
)
OUT = (
    "went on", "died", "left the bench alive", "kept as specimens", "not seen", "fate not known",
    "not known which",
)  # fmt: skip
VERBS = (
    "died", "escaped", "missing", "released", "preserved", "hatched", "emerged", "pupated", "counted",
    "settled found", "settled dead", "settled given up", "settled escaped", "settled miscounted",
)  # fmt: skip


@st.composite
def lines(draw: st.DrawFn) -> str:
    """One line about animals, likely or not."""
    code, other = draw(st.permutations(CODES))[:2]
    number, fewer = draw(st.integers(1, 9)), draw(st.integers(0, 4))
    what, whose = draw(st.sampled_from(WHAT)), draw(st.sampled_from(WHOSE))
    verb = draw(
        st.sampled_from(
            (
                *VERBS,
                "moved",
                "moved short",
                "split",
                "merged",
                "moulted",
                "died missing",
                "died others",
            )
        )
    )
    return {
        "moved": f"{code} moved {number} {what} {whose} to {other}",
        "moved short": f"{code} moved {number} {what} {whose} to {other} arrived={fewer}",
        "split": f"{code} split into {other} {number} {what} {whose} missing={fewer}",
        "merged": f"{code} merged from {other}",
        "moulted": f"{code} moulted {number} {what if what in ('L2', 'L5') else 'L3'} {whose}",
        "emerged": f"{code} emerged {number} {fewer} crippled {whose} more",
        "died missing": f"{code} died {number} {what} missing",
        "died others": f"{code} died {number} {what} {whose} others",
    }.get(verb, f"{code} {verb} {number} {what} {whose}")


def balanced(text: str) -> tuple[int, int]:
    """Both sides of ``23 came (...) = 19 alive + 4 died (...)``."""
    came, became = re.sub(r"\([^)]*\)", "", text).split("=")
    return sum(map(int, re.findall(r"\d+", came))), sum(map(int, re.findall(r"\d+", became)))


def check(story: Story) -> None:
    """Every brood's sum, and all of them against what stands in the cups."""
    desk = story.desk
    back = tallies_of(desk.entries(whole=True), desk.zone).look_back()
    page = broods_page(back, desk.zone)
    for pane in page.panes.values():
        for shown in (line.text for line in pane):
            if shown.startswith("sum"):
                came, became = balanced(shown.removeprefix("sum"))
                assert came == became, shown
    for part in (back.course.alive, back.course.not_seen):
        assert all(cohort.number > 0 for cohort in part)
    here = sum(container.count() for container in desk.bench.standing())
    assert sum(cohort.number for cohort in back.course.alive) == here
    for lot in (lot for container in desk.bench.standing() for lot in container.lots):
        assert sum(one.number for one in beginnings(lot)) == lot.number
        assert len(lot.began) != 1 or lot.began[0].brood  # which nothing else of the lot says
        assert min((one.since for one in beginnings(lot) if one.since), default=None) == lot.since
    missing = sum(one.number for one in desk.bench.shortfalls)
    assert sum(cohort.number for cohort in back.course.not_seen) == missing
    ended = sum(one.cohort.number for one in back.course.ended)
    assert sum(one.cohort.number for one in back.course.entered) == here + missing + ended
    tallied = sum(
        sum(by.values()) for tally in desk.bench.tallies.values() for by in tally.fates.values()
    )
    assert tallied <= ended
    for container in desk.bench.standing():
        drawn = card(desk.bench, desk.dues(), desk.moment(), container.code, desk.foresight)
        assert drawn
    tables_agree(story)


def of_table(source: Source, name: str) -> list[dict[str, Any]]:
    """The rows of a table by heading."""
    table = TABLES[name]
    return [dict(zip(table.headings, row, strict=True)) for row in table.rows(source)]


def tables_agree(story: Story) -> None:
    """What stands by the table ``stock`` is what the tables ``events`` and ``life-table`` leave of
    all that came, of each container, brood, stage and sex; and adults stand there since then."""
    source = Source(story.desk)
    stock: Counter[tuple[str, ...]] = Counter()
    since: dict[tuple[str, ...], datetime] = {}
    reared: Counter[str] = Counter()
    for row in of_table(source, "stock"):
        stage = f"L{row['instar']}" if row["instar"] else row["stage"]
        group = (row["container"], row["brood"], stage, row["sex"], row["crippled"])
        stock[group] += row["number"]
        if stage == "adult":
            since[group] = row["since"]
        if story.desk.bench.founders.keys().isdisjoint(members(row["brood"])):
            reared[stage] += row["number"]
    left: Counter[tuple[str, ...]] = Counter()
    began: dict[tuple[str, ...], datetime] = {}
    for row in of_table(source, "events"):
        group = (row["container"], row["brood"], row["stage"], row["sex"], row["crippled"])
        if row["fate"] == "in it now":
            left[group] += row["number"]
            if row["stage"] == "adult":
                began[group] = min(row["from"], began.get(group, row["from"]))
    assert stock == left
    course = source.tallies.course
    known = (*course.alive, *course.not_seen, *(one.cohort for one in course.ended))
    if not any(one.was_brood or one.was_sex for one in known):  # of whom the tables know more
        assert since == began
    stayed: Counter[str] = Counter()
    for row in of_table(source, "life-table"):
        if not row["counted again in"]:
            stayed[row["stage"]] += row["in it now"]
        assert row["in it now"] == row["entered"] - sum(row[name] for name in OUT)
    assert _instars_pooled(reared) == _instars_pooled(stayed)


def _instars_pooled(counts: Counter[str]) -> Counter[str]:
    """All larvae as one stage: the life table takes them so where one came without an instar."""
    pooled: Counter[str] = Counter()
    for stage, number in counts.items():
        pooled["larva" if re.fullmatch(r"L\d+", stage) else stage] += number
    return pooled


@given(st.lists(lines(), min_size=4, max_size=25))
@example(
    ["K2 died 1", "K2 died 1", "K2 died 1", "K2 counted 1 larvae brood=A-27-02/A"]
)  # instars of a brood known in one cup and not in another
@settings(max_examples=25, deadline=None)
def test_any_season_of_lines_balances(typed: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        story = Story(Path(folder) / "book", patch).at("2027-05-01 07:05")
        tell(story, BEGIN)
        for line in (*LATER, *typed):
            story.later(minutes=20)
            before = _numbers(story)
            outcome = say_phrase(story.desk, line)
            if not isinstance(outcome, Recorded):
                assert _numbers(story) == before, line
        check(story)


def _numbers(story: Story) -> dict[str, int]:
    return {container.code: container.count() for container in story.desk.bench.standing()}
