"""A field that means the future takes a day that comes; every line that a page of help shows is taken."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rounds.app.guide import page, topics
from tests.stories.telling import Story, tell

ROOT = Path(__file__).parents[2]
BENCH = """
    E3 set up eggs
    E3 6 eggs 'Melitaea celans'
    K2 set up laying
    K2 founder W-1, 'Melitaea celans' female
    permit P-12 females=3
"""


def until_of(story: Story) -> str:
    """The 'until' of the newest line, as it lies in the book."""
    return str(story.on_disk()[-1]["until"])[:16]


@pytest.mark.parametrize(
    ("line", "first", "last"),
    [
        ("E3 expected hatch on 5 Jun until 8 Jun", "2026-06-05", "2026-06-08"),
        ("E3 expected hatch from 5 Jun to 8 Jun", "2026-06-05", "2026-06-08"),
        ("E3 expected hatch begins=5 Jun until=8 Jun", "2026-06-05", "2026-06-08"),
        ("E3 expected hatch on Tuesday until Thursday", "2026-06-02", "2026-06-04"),
        ("E3 expected hatch tue until thu", "2026-06-02", "2026-06-04"),
        # it is a Friday: the last is not today
        ("E3 expected hatch on Tuesday until Friday", "2026-06-02", "2026-06-05"),
        ("E3 expected hatch on 28 Dec until 3 Jan", "2026-12-28", "2027-01-03"),
    ],
)
def test_a_hatch_is_expected_between_two_days_that_come(
    story: Story, line: str, first: str, last: str
) -> None:
    tell(story.at("2026-05-29 07:05"), BENCH)
    story.type(line)
    newest = story.on_disk()[-1]
    assert (newest["begins"][:10], newest["until"][:10]) == (first, last)


def test_it_is_so_at_the_shell_and_in_a_list(story: Story, tmp_path: Path) -> None:
    tell(story.at("2026-05-29 07:05"), BENCH)
    ran = story.shell("log", "E3", "expected", "hatch", "on", "5", "Jun", "until", "8", "Jun")
    assert (ran.status, ran.err) == (0, ""), ran.err
    ran = story.shell("log", "-", typed="E3 expected hatch on 6 Jun until 9 Jun\n")
    assert ran.status == 0, ran.err
    story.reopen()
    assert until_of(story) == "2026-06-09T12:00"


@pytest.mark.parametrize(
    "line", ["K2 release by 8 Jun", "permit P-12 expires 8 Jun", "K2 do not disturb until 8 Jun"]
)
def test_other_days_that_come_are_taken(story: Story, line: str) -> None:
    tell(story.at("2026-05-29 07:05"), BENCH)
    story.type(line)
    newest = story.on_disk()[-1]
    assert (newest.get("until") or newest["expires"])[:10] == "2026-06-08"


def test_what_has_passed_is_asked_about_still(story: Story) -> None:
    tell(story.at("2026-05-29 07:05"), BENCH)
    assert "still to come; where 2025 is meant" in story.refused("K2 drank 5 Jun")


# What must stand on the bench for a line of the help or the README.
NEEDED = {
    "E3 expected hatch on 5 Jun until 8 Jun": "E3 6 eggs 'Melitaea celans'",
    "W3 died": "K3 set up laying\nK3 founder W3 'Melitaea celans' female",
    "S2 host in Frangula alnus tree": "S2 set up host store",
    "P2 in diapause": "P2 3 pupae 'Melitaea celans'",
    "P2 out of diapause": "P2 3 pupae 'Melitaea celans' -90d\nP2 in diapause -80d",
    "K1 preserved W4 voucher=V3 -- killed for the collection": "K1 set up laying\nK1 founder W4 'Melitaea celans' female",
    "P2 died 1 pupa": "P2 3 pupae 'Melitaea celans'",
    "K2 died 1 not known": "K2 3 females 'Melitaea celans'",
    "K2 marked W2 red": "K2 set up laying\nK2 founder W2 'Melitaea celans' female",
    "K2 searched 5 red": """K2 set up laying
        K2 founder W2 'Melitaea celans' female
        K2 founder W4 'Melitaea celans' female
        K2 host in violet
        K2 marked W2 red""",
    "K2 died 1 unmarked": """K2 set up laying
        K2 founder W2 'Melitaea celans' female
        K2 founder W4 'Melitaea celans' female
        K2 marked W2 red""",
    "P4 sexed 1 female": "P4 3 pupae 'Melitaea celans'\nP4 emerged 3",
    "K2 searched 6 brood=W2": """K2 set up laying
        K2 founder W2 'Melitaea celans' female
        K2 host in violet""",
    "W3 is Polyommatus icarus": "K3 set up laying\nK3 founder W3 'P. ic.' female",
    "W3 at Ferny Down caught 9 Jun 14:20 wear fresh": "K3 set up laying\nK3 founder W3 'Melitaea celans' female",
    "R4 died 2 missing": "R4 6 L2 'Melitaea celans'\nR4 counted 4",
    "R4 settled found 1": "R4 6 L2 'Melitaea celans'\nR4 counted 5",
    "M3 eggs are of W2 5 May 08:00": """
        M3 set up laying 4 May 07:00
        M3 founder W2 'Melitaea celans' female 4 May 07:10
        M3 founder W3 'Melitaea celans' female 4 May 07:20
        M3 host in violet 4 May 07:30
        M3 searched 6 5 May 08:00""",
    "K3 same again": "K2 set up laying\nK3 set up laying\nK2 founder W2 'Melitaea celans' female\nK2 drank\nK3 founder W3 'Melitaea celans' female",
    "R3 split 1 each into new C2-C31": "R3 30 L2 'Melitaea celans'",
    "R1 parasitoid 14 Cotesia hosts=1, 3 kept voucher=W1-W3": "R1 6 L4 'Melitaea celans'",
    "R3 moved 4 pupae to new P2": "R3 4 pupae 'Melitaea celans'",
    "K7 drank 20 min ago": "K7 set up laying -2d\nK7 founder W3 'Melitaea celans' female -2d",
    "K2 searched 6 on violet": "K2 set up laying -2d\nK2 founder W3 'Melitaea celans' female -2d\nK2 host in violet -2d",
    "K5 1 female Boloria dia from Wood, laid 3 eggs": "",
    "S2 3 larvae": "K2 set up laying -9d\nK2 founder W3 'Melitaea celans' female -9d\nK2 host in violet -9d\nK2 host out violet kept to new S2 -8d",
    "E7 hatched 30 inferred": "E7 set up eggs -20d\nE7 40 eggs 'Melitaea celans' -20d",
}
# a code, a value, two who caught it, a week
NO_LINES = {"W2 or W3 or W4", "KM Maas, Karin; AB Berg, Anna", "KM & AB", "KW 20"}


def shown_lines() -> set[str]:
    """Every line of the prompt that a page shows inside its text."""
    pages = [page(topic) for topic in topics()] + [(ROOT / "README.md").read_text()]
    found = (one for text in pages for one in re.findall(r"`([A-Z][A-Z0-9]* [^`]*)`", text))
    shown = {" ".join(one.split()) for one in found}
    return {one for one in shown if "..." not in one and one[0] != "-"} - NO_LINES


def test_every_line_that_a_page_shows_is_tried() -> None:
    assert shown_lines() == NEEDED.keys()


@pytest.mark.parametrize("line", NEEDED)
def test_a_line_that_a_page_shows_is_taken(story: Story, line: str) -> None:
    day = "2026-06-20" if "caught 9 Jun" in line else "2026-05-29"
    tell(story.at(f"{day} 07:05"), NEEDED[line])
    story.later(minutes=5)
    story.type(line)


def test_a_day_just_past_is_asked_about_and_not_put_off_a_year(story: Story) -> None:
    tell(story.at("2026-05-29 07:05"), BENCH)
    for line in (
        "E3 expected hatch on 27 May",
        "E3 expected hatch 25 May to 27 May",
        "E3 expected hatch on 1 Jun until 30 May",
        "E3 do not disturb until 27 May",
        "permit P-13 females=3 expires 27 May",
    ):
        assert "comes again only in 2027; say which is meant, as" in story.refused(line)
    story.type("E3 expected hatch on 27 May 2026 until 30 May")
    newest = story.on_disk()[-1]
    assert (newest["begins"][:10], newest["until"][:10]) == ("2026-05-27", "2026-05-30")
    story.type("permit P-13 females=3 expires 27 May 2027", "E3 expected hatch on 1 Feb")
    assert story.on_disk()[-1]["begins"][:10] == "2027-02-01"
