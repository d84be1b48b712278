"""What narrows the daybook page down is a query that the book's own TinyDB table answers with the same entries."""

from __future__ import annotations

from rounds.app.desk import Desk, Recorded
from rounds.app.prompt_line import say_phrase
from rounds.views.daybook_page import daybook_rows
from rounds.views.queries import about, with_words


def test_the_page_of_a_container_is_what_the_table_finds(desk: Desk) -> None:
    for line in (
        "K2 set up laying",
        "E4 set up eggs",
        "K2 host in violet leaf water 3 sprigs",
        "K2 host out violet leaf, held in E4",
    ):
        assert isinstance(say_phrase(desk, line), Recorded), line

    rows = daybook_rows(
        desk.entries(whole=True), frozenset(), desk.zone, desk.now(), container="K2"
    )
    found = desk.book.table.search(about("K2"))

    assert {row.key for row in rows} == {entry["id"] for entry in found}
    assert len(found) == 3


def test_words_are_found_in_any_case_and_order() -> None:
    asked = with_words("Violet k2")
    assert asked({"text": "K2 host in: violet"})
    assert not asked({"text": "K3 host in: violet"})
    assert with_words("")({"text": ""})
