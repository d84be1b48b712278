"""Leaf that is said to be fresh was cut now: no leaf of the host store."""

from __future__ import annotations

from rounds.entries.phrase.reader import Reader

_FRESH = (
    {"fresh", "cut"},
    {"freshly", "cut"},
    {"just", "cut"},
    {"cut", "now"},
    {"fresh"},
    {"freshly"},
)


def fresh_is_cut_now(reader: Reader) -> None:
    """Read ``host in fresh plantain`` and ``plantain cut now`` as of leaf cut at the line's time.

    A line that names a container behind it, as ``fresh plantain from S4``, says where it is from.
    """
    later = reader.words[reader.place :]
    if any(map(reader.code_of, later)) or "cut" in reader.fields:
        return
    for words in _FRESH:
        for place in range(len(later) - len(words) + 1):
            if {word.lower for word in later[place : place + len(words)]} == words:
                start = reader.place + place
                behind = reader.words[start + len(words) :]
                if "cut" in words and behind and behind[0].lower[:1].isdigit():
                    return  # 'fresh cut 8:00' says when
                del reader.words[start : start + len(words)]
                reader.fields["cut"] = reader.at or reader.now
                return
