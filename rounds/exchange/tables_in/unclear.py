"""What stops a table from being taken in, in one line that says what would be right."""

from __future__ import annotations

AS_ABOVE = "as above"  # what an empty cell may mean


class UnclearTable(ValueError):
    """The table cannot be read as it is.

    Attributes:
        line: what is wrong or asked, on the screen.
        option: what settles it: ``map``, ``dates``, ``names``, ``species``, ``laid``, ``same``;
            empty where nothing would.
        about: the column or word that it is about.
        choices: what the answer can be, the likeliest first; empty where any text is one.
        command: the words of the shell's command that settle it; where they are not given, those of
            the option with each choice.
        also: what else an answer may be about, as ABOUT=ANSWER.
        why: why what was answered last cannot be, where that was an answer.
        refused: that it cannot be, in words; empty where nothing was answered yet.
    """

    def __init__(
        self,
        line: str,
        option: str = "",
        about: str = "",
        choices: tuple[str, ...] = (),
        command: str = "",
        why: str = "",
        *,
        also: tuple[str, ...] = (),
    ) -> None:
        super().__init__(line)
        self.line = line
        self.option = option
        self.about = about
        self.choices = choices
        self.command = command or _command(option, about, choices)
        self.why = why
        self.also = also
        self.refused = ""

    def asks_as(self, other: UnclearTable) -> bool:
        """Whether it asks the same again."""
        return bool(self.option) and (self.option, self.about) == (other.option, other.about)

    def refuse(self, said: str) -> None:
        """Tell that what was said does not settle it."""
        why = f", for {self.why}" if self.why else ""
        self.refused = f"'{said}' does not fit{why}"

    @classmethod
    def of_empty(cls, which: str, heading: str, none: str) -> UnclearTable:
        """Asks what an empty cell means.

        Args:
            which: the lines that are meant.
            none: the answer that it means none.
        """
        return cls(
            f"under {heading} nothing stands in {which}: is it that of the line above ({AS_ABOVE}),"
            f" or is there none ({none})?",
            "names",
            f"empty {heading}",
            (AS_ABOVE, none),
        )

    @property
    def shell_line(self) -> str:
        """What is wrong, and what would settle it at the shell."""
        line = f"{self.refused}: {self.line}" if self.refused else self.line
        if not self.command:
            return line
        if line.endswith("?"):
            return f"{line} {self.command[0].upper()}{self.command[1:]}"
        return f"{line}; {self.command}"


def _command(option: str, about: str, choices: tuple[str, ...]) -> str:
    """How a column, a word or the order of dates is said at the shell, the likeliest answer
    first."""
    first, others = choices[:1], choices[1:]
    if option == "dates":
        return f"say which with --dates {' or --dates '.join(choices)}"
    if not first or option not in ("map", "names"):
        return ""
    said = f"say it with --{'map' if option == 'map' else 'as'} '{about}={first[0]}'"
    if option == "map":
        return ", or ".join([said, *filter(None, [", ".join(others)])])
    if len(others) == 1:
        return f"{said} or --as '{about}={others[0]}'"
    return f"{said} (or {', or '.join(others)})" if others else said
