"""A permit's return accounts for every animal taken, those too of whom nobody knows which died: its numbers add up."""

from __future__ import annotations

import tempfile
import zipfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.app.prompt_line import say_phrase
from tests.properties.test_animals_balance import lines
from tests.stories.telling import Story, tell
from tests.stories.test_leaving_season_plots_and_permit import tables_in

FATES = ("released", "kept as specimens", "died", "escaped", "alive now", "not known")
TWO_WILD = """
permit P-12 body='County office' females=3
K2 set up laying
K2 founder W1, 'Melitaea celans' female permit=P-12
K2 founder W2, 'Melitaea celans' female permit=P-12
"""


def returned(story: Story, number: str) -> dict[str, list[dict[str, str]]]:
    """The tables of the return, by heading."""
    story.reopen()
    ran = story.shell("export", "permit", number, str(story.folder.parent / "p.md"), "--replace")
    assert ran.status == 0, ran.err
    return tables_in((story.folder.parent / "p.md").read_text())


def numbers(row: dict[str, str]) -> dict[str, int]:
    return {name: int(row[name]) for name in FATES if row[name] != "0"}


def test_one_of_two_that_died_is_counted_though_nobody_knows_which(story: Story) -> None:
    tell(story, TWO_WILD)
    story.later(days=1).type("K2 died 1 not known")
    found = returned(story, "P-12")
    (sum_,) = found["What became of them"]
    assert (sum_["taken"], numbers(sum_)) == ("2", {"died": 1, "alive now": 1})
    assert {one["fate"] for one in found["Taken from the wild"]} == {
        "of W1, W2, not known which: 1 died, 1 in K2"
    }


def test_released_and_kept_of_an_unknown_one_are_listed(story: Story) -> None:
    tell(story, f"{TWO_WILD}K2 founder W3, 'Melitaea celans' female permit=P-12")
    story.later(days=1).type("K2 died 1 not known")
    story.later(days=1).type("K2 released 1 adult 'Sorrel bluff'", "K2 preserved 1 adult V7")
    found = returned(story, "P-12")
    assert numbers(found["What became of them"][0]) == {
        "died": 1,
        "released": 1,
        "kept as specimens": 1,
    }
    (free,) = found["Released"]
    assert (free["of"], free["number"]) == ("W1 or W2 or W3", "1 adult")
    (kept,) = found["Kept as specimens"]
    assert (kept["catalogue number"], kept["of"]) == ("V7", "W1 or W2 or W3")


def test_one_of_another_permit_among_them_is_not_known(story: Story) -> None:
    tell(
        story,
        f"""{TWO_WILD}
        permit Q-1 females=1
        K2 founder X1, 'Melitaea celans' female permit=Q-1
        """,
    )
    story.later(days=1).type("K2 died 1 not known")
    assert numbers(returned(story, "P-12")["What became of them"][0]) == {
        "alive now": 1,
        "not known": 1,
    }
    assert numbers(returned(story, "Q-1")["What became of them"][0]) == {"not known": 1}


BEGIN = """
permit P-12
K2 set up holding
K3 set up holding
R4 set up rearing
R5 set up rearing
K2 founder W2 "Boloria inventa" permit=P-12
K2 founder W3 "Boloria inventa" permit=P-12
K2 founder W4 "Boloria inventa"
brood A-27-02/A taxon="Boloria inventa" mothers=W2,W3
brood B-27-02/A taxon="Boloria inventa" mothers=W4
R4 stocked 12 eggs A-27-02/A
R4 stocked 5 L2 A-27-02/A
R4 stocked 6 L2 B-27-02/A
R5 stocked 4 L5 B-27-02/A
R5 stocked 9 pupae A-27-02/A
"""


@given(st.lists(lines(), min_size=4, max_size=20))
@settings(max_examples=15, deadline=None)
def test_taken_is_always_the_sum_of_what_became_of_them(typed: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        story = Story(Path(folder) / "book", patch).at("2027-05-01 07:05")
        tell(story, BEGIN)
        for line in typed:
            story.later(minutes=20)
            say_phrase(story.desk, line)
        found = returned(story, "P-12")
        for row in found["What became of them"]:
            assert int(row["taken"]) == sum(numbers(row).values()), typed
        for row in found["Reared from them"]:
            assert int(row["eggs and animals"]) == sum(numbers(row).values()), typed


def test_all_of_its_species_without_a_permit_are_told(story: Story) -> None:
    tell(
        story,
        """
        taxon 'Melitaea celans' short=celans
        permit P-7 for celans females=3
        K2 set up laying
        K2 founder W1, celans female permit=P-7
        K2 founder W2, celans female
        K2 founder W3, 'Pieris orata' female
        K2 founder W4, celans male
        K3 set up rearing
        K3 founder W5, celans larva
        K3 5 larvae celans at Home
        """,
    )

    def told() -> tuple[str, str]:
        story.reopen()
        file = story.folder.parent / "p.md"
        assert story.shell("export", "permit", "P-7", str(file), "--replace").status == 0
        return file.read_text(), story.shell("check").out

    words = "ot counted: W2, W4, W5, MEL-27-01, no permit given; W2 permit=P-7 counts W2"
    for page in told():
        assert words in page
    story.type("W2 permit=P-7", "W4 permit=P-7", "W5 permit=P-7")
    words = "ot counted: MEL-27-01, no permit given; cross out the line that brought MEL-27-01"
    for page in told():
        assert words in page
    story.type("K3 4 larvae celans at Home permit=P-7")
    returned = told()[0]
    assert "| MEL-27-02 | Melitaea celans | 4 larvae |" in returned
    assert "| Melitaea celans | 8 |" in returned, "and four founders"


def test_a_note_makes_no_second_permit(story: Story) -> None:
    story.type("permit P-7 females=3")
    assert "as: note P-7: asked on Monday" in story.refused('permit P-7 note "asked on Monday"')
    story.type("note P-7: asked on Monday")
    assert list(story.desk.bench.permits) == ["P-7"]


def test_the_balance_of_a_permit_is_in_no_archive(story: Story, tmp_path: Path) -> None:
    tell(story, TWO_WILD.replace("females=3", "females=1"))
    story.reopen()
    assert story.shell("export", "dwca", str(tmp_path / "a.zip")).status == 0
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        text = "".join(archive.read(name).decode() for name in archive.namelist())
    assert "issued by County office" in text
    assert "LIMIT" not in text
    assert "of 1 females" not in text


def test_a_slip_of_the_permits_species_is_named_in_its_return(story: Story, tmp_path: Path) -> None:
    tell(
        story,
        "taxon 'Coenonympha rara' protected\npermit B-7 taxon='Coenonympha rara'\n"
        'K2 set up laying\nK2 founder W1 "Coenonympha raraa" female',
    )
    story.reopen()
    ran = story.shell("export", "permit", "B-7", str(tmp_path / "return.md"))
    assert ran.status == 0, ran.err
    words = (tmp_path / "return.md").read_text().replace("\\", "")
    assert "Not counted: W1 ('Coenonympha raraa'), may be Coenonympha rara by a slip." in words
