"""Kinship: how inbred the offspring of a pairing would be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.bench.plurals import count
from rounds.biology.kinship import (
    effective_number,
    inbreeding_after,
    inbreeding_of_pairing,
    inbreeding_of_two_sexes,
    is_too_close,
)
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    InputRefused,
    inputs,
)


def _pedigree(text: str) -> dict[str, tuple[str, str]]:
    pairs = []
    for part in filter(None, (one.strip() for one in text.split(","))):
        code, equals, parents = (one.strip() for one in part.partition("="))
        if not equals or "x" not in parents or not code:
            raise InputRefused(
                f"pedigree has '{part}'; write each brood as CODE=MOTHERxFATHER, comma between"
            )
        pairs.append((code, parents))
    codes, found = {code for code, _ in pairs}, {}
    for code, parents in pairs:
        if code in found:
            raise InputRefused(f"pedigree has {code} twice; a brood has one mother and one father")
        found[code] = _parents(code, parents, codes)
    return found


def _parents(code: str, text: str, known: set[str]) -> tuple[str, str]:
    """Mother and father: at an x with spaces about it, else at the one that leaves most known
    broods."""
    if text.count(" x ") == 1:
        mother, _, father = text.partition(" x ")
        return mother.strip(), father.strip()
    places = [place for place, sign in enumerate(text) if sign == "x"]
    pairs = [(text[:place].strip(), text[place + 1 :].strip()) for place in places]
    best = max(sum(one in known for one in pair) for pair in pairs)
    likely = [pair for pair in pairs if sum(one in known for one in pair) == best]
    if len(likely) > 1:
        raise InputRefused(
            f"pedigree has '{code}={text}' with {len(places)} x; put a space before and behind the"
            " one between mother and father"
        )
    return likely[0]


def _kinship(given: Mapping[str, Any]) -> CalculationResult:
    pedigree = _pedigree(given["pedigree"])
    value = inbreeding_of_pairing(pedigree, given["mother"], given["father"])
    words = [
        "0.25 is brother with sister, 0.125 half-sibs or uncle with niece, 0.0625 first cousins"
    ]
    known = {*pedigree, *(parent for parents in pedigree.values() for parent in parents)}
    words += [
        f"{code} is not in the pedigree: taken for a founder that is related to none"
        for code in dict.fromkeys((given["mother"], given["father"]))
        if code not in known
    ]
    selfed = [
        code
        for code, (mother, father) in pedigree.items()
        if mother and mother == father not in pedigree
    ]
    if given["mother"] and given["mother"] == given["father"] not in pedigree:
        selfed.append("their offspring")
    words += [
        f"{code}: one founder paired with itself (selfing), a check value and no pairing"
        for code in selfed
    ]
    words.append("founders are taken to be unrelated and not inbred")
    if is_too_close(value, given["limit"]):
        words.append(f"too close: at your limit of {given['limit']:g} or above it")
    return CalculationResult((Figure("inbreeding of their offspring", value, digits=4),), words)


def _effective(given: Mapping[str, Any]) -> CalculationResult:
    number = effective_number(males=given["males"], females=given["females"])
    generations = given["generations"]
    after = inbreeding_of_two_sexes(generations=generations, effective=number)
    ideal = inbreeding_after(generations=generations, effective=number)
    return CalculationResult(
        (
            Figure("effective number", number, digits=1),
            Figure(f"mean inbreeding after {count(generations, 'generation')}", after),
        ),
        (
            "by random pairing of so many in each generation; generation 1 are the children of"
            " unrelated founders, generation 2 the first that brother and sister may have",
            f"in an ideal population, where one may pair with itself, {ideal:.3f}: 1 - (1 - 1 / (2"
            " Ne))^t",
        ),
    )


CALCULATIONS = (
    Calculation(
        "kinship",
        "how inbred the offspring of a planned pairing would be",
        inputs("""
            pedigree text | broods as CODE=MOTHERxFATHER, comma between | A=f2xm3,B=AxA
            mother text | founder or brood
            father text | founder or brood
            limit 0..1 = 0.125 | from which on it is pointed out
            """),
        _kinship,
        "kinship of the parents: the mean of that of one with the other's parents, back to"
        " unrelated founders",
        "Wright 1922, Am. Nat. 56:330-338; Malecot 1948",
        "--pedigree A=f2xm3,B=AxA --mother B --father B",
    ),
    Calculation(
        "effective-number",
        "effective number of breeders, and the inbreeding to come",
        inputs("""
            males count 1..1000000 | that breed
            females count 1..1000000 | that breed
            generations count 0..1000 = 5 | ahead
            """),
        _effective,
        "Ne = 4 m f / (m + f); F(t) = F(t-1) + (1 - 2 F(t-1) + F(t-2)) / (2 Ne) from"
        " F(0) = F(1) = 0",
        "Wright 1931, Genetics 16:97-159",
        "--males 2 --females 10",
    ),
)
