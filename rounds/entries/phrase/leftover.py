"""What is left when a line is read: loose words, a note, and what is still wanting."""

from __future__ import annotations

from itertools import pairwise

from rounds import late
from rounds.bench.codes import INSTAR, like_codes, some_of
from rounds.bench.cuttings import standing_of, twice_given
from rounds.bench.plants_of import plants_for, taxa_in
from rounds.bench.plurals import PLURALS as PLURAL_OF
from rounds.bench.thermal_needs import instars_of
from rounds.entries.base import BARRIERS_LOOKED_AT
from rounds.entries.names import known_plants, known_species, name_and_rest
from rounds.entries.pairing import only_pair, with_whom
from rounds.entries.phrase.asking import did_she_drink
from rounds.entries.phrase.beginning import begins_at
from rounds.entries.phrase.foreign_words import CATCHES, may_be_a_plant, plant_behind
from rounds.entries.phrase.reader import (
    JOINS,
    PhraseProblem,
    Reader,
    as_one_name,
    grown_and_moved,
    one_a_line,
)
from rounds.entries.phrase.same_again import code_is_there
from rounds.entries.phrase.times import (
    is_bare_number,
    is_date_in_figures,
    is_day_of_month,
    is_month,
)
from rounds.entries.phrase.tokens import STOPS, Word, one_text
from rounds.entries.phrase.values import PLURALS, all_choices, short_name
from rounds.entries.phrase.verbs import begins_what_happened
from rounds.entries.phrase.vocabulary import (
    AFTER_DASHES,
    AFTER_DASHES_OF_NO_CONTAINER,
    INTO,
    PREPOSITIONS,
)
from rounds.entries.piecewise import typed as as_typed
from rounds.entries.place_words import reads_like_a_place
from rounds.entries.plant_parts import goes_with_a_part
from rounds.entries.registry import KIND_BY_NAME, FounderIntake
from rounds.entries.schema import KindSchema
from rounds.entries.slots import FOODS, PLANT_THERE, each

HOUR_S = 3600


def place_loose(reader: Reader, described: KindSchema) -> None:
    while described.slots.is_name and reader.loose and reader.loose[-1].text in JOINS:
        del reader.loose[-1]
    if described.name == "counted" and _of_the_only_sex(reader):
        return
    if not reader.loose:
        return
    if reader.fields.get("plant") == PLANT_THERE:  # 'new leaf Lotus': it is named
        del reader.fields["plant"]
    open_fields = [name for name in described.slots.words if name not in reader.fields]
    if not open_fields and (tail := _says_how(reader, described)):
        reader.set_aside(tail)
        return
    written = [word for word in reader.loose if word.double]
    if not open_fields:
        word = reader.loose[0]
        if described.name in ("counted", "changed") and word.lower in (
            "female",
            "females",
            "male",
            "males",
        ):
            here, number = reader.fields.get("container", "P4"), reader.fields.get("number", 1)
            container = reader.bench.at(str(here))
            adults = container.lots_of("adult") if container else []
            if adults and all(lot.sex for lot in adults):
                raise PhraseProblem(
                    f"the sex of all that are there is known; all of them, as: {here} counted"
                    f" {number} adults",
                    word,
                )
            raise PhraseProblem(
                f"to say the sex of those that are there: {here} sexed {number} {word.text}", word
            )
        if described.name == "moved" and word.lower in INTO and not reader.fields.get("to"):
            raise PhraseProblem(_where_to(reader), word)
        if described.name == "moved" and like_codes(word.text):
            raise PhraseProblem(
                f"no container is called {word.text}; there are"
                f" {some_of(sorted(reader.codes.values()))}",
                word,
            )
        if described.field("number") and word.lower in _NOT_COUNTED:
            here, verb = reader.fields.get("container", "E4"), described.name
            raise PhraseProblem(
                f"how many? As: {here} {verb} 3; or as a note: {here} note {word.text} {verb}", word
            )
        if described.name == "moved" and not reader.new and word.lower in _PARTS_OF_A_TREE:
            here, typed = reader.fields.get("container", "S2"), reader.words
            rest = " ".join(one.text for one in typed if reader.code_of(one) != here)
            raise PhraseProblem(
                f"what stands there stays on record; how it looks, as: {here} host seen fresh; or"
                f" as a note: {here} note {rest}",
                word,
            )
        if reader.new and (shelf := _shelf_named(reader)):
            raise PhraseProblem(_sets_up_there(reader, shelf), word)
        if described.name == "moulted" and INSTAR.match(word.lower):
            raise PhraseProblem(_into_which_instar(reader), word)
        near = late.nearest(word.lower, all_choices(described), 3, 0.6)
        here = reader.fields.get("container", "K4")
        counts = any(one.lower in ("counted", "count") for one in reader.words)
        if described.name == "counted" and not counts and {"stage", "number"} <= {*reader.fields}:
            raise PhraseProblem(_is_it_a_count(reader, word), word, ("looked", "note"))
        if begins_what_happened(reader, reader.words.index(word) - reader.place):
            into = next((one for one in reader.words if _is_behind(reader, word, one)), None)
            kind = KIND_BY_NAME[described.name]
            if into and kind.grows_from:
                raise grown_and_moved(reader, kind, into)
            raise one_a_line(reader, word)
        if described.name == "drank" and word.lower in FOODS:
            food = as_one_name(" ".join(one.text for one in reader.words if one.at >= word.at))
            raise did_she_drink(here, food, word)
        if several := _several_named(reader, described):
            raise PhraseProblem(f"several are named first, as: {several}", word)
        if begins_at(reader, word) or reader.animal_of(word):
            raise one_a_line(reader, word)
        takes = ", ".join(
            short_name(described, field.name)
            for field in described.fields
            if field.name != "container"
        )
        raise PhraseProblem(
            f"'{word.text}' does not fit '{described.name}'; it takes {takes or 'nothing more'}"
            + _as_note(reader, whole=described.name == "counted" and not counts) * (not near),
            word,
            near,
        )
    has_part = described.field("part") is not None
    if open_fields == ["plant"] and len(plants := _plants(reader.loose, has_part=has_part)) > 1:
        reader.fields["plant"] = plants
        return
    _ends_with_its_quotes(reader.loose)
    if described.name == "founder" and "code" in open_fields:
        code_is_there(reader, reader.loose)
    if written:
        reader.as_written.add(open_fields[min(1, len(open_fields) - 1)])
    if len(open_fields) == 1:
        reader.fields[open_fields[0]] = one_text(reader.loose).strip().rstrip(",")
        return
    reader.fields[open_fields[0]] = reader.loose[0].text.rstrip(",")
    rest = one_text(reader.loose[1:]).strip()
    if rest:
        reader.fields[open_fields[1]] = rest


def _where_to(reader: Reader) -> str:
    here = str(reader.fields.get("container", "R1"))
    other = next((one for one in reader.codes.values() if one != here), "R9")
    number = reader.fields.get("number", "all")
    new = "" if reader.bench.at(other) else "new "
    return f"to which container? As: {here} moved {number} to {new}{other}"


def _says_how(reader: Reader, described: KindSchema) -> str:
    """The loose words of a line that say only how it was, ``drank well``, or, of what was seen on
    animals, where on what or in the course of what, ``hanging from the lid``, ``died in moult``:
    they are a note beside it; '' for any others."""
    typed = sorted(reader.words, key=lambda one: one.at)
    begin = typed.index(reader.loose[0])
    while begin and typed[begin - 1].lower in _ARTICLES:
        begin -= 1
    begin -= begin > 0 and typed[begin].lower not in _LEADS and typed[begin - 1].lower in _LEADS
    tail = typed[begin:]
    said = [one.lower.rstrip(STOPS) for one in tail]
    words = one_text(tail)
    if _MANNER.issuperset(said):
        return words
    is_course = said[0] in _LEADS or (len(said) == 1 and said[0].endswith("ing"))
    is_seen = described.name in _SEEN_ON_ANIMALS and is_course
    names = any(reader.code_of(one) or reader.animal_of(one) or one.quoted for one in tail)
    says_else = names or _DAY_PARTS & {*said} or any(map(_SIGNS.__contains__, words))
    return words if is_seen and not says_else else ""


_ARTICLES = each("a an the its her his their")
_MANNER = _ARTICLES | each(
    "well badly lightly slightly heavily gently slowly quickly briefly greedily hungrily again lot"
    " little bit long twice thoroughly properly quietly"
)
_LEADS = PREPOSITIONS | each("during while after before above below behind between against through")
_DAY_PARTS = each("night morning evening afternoon")  # whose hour is asked
_SIGNS = frozenset("0123456789=")
_SEEN_ON_ANIMALS = each(
    "died,looked,drank,refused,hatched,moulted,pupated,emerged,misted,barrier", by=","
)
_NOT_COUNTED = frozenset({"few", "some", "several", "many"})
_PARTS_OF_A_TREE = frozenset({"branch", "twig", "bough", "spray"})


def _several_named(reader: Reader, described: KindSchema) -> str:
    """``drank W3 W4`` with both named first, as it is read; '' where more stands behind the verb
    than who it was."""
    first = reader.fields.get("female")
    others = [reader.animal_of(one) for one in reader.loose]
    behind = [one for one in reader.words if one.lower not in JOINS and reader.animal_of(one)]
    if not first or not all(others) or len(behind) != len(others) + 1:
        return ""
    return f"{' '.join((str(first), *others))} {described.name}"


def _shelf_named(reader: Reader) -> str:
    """The shelf, or the place that may be one, that the loose words name; '' for none."""
    loose = [one for one in reader.loose if one.lower not in PREPOSITIONS | {"shelf", "the", "a"}]
    name = one_text(loose).rstrip(STOPS)
    is_place = reads_like_a_place(f"in {name}", known_plants(reader.bench))
    return reader.shelves.get(name.casefold(), "") or name * is_place


def _sets_up_there(reader: Reader, shelf: str) -> str:
    """How it is said where a new cup stands that some are put into."""
    container = reader.bench.at(str(reader.fields.get("container", "")))
    purpose = container.purpose if container else usual_purpose(reader.new[0])
    typed = sorted(reader.words, key=lambda one: one.at)
    line = " ".join(one.text for one in typed if one not in reader.loose)
    line = line.removesuffix(" shelf").removesuffix(" on").rstrip(STOPS)
    lines = [f"{code} set up {purpose} shelf={as_typed(shelf)}" for code in reader.new]
    return f"where it stands is said first, as: {'; '.join(lines)}; then {line}"


def _is_behind(reader: Reader, moved: Word, word: Word) -> bool:
    """Whether a word is the container that they are moved to."""
    return moved.lower in _MOVED and word.at > moved.at and bool(reader.code_of(word))


_MOVED = frozenset({"move", "moved", "put"})


def _is_it_a_count(reader: Reader, word: Word) -> str:
    """What is asked of ``2 eggs shrivelled``: two of them are no count of all."""
    here = reader.fields.get("container", "E1")
    number, stage = reader.fields.get("number", 1), reader.fields["stage"]
    name = stage if number == 1 else PLURAL_OF[stage]
    typed = sorted(reader.words, key=lambda one: one.at)
    text = " ".join(one.text for one in typed if reader.code_of(one) != here)
    behind = " ".join(one.text for one in typed if one.at >= word.at)
    container = reader.bench.at(str(here))
    if container is None or not container.count(stage):
        return f"{here} holds no {PLURAL_OF[stage]} on record; as a note: {here} note {text}"
    if number < container.count(stage):  # a count of fewer would make the others missing
        return f"all that are there, or {number} of them? As: {here} note {text}"
    return f"are they all? As: {here} counted {number} {name} -- {behind}; or {here} note {text}"


def _as_note(reader: Reader, *, whole: bool) -> str:
    """How words that do not fit are said as a note behind the rest of the line, or all of it is;
    '' where the line would be refused for its time."""
    typed = sorted(reader.words, key=lambda one: one.at)
    here = str(reader.fields.get("container", ""))
    container = reader.bench.at(here)
    if container and reader.at and reader.at < container.since:
        return ""
    if whole and here:
        text = " ".join(one.text for one in typed if reader.code_of(one) != here)
        return f"; as a note: {here} note {text}"
    rest = [one for one in typed if one not in reader.loose]
    while rest and rest[-1].text.casefold() in JOINS:
        del rest[-1]
    led = rest.pop().text if rest and rest[-1].lower in PREPOSITIONS else ""  # 'by' of 'by KM'
    before = one_text(rest).rstrip(STOPS)
    note = " ".join([led] * bool(led) + [one.text for one in typed if one in reader.loose])
    return f"; as a note beside it: {before} -- {note}"


def _of_the_only_sex(reader: Reader) -> bool:
    """``counted 2 females`` where all adults that are there are females: the adults are counted."""
    sex = " ".join(word.lower for word in reader.loose).removesuffix("s")
    container = reader.bench.at(str(reader.fields.get("container", "")))
    if container is None or sex not in ("female", "male"):
        return False
    if {lot.sex for lot in container.lots_of("adult")} != {sex}:
        return False
    if reader.fields.setdefault("stage", "adult") != "adult":
        return False
    reader.loose.clear()
    return True


def _plants(loose: list[Word], *, has_part: bool) -> tuple[str, ...]:
    """The plants named one after the other, ``violet and vetchling``, ``violet, vetchling``, each
    with a part of its own where the line may say one: ``violet leaf and vetchling buds``."""
    names: list[list[str]] = [[]]
    for word in loose:
        if word.plain in JOINS:
            names.append([])
            continue
        if word.quoted:
            names[-1].append(f'"{word.text}"' if word.double else word.text)
        elif has_part or not (names[-1] and goes_with_a_part(word.text)):
            names[-1].append(word.text.rstrip(","))
        if not word.quoted and word.text.endswith(","):
            names.append([])
    return tuple(" ".join(name) for name in names if name)


def _ends_with_its_quotes(loose: list[Word]) -> None:
    """A name in quotes is whole: a word behind it is no part of it.

    Raises:
        Trouble: which word stands behind one.
    """
    for name, behind in pairwise(loose):
        if name.quoted and not behind.quoted:
            raise PhraseProblem(
                f"'{behind.text}' stands behind a name in quotes and is no part of it; put it into"
                " the quotes, or say it after --",
                behind,
            )


_BEHIND_NAME = 4  # words: a container, founder, a code, a genus


def end_of_name(reader: Reader, described: KindSchema) -> str:
    """Put what stands behind the name of a species apart, and return it: it is a note."""
    kind = KIND_BY_NAME[described.name]
    field = kind.names_species
    typed = reader.fields.get(field)
    if not field or not isinstance(typed, str) or field in reader.as_written:
        return ""
    reader.fields[field], behind = name_and_rest(typed)
    if kind is FounderIntake and behind[:1].isupper() and "place" not in reader.fields:
        _ask_of_place(reader, behind)
    if may_be_a_plant(behind):
        _ask_of_plant(reader, behind)
    _ask_of_plant_behind_the_place(reader)
    return behind


def _ask_of_plant_behind_the_place(reader: Reader) -> None:
    """Ask whether the last words of a place are the plant that the animals are on.

    Raises:
        PhraseProblem: they may be one.
    """
    field = next((name for name in ("place", "origin") if reader.fields.get(name)), "")
    place = str(reader.fields.get(field, ""))
    behind = plant_behind(place)
    if not behind or any(word.quoted and place in word.text for word in reader.words):
        return
    typed = sorted(reader.words, key=lambda one: one.at)
    line = " ".join(f'"{one.text}"' if one.quoted else one.text for one in typed)
    if place not in line:
        return  # as place="Lohe, upper part", which is one word
    without = line.replace(f", {behind}", "", 1)
    quoted = line.replace(place, f'"{place}"', 1)
    code = reader.fields.get("container", "K4")
    raise PhraseProblem(
        f"'{behind}': the plant they are on, part of the place, or a note? As: {without}; then"
        f" {code} host in {behind}; or {quoted}; or {without} -- {behind}",
        reader.words[-1],
    )


def _ask_of_plant(reader: Reader, behind: str) -> None:
    """Ask whether words behind a name are the plant that the animals are on, which a note would
    lose.

    Raises:
        PhraseProblem: always.
    """
    words = [f'"{word.text}"' if word.quoted else word.text for word in reader.words]
    line = " ".join(words).replace(f", {behind}", "", 1)
    code = reader.fields.get("container", "K4")
    raise PhraseProblem(
        f"'{behind}': the plant they are on, or a note? As: {line}; then {code} host in {behind};"
        f" or {line} -- {behind}",
        reader.words[-1],
    )


def _ask_of_place(reader: Reader, behind: str) -> None:
    """Ask whether a name behind that of the species is the place, of which a note would lose it.

    Raises:
        PhraseProblem: always.
    """
    first = behind.split()[0]
    words = [f'"{word.text}"' if word.quoted else word.text for word in reader.words]
    place = max(place for place, word in enumerate(words) if word == first or word == f"{first},")
    before, after = " ".join(words[:place]).rstrip(","), " ".join(words[place:]).rstrip(",")
    rest = " ".join(words[place + len(behind.split()) :])
    as_note = f"{before}{', ' * bool(rest)}{rest} -- {behind}"
    raise PhraseProblem(
        f"'{behind}' behind the name: its place, or a note? As: {before} from {after}; or"
        f" {as_note}",
        reader.words[place],
    )


def ask_of_bare_day(reader: Reader) -> None:
    """Ask of a day without an hour, behind the name of one that comes in, whether it was caught
    then: taken for the time of the line that would be lost.

    Raises:
        PhraseProblem: the line does not say it.
    """
    said = {word.lower.partition("=")[0] for word in reader.words if not word.quoted}
    if reader.better or said & CATCHES:
        return
    for place in range(_BEHIND_NAME, len(reader.words) - 1):
        day, month, *behind = reader.words[place : place + 3]
        is_day = is_day_of_month(day.lower) and is_month(month.lower.rstrip(","))
        if not is_day or month.quoted or any(":" in word.text for word in behind):
            continue
        words = [f'"{word.text}"' if word.quoted else word.text for word in reader.words]
        on, before = " ".join(words[place : place + 2]).rstrip(","), words[:place]
        before = before[:-1] if before[-1] == "on" else before
        if before[-2].endswith(",") and before[-1][:1].isupper():  # that is asked of by itself
            before[-2:] = [before[-2].rstrip(","), "from", before[-1]]
        begun, rest = " ".join(before).rstrip(","), " ".join(words[place + 2 :])
        others = f", {rest}" if rest else ""
        raise PhraseProblem(
            f"'{on}': caught then, or here since then? As: {begun} caught {on}{others}; or: {on}"
            f" {begun}{others}",
            reader.words[place],
        )


def day_of_catch(reader: Reader) -> None:
    """Read a date in figures behind a place as that of the catch: ``from Mill ditch, 3.7.2026``."""
    words, has_place = reader.words, False
    for place in range(reader.place, len(words)):
        word = words[place]
        if word.plain in CATCHES:
            return
        has_place = has_place or word.lower in ("at", "from", "near", "in")
        on = words[place - 1].lower == "on"
        is_day = is_date_in_figures(word.lower) and (on or not is_bare_number(word))
        if has_place and not word.quoted and is_day:
            words[place - on : place] = [Word("caught", word.at)]
            return


def put_after(reader: Reader, described: KindSchema, after: str) -> str:
    """Put what stands after ' -- ' where the kind has words for it; else it is a note, which is
    returned."""
    if not after:
        return ""
    of_no_container = () if described.field("container") else AFTER_DASHES_OF_NO_CONTAINER
    for name in (*AFTER_DASHES, *of_no_container):
        field = described.field(name)
        if field and field.shape == "words" and name not in reader.fields:
            reader.fields[name] = after
            return ""
    return after


def ask_for_what_is_wanting(reader: Reader, described: KindSchema, end: int) -> None:
    if reader.better:
        return
    among = reader.fields.get("among")
    if among and "container" not in reader.fields and among[0].casefold() in reader.animals:
        reader.fields["container"] = reader.where_stands(reader.animals[among[0].casefold()])
    if described.name == "emerged" and "crippled" in reader.fields:
        reader.fields.setdefault("number", reader.fields["crippled"])
    if described.name == "barrier":
        _where_the_ants_are(reader)
        _which_barrier_is_new(reader)
    for field in described.fields:
        if not field.required or reader.fields.get(field.name, "") != "":
            continue
        if field.name == "container":
            example = next(iter(reader.codes.values()), "L2")
            raise PhraseProblem(
                f"say which container first, as: {example} {described.name}", Word("", end)
            )
        if field.name == "found" and (
            reader.fields.get("unsure") is not None
            or any(":" in lot for lot in reader.fields.get("lots", ()))
        ):
            reader.fields["found"] = 0
            continue
        if field.name == "found" and reader.fields.get("confirmed"):
            continue  # all of them: the bench knows how many
        if described.name == "paired" and field.name in ("female", "male"):
            container = reader.bench.at(str(reader.fields.get("container", "")))
            if container and field.name not in only_pair(container):
                raise PhraseProblem(with_whom(container, reader.fields), Word("", end))
            continue
        if field.name == "until" and reader.fields.get("why"):
            continue  # a day
        if field.name == "state" and "depth_mm" in reader.fields:
            reader.fields["state"] = "full"  # unless the depth says another
            continue
        if described.name == "host in" and field.name == "plant":
            _plant_of_the_one_there(reader, end)
            continue
        if field.name == "number" and described.name not in ("counted", "permit"):
            reader.fields["number"] = _one_or_asked(reader, described)
            continue
        if described.name == "moulted":
            raise PhraseProblem(_into_which_instar(reader), Word("", end))
        if asked := _of_the_kind(reader, described, field.name):
            raise PhraseProblem(asked, Word("", end))
        hint = (
            f": {', '.join(field.choices)}"
            if field.choices
            else (f" ({field.help})" if field.help else "")
        )
        raise PhraseProblem(
            f"'{described.name}' needs {field.name.replace('_', ' ')}{hint}",
            Word("", end),
            field.choices,
        )


def _of_the_kind(reader: Reader, described: KindSchema, wanting: str) -> str:
    """What is asked for a field that keepers leave out, with lines that are right; '' for any
    other."""
    code = str(reader.fields.get("container", ""))
    here = code or str(reader.fields.get("shelf", "")) or "sill"
    if (described.name, wanting) == ("barrier", "state"):
        shelf = str(reader.fields.get("shelf", ""))
        if reader.bench.barrier_named(code, shelf) in BARRIERS_LOOKED_AT:
            return f"how does it stand? As: {here} moat full; {here} moat low 4 mm; {here} moat dry"
        first = f"{here} changed barrier=moat" if code else f"shelf set up {here} moat"
        return f"{here} has no moat on record; where it has one, as: {first}"
    if (described.name, wanting) == ("searched", "found"):
        said = " ".join(word.text for word in reader.words if word.lower in _HOW_MUCH_SEARCHED)
        return f"how many eggs? As: {here} searched 0{f' -- {said}' * bool(said)}; {here} 6 eggs"
    if (described.name, wanting) == ("frass", "level"):
        return _how_much_frass(reader, code)
    if (described.name, wanting) == ("put off", "why"):
        told = reader.at and reader.at <= reader.now
        day = f"{reader.at:%Y-%m-%d %H:%M} " if told else ""
        until = reader.fields.get("until")
        since = (reader.at or reader.now).timestamp()
        hours = (until.timestamp() - since) / HOUR_S if until else 24
        what = f"{code or reader.fields.get('shelf', '')} {reader.fields['check']}".strip()
        return f"why? As: {day}{what} put off +{hours:.3g}h, too cold"
    if (described.name, wanting) == ("marked", "mark"):
        mark = str(reader.fields.get("brood", "red"))
        container = reader.bench.at(code)
        adults = container.lots_of("adult") if container else []
        unmarked = reader.bench.unmarked(
            one for lot in adults for one in lot.codes if one in reader.bench.founders
        )
        if unmarked and mark not in reader.bench.founders:
            lines = [f"{code} {one} marked {mark}" for one in unmarked]
            return f"which of those without a mark? As: {'; '.join(lines)}"
    if (described.name, wanting) == ("stocked", "brood"):
        return f"of which brood? As: {_stocked(reader, str(reader.fields.get('number', 20)))}"
    if (described.name, wanting) == ("set up", "purpose"):
        usual = usual_purpose(here)
        shelf = f" shelf={as_typed(reader.fields['shelf'])}" if "shelf" in reader.fields else ""
        note = f" -- {reader.aside}" if reader.aside else ""
        others = ", ".join(one for one in dict.fromkeys(_USUAL.values()) if one != usual)
        return f"what for? As: {here} set up {usual}{shelf}{note}; it can be for {others} too"
    return ""


_HOW_MUCH_SEARCHED = each("half only part partly all quickly thoroughly")


def _how_much_frass(reader: Reader, code: str) -> str:
    """How much is asked, under which kept stems, and how many eggs on record hatched, as far as
    there are any."""
    container = reader.bench.at(code)
    lot = f" lot={container.held[0].number}" if container and container.held else ""
    forms = [f"{code} frass {level}".strip() for level in (f"trace{lot}", f"plain{lot}", "none")]
    if container and container.count("egg"):
        forms.append(f"of eggs on record that hatched: {code} hatched 1")
    return f"how much? As: {'; '.join(forms)}"


# What a container is most often for, by the letter that its code begins with; common practice.
_USUAL = {"K": "laying", "L": "laying", "E": "eggs", "R": "rearing", "P": "pupation"}


def usual_purpose(code: str) -> str:
    """What a container of that code is most often for."""
    return _USUAL.get(code[0].upper(), "rearing")


def _stocked(reader: Reader, number: str) -> str:
    """A line of so many animals that come in, of the brood that was said, of one there, or new."""
    code, stage = str(reader.fields.get("container", "")), str(reader.fields.get("stage", "larva"))
    container, known = reader.bench.at(code), reader.bench.broods
    lots = container.lots if container else ()
    broods = (str(reader.fields.get("brood", "")), *(lot.brood for lot in lots), *known)
    animals = f"{number} {stage if number == '1' else PLURAL_OF.get(stage, stage)}"
    if brood := next((one for one in broods if one in known), ""):
        return f"{code} stocked {animals} {brood}"
    return f"{code} {animals} {next(iter(known_species(reader.bench)), 'Boloria dia')}"


def _into_which_instar(reader: Reader) -> str:
    code = str(reader.fields.get("container", "R1"))
    container = reader.bench.at(code)
    if container and not container.count("larva"):
        return f"{code} holds no larvae on record that could have moulted"
    number = reader.fields.get("number", 1)
    moulted = f"{code} moulted {number} L"
    lots = container.lots_of("larva") if container else []
    of_last = {
        lot.instar or 0: instars_of(reader.bench, reader.bench.taxon_of(lot.brood), lot.brood)
        for lot in lots
    }
    instar = max(of_last, default=0)
    moults = [one for one, last in of_last.items() if 0 < one < last]
    if instar and not moults:
        return (
            f"L{instar} is usually the last instar: did they pupate, or hang up? As: {code} pupated"
            f" {number}; {code} hanging {number}; moulted once more: {moulted}{instar + 1}"
        )
    return f"which instar are they in now? As: {moulted}{max(moults, default=2) + 1}"


def _which_barrier_is_new(reader: Reader) -> None:
    """A barrier named of what has none on record is how it comes on record: ``K3 barrier sticky
    band``, ``K3 barrier grease``.

    Raises:
        PhraseProblem: how it is said.
    """
    code, shelf = (str(reader.fields.get(one, "")) for one in ("container", "shelf"))
    said = next((one for one in reader.words if one.lower.rstrip(STOPS) in _STICKY), None)
    if said is None or reader.bench.barrier_named(code, shelf) in BARRIERS_LOOKED_AT:
        return
    barrier = _STICKY[said.lower.rstrip(STOPS)]
    first = f"{code} changed barrier='{barrier}'" if code else f"shelf set up {shelf} {barrier}"
    raise PhraseProblem(
        f"{code or shelf} has no barrier on record; if it has one now, as: {first}", said
    )


_STICKY = {"sticky": "sticky band", "band": "sticky band", "grease": "grease", "greased": "grease"}


def _where_the_ants_are(reader: Reader) -> None:
    """Ask where ants were that stand beside how a moat is: ``moat dry ants seen``."""
    said = [word.lower for word in reader.words]
    told = reader.fields.keys() & {"ants_below", "ants_above"}
    state = reader.fields.get("state")
    if "ants" not in said or "no" in said or told or state in (None, "breached", "ants", "no ants"):
        return
    here = reader.fields.get("shelf") or reader.fields.get("container") or ""
    moat = f"{here} moat {state}".strip()
    raise PhraseProblem(f"where are the ants? As: {moat} 2 below; {moat} 2 above", reader.words[0])


def _plant_of_the_one_there(reader: Reader, end: int) -> None:
    """More of the one plant that stands there; where none or several do it is asked.

    Raises:
        Trouble: which plant.
    """
    code = str(reader.fields.get("container", ""))
    container = reader.bench.at(code)
    plants = list(dict.fromkeys(host.plant for host in container.hosts)) if container else []
    letter = str(reader.fields.get("batch") or "")
    of_letter = standing_of(reader.bench, letter) if letter else []
    if len(dict.fromkeys(one.plant for one in of_letter)) > 1:
        raise PhraseProblem(
            f"{twice_given(of_letter)}; say which plant, as: {code} host in {of_letter[0].plant}"
            f" batch {letter}",
            Word("", end),
        )
    if of_letter:
        reader.fields["plant"] = of_letter[0].plant
        return
    if len(plants) == 1:
        reader.fields["plant"] = PLANT_THERE
        return
    there = f" {code} has {' and '.join(plants)}." if plants else ""
    theirs = plants or plants_for(reader.bench, container)
    taxa = filter(None, taxa_in(reader.bench, container) if container else [])
    if not theirs and (names := " or ".join(taxa)):  # those that are known are for others
        there = f" None of {names} is on record."
    elif not theirs:
        theirs = [*known_plants(reader.bench)][-1:]
    raise PhraseProblem(
        f"which plant?{there} As: {code} host in {(*theirs, 'violet')[0]} leaf 3 stems",
        Word("", end),
    )


def _one_or_asked(reader: Reader, described: KindSchema) -> int:
    """One, where no number was said; where several are meant, or most often are, how many is
    asked."""
    several = next((word for word in reader.words if word.plain in PLURALS), None)
    if several is None and not described.slots.several:
        return 1
    code = str(reader.fields.get("container", ""))
    container = reader.bench.at(code)
    stage = KIND_BY_NAME[described.name].grows_from or reader.fields.get("stage")
    there = (
        container.count(stage, str(reader.fields.get("brood", "")), reader.fields.get("sex"))
        if container
        else 0
    )
    if there == 1:
        return 1
    if container is None and several is None:
        return 1
    name = several.lower if several else PLURAL_OF.get(stage or "", "")
    text = " ".join(part for part in (code, described.name) if part)
    to = f" to {reader.fields['to']}" if reader.fields.get("to") else ""
    to = (
        f" to L{reader.fields['instar']}"
        if described.name == "moulted" and reader.fields.get("instar")
        else to
    )
    if described.name == "stocked":
        raise PhraseProblem(f"how many {name}? As: {_stocked(reader, '20')}", several)
    holds = f"{code} holds {there or 'none'}" if code else "it is not said of which container"
    raise PhraseProblem(
        f"how many{f' {name}' if name else ''}? {holds}. As: {text} 2{to}; {text} all{to}", several
    )
