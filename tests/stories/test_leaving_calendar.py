"""A calendar taken in again the next day: what changed has moved, what is over rings no more, and every round stands in it."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
import vobject

from tests.stories.telling import Story, tell

PARIS = ZoneInfo("Europe/Paris")


class Phone:
    """A calendar that takes files in as RFC 5545 has it: by UID, the higher SEQUENCE, else the later DTSTAMP."""

    def __init__(self) -> None:
        self.events: dict[str, Any] = {}

    def take_in(self, file: Path) -> None:
        for event in vobject.readOne(file.read_bytes().decode()).contents.get("vevent", []):
            known = self.events.get(event.uid.value)
            if known is None or _age(event) > _age(known):
                self.events[event.uid.value] = event

    @property
    def shown(self) -> list[Any]:
        """What it shows: all that is not cancelled."""
        return [
            one
            for one in self.events.values()
            if one.contents.get("status", [None])[0].value != "CANCELLED"
        ]

    def ringing(self, now: datetime) -> list[str]:
        """The titles and words of what will still ring."""
        found = []
        for event in self.shown:
            at = event.dtstart.value
            if type(at) is date:
                at = datetime.combine(
                    at, time(0), tzinfo=PARIS
                )  # RFC 5545 3.8.6.3: local midnight of a whole day
            if "valarm" in event.contents and at + event.valarm.trigger.value >= now:
                found.append(
                    f"{event.summary.value}\n{event.contents['description'][0].value if 'description' in event.contents else ''}"
                )
        return found

    def titled(self, words: str) -> list[Any]:
        return [event for event in self.shown if words in event.summary.value]


def _age(event: Any) -> tuple[int, datetime]:
    return int(event.sequence.value), event.dtstamp.value


def take_in(story: Story, phone: Phone, tmp_path: Path, *more: str, status: int = 0) -> str:
    """Export and take in; what was told."""
    story.reopen()
    ran = story.shell("export", "ics", str(tmp_path / "due.ics"), "--replace", *more)
    assert ran.status == status, ran.err
    phone.take_in(tmp_path / "due.ics")
    return ran.out


BEGIN = """
    taxon Pieris orata
    K2 set up laying
    K2 founder A-27-02, Pieris orata female
    K2 host in cress leaf water
    """


def test_nothing_rings_for_a_female_that_was_released_yesterday(
    story: Story, tmp_path: Path
) -> None:
    phone = Phone()
    tell(story, BEGIN + "K2 release by +72h code=A-27-02")
    take_in(story, phone, tmp_path)
    assert any("A-27-02 must be free" in one for one in phone.ringing(story.clock.now))
    assert any("K2: drink" in one and "in danger" in one for one in phone.ringing(story.clock.now))
    story.later(hours=10)
    tell(story, "K2 released 1 adult")
    story.later(hours=14)
    take_in(story, phone, tmp_path)
    assert not any("A-27-02" in one or "drink" in one for one in phone.ringing(story.clock.now))
    assert phone.titled("must be free") == []


def test_a_deadline_that_was_put_off_moves_also_beyond_the_days_asked_for(
    story: Story, tmp_path: Path
) -> None:
    phone = Phone()
    tell(story, BEGIN + "K2 release by +48h code=A-27-02")
    take_in(story, phone, tmp_path)
    story.later(hours=1)
    until = story.clock.now + timedelta(days=20)
    tell(story, "K2 release by +20d code=A-27-02")
    take_in(story, phone, tmp_path)
    (free,) = phone.titled("must be free")
    assert free.dtstart.value == until.astimezone(UTC).replace(second=0)


def test_a_crossed_out_deadline_is_cancelled(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    tell(story, BEGIN + "K2 release by +72h code=A-27-02\npermit P-12 expires=2027-05-20")
    take_in(story, phone, tmp_path)
    assert len(phone.titled("must be free")) == len(phone.titled("permit P-12: its last day")) == 1
    (last,) = phone.titled("permit P-12: its last day")
    assert (last.dtstart.value, last.dtend.value) == (date(2027, 5, 20), date(2027, 5, 21))
    for line in story.on_disk():
        if line["what"] in ("release by", "permit"):
            story.desk.strike(line["id"], "wrong book")
    story.later(minutes=5)
    take_in(story, phone, tmp_path)
    assert phone.titled("must be free") == phone.titled("permit P-12: its last day") == []


def test_a_deadline_that_changes_and_is_crossed_out_is_shown_once_as_it_stands(
    story: Story, tmp_path: Path
) -> None:
    """Three exports, of which the first comes in once more at the end."""
    phone, now = Phone(), story.clock.now
    tell(story, BEGIN)
    for days in (3, 20):
        tell(story, f"K2 release by +{days}d code=A-27-02")
        take_in(story, phone, tmp_path)
        if days == 3:
            first = (tmp_path / "due.ics").read_bytes()
        (free,) = phone.titled("must be free")
        assert free.dtstart.value.date() == (now + timedelta(days=days)).date()
        story.later(hours=1)
    for line, left in zip(reversed([*_said(story, "release by")]), (3, None), strict=True):
        story.desk.strike(line["id"], "another female")
        take_in(story, phone, tmp_path)
        shown = [one.dtstart.value.date() for one in phone.titled("must be free")]
        assert shown == ([(now + timedelta(days=left)).date()] if left else [])
        story.later(hours=1)
    (tmp_path / "due.ics").write_bytes(first)
    phone.take_in(tmp_path / "due.ics")
    assert phone.titled("must be free") == []
    assert not any("must be free" in one for one in phone.ringing(story.clock.now))


def _said(story: Story, what: str) -> list[dict[str, Any]]:
    return [line for line in story.on_disk() if line["what"] == what]


def test_an_earlier_line_typed_later_doubles_nothing(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    tell(story, BEGIN)
    take_in(story, phone, tmp_path)
    before = len(phone.titled("round"))
    story.later(minutes=5)
    tell(story, "note found on the way home -3d")
    take_in(story, phone, tmp_path)
    assert len(phone.titled("round")) == before


def test_every_round_of_the_days_asked_for_stands_in_it(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    tell(story, BEGIN)
    take_in(story, phone, tmp_path, "--within", "5d")
    begins = sorted(event.dtstart.value.astimezone(PARIS) for event in phone.titled(" round: "))
    wanted = [
        datetime(2027, 5, 1, 18, tzinfo=PARIS) + timedelta(hours=24 * day) for day in range(5)
    ]
    wanted += [datetime(2027, 5, 2 + day, 7, tzinfo=PARIS) for day in range(5)]
    assert begins == sorted(wanted)
    for event in phone.titled(" round: "):
        assert "K2: drink" in event.description.value, event.summary.value
    # A later, shorter export is what the calendar says from then on.
    story.later(minutes=5)
    take_in(story, phone, tmp_path, "--within", "2d")
    assert len(phone.titled(" round: ")) == 4


def eggs(story: Story) -> None:
    tell(story, BEGIN + "constants taxon='Pieris orata' stage=egg lower=8 constant=60")
    story.later(days=1)
    tell(story, "air 20C\nK2 searched 10 lens\nE3 set up eggs\nK2 moved 10 eggs to E3")


def test_a_hatch_is_a_span_of_whole_days_and_goes_once_they_are_out(
    story: Story, tmp_path: Path
) -> None:
    phone = Phone()
    eggs(story)
    take_in(story, phone, tmp_path)
    (hatch,) = phone.titled("hatch of 10 animals expected")
    start, end = hatch.dtstart.value, hatch.dtend.value
    assert type(start) is type(end) is date
    # 60 degree-days at 12 above the threshold are five days from laying, on 1 or 2 May.
    assert start <= date(2027, 5, 6) < end
    raw = icalendar.Calendar.from_ical((tmp_path / "due.ics").read_bytes())
    (entry,) = [one for one in raw.walk("VEVENT") if "hatch of" in str(one["summary"])]
    assert entry["dtstart"].params["VALUE"] == "DATE"
    story.later(days=4)
    tell(story, "E3 hatched 10")
    take_in(story, phone, tmp_path)
    assert phone.titled("hatch of") == []


def test_a_hatch_into_an_empty_cup_rings_the_evening_before_until_a_leaf_is_in(
    story: Story, tmp_path: Path
) -> None:
    phone = Phone()
    eggs(story)
    take_in(story, phone, tmp_path)
    (hatch,) = phone.titled("hatch of")
    assert "leaf" in hatch.description.value
    assert hatch.valarm.trigger.value == timedelta(hours=-6)
    assert any("hatch of" in one for one in phone.ringing(story.clock.now))
    story.later(hours=1)
    tell(story, "E3 host in cress leaf water")
    take_in(story, phone, tmp_path)
    assert not any("hatch of" in one for one in phone.ringing(story.clock.now))


def test_eggs_carried_to_another_cup_have_one_hatch(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    eggs(story)
    take_in(story, phone, tmp_path)
    story.later(hours=3)
    tell(story, "E4 set up eggs\nE3 moved 10 eggs to E4")
    take_in(story, phone, tmp_path)
    (hatch,) = phone.titled("hatch of")
    assert hatch.summary.value.startswith("E4")


def test_a_cup_that_was_to_be_left_alone_and_is_closed_says_nothing_more(
    story: Story, tmp_path: Path
) -> None:
    phone = Phone()
    tell(story, BEGIN + "R4 set up rearing\nR4 2 L3 'Aglais io'\nR4 leave be +30h -- moulting")
    take_in(story, phone, tmp_path)
    assert len(phone.titled("do not disturb")) == 1
    story.later(hours=2)
    tell(story, "R4 died 2 larvae\nR4 closed")
    take_in(story, phone, tmp_path)
    assert phone.titled("do not disturb") == []


def test_what_is_done_is_no_longer_due_now(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    tell(story, BEGIN)
    story.later(hours=13)
    take_in(story, phone, tmp_path)
    (due,) = phone.titled("due now")
    assert "K2: drink" in due.description.value
    tell(story, "K2 drank")
    story.later(minutes=1)
    take_in(story, phone, tmp_path)
    (due,) = phone.titled("due now")
    assert "K2: drink" not in due.description.value
    tell(story, "K2 released 1 adult\nK2 host out binned sure\nK2 closed")
    story.later(minutes=1)
    take_in(story, phone, tmp_path)
    assert story.due() == {}
    assert phone.titled("due now") == []


def test_an_alarm_rings_at_the_last_round_before_harm(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    tell(story, BEGIN + "K2 drank")
    take_in(story, phone, tmp_path)
    rings = [one for one in phone.ringing(story.clock.now) if "K2: drink" in one]
    (alarm,) = rings
    # She is in danger 31 hours after she drank, on Sunday at 14:05: the last round before it is that of Sunday morning.
    assert "K2: drink, in danger from Sun 2 May 14:05 unless it is done before" in alarm
    (event,) = [
        one
        for one in phone.shown
        if "valarm" in one.contents and "K2: drink" in one.description.value
    ]
    assert event.dtstart.value.astimezone(PARIS) == datetime(2027, 5, 2, 7, tzinfo=PARIS)


def test_what_comes_to_harm_before_the_next_round_rings_before_it_does(
    story: Story, tmp_path: Path
) -> None:
    phone = Phone()
    tell(story, BEGIN + "K2 drank")
    story.at("2027-05-02 08:00")
    take_in(story, phone, tmp_path)
    (event,) = phone.titled("before the next round: 1 check")
    assert event.dtstart.value.astimezone(PARIS) == datetime(2027, 5, 2, 12, 5, tzinfo=PARIS)
    assert "valarm" in event.contents
    story.later(minutes=5)
    tell(story, "K2 drank")
    take_in(story, phone, tmp_path)
    assert phone.titled("before the next round") == []


def test_a_clock_set_back_does_not_make_an_export_old(story: Story, tmp_path: Path) -> None:
    phone = Phone()
    tell(story, BEGIN + "K2 release by +72h code=A-27-02")
    story.later(hours=3)
    tell(story, "K2 drank")
    take_in(story, phone, tmp_path)
    tell(story, "K2 released 1 adult")
    story.later(hours=-1)
    take_in(story, phone, tmp_path)
    assert phone.titled("must be free") == []


STAGES = {
    "hatch of": "egg 12",
    "moult of": "larva 12 instar=3",
    "pupation of": "larva 12 instar=3",
    "emergence of": "pupa 12",
}
FATES = ("died 12", "released 12", "moved 12 to R5", "escaped 12", "missing 12", "preserved 12", "counted 0", "split into R5,R6 numbers=6,6",
         "changed purpose=overwintering", "crossed out", "typed late")  # fmt: skip
WENT_ON = {
    "hatch of": "hatched 12",
    "moult of": "moulted 12 L4",
    "pupation of": "pupated 12",
    "emergence of": "emerged 12",
}


def young(story: Story, stock: str) -> None:
    tell(story, "taxon 'Kallima montis' short=montis instars=5\nR7 R5 R6 set up rearing")
    for stage in ("egg", "larva", "pupa"):
        story.type(f"constants montis {stage} lower_c=9.5 constant_dd=100 source=own")
    tell(story, f"brood S-1/A taxon=montis\nR7 stocked S-1/A {stock}\nair 22/26")


@pytest.mark.parametrize("change", STAGES)
@pytest.mark.parametrize("fate", [*FATES, "went on", "moulted 12 L4"])
def test_what_was_expected_of_those_that_are_no_longer_so_goes(
    story: Story, tmp_path: Path, change: str, fate: str
) -> None:
    if fate == "released 12":
        fate += {"egg": " eggs", "larva": " larvae", "pupa": " pupae"}[STAGES[change].split()[0]]
    if fate == "moulted 12 L4" and "larva" not in STAGES[change]:
        fate = "died 12"
    phone = Phone()
    young(story, STAGES[change])
    take_in(story, phone, tmp_path)
    before = phone.titled(f"R7: {change} 12")
    assert len(before) == 1
    story.later(days=1)
    if fate == "crossed out":
        for line in story.on_disk():
            if line["what"] == "stocked":
                story.desk.strike(line["id"], "wrong cup")
    elif fate == "typed late":
        tell(story, "R7 died 12 -20h")
    else:
        tell(story, f"R7 {WENT_ON[change] if fate == 'went on' else fate}")
    take_in(story, phone, tmp_path)
    after = phone.titled(f"R7: {change} 12")
    still = fate == "moulted 12 L4" or (
        fate == "went on" and change == "moult of"
    )  # of the next instar, at another time
    assert [one.uid.value for one in after if one.uid.value == before[0].uid.value] == []
    assert len(after) == (1 if still else 0)


@pytest.mark.parametrize("change", ["hatch of", "emergence of"])
def test_where_constants_are_crossed_out_the_change_moves_to_where_any_species_has_it(
    story: Story, tmp_path: Path, change: str
) -> None:
    phone = Phone()
    young(story, STAGES[change])
    take_in(story, phone, tmp_path)
    (before,) = phone.titled(f"R7: {change} 12")
    for line in story.on_disk():
        if line["what"] == "constants":
            story.desk.strike(line["id"], "of another species")
    take_in(story, phone, tmp_path)
    (after,) = phone.titled(f"R7: {change} 12")
    assert after.uid.value == before.uid.value
    assert after.dtend.value != before.dtend.value
    assert "other species of all families" in after.description.value


@pytest.mark.parametrize("struck", ["stocked", "moved"])
def test_a_line_of_weeks_ago_that_is_crossed_out_leaves_nothing_of_it(
    story: Story, tmp_path: Path, struck: str
) -> None:
    phone = Phone()
    young(story, "larva 12 instar=3")
    tell(story, "R7 moved 12 to R5")
    for _ in range(5):
        story.later(days=4)
        tell(story, "air 9/10")
        take_in(story, phone, tmp_path, "--within", "100d")
    assert phone.titled("R5: pupation of 12")
    (line,) = [one for one in story.on_disk() if one["what"] == struck]
    story.desk.strike(line["id"], "it was another cup")
    take_in(story, phone, tmp_path, "--within", "100d")
    assert phone.titled("R5: pupation of") == phone.titled("R5: moult of") == []


@pytest.mark.parametrize("broken", ["gone", "unreadable", "damaged"])
def test_a_book_that_is_not_whole_cancels_nothing(
    story: Story, tmp_path: Path, broken: str
) -> None:
    phone = Phone()
    other = story.on_other_laptop()
    tell(story, "taxon Pieris orata\nK2 set up laying\nK2 founder A-27-02, Pieris orata female")
    tell(other, "K2 host in cress leaf water\nK2 release by +72h code=A-27-02")
    take_in(story, phone, tmp_path)
    before = {event.summary.value for event in phone.shown}
    assert any("A-27-02 must be free" in title for title in before)

    (file,) = story.folder.glob("entries-bbbb2222-*.jsonl")
    lines = file.read_bytes()
    file.unlink()
    if broken == "unreadable":
        file.mkdir()
    elif broken == "damaged":
        file.write_bytes(lines.replace(b'"what":"release by"', b'"what:"release by"'))
    story.later(hours=1)
    told = take_in(story, phone, tmp_path, status=2)
    assert "nothing is cancelled" in told
    assert "not whole" in told
    assert any("A-27-02 must be free" in event.summary.value for event in phone.shown)
    assert b"CANCELLED" not in (tmp_path / "due.ics").read_bytes()

    if broken == "unreadable":
        file.rmdir()
    file.write_bytes(lines)
    story.later(hours=1)
    tell(story, "K2 died 1")
    told = take_in(story, phone, tmp_path)
    assert "are cancelled" in told
    assert not phone.titled("A-27-02 must be free")
    assert not phone.titled("this calendar may lack something")


def test_a_book_whose_first_lines_cannot_be_read_is_the_same_book(
    story: Story, tmp_path: Path
) -> None:
    phone = Phone()
    other = story.on_other_laptop()
    tell(story, "taxon Pieris orata")
    other.later(minutes=1)
    tell(
        other,
        "K2 set up laying\nK2 founder A-27-02, Pieris orata female\nK2 release by +72h code=A-27-02",
    )
    take_in(story, phone, tmp_path)
    (file,) = story.folder.glob("entries-aaaa1111-*.jsonl")
    aside = file.rename(tmp_path / "aside")
    story.later(minutes=1)
    take_in(story, phone, tmp_path, status=2)
    assert len(phone.titled("A-27-02 must be free")) == 1
    aside.rename(file)
    story.later(minutes=1)
    take_in(story, phone, tmp_path)
    assert len(phone.titled("A-27-02 must be free")) == 1
    assert not phone.titled("this calendar may lack something")


@pytest.mark.parametrize("change", STAGES)
def test_what_should_have_happened_stays_in_it_until_it_is_on_record(
    story: Story, tmp_path: Path, change: str
) -> None:
    phone = Phone()
    young(story, STAGES[change])
    take_in(story, phone, tmp_path)
    (before,) = phone.titled(f"R7: {change} 12")
    for days in (3, 20):
        story.later(days=days)
        take_in(story, phone, tmp_path)
        (now,) = phone.titled(f"R7: {change} 12")
        assert now.uid.value == before.uid.value
    assert "should have happened: look" in now.summary.value
    assert (now.dtstart.value, now.dtend.value) == (
        story.clock.now.date(),
        story.clock.now.date() + timedelta(days=1),
    )
    tell(story, "R7 died 12")
    take_in(story, phone, tmp_path)
    assert phone.titled(f"R7: {change} 12") == []
