"""Whose offspring eggs are: the males that stood with their mothers, and since when those can have laid them."""

from __future__ import annotations

from tests.stories.telling import Story, everything, tell
from tests.stories.test_animals_which import pages

CAGE = """
brood EH taxon='Endromis alta'
W2 set up pairing
W2 stocked 8 pupae EH
"""


def begun(story: Story, code: str) -> dict[str, object]:
    """The newest line in the book that began a brood."""
    return next(
        line
        for line in reversed(story.on_disk())
        if line["what"] == "brood" and line["code"] == code
    )


async def test_eggs_of_a_closed_cage_are_of_brothers_and_sisters(story: Story) -> None:
    tell(story, CAGE)
    story.later(days=1).type("W2 emerged 4 female", "W2 emerged 4 male")
    story.later(days=2)
    assert "fathers EH" in "".join(story.type("W2 searched 60"))

    assert begun(story, "EH/A")["fathers"] == ["EH"]
    page = await pages(story, "code EH/A")
    assert "EH, perhaps by EH; inbreeding 0 to 0.25" in page, "nobody saw them couple"
    assert "male from the wild" not in page
    story.type("W2 paired EH with EH")
    page = await pages(story, "code EH/A")
    assert "EH, by EH; inbreeding 0.25" in page


async def test_a_sister_who_only_stood_with_a_brother_may_have_mated(story: Story) -> None:
    tell(story, CAGE)
    story.later(days=1).type("W2 emerged 2 females", "W2 emerged 1 male", "K3 set up laying")
    story.type("W2 moved 1 female to K3")
    story.later(days=1).type("K3 searched 9")
    assert "perhaps by EH" in await pages(story, "code EH/A")
    folder = story.folder.parent
    story.shell("export", "note", "EH/A", str(folder / "note.md"))
    assert "Father: perhaps EH." in (folder / "note.md").read_text()


def test_an_archive_names_him_as_perhaps_the_father(story: Story) -> None:
    tell(story, CAGE)
    tell(story, "W2 founder M5 'Endromis alta' sex=male")
    story.later(days=1).type("W2 emerged 1 female")
    story.later(days=1).type("W2 searched 9")
    to = story.folder.parent / "archive.zip"
    assert story.shell("export", "dwca", str(to), "--yes").status == 0
    assert "perhaps offspring of" in everything(to)


async def test_without_any_male_on_record_the_father_is_not_known(story: Story) -> None:
    tell(story, CAGE)
    story.later(days=1).type("W2 emerged 2 female")
    story.later(days=2).type("W2 searched 60")
    page = await pages(story, "code EH/A")
    assert "EH, father not known" in page
    story.shell("export", "note", "EH/A", str(story.folder.parent / "note.md"))
    assert "Father: not known" in (story.folder.parent / "note.md").read_text()


async def test_a_wild_caught_female_had_mated_before(story: Story) -> None:
    tell(story, "K2 set up laying\nK2 founder W6 'Endromis alta'")
    story.later(days=1).type("K2 searched 6")
    assert "W6, by a male from the wild" in await pages(story, "code W6/A")


async def test_a_male_put_to_a_wild_caught_female_may_be_the_father_of_what_comes_then(
    story: Story,
) -> None:
    tell(story, "K2 set up laying\nK2 founder W6 'Endromis alta'")
    story.later(days=1).type("K2 searched 6")
    story.later(days=1).type("K2 founder M2 'Endromis alta' sex=male")
    story.later(days=1)
    assert "W6/B" in "".join(story.type("K2 searched 5"))
    assert "W6/B" in "".join(story.later(days=1).type("K2 searched 4"))
    assert "W6, by M2 or a male from the wild" in await pages(story, "code W6/B")
    assert "W6, by a male from the wild" in await pages(story, "code W6/A")


def test_males_that_stood_with_her_before_are_remembered_when_she_stands_alone(
    story: Story,
) -> None:
    tell(story, CAGE)
    tell(story, "K3 set up laying")
    story.later(days=1).type("W2 emerged 1 female", "W2 emerged 2 male")
    story.later(days=1).type("W2 moved 1 female to K3")
    story.later(days=1).type("K3 searched 12")
    assert begun(story, "EH/A")["fathers"] == ["EH"]


def test_eggs_are_never_put_into_the_brood_of_those_that_laid_them(story: Story) -> None:
    tell(
        story,
        """
        brood SS taxon='Smerinthus serus'
        W3 set up pairing
        W3 stocked 6 pupae SS
        """,
    )
    story.later(days=1).type("W3 emerged 3 female", "W3 emerged 3 male")
    story.later(days=2)
    first = "".join(story.type("W3 searched 20 where=wall brood=SS"))
    assert "SS/A" in first
    later = "".join(story.later(days=1).type("W3 searched 10"))
    assert "SS/A" in later
    again = "".join(story.later(days=1).type("W3 searched 7 brood=SS"))
    assert "SS/A" in again
    eggs = {
        lot.brood: lot.number
        for lot in story.desk.bench.containers["W3"].lots
        if lot.stage == "egg"
    }
    assert eggs == {"SS/A": 37}


def test_a_male_is_no_father_of_what_was_laid_before_he_came(story: Story) -> None:
    story.at("2027-06-08 20:00")
    tell(
        story,
        """
        brood DD taxon='Dicranura dubia'
        W4 set up pairing
        W4 stocked 6 pupae DD
        """,
    )
    story.at("2027-06-10 20:00").type("W4 emerged 3 female")
    story.at("2027-06-20 20:00").type("W4 founder M2 'Dicranura dubia' sex=male", "W4 paired DD M2")
    story.at("2027-06-22 08:00").type("W4 searched 30")
    line = begun(story, "DD/A")
    assert line["fathers"] == ["M2"]
    assert str(line["laid_from"]).startswith("2027-06-20T20:00")


def test_brothers_that_stood_there_are_possible_fathers_beside_him(story: Story) -> None:
    story.at("2027-06-08 20:00")
    tell(
        story,
        """
        brood DD taxon='Dicranura dubia'
        W4 set up pairing
        W4 stocked 6 pupae DD
        """,
    )
    story.at("2027-06-10 20:00").type("W4 emerged 3 female")
    story.at("2027-06-11 20:00").type("W4 emerged 2 male")
    story.at("2027-06-20 20:00").type("W4 founder M2 'Dicranura dubia' sex=male", "W4 paired DD M2")
    story.at("2027-06-22 08:00").type("W4 searched 30")
    line = begun(story, "DD/A")
    assert line["fathers"] == ["DD", "M2"]
    assert str(line["laid_from"]).startswith("2027-06-11T20:00")


async def test_a_male_from_the_wild_that_never_came_in_is_said_as_wild(story: Story) -> None:
    tell(story, CAGE)
    tell(story, "W6 set up pairing\nW6 founder Q1 'Endromis alta' stage=pupa")
    story.later(days=1).type(
        "W2 emerged 2 female", "W2 paired EH wild", "W6 emerged 1 female", "W6 paired Q1 male=wild"
    )
    story.later(days=1).type("W2 searched 9", "W6 searched 3", "brood EH/B mothers=EH fathers=wild")
    assert begun(story, "EH/A")["fathers"] == ["wild"]
    for code in ("EH/A", "EH/B", "Q1/A"):
        assert "by a male from the wild" in await pages(story, f"code {code}")
    story.type("pairing planned EH/A EH/A")
    assert "0.25" in await pages(story, "pair EH/A EH/A")
    assert "no founder or brood is called wild" in story.refused("brood EH/C mothers=wild")
    assert "choose" in story.refused("W6 founder wild 'Endromis alta'")
    assert story.shell("export", "dwca", str(story.folder.parent / "record.zip")).status == 0


async def test_two_cages_of_sisters_with_different_males_have_broods_of_their_own(
    story: Story,
) -> None:
    tell(story, CAGE)
    tell(story, "W5 set up pairing\nW5 stocked 4 pupae EH")
    story.later(days=1).type(
        "W2 emerged 2 female",
        "W2 emerged 2 male",
        "W5 emerged 2 female",
        "W5 founder M3 'Endromis alta' sex=male",
    )
    story.later(days=1).type("W2 searched 10", "W5 searched 8")
    story.later(days=1).type("W2 searched 5", "W5 searched 4")
    assert begun(story, "EH/A")["fathers"] == ["EH"]
    assert begun(story, "EH/B")["fathers"] == ["M3"]
    eggs = {
        lot.brood: lot.number
        for code in ("W2", "W5")
        for lot in story.desk.bench.containers[code].lots
        if lot.stage == "egg"
    }
    assert eggs == {"EH/A": 15, "EH/B": 12}


async def test_the_list_names_all_who_may_be_the_father(story: Story) -> None:
    tell(story, CAGE)
    tell(story, "brood EI taxon='Endromis alta'\nW2 stocked 8 pupae EI")
    story.later(days=1).type("W2 emerged 4 female EH", "W2 emerged 4 male EH")
    story.type("W2 emerged 4 male EI")
    story.later(days=2).type("W2 searched 60")
    page = " ".join((await pages(story, "code EH/A")).split())
    assert "of EH, by EH or EI" in page
    async with story.screens((110, 60)) as screen:
        await screen.press("z")
        assert "EH/A of her and EH or EI" in screen.words
