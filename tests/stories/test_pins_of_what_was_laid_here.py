"""A pin tells what was laid in captivity, and of whom; one of two mothers' places is never told as the place of its own."""

from __future__ import annotations

from pathlib import Path

from dwca.read import DwCAReader

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_pins_and_permits import pin_of
from tests.stories.test_leaving_protected import DWC

CUP = """
    taxon 'Pieris orata'
    K2 set up laying
    R4 set up rearing
    K2 founder W2 'Pieris orata' female place='Sorrel bluff' latitude=44.1234 longitude=-121.5678 caught=2027-04-28 collector=AK
    K2 host in cress leaf water
    """
SECOND = "K2 founder W3 'Pieris orata' female place='Heron ford' latitude=43.9876 longitude=-120.1 caught=2027-04-29 collector=BN"


def test_an_egg_that_was_laid_here_says_so(story: Story, tmp_path: Path) -> None:
    tell(story, CUP)
    story.later(days=1).type("K2 searched 6", "K2 preserved 1 egg voucher=V-1")
    pin = pin_of(story, tmp_path)
    assert "ovum, ex \N{FEMALE SIGN} W2, laid in captivity" in pin
    assert "caught 28 iv 2027" in pin


def test_an_adult_reared_from_such_an_egg_says_so_too(story: Story, tmp_path: Path) -> None:
    tell(story, CUP)
    story.later(days=1).type("K2 searched 6", "K2 moved 6 eggs to R4")
    story.later(days=6).type("R4 hatched 6")
    story.later(days=20).type("R4 pupated 6")
    story.later(days=9).type("R4 emerged 1 female", "R4 preserved 1 adult voucher=V-2")
    assert "ex ovo, ex \N{FEMALE SIGN} W2, laid in captivity" in pin_of(story, tmp_path)


def test_of_either_of_two_mothers_both_places_are_told(story: Story, tmp_path: Path) -> None:
    tell(story, CUP + SECOND)
    story.later(days=1).type("K2 searched 6", "K2 preserved 1 egg voucher=V-1")
    pin = pin_of(story, tmp_path)
    assert pin[0] == "Sorrel bluff, 44.1234 N 121.5678 W, caught 28 iv 2027, leg. AK"
    assert pin[1] == "or: Heron ford, 43.9876 N 120.1 W, caught 29 iv 2027, leg. BN"
    assert "ovum, ex \N{FEMALE SIGN} W2 or W3, laid in captivity" in pin


def test_two_mothers_of_one_catch_have_its_place(story: Story, tmp_path: Path) -> None:
    tell(story, CUP + CUP.splitlines()[4].replace("W2", "W3"))
    story.later(days=1).type("K2 searched 6", "K2 preserved 1 egg voucher=V-1")
    pin = pin_of(story, tmp_path)
    assert pin[:2] == ["Sorrel bluff", "44.1234 N 121.5678 W"]


def test_of_many_mothers_no_place_is_told(story: Story, tmp_path: Path) -> None:
    tell(story, CUP + SECOND + "\n" + SECOND.replace("W3", "W4").replace("Heron ford", "Mill pond"))
    story.later(days=1).type("K2 searched 6", "K2 preserved 1 egg voucher=V-1")
    pin = pin_of(story, tmp_path)
    assert pin[0] == "from one of 3 catches, not known which"
    assert not any(place in line for line in pin for place in ("Sorrel", "Heron", "Mill"))


def test_the_first_of_two_withheld_places_is_not_told_as_the_place(
    story: Story, tmp_path: Path
) -> None:
    tell(story, CUP.replace("taxon 'Pieris orata'", "taxon 'Pieris orata' protected") + SECOND)
    story.later(days=1).type("K2 searched 6", "K2 preserved 1 egg voucher=V-1")
    pin = pin_of(story, tmp_path)
    assert not any(
        word in line for line in pin for word in ("Sorrel", "Heron", "44.1234", "43.9876")
    )
    assert pin[1].startswith("or: exact place withheld")


def test_a_wild_females_pin_has_her_sex(story: Story, tmp_path: Path) -> None:
    tell(story, CUP)
    story.later(days=1).type("K2 preserved W2 voucher=V-1")
    assert "W2 female V-1" in pin_of(story, tmp_path)


def test_a_parasitoid_that_was_kept_is_dead_and_in_a_collection(
    story: Story, tmp_path: Path
) -> None:
    tell(story, CUP)
    story.later(days=1).type(
        "K2 searched 6", "K2 parasitoid 1 W2/A taxon='Telenomus sp.' voucher=P-1"
    )
    story.reopen()
    assert story.shell("export", "dwca", str(tmp_path / "record.zip")).status == 0
    with DwCAReader(str(tmp_path / "record.zip")) as archive:
        (wasp,) = [
            row.data for row in archive if row.data[DWC + "scientificName"] == "Telenomus sp."
        ]
    assert [wasp[DWC + name] for name in ("basisOfRecord", "vitality", "disposition")] == [
        "PreservedSpecimen",
        "dead",
        "in collection",
    ]


def parasitised(story: Story, said: str) -> None:
    """A brood of a female of one place, of which a larva was parasitised."""
    tell(story, CUP)
    story.later(days=1).type("K2 searched 6", "K2 moved 6 eggs to R4")
    story.later(days=6).type("R4 hatched 6", "R4 moulted 6 L2")
    story.later(days=9).type(f"R4 parasitoid {said}")


def test_a_parasitoid_that_was_kept_gets_a_pin_with_its_host(story: Story, tmp_path: Path) -> None:
    parasitised(story, "1 wasp voucher=V-9 depository=Mus")
    pin = pin_of(story, tmp_path)
    assert pin[:2] == ["Sorrel bluff", "44.1234 N 121.5678 W"]
    assert "parasitoid, out of larva of Pieris orata W2/A" in pin
    assert "host ex ovo, ex \N{FEMALE SIGN} W2, laid in captivity" in pin
    assert "em. 17 v 2027" in pin
    assert "V-9" in pin
    assert "wasp" in pin[-1]


def test_one_that_was_not_kept_gets_none(story: Story, tmp_path: Path) -> None:
    parasitised(story, "2 wasp")
    story.reopen()
    assert story.shell("export", "pins", str(tmp_path / "pins.html")).status == 1


def test_of_a_protected_host_the_pin_withholds_the_place(story: Story, tmp_path: Path) -> None:
    parasitised(story, "1 wasp voucher=V-9")
    story.type("taxon 'Pieris orata' protected")
    pin = "\n".join(pin_of(story, tmp_path))
    assert "Sorrel bluff" not in pin
    assert "44.1234" not in pin
