"""Damage of every sort: never a crash, always a word with file and line, and all the rest is read."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rounds.daybook.verify import examine
from rounds.entries import codec as written
from rounds.entries.base import Entry
from rounds.entries.registry import KINDS
from rounds.views.words import literal
from tests.bench.strategies import entries_of
from tests.benchmarks.bench_due import NOW
from tests.durability.books import bench_of, desk_at, desk_long_after, lines_of, note, plain

NAME = "entries-bbbb2222-2026-05.jsonl"
GOOD = [line + b"\n" for line in lines_of([note(number) for number in range(12)]).splitlines()]


def book_of(folder: Path, lines: list[bytes]) -> Path:
    """A book of one file of another laptop."""
    folder.mkdir(mode=0o700, exist_ok=True)
    (folder / NAME).write_bytes(b"".join(lines))
    (folder / NAME).chmod(0o600)
    return folder


def entry_line(**fields: object) -> bytes:
    """A note's line with other fields."""
    plain_note = written.write(note(99)) | fields
    return json.dumps(plain_note).encode() + b"\n"


# What is put in the place of the seventh line, and whether that is damage that is told with its place.
ODD_LINES: list[tuple[bytes, bool]] = [
    (b"\0" * 512 + b"\n", True),
    (b'{"what":"note"}\n', True),
    (b"[" * 100_000 + b"\n", True),
    (b'{"a":' * 50_000 + b"1" + b"}" * 50_000 + b"\n", True),
    (b'{"what":"note","id":"x","at":' + b"9" * 5_000 + b"}\n", True),
    (entry_line(at=float("nan")), True),
    (entry_line(at=None), True),
    (entry_line(id=5), True),
    (entry_line(id="x" * 2_000), True),
    (entry_line(text=12345678901234567890), True),
    (entry_line(text="x" * 1_100_000), True),
    (entry_line(at="2026-05-20T07:00:00"), True),
    (entry_line(at="2026-13-45T07:00:00Z"), True),
    (entry_line(at="10000-01-01T00:00:00Z"), True),
    (b"\xff\xfe" + "{}".encode("utf-16-le") + b"\n", True),
    (entry_line().replace(b'"note 99"', b'"\xc3\x28"'), True),
    (entry_line().replace(b"note 99", b"\xed\xa0\x80"), True),
    (b"\xef\xbb\xbf" + entry_line(), True),
    (b"null\n", True),
    (entry_line()[:-20] + b"\n", True),
    (entry_line()[:-1] + entry_line(), True),
    (b"\n", False),
    (b"   \t \r\n", False),
    (entry_line()[:-1] + b"\r\n", False),
    (entry_line(what="sung to"), False),
    (entry_line(mood="merry", nested={"deep": [1, {"er": None}]}), False),
    (b'{"id":"first",' + entry_line()[1:], True),  # a field twice: nobody knows which holds
    (entry_line(at="0001-01-01T00:00:00Z", logged="0001-01-01T00:00:00Z"), True),
    (entry_line(at="0001-01-01T00:00:00+14:00", logged="0001-01-01T00:00:00+14:00"), True),
    (entry_line(at="9999-12-31T23:59:59-14:00"), True),
    (entry_line(at="9999-12-31T23:59:59Z", logged="9999-12-31T23:59:59Z"), True),
    (GOOD[3], False),
]


@pytest.mark.parametrize(("line", "told"), ODD_LINES)
def test_an_odd_line_and_all_the_others(tmp_path: Path, line: bytes, told: bool) -> None:
    folder = book_of(tmp_path / "book", [*GOOD[:6], line, *GOOD[6:]])

    desk = desk_at(folder)

    assert {f"note {number}" for number in range(12)} <= {one.text for one in desk.bench.notes}
    assert len(desk.reading.problems) == told
    assert all(
        problem.startswith(f"{NAME} line 7: ") and "\n" not in problem
        for problem in desk.reading.problems
    )
    desk.dues()
    desk.entries(whole=True)
    assert plain(desk) == plain(desk_at(folder))
    found = examine(folder, "aaaa1111", NOW)
    assert [(one.file, one.line) for one in found.found if one.sort == "damage"] == [
        (NAME, 7)
    ] * told


@pytest.mark.parametrize("year", ["0001", "1969", "2099", "9999"])
@pytest.mark.parametrize("offset", ["Z", "+14:00", "-12:00"])
def test_screens_words_live_with_any_year(tmp_path: Path, year: str, offset: str) -> None:
    from rounds.views.plain import bench_lines

    line = entry_line(at=f"{year}-06-01T00:00:00{offset}", logged=f"{year}-06-01T00:00:00{offset}")
    desk = desk_at(book_of(tmp_path / "book", [*GOOD, line]))

    assert bench_lines(desk.bench, desk.dues(), desk.moment())


Damage = Callable[[random.Random, list[bytes]], list[bytes]]


def flipped(chance: random.Random, lines: list[bytes]) -> list[bytes]:
    data = bytearray(b"".join(lines))
    for _ in range(chance.randrange(1, 6)):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    return [bytes(data)]


def cut(chance: random.Random, lines: list[bytes]) -> list[bytes]:
    data = b"".join(lines)
    return [data[: chance.randrange(len(data))]]


def doubled(chance: random.Random, lines: list[bytes]) -> list[bytes]:
    return [one for line in lines for one in [line] * chance.choice([1, 1, 2, 3])]


def swapped(chance: random.Random, lines: list[bytes]) -> list[bytes]:
    return chance.sample(lines, len(lines))


def zeroed(chance: random.Random, lines: list[bytes]) -> list[bytes]:
    data = bytearray(b"".join(lines))
    start = chance.randrange(len(data))
    data[start : start + 512] = bytes(len(data[start : start + 512]))
    return [bytes(data)]


def spliced(chance: random.Random, lines: list[bytes]) -> list[bytes]:
    data = b"".join(lines)
    one, other = sorted(chance.choices(range(len(data)), k=2))
    return [data[:one] + data[other:] + data[one:other]]


DAMAGES: list[Damage] = [flipped, cut, doubled, swapped, zeroed, spliced]


@pytest.mark.parametrize("damage", DAMAGES)
@pytest.mark.parametrize("seed", range(12))
def test_random_damage_of_files_never_stops_a_start(
    tmp_path: Path, damage: Damage, seed: int
) -> None:
    chance = random.Random(seed)
    folder = book_of(tmp_path / "book", damage(chance, GOOD))

    desk = desk_at(folder)

    assert plain(desk) == plain(desk_at(folder)) == bench_of(folder)
    whole = (folder / NAME).read_bytes().split(b"\n")[:-1]
    unread = [
        number for number, line in enumerate(whole, start=1) if line.strip() and not _is_read(line)
    ]
    told = {
        int(found[1])
        for problem in desk.reading.problems
        if (found := re.match(rf"{NAME} line (\d+): ", problem))
    }
    assert told == set(unread)


def _is_read(line: bytes) -> bool:
    try:
        written.read(line)
    except written.NotRead:
        return False
    return True


@given(
    st.lists(
        st.sampled_from(KINDS).flatmap(lambda kind: entries_of(kind, 1)), min_size=1, max_size=12
    ),
    st.randoms(use_true_random=False),
)
@settings(max_examples=60, deadline=None)
def test_lines_of_every_kind_with_any_flips(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Entry], chance: random.Random
) -> None:
    lines = [
        line + b"\n"
        for number, entry in enumerate(entries)
        for line in lines_of(
            [
                msgspec.structs.replace(
                    entry, id=f"id{number:03d}", at=NOW + timedelta(minutes=number)
                )
            ]
        ).splitlines()
    ]
    folder = book_of(tmp_path_factory.mktemp("any") / "book", chance.choice(DAMAGES)(chance, lines))

    desk = desk_long_after(folder)

    assert plain(desk) == bench_of(folder)
    desk.dues()
    examine(folder, "aaaa1111", NOW)


@given(st.text(max_size=80))
@settings(max_examples=80, deadline=None)
def test_any_text_in_a_line_or_a_file_name_is_told_literally(
    tmp_path_factory: pytest.TempPathFactory, text: str
) -> None:
    folder = book_of(
        tmp_path_factory.mktemp("any") / "book", [text.encode("utf-8", "replace") + b"\n"]
    )

    for one in examine(folder, "aaaa1111", NOW).found:
        shown = literal(f"{one.sort}: {one.file} {one.text}")
        assert shown.isprintable() or all(sign.isprintable() or sign == " " for sign in shown)


@given(
    st.sampled_from(KINDS).flatmap(lambda kind: entries_of(kind, 1)),
    st.randoms(use_true_random=False),
)
@settings(max_examples=100, deadline=None)
def test_a_changed_letter_in_the_name_of_a_field_is_told(
    entry: Entry, chance: random.Random
) -> None:
    told = written.write(entry)
    name = chance.choice([one for one in told if one != "what"])
    at = chance.randrange(len(name))
    odd = f"{name[:at]}#{name[at + 1 :]}"
    renamed = {odd if one == name else one: value for one, value in told.items()}
    assert not _is_read(json.dumps(renamed).encode())
    assert written.read(json.dumps(told | {"of another version": 1}).encode()) == entry
