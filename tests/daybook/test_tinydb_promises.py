"""What TinyDB's documentation ("Usage" and "Advanced usage", version 4.8) says of reading, asking and adding, on our table.

Each statement is tried on TinyDB itself, in memory, and on a book with the same entries: both must answer alike.
What a daybook refuses on purpose is listed at the end and in `test_table.py`.

TinyDB's own suite (tests/ of version 4.9; its files from memory) by file, and what of it is not tried here, with the reason:

test_tables, test_tinydb   all of reading, asking and adding is; updating, upserting, removing and truncating are refused (REFUSED);
                           how full its cache is, and ids that count on by one, are other here (DIFFERENT)
test_queries               each sort of condition is (QUERIES); hashes and equality of queries are its own class, taken as it is
test_operations            each is, as part of an update that is refused
test_storages              encodings, access modes, indentation and YAML are of its JSONStorage; ours is the book's folder, tried in
                           tests/daybook, tests/durability and the stories of books
test_middlewares           none can lie between (DIFFERENT)
test_utils                 the least recently used results and frozen values are inside it, and not used by the table
the mypy plugin            only says that a Table's attributes are a TinyDB's
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import tinydb.operations
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
    entry(
        4,
        what="split",
        container="L2",
        into=[{"code": "A2", "number": 3}, {"code": "A3", "number": 9}],
    ),
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
    "test with arguments": Query().container.test(
        lambda value, low, high: low <= value <= high, "L", "M"
    ),
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


def test_an_insert_gives_the_number_by_which_it_is_found_in_any_process(
    ours: Table, tmp_path: Path
) -> None:
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


def test_what_another_process_inserted_is_found_though_it_was_asked_before(
    ours: Table, tmp_path: Path
) -> None:
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


def test_an_entry_that_is_no_mapping_is_refused_as_tinydb_refuses_it(
    ours: Table, theirs: Table
) -> None:
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
def test_changing_and_taking_away_are_refused_on_purpose(
    ours: Table, refused: Callable[[Table], object]
) -> None:
    with pytest.raises(AppendOnly, match="cross it out"):
        refused(ours)
    assert ours.all() == ENTRIES


def test_a_number_of_ones_own_and_other_tables_are_refused_on_purpose(
    ours: Table, tmp_path: Path
) -> None:
    with pytest.raises(ValueError, match="made of its id"):
        ours.insert(Document(entry(8), doc_id=12))
    assert ours.insert(Document(entry(8), doc_id=number_of("id008")))
    with pytest.raises(AppendOnly, match="one table"):
        DaybookDB(tmp_path, "aaaa1111").table("others").insert(entry(9))


values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=8,
)


@given(
    st.dictionaries(
        st.text(min_size=1, max_size=8).filter(lambda name: name not in ("id", "logged")),
        values,
        max_size=5,
    )
)
@settings(max_examples=60, deadline=None)
def test_any_json_comes_back_as_it_went_in(
    tmp_path_factory: pytest.TempPathFactory, fields: Entry
) -> None:
    table = Daybook.open(tmp_path_factory.mktemp("any") / "book", "aaaa1111").table

    number = table.insert({"id": "id001", "logged": LOGGED} | fields)

    assert table.get(doc_id=number) == {"id": "id001", "logged": LOGGED} | fields


# Every public name of TinyDB's table, database and queries is in one of these lists, with the test that holds it or the
# reason why it is refused or differs. Read off the installed package (4.9), so that a name of a new version fails.
ALIKE: dict[type, dict[str, str]] = {
    Table: {
        "all": "test_all_len_iteration_and_documents",
        "search": "test_every_query_finds_what_tinydb_finds",
        "get": "test_getting_by_number",
        "contains": "test_getting_by_number",
        "count": "test_every_query_finds_what_tinydb_finds",
        "clear_cache": "test_what_was_inserted_is_found_at_once_though_it_was_asked_before",
        "insert": "test_an_insert_gives_the_number_by_which_it_is_found_in_any_process",
        "insert_multiple": "test_an_insert_gives_the_number_by_which_it_is_found_in_any_process",
        "name": "test_names_classes_and_words_of_both",
        "storage": "test_names_classes_and_words_of_both",
        "document_class": "test_names_classes_and_words_of_both",
        "document_id_class": "test_names_classes_and_words_of_both",
        "query_cache_class": "test_names_classes_and_words_of_both",
        "default_query_cache_capacity": "test_names_classes_and_words_of_both",
    },
    TinyDB: {
        "table": "test_tables_of_both",
        "tables": "test_tables_of_both",
        "drop_table": "test_tables_of_both",
        "close": "test_the_database_is_a_context_and_hands_calls_on_to_its_table",
        "storage": "test_names_classes_and_words_of_both",
        "default_table_name": "test_names_classes_and_words_of_both",
        "table_class": "test_names_classes_and_words_of_both",
        "default_storage_class": "test_names_classes_and_words_of_both",
    },
    Query: dict.fromkeys(
        ("all", "any", "exists", "fragment", "map", "matches", "noop", "one_of", "search", "test"),
        "test_every_query_finds_what_tinydb_finds",
    )
    | {"is_cacheable": "test_a_query_is_the_same_object_for_both"},
}
REFUSED: dict[type, dict[str, str]] = {
    Table: {
        "update": "what was said stays as it was said; a line is struck by another line",
        "update_multiple": "the same",
        "upsert": "it would change what is there",
        "remove": "a line that was read by another laptop cannot be taken back from it",
        "truncate": "the same, of all lines",
    },
    TinyDB: {"drop_tables": "it would take all lines away"},
    Query: {},
}
# Where both take a call and answer otherwise.
DIFFERENT = {
    "a number is made of the entry's id": "so that it is the same in every process; TinyDB counts on from the greatest",
    "a plain mapping under an id that is taken is appended": "looking for it would read the book at each insert; the earlier counts",
    "cache_size is taken and not used": "other processes write too, so that a kept result could be stale",
    "persist_empty is taken for the one table and writes nothing": "TinyDB's empties the table; ours is begun by its first line",
    "the words of a refusal go on": "they begin as TinyDB's and say what would be right",
    "repr names our classes": "all else in it is alike",
    "another table than the one is empty and takes nothing": "a kind of entry is a field, so that one line tells all",
    "a middleware cannot lie between": "one that caches writes would acknowledge what is not on disk",
}


@pytest.mark.parametrize("kind", [Table, TinyDB, Query])
def test_every_public_name_is_held_alike_or_refused_for_a_reason(kind: type) -> None:
    public = {name for name in dir(kind) if not name.startswith("_")}
    assert public == ALIKE[kind].keys() | REFUSED[kind].keys()
    assert not ALIKE[kind].keys() & REFUSED[kind].keys()
    assert set(ALIKE[kind].values()) <= globals().keys()
    assert all(REFUSED[kind].values())


def test_names_classes_and_words_of_both(ours: Table, theirs: Table, tmp_path: Path) -> None:
    assert ours.name == theirs.name == "_default"
    assert ours.document_class is theirs.document_class is Document
    assert ours.document_id_class is theirs.document_id_class is int
    assert ours.query_cache_class is theirs.query_cache_class
    assert ours.default_query_cache_capacity == theirs.default_query_cache_capacity
    assert ours.storage.read() == {"_default": {str(one.doc_id): dict(one) for one in ours}}
    database, other = DaybookDB(tmp_path / "book", "aaaa1111"), TinyDB(storage=MemoryStorage)
    assert database.default_table_name == other.default_table_name
    assert database.storage.read() == ours.storage.read()
    assert isinstance(database.table("_default"), DaybookDB.table_class)
    assert isinstance(database.storage, DaybookDB.default_storage_class)
    other.insert_multiple(ENTRIES)
    assert repr(database) == repr(other).replace("<TinyDB", "<DaybookDB")
    shown = re.compile(r"<\w+ name='_default', total=6, storage=<.* object at 0x\w+>>")
    assert shown.fullmatch(repr(ours))
    assert shown.fullmatch(repr(theirs))


def test_tables_of_both(tmp_path: Path) -> None:
    both = DaybookDB(tmp_path, "aaaa1111"), TinyDB(storage=MemoryStorage)
    for database in both:
        assert database.tables() == set()
        assert database.table("others").all() == []
        assert len(database.table("others")) == 0
        assert database.table("_default") is database.table("_default")
        assert database.drop_table("not there") is None  # type: ignore[func-returns-value]
        database.insert(entry(1))
        assert database.tables() == {"_default"}
        assert len(database) == 1
        with pytest.raises(AttributeError, match="no attribute 'nothing_of_it'"):
            database.nothing_of_it  # noqa: B018 - asking is what is tried


def test_a_query_is_the_same_object_for_both(ours: Table, theirs: Table) -> None:
    query = Query().container == "L2"
    assert query.is_cacheable()
    assert hash(query) == hash(Query().container == "L2")
    assert len({query, Query().container == "L2"}) == 1
    for table in (ours, theirs):
        assert len(table.search(query)) == len(table.search(query)) == 3
        with pytest.raises(RuntimeError):
            table.search(Query())
        assert table.search(lambda one: one.get("number") == 2) == [ENTRIES[0]]  # type: ignore[arg-type]


def test_a_document_under_a_number_that_is_taken_is_refused_alike(
    ours: Table, theirs: Table
) -> None:
    theirs.truncate()
    theirs.insert_multiple(Document(one, doc_id=number_of(one["id"])) for one in ENTRIES)
    again = Document(ENTRIES[0], doc_id=number_of(ENTRIES[0]["id"]))
    fresh = Document(entry(7), doc_id=number_of("id007"))
    for table in (ours, theirs):
        for refused in (
            lambda table=table: table.insert(again),
            lambda table=table: table.insert_multiple([fresh, again]),
        ):
            with pytest.raises(
                ValueError, match=f"^Document with ID {again.doc_id} already exists"
            ):
                refused()
        with pytest.raises(ValueError, match=f"^Document with ID {fresh.doc_id} already exists"):
            table.insert_multiple([fresh, fresh])
    assert ours.all() == ENTRIES, "nothing of a refused insert stays"


def test_a_plain_mapping_under_an_id_that_is_taken_does_not_change_what_is_there(
    ours: Table,
) -> None:
    ours.insert(entry(1, text="later"))
    assert ours.get(doc_id=number_of("id001")) == ENTRIES[0]
    with pytest.raises(ValueError, match="already exists"):
        ours.insert_multiple([entry(7), entry(7, text="twice in one call")])


def test_what_persist_empty_and_cache_size_do(ours: Table, tmp_path: Path) -> None:
    database = DaybookDB(tmp_path / "book", "aaaa1111")
    table = database.table("_default", cache_size=30, persist_empty=True)
    assert table.all() == ENTRIES, "TinyDB would have emptied it"
    with pytest.raises(AppendOnly, match="one table, _default; it is not called others"):
        database.table("others", persist_empty=True)


def test_dropping_what_is_there_is_refused_on_purpose(ours: Table, tmp_path: Path) -> None:
    database = DaybookDB(tmp_path / "book", "aaaa1111")
    for refused in (
        database.drop_tables,
        lambda: database.drop_table("_default"),
        lambda: database.storage.write({}),
    ):
        with pytest.raises(AppendOnly, match="cross it out"):
            refused()
    assert ours.all() == ENTRIES


@pytest.mark.parametrize("wrong", [[], ["a", "list"], "text", 5, None, object()])
def test_what_is_no_mapping_is_refused_in_the_same_words(
    ours: Table, theirs: Table, wrong: object
) -> None:
    for table in (ours, theirs):
        with pytest.raises(ValueError, match=r"^Document is not a Mapping"):
            table.insert(wrong)  # type: ignore[arg-type]
        with pytest.raises(ValueError, match=r"^Document is not a Mapping"):
            table.insert_multiple([entry(8), wrong])  # type: ignore[list-item]
    assert ours.all() == ENTRIES


def test_inserting_nothing_and_from_a_generator(ours: Table, theirs: Table) -> None:
    for table in (ours, theirs):
        assert table.insert_multiple([]) == []
        assert len(table.insert_multiple(entry(one) for one in range(20, 23))) == 3
        assert len(table) == 9
    assert ours.all() == theirs.all()


class Mapped(dict[str, Any]):
    """Another mapping than a plain dict."""


def test_any_mapping_is_taken_and_comes_back_as_a_document(ours: Table, theirs: Table) -> None:
    for table in (ours, theirs):
        table.insert(Mapped(entry(8, text="mapped")))
        found = table.get(Query().text == "mapped")
        assert type(found) is Document
        assert found == entry(8, text="mapped")


def test_what_is_no_json_is_refused_and_nothing_of_it_stays(ours: Table, tmp_path: Path) -> None:
    for wrong in ({1, 2}, object(), float("nan")):
        with pytest.raises((TypeError, ValueError)):
            ours.insert_multiple([entry(7), entry(8, text=wrong)])
    assert Daybook.open(tmp_path / "book", "bbbb2222").table.all() == ENTRIES


OPERATIONS = {
    "delete": ("container",),
    "add": ("number", 1),
    "subtract": ("number", 1),
    "set": ("number", 1),
    "increment": ("number",),
    "decrement": ("number",),
}


def test_every_operation_is_of_update_and_refused_with_it(ours: Table) -> None:
    public = {
        name
        for name, one in vars(tinydb.operations).items()
        if getattr(one, "__module__", "") == "tinydb.operations"
    }
    assert public == OPERATIONS.keys()
    for name, arguments in OPERATIONS.items():
        operation = getattr(tinydb.operations, name)(*arguments)
        with pytest.raises(AppendOnly, match="cross it out"):
            ours.update(operation, Query().number.exists())
        with pytest.raises(AppendOnly, match="cross it out"):
            ours.update(operation, doc_ids=[number_of("id001")])
    with pytest.raises(AppendOnly, match="cross it out"):
        ours.remove(doc_ids=[number_of("id001")])
    assert ours.all() == ENTRIES


def test_a_list_of_results_may_be_changed_and_asked_for_again(ours: Table, theirs: Table) -> None:
    query = Query().what == "drank"
    for table in (ours, theirs):
        results = table.search(query)
        results.append(Document({}, doc_id=0))
        assert table.search(query) == [ENTRIES[0], ENTRIES[2]]
        assert table.get(query) == table.get(query)


def new_book(folder: Path) -> DaybookDB:
    folder.mkdir(exist_ok=True)
    return DaybookDB(folder, "aaaa1111")


def test_opened_and_closed_again_and_again(tmp_path: Path) -> None:
    def both() -> list[TinyDB]:
        return [new_book(tmp_path / "book"), TinyDB(tmp_path / "theirs.json")]

    for database in both():
        database.close()
    for begin in (0, 3):
        for database in both():
            with database:
                database.insert_multiple(entry(begin + one) for one in range(3))
            database.close()  # once more, as a context that was closed within
    for database in both():
        with database:
            assert len({one.doc_id for one in database}) == len(database) == 6


def test_two_databases_know_nothing_of_each_other(tmp_path: Path) -> None:
    one, other = (new_book(tmp_path / name) for name in ("one", "other"))
    one.insert_multiple(ENTRIES)
    other.insert(entry(1, text="alone"))
    assert (len(one), len(other)) == (6, 1)


def test_a_table_outlives_what_handed_it_out(tmp_path: Path) -> None:
    table = new_book(tmp_path / "book").table("_default")
    table.insert(entry(1))
    assert table.all() == [entry(1)]
