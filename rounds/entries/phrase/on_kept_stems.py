"""Kept stems in a keeper's own words: ``old stems searched 5``, ``frass under the old stems``,
``cut host, old stems kept``, ``violet changed, kept in S2``."""

from __future__ import annotations

from itertools import takewhile

from rounds import late
from rounds.bench.codes import like_codes
from rounds.bench.kept_lots import ALL, KEPT, kept_by_words
from rounds.entries.phrase.reader import PhraseProblem, Reader
from rounds.entries.phrase.tokens import Word, one_text
from rounds.entries.phrase.verbs import EGGS, NONE, head_at, number_of
from rounds.entries.phrase.vocabulary import INSIDE
from rounds.entries.registry import KIND_BY_NAME
from rounds.entries.schema import KindSchema, describe
from rounds.entries.slots import PLANT_THERE, each

_LONGEST = 4  # words, as 'the old wood violet'
_ON = frozenset({"on", "under", "of", "in", "from", "at", "with"})
_LARVAE = ("counted", "hatched")
_FRESH = frozenset({"cut", "fresh", "new", "freshly"})
_PLANT = frozenset({"host", "plant", "food", "leaf", "leaves", "stem", "stems", "sprigs"})
_KEPT_OR_OLD = frozenset({"kept", "held", "old", "stems", "sprigs", "moved", "put", "go", "went"})
_NOT_KNOWN = late.pattern(
    r"(?:under )?(?:which )?(?:lots? )?(?:is )?(?:not known|unknown)(?: which)?(?: lot)?\b"
)
_BECAME = frozenset({"kept", "held", "discarded", "binned", "out"})


def _kept_stems_out(reader: Reader) -> bool:
    """``host out kept stems to E4``: those that are kept there, not those that stand."""
    container = reader.bench.at(str(reader.fields.get("container", "")))
    text = reader.said(0, 2)
    if container is None or not container.held or kept_by_words(text) != KEPT:
        return False
    reader.fields["lots"] = (ALL,)
    reader.place += 2
    return True


def kept_stems_first(reader: Reader) -> None:
    """Put kept stems behind what happened with them: ``old stems searched 5``, ``old stems 5
    eggs``."""
    found = head_at(reader, 2) if reader.said(0, 1) == "lot" else None
    if found and number_of(reader.ahead(1)) and describe(KIND_BY_NAME[found.kind]).field("lots"):
        begin = reader.place  # 'lot 2 frass plain'
        reader.words[begin:] = [*reader.words[begin + 2 :], *reader.words[begin : begin + 2]]
        return
    _ask_of_their_state(reader)
    length = _length_at(reader, 0)
    if not length or not _is_search(reader, length):
        return
    begin, end = reader.place, reader.place + length
    stems = reader.words[begin:end]
    reader.words[begin:] = [*reader.words[end:], Word("on", stems[0].at), *stems]


def _ask_of_their_state(reader: Reader) -> None:
    """Ask whether kept stems that are said to be gone or spoiled went for it: ``lot 1 gone``.

    Raises:
        PhraseProblem: how it is said.
    """
    words = reader.words[reader.place :]
    container = reader.bench.at(reader.code_of(reader.words[0]))
    if container is None or not container.held or not words or words[-1].lower not in _SPOILED:
        return
    digit = reader.said(1, 1) if reader.said(0, 1) == "lot" else ""
    kept = {str(held.number): f"lot {held.number}" for held in container.held}
    which = kept.get(digit, "")
    if not (which or kept_by_words(reader.said(0, 2)) == KEPT):
        return
    code, said = container.code, one_text(words)
    if not which:
        which = "kept stems" if len(kept) == 1 else next(iter(kept.values()))
    raise PhraseProblem(
        f"gone from the watch, or a note? As: {code} {which} discarded; {code} note {said}",
        words[-1],
    )


_SPOILED = each("gone lost mouldy moldy mould rotten rotting limp dry dried wilted brown bad")


def kept_are_stems(reader: Reader) -> None:
    """Read ``searched kept 0`` as of the kept stems, where some are kept."""
    later = next(filter(None, map(reader.code_of, reader.words)), "")
    container = reader.bench.at(str(reader.fields.get("container", later)))
    for place in range(reader.place, len(reader.words)):
        word, named = reader.words[place], kept_by_words(reader.said(place - reader.place, 2))
        if container and container.held and word.lower in ("kept", "held") and not named:
            reader.words.insert(place + 1, Word("stems", word.at))
            return


def fresh_for_the_old(reader: Reader) -> bool:
    """Read ``cut host, old stems kept`` up to what became of the old: a plant that was changed."""
    steps = 0
    while reader.said(steps, 1) in _FRESH:
        steps += 1
    if not steps or reader.said(steps, 1) not in _PLANT:
        return False
    later = [word.lower for word in reader.words[reader.place + steps + 1 :]]
    if "old" not in later or not _BECAME & set(later):
        return False
    reader.fields |= {"plant": PLANT_THERE, "changed": True}
    reader.place += steps + 1
    return True


def read_where_the_old_go(reader: Reader, described: KindSchema, word: Word) -> bool:
    """Into which container the old stems go where the plant was changed: ``violet changed, kept in
    S2``, ``host in violet, old stems to S2``.

    Raises:
        PhraseProblem: it does not stand.
    """
    before = reader.words[reader.place - 1].lower.rstrip(",")
    into = reader.ahead(1)
    code = reader.code_of(into)
    is_old = before in _KEPT_OR_OLD and word.plain in INSIDE
    of_old = reader.fields.get("changed") or any(one.lower == "old" for one in reader.words)
    if described.name != "host in" or not (is_old and into and of_old):
        return False
    if not code and like_codes(into.text):
        line = one_text(reader.words[: reader.place + 1])
        raise PhraseProblem(f"no container is called {into.text}; as: {line} new {into.text}", into)
    if not code:
        return False
    reader.fields["held_in"] = code
    reader.place += 2
    return True


def read_kept_stems(reader: Reader, described: KindSchema, word: Word) -> bool:
    """Under which lots frass was; larvae on them were eggs that nobody found, and are said
    otherwise.

    Raises:
        PhraseProblem: how.
    """
    if described.name == "host out" and not reader.loose and not word.quoted:
        return _kept_stems_out(reader)
    if described.name == "frass" and (not_known := _NOT_KNOWN.match(_plain(reader))):
        reader.place += len(not_known[0].split())
        return True
    has_lots = described.field("lots") and not described.field("where")
    if not (has_lots or described.name in _LARVAE) or described.field("fate") or word.quoted:
        return False
    step = 1 if word.lower in _ON else 0
    length = _length_at(reader, step)
    if not length:
        return False
    if described.name in _LARVAE:
        raise PhraseProblem(_of_larvae(reader), word)
    reader.fields.setdefault("lots", (_named_at(reader, step, length),))
    reader.place += step + length
    return True


def _plain(reader: Reader) -> str:
    """The words that are still to read, in small letters, as far as none is quoted."""
    unquoted = takewhile(lambda one: not one.quoted, reader.words[reader.place :])
    return " ".join(one.lower for one in unquoted)


def _of_larvae(reader: Reader) -> str:
    code = str(reader.fields.get("container", "K4"))
    container = reader.bench.at(code)
    lot = container.held[0].number if container and container.held else 1
    number = reader.fields.get("number", 1)
    return f"young larvae on kept stems, as: {code} hatched {number} lot {lot}"


def _named_at(reader: Reader, steps: int, length: int) -> str:
    return kept_by_words(reader.said(steps, length), _plants(reader))


def _length_at(reader: Reader, steps: int) -> int:
    """How many words from there on name kept stems; 0 where they do not."""
    plants = _plants(reader)
    return next(
        (
            length
            for length in range(_LONGEST, 1, -1)
            if kept_by_words(reader.said(steps, length), plants)
        ),
        0,
    )


def _plants(reader: Reader) -> set[str]:
    code = str(reader.fields.get("container", "")) or reader.code_of(reader.words[0])
    container = reader.bench.at(code)
    return {held.plant for held in container.held} if container else set()


def _is_search(reader: Reader, steps: int) -> bool:
    """Whether a search for eggs or a look for frass is said from that word on."""
    found, word = head_at(reader, steps), reader.ahead(steps)
    if found is not None and found.kind in ("searched", "frass"):
        return True
    none = word is not None and word.plain in NONE
    number = number_of(word) or none
    return reader.said(steps + 1 if number else steps, 1) in EGGS
