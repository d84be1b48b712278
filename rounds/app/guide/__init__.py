"""What the book, the prompt, dates, exports and settings are like: pages to read, one a topic."""

from __future__ import annotations

from importlib.resources import files

_PAGES = files(__name__)


def topics() -> tuple[str, ...]:
    """The names of all pages, in the order of the alphabet."""
    names = (page.name for page in _PAGES.iterdir())
    return tuple(sorted(name.removesuffix(".md") for name in names if name.endswith(".md")))


def page(topic: str) -> str:
    """One page as Markdown, its title on the first line.

    Raises:
        KeyError: there is no page of that name.
    """
    if topic not in topics():
        raise KeyError(topic)
    return _PAGES.joinpath(f"{topic}.md").read_text(encoding="utf-8")


def title(topic: str) -> str:
    """What a page is about, in a line."""
    return page(topic).partition("\n")[0].removeprefix("# ")
