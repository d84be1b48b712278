"""'sure' where nothing was asked would become part of a place or a name, and leave with it."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


@pytest.mark.parametrize(
    "line",
    [
        "K3 founder F2 female 'Aglais io' place=Moor sure",
        "K3 founder F2 female 'Aglais io' from Moor sure",
        "K3 founder F2 female 'Aglais io' collector=Ada Berg sure",
        "K3 1 female Boloria dia from Moor sure",
        "K3 1 female Boloria dia place=Moor sure",
        "K3 1 female Boloria dia collector Ada Berg sure",
        "R7 20 larvae L3 Boloria dia from Moor sure",
    ],
)
def test_sure_behind_a_name_is_refused(story: Story, line: str) -> None:
    tell(story, "K3 set up laying")
    assert "nothing was asked that 'sure' answers" in story.refused(line)


def test_in_quotes_it_is_part_of_the_name(story: Story) -> None:
    tell(story, "K3 set up laying\nK3 1 female Boloria dia from 'Moor sure'")
    (founder,) = story.desk.bench.founders.values()
    assert founder.place == "Moor sure"


@pytest.mark.parametrize(
    "line",
    [
        "setting phone 0171 23 24 phone 0172",
        "setting names KM Karin Maas, AB Anna Berg names KM Karl",
    ],
)
def test_a_setting_said_twice_in_a_line_is_not_taken_whole(story: Story, line: str) -> None:
    assert "was given twice in one line; give one" in story.refused(line)
    story.type("setting bench North bench")
