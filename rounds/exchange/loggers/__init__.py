"""Temperatures out of a logger's text file: any of the usual layouts, never guessed in silence."""

from rounds.exchange.loggers.columns import Wishes
from rounds.exchange.loggers.reading import Log, NotTaken, read_log
from rounds.exchange.loggers.unclear import Unclear

__all__ = ["Log", "NotTaken", "Unclear", "Wishes", "read_log"]
