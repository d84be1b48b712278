"""Bytes of a file as text lines, and how they were written."""

from __future__ import annotations

import codecs
import re

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)
_LINE_ENDS = re.compile(r"\r\n|\n|\r")


def lines_of(raw: bytes) -> tuple[list[str], str]:
    """The lines, and the name of the encoding that was taken; bytes that do not fit it become a
    replacement sign."""
    text, encoding = decoded(raw)
    return _LINE_ENDS.split(text.replace("\0", "")), encoding


_NO_SIGNS = re.compile(r"[\0-\x08\x0e-\x1f]+")
MOST_NO_SIGNS = 1 / 20  # of a text that somebody wrote, some copied from a terminal


def is_no_text(text: str) -> bool:
    """Whether what was read as a text is none, such as a picture: it is full of bytes that nobody
    types."""
    return sum(map(len, _NO_SIGNS.findall(text))) > max(MOST_NO_SIGNS * len(text), 8)


# Within a word no language of Windows-1252 has these; in Windows-1250 they are Polish and Slovak.
_OF_1250 = re.compile(r"(?<=[A-Za-zÀ-ÿ])[³¿¹¾]+(?=[A-Za-zÀ-ÿ])")


def decoded(raw: bytes, said: str = "") -> tuple[str, str]:
    """The text of a file, and the name of the encoding that was taken.

    Args:
        said: the encoding that somebody names; found out where empty.

    Raises:
        LookupError: it is none.
        ValueError: it reads no file.
    """
    if said:
        return raw.decode(said, "replace").removeprefix("\ufeff"), f"{said}, as given"
    for mark, codec, name in _MARKS:
        if raw.startswith(mark):
            return raw.decode(codec, "replace"), name
    start = raw[:4000]
    if start.count(0) > len(start) // 4:
        codec = "utf-16-le" if start[1::2].count(0) >= start[::2].count(0) else "utf-16-be"
        return raw.decode(codec, "replace"), "UTF-16 without a mark"
    try:
        return raw.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError:
        text = raw.decode("cp1252", "replace")
        found = _OF_1250.search(text)
        if found is None:
            return text, "Windows-1252"
        return raw.decode("cp1250", "replace"), (
            f"Windows-1250, for in Windows-1252 a word would have '{found[0]}'"
        )
