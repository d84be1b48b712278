"""What the README had no room for is read by topic, at the shell and on the screen."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from rounds.app.guide import page, title, topics
from rounds.scripting.book import open_book

ROOT = Path(__file__).parents[2]


def shell(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "rounds", *words], capture_output=True, text=True, check=False
    )


def test_help_lists_its_topics_and_reads_one() -> None:
    listed = shell("help").stdout
    assert topics()
    for topic in topics():
        assert f"  {topic}" in listed
        assert title(topic) in listed
    assert shell("help", "prompt").stdout == page("prompt")


def test_a_wrong_topic_is_refused_in_a_line() -> None:
    wrong = shell("help", "dats")
    assert wrong.returncode == 2
    assert wrong.stderr.startswith("rounds: no page 'dats'; perhaps dates; there are book, ")
    assert wrong.stderr.count("\n") == 1


def test_the_readme_names_every_page_and_only_those() -> None:
    table = (ROOT / "README.md").read_text().split("| topic | |")[1].split("\n\n")[0]
    named = {name for row in table.splitlines() for name in re.findall(r"`([a-z-]+)`", row)}
    assert named == set(topics())


def test_lines_of_the_prompt_page_are_taken_as_they_stand(tmp_path: Path) -> None:
    """The page's own examples, on a bench that has what they speak of."""
    book = open_book(tmp_path / "book", keeper="AB")
    setting = """K7 set up laying -2d
K7 founder W3 Leptidea sinapis female -2d
K7 host in vetchling 3 stems in water -2d
E7 set up eggs -2d
E7 40 eggs Leptidea sinapis -2d
R7 set up rearing -2d
E2-E6 set up eggs -2d"""
    for text in setting.splitlines():
        book.record(text)
    book.record("K7 host out kept in E2 -30h")
    lines = [text.strip() for text in page("prompt").splitlines() if text.startswith("    ")]
    assert len(lines) == 10
    for text in lines:
        if text == "E7 hatched 30 inferred":
            text += " sure"  # it is asked about: these eggs are two days old
        if text.startswith("7:20"):
            continue  # before or after this moment, as the clock of the test has it
        assert book.record(text).text, text


@pytest.mark.parametrize("topic", topics())
def test_no_line_of_a_page_is_wider_than_the_readme(topic: str) -> None:
    assert max(map(len, page(topic).splitlines())) <= 128
