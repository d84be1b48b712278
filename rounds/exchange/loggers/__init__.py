"""Temperatures out of a logger's text file: any of the usual layouts, never guessed in silence."""

from rounds.exchange.loggers.columns import ReadingOptions
from rounds.exchange.loggers.reading import LinesLeftOut, Log, read_log
from rounds.exchange.loggers.unclear import UnclearFile

__all__ = ["LinesLeftOut", "Log", "ReadingOptions", "UnclearFile", "read_log"]
