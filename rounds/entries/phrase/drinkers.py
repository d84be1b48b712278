"""Who drank, and who would not: ``drank 2, 1 refused``, ``W1 drank, W2 did not``, ``drank
unmarked``."""

from __future__ import annotations

from rounds.entries.entry_factory import kind_name
from rounds.entries.phrase.reader import JOINS, PhraseProblem, Reader
from rounds.entries.phrase.synonyms import digits_of
from rounds.entries.phrase.tokens import Word
from rounds.entries.slots import each
from rounds.entries.which_animals import UNMARKED

_REFUSED = each("refused refuses not no didnt didn't wouldnt wouldn't hasnt hasn't nothing none")
_HELPS = each("did would has does")  # 'W2 did not'
_DRANK = each("drank fed drinks sipped")
_DRINK = _DRANK | each("drink drunk drinking feed feeding sip anything")


def some_refused(reader: Reader) -> None:
    """Take how many refused out of a line that says who drank."""
    words = reader.words
    said = [word.lower.rstrip(",") for word in words]
    place = next((at for at in range(1, len(said)) if said[at] in _REFUSED), 0)
    who = place - 1 - (place > 1 and said[place - 1] in _HELPS)
    if not place or not _DRANK & {*said[:who]} or any(word.quoted for word in words):
        return
    animal = reader.animal_of(words[who])
    number = digits_of(said[who])
    if not animal and not int(number or 0):
        return
    before = words[:who]
    while before and before[-1].text.casefold() in JOINS | {"but"}:
        del before[-1]
    if before[-1].text.endswith(","):
        before[-1] = Word(before[-1].text.rstrip(","), before[-1].at)
    reader.refused = animal or int(number)
    place += 1
    while place < len(words) and said[place] in _DRINK:
        place += 1
    reader.words = before + words[place:]


def name_the_unmarked(reader: Reader) -> None:
    """Put the code of the only one without a mark in the place of that word; of several each that
    drank is named, for each has a hunger of its own.

    Raises:
        PhraseProblem: there are several, or none.
    """
    word = next((one for one in reader.words[reader.place :] if one.lower == UNMARKED), None)
    container = reader.bench.at(str(reader.fields.get("container", "")))
    if word is None or word.quoted or container is None:
        return
    verb = kind_name(reader.kind)
    adults = [code for lot in container.lots_of("adult") for code in lot.codes]
    codes = reader.bench.unmarked(code for code in adults if code in reader.bench.founders)
    if not codes:
        raise PhraseProblem(f"none in {container.code} is unmarked on record", word)
    if len(codes) > 1:
        raise PhraseProblem(
            f"which of them? As: {codes[0]} {verb}; if each did: {' '.join(codes)} {verb}", word
        )
    reader.words[reader.words.index(word)] = Word(codes[0], word.at)
