"""Old tables whose text is in the letters of central Europe: found out by what no word has, or named."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.stories.telling import Ran, Story

SPECIES = "Pieris verrina"
TABLE = f"Data,Cup,Species,What,Number\n2022-05-01,A1,{SPECIES},złożyła,20\n"
TAUGHT = ("--map", "Data=date", "--as", "złożyła=laid")


def imported_in(story: Story, tmp_path: Path, codec: str, text: str, *options: str) -> Ran:
    (tmp_path / "old.csv").write_bytes(text.encode(codec))
    return story.shell("import", str(tmp_path / "old.csv"), "--dry-run", *options)


def test_polish_letters_are_found_out_and_told(story: Story, tmp_path: Path) -> None:
    ran = imported_in(story, tmp_path, "cp1250", TABLE, *TAUGHT)
    assert "Windows-1250, for in Windows-1252 a word would have '³'" in ran.out
    assert "stocked 20 eggs" in ran.out


def test_western_letters_stay_so(story: Story, tmp_path: Path) -> None:
    table = TABLE.replace("złożyła", "Eier gelegt (Gefäß 5 cm³)")
    ran = imported_in(story, tmp_path, "cp1252", table, "--map", "Data=date")
    assert "between the columns, Windows-1252\n" in ran.out


def test_the_encoding_can_be_named(story: Story, tmp_path: Path) -> None:
    ran = imported_in(story, tmp_path, "iso-8859-2", TABLE, "--encoding", "iso-8859-2", *TAUGHT)
    assert "iso-8859-2, as given" in ran.out
    assert "stocked 20 eggs" in ran.out


def test_one_that_is_none_is_told(story: Story, tmp_path: Path) -> None:
    for name in ("polish", "rot13", "idna"):
        ran = imported_in(story, tmp_path, "cp1250", TABLE, "--encoding", name)
        assert ran.status == 1
        assert f"no encoding is called '{name}'; it can be utf-8, cp1250" in ran.err


async def test_the_encoding_is_named_on_the_screen(
    story: Story, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "old.csv").write_bytes(TABLE.encode("iso-8859-2"))
    async with story.screens((110, 40)) as screen:
        await screen.type("import old.csv")
        await screen.type("encoding polish")
        assert "no encoding is called 'polish'" in screen.words
        await screen.press(*["backspace"] * 15)
        await screen.type("encoding iso-8859-2")
        assert "złożyła" in screen.words
