"""Each rule of the plan beside what published protocols say: our hours, the hours found, the rows of the collection and whom the basis cites.

A row: check, first purpose, stage, condition; hours until it is asked, late, urgent, in danger; the shortest and the longest
interval found [h]; the numbers of the rows in the collected protocols (`../shared/reference/protocols.md`, each with its source
and how it was read); words of the basis that name the sources. Rules without rows have no source and say so.
"""

from __future__ import annotations

import pytest

from rounds.checks.registry import DEFAULT_PLAN
from rounds.checks.rule import Rule

PLAN = """
drink | laying | adult | - | 12 14 24 31 | 12 24 | pr001-pr006 pr020 | Oregon Zoo + King & Schultz 2024
drink | laying | adult | fed at night | - 28 36 47 | - | - | -
drink | rearing | adult | first feed | 24 48 60 72 | 24 48 | pr022 pr023 | University of Kansas + May 1993
drink | holding | adult | - | 24 24 48 62 | 24 168 | pr024-pr026 | Leps-L list + Seol, Kim & Hong 2005
drink | holding | adult | fed at night | - 28 48 62 | - | - | -
feeder | laying | adult | - | - 30 48 - | 24 24 | pr028 pr029 | Houston Museum
look | laying | - | - | - - - - | - | - | -
look | laying | adult | adults that are fed | - 30 48 - | - | - | -
look | laying | adult | adults take no food | - 16 48 - | - | - | -
look | hatchlings | larva | larvae with food in | - 30 48 - | - | - | -
look | hatchlings | larva | food in water | 48 60 72 - | - | - | -
look | holding | larva | - | - 30 48 - | - | - | -
look | holding | - | - | 48 60 72 - | - | - | -
look | pupation | pupa | pupae alone | 72 84 96 - | - | - | -
look | - | - | suspect | - - - - | - | - | -
look | eggs | egg | darkening | - - - - | - | - | -
look | pupation | pupa | colouring | - - - - | - | - | -
look | pupation | larva | not moving | - - - - | - | - | -
look | holding | larva | kept apart | - - - - | - | pr118 | Daniels, Florida Museum
look | overwintering | pupa | - | 168 384 504 - | 168 336 | pr144 pr146 | raisingbutterflies.org
look | overwintering | pupa | sealed lid | 336 720 1440 - | 720 1440 | pr145 pr147 | silkmoths.bizland.com
look | overwintering | larva | half-grown | 84 120 168 - | 0 96 | pr137 pr142 | raisingbutterflies.org + Schultz, Dzurisin & Russell 2009 + Vrba et al. 2014
look | overwintering | larva | first instar | 120 168 240 - | - | pr136 pr137 pr139 | raisingbutterflies.org + Schultz, Dzurisin & Russell 2009
look | overwintering | larva | first instar, late winter | 72 120 168 - | - | pr137 pr138 | keepers' account of 2009-2010 + Schultz, Dzurisin & Russell 2009
look | overwintering | egg | - | 120 168 240 - | - | pr066 | Neophasia terlooii
look | overwintering | adult | - | 168 240 336 - | - | - | -
host | laying | - | host cut dry | - 24 36 - | - | - | -
host | laying | - | host in water | - 48 72 - | - | - | -
host | laying | - | host potted | - - - - | - | pr045 pr046 | production sheet + Houston Museum
host | laying | adult | no host | 0 6 24 - | - | pr044 | Odendaal & Rausher 1990
eggs | laying | adult | - | - 24 48 - | 24 168 | pr045 pr048 | production sheet + ZooAmerica
eggs | laying | adult | eggs found since she came, or none in two searches | 48 54 72 - | 24 168 | pr045 pr048 | production sheet + ZooAmerica
eggs | - | - | females left | 0 24 48 - | - | - | -
change | laying | adult | no eggs | 72 96 - - | 48 1344 | pr036 pr041 | David & Gardiner 1962 + Lewis & Thomas 2001
release | - | - | limit | 12 12 0 - | - | - | -
permit | - | - | limit | 168 24 0 - | - | - | -
air | eggs | egg | - | 48 60 72 - | 24 24 | pr067-pr069 | Bohart Museum + Wildflower Rescue + University of Kansas + asked along from a day on
hatch late | eggs | egg | not in diapause | 480 480 720 - | 336 480 | pr072 pr073 | raisingbutterflies.org + ZooAmerica
leaf | holding | egg | darkening | 0 6 24 30 | 0 48 | pr071 | Indian sericulture
leaf | holding | egg | may hatch | 12 - - - | - | - | -
frass | - | - | kept stems | - 36 60 84 | - | - | -
frass | - | - | stems left by females | - 36 60 84 | - | - | -
keep | - | - | kept stems | 336 - - - | - | - | -
turn | - | - | frass seen | 0 6 12 24 | 0 24 | pr082-pr085 | satyrid eggs + US Forest Service
food | holding | larva | unfed | 0 6 12 24 | 0 24 | pr082-pr085 | satyrid eggs + US Forest Service
food | holding | larva | L1-L2 | 24 36 40 48 | 0 24 | pr086 | Barros-Bellanda & Zucoloto 2002
food | holding | larva | L3-L4 | 24 30 36 47 | 0 24 | pr087 pr095 | University of Kansas + Barros-Bellanda & Zucoloto 2002
food | holding | larva | last instar, several that eat each other | 12 14 16 21 | 4 24 | pr093 pr118 | silkworms four meals + Daniels, Florida Museum
food | holding | larva | last instar | 12 14 16 36 | 4 24 | pr091 pr093 | silkworms four meals + Stockhoff 1991
clean | holding | larva | mould or wet walls seen | 0 12 24 - | - | pr097 | Tamil Nadu Agricultural University
clean | holding | larva | L3-L4 | 48 60 72 - | 24 72 | pr100 pr101 | Bowmanville Zoo + closed tub
clean | holding | larva | last instar | - 26 36 - | 12 24 | pr098 | Macarthur-Onslow
count | rearing | larva | - | 72 120 - - | - | pr119 | Mattoni et al.
weigh | rearing | larva | - | 168 - - - | - | - | -
weigh | rearing | pupa | - | 168 - - - | - | - | -
still | holding | larva | not moving | 48 54 72 - | 24 48 | pr105-pr106 pr127 | silkworm tables + University of Illinois
mist | holding | egg | - | 36 48 72 - | - | pr063 pr064 | satyrid eggs
mist | holding | - | kept stems | 36 48 72 - | - | pr063 pr064 | satyrid eggs
mist | holding | pupa | - | 36 48 72 - | - | - | -
mist | overwintering | pupa | early winter | 336 384 504 - | 336 336 | pr144-pr146 | raisingbutterflies.org + silkmoths.bizland.com
mist | overwintering | pupa | late winter | 168 384 504 - | 168 168 | pr144 pr145 | raisingbutterflies.org + silkmoths.bizland.com
mist | overwintering | larva | half-grown | 96 120 168 - | 0 96 | pr142 | raisingbutterflies.org
emerge late | holding | pupa | not in diapause | 504 504 672 - | 180 960 | pr129 | David & Gardiner 1962
wings | holding | adult | wings not up | 0.5 2 4 - | 0.3 3 | pr131 pr132 | Reiman Gardens + monarchjourney.com
quarantine | quarantine | - | - | 168 336 - - | - | - | -
quarantine | quarantine | - | ill | 0 0 0 - | - | - | -
quarantine | isolation | - | - | 72 - - - | - | - | -
ants | - | - | barrier | - 30 48 - | - | - | -
ants | - | - | barrier failed | 0 0 0 2 | - | - | -
lamp | - | - | lamp on | 1 2 4 - | - | - | -
balance | - | - | not seen | 0 24 72 - | - | - | -
room | - | - | room | - - - - | - | - | -
room | - | - | winter store | 168 384 - - | - | - | -
heat | - | - | warm or cold | 0 0 - - | - | pr030 pr031 | David & Gardiner 1962 + Shreeve 1986 + our estimate
heat | - | - | hot room | 0 0 2 6 | - | pr123 | York and Oberhauser 2002
heat | - | - | hot cup | 0 0 0 2 | - | pr080 | Limonta, Sulo & Locatelli 2010
heat | - | - | sun on a closed cup | 0 0 1 2 | - | - | -
heat | - | - | warm rest | 0 0 24 - | - | pr135 | University of Oulu
heat | - | - | hot rest | 0 0 0 - | - | pr126 pr134 | Frontiers in Ecology and Evolution
heat | - | - | freezing | 0 0 0 - | - | - | -
store | host store | - | - | - 120 168 - | 96 120 | pr151 | University of Kansas
solution | - | - | solution | 72 96 120 - | 0 120 | pr027 | David and Gardiner 1961
"""
NOT_OF_PROTOCOLS = {"release", "keep"}  # a limit that was logged; a chance that is reckoned


def _number(text: str) -> float | None:
    return None if text == "-" else float(text)


Key = tuple[str, ...]
TABLE: dict[Key, list[str]] = {
    tuple("" if cell == "-" else cell for cell in cells[:4]): cells[4:]
    for cells in (line.split(" | ") for line in PLAN.strip().splitlines())
}
RULES: dict[Key, Rule] = {
    (rule.check, rule.purposes[0] if rule.purposes else "", rule.stage, rule.condition): rule
    for rule in DEFAULT_PLAN
}
SOURCED = [key for key, cells in TABLE.items() if cells[2] != "-"]
UNSOURCED = [key for key in TABLE if key not in SOURCED and key[0] not in NOT_OF_PROTOCOLS]


def test_the_table_holds_each_rule_once() -> None:
    assert TABLE.keys() == RULES.keys()
    assert len(RULES) == len(DEFAULT_PLAN)


@pytest.mark.parametrize("key", TABLE, ids=" ".join)
def test_hours_are_those_of_the_table(key: Key) -> None:
    rule = RULES[key]
    hours = [_number(one) for one in TABLE[key][0].split()]
    assert [rule.every_h, rule.amber_h, rule.red_h, rule.harm_h] == hours


@pytest.mark.parametrize("key", SOURCED, ids=" ".join)
def test_the_basis_cites_what_was_found(key: Key) -> None:
    for words in TABLE[key][3].split(" + "):
        assert words in RULES[key].basis


@pytest.mark.parametrize("key", UNSOURCED, ids=" ".join)
def test_where_nothing_was_found_the_basis_says_no_source(key: Key) -> None:
    assert "no source" in RULES[key].basis


@pytest.mark.parametrize("key", SOURCED, ids=" ".join)
def test_what_is_asked_within_the_interval_found_or_the_basis_says_why_not(key: Key) -> None:
    """A check that is asked by the day or round is within one of a day; one outside calls its hours an estimate."""
    rule, found = RULES[key], TABLE[key][1]
    asked = 12.0 if rule.each_round else 24.0 if rule.daily else rule.every_h
    first = rule.amber_h if asked is None else asked
    if found != "-" and first is not None:
        shortest, longest = map(float, found.split())
        if shortest <= first <= longest:
            return
    assert "our estimate" in rule.basis


def test_danger_comes_the_sooner_the_less_hunger_they_endure() -> None:
    """Older and heavier larvae endure hunger longer (Stockhoff 1991; pr089 to pr092), counted from when the leaf is gone: those
    of L1-L2 have it for a day (`every_h`), the last instar for half of that."""
    food = {rule.condition: rule for rule in DEFAULT_PLAN if rule.check == "food"}
    endured = {name: (rule.harm_h or 0) - (rule.every_h or 0) for name, rule in food.items()}
    assert endured["L1-L2"] == endured["last instar"] == 24
    assert endured["last instar, several that eat each other"] < endured["last instar"]
