"""Adults that emerged without a look at their sex get it where they stand."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


@pytest.fixture
def cage(story: Story) -> Story:
    """Four pupae, three of which emerged by one key, nobody looked at their sex."""
    tell(
        story,
        'P4 set up pupation\nbrood S1 taxon="Saturnia montis"\nP4 stocked S1 pupa 4\nP4 emerged 3',
    )
    return story


def there(story: Story) -> list[str]:
    """Each lot of the cage in words."""
    lots = story.desk.bench.containers["P4"].lots
    return sorted(
        " ".join(filter(None, (str(lot.number), lot.stage, lot.sex, lot.brood))) for lot in lots
    )


@pytest.mark.parametrize(
    "line", ["P4 sexed 1 female", "P4 sexed female", "P4 1 female sexed", "P4 sexed S1 1 female"]
)
def test_one_is_a_female_and_the_others_stay_unknown(cage: Story, line: str) -> None:
    cage.later(minutes=5)
    assert "sexed" in cage.type(line)[0]
    assert there(cage) == ["1 adult female S1", "1 pupa S1", "2 adult S1"]
    cage.reopen()
    assert there(cage) == ["1 adult female S1", "1 pupa S1", "2 adult S1"]


def test_all_are_told_one_after_the_other(cage: Story) -> None:
    tell(cage, "P4 sexed 2 males\nP4 sexed all female")
    assert there(cage) == ["1 adult female S1", "1 pupa S1", "2 adult male S1"]
    line = cage.refused("P4 sexed 1 male")
    assert line.startswith("P4 holds no adults whose sex is not known; it holds")


def test_pupae_are_sexed_where_the_stage_is_said_and_emerge_so(cage: Story) -> None:
    tell(cage, "P4 sexed 1 pupa male")
    assert "1 pupa male S1" in there(cage)
    tell(cage, "P4 emerged 1")
    assert there(cage) == ["1 adult male S1", "3 adult S1"]


def test_of_several_broods_it_is_asked_which(cage: Story) -> None:
    tell(cage, 'brood H1 taxon="Hyles vespera"\nP4 stocked H1 adult 2')
    assert "brood=H1" in cage.refused("P4 sexed 1 female")
    tell(cage, "P4 sexed 1 female H1")
    assert "1 adult female H1" in there(cage)


def test_words_that_mean_it_lead_there(cage: Story) -> None:
    assert "P4 sexed 1 female" in cage.refused("P4 counted 1 female")
    assert "P4 sexed 2 females" in cage.refused("P4 counted 2 females")
    assert "P4 sexed 1 female" in cage.refused("P4 changed female")


def test_they_stay_the_same_animals_in_the_tables(cage: Story, tmp_path: Path) -> None:
    cage.later(hours=3)
    tell(cage, "P4 sexed 1 female\nP4 died 1 female")
    file = tmp_path / "life-table.csv"
    assert cage.shell("export", "csv", str(file), "--table", "life-table").status == 0
    rows = [line.split(",") for line in file.read_text().splitlines()]
    at = [rows[0].index(name) for name in ("stage", "entered", "died", "in it now")]
    assert [[row[place] for place in at] for row in rows[1:]] == [
        ["pupa", "4", "0", "1"],
        ["adult", "3", "1", "2"],
    ]
    assert cage.shell("check").status == 0


def test_of_those_that_may_be_of_two_broods_one_is_known_by_both(cage: Story) -> None:
    tell(
        cage,
        'brood H1 taxon="Hyles vespera"\nP4 stocked H1 adult 3\nP4 died 1 adult not known\nP4 sexed 1 female H1',
    )
    assert there(cage) == ["1 adult female H1", "1 pupa S1", "4 adult H1 or S1"]
