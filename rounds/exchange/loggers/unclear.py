"""What a file does not tell: one line, the option that would say it, and what it can be."""

from __future__ import annotations


class UnclearFile(ValueError):
    """The file cannot be read as it is.

    Attributes:
        line: what is not clear, in one line.
        option: the option of the command that would tell it; empty where none would.
        choices: what the option can be here.
    """

    def __init__(self, line: str, option: str = "", choices: tuple[str, ...] = ()) -> None:
        super().__init__(line)
        self.line = line
        self.option = option
        self.choices = choices
