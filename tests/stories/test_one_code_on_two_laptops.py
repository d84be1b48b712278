"""Two laptops gave one code to two females: whose her brood is stays told until it is mended."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story


@pytest.fixture
def merged(story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Story:
    """One book of both laptops, in which what is marked as not fitting was crossed out."""
    other = Story(tmp_path / "other", monkeypatch, laptop="bbbb2222").at("2027-05-01 21:00")
    story.at("2027-05-01 20:00").type("C2 set up laying", "C2 founder W2 'Sphinx ligustri' female")
    other.type("C2 set up laying", "C2 founder W2 'Malacosoma neustria' female")
    other.at("2027-05-02 20:00").type("C2 10 eggs")
    story.at("2027-05-03 08:00")
    told = story.shell("merge", str(other.folder)).out
    assert "two animals had the code W2" in told
    story.reopen()
    for line in story.on_disk():
        if line.get("what") in ("set up", "founder") and line["at"] > "2027-05-01T20:30":
            story.desk.strike(line["id"], "of the other laptop")
    return story


def test_a_brood_that_is_no_brood_of_its_mother_is_told(merged: Story) -> None:
    told = merged.shell("check")
    assert told.status == 1
    assert "W2/A is Malacosoma neustria, its mother W2 Sphinx ligustri" in told.out


def test_she_is_kept_under_another_code_with_her_eggs(merged: Story) -> None:
    merged.desk.hear()
    merged.type("C2 founder W3 'Malacosoma neustria' female 2027-05-01 21:00", "W2/A is of W3")
    assert "nothing wrong was found" in merged.shell("check").out
    assert merged.desk.bench.taxon_of("W2/A") == "Malacosoma neustria"


def test_a_brood_of_another_species_than_its_mother_is_refused_beforehand(story: Story) -> None:
    story.type("K2 set up laying", "K2 founder W2 'Sphinx ligustri' female")
    assert "its mother W2 Sphinx ligustri; name its own mother" in story.refused(
        "brood B9 taxon='Malacosoma neustria' mothers=W2"
    )
    story.type(
        "brood B9 taxon='S. ligustri' mothers=W2",
        "brood B8 taxon='Sphinx ligustri x Sphinx pinastri' mothers=W2",
    )
