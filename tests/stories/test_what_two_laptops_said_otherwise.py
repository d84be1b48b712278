"""Two laptops apart say different things of one setting, permit, rule or cup: the newest counts, of what
guards or limits the more careful, and what was set aside is told until one who knows of both says which holds."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from rounds.app.desk import Recorded
from rounds.app.prompt_line import say_phrase
from tests.stories.telling import Story
from tests.stories.test_two_animals_under_one_code import synchronise


@pytest.fixture
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Story, Story]:
    """Two laptops with one book of two cups on two shelves, which go apart."""
    a = Story(tmp_path / "a", monkeypatch, "aaaa1111").at("2027-05-01 08:00")
    b = Story(tmp_path / "b", monkeypatch, "bbbb2222")
    b.clock = a.clock
    a.type("shelf set up rack", "shelf set up sill", "shelf set up porch")
    a.type("R4 set up rearing on rack", "R4 12 larvae L2 Leptidea sinapis on vetchling")
    a.type("K2 set up laying on sill", "K2 female Leptidea sinapis on vetchling")
    a.type("K3 set up laying on sill", "K3 female Leptidea sinapis on vetchling")
    a.type("permit 24-118 taxon='Leptidea sinapis' females=3 hold_hours=48")
    synchronise(a, b)
    return a, b


def meet_after(apart: tuple[Story, Story], *, b_said: str, a_said: str) -> None:
    """Each says something of its own, then they meet."""
    a, b = apart
    b.later(minutes=5).type(b_said)
    a.later(minutes=5).type(a_said)
    synchronise(a, b)


def none_is_told_and_the_cup_is_on_the_sill(apart: tuple[Story, Story]) -> None:
    for laptop in apart:
        assert laptop.desk.bench.containers["R4"].shelf == "sill"
        assert "laptops apart" not in laptop.shell("check").out


SAID = [
    ("setting morning 06:30", "setting morning 08:15", "setting morning to be 08:15 and 06:30"),
    ("setting zone Europe/Lisbon", "setting zone Europe/Paris", "setting zone to be Europe/Paris"),
    (
        "permit 24-118 females=2",
        "permit 24-118 females=5",
        "females of permit 24-118 to be 5 and 2",
    ),
    (
        "permit 24-118 expires 2027-09-30",
        "permit 24-118 expires 2027-10-31",
        "expires of permit 24-118 to be 2027-10-31",
    ),
    (
        "permit 24-118 expires 30 Sep 2027 17:00",
        "permit 24-118 expires 30 Sep 2027 09:00",
        "expires of permit 24-118 to be '2027-09-30 09:00' and '2027-09-30 17:00'",
    ),
    ("plan look every_h=8", "plan look every_h=12", "every_h of plan look to be 12 and 8"),
    ("plan look off=yes", "plan look off=no every_h=9", "off of plan look to be no and yes"),
    (
        "plan clean container=R4 every_h=20",
        "plan clean container=R4 every_h=30",
        "every_h of plan clean container=R4 to be 30 and 20",
    ),
    ("R4 changed shelf=sill", "R4 changed shelf=porch", "shelf of R4 to be porch and sill"),
    (
        "R4 changed purpose=pupation",
        "R4 changed purpose=quarantine",
        "purpose of R4 to be quarantine and pupation",
    ),
    (
        "constants 'Leptidea sinapis' stage=pupa lower_c=8 constant_dd=150",
        "constants 'Leptidea sinapis' pupa lower=10 constant=130 source='a paper'",
        "constants 'Leptidea sinapis' stage=pupa to be lower_c=10 constant_dd=130"
        " cutoff=horizontal source='a paper' and lower_c=8 constant_dd=150",
    ),
    (
        "R4 expected pupation on 2027-05-20 10:00 until 2027-05-23",
        "R4 expected pupation on 2027-05-22 why='by weight'",
        "R4 expected pupation to be on 2027-05-22 and on '2027-05-20 10:00' until 2027-05-23",
    ),
    (
        "related LEP-27-02 LEP-27-03 as cousins",
        "related LEP-27-03 LEP-27-02 how='full sibs'",
        "related LEP-27-02 LEP-27-03 to be how='full sibs' and how=cousins",
    ),
    (
        "K2 release by 2027-05-03 10:00 permit=24-118",
        "K2 release by 2027-05-04 09:00 permit=24-118",
        "K2 release by to be until='2027-05-04 09:00' permit=24-118 and",
    ),
    ("R4 changed place=3", "R4 changed place=7", "place of R4 to be 7 and 3"),
]


@pytest.mark.parametrize(("first", "last", "told"), SAID)
def test_both_are_told_until_one_says_which(
    apart: tuple[Story, Story], first: str, last: str, told: str
) -> None:
    a, b = apart
    meet_after(apart, b_said=first, a_said=last)
    assert a.desk.bench == b.desk.bench
    for laptop in apart:
        found = laptop.shell("check").out
        assert f"two laptops apart said {told}" in found
        assert "was set aside" in found
        due = laptop.shell("due")
        assert f"TWO laptops apart said {told}" in due.err
    (line,) = [one for one in found.splitlines() if "was set aside" in one]
    b.later(minutes=5).type(line.partition("as: ")[2].partition("; until")[0])
    synchronise(a, b)
    assert a.desk.bench == b.desk.bench
    for laptop in apart:
        assert "laptops apart" not in laptop.shell("check").out


@pytest.mark.parametrize(("first", "last", "told"), SAID)
def test_what_counts_can_be_said_to_hold(
    apart: tuple[Story, Story], first: str, last: str, told: str
) -> None:
    a, b = apart
    meet_after(apart, b_said=first, a_said=last)
    a.later(minutes=5).type(last)
    synchronise(a, b)
    for laptop in apart:
        assert told not in laptop.shell("check").out


@pytest.mark.parametrize(("first", "last", "told"), SAID)
def test_one_laptop_that_says_another_tells_nothing(
    apart: tuple[Story, Story], first: str, last: str, told: str
) -> None:
    a, b = apart
    a.later(minutes=5).type(first)
    a.later(minutes=5).type(last)
    a.later(minutes=5).type(f"{first} -8m")
    synchronise(a, b)
    assert "laptops apart" not in a.shell("check").out + b.shell("check").out


WHITE = "taxon 'Leptidea sinapis'"
BOTH_WAYS = [("protected", "protected=no"), ("protected=no", "protected")]


@pytest.mark.parametrize(("first", "last"), BOTH_WAYS)
def test_a_place_is_guarded_until_one_who_knows_of_both_says_it_is_not(
    apart: tuple[Story, Story], first: str, last: str
) -> None:
    a, b = apart
    caught = "latitude=48.98765 longitude=12.11111 place='Upper ride'"
    a.type(f"K2 founder LEP-27-09 female 'Leptidea sinapis' caught=2027-05-01 {caught}")
    synchronise(a, b)
    meet_after(apart, b_said=f"{WHITE} {first}", a_said=f"{WHITE} {last}")
    for laptop in apart:
        ran = laptop.shell("export", "csv", "-", "--table", "founders")
        assert "48.98765" not in ran.out
        assert "Upper ride" not in ran.out
        assert f"look: two laptops apart said protected of {WHITE} to be" in ran.err
    (told,) = told_apart(b)
    assert "yes, the more careful, counts, no was set aside" in told
    a.type("K2 host in vetchling leaf")  # nothing of the species: it is guarded still
    assert a.desk.bench.taxa["Leptidea sinapis"].protected
    careful = told.partition(", as: ")[2].partition("; until")[0]
    assert careful.endswith("protected=yes")
    b.later(minutes=5).type(careful)
    synchronise(a, b)
    assert not told_apart(a)
    assert "48.98765" not in a.shell("export", "csv", "-", "--table", "founders").out
    b.later(minutes=5).type(f"{WHITE} protected=no")
    synchronise(a, b)
    assert "48.98765" in a.shell("export", "csv", "-", "--table", "founders").out


def test_the_wider_grid_and_hairs_that_sting_hold_too(apart: tuple[Story, Story]) -> None:
    a, b = apart
    b.later(minutes=5).type(f"{WHITE} protected grid_degrees=0.5 stinging")
    a.later(minutes=5).type(f"{WHITE} protected grid_degrees=0.25 stinging=no family=Pieridae")
    synchronise(a, b)
    assert a.desk.bench == b.desk.bench
    taxon = a.desk.bench.taxa["Leptidea sinapis"]
    assert (taxon.grid_degrees, taxon.stinging, taxon.family) == (0.5, True, "Pieridae")
    a.later(minutes=5).type(f"{WHITE} grid_degrees=0.3", f"{WHITE} stinging=no")
    assert a.desk.bench.taxa["Leptidea sinapis"].grid_degrees == 0.3
    assert not told_apart(a)


@pytest.mark.parametrize(
    ("less", "more", "field"),
    [
        ("females=2", "females=5", "females"),
        ("eggs=20 eggs_kept=5", "eggs=30 eggs_kept=12", "eggs_kept"),
        ("hold_hours=12", "hold_hours=24", "hold_hours"),
        ("expires 30 Sep 2027", "expires 31 Oct 2027", "expires"),
        ("expires 30 Sep 2027 17:00", "expires 30 Sep 2027", "expires"),
    ],
)
@pytest.mark.parametrize("is_last", [False, True])
def test_the_lower_limit_of_a_permit_holds_until_one_who_knows_of_both_says_which(
    apart: tuple[Story, Story], less: str, more: str, field: str, is_last: bool
) -> None:
    a, _ = apart
    first, last = (more, less) if is_last else (less, more)
    meet_after(apart, b_said=f"permit 24-118 {first}", a_said=f"permit 24-118 {last}")
    apart_told = [one for one in told_apart(a) if f"said {field} of" in one]
    assert len(apart_told) == 1
    assert "the more careful, counts" in apart_told[0]
    held = getattr(a.desk.bench.permits["24-118"], field)
    a.later(minutes=5).type(f"permit 24-118 {more}")
    assert getattr(a.desk.bench.permits["24-118"], field) != held
    a.later(minutes=5).type(f"permit 24-118 {less}")
    assert getattr(a.desk.bench.permits["24-118"], field) == held
    assert not told_apart(a)


def test_what_was_said_twice_apart_is_told_all_the_same(apart: tuple[Story, Story]) -> None:
    a, b = apart
    b.later(minutes=5).type("setting moat low 12")
    a.later(minutes=5).type("setting moat low 5")
    a.later(minutes=5).type("setting moat low 6")
    synchronise(a, b)
    assert "to be 6 and 12" in a.shell("check").out.replace("'", "")


def test_a_name_with_an_apostrophe_can_be_said_to_hold(apart: tuple[Story, Story]) -> None:
    a, _ = apart
    meet_after(
        apart,
        b_said='permit 24-118 holder="A. O\'Brien"',
        a_said="""permit 24-118 holder='J. "Jo" Ray'""",
    )
    for laptop in apart:
        (told,) = told_apart(laptop)
        laptop.later(minutes=5).type(told.partition(", as: ")[2].partition("; until")[0])
        assert not told_apart(laptop)
    assert a.desk.bench.permits["24-118"].holder == "A. O'Brien"


def test_screens_and_keys_are_each_keepers_own(apart: tuple[Story, Story]) -> None:
    a, b = apart
    b.later(minutes=5).type("setting theme light", "setting hand left")
    a.later(minutes=5).type("setting theme red", "setting hand right")
    synchronise(a, b)
    assert "laptops apart" not in a.shell("check").out


def test_of_several_animals_each_date_is_told_until_it_is_over(
    apart: tuple[Story, Story],
) -> None:
    a, b = apart
    a.type("K2 female Leptidea sinapis", "E3 set up eggs on sill", "E3 9 eggs Leptidea sinapis")
    a.type("E3 5 eggs Colias hyale")
    synchronise(a, b)
    one, other = (lot.brood for lot in a.desk.bench.containers["E3"].lots)
    b.later(minutes=5).type(
        "K2 release by 2027-05-03 10:00", f"E3 expected hatch 9 May brood={one}"
    )
    a.later(minutes=5).type("K2 release by 2027-05-04 10:00 code=LEP-27-04")
    a.type("E3 expected hatch 10 May")
    synchronise(a, b)
    assert a.desk.bench == b.desk.bench
    told = told_apart(b)
    assert len(told) == 2, told
    assert "K2 release by code=LEP-27-04 to be until='2027-05-04 10:00' and until=" in told[0]
    assert f"E3 expected hatch brood={one} to be on 2027-05-10 and on 2027-05-09" in told[1]
    b.later(hours=1).type(f"E3 hatched 5 brood={one}", f"E3 expected pupation 8 Jun brood={one}")
    b.type("K2 released 1 brood=LEP-27-04")
    assert not told_apart(b)
    assert b.desk.bench.expected[other]["hatch"].begins.day == 10


def test_what_is_undone_is_not_told(apart: tuple[Story, Story]) -> None:
    a, b = apart
    meet_after(apart, b_said="R4 changed shelf=sill", a_said="R4 changed shelf=porch")
    a.type("undo")
    synchronise(a, b)
    none_is_told_and_the_cup_is_on_the_sill(apart)


def test_a_late_line_of_a_cup_is_no_other_laptops(apart: tuple[Story, Story]) -> None:
    a, b = apart
    a.later(hours=5).type("R4 changed shelf=sill")
    a.later(minutes=5).type("R4 changed shelf=porch -2h")
    synchronise(a, b)
    none_is_told_and_the_cup_is_on_the_sill(apart)


def test_an_undone_line_between_makes_no_other_laptop(apart: tuple[Story, Story]) -> None:
    a, _ = apart
    a.later(hours=3).type("plant vetchling water 26")
    (between,) = [one for one in a.on_disk() if one["what"] == "plant"]
    a.later(hours=1).type("plant vetchling water 24 -2h")
    a.later(hours=1).type("plant vetchling water 38", f"strike {between['id']}")
    assert "laptops apart" not in a.shell("check").out


def one_line(chance: random.Random) -> str:
    """Something of which two laptops may say different things, or that changes what it is of."""
    cup, other = f"R{chance.randint(4, 6)}", chance.choice(("rack", "sill", "porch"))
    return chance.choice(
        (
            f"setting moat low {chance.randint(3, 9)}",
            f"permit 24-118 females={chance.randint(1, 5)}",
            f"permit 24-118 expires 2027-0{chance.randint(6, 9)}-12",
            f"plan look every_h={chance.randint(6, 14)}",
            f"plan clean container=R4 every_h={chance.randint(20, 40)}",
            f"{cup} changed shelf={other}",
            f"{cup} changed place={chance.randint(1, 9)} purpose=pupation",
            f"{cup} set up rearing",
            f"{cup} closed",
            f"plant nettle water {chance.randint(24, 48)}",
            f"shelf set up rack hot_c={chance.randint(25, 32)}",
            "undo",
        )
    )


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("meets_each_time", [True, False])
def test_at_random_none_is_told_of_one_and_all_of_two_can_be_settled(
    apart: tuple[Story, Story], seed: int, meets_each_time: bool
) -> None:
    a, b = apart
    chance = random.Random(seed)
    for turn in range(40):
        line = one_line(chance)
        late = f" -{chance.randint(1, 300)}m" if line != "undo" and chance.random() < 0.3 else ""
        say_phrase(chance.choice(apart).later(minutes=chance.randint(1, 60)).desk, line + late)
        if meets_each_time or turn % 10 == 9:
            synchronise(a, b)
            assert a.desk.bench == b.desk.bench
        if meets_each_time:
            assert "laptops apart" not in " ".join(told_apart(a)), line
    for _ in range(4):
        for told in told_apart(a):
            settling = told.partition(", as: ")[2].partition("; until")[0]
            assert isinstance(say_phrase(b.later(minutes=1).desk, settling), Recorded), told
        synchronise(a, b)
    assert not told_apart(a)


def told_apart(story: Story) -> list[str]:
    return [one for one in story.shell("check").out.splitlines() if "was set aside" in one]


@pytest.mark.parametrize("said", ["protected", "grid_degrees=0.25"])
async def test_the_screen_says_which_line_settles_it(apart: tuple[Story, Story], said: str) -> None:
    a, _ = apart
    other = {"protected": "protected=no"}.get(said, "grid_degrees=0.5")
    meet_after(apart, b_said=f"{WHITE} {said}", a_said=f"{WHITE} {other}")
    a.reopen()
    async with a.screens(size=(80, 24)) as screen:
        told = screen.words.partition("TWO laptops apart said")[2]
    held = "protected=yes" if said == "protected" else "grid_degrees=0.5"
    assert f"; say which holds, as: {WHITE} {held} …" in told


async def test_of_several_the_screen_says_first_what_settles_one(
    apart: tuple[Story, Story],
) -> None:
    a, b = apart
    b.type("setting morning 06:30", "setting evening 19:00")
    a.type("setting morning 08:15", "setting evening 20:00")
    meet_after(apart, b_said=f"{WHITE} grid_degrees=0.25", a_said=f"{WHITE} grid_degrees=0.5")
    a.reopen()
    async with a.screens(size=(80, 24)) as screen:
        told = screen.words.partition("TWO laptops apart said two things (and 2 more")[2]
    assert "say which holds, as: " in told.partition(" …")[0], told
