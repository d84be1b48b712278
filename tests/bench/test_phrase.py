"""What a keeper types, and what it is read as."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.entries.base import Entry
from rounds.entries.entry_factory import kind_name
from rounds.entries.phrase.parser import read_phrase
from rounds.entries.phrase.reader import Draft
from rounds.entries.phrase.suggestions import complete
from rounds.entries.phrase.times import UnclearTime, read_time
from rounds.entries.registry import KINDS
from rounds.entries.schema import OWN, describe
from rounds.entries.wording import saying
from tests.bench.strategies import entries_of

PARIS = ZoneInfo("Europe/Paris")
NOW = datetime(2026, 5, 20, 8, 0, tzinfo=PARIS)
CODES = ["L2", "R4", "R5", "R7", "E3", "A2", "A3", "A4"]


def read(text: str, now: datetime = NOW) -> Draft | UnclearTime:
    """Read a phrase at a small bench."""
    return read_phrase(text, now=now, zone=PARIS, codes=CODES, shelves=["B", "S"])


def at(clock: str, day: int = 20) -> datetime:
    """A time of that May."""
    hour, minute = clock.split(":")
    return datetime(2026, 5, day, int(hour), int(minute), tzinfo=PARIS)


def type_phrase(entry: Entry) -> str:
    """The line that would say this entry again, but for when."""
    described = describe(type(entry))
    parts = []
    code = getattr(entry, "container", "")
    if code:
        parts.append(code)
    parts.append(described.name)
    if described.name == "note":
        return " ".join([*parts, str(getattr(entry, "text", ""))])
    for field in described.fields:
        value = getattr(entry, field.name)
        if (
            field.name == "container"
            or (value == field.default and not field.required)
            or field.name in OWN
        ):
            continue
        parts.append(f"{field.name}={_typed(value)}")
    return " ".join(parts)


def _typed(value: Any) -> str:
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ",".join(str(part) for part in value)
    if isinstance(value, float):
        return repr(value)
    text = str(value)
    if not text or any(sign.isspace() or sign in "\"'" for sign in text):
        return f'"{text}"' if '"' not in text else f"'{text}'"
    return text


PHRASES: list[tuple[str, str, dict[str, Any]]] = [
    ("R4 parasitoid 3 wasps L4 voucher=V9", "parasitoid",
     {"container": "R4", "number": 3, "taxon": "wasps", "stage": "larva", "instar": 4, "voucher": "V9"}),
    ("L2 drank", "drank", {"container": "L2"}),
    ("l2 drank", "drank", {"container": "L2"}),
    ("constants Boloria dia stage=egg lower=8.2 constant=71 source=own-trials", "constants",
     {"taxon": "Boloria dia", "stage": "egg", "lower_c": 8.2, "constant_dd": 71.0, "source": "own-trials"}),
    ("L2 drank 3", "drank", {"container": "L2", "number": 3}),
    ("L2 drank 3 when helped", "drank", {"container": "L2", "number": 3, "how": "when helped"}),
    ("L2 drank helped 4 min", "drank", {"container": "L2", "how": "when helped", "minutes": 4.0}),
    ("L2 offered sugar", "offered", {"container": "L2", "food": "sugar"}),
    ("L2 offered ripe banana", "offered", {"container": "L2", "food": "ripe banana"}),
    ("L2 refused 1", "refused", {"container": "L2", "number": 1}),
    ("L2 feeder dry", "feeder seen", {"container": "L2", "state": "dry"}),
    ("L2 feeder changed sugar 15%", "feeder changed", {"container": "L2", "food": "sugar", "strength_percent": 15.0}),
    ("food made sugar 15% 100ml", "food made", {"food": "sugar", "strength_percent": 15.0, "volume_ml": 100.0}),
    ("L2 searched 0", "searched", {"container": "L2", "found": 0}),
    ("L2 searched 0 lens 5min", "searched", {"container": "L2", "found": 0, "aid": "lens", "minutes": 5.0}),
    ("L2 searched 6 unsure", "searched", {"container": "L2", "found": 0, "unsure": 6}),
    ("L2 searched 2 6 unsure", "searched", {"container": "L2", "found": 2, "unsure": 6}),
    ("L2 confirmed 4", "searched", {"container": "L2", "found": 4, "confirmed": True}),
    ("L2 not eggs", "searched", {"container": "L2", "found": 0, "confirmed": True}),
    ("E3 searched 3 lot 2", "searched", {"container": "E3", "found": 3, "lots": ("2",)}),
    ("L2 searched 11 on leaf", "searched", {"container": "L2", "found": 11, "where": "leaf"}),
    ("L2 searched 11 macro brood=Q-26-03/A", "searched",
     {"container": "L2", "found": 11, "aid": "macro photo", "brood": "Q-26-03/A"}),
    ("L2 host in violet", "host in", {"container": "L2", "plant": "violet"}),
    ("L2 host-in violet leaf", "host in", {"container": "L2", "plant": "violet", "part": "leaf"}),
    ("L2 host in dog violet tender leaf dry 6 sprigs", "host in",
     {"container": "L2", "plant": "dog violet", "part": "tender leaf", "kept": "dry", "sprigs": 6}),
    ("L2 host in violet batch=F cut=06:40 water", "host in",
     {"container": "L2", "plant": "violet", "batch": "F", "cut": at("06:40"), "kept": "water"}),
    ("L2 host seen limp little", "host seen", {"container": "L2", "state": "limp", "left": "little"}),
    ("L2 host out violet held in E3", "host out",
     {"container": "L2", "plant": "violet", "held_in": "E3"}),
    ("L2 host out binned", "host out", {"container": "L2", "fate": "binned"}),
    ("E3 host out lot=2 5 stems held in L2", "host out",
     {"container": "E3", "lots": ("2",), "sprigs": 5, "held_in": "L2"}),
    ("B barrier low 9mm 2 below", "barrier", {"shelf": "B", "state": "low", "depth_mm": 9.0, "ants_below": 2}),
    ("shelf B barrier breached 1 above", "barrier", {"shelf": "B", "state": "breached", "ants_above": 1}),
    ("R4 barrier full 0.5in", "barrier", {"container": "R4", "state": "full", "depth_mm": 12.7}),
    ("B moat dry", "barrier", {"shelf": "B", "state": "dry"}),
    ("B topped up 22mm washed", "topped up", {"shelf": "B", "depth_mm": 22.0, "washed": True}),
    ("shelf B topped up 22", "topped up", {"shelf": "B", "depth_mm": 22.0}),
    ("R4 moved 12 larvae to R7", "moved", {"container": "R4", "number": 12, "stage": "larva", "to": "R7"}),
    ("R4 moved 12 L3 to r7 11 arrived", "moved",
     {"container": "R4", "number": 12, "stage": "larva", "instar": 3, "to": "R7", "arrived": 11}),
    ("R4 split into R5,R7 5,6", "split", {"container": "R4", "into": ("R5", "R7"), "numbers": (5, 6)}),
    ("R4 merged from R5,R7 10", "merged", {"container": "R4", "sources": ("R5", "R7"), "number": 10}),
    ("R4 counted 11", "counted", {"container": "R4", "number": 11}),
    ("R4 counted 40 eggs photo", "counted", {"container": "R4", "number": 40, "stage": "egg", "method": "photo"}),
    ("R4 settled found 1", "settled", {"container": "R4", "fate": "found", "number": 1}),
    ("R4 settled given up 2", "settled", {"container": "R4", "fate": "given up", "number": 2}),
    ("R4 died 1 dry", "died", {"container": "R4", "number": 1, "cause": "dry"}),
    ("R4 died", "died", {"container": "R4", "number": 1}),
    ("R4 found dead 2 disease suspected", "died", {"container": "R4", "number": 2, "cause": "disease suspected"}),
    ("R4 died 1 L2 Q-26-03/A", "died",
     {"container": "R4", "number": 1, "stage": "larva", "instar": 2, "brood": "Q-26-03/A"}),
    ("E3 expected hatch on 2026-06-05T07:00+02:00", "expected",
     {"container": "E3", "change": "hatch", "begins": datetime(2026, 6, 5, 7, tzinfo=PARIS)}),
    ("E3 hatched 30 inferred", "hatched", {"container": "E3", "number": 30, "evidence": "inferred"}),
    ("R4 moulted 8 L3", "moulted", {"container": "R4", "number": 8, "instar": 3}),
    ("R4 pupated 3", "pupated", {"container": "R4", "number": 3}),
    ("R4 emerged 2 female 1 crippled", "emerged", {"container": "R4", "number": 2, "sex": "female", "crippled": 1}),
    ("R4 sexed 2 females", "sexed", {"container": "R4", "number": 2, "sex": "female"}),
    ("R4 eclosed 2", "emerged", {"container": "R4", "number": 2}),
    ("R4 escaped 1", "escaped", {"container": "R4", "number": 1}),
    ("R4 missing 1", "missing", {"container": "R4", "number": 1}),
    ("L2 released 1 dry slope by the mill", "released",
     {"container": "L2", "number": 1, "place": "dry slope by the mill"}),
    ("L2 preserved 1 V-17", "preserved", {"container": "L2", "number": 1, "brood": "V-17"}),
    ("L2 preserved 1 voucher=V-17", "preserved", {"container": "L2", "number": 1, "voucher": "V-17"}),
    ("L2 marked Q-26-02 red", "marked", {"container": "L2", "brood": "Q-26-02", "mark": "red"}),
    ("related Q-26-02 with Q-26-05 half sibs", "related", {"first": "Q-26-02", "second": "Q-26-05", "how": "half sibs"}),
    ("related Q-26-02 with Q-26-05 as full sibs", "related", {"first": "Q-26-02", "second": "Q-26-05", "how": "full sibs"}),
    ("pairing planned Q-26-02/A with Q-26-05/A -- both still fresh", "pairing planned",
     {"female": "Q-26-02/A", "male": "Q-26-05/A", "why": "both still fresh"}),
    ("L2 paired Q-26-02 with Q-26-05", "paired", {"container": "L2", "female": "Q-26-02", "male": "Q-26-05"}),
    ("E3 stocked 40 eggs Q-26-03/A", "stocked",
     {"container": "E3", "number": 40, "stage": "egg", "brood": "Q-26-03/A"}),
    ("L2 founder Q-26-03, Boloria dia female worn", "founder",
     {"container": "L2", "code": "Q-26-03", "taxon": "Boloria dia", "sex": "female", "wear": "worn"}),
    ("brood Q-26-03/A mothers=Q-26-03", "brood", {"code": "Q-26-03/A", "mothers": ("Q-26-03",)}),
    ("R7 do not disturb until 16:20 -- moulting", "leave be", {"container": "R7", "until": at("16:20"), "why": "moulting"}),
    ("R7 leave be +24h", "leave be", {"container": "R7", "until": NOW + timedelta(hours=24)}),
    ("R7 do not disturb until 07:00", "leave be", {"container": "R7", "until": at("07:00", 21)}),
    ("room air 21.4C 46%", "air", {"temperature_c": 21.4, "humidity_percent": 46.0}),
    ("room air 21,4 46", "air", {"temperature_c": 21.4, "humidity_percent": 46.0}),
    ("room air 70F", "air", {"temperature_c": 21.11}),
    ("room air low=15 high=24", "air", {"low_c": 15.0, "high_c": 24.0}),
    ("room air 22/26", "air", {"low_c": 22.0, "high_c": 26.0}),
    ("room air -2,5/4 55%", "air", {"low_c": -2.5, "high_c": 4.0, "humidity_percent": 55.0}),
    ("L2 air -2C", "air", {"container": "L2", "temperature_c": -2.0}),
    ("room logger read file=series/room-0123456789ab.csv rows=2 since=2026-05-20T07:00:00+02:00 until=2026-05-20T07:10:00+02:00 low_c=20 high_c=21.5", "logger read",
     {"file": "series/room-0123456789ab.csv", "rows": 2, "since": at("07:00"), "until": at("07:10"), "low_c": 20.0, "high_c": 21.5}),
    ("L2 lid opened", "lid opened", {"container": "L2"}),
    ("L2 covered", "covered", {"container": "L2"}),
    ("L2 misted", "misted", {"container": "L2"}),
    ("L2 light lamp on", "light", {"container": "L2", "to": "lamp on"}),
    ("L2 light sun", "light", {"container": "L2", "to": "sun"}),
    ("R4 cleaned", "cleaned", {"container": "R4"}),
    ("hands washed", "hands washed", {}),
    ("R4 suspect two pale and slow", "suspect", {"container": "R4", "sign": "two pale and slow"}),
    ("R4 cleared", "cleared", {"container": "R4"}),
    ("feed L2", "drank", {"container": "L2"}),
    ("room 21.5", "air", {"temperature_c": 21.5}),
    ("R4 20 larvae", "counted", {"container": "R4", "number": 20, "stage": "larva"}),
    ("note -- text", "note", {"text": "text"}),
    ("imported file=old.csv lines=300 entries=812", "imported", {"file": "old.csv", "lines": 300, "entries": 812}),
    ("L2 note one worn, left hind wing", "note", {"container": "L2", "text": "one worn, left hind wing"}),
    ("L2 photo a.jpg larva", "photo", {"container": "L2", "file": "a.jpg", "stage": "larva"}),
    ("E3 frass trace", "frass", {"container": "E3", "level": "trace"}),
    ("E3 frass trace lot=2", "frass", {"container": "E3", "level": "trace", "lots": ("2",)}),
    ("E3 frass none under lot 1,3", "frass", {"container": "E3", "level": "none", "lots": ("1", "3")}),
    ("E3 droppings none", "frass", {"container": "E3", "level": "none"}),
    ("E3 looked darkening", "looked", {"container": "E3", "sign": "darkening"}),
    ("S1 set up laying shelf=B place=2 barrier=moat 500ml", "set up",
     {"container": "S1", "purpose": "laying", "shelf": "B", "place": 2, "barrier": "moat", "volume_ml": 500.0}),
    ("S1 set up host store on B 3", "set up", {"container": "S1", "purpose": "host store", "shelf": "B", "place": 3}),
    ("S1 set up eggs inside L2", "set up", {"container": "S1", "purpose": "eggs", "inside": "L2"}),
    ("R4 changed pupation", "changed", {"container": "R4", "purpose": "pupation"}),
    ("R4 closed", "closed", {"container": "R4"}),
    ("shelf set up C moat 2", "shelf set up", {"shelf": "C", "barrier": "moat", "place": 2}),
    ("round started morning", "round started", {"name": "morning"}),
    ("round finished", "round finished", {}),
    ("skipped container=L2 check=eggs why=asleep", "skipped", {"container": "L2", "check": "eggs", "why": "asleep"}),
    ("put off container=L2 check=drink until=+2h why=asleep", "put off",
     {"container": "L2", "check": "drink", "until": NOW + timedelta(hours=2), "why": "asleep"}),
    ("L2 release by 2026-05-22 10:00 permit=P-12", "release by",
     {"container": "L2", "until": at("10:00", 22), "permit": "P-12"}),
    ("permit P-12 females=3 hold_hours=48", "permit", {"number": "P-12", "females": 3, "hold_hours": 48.0}),
    ("taxon Boloria dia instars=5 protected", "taxon", {"name": "Boloria dia", "instars": 5, "protected": True}),
    ("plant violet water 60h", "plant", {"name": "violet", "kept": "water", "hours": 60.0}),
    ("plan drink every_h=10 container=L2", "plan", {"check": "drink", "every_h": 10.0, "container": "L2"}),
    ("R4 weighed 132.5 pupa", "weighed", {"container": "R4", "mass_mg": 132.5, "stage": "pupa"}),
    ("plan ants off=yes", "plan", {"check": "ants", "off": True}),
    ("setting zone Asia/Tokyo", "setting", {"name": "zone", "value": "Asia/Tokyo"}),
    ("setting bench The long table", "setting", {"name": "bench", "value": "The long table"}),
    ("struck 245a8d -- wrong cup", "struck", {"entry": "245a8d", "why": "wrong cup"}),
    ("cross out 245a8d -- wrong cup", "struck", {"entry": "245a8d", "why": "wrong cup"}),
    ("crossed out 245a8d", "struck", {"entry": "245a8d"}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "fields"), PHRASES)
def test_a_phrase_says_what_its_keeper_meant(text: str, kind: str, fields: dict[str, Any]) -> None:
    draft = read(text)

    assert isinstance(draft, Draft), draft
    assert kind_name(draft.kind) == kind
    assert draft.fields == fields
    assert draft.at is None


def test_every_kind_has_a_phrase_here() -> None:
    without = {kind_name(kind) for kind in KINDS} - {kind for _, kind, _ in PHRASES}

    assert not without, (
        f"PHRASES wants a line, as a keeper would type it, for {', '.join(sorted(without))}"
    )


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("-20m", at("07:40")),
        ("-2h", at("06:00")),
        ("-1h30m", at("06:30")),
        ("7:40", at("07:40")),
        ("07:40", at("07:40")),
        ("19:15", at("19:15", 19)),  # still to come today, so yesterday's
        ("yesterday 18:10", at("18:10", 19)),
        ("tue 18:10", at("18:10", 19)),
        ("2026-05-03 18:10", at("18:10", 3)),
        ("2026-05-03T18:10:00+02:00", at("18:10", 3)),
    ],
)
def test_when_it_happened(typed: str, meant: datetime) -> None:
    draft = read(f"L2 drank {typed}")

    assert isinstance(draft, Draft), draft
    assert draft.at == meant


def test_a_local_time_that_the_clock_change_left_out_is_refused() -> None:
    # In France clocks went from 02:00 to 03:00 on 29 March 2026 (EU summer time rules).
    now = datetime(2026, 3, 29, 12, 0, tzinfo=PARIS)

    found = read_time("02:30", now=now, zone=PARIS)

    assert isinstance(found, UnclearTime)
    assert (
        found.message
        == "02:30 did not exist on 2026-03-29: the clocks went forward; give a time after the change"
    )


def test_a_local_time_that_comes_twice_is_its_first_coming() -> None:
    # In France clocks went from 03:00 back to 02:00 on 25 October 2026 (EU summer time rules).
    now = datetime(2026, 10, 25, 12, 0, tzinfo=PARIS)

    found = read_time("02:30", now=now, zone=PARIS)

    assert isinstance(found, datetime)
    assert found.utcoffset() == timedelta(hours=2)


@pytest.mark.parametrize(
    ("text", "message", "suggestions"),
    [
        ("", "nothing was typed; as: L2 drank", ()),
        ("L2 drnk", "'drnk' is not an event that can be recorded", ("drank",)),
        ("L2", "what happened with L2? As: L2 drank", ()),
        ("drank", "say which container first, as: L2 drank", ()),
        ("L2 searched", "how many eggs? As: L2 searched 0; L2 6 eggs", ()),
        (
            "L2 looked purple",
            "'purple' does not fit 'looked'; it takes sign, number, sure; as a note beside it: L2 looked -- purple",
            (),
        ),
        ("L2 drank 3 4", "'drank' takes no more numbers; 4 does not fit", ()),
        ("L2 drank 3kg", "'3kg': 'drank' takes no number in kg", ()),
        (
            "L2 drank colour=red",
            "'drank' has no colour; it takes container, number, how, minutes, female, of",
            (),
        ),
        ("L2 drank -20m -10m", "two times were given; give one", ()),
        ("room drank", "'drank' is not of the room; give a container", ()),
        ("L2 hands washed", "'hands washed' is of no one container; leave L2 out", ()),
        ("R4 moulted 8", "which instar are they in now? As: R4 moulted 8 L3", ()),
        ("L2 drank number=many", "number is 'many'; it must be a number", ()),
        ("R4 counted 2.5", "number is 2.5; it must be a whole number", ()),
    ],
)
def test_what_is_not_clear_is_said_in_one_line(
    text: str, message: str, suggestions: tuple[str, ...]
) -> None:
    found = read(text)

    assert isinstance(found, UnclearTime), found
    assert found.message == message
    assert found.suggestions[: len(suggestions)] == suggestions


@given(st.text(max_size=60))
@settings(max_examples=300, deadline=None)
def test_no_text_is_too_odd_to_be_answered(text: str) -> None:
    for typed in (text, f"L2 {text}", f"L2 drank {text}", f"L2 host in {text}", f"plan {text}"):
        assert isinstance(read(typed), Draft | UnclearTime)
        complete(typed, len(typed), codes=CODES, shelves=["B"])


@given(st.data())
@settings(max_examples=200, deadline=None)
def test_a_typed_entry_reads_as_itself(data: st.DataObject) -> None:
    kind = data.draw(st.sampled_from(KINDS))
    entry: Entry = data.draw(entries_of(kind, 1))

    draft = read(type_phrase(entry), now=entry.at)

    assert isinstance(draft, Draft), (type_phrase(entry), draft)
    assert draft.kind is kind
    for one in describe(kind).fields:
        value = getattr(entry, one.name)
        if value == one.default and not one.required:
            continue
        if one.name in OWN or (kind_name(kind) == "note" and one.name == "brood"):
            continue
        assert draft.fields.get(one.name, one.default) == value, (type_phrase(entry), one.name)


@given(st.data())
@settings(max_examples=100, deadline=None)
def test_every_entry_can_be_told_in_one_line(data: st.DataObject) -> None:
    entry: Entry = data.draw(entries_of(data.draw(st.sampled_from(KINDS)), 1))

    told = saying(entry)

    assert told.strip()
    assert "\n" not in told
    assert "None" not in told


def test_a_setting_may_be_a_time_of_day_and_may_be_said_late() -> None:
    for text, value, when in (
        ("setting morning 07:30", "07:30", None),
        ("setting strength 20 -20m", "20", at("07:40")),
        ("setting longitude -20", "-20", None),
        ("setting bench Weir House -2h", "Weir House", at("06:00")),
    ):
        draft = read(text)
        assert isinstance(draft, Draft)
        assert (draft.fields["value"], draft.at) == (value, when)


def test_completion_offers_codes_then_verbs_then_what_the_verb_takes() -> None:
    assert complete("L", 1, codes=CODES, shelves=["B"])[0] == "L2"
    assert "drank" in complete("L2 dr", 5, codes=CODES, shelves=[])
    assert "when helped" in complete("L2 drank w", 10, codes=CODES, shelves=[])
    assert "stems=" in complete("L2 host in ste", 14, codes=CODES, shelves=[])


@pytest.mark.parametrize(
    ("typed", "perhaps"),
    [
        ("L2 eggs 12", "searched"),
        ("L2 water low", "topped up"),
        ("L2 gone", "missing"),
        ("L2 outside", "light"),
    ],
)
def test_everyday_words_that_may_mean_several_things_are_asked_about(
    typed: str, perhaps: str
) -> None:
    refused = read(typed)
    assert isinstance(refused, UnclearTime)
    assert perhaps in refused.message
