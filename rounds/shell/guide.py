"""``rounds help``: the pages to read, and one of them."""

from __future__ import annotations

import argparse
import sys

from rounds import late
from rounds.app.guide import page, title, topics
from rounds.shell.terminal import refused

DONE, USAGE = 0, 2
WIDTH = 100  # cells; a longer line is hard to read


def guide(options: argparse.Namespace) -> int:
    """The list of topics, or one page; to a terminal drawn, else as it is written."""
    if not options.topic:
        print("rounds help TOPIC, one of:")
        for topic in topics():
            print(f"  {topic:<14} {title(topic)}")
        return DONE
    if options.topic not in topics():
        near = late.nearest(options.topic, topics(), 1)
        perhaps = f"; perhaps {near[0]}" if near else ""
        return refused(
            f"no page '{options.topic}'{perhaps}; there are {', '.join(topics())}", USAGE
        )
    if sys.stdout.isatty():
        from rich.console import Console
        from rich.markdown import Markdown

        console = Console()
        console.print(Markdown(page(options.topic)), width=min(console.width, WIDTH))
    else:
        print(page(options.topic), end="")
    return DONE
