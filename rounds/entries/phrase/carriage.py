"""How animals were carried home, or lie, said on the line of those that come in: ``carried cool``,
``in a cool box``, ``in moss``. It is a note, and neither plant, place nor part of a name."""

from __future__ import annotations

from collections.abc import Sequence

from rounds.entries.phrase.reader import Reader
from rounds.entries.phrase.times import is_month, is_time_word, is_weekday
from rounds.entries.phrase.tokens import Word
from rounds.entries.slots import each

CARRIED = each(
    "carried transported travelled traveled driven flown shipped posted mailed brought cooled"
    " chilled iced refrigerated"
)
_KEPT = each("kept held stored")
_KEPT_HOW = each("cool cold dark moist warm on in at")
_VESSELS = each(
    "box coolbox bag cooler fridge esky envelope envelopes glassine glassines jar vial vials tube"
    " tubes pillbox tin car van train bus boat plane basket rucksack pocket net"
)
_BEDDING = each("moss peat soil sand coir sawdust vermiculite tissue cocoon cocoons")
_BEFORE_A_VESSEL = each(
    "a an the my her cool cold cooled insulated ice paper plastic glassine glass pill dark damp"
    " small"
)
_FIELDS = frozenset({"transport", "carriage", "carried", "carry"})  # as transport=coolbox
_WAYS = frozenset({"on ice", "by car", "by train", "by bus", "by bike", "by bicycle", "by post"})
_WAYS_HOME = frozenset({"on the way", "on the road", "on the train"})
_NONE = Word("", 0)
_DASHES = frozenset({"-", "--", "\N{EN DASH}", "\N{EM DASH}", ","})
_AROUND = f" {''.join(_DASHES)}"  # what stands around it and is no word
_ENDS = each(
    "on from caught found taken collected netted since near by at female females male males fresh"
    " worn slight wear mark permit"
)


def carriage_in(words: Sequence[Word]) -> tuple[int, int]:
    """Where among words it is said how animals were carried: the first of them, and the one behind
    the last; twice the same if it is not said."""
    for begin in range(1, len(words)):
        if (length := _begins(words, begin)) and not words[begin].quoted:
            end = begin + length
            while end < len(words) and not _has_ended(words, end):
                end += 1
            while words[begin - 1].text in _DASHES:
                begin -= 1
            return begin, end
    return 0, 0


def without_carriage(text: str, words: Sequence[Word]) -> tuple[str, str]:
    """A line without how the animals were carried, and that; '' if it is not said."""
    begin, end = carriage_in(words)
    if begin == end:
        return text, ""
    after = words[end].at if end < len(words) else len(text)
    said, before = text[words[begin].at : after], text[: words[begin].at].rstrip()
    joined = before.rstrip(", ") if said.rstrip().endswith(",") else before
    comma = ", " if said.rstrip().endswith(",") else " "
    rest = f"{joined}{comma}{text[after:]}".strip(" ,")
    return rest, said.strip(_AROUND)


def set_carriage_aside(reader: Reader) -> None:
    """Take how the animal was carried out of the words that are still to read, for the note."""
    words, spoken = reader.words[max(0, reader.place - 1) :], reader.spoken
    begin, end = carriage_in(words)
    if begin == end:
        return
    first = max(0, reader.place - 1) + begin
    after = words[end].at if end < len(words) else len(spoken)
    said = spoken[words[begin].at : after].strip(_AROUND)
    reader.set_aside(said)
    del reader.words[first : first + end - begin]


def _begins(words: Sequence[Word], place: int) -> int:
    """Of how many words the beginning of it is; 0 if it does not begin there."""
    word = words[place].lower
    if word.partition("=")[0] in _FIELDS and "=" in word:
        return 1
    following = [one.plain for one in (*words[place + 1 : place + 5], *[_NONE] * 4)]
    if word in CARRIED or (word in _KEPT and following[0] in _KEPT_HOW):
        return 1
    if f"{word} {following[0]}" in _WAYS:
        return 2
    if " ".join([word, *following[:2]]) in _WAYS_HOME:
        return 3
    if word not in ("in", "inside"):
        return 0
    if following[0] in _BEDDING or following[1] in _BEDDING:
        return 2
    length = 0
    while following[length] in _BEFORE_A_VESSEL and following[length] not in _VESSELS:
        length += 1
        if length == len(following):
            return 0
    return length + 2 if length and following[length] in _VESSELS else 0


def _has_ended(words: Sequence[Word], place: int) -> bool:
    word = words[place]
    if words[place - 1].text.endswith(",") or word.quoted or word.text == ",":
        return True
    if _begins(words, place):
        return False
    following = words[place + 1] if place + 1 < len(words) else None
    is_degrees = word.lower == "at" and following is not None and following.text[:1].isdecimal()
    is_date = word.text.isdecimal() and following is not None and is_month(following.text)
    return (
        (word.lower in _ENDS and not is_degrees)
        or is_time_word(word.text)
        or is_weekday(word.text)
        or is_date
    )
