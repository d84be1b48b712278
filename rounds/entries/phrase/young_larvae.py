"""Young larvae typed as they are seen, on kept stems, of eggs on record, or beside a female: ``S2 3
larvae``, ``S2 hatched 3``."""

from __future__ import annotations

from rounds import late
from rounds.bench.plurals import count
from rounds.bench.state import Bench, Container
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.short_forms import ShortForm
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.phrase.tokens import one_text

_LARVAE = r"(?:(?:young|new|tiny) )*(?:larvae?|caterpillars?|hatchlings?|l1)"
_SEEN = late.pattern(
    rf"(?:(?:(?P<hatched>hatched)|counted|found|seen) ?)?(?P<number>\w+)(?P<more> more\b)?"
    rf"(?: ?(?P<larvae>{_LARVAE}))?(?: (?P<did>hatched|seen|found))?"
    r"(?:,? (?:of eggs )?(?:that )?nobody (?:saw|found))?"
)
_ON_STEMS = late.pattern(
    r"\b(?:(?:on|under|in|of|from|at) )?(?:the )?"
    r"(?:(?:kept|old|held) stems|(?:kept )?lot[ =]?(?P<lot>\d+)):?"
)
_MOVED = late.of_words(rf"(?P<word>move)d? (?P<number>\w+) {_LARVAE} .*")


def young_larvae_seen(reader: Reader, form: ShortForm, container: Container) -> list[str]:
    """Such a line in full where no larva is on record: eggs that hatched, as far as they are on
    record; of kept stems hidden ones, as the stop says it; else those of the female that sits
    there. Where larvae are on record too, only those said to have hatched on kept stems, or to be
    more, are not these. Nothing of any other line.

    Raises:
        PhraseProblem: it must be said otherwise.
    """
    are_known, eggs = container.count("larva") > 0, container.count("egg")
    mothers = [] if eggs or container.held else _mothers(reader.bench, container)
    if not (eggs or container.held or mothers):
        return []
    moved = _MOVED.fullmatch(form.said)
    if not are_known and moved and (number := _number(moved["number"])):
        first = ", then ".join(_lines_of(container, number, mothers))
        there = _there(container)
        typed = one_text(reader.words[len(form.before) :])
        raise PhraseProblem(
            f"{form.code} holds no larvae on record, but {there}; first {first}, then {form.code}"
            f" {typed}"
        )
    on_stems = _ON_STEMS.search(form.said) if container.held else None
    seen = _SEEN.fullmatch(
        " ".join(_ON_STEMS.sub("", form.said).split()) if on_stems else form.said
    )
    number = _number(seen["number"]) if seen else 0
    says_hatched = seen and (seen["hatched"] or seen["did"] == "hatched")
    if not seen or not number or not (says_hatched or seen["larvae"]):
        return []
    hidden = bool(container.held) and (not eggs or on_stems is not None)
    if are_known and on_stems and not (seen["more"] or says_hatched):
        raise PhraseProblem(
            f"those on record, or more of them? As: {form.code} counted {number} larvae; or"
            f" {form.code} {number} more larvae {on_stems[0].strip()}"
        )
    if are_known and not (seen["more"] or (hidden and says_hatched)):
        return []
    if says_hatched and not hidden:
        return []
    if number > eggs > 0 and not hidden:
        lines = ", then ".join(_lines_of(container, number, mothers))
        raise PhraseProblem(f"{form.code} holds {_there(container)} on record; first {lines}")
    if len(mothers) > 1:
        raise PhraseProblem(f"of which female? As: {_lines_of(container, number, mothers)[0]}")
    if mothers:
        return ["stocked", str(number), "L1", f"brood={mothers[0]}"]
    if hidden:
        reader.on_kept_stems = True
        if on_stems and on_stems["lot"]:
            reader.fields["lots"] = (_lot_of_number(container, on_stems["lot"]),)
        else:
            _under_which(container, number, " on kept stems" * (eggs > 0))
    return ["hatched", str(number), *(["more"] if seen["more"] else [])]


def _lot_of_number(container: Container, number: str) -> str:
    """The kept lot of that number."""
    lot = next((held for held in container.held if str(held.number) == number), None)
    if lot is None:
        there = ", ".join(str(held.number) for held in container.held)
        raise PhraseProblem(f"no lot {number} is kept in {container.code}; there are: {there}")
    return lot.lot


def _under_which(container: Container, number: int, on_stems: str) -> None:
    """Ask on which of several kept stems they are, where no frass has shown it."""
    code, lots = container.code, container.held
    if len(lots) > 1 and not any(lot.frass not in ("", "none") for lot in lots):
        larvae = f"{code} {number} larvae"
        raise PhraseProblem(
            f"on which kept stems? As: {larvae} lot {lots[0].number}; or if nobody knows first:"
            f" {code} frass trace, then {larvae}{on_stems}"
        )


def _mothers(bench: Bench, container: Container) -> list[str]:
    """The females that sit there, by their codes."""
    there = [code for lot in container.lots for code in bench.may_lay(lot)]
    return [code for code in there if code in bench.founders]


def _there(container: Container) -> str:
    eggs = container.count("egg")
    return count(eggs, "egg") if eggs else "kept stems" if container.held else "a female"


def _lines_of(container: Container, number: int, mothers: list[str]) -> list[str]:
    """The lines that put so many young larvae on record there."""
    code, eggs = container.code, container.count("egg")
    if len(mothers) > 1:
        return [" or ".join(f"{code} stocked {number} larvae {mother}" for mother in mothers)]
    if number > eggs > 0 and container.held:
        return [f"{code} hatched {eggs}", f"{code} {number - eggs} more larvae"]
    recounted = [f"{code} counted {number} eggs"] if number > eggs > 0 else []
    return [*recounted, f"{code} {number} larvae"]


def _number(word: str) -> int:
    return int(digits_of(word) or 0)
