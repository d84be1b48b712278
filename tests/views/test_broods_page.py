"""What the broods' pages say: the tree, balances in words, pairings against the limit, and nothing wider than its room."""

from __future__ import annotations

import pytest

from rounds.app.desk import Desk
from rounds.views.brood_page import PlotRoom, brood_lines, taxon_lines
from rounds.views.broods_page import broods_page, pairing_lines
from tests.added_up import tallies_of
from tests.bench.test_stories import BEGIN, tell
from tests.conftest import PARIS, Clock


def words(lines: object) -> str:
    """Lines as they are read."""
    return "\n".join(line.text for line in lines)  # type: ignore[attr-defined]


def test_a_setting_that_cannot_be_used_is_said_and_the_default_holds(demo_desk: Desk) -> None:
    back = tallies_of(demo_desk.entries(whole=True), PARIS).look_back()
    back.course.bench.settings["inbreeding"] = "some"  # as an older book may have it
    told = words(pairing_lines(back, "SHI-26-80/A", "SHI-26-80/A"))

    assert "TOO CLOSE by the default limit, yours to change: setting inbreeding 0.125" in told
    assert "'some' cannot be used as the limit; it is a number from 0 to 1" in told


def test_an_open_parentage_is_told_as_a_range_and_why(demo_desk: Desk) -> None:
    told = words(
        pairing_lines(
            tallies_of(demo_desk.entries(whole=True), PARIS).look_back(),
            "SHI-26-01+/A",
            "SHI-26-01+/B",
        )
    )

    assert "inbreeding of their offspring 0 to 0.25" in told
    assert "depends on which of SHI-26-01, SHI-26-02 is the mother in SHI-26-01+/A" in told
    assert "TOO CLOSE" in told  # what it may be counts


def test_every_brood_balances_in_words(demo_desk: Desk) -> None:
    back = tallies_of(demo_desk.entries(whole=True), PARIS).look_back()
    page = broods_page(back, PARIS)
    for code in back.course.bench.broods:
        (told,) = [line.text for line in page.panes[f"code {code}"] if line.text.startswith("sum")]
        came, became = told.removeprefix("sum").split("=")
        assert int(came.split()[0]) == sum(int(part.split()[0]) for part in became.split(" + ")), (
            told
        )


@pytest.mark.parametrize("width", [74, 114])
def test_tables_and_plots_fit_their_room_drawn_or_as_numbers(
    demo_desk: Desk, clock: Clock, width: int
) -> None:
    back = tallies_of(demo_desk.entries(whole=True), PARIS).look_back()
    bench = back.course.bench
    for as_table in (False, True):
        room = PlotRoom(width, 14, as_table)
        pages = [
            brood_lines(back, code, clock.now, PARIS, room)
            for code in (*bench.broods, *bench.founders)
        ]
        pages += [tuple(taxon_lines(back, taxon, clock.now, room)) for taxon in bench.taxa]
        for page in pages:
            assert max(len(line.text) for line in page if not line.hang) <= max(width, 74)


def test_a_brood_that_died_out_draws_to_nought(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN + "E3 stocked 6 eggs QUE-26-02/A")
    clock.on(days=5)
    tell(desk, clock, "E3 died 6 eggs dry")
    told = words(
        brood_lines(
            tallies_of(desk.entries(whole=True), PARIS).look_back(),
            "QUE-26-02/A",
            clock.now,
            PARIS,
            PlotRoom(),
        )
    )

    assert "6 came (6 eggs) = 6 died (6 eggs)" in told
    assert (
        "0.00 (0.00 to 0.46)" in told
    )  # rule of three's exact fellow: scipy.stats.binomtest(0, 6)
    assert "egg: dry" in told
    assert "inf" not in told  # k of a stage that none came through has no end, and is not printed
