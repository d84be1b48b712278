"""A batch letter is that of one cutting, in whatever order cuttings of different times are told."""

from __future__ import annotations

import shutil

import pytest

from tests.stories.telling import Story, tell

EARLY = "E2  30 eggs Leptidea sinapis  vetchling  Wed 18:00  A 2\n"
LATE = "K2  1 female Leptidea sinapis  vetchling  yesterday  sill 2\n"
LATER_STILL = "R2  5 L2 Leptidea sinapis  vetchling  Wed 19:00  A 3\n"


@pytest.fixture
def saturday(story: Story) -> Story:
    """A Saturday morning, and an empty book."""
    return story.at("2027-05-29 07:05")


def letters(story: Story) -> dict[str, str]:
    """The batch that was put in, by container."""
    return {one["container"]: one["batch"] for one in story.on_disk() if one["what"] == "host in"}


@pytest.mark.parametrize("rows", [EARLY + LATE, LATE + EARLY])
def test_a_list_has_a_letter_for_each_cutting(saturday: Story, rows: str) -> None:
    ran = saturday.shell("begin", "--list", "-", typed=rows)
    assert ran.status == 0, ran.err
    assert sorted(letters(saturday).values()) == ["A", "B"]


def test_rows_of_one_cutting_share_its_letter_around_another(saturday: Story) -> None:
    ran = saturday.shell("begin", "--list", "-", typed=EARLY + LATE + LATER_STILL)
    assert ran.status == 0, ran.err
    assert letters(saturday) == {"E2": "A", "K2": "B", "R2": "A"}


@pytest.mark.parametrize("rows", [EARLY + LATE, LATE + EARLY])
def test_a_list_added_to_a_book_takes_new_letters(saturday: Story, rows: str) -> None:
    saturday.at("2027-05-20 08:00").type("K1 set up laying", "K1 host in vetchling 3 sprigs")
    saturday.at("2027-05-28 20:00").type("K1 looked as usual")
    saturday.at("2027-05-29 07:05")
    ran = saturday.shell("begin", "--list", "-", typed=rows)
    assert ran.status == 0, ran.err
    assert sorted(letters(saturday).values()) == ["A", "B", "C"]


def test_a_cutting_told_late_is_not_the_newer_one(saturday: Story) -> None:
    saturday.at("2027-05-20 08:00").type("K1 set up laying", "K3 set up laying")
    saturday.at("2027-05-28 20:00").type(
        "K1 host in vetchling 3 sprigs", "K3 host in vetchling 2 sprigs Wed 18:00"
    )
    assert letters(saturday) == {"K1": "A", "K3": "B"}


BROOD = """
taxon 'Saturnia montis'
brood B2 taxon='Saturnia montis'
R2 set up rearing
R3 set up rearing
R2 stocked 8 larvae L3 B2
R3 stocked 8 larvae L3 B2
R2 host in willow leaf water 3 stems
"""


async def test_one_letter_given_on_two_laptops_is_two_cuttings(
    story: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    tell(story, BROOD)
    other = Story(story.folder.parent / "other", monkeypatch, laptop="bbbb2222")
    shutil.copytree(story.folder, other.folder)
    other.clock = story.clock
    story.later(days=1).type("R2 host in willow leaf water 3 stems")
    story.later(hours=9)
    other.type("R3 host in willow leaf water 4 stems")
    assert letters(other)["R3"] == letters(story)["R2"] == "B"
    ran = story.shell("merge", str(other.folder))
    assert ran.status == 0, ran.err
    story.reopen()
    story.later(hours=2).type("R3 died 2")
    async with story.screens((120, 40)) as screen:
        await screen.press("8")
        rows = [line for line in screen.text.splitlines() if " B " in line and "willow" in line]
        newer, older = rows
        assert "Several died within a day of: willow B" in screen.text
        assert "R3" in newer
        assert "2 DIED" in newer
        assert "R2" in older
        assert "DIED" not in older


async def test_a_letter_that_is_named_is_the_cutting_that_stands(story: Story) -> None:
    tell(story, BROOD)
    story.later(days=2).type("R3 host in willow batch A")
    assert story.on_disk()[-1]["cut"] == story.on_disk()[-2]["cut"]
    async with story.screens((120, 40)) as screen:
        await screen.press("8")
        (row,) = [line for line in screen.text.splitlines() if " A " in line and "willow" in line]
        assert "R2, R3" in row


async def test_what_is_taken_from_the_store_is_of_its_cutting(story: Story) -> None:
    tell(story, BROOD)
    story.type("S2 set up host store", "S2 host in willow 20 stems")
    story.later(days=2).type("R3 host in willow leaf water")
    async with story.screens((120, 40)) as screen:
        await screen.press("8")
        (row,) = [line for line in screen.text.splitlines() if " A " in line and "willow" in line]
        assert "R2, R3" in row


async def test_those_that_joined_since_ate_of_it_too(story: Story) -> None:
    """Three that were moved to eight, and two brought in; not those that moulted there."""
    tell(
        story,
        """
R2 8 L3 Aglais io
R4 8 L2 Aglais io
R2 host in nettle 4 sprigs
R4 host in nettle 4 sprigs
""",
    )
    story.later(hours=20).type("R4 moved 3 larvae to R2", "R2 moulted 2 L3")
    story.later(hours=1).type("R2 2 more L4 Aglais io")
    async with story.screens(size=(120, 40)) as screen:
        await screen.press("8")
        assert "; 8 L3, 3 L2 and 2 L4 joined; none died" in screen.words, screen.text


@pytest.fixture
def stored(story: Story) -> Story:
    """Twenty stems, cut on Tuesday and kept cool, and on Friday a brood that eats."""
    story.at("2027-06-01 08:00").type(
        "S4 host store", "S4 host in plantain 20 stems fridge", "H3 set up rearing"
    )
    story.type("H3 8 L4 'Melitaea cinxia'")
    return story.at("2027-06-04 08:00")


def test_leaf_from_the_store_has_the_stores_cutting_time(stored: Story) -> None:
    assert "batch A, cut Tue 08:00" in stored.type("H3 host in plantain")[0]
    (host,) = stored.desk.bench.containers["H3"].hosts
    assert (host.batch, f"{host.cut:%d}") == ("A", "01")


def test_leaf_cut_fresh_is_a_batch_of_its_own_beside_a_store(stored: Story) -> None:
    assert "batch B" in stored.type("H3 host in plantain cut 8:00")[0]
    assert "batch C" in stored.later(hours=9).type("H3 host in plantain batch C")[0]
    stored.type("S4 host in plantain 9 stems fridge")
    assert [host.batch for host in stored.desk.bench.containers["S4"].hosts] == ["A", "C"]
    stored.later(hours=24).type("H3 host in plantain cut 2 Jun 20:00")
    assert stored.desk.bench.containers["H3"].hosts[-1].batch == "D"


@pytest.mark.parametrize("line", ["fresh plantain", "plantain cut now", "freshly cut plantain"])
def test_leaf_said_to_be_fresh_is_not_the_stores(stored: Story, line: str) -> None:
    assert "batch B" in stored.type(f"H3 host in {line}")[0]
    (host,) = stored.desk.bench.containers["H3"].hosts
    assert (host.plant, f"{host.cut:%d}") == ("plantain", "04")
