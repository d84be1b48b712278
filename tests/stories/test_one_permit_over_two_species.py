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
