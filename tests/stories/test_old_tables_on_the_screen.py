"""An old table comes in on the screen: columns, questions, each line, and all of it by one key."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Screen, Story

SPECIES = "Brenthis ino"
ROWS = f"""Zucht;Los;Art;Eiablage;Eier;Schlupf;Raupen
A;x;{SPECIES};3.5.2024;30;12.5.2024;28
B;y;Brenthis inno;13.5.2024;20;22.5.2024;21
"""


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def old(tmp_path: Path, text: str = ROWS) -> str:
    """What is typed to take in a table."""
    (tmp_path / "old.csv").write_text(text, encoding="utf-8")
    return "import old.csv"


async def typed(screen: Screen, words: str) -> None:
    names = {" ": "space", "/": "slash", ".": "full_stop", "-": "minus", "_": "underscore"}
    await screen.press(*(names.get(sign, sign) for sign in words), "enter")


async def test_it_is_asked_mended_left_out_recorded_and_taken_back(
    story: Story, tmp_path: Path
) -> None:
    async with story.screens((90, 30)) as screen:
        await screen.type(old(tmp_path))
        assert "import old.csv 2 lines, 7 columns; nothing is recorded" in screen.words
        assert "'Brenthis inno'" in screen.words
        assert f"F2 {SPECIES}" in screen.words
        await screen.press("f10")
        assert "first answer what is asked" in screen.words
        await screen.press("f2")
        assert "line 3 cannot be read: 21 larvae of 20 eggs; mend one of them" in screen.words
        await screen.press("f10")
        assert "F4 leaves them out" in screen.words
        assert story.on_disk() == []
        await screen.press("f3")
        assert "line 2: 3 May 2024: brood A" in screen.words
        await screen.press("f3", "f4", "f2")
        assert "1 line is understood, 1 cannot be read" in screen.words
        await screen.press("f10")
        assert "recorded:" in screen.words
        assert "A" in story.desk.bench.broods
        await screen.press("u")
        assert "A" not in story.desk.bench.broods


async def test_a_column_gets_another_meaning(story: Story, tmp_path: Path) -> None:
    async with story.screens((90, 30)) as screen:
        await screen.type(old(tmp_path, ROWS.replace("inno", "ino").replace(";21", ";19")))
        await screen.press("f2")
        assert "Los x, y left out" in screen.words
        await screen.press("down")
        assert "'Los' is" in screen.words
        await typed(screen, "nonsense")
        assert "'nonsense' is no field" in screen.words
        await screen.press(*["backspace"] * 8)
        await typed(screen, "note")
        assert "'Los' is note" in screen.words
        await screen.press("f1")
        assert "Up and Down choose a column" in screen.words
        assert "what happened" in screen.words
        await screen.press("escape")
        await screen.press("escape")
        assert story.on_disk() == []


async def test_what_is_no_table_is_said_and_left(story: Story, tmp_path: Path) -> None:
    async with story.screens((90, 30)) as screen:
        await screen.type("import none.csv")
        assert "none.csv cannot be read: No such file or directory" in " ".join(screen.text.split())
        await screen.press("escape")
        await screen.type("import")
        assert "as: import ~/old.xlsx" in screen.words
        assert story.on_disk() == []


async def test_the_first_start_offers_it(story: Story, tmp_path: Path) -> None:
    line = old(tmp_path, ROWS.replace("inno", "ino").replace(";21", ";19"))
    async with story.screens((90, 30)) as screen:
        await screen.press("a", "?", "enter")
        assert "import FILE" in screen.words
        await screen.press("backspace")
        await typed(screen, line)
        await screen.press("f2")
        assert "2 lines are understood" in screen.words
        await screen.press("f10")
    assert set(story.desk.bench.broods) == {"A", "B"}


def test_the_first_start_on_lines_names_the_command(story: Story) -> None:
    ran = story.shell("begin", typed="import old.csv\n")
    assert "rounds import old.csv" in ran.out


WIDE = f"""mother,species,laid,eggs,hatched,larvae,pupated,pupae,emerged,adults,temperature,place,note,note 2
F1,{SPECIES},2022-05-03,40,2022-05-09,30,2022-06-03,20,2022-06-14,18,21,shelf,,x
F2,{SPECIES},2022-05-20,50,2022-05-26,10,2022-06-19,8,2022-06-30,2,21,shelf,,x
"""


async def test_a_wide_table_is_seen_whole_on_a_small_screen(story: Story, tmp_path: Path) -> None:
    async with story.screens((80, 24)) as screen:
        await screen.type(old(tmp_path, WIDE))
        await screen.press("f2")
        assert "brood" in screen.text.splitlines()[2] + screen.text.splitlines()[3]
        for heading in WIDE.splitlines()[0].split(","):
            assert f"\n > {heading} " in f"\n{screen.text}", heading
            await screen.press("down")
        assert "> mother" in screen.text
        await screen.press("pagedown")
        assert "> mother" not in screen.text
        assert "dates: " in screen.words
        await screen.press("question_mark")
        assert "Each column of the table becomes" in screen.words
        await screen.press("question_mark")
        assert "> mother" in screen.text
        await screen.press("pagedown")
        await screen.press("pageup")
        assert "> mother" in screen.text
        assert screen.text.splitlines()[-1].endswith("? help")
        await screen.press("question_mark")
        assert "the day of death" in screen.words
        await screen.press("question_mark")
        assert "> mother" in screen.text


async def test_what_is_asked_is_asked_in_words_of_the_page(story: Story, tmp_path: Path) -> None:
    """Not in those of the command; a word that is nearly known is proposed first."""
    rows = "Datum;Gefäß;Was;Anzahl\n3/5/2024;M1;Eier gelegt;30\n4/6/2024;M1;verpupt;20\n"
    async with story.screens((80, 24)) as screen:
        await screen.type(old(tmp_path, rows))
        assert "can be day first or month first" in screen.words
        assert "F2 day-first, month-first" in screen.words
        assert "--" not in screen.words
        await screen.press("f2")
        assert "no column says the species" in screen.words
        assert "--" not in screen.words
        await typed(screen, SPECIES)
        assert "'verpupt' in 1 line is not known; what does it mean?" in screen.words
        assert "F2 pupated, laid" in screen.words
        assert "--" not in screen.words
        assert screen.text.splitlines()[-1].endswith("? help")
        await screen.press("f2", "f2")
        assert "2 lines are understood" in screen.words


async def test_the_year_of_all_lines_is_typed(story: Story, tmp_path: Path) -> None:
    rows = f"Zucht;Art;Eiablage;Eier\nA;{SPECIES};3.5.;30\n"
    async with story.screens((80, 24)) as screen:
        await screen.type(old(tmp_path, rows))
        assert "of dates without a year say year" in screen.words
        await typed(screen, "year 2019")
        await screen.press("f2", "f2")
        assert "1 line is understood" in screen.words
        await screen.press("f10")
    (begun,) = [line for line in story.on_disk() if line["what"] == "brood"]
    assert begun["laid_from"].startswith("2019-05-03")


async def test_a_mended_table_that_was_undone_comes_in_again(story: Story, tmp_path: Path) -> None:
    good = ROWS.replace("inno", "ino").replace(";21", ";19")
    async with story.screens((90, 30)) as screen:
        for text in (good, good.replace(";28", ";27")):
            await screen.type(old(tmp_path, text))
            await screen.press("f2", "f10")
            story.later(minutes=1)
        await screen.press("u")
        assert hatched(story) == [28, 19]
        story.later(minutes=1)
        await screen.type("import old.csv")
        await screen.press("f10")
        assert "recorded" in screen.words
    assert hatched(story) == [27, 19]


def hatched(story: Story) -> list[int]:
    """How many hatched, by the lines that count."""
    story.reopen()
    lines = [line for line in story.on_disk() if line["what"] == "hatched"]
    return [line["number"] for line in lines if line["id"] not in story.desk.struck]


async def test_how_many_died_is_asked_on_the_screen_too(story: Story, tmp_path: Path) -> None:
    text = f"""Datum;Gefäß;Was;Anzahl;Art
13.5.2020;T1;Eier;20;{SPECIES}
18.5.2020;T1;Raupen geschlüpft;20;
20.5.2020;T1;tot;;
12.6.2020;T1;verpuppt;15;
"""
    async with story.screens((90, 30)) as screen:
        await screen.type(old(tmp_path, text))
        assert "line 4, 20.5.2020 T1 tot: how many died is not written" in screen.words
        assert "F2 1, all" in screen.words
        await typed(screen, "3")
        await screen.press("f2", "f10")
        assert "recorded:" in screen.words
    (died,) = [line for line in story.on_disk() if line["what"] == "died"]
    assert died["number"] == 3
