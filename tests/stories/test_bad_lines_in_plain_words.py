"""Lines that are no entries, and files saved as another text: what is wrong is said in plain words."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

OWN = (
    '"id":"245smp5g75-6jja7v","at":"2027-05-01T06:00:00+02:00","logged":"2027-05-01T06:00:00+02:00"'
)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        (
            f'{{"what":"died",{OWN},"container":"N1","number":"two"}}',
            "number is 'two'; it must be a whole number",
        ),
        (
            f'{{"what":"died",{OWN},"container":"N1","number":-2}}',
            "number is -2; it must be a whole number of at least 1",
        ),
        (f'{{"what":"drank",{OWN},"container":7}}', "container is 7; it must be text"),
        (f'{{"what":"died" {OWN}}}', "is broken at byte 15: a quote, comma or bracket is missing"),
        ('{"what":"no such","at":"2027-05-01"}', "is of no kind of entry: 'no such'"),
        (f'{{"what":"died",{OWN},"number":2}}', "has no 'container'"),
    ],
)
def test_a_bad_line(story: Story, line: str, told: str) -> None:
    story.type("N1 set up rearing")
    (file,) = story.folder.glob("entries-*")
    with file.open("a") as lines:
        lines.write(f"{line}\n")
    story.reopen()
    ran = story.shell("check")
    assert ran.status == 1
    assert f"line 3: {told}" in ran.out
    assert "Expected" not in ran.out
    assert "$." not in ran.out


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_file_saved_as_utf_16(story: Story, encoding: str) -> None:
    story.type("N1 set up rearing")
    (file,) = story.folder.glob("entries-*")
    text = file.read_text()
    other = story.folder / "entries-cccc3333-2027-05.jsonl"
    other.write_bytes(text.encode(encoding))
    other.chmod(0o600)
    told = story.shell("check").out
    assert "line 1: is UTF-16 text, which this book is not; save the file again as UTF-8" in told
    assert "zero bytes" not in told
