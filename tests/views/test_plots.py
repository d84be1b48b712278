"""Plots in text: what is drawn stands where its number says, fits, and can be read out as a table."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from rounds.views.plots import Plot, PlotMark, PlotSeries, plot_lines, plot_table, ticks

FEMALES = PlotSeries(
    "females",
    (
        PlotMark(0, 1, 1, 1),
        PlotMark(3, 0.9, 0.6, 0.98),
        PlotMark(8, 0.75, 0.5, 0.9),
        PlotMark(14, 0.2, 0.05, 0.4),
    ),
    "steps",
)
SURVIVAL = Plot("survival", "days", "share alive", (FEMALES,), x_range=(0, 20), y_range=(0, 1))
finite = st.floats(-1000, 1000, allow_nan=False).map(lambda value: round(value, 3))


def test_a_survival_curve_is_drawn_with_its_limits_axes_and_units() -> None:
    lines = plot_lines(SURVIVAL, 74, 16)

    assert lines[0] == "survival: share alive"
    assert lines[1].startswith("  1 ┤──────────┐")
    assert lines[11].startswith("  0 ┤")
    assert lines[13].split() == ["0", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20"]
    assert lines[14].strip() == "days"
    assert lines[15] == "─┐ females   · limits, 95 %"
    assert len(lines) == 16


def test_the_table_reads_the_same_numbers_out() -> None:
    assert plot_table(SURVIVAL) == (
        "survival",
        "  days  share alive  low 95 %  high 95 %",
        "females",
        "     0            1         1          1",
        "     3          0.9       0.6       0.98",
        "     8         0.75       0.5        0.9",
        "    14          0.2      0.05        0.4",
    )


def test_nothing_to_draw_is_said() -> None:
    empty = Plot("survival", "days", "share alive", (PlotSeries("females", ()),))

    assert plot_lines(empty, 74, 16) == ("survival", "  nothing to draw yet")
    assert plot_table(empty) == ("survival", "  nothing to show yet")


@given(
    st.lists(st.tuples(finite, finite), min_size=1, max_size=12),
    st.integers(30, 120),
    st.integers(8, 40),
)
def test_any_marks_fit_and_stand_where_their_numbers_say(
    pairs: list[tuple[float, float]], width: int, height: int
) -> None:
    plot = Plot("any", "x", "y", (PlotSeries("own", tuple(PlotMark(x, y) for x, y in pairs)),))
    lines = plot_lines(plot, width, height)

    assert max(map(len, lines)) <= width
    assert len(lines) <= height
    drawn = [
        line[line.find("┤" if "┤" in line else "│") + 1 :]
        for line in lines[1:]
        if "┤" in line or "│" in line
    ]
    places = {
        (column, row)
        for row, signs in enumerate(drawn)
        for column, sign in enumerate(signs)
        if sign == "o"
    }
    assert 1 <= len(places) <= len(set(pairs))
    highest = max(pairs, key=lambda pair: pair[1])[1]
    if highest > min(y for _, y in pairs):
        assert min(row for _, row in places) == 0  # the highest value stands at the top


@given(finite, st.floats(0.001, 1000), st.integers(2, 12))
def test_ticks_are_few_even_and_within(low: float, span: float, most: int) -> None:
    found = ticks(low, low + span, most)

    assert len(found) <= most
    assert all(low - span * 1e-6 <= one <= low + span * (1 + 1e-6) for one in found)
    gaps = [after - before for before, after in pairwise(found)]
    assert all(abs(gap - gaps[0]) <= span * 1e-6 for gap in gaps)
