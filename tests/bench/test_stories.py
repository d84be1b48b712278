"""What each kind of entry does to the bench, told as small stories in the words of the prompt."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest

from rounds.app.desk import Desk, Recorded
from rounds.bench.state import Bench
from rounds.shell.log import say_phrase
from tests.conftest import Clock

After = Callable[[str], Bench]

BEGIN = """
shelf set up B moat
L2 set up laying shelf=B place=1
R4 set up rearing shelf=B place=2
R7 set up rearing place=3
E3 set up eggs place=4
L2 founder QUE-26-02, Boloria dia female worn
brood QUE-26-02/A mothers=QUE-26-02
"""


def tell(desk: Desk, clock: Clock, story: str) -> Bench:
    """Say each line of a story, a minute after the one before."""
    for text in filter(str.strip, story.splitlines()):
        outcome = say_phrase(desk, text.strip())
        assert isinstance(outcome, Recorded), (text, outcome)
        clock.on(minutes=1)
    return desk.bench


@pytest.fixture
def bench_after(desk: Desk, clock: Clock) -> After:
    """Tells a story after the beginning and gives the bench."""
    return lambda story: tell(desk, clock, BEGIN + story)


def stock(bench: Bench, code: str) -> dict[str, int]:
    """What a container holds, by stage and instar."""
    found: dict[str, int] = {}
    for lot in bench.containers[code].lots:
        name = f"L{lot.instar}" if lot.instar else lot.stage
        found[name] = found.get(name, 0) + lot.number
    return found


def test_eggs_go_through_every_stage_and_each_number_is_found_again(bench_after: After) -> None:
    bench = bench_after(
        """
        E3 stocked 20 eggs QUE-26-02/A
        E3 hatched 15 inferred
        E3 moved 15 larvae to R4
        R4 moulted 10 L2 sure
        R4 moulted 8 L3 sure
        R4 pupated 3 sure
        R4 emerged 2 female sure
        R4 died 1 pupa parasitised
        """
    )

    assert stock(bench, "E3") == {"egg": 5}
    assert stock(bench, "R4") == {"L1": 5, "L2": 2, "L3": 5, "adult": 2}
    assert bench.tallies["QUE-26-02/A"].fates == {"died": {"pupa": 1}}
    assert bench.oddities == []


def test_a_short_count_stays_open_until_it_is_settled(
    bench_after: After, desk: Desk, clock: Clock
) -> None:
    bench = bench_after("R4 stocked 12 L3 QUE-26-02/A\nR4 counted 10")
    assert [(one.container, one.number) for one in bench.shortfalls] == [("R4", 2)]
    assert stock(bench, "R4") == {"L3": 10}

    bench = tell(desk, clock, "R4 settled found 1\nR4 settled escaped 1")

    assert bench.shortfalls == []
    assert stock(bench, "R4") == {"L3": 11}
    assert bench.tallies["QUE-26-02/A"].fates == {"escaped": {"larva": 1}}


def test_a_later_count_that_finds_them_closes_the_shortfall(bench_after: After) -> None:
    bench = bench_after("R4 stocked 12 L3 QUE-26-02/A\nR4 counted 11\nR4 counted 12")

    assert bench.shortfalls == []
    assert stock(bench, "R4") == {"L3": 12}


def test_a_move_with_fewer_arriving_opens_a_shortfall(bench_after: After) -> None:
    bench = bench_after("R4 stocked 12 L3 QUE-26-02/A\nR4 moved 12 to R7 11 arrived")

    assert stock(bench, "R7") == {"L3": 11}
    assert [(one.container, one.number) for one in bench.shortfalls] == [("R4", 1)]


def test_split_and_merge_balance(bench_after: After) -> None:
    bench = bench_after(
        """
        R4 stocked 12 L3 QUE-26-02/A
        R4 split into R7,E3 5,6 1 missing
        R4 merged sources=R7,E3 10
        """
    )

    assert stock(bench, "R4") == {"L3": 10}
    assert stock(bench, "R7") == stock(bench, "E3") == {}
    assert sum(one.number for one in bench.shortfalls) == 2


def test_all_have_drunk_only_when_as_many_drank_as_there_are(
    bench_after: After, desk: Desk, clock: Clock
) -> None:
    bench = bench_after("L2 founder QUE-26-03, Boloria dia female\nL2 drank 1")
    assert bench.containers["L2"].all_drank is None

    first = bench.containers["L2"].drank_part[0][0]
    bench = tell(desk, clock, "L2 drank 1 helped")

    assert bench.containers["L2"].all_drank == first


def test_offered_is_not_drank(bench_after: After) -> None:
    bench = bench_after("L2 offered sugar\nL2 refused\nL2 feeder changed sugar 15%")

    assert bench.containers["L2"].all_drank is None
    assert {"offered", "refused", "feeder changed"} <= bench.containers["L2"].last.keys()


def test_host_plant_from_cutting_to_held_sprigs(bench_after: After) -> None:
    bench = bench_after(
        """
        L2 host in violet leaf water 6 sprigs -1m
        L2 host seen limp little
        L2 host out violet held in E3
        E3 searched 0 lens 4min
        E3 frass trace
        """
    )

    assert bench.containers["L2"].hosts == []
    (held,) = bench.containers["E3"].held
    assert (held.plant, held.source, held.mothers, held.sprigs) == (
        "violet",
        "L2",
        ("QUE-26-02",),
        6,
    )
    assert [(one.aid, one.found) for one in held.searches] == [("lens", 0)]
    assert held.frass == "trace"
    assert bench.last_batch == "A"


def test_one_look_at_a_shelf_moat_is_for_all_that_stands_there(bench_after: After) -> None:
    bench = bench_after("B barrier low 9mm 2 below")

    for code in ("L2", "R4"):
        whose, barrier, moat = bench.moat_of(bench.containers[code])
        assert (whose, barrier, moat.state, moat.ants_below) == ("B", "moat", "low", 2)
    assert bench.moat_of(bench.containers["R7"])[1] == "none"


def test_what_stands_inside_another_is_guarded_by_its_barrier(bench_after: After) -> None:
    bench = bench_after(
        "R7 changed barrier=moat\nH2 set up hatchlings inside=R7\nR7 topped up 20mm washed"
    )

    whose, _, moat = bench.moat_of(bench.containers["H2"])
    assert (whose, moat.state, moat.depths[-1].mm, moat.depths[-1].filled) == (
        "R7",
        "full",
        20.0,
        True,
    )
    assert moat.washed is not None


def test_signs_lamps_and_leaving_be(bench_after: After, clock: Clock) -> None:
    bench = bench_after(
        """
        E3 looked darkening
        L2 light lamp on
        L2 light sun
        R4 leave be +24h -- moulting
        R7 suspect pale and slow
        """
    )

    assert bench.containers["E3"].sign == "darkening"
    assert bench.containers["L2"].lamp_since is not None
    assert bench.containers["L2"].lit == "sun"
    assert bench.containers["R4"].leave_be_why == "moulting"
    assert bench.containers["R4"].leave_be_until > clock.now
    assert bench.containers["R7"].suspect_sign == "pale and slow"


def test_the_last_three_notes_stand_on_the_card(bench_after: After) -> None:
    bench = bench_after(
        "\n".join(f"L2 note number {one}" for one in range(5))
        + "\nnote -- of the bench\nL2 photo a.jpg"
    )

    assert [note.text for note in bench.containers["L2"].notes] == [
        "number 2",
        "number 3",
        "number 4",
    ]
    assert [note.text for note in bench.notes] == ["of the bench"]
    assert bench.containers["L2"].photos[0].text == "a.jpg"


def test_air_of_the_room_a_shelf_and_a_container(bench_after: After) -> None:
    bench = bench_after("room air 21.4C 46%\nB air low=15 high=24\nL2 air 70F")

    assert bench.air[""][0].temperature_c == 21.4
    assert (bench.air["B"][0].low_c, bench.air["B"][0].high_c) == (15, 24)
    assert bench.air["L2"][0].temperature_c == pytest.approx(
        21.11
    )  # 70 F, by definition of the scales


def test_papers_are_kept_by_name_and_the_newest_holds(bench_after: After) -> None:
    bench = bench_after(
        """
        permit P-12 females=3 hold_hours=48
        permit P-12 females=4
        taxon Boloria dia short=dia instars=5 protected
        plant violet water 60h
        plan drink every_h=10 container=L2
        plan drink every_h=11 container=L2
        setting zone Asia/Tokyo
        L2 release by +48h permit=P-12
        put off check=drink container=L2 until=+2h why=asleep
        """
    )

    assert bench.permits["P-12"].females == 4
    assert bench.short_name("QUE-26-02/A") == "dia"
    assert bench.plants["violet"]["water"].hours == 60
    assert [one.every_h for one in bench.plan] == [11]
    assert bench.settings == {"zone": "Asia/Tokyo"}
    assert bench.release_by["QUE-26-02"].permit == "P-12"
    assert bench.put_off[0].why == "asleep"


def test_a_release_ends_her_deadline_and_a_pairing_is_kept(bench_after: After) -> None:
    bench = bench_after(
        """
        L2 founder QUE-26-05, Boloria dia male
        L2 paired QUE-26-02 with QUE-26-05
        L2 release by +48h code=QUE-26-02
        L2 released 1 female place="dry slope"
        L2 preserved 1 male voucher=V7
        """
    )

    assert bench.release_by == {}
    assert [(one.female, one.male) for one in bench.pairings] == [("QUE-26-02", "QUE-26-05")]
    assert stock(bench, "L2") == {}
    assert bench.tallies["QUE-26-05"].fates == {"preserved": {"adult": 1}}


def test_a_closed_code_may_stand_again_but_a_brood_code_never(
    bench_after: After, desk: Desk
) -> None:
    bench = bench_after("R7 closed\nR7 set up pupation place=9")

    assert bench.containers["R7"].purpose == "pupation"
    refused = say_phrase(desk, "brood QUE-26-02/A")
    assert (
        refused.line
        == "code QUE-26-02/A was used before and is never used again; choose the next free one"
    )


def test_other_small_acts_are_remembered_by_their_newest(bench_after: After) -> None:
    bench = bench_after(
        """
        L2 misted
        R4 lid opened
        R4 covered
        R4 cleaned
        hands washed
        food made sugar 15% 100ml
        E3 stocked 3 eggs QUE-26-02/A
        E3 missing 1
        E3 escaped 1 others
        R7 suspect
        R7 cleared
        """
    )

    assert {"lid opened", "covered", "cleaned"} <= bench.containers["R4"].last.keys()
    assert "sugar" in bench.food_made
    assert stock(bench, "E3") == {"egg": 1}
    assert bench.containers["R7"].suspect_since is None


def test_a_round_knows_what_was_said_in_it(desk: Desk, clock: Clock) -> None:
    tell(desk, clock, BEGIN)
    desk.start_round()
    bench = tell(desk, clock, "L2 drank\nskipped container=R4 check=look why=asleep")
    walk = bench.open_round

    assert walk is not None
    assert walk.name == "morning"
    assert ("L2", "drank") in walk.done
    assert walk.skipped == [("R4", "look", "asleep")]

    desk.finish_round()

    assert desk.bench.open_round is None


def test_a_round_open_for_longer_than_a_round_lasts_takes_nothing_more(
    desk: Desk, clock: Clock
) -> None:
    tell(desk, clock, BEGIN)
    desk.start_round()
    clock.on(seconds=timedelta(hours=7).total_seconds())

    bench = tell(desk, clock, "L2 drank")

    assert bench.containers["L2"].last["drank"].round == ""
