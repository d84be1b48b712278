"""What stops a table from being taken in, in one line that says what would be right."""

from __future__ import annotations


class UnclearTable(ValueError):
    """The table cannot be read as it is.

    Attributes:
        line: what is wrong, and the option that settles it.
        option: that option, as it is asked for in a terminal: ``map``, ``dates``, ``names``,
            ``species``, ``laid``; empty where none would settle it.
        about: the column or word that it is about.
        choices: what the answer can be; empty where any text is one.
    """

    def __init__(
        self, line: str, option: str = "", about: str = "", choices: tuple[str, ...] = ()
    ) -> None:
        super().__init__(line)
        self.line = line
        self.option = option
        self.about = about
        self.choices = choices
