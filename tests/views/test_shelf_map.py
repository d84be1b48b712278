"""The map in any room: nothing sticks out, no word is cut, no code and nothing to be done is left out."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from rounds.views.shelf_map import (
    WORD_ROWS,
    Cup,
    MapShelf,
    cup_words,
    layout,
    map_lines,
    rows_of,
    window,
)
from rounds.views.states import SIGNS, STATES, TONES, State

WORD = st.text("abcdefghijklmnop", min_size=1, max_size=14)
CODE = st.from_regex(r"[A-Z]{1,8}[0-9]{1,2}", fullmatch=True)


@st.composite
def cups(draw: st.DrawFn, code: str) -> Cup:
    """Any cup."""
    state: State = draw(st.sampled_from(STATES))
    stages = draw(
        st.lists(
            st.tuples(st.integers(1, 999), st.sampled_from(["L3", "eggs", "pupae", "f"])),
            min_size=1,
            max_size=4,
        )
    )
    check = draw(WORD)
    needs = (
        ()
        if state == "in order"
        else (f"{check} {state}", state)
        if state != "do not disturb"
        else (state,)
    )
    left = draw(st.one_of(st.none(), st.integers(-5, 60).map(lambda hours: timedelta(hours=hours))))
    holds = " ".join(f"{number} {stage}" for number, stage in stages)
    return Cup(
        code,
        1,
        "",
        state,
        left,
        (holds, f"{stages[0][0]} {stages[0][1]}"),
        draw(WORD),
        needs,
        check,
        "",
        holds,
        "",
    )


@st.composite
def benches(draw: st.DrawFn) -> tuple[MapShelf, ...]:
    """Any shelves."""
    codes = draw(st.lists(CODE, min_size=1, max_size=14, unique=True))
    names = draw(st.lists(WORD, min_size=1, max_size=3, unique=True))
    ends = sorted(draw(st.integers(0, len(codes))) for _ in names[1:])
    parts = zip(names, [0, *ends], [*ends, len(codes)], strict=True)
    return tuple(
        MapShelf(
            name,
            (f"shelf {name}", "moat 12 mm, ok"),
            "late",
            "ants late",
            tuple(draw(cups(code)) for code in codes[begin:end]),
        )
        for name, begin, end in parts
        if begin < end
    )


@given(benches(), st.integers(18, 40))
def test_nothing_sticks_out_in_little_room(shelves: tuple[MapShelf, ...], width: int) -> None:
    shown = layout(shelves, width)
    assert all(len(line.text) <= width for line in map_lines(shown, shown.bands, "", width))


@given(benches(), st.integers(40, 150))
def test_nothing_sticks_out_and_no_word_is_cut(shelves: tuple[MapShelf, ...], width: int) -> None:
    shown = layout(shelves, width)
    lines = map_lines(shown, shown.bands, shown.bands[0].cups[0].code, width)

    assert all(len(line.text) <= width for line in lines)
    known = {
        word
        for shelf in shelves
        for cup in shelf.cups
        for text in (cup.code, cup.name, *cup.holds, *cup.needs)
        for word in text.split()
    }
    known |= {
        word for shelf in shelves for text in (*shelf.told, shelf.need) for word in text.split()
    }
    drawn = {word.lstrip(">") for line in lines for word in line.text.replace("|", " ").split()}
    assert {word for word in drawn if set(word) - {*SIGNS.values(), "-"}} - known - {
        "danger"
    } == set()
    codes = [cup.code for shelf in shelves for cup in shelf.cups]
    assert set(codes) <= drawn


@given(benches(), st.integers(18, 150))
def test_what_is_to_be_done_stands_in_every_cup(shelves: tuple[MapShelf, ...], width: int) -> None:
    shown = layout(shelves, width)
    for shelf in shelves:
        for cup in shelf.cups:
            rows = cup_words(cup, shown.cup)
            assert rows[0][0].split()[0] == cup.code
            assert len(rows) <= WORD_ROWS
            need = " ".join(text for text, is_need in rows if is_need)
            state = cup.state if cup.needs else ""
            assert need.endswith(state) or need.startswith(f"{SIGNS[cup.state]} ")


@given(benches(), st.integers(18, 150), st.integers(1, 40), st.data())
def test_the_cup_of_the_cursor_is_always_in_sight(
    shelves: tuple[MapShelf, ...], width: int, room: int, data: st.DataObject
) -> None:
    bands = layout(shelves, width).bands
    top = 0
    for _ in range(6):
        at = data.draw(st.integers(0, len(bands) - 1))
        top, end = window(bands, top, at, room)
        assert top <= at < end
        assert end - top == 1 or rows_of(bands[top:end]) <= room


@given(
    benches(),
    st.integers(18, 150),
    st.lists(st.sampled_from(["left", "right", "up", "down", "home", "end"]), max_size=20),
)
def test_wherever_one_walks_there_is_a_cup(
    shelves: tuple[MapShelf, ...], width: int, walk: list[str]
) -> None:
    shown = layout(shelves, width)
    codes = {cup.code for shelf in shelves for cup in shelf.cups}
    code = shown.bands[0].cups[0].code
    for key in walk:
        if key in ("left", "right"):
            code = shown.beside(code, 1 if key == "right" else -1)
        elif key in ("up", "down"):
            code = shown.above(code, 1 if key == "down" else -1)
        else:
            code = shown.end(code, last=key == "end")
        assert code in codes
    assert shown.beside(shown.end(code, last=True), 1) == shown.end(code, last=True)


@given(st.data())
def test_word_sign_and_fill_of_a_cup_tell_the_same_state(data: st.DataObject) -> None:
    cup = data.draw(cups("K3"))
    shelf = MapShelf("sill", ("shelf sill",), "in order", "", (cup,))
    shown = layout((shelf,), 80)
    _board, edge, *words = map_lines(shown, shown.bands, "", 80)

    signs = set(edge.text.strip())
    tones = {cell.tone for row in (edge, *words) for cell in row.cells if cell.text.strip()} - {
        "plain",
        "quiet",
    }
    said = " ".join(row.text.strip() for row in words)
    if cup.state == "in order":
        assert (signs, tones) == (set(), set())
    else:
        assert signs == {SIGNS[cup.state]}
        assert tones == {TONES[cup.state]} - {"plain", "quiet"}
        assert said.endswith(cup.state) or f"{SIGNS[cup.state]} " in said
