"""A line's state is told by its word, its sign and its fill, each alone, in every theme and without colours."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from rich.segment import Segment
from textual.color import Color

from rounds.screens.rowlist import RowList
from rounds.screens.themes import ROLES, Uncoloured
from tests.screens.test_colours import contrast, of_hex
from tests.stories.telling import Screen, Story, tell

BENCH = """
shelf set up sill moat
taxon Melitaea cinxia
taxon Mimas tiliae no_adult_food=true
K2 set up laying shelf=sill place=1
K2 founder MOR-27-01, Melitaea cinxia female
K2 host in plantago
K2 drank
K3 set up laying shelf=sill place=2
K3 founder MOR-27-02, Melitaea cinxia female
K3 host in plantago
R1 set up rearing
brood B-1 taxon='Mimas tiliae'
R1 stocked B-1 12 larvae instar=3
R1 host in lime
R2 set up rearing
R2 stocked B-1 4 larvae instar=4
R2 host in lime
R2 looked still
S1 set up host store
P2 set up emergence
P2 stocked B-1 4 pupae
"""
SIGNS = {
    "#": "in danger",
    "=": "urgent",
    ":": "late",
    ".": "due",
    " ": "in order",
    "~": "do not disturb",
}
WORDS = (
    ("in danger", "in danger"),
    ("urgent", "urgent"),
    ("late", "late"),
    ("now", "due"),
    ("do not disturb", "do not disturb"),
)
PRESSING = ("in danger", "urgent", "late")


def of_word(told: str) -> str:
    """The state that the words of a line tell."""
    return next(
        (state for word, state in WORDS if re.search(rf"(?<!just )\b{word}\b", told)), "in order"
    )


def drawn(screen: Screen) -> Iterator[tuple[str, str, list[Segment]]]:
    """Each line of the list as it is drawn: its text, the words where its state is told, its parts."""
    rows = screen.app.screen.query_one(RowList)
    for y in range(rows.size.height):
        strip = rows.render_line(y)
        if y != len(rows.above) and strip.text.strip():
            yield (
                strip.text,
                strip.text[:14] if y < len(rows.above) else strip.text[28:],
                list(strip),
            )


def fills(parts: list[Segment], roles: object) -> set[str]:
    """The states whose fill a line has on letters."""
    known = {roles.danger[1]: "in danger", roles.urgent[1]: "urgent"}  # type: ignore[attr-defined]
    return {
        known[hexed]
        for part in parts
        if part.style is not None and part.style.bgcolor is not None and part.text.strip()
        if (hexed := Color.from_rich_color(part.style.bgcolor).hex6.lower()) in known
    }


async def at_each_hour(story: Story, size: tuple[int, int] = (80, 24)) -> set[str]:
    """Compare word, sign and fill of every line at every fourth hour, in every theme; the states that were seen."""
    seen: set[str] = set()
    story.at("2027-05-22 07:00")
    tell(story, BENCH)
    for _ in range(14):
        async with story.screens(size=size) as screen:
            rows = screen.app.screen.query_one(RowList)
            for theme, roles in ROLES.items():
                screen.app.theme = theme
                await screen.pilot.pause()
                rows.cursor = len(rows.above)
                for text, told, parts in drawn(screen):
                    sign, fill = SIGNS[text[1]], fills(parts, roles)
                    seen.add(sign)
                    assert of_word(told) == sign or sign == "do not disturb", text
                    assert fill == ({sign} if sign in ("in danger", "urgent") else set()), (
                        theme,
                        text,
                        fill,
                    )
                    bold = {
                        part.text.strip()
                        for part in parts
                        if part.style is not None and part.style.bold
                    }
                    assert bold & set(PRESSING) == {sign} & set(PRESSING), (text, bold)
        story.later(hours=4)
    return seen


async def test_word_sign_and_fill_tell_the_same(story: Story) -> None:
    assert await at_each_hour(story) >= {
        "in danger",
        "urgent",
        "late",
        "due",
        "in order",
        "do not disturb",
    }


async def test_the_row_of_the_cursor_keeps_its_state(story: Story) -> None:
    story.at("2027-05-22 07:00")
    tell(story, BENCH)
    async with story.later(hours=34).screens() as screen:
        rows = screen.app.screen.query_one(RowList)
        for place in range(len(rows.above) + len(rows.rows)):
            rows.cursor = place
            y = place if place < len(rows.above) else place + 1 - rows.scroll_offset.y
            strip = rows.render_line(y)
            assert strip.text.startswith(">")
            sign = SIGNS[strip.text[1]]
            assert fills(list(strip), ROLES["dark"]) == (
                {sign} if sign in ("in danger", "urgent") else set()
            ), strip.text


async def test_without_colours_weight_line_and_reverse_tell_it(story: Story) -> None:
    story.at("2027-05-22 07:00")
    tell(story, BENCH)
    told: dict[str, tuple[bool, bool, bool]] = {}
    heavy: dict[str, set[bool]] = {}
    for hours in (14.5, 10, 10):
        async with story.later(hours=hours).screens() as screen:
            ground = Color.parse(ROLES["dark"].background)
            for text, _, parts in drawn(screen):
                sign = parts[1]  # between the cursor and the mark
                assert sign.text == text[1]
                heavy.setdefault(text[1], set()).add(bool(sign.style and sign.style.bold))
                for part in Uncoloured().apply(parts, ground):
                    assert part.style is None or part.style.color is None
                    assert part.style is None or part.style.bgcolor is None
                    if part.text.strip() in PRESSING and part.style is not None:
                        style = part.style
                        told[part.text.strip()] = (
                            bool(style.bold),
                            bool(style.underline),
                            bool(style.reverse),
                        )
    assert told["late"] == (True, False, False)
    assert told["urgent"] == (True, True, False)
    assert told["in danger"][0]
    assert told["in danger"][2]
    assert heavy == {" ": {False}, ".": {False}, "~": {False}} | {
        sign: {True} for sign in (":", "=", "#") if sign in heavy
    }
    assert ":" in heavy


@pytest.mark.parametrize("theme", ROLES)
def test_the_colours_of_each_role_stand_out(theme: str) -> None:
    """WCAG 2.1, success criterion 1.4.3: 4.5 to 1 for what is read; 3 for what only stands by."""
    roles = ROLES[theme]
    for ground in (roles.background, roles.row):
        for ink in (roles.text, roles.due, roles.late, roles.saved):
            assert contrast(of_hex(ink), of_hex(ground)) >= 4.5, (theme, ink, ground)
        assert contrast(of_hex(roles.quiet), of_hex(ground)) >= 3
    for ink, fill in (roles.urgent, roles.danger):
        assert contrast(of_hex(ink), of_hex(fill)) >= 4.5
    assert contrast(of_hex(roles.danger[1]), of_hex(roles.background)) >= 3  # the fill itself
    assert contrast(of_hex(roles.quiet), of_hex(roles.background)) < contrast(
        of_hex(roles.text), of_hex(roles.background)
    )


def test_under_red_light_nothing_but_red_is_on() -> None:
    roles = ROLES["red"]
    for colour in (
        roles.background,
        roles.row,
        roles.text,
        roles.quiet,
        roles.due,
        roles.late,
        roles.saved,
        *roles.urgent,
        *roles.danger,
    ):
        assert colour[3:] == "0000", colour
