"""How an animal is that leaves is a note beside it: never the place it went to, nor its number."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

CUP = """
    P7 set up pupation
    P7 40 pupae Melitaea athalia
    P7 emerged 20
"""


@pytest.mark.parametrize(
    ("line", "number", "place", "note"),
    [
        ("1 crippled", 1, "", "crippled"),
        ("2 weak", 2, "", "weak"),
        ("1 slightly worn male", 1, "", "slightly worn"),
        ("2 tired at Kettle Down", 2, "Kettle Down", "tired"),
        ("1 at Kettle Down crippled", 1, "Kettle Down", "crippled"),
        ("1 crippled at Kettle Down", 1, "Kettle Down", "crippled"),
        ("3, 1 crippled, at Kettle Down", 3, "Kettle Down", "1 crippled"),
        ("4 at Kettle Down, 2 of them crippled", 4, "Kettle Down", "2 of them crippled"),
        ("all at Kettle Down, one weak", 20, "Kettle Down", "one weak"),
        ("all, 2 weak", 20, "", "2 weak"),
        ("2 of them crippled", 2, "", "crippled"),
        ("1 with bent wing", 1, "", "with bent wing"),
        ("3 with one bent wing at Kettle Down", 3, "Kettle Down", "with one bent wing"),
        ("2 at Kettle Down in poor condition", 2, "Kettle Down", "in poor condition"),
        ("2 at Fresh Mead", 2, "Fresh Mead", ""),
        ("2 at worn hill", 2, "worn hill", ""),
        ("1 'Weak bridge'", 1, "Weak bridge", ""),
    ],
)
def test_of_a_release(story: Story, line: str, number: int, place: str, note: str) -> None:
    tell(story, CUP)
    story.type(f"P7 released {line}")
    lines = story.on_disk()
    (released,) = (one for one in lines if one.get("what") == "released")
    assert (released["number"], released.get("place", "")) == (number, place)
    assert [one["text"] for one in lines if one.get("what") == "note"] == [note] * bool(note)


def test_of_a_specimen_it_is_no_number(story: Story) -> None:
    tell(story, CUP)
    story.type("P7 preserved 1 adult worn", "P7 preserved 1 adult V3 crippled in Town museum")
    kept = [line for line in story.on_disk() if line.get("what") == "preserved"]
    assert [line.get("voucher", "") for line in kept] == ["", "V3"]
    assert kept[1]["depository"] == "Town museum"
