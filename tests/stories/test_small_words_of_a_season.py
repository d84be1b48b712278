"""Small words: what nobody knows is said as that, what hatches to eat each other is warned of, a label has no bare sign."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Story, tell


def test_a_death_whose_cause_is_not_known_says_so(story: Story) -> None:
    tell(story, "K3 2 males 'Melitaea celans'")
    (told,) = story.type("K3 found dead 2 male voucher=MBM-4")
    assert told.startswith("K3 preserved 2 adults, male, found dead, cause not known, MBM-4 (")
    assert story.on_disk()[-1]["cause"] == "unknown"


def test_eggs_that_hatch_to_eat_each_other_are_warned_of_on_the_sheet(story: Story) -> None:
    tell(
        story,
        """
        taxon 'Anthocharis vella' cannibalistic=yes
        E3 set up eggs
        E3 6 eggs 'Anthocharis vella'
        E3 expected hatch on 8 May until 9 May
        """,
    )
    story.reopen()
    words = " ".join(story.shell("sheet", "--to", "+10d").out.split())
    assert "Those that hatch eat" in words
    assert "Open, lay in one small leaf" in words
    story.reopen()
    soon = " ".join(story.shell("sheet", "--to", "+2d").out.split())
    assert "Those that hatch" not in soon


def test_a_label_without_a_collector_has_no_bare_leg(story: Story, tmp_path: Path) -> None:
    ran = story.shell(  # without anybody's initials
        "log",
        "-",
        typed="K2 set up laying\nK2 founder W-1, 'Melitaea celans' female\nK2 preserved W-1 voucher=V1\n",
    )
    assert ran.status == 0, ran.err
    ran = story.shell("export", "pins", str(tmp_path / "p.html"))
    assert ran.status == 0, ran.err
    label = (tmp_path / "p.html").read_text()
    assert "V1" in label
    assert "leg." not in label


@pytest.mark.parametrize(
    ("line", "cause"),
    [
        ("E4 died 2 eggs infertile", "infertile"),
        ("E4 died 2 eggs unhatched", "unhatched"),
        ("E4 unhatched 2", "unhatched"),
        ("E4 died 2 eggs cause=infertile", "infertile"),
    ],
)
def test_eggs_that_never_hatch_have_a_cause_of_their_own(
    story: Story, line: str, cause: str
) -> None:
    tell(story, "E4 set up eggs\nE4 9 eggs 'Melitaea celans'")
    story.type(line)
    newest = story.on_disk()[-1]
    assert (newest["what"], newest["number"], newest["stage"]) == ("died", 2, "egg")
    assert newest["cause"] == cause


def test_a_larva_of_an_instar_is_released(story: Story) -> None:
    tell(story, "R2 6 L3 'Melitaea celans'\nR2 3 L4 'Melitaea celans'")
    assert story.type("R2 released 1 L3") == ["R2 released 1 larva L3"]
    lots = {lot.instar: lot.number for lot in story.desk.bench.containers["R2"].lots}
    assert lots == {3: 5, 4: 3}
