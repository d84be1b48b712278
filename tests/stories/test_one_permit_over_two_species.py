"""One permit over two species, with limits for both together: one line, and a return that counts
each species apart under the one number."""

from __future__ import annotations

from pathlib import Path

from tests.stories.telling import Story


def test_it_is_said_without_a_species(story: Story, tmp_path: Path) -> None:
    told = story.refused('permit P-8 for "Boloria dia" and "Boloria selene"')
    assert "limits for all together no species is named, as: permit P-8 females 5" in told
    story.type(
        "permit P-8 females 5",
        "M3 set up laying",
        'M3 founder W7 "Boloria dia" female permit=P-8',
        'M3 founder W8 "Boloria selene" female permit=P-8',
    )
    to = tmp_path / "return.md"
    assert story.shell("export", "permit", "P-8", str(to)).status == 0
    returned = to.read_text()
    assert "2 of 5 females" in returned
    assert "| Boloria dia | 1 |" in returned
    assert "| Boloria selene | 1 |" in returned
    assert "none named in the permit; taken were Boloria dia, Boloria selene." in returned


def test_each_species_with_limits_of_its_own_has_a_letter_and_one_return(
    story: Story, tmp_path: Path
) -> None:
    story.type('permit P-7 for "Pieris napi" females=3')
    told = story.refused('permit P-7 for "Pieris rapae" females=5')
    assert "as: permit P-7b for Pieris rapae (the return joins both)" in told
    story.type(
        'permit P-7b for "Pieris rapae" females=5',
        "M3 set up laying",
        'M3 founder W7 "Pieris napi" female permit=P-7',
        'M3 founder W8 "Pieris rapae" female permit=P-7b',
    )
    to = tmp_path / "return.md"
    assert story.shell("export", "permit", "P-7", str(to)).status == 0
    returned = to.read_text()
    assert "1 of 3 females" in returned
    assert "1 of 5 females" in returned
    assert "## Taken from the wild: Pieris napi" in returned
    assert "## Taken from the wild: Pieris rapae" in returned
    alone = tmp_path / "alone.md"
    assert story.shell("export", "permit", "P-7b", str(alone)).status == 0
    assert "Pieris napi" not in alone.read_text()


def test_two_lettered_numbers_without_a_bare_one_are_one_permit_too(
    story: Story, tmp_path: Path
) -> None:
    story.type('permit 24-118a for "Pieris napi" females=3', 'permit 24-118b for "Pieris rapae"')
    to = tmp_path / "return.md"
    assert story.shell("export", "permit", "24-118", str(to)).status == 0
    assert "# Return for permit 24-118" in to.read_text()
