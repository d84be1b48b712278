"""The append-only store: TinyDB over JSON Lines."""

from rounds.bench.entry_ids import time_of_id
from rounds.daybook.book import Daybook
from rounds.daybook.gaps import Gaps, lacking_words
from rounds.daybook.ids import content_of, id_instead_of, id_of_content, new_id, tag_for
from rounds.daybook.kept_aside import kept_words
from rounds.daybook.lines import NEWER, Batch, FileLine, Position, Problem, Progress, says_otherwise
from rounds.daybook.partial import Partial, mark, missed_words
from rounds.daybook.storage import AppendOnly, DaybookDB, LogTable, NotSaved
