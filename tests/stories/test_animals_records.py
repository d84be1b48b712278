"""What is a record of its own: a parasitoid, a picture of an instar, a pair that cannot be."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_animals_which import THREE, pages, stock

BROOD = "WIL-27-02/A"
LARVAE = """
R4 set up rearing
brood WIL-27-02/A taxon="Boloria inventa"
R4 stocked 8 L3 WIL-27-02/A
"""


async def test_a_parasitoid_is_a_record_of_its_own_and_no_caterpillar(story: Story) -> None:
    tell(story, LARVAE)
    told = story.type("R4 parasitoid 12 Cotesia wasps L3 hosts=2 voucher=V9")[0]
    assert "12 Cotesia wasps, out of 2 larvae L3 of WIL-27-02/A, V9" in told
    assert stock(story, "R4") == {(BROOD, "larva", 3): 8}
    story.type("R4 died 2 parasitised")

    page = await pages(story, f"code {BROOD}")
    assert "8 came (8 L3) = 6 alive + 2 died (2 L3)" in page
    assert "12 Cotesia wasps, out of 2 larvae L3" in page
    note = story.folder.parent / "note.md"
    assert story.shell("export", "note", BROOD, str(note)).status == 0
    assert "12 Cotesia wasps" in note.read_text()


def test_a_picture_takes_the_instar(story: Story) -> None:
    tell(story, LARVAE)
    story.type("R4 photo larva-side.jpg L3")
    assert story.on_disk()[-1]["instar"] == 3
    assert story.on_disk()[-1]["stage"] == "larva"
    note = story.folder.parent / "note.md"
    assert story.shell("export", "note", BROOD, str(note)).status == 0
    assert "larva-side.jpg (L3, " in note.read_text()


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("K2 paired W2 with W2", "W2 is one animal"),
        ("K2 paired W2 with W3", "W3 is a female; name a male"),
        ("K2 paired M5 with M5", "M5 is one animal"),
        ("K2 paired M5 with W2", "M5 is a male; name a female"),
        ("pairing planned W2 with W3", "W3 is a female; name a male"),
        ("brood Q/A mothers=M5", "M5 is a male; name a female as the mother"),
        ("brood Q/A mothers=W2 fathers=W3", "W3 is a female; name a male as the father"),
        ("brood Q/A mothers=W2,M5", "M5 is a male"),
    ],
)
def test_impossible_pairs_and_parents_are_refused(story: Story, line: str, why: str) -> None:
    tell(story, THREE)
    story.type('K2 founder M5 "Boloria inventa" male')
    assert why in story.refused(line)


def test_a_larva_brought_in_has_no_sex_until_it_is_said(story: Story) -> None:
    tell(story, THREE)
    story.type('K3 founder C6 "Boloria inventa" larva', "K2 paired W2 with C6 sure")
    assert "female" not in story.type("K3 died 1")[0]
