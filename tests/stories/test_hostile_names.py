"""Names that a terminal would obey: no raw control or direction character reaches it, from any field, by any way.

The lines lie in the book as another program may have written them into a synchronised folder: the prompt takes no such names.
What a terminal obeys is of the Unicode general categories Cc, Cf, Zl, Zp, Cs, Co and Cn (The Unicode Standard, 4.5).
"""

from __future__ import annotations

import json
import os
import unicodedata
import zipfile
from pathlib import Path

import pytest

from rounds.views.actions import ACTIONS
from tests.stories.telling import Story, tell

OBEYED = {"Cc", "Cf", "Zl", "Zp", "Cs", "Co", "Cn"}
# Clear the screen, a control of the second set, right to left, no width, bell and delete; and what ends a line.
SIGNS = {
    "controls": "\x1b[2J\x9b31m\x85\u202e\u2066\u200b\u200d\ufeff\x07\x7f",
    "line ends": "\r\n\u2028\u2029",
}
# Every name and word in it is a field that comes back somewhere: 'Zz' stands where the hostile signs go.
LINES = """
setting bench Zzbench
setting phone Zzphone
shelf set up ZzA barrier=moat
taxon Zzaxon name short=Zzax instars=5
ZzK2 set up laying shelf ZzA lid=Zzlid
ZzK2 founder ZzF2, Zzaxon name female place=Zzwood collector=Zzman
ZzK2 host in Zzleaf leaf water batch=Zzb
ZzK2 searched 3
ZzK2 note Zznote
ZzK2 light lamp on
ZzE3 set up eggs shelf ZzA
ZzE3 stocked 12 eggs ZzF2
ZzE3 looked darkening
ZzR4 set up rearing shelf ZzA
ZzR4 stocked 5 larvae ZzF2
ZzR4 host in Zzleaf leaf water
ZzR4 suspect Zzsign
ZzR4 preserved 1 larva voucher=Zzvoucher depository=Zzmuseum
ZzS5 set up host store shelf ZzA
ZzS5 host in Zzleaf leaf fridge
permit ZzP9 females=3 expires=2027-05-03
"""
PAGES = [action.key for action in ACTIONS if action.scope == "bench" and action.id in
         ("overdue", "daybook", "plan", "ahead", "laying", "broods", "batches", "supplies", "away", "calculator", "map")]  # fmt: skip


@pytest.fixture(params=SIGNS)
def hostile(request: pytest.FixtureRequest, story: Story) -> Story:
    """A book in whose every field the signs stand."""
    signs = SIGNS[request.param]
    tell(story, LINES.replace("Zz", "Q"))
    for file in story.folder.glob("entries-*.jsonl"):
        lines = []
        for line in file.read_text().splitlines():
            lines.append(json.dumps(_with(json.loads(line), signs)))
        file.write_text("\n".join(lines) + "\n")
    # as if another machine had written them: lines of one's own that are edited are told
    said = Path(os.environ["XDG_STATE_HOME"]).rglob("*.said.jsonl")
    for file in (*story.folder.glob("checkpoint-*"), *said):
        file.unlink()
    story.reopen()
    story.signs = signs  # type: ignore[attr-defined]
    return story


SHORTEST = {
    "batch": 8,
    "short": 16,
}  # fields that hold no more; they get as many of the signs as have room


def _with(value: object, signs: str, room: int = 200) -> object:
    """The same value with the signs in each name."""
    if isinstance(value, dict):
        return {name: _with(one, signs, SHORTEST.get(name, 200)) for name, one in value.items()}
    if isinstance(value, list):
        return [_with(one, signs) for one in value]
    if not isinstance(value, str) or not value.startswith("Q"):
        return value
    return f"{value[0]}{signs[-(room - len(value)) :]}{value[1:]}"


def raw(text: str) -> list[str]:
    """The signs in a text that a terminal would obey; line ends are the program's own."""
    return [
        f"{ord(sign):04X} in {line!r}"
        for line in text.split("\n")
        for sign in line
        if unicodedata.category(sign) in OBEYED
    ]


def test_the_names_are_in_the_book(hostile: Story) -> None:
    signs = hostile.signs  # type: ignore[attr-defined]
    bench = hostile.desk.bench
    assert not hostile.desk.reading.problems
    assert f"Q{signs}K2" in bench.containers
    assert f"Q{signs}A" in bench.shelves
    assert bench.settings["phone"] == f"Q{signs}phone"


async def test_no_screen_draws_them(hostile: Story) -> None:
    async with hostile.screens() as screen:
        assert not raw(screen.text)
        for key in [*PAGES, "question_mark", "comma"]:
            await screen.press(key)
            await screen.pilot.pause()
            assert not raw(screen.text), key
            await screen.press("down", "enter")
            assert not raw(screen.text), f"{key}, Enter"
            await screen.press("escape", "escape")
        for _ in range(5):
            await screen.press("enter")
            assert not raw(screen.text), "card"
            await screen.press("escape", "t")
            assert not raw(screen.text), "prompt filled with a code"
            await screen.press("x", "enter")
            assert not raw(screen.text), "refusal at the prompt"
            await screen.press("escape", "down")


async def test_no_stop_of_the_round_draws_them(hostile: Story) -> None:
    async with hostile.screens() as screen:
        await screen.press("r")
        for stop in range(30):
            assert not raw(screen.text), f"stop {stop}"
            await screen.press("tab")
            assert not raw(screen.text), f"stop {stop}, large"
            await screen.press("tab", "space", "minus", "m")


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("due",),
        ("due", "--within", "9d"),
        ("check",),
        ("sheet", "--to", "+2d"),
        ("round", "--plain"),
    ],
    ids=lambda arguments: " ".join(arguments) or "rounds </dev/null",
)
def test_no_command_prints_them(hostile: Story, arguments: tuple[str, ...]) -> None:
    ran = hostile.shell(*arguments, typed="\n" * 9 if arguments[:1] == ("round",) else "")
    assert ran.out
    assert not raw(ran.out + ran.err)


@pytest.mark.parametrize(
    "arguments", [("due", "--json", "--within", "9d"), ("check", "--json")], ids=" ".join
)
def test_json_escapes_them_and_is_the_same_data(hostile: Story, arguments: tuple[str, ...]) -> None:
    ran = hostile.shell(*arguments)
    assert not raw(ran.out + ran.err)
    data = json.loads(ran.out)
    if arguments[0] == "due":
        signs = hostile.signs  # type: ignore[attr-defined]
        assert f"Q{signs}K2" in {row["where"] for row in data["due"]}


@pytest.mark.parametrize(
    "arguments",
    [
        ("log", "{}", "drank"),
        ("log", "L2", "{}"),
        ("due", "--within", "{}"),
        ("due", "--{}"),
        ("{}",),
        ("photo", "{}.jpg", "--for", "L2"),
        ("temperatures", "{}.csv"),
        ("temperatures", "{}.csv", "--json"),
        ("merge", "{}"),
        ("merge", "{}", "--json"),
        ("backup", "{}"),
        ("export", "csv", "{}"),
        ("export", "note", "{}", "out.html"),
        ("sheet", "--to", "{}"),
        ("check", "--book", "{}"),
        ("calc", "{}"),
        ("calc", "air", "--{}", "3"),
    ],
    ids=" ".join,
)
@pytest.mark.parametrize("signs", SIGNS.values(), ids=SIGNS)
def test_no_message_prints_what_was_typed_raw(
    story: Story,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    arguments: tuple[str, ...],
    signs: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    story.type("L2 set up laying")
    ran = story.shell(*(one.replace("{}", f"a{signs}b") for one in arguments))
    assert ran.out + ran.err
    assert not raw(ran.out + ran.err)


@pytest.mark.parametrize(
    ("arguments", "ending"),
    [(("csv",), "zip"), (("csv", "--table", "entries"), "csv"), (("dwca",), "zip"), (("ics",), "ics"), (("labels",), "html"),
     (("pins",), "html")],
    ids=lambda one: " ".join(one) if isinstance(one, tuple) else one,
)  # fmt: skip
def test_no_export_holds_them(
    hostile: Story, tmp_path: Path, arguments: tuple[str, ...], ending: str
) -> None:
    target = tmp_path / f"out.{ending}"
    ran = hostile.shell("export", arguments[0], str(target), *arguments[1:])
    assert ran.status == 0, ran.err
    assert not raw(ran.out + ran.err)
    texts = [target.read_bytes()]
    if ending == "zip":
        with zipfile.ZipFile(target) as archive:
            texts = [archive.read(name) for name in archive.namelist()]
    for text in texts:
        plain = text.decode().removeprefix("\ufeff").replace("\r\n", "\n")
        assert not raw(plain.replace("\t", " ") if arguments[0] == "dwca" else plain)


def test_neither_the_note_nor_the_page_of_the_sheet_holds_them(
    hostile: Story, tmp_path: Path
) -> None:
    signs = hostile.signs  # type: ignore[attr-defined]
    for name in ("note.html", "note.md"):
        ran = hostile.shell("export", "note", f"Q{signs}F2/A", str(tmp_path / name))
        assert ran.status == 0, ran.err
        assert not raw(ran.out + ran.err)
    assert hostile.shell("sheet", "--to", "+2d", "--html", str(tmp_path / "sheet.html")).status == 0
    for name in ("note.html", "note.md", "sheet.html"):
        assert not raw((tmp_path / name).read_text())
