"""The note says whose it is and on what terms, shows its pictures, keeps other species' numbers apart, and reads on a phone."""

from __future__ import annotations

import re
from pathlib import Path

from tests.exchange.browser import needs_browser, overflow, printed_heights
from tests.stories.telling import Story, tell
from tests.stories.test_a_statistician_gets_the_tables import a_season
from tests.stories.test_each_specimen_is_one import PLACE, photographed
from tests.stories.test_leaving_note import note_of


def page_of(story: Story, tmp_path: Path) -> Path:
    """The note as a page, with a picture in it."""
    a_season(story)
    tell(
        story,
        """
        setting holder Karin Maas
        setting organisation Veluna Moth Group
        setting licence CC BY 4.0
        """,
    )
    file = photographed(tmp_path / "camera.jpg")
    assert story.shell("photo", str(file), "--for", "E2", "--stage", "adult").status == 0
    story.reopen()
    ran = story.shell("export", "note", "a-1/a", str(tmp_path / "note.html"), "--replace")
    assert ran.status == 0, ran.err
    return tmp_path / "note.html"


def test_it_says_whose_it_is_who_wrote_it_and_on_what_terms(story: Story, tmp_path: Path) -> None:
    page = page_of(story, tmp_path).read_text()
    for words in (
        "Holder: Karin Maas.",
        "Organisation: Veluna Moth Group.",
        "Recorded by: Karin Maas.",
        "Licence: CC BY 4.0.",
    ):
        assert words in page
    assert page.count("<img") == 1
    assert PLACE not in page
    assert "A-1/A, adult, 2 June 2027" in page


def test_constants_of_other_species_stand_apart_and_in_no_plot_of_it(
    story: Story, tmp_path: Path
) -> None:
    a_season(story)
    note = note_of(story, tmp_path, "A-1/A")
    own, other = (
        note.split(f"## {title}")[1].split("\n## ")[0]
        for title in ("Development against temperature", "Constants of other species")
    )
    assert "Pieris brassicae" in other
    assert "Nothing here was measured on this species" in other
    assert "a guess" not in own
    assert "published" not in own


def test_days_are_in_words_and_one_is_one(story: Story, tmp_path: Path) -> None:
    a_season(story)
    note = note_of(story, tmp_path, "A-1/A")
    assert not re.search(r"\d{4}-\d\d-\d\d", note)
    assert "20 eggs of it found in 2 searches, 2 May 2027 to 3 May 2027, by lens." in note
    assert not re.search(r"\b1 (eggs|larvae|adults|searches|readings)\b", note)


@needs_browser
def test_it_reads_on_a_phone(story: Story, tmp_path: Path) -> None:
    page = page_of(story, tmp_path)
    assert overflow(page, tmp_path, 390) <= 0
    # No table is to be pushed sideways: each has room for what is in it.
    wide = page.read_text()
    (tmp_path / "narrow.html").write_text(
        wide.replace("</style>", ".wide { width: 366px }</style>")
    )
    assert all(
        needed < 1e6
        for _, needed in printed_heights(tmp_path / "narrow.html", tmp_path, ".wide", 390)
    )
