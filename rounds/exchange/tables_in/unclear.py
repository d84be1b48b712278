"""What stops a table from being taken in, in one line that says what would be right."""

from __future__ import annotations


class UnclearTable(ValueError):
    """The table cannot be read as it is.

    Attributes:
        line: what is wrong or asked, on the screen.
        option: what settles it: ``map``, ``dates``, ``names``, ``species``, ``laid``, ``same``;
            empty where nothing would.
        about: the column or word that it is about.
        choices: what the answer can be, the likeliest first; empty where any text is one.
        command: the words of the shell's command that settle it.
    """

    def __init__(
        self,
        line: str,
        option: str = "",
        about: str = "",
        choices: tuple[str, ...] = (),
        command: str = "",
    ) -> None:
        super().__init__(line)
        self.line = line
        self.option = option
        self.about = about
        self.choices = choices
        self.command = command

    @property
    def shell_line(self) -> str:
        """What is wrong, and what would settle it at the shell."""
        if not self.command:
            return self.line
        if self.line.endswith("?"):
            return f"{self.line} {self.command[0].upper()}{self.command[1:]}"
        return f"{self.line}; {self.command}"
