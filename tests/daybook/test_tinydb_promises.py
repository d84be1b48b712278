"""What TinyDB's documentation ("Usage" and "Advanced usage", version 4.8) says of reading, asking and adding, on our table.

Each statement is tried on TinyDB itself, in memory, and on a book with the same entries: both must answer alike.
What a daybook refuses on purpose is listed at the end and in `test_table.py`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tinydb import Query, TinyDB, where
from tinydb.queries import QueryLike
from tinydb.storages import MemoryStorage
from tinydb.table import Document, Table

from rounds.daybook import AppendOnly, Daybook
from rounds.daybook.storage import DaybookDB, number_of

LOGGED = "2026-05-20T07:00:00+02:00"
Entry = dict[str, Any]


def entry(serial: int, **fields: Any) -> Entry:
    return {"id": f"id{serial:03d}", "at": LOGGED, "logged": LOGGED, "what": "note"} | fields


ENTRIES: list[Entry] = [
    entry(1, what="drank", container="L2", number=2, how={"aid": "straw", "minutes": 3}),
    entry(2, what="searched", container="R4", found=3, where=["leaf", "gauze"]),
    entry(3, what="drank", container="L2", remark=None),
    entry(4, what="split", container="L2", into=[{"code": "A2", "number": 3}, {"code": "A3", "number": 9}]),
    entry(5, text="Größe\nzwei\tZeilen \u202e", flags=[]),
    entry(6, container="r7", number=11, where=["wall"]),
]


QUERIES: dict[str, QueryLike] = {
    "field as attribute": Query().container == "L2",
    "field as key": Query()["container"] == "L2",
    "where": where("container") == "L2",
    "nested field": Query().how.aid == "straw",
    "nested by where": where("how")["minutes"] > 1,
    "unequal": Query().container != "L2",
    "less": Query().number < 5,
    "at most": Query().number <= 2,
    "greater": Query().number > 2,
    "at least": Query().number >= 11,
    "exists": Query().found.exists(),
    "exists though none": Query().remark.exists(),
    "matches the beginning": Query().container.matches("[LR]"),
    "matches with flags": Query().container.matches("r", flags=re.IGNORECASE),
    "search anywhere": Query().text.search("zwei"),
    "test": Query().container.test(lambda value: value.startswith("R")),
    "test with arguments": Query().container.test(lambda value, low, high: low <= value <= high, "L", "M"),
    "any of a list that fits": Query().into.any(Query().number == 9),
    "any of these values": Query().where.any(["gauze", "pot"]),
    "all of a list fit": Query().into.all(Query().number >= 3),
    "all of these values": Query().where.all(["leaf"]),
    "one of": Query().container.one_of(["R4", "r7"]),
    "fragment": Query().fragment({"what": "drank", "container": "L2"}),
    "fragment of a field": Query().how.fragment({"aid": "straw"}),
    "noop": Query().noop(),
    "map": Query().container.map(str.upper) == "R7",
    "and": (Query().container == "L2") & (Query().what == "drank"),
    "or": (Query().container == "R4") | (Query().number == 11),
    "not": ~(Query().container == "L2"),
    "none fit": Query().container == "nowhere",
}


@pytest.fixture
def theirs() -> Table:
    table = TinyDB(storage=MemoryStorage).table("_default")
    table.insert_multiple(ENTRIES)
    return table


@pytest.fixture
def ours(tmp_path: Path) -> Table:
    book = Daybook.open(tmp_path / "book", "aaaa1111")
    book.append_many(ENTRIES)
    return book.table


@pytest.mark.parametrize("name", QUERIES)
def test_every_query_finds_what_tinydb_finds(ours: Table, theirs: Table, name: str) -> None:
    query = QUERIES[name]
    found = theirs.search(query)

    assert [dict(one) for one in ours.search(query)] == [dict(one) for one in found]
    assert ours.count(query) == theirs.count(query) == len(found)
    assert ours.contains(query) == theirs.contains(query)
    assert (ours.get(query) or {}) == (theirs.get(query) or {})


def test_all_len_iteration_and_documents(ours: Table, theirs: Table) -> None:
    assert ours.all() == theirs.all() == ENTRIES
    assert len(ours) == len(theirs)
    assert list(ours) == list(theirs)
    assert all(isinstance(one, Document) and one.doc_id == number_of(one["id"]) for one in ours)


def test_getting_by_number(ours: Table) -> None:
    numbers = [one.doc_id for one in ours]
    assert ours.get(doc_id=numbers[2]) == ENTRIES[2]
    assert ours.get(doc_id=999) is None
    assert ours.get(doc_ids=numbers[:2]) == ENTRIES[:2]
    assert ours.get(doc_ids=[numbers[5], 999]) == [ENTRIES[5]]
    assert ours.contains(doc_id=numbers[0])
    assert not ours.contains(doc_id=999)
    with pytest.raises(RuntimeError):
        ours.get()
    with pytest.raises(RuntimeError):
        ours.contains()


def test_an_insert_gives_the_number_by_which_it_is_found_in_any_process(ours: Table, tmp_path: Path) -> None:
    number = ours.insert(entry(7, text="seven"))
    more = ours.insert_multiple(entry(one) for one in (8, 9))

    again = Daybook.open(tmp_path / "book", "bbbb2222").table
    for table in (ours, again):
        assert table.get(doc_id=number) == entry(7, text="seven")
        assert table.get(doc_ids=more) == [entry(8), entry(9)]


def test_what_was_inserted_is_found_at_once_though_it_was_asked_before(ours: Table) -> None:
    query = Query().text == "eight"
    assert ours.search(query) == []
    ours.insert(entry(8, text="eight"))
    assert len(ours.search(query)) == 1
    ours.clear_cache()
    assert len(ours.search(query)) == 1


def test_what_another_process_inserted_is_found_though_it_was_asked_before(ours: Table, tmp_path: Path) -> None:
    query = Query().text == "eight"
    assert ours.search(query) == []
    Daybook.open(tmp_path / "book", "bbbb2222").append_many([entry(8, text="eight")])
    assert len(ours.search(query)) == 1


def test_results_are_the_askers_own(ours: Table) -> None:
    ours.search(Query().what == "drank")[0]["container"] = "changed"
    ours.all()[3]["into"][0]["code"] = "changed"

    assert ours.all() == ENTRIES


def test_the_database_is_a_context_and_hands_calls_on_to_its_table(tmp_path: Path) -> None:
    with DaybookDB(tmp_path, "aaaa1111") as database:
        database.insert(entry(1))
        assert len(database) == 1
        assert database.tables() == {"_default"}
        assert database.search(Query().id == "id001") == [entry(1)]
        assert [one["id"] for one in database] == ["id001"]


def test_an_entry_that_is_no_mapping_is_refused_as_tinydb_refuses_it(ours: Table, theirs: Table) -> None:
    for table in (ours, theirs):
        with pytest.raises(ValueError, match="apping"):
            table.insert("text")  # type: ignore[arg-type]
        with pytest.raises(ValueError, match="apping"):
            table.insert_multiple([entry(8), 5])  # type: ignore[list-item]
    assert ours.all() == ENTRIES


@pytest.mark.parametrize(
    "refused",
    [
        lambda table: table.update({"by": "X"}, Query().id == "id001"),
        lambda table: table.update_multiple([({"by": "X"}, Query().id == "id001")]),
        lambda table: table.upsert(entry(1, by="X"), Query().id == "id001"),
        lambda table: table.remove(Query().id == "id001"),
        lambda table: table.truncate(),
    ],
)
def test_changing_and_taking_away_are_refused_on_purpose(ours: Table, refused: Callable[[Table], object]) -> None:
    with pytest.raises(AppendOnly, match="strike it"):
        refused(ours)
    assert ours.all() == ENTRIES


def test_a_number_of_ones_own_and_other_tables_are_refused_on_purpose(ours: Table, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="made of its id"):
        ours.insert(Document(entry(8), doc_id=12))
    assert ours.insert(Document(entry(8), doc_id=number_of("id008")))
    with pytest.raises(AppendOnly, match="one table"):
        DaybookDB(tmp_path, "aaaa1111").table("others").insert(entry(9))


values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(st.text(min_size=1, max_size=8).filter(lambda name: name not in ("id", "logged")), values, max_size=5))
@settings(max_examples=60, deadline=None)
def test_any_json_comes_back_as_it_went_in(tmp_path_factory: pytest.TempPathFactory, fields: Entry) -> None:
    table = Daybook.open(tmp_path_factory.mktemp("any") / "book", "aaaa1111").table

    number = table.insert({"id": "id001", "logged": LOGGED} | fields)

    assert table.get(doc_id=number) == {"id": "id001", "logged": LOGGED} | fields
