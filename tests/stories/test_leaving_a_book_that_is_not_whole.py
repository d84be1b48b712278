"""No exact place leaves where the line that protects it does not count, or may be one that cannot be read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.stories.telling import Story, tell
from tests.stories.test_leaving_protected import everything

PROTECTS = 'taxon "Melitaea celans" short=lans protected'
CAUGHT = (
    "K2 founder A-27-02 female \"Melitaea celans\" place='Sorrel bluff, lower terrace'"
    " latitude=44.1234 longitude=-121.5678"
)
SECRETS = ("lower terrace", "44.1234", "121.5678")


def the_story(story: Story, founder: str = '"Melitaea celans"', days_ahead: int = 0) -> None:
    story.type("K2 set up laying")
    story.later(days=days_ahead).type(PROTECTS)
    story.later(days=-days_ahead).reopen()
    tell(
        story,
        f"""
        taxon "Pieris orata"
        K2 founder A-27-02 female {founder} place='Sorrel bluff, lower terrace' latitude=44.1234 longitude=-121.5678
        K2 searched 5
        """,
    )


def replaced(old: str, new: str) -> Callable[[Path], None]:
    def act(file: Path) -> None:
        text = file.read_text()
        assert old in text
        file.write_text(text.replace(old, new))

    return act


def a_link(file: Path) -> None:
    outside = file.parent.parent / "outside"
    file.rename(outside)
    lines = outside.read_text().splitlines(keepends=True)
    file.write_text("".join(line for line in lines if '"protected"' not in line))
    file.with_name("entries-zzzzzzzz-2027-05.jsonl").symlink_to(outside)


def torn(file: Path) -> None:
    lines = file.read_text().splitlines(keepends=True)
    file.write_text("".join(line for line in lines if '"protected"' not in line))
    half = next(line for line in lines if '"protected"' in line)[:-9]
    file.with_name("entries-zzzzzzzz-2027-05.jsonl").write_text(half)


def exported(story: Story, tmp_path: Path, *more: str) -> tuple[str, str, set[int]]:
    """All that leaves, all that is told beside it, and with which status."""
    text, told, status = "", "", set()
    for what, *about in (
        ["dwca", "a.zip"], ["csv", "t.zip"], ["note", "A-27-02/A", "n.md"], ["pins", "p.html"],
    ):  # fmt: skip
        *name, file = about
        ran = story.shell("export", what, *name, str(tmp_path / file), "--replace", *more)
        text += everything(tmp_path / file) if (tmp_path / file).exists() else ""
        told += ran.out + ran.err
        status.add(ran.status)
    return text, told, status


@pytest.mark.parametrize(
    "harm",
    [replaced('"what":"taxon"', '"what""taxon"'), replaced('"what":"taxon"', '"what":"tax\0n"'),
     replaced('"what":"taxon"', '"what":"taxon2"'), replaced('"protected":true', '"protected":"jein"'), a_link, torn,
     replaced('"protected":true', '"protfcted":true'), replaced('"protected":true', '"pr0tectad":true'),
     replaced('"protected":true', '"protected":true,"protected":false'),
     replaced('"protected":true', '"protected":true,"protected" :false,"of_a_newer_version":1'),
     replaced('["protected",""]', '["prote#ted",""]'), replaced('"says":[["name"', '"sayz":[["name"')],
)  # fmt: skip
def test_what_cannot_be_read_may_protect_any_species(
    story: Story, tmp_path: Path, harm: Callable[[Path], None]
) -> None:
    the_story(story)
    (file,) = story.folder.glob("entries-*.jsonl")
    harm(file)
    for kept in story.folder.glob("checkpoint-*"):
        kept.unlink()
    text, told, status = exported(story, tmp_path)
    assert "Melitaea celans" in text
    assert 2 in status
    assert not any(secret in text for secret in SECRETS), told
    assert "not all of the keeper's lines can be read now" in text
    assert "all exact places are withheld: what of the book cannot be read" in told
    text, _, _ = exported(story, tmp_path, "--exact-localities", "--yes")
    assert all(secret in text for secret in SECRETS)


@pytest.mark.parametrize("founder", ['"Melitaea celans"', "lans"])
def test_what_a_line_of_the_future_protects_is_protected_now(
    story: Story, tmp_path: Path, founder: str
) -> None:
    the_story(story, founder, days_ahead=2)
    text, told, _ = exported(story, tmp_path)
    assert not any(secret in text for secret in SECRETS), told
    assert "exact places withheld" in told
    assert "protected taxa" in told


def test_a_whole_book_tells_the_place_of_what_is_not_protected(
    story: Story, tmp_path: Path
) -> None:
    tell(
        story,
        """
        K2 set up laying
        K2 founder A-27-02 female "Pieris orata" place='Sorrel bluff, lower terrace' latitude=44.1234 longitude=-121.5678
        """,
    )
    assert "lower terrace" in exported(story, tmp_path)[0]


def test_what_is_damaged_in_a_book_that_is_merged_may_protect_too(
    story: Story, tmp_path: Path
) -> None:
    story.type("K2 set up laying", CAUGHT)
    story.reopen()
    (file,) = story.folder.glob("entries-*.jsonl")
    theirs = tmp_path / "theirs" / file.name
    theirs.parent.mkdir()
    theirs.write_bytes(file.read_bytes())
    other = story.elsewhere()
    other.type(PROTECTS)
    (said,) = other.folder.glob("entries-*.jsonl")
    line = next(one for one in said.read_text().splitlines() if '"protected":true' in one)
    with theirs.open("a") as more:
        more.write(line.replace('"protected":true', '"protfcted":true') + "\n")
    for _ in range(2):
        story.shell("merge", str(theirs.parent))
        text, told, _ = exported(story, tmp_path)
        assert not any(secret in text for secret in SECRETS), told
        assert "all exact places are withheld: what of the book cannot be read" in told
