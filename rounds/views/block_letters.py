"""Letters five cells high, to be read from an arm's length away."""

from __future__ import annotations

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


def block_letters(text: str, width: int, ink: str = "█") -> tuple[str, ...]:
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
    return tuple(row.replace(".", " ").replace("#", ink) for row in rows)
