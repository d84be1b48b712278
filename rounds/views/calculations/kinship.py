"""Kinship: how inbred the offspring of a pairing would be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rounds.biology.kinship import effective_number, inbreeding_after, inbreeding_of_pairing
from rounds.views.calculations.frame import (
    Calculation,
    CalculationResult,
    Figure,
    Input,
    InputRefused,
)


def _pedigree(text: str) -> dict[str, tuple[str, str]]:
    found = {}
    for part in filter(None, (one.strip() for one in text.split(","))):
        code, equals, parents = part.partition("=")
        mother, cross, father = parents.partition("x")
        if not equals or not cross or not code.strip():
            raise InputRefused(
                f"pedigree has '{part}'; write each brood as CODE=MOTHERxFATHER, comma between"
            )
        found[code.strip()] = (mother.strip(), father.strip())
    return found


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
    if value > given["limit"]:
        words.append(f"above your limit of {given['limit']:g}")
    return CalculationResult(
        (Figure("inbreeding of their offspring", value, digits=4),),
        tuple(words),
        "kinship of the parents: the mean of that of one with the other's parents, back to"
        " unrelated founders",
        "Wright 1922, Am. Nat. 56:330-338; Malecot 1948",
    )


def _effective(given: Mapping[str, Any]) -> CalculationResult:
    number = effective_number(males=given["males"], females=given["females"])
    after = inbreeding_after(generations=given["generations"], effective=number)
    return CalculationResult(
        (
            Figure("effective number", number, digits=1),
            Figure(f"mean inbreeding after {given['generations']} generations", after),
        ),
        (),
        "Ne = 4 m f / (m + f); F = 1 - (1 - 1 / (2 Ne))^t",
        "Wright 1931, Genetics 16:97-159",
    )


CALCULATIONS = (
    Calculation(
        "kinship",
        "how inbred the offspring of a planned pairing would be",
        (
            Input(
                "pedigree",
                "broods as CODE=MOTHERxFATHER, comma between",
                "text",
                example="A=f2xm3,B=AxA",
            ),
            Input("mother", "founder or brood", "text"),
            Input("father", "founder or brood", "text"),
            Input("limit", "from which on you want to be told", low=0, high=1, default=0.125),
        ),
        _kinship,
        "--pedigree A=f2xm3,B=AxA --mother B --father B",
    ),
    Calculation(
        "effective-number",
        "effective number of breeders, and the inbreeding to come",
        (
            Input("males", "that breed", "count", low=1, high=1_000_000),
            Input("females", "that breed", "count", low=1, high=1_000_000),
            Input("generations", "ahead", "count", low=0, high=1000, default=5),
        ),
        _effective,
        "--males 2 --females 10",
    ),
)
