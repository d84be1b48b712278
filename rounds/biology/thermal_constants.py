"""Published thermal constants by species and stage. A relative's values never pass for the species' own.

Each row was read in the abstract of its source; authors and pages of some are from memory. Values differ between
populations, diets and day lengths by some degrees and tens of degree-days: they begin a forecast, own broods better it.
"""

from __future__ import annotations

from dataclasses import dataclass

SPREAD = 0.10  # of individuals within a stage, as a share of the constant; our estimate, no source
UNCERTAINTY = 0.08  # of the constant itself between populations, as a share; our estimate, no source


@dataclass(frozen=True, slots=True)
class Constants:
    """Lower threshold [C] and thermal constant [C day] of a stage, whose they are, and who says so."""

    species: str
    family: str
    stage: str
    lower_c: float
    constant_dd: float
    source: str
    note: str = ""


_GANESA = "Lepidoptera Science 76(2):67-73, 2025"
_DIVINUS = "Koda & Nakamura, Entomological Science, doi 10.1111/j.1479-8298.2009.00355.x"
_SLOVAKIA = "Bartekova & Praslicka 2006, Plant Protect. Sci. 42(4):135-138"
_VIRIPLACA = "Cui, Zhu, Bi, Xu, Gao & Shi 2018, J. Econ. Entomol. 111(4)"
_HIBISCI = "Judd et al. 1994, Can. Entomol. 126(5):1263-1275"
_SUBJUNCTA = "Doerr, Brunner & Jones 2002, Environ. Entomol. 31(6):995-999"
CONSTANTS: tuple[Constants, ...] = (
    Constants("Panchala ganesa", "Lycaenidae", "egg", 10.0, 61.67, _GANESA),
    Constants("Panchala ganesa", "Lycaenidae", "larva", 10.64, 256.87, _GANESA),
    Constants("Panchala ganesa", "Lycaenidae", "pupa", 11.32, 162.61, _GANESA),
    Constants("Shijimiaeoides divinus", "Lycaenidae", "egg", 9.6, 82.6, _DIVINUS),
    Constants("Shijimiaeoides divinus", "Lycaenidae", "larva", 10.7, 306.8, _DIVINUS),
    Constants("Atrophaneura alcinous", "Papilionidae", "larva", 10.8, 230.4,
              "Kim, Hong, Park, Lee & Kim 2012, Int. J. Indust. Entomol. 25:159-162", "hatching to pupation"),
    Constants("Delias nigrina", "Pieridae", "larva and pupa", 9.0, 494.0, "Braby & Lyonns 2003", "first instar to adult"),
    Constants("Plutella xylostella", "Plutellidae", "egg to adult", 6.3, 312.5,
              "Marchioro & Foerster 2011, Neotrop. Entomol. 40", "Brazil"),
    Constants("Plutella xylostella", "Plutellidae", "egg to adult", 7.06, 263.74,
              "Golizadeh, Kamali, Fathipour & Abbasipour 2007, Insect Science", "Iran, on cauliflower"),
    Constants("Helicoverpa armigera", "Noctuidae", "egg", 14.83, 64.1, _SLOVAKIA),
    Constants("Helicoverpa armigera", "Noctuidae", "larva", 11.34, 344.83, _SLOVAKIA),
    Constants("Helicoverpa armigera", "Noctuidae", "pupa", 8.18, 222.22, _SLOVAKIA),
    Constants("Heliothis viriplaca", "Noctuidae", "egg", 10.53, 42.9, _VIRIPLACA),
    Constants("Heliothis viriplaca", "Noctuidae", "larva", 12.34, 239.68, _VIRIPLACA),
    Constants("Heliothis viriplaca", "Noctuidae", "pupa", 5.6, 309.19, _VIRIPLACA),
    Constants("Orthosia hibisci", "Noctuidae", "egg", 3.4, 99.0, _HIBISCI),
    Constants("Orthosia hibisci", "Noctuidae", "L1", 4.7, 44.2, _HIBISCI),
    Constants("Orthosia hibisci", "Noctuidae", "L2", 2.9, 51.5, _HIBISCI),
    Constants("Orthosia hibisci", "Noctuidae", "L3", 3.6, 52.4, _HIBISCI),
    Constants("Orthosia hibisci", "Noctuidae", "L4", 3.5, 57.1, _HIBISCI),
    Constants("Orthosia hibisci", "Noctuidae", "L5", 3.7, 69.9, _HIBISCI),
    Constants("Orthosia hibisci", "Noctuidae", "pupa", 2.8, 61.3, _HIBISCI),
    Constants("Lacanobia subjuncta", "Noctuidae", "egg", 6.6, 75.0, _SUBJUNCTA),
    Constants("Lacanobia subjuncta", "Noctuidae", "larva", 6.7, 476.0, _SUBJUNCTA),
    Constants("Lacanobia subjuncta", "Noctuidae", "pupa", 4.9, 312.0, _SUBJUNCTA),
    Constants("Streblote panda", "Lasiocampidae", "egg to adult", 11.3, 1000.0,
              "Calvo & Molina 2005, Span. J. Agric. Res."),
    Constants("Spodoptera litura", "Noctuidae", "egg to adult", 7.5, 587.88, "Maharjan et al. 2023, Insects 14(5):412",
              "on soybean"),
    Constants("Danaus plexippus", "Nymphalidae", "egg to adult", 11.5, 351.0,
              "Zalucki 1982, J. Aust. ent. Soc. 21:241-246, from memory", "give or take 1 C and 20 degree-days"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Found:
    """Constants that were found for a species, and whose they are: its own, or a relative's."""

    constants: Constants
    whose: str

    @property
    def words(self) -> str:
        """Said on screen beside every number that rests on them."""
        own = f"{self.constants.species}'s own" if self.whose == "own" else f"NOT its own: those of {self.constants.species}"
        return f"{own}, {self.constants.source}{f' ({self.constants.note})' if self.constants.note else ''}"


def constants_for(species: str, stage: str, family: str = "") -> Found | None:
    """The constants of that species and stage; else of one in its genus, else in its family, and whose they are."""
    wanted = [one for one in CONSTANTS if one.stage == stage]
    own = next((one for one in wanted if species.startswith(one.species)), None)
    if own:
        return Found(own, "own")
    genus = species.split(" ")[0] if species else ""
    near = next((one for one in wanted if genus and one.species.split(" ")[0] == genus), None)
    if near:
        return Found(near, "genus")
    far = next((one for one in wanted if family and one.family == family), None)
    return Found(far, "family") if far else None
