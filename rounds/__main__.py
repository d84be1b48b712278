"""``python -m rounds``."""

from rounds.shell.main import run

run()
