"""Letters five cells high, to be read from an arm's length away."""

from __future__ import annotations

import itertools

HEIGHT = 5
GAP = 1

# Each letter as its five rows, '#' for ink; capitals only, for they are told apart from further
# away.
_DRAWN = """
A .###. #...# ##### #...# #...#
B ####. #...# ####. #...# ####.
C .#### #.... #.... #.... .####
D ####. #...# #...# #...# ####.
E ##### #.... ####. #.... #####
F ##### #.... ####. #.... #....
G .#### #.... #.### #...# .####
H #...# #...# ##### #...# #...#
I ### .#. .#. .#. ###
J ..### ...#. ...#. #..#. .##..
K #..#. #.#.. ##... #.#.. #..#.
L #.... #.... #.... #.... #####
M #...# ##.## #.#.# #...# #...#
N #...# ##..# #.#.# #..## #...#
O .###. #...# #...# #...# .###.
P ####. #...# ####. #.... #....
Q .###. #...# #.#.# #..#. .##.#
R ####. #...# ####. #..#. #...#
S .#### #.... .###. ....# ####.
T ##### ..#.. ..#.. ..#.. ..#..
U #...# #...# #...# #...# .###.
V #...# #...# .#.#. .#.#. ..#..
W #...# #...# #.#.# ##.## #...#
X #...# .#.#. ..#.. .#.#. #...#
Y #...# .#.#. ..#.. ..#.. ..#..
Z ##### ...#. ..#.. .#... #####
0 .###. #..## #.#.# ##..# .###.
1 .#. ##. .#. .#. ###
2 ####. ....# .###. #.... #####
3 ####. ....# .###. ....# ####.
4 #..#. #..#. ##### ...#. ...#.
5 ##### #.... ####. ....# ####.
6 .###. #.... ####. #...# .###.
7 ##### ....# ...#. ..#.. ..#..
8 .###. #...# .###. #...# .###.
9 .###. #...# .#### ....# .###.
? ###. ...# .##. .... .#..
! # # # . #
. . . . . #
, .. .. .. .# #.
: . # . # .
/ ....# ...#. ..#.. .#... #....
- .... .... ###. .... ....
+ ..... ..#.. .###. ..#.. .....
"""
LETTERS: dict[str, tuple[str, ...]] = {
    drawn[0]: tuple(drawn[2:].split(" ")) for drawn in _DRAWN.strip().splitlines()
} | {" ": ("...",) * HEIGHT}


def block_letters(text: str, width: int) -> tuple[str, ...]:
    """The text in five rows; none where it does not fit in that width or has a sign that cannot be
    drawn.

    Raises nothing: where the tuple is empty the caller writes the text as it is.
    """
    glyphs = [LETTERS.get(sign) for sign in text.upper()]
    if not text or None in glyphs:
        return ()
    drawn = [glyph for glyph in glyphs if glyph is not None]
    if sum(len(glyph[0]) + GAP for glyph in drawn) - GAP > width:
        return ()
    rows = ((" " * GAP).join(glyph[row] for glyph in drawn) for row in range(HEIGHT))
    return tuple(row.replace(".", " ").replace("#", "█") for row in rows)


# Two rows of two points each: above left, above right, below left, below right.
_QUARTERS = dict(zip(itertools.product((False, True), repeat=4), " ▗▖▄▝▐▞▟▘▚▌▙▀▜▛█", strict=True))


def half_letters(text: str, width: int) -> tuple[str, ...]:
    """The same letters half as wide and high, four points to a sign; none where they do not fit.

    Raises nothing: where the tuple is empty the caller writes the text as it is.
    """
    rows = [f"{row} " for row in block_letters(text, 2 * width)]
    blank = " " * len(rows[0]) if rows else ""
    return tuple(
        "".join(
            _QUARTERS[tuple(point != " " for point in (*above[at : at + 2], *below[at : at + 2]))]
            for at in range(0, len(above) - 1, 2)
        )
        for above, below in itertools.zip_longest(rows[::2], rows[1::2], fillvalue=blank)
    )
