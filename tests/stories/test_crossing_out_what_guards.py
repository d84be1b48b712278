"""A crossing-out takes no protection away: only the keeper's word does. A permit that is gone is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, everything, tell

BEGIN = """
    taxon 'Zerynthia polyxena' short=polix protected
    K3 1 female 'Zerynthia polyxena' from Torf latitude=47.63519 longitude=12.98642
"""
ONCE = "Zerynthia polyxena was said to be protected once"
NO = "taxon 'Zerynthia polyxena' protected=no"


def cross_out(story: Story, what: str, **said: object) -> str:
    """Cross out the newest line of a kind that says this; what is told."""
    (line, *_) = [
        one["id"]
        for one in reversed(story.on_disk())
        if one["what"] == what and said.items() <= one.items()
    ]
    return story.type(f"cross out {line}")[0]


def leaves(story: Story, tmp_path: Path, *more: str) -> tuple[str, str]:
    """What all exports of places hold together, and what the last one said."""
    text, said = "", ""
    for what, name in (("csv", "a.zip"), ("dwca", "b.zip")):
        ran = story.shell("export", what, str(tmp_path / name), "--replace", *more)
        assert ran.status == 0, ran.err
        text, said = text + everything(tmp_path / name), ran.out
        assert said.count(ONCE) <= 1
    return text, said


@pytest.mark.parametrize("anew", ["", "taxon 'Zerynthia polyxena' short=polyx"])
def test_a_species_stays_protected_though_its_line_is_crossed_out(
    story: Story, tmp_path: Path, anew: str
) -> None:
    tell(story, BEGIN)
    story.later(minutes=1)
    assert f"stays protected until you say: {NO}" in cross_out(story, "taxon")
    story.later(minutes=1)
    story.type(*filter(None, [anew]))
    text, said = leaves(story, tmp_path)
    assert "47.63519" not in text
    assert f"look: {ONCE}, by a line that is crossed out; its places are withheld until" in said
    assert NO in said
    assert ONCE in story.shell("check").out
    text, said = leaves(story, tmp_path, "--exact-localities", "--yes")
    assert "47.63519" in text
    story.later(minutes=1)
    story.type(NO)
    text, said = leaves(story, tmp_path)
    assert "47.63519" in text
    assert f"look: {ONCE}, and is not now" in said
    assert ONCE not in story.shell("check").out


def test_a_no_of_before_that_counts_again_is_told(story: Story, tmp_path: Path) -> None:
    tell(story, BEGIN)
    for line in (NO, "taxon 'Zerynthia polyxena' protected"):
        story.later(minutes=1)
        story.type(line)
    story.later(minutes=1)
    assert "Zerynthia polyxena is not protected any more" in cross_out(
        story, "taxon", protected=True
    )
    assert f"look: {ONCE}, and is not now" in leaves(story, tmp_path)[1]


def test_a_name_that_was_only_mistyped_leaves_nothing_behind(story: Story, tmp_path: Path) -> None:
    story.type("taxon 'Zerynthia polyxenna' protected")
    story.later(minutes=1)
    cross_out(story, "taxon")
    story.later(minutes=1)
    tell(story, BEGIN)
    assert "once" not in leaves(story, tmp_path)[1]


def test_the_grid_of_a_line_that_is_crossed_out_stays(story: Story, tmp_path: Path) -> None:
    tell(story, BEGIN)
    story.later(minutes=1)
    story.type("taxon 'Zerynthia polyxena' grid=2")
    story.later(minutes=1)
    assert "its places keep the grid of 2 degrees until you say" in cross_out(story, "taxon")
    text, said = leaves(story, tmp_path)
    assert "47.65" not in text
    assert "2 degrees" in said


def test_a_line_that_a_wrong_clock_put_into_the_future_protects_crossed_out_too(
    story: Story, tmp_path: Path
) -> None:
    story.type("note began")
    story.later(days=4000)
    story.type("taxon 'Zerynthia polyxena' protected")
    story.later(days=-4000)
    story.reopen()
    tell(story, BEGIN.replace("polix protected", "polix"))
    said = cross_out(story, "taxon", protected=True)
    assert f"stays protected until you say: {NO}" in said
    assert "47.63519" not in leaves(story, tmp_path)[0]
    story.later(minutes=1)
    story.type(NO)
    assert "47.63519" in leaves(story, tmp_path)[0]


def test_a_laptop_crosses_out_what_the_other_rests_on(story: Story, tmp_path: Path) -> None:
    other = story.on_other_laptop()
    tell(story, BEGIN)
    other.reopen()
    story.later(minutes=1)
    cross_out(other, "taxon")
    story.reopen()
    story.later(minutes=1)
    story.type("K3 female drank")
    text, said = leaves(story, tmp_path)
    assert "47.63519" not in text
    assert ONCE in said


def test_a_permit_whose_line_is_crossed_out_is_told_while_founders_name_it(story: Story) -> None:
    tell(
        story,
        """
        permit P-1 'Zerynthia polyxena' females=3
        K3 1 female 'Zerynthia polyxena' from Torf permit=P-1
        """,
    )
    words = "no line that counts says what permit P-1 allows, under which"
    assert words not in story.shell("check").out
    story.later(minutes=1)
    assert words in cross_out(story, "permit")
    told = story.shell("check").out
    assert words in told
    assert "came in" in told
    story.later(minutes=1)
    story.type("permit P-1 'Zerynthia polyxena' females=4")
    assert words not in story.shell("check").out
