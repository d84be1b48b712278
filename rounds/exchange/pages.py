"""HTML pages that stand on their own: no script, nothing fetched from anywhere, text from outside
shown as it is."""

from __future__ import annotations

from html import escape

from rounds.views.words import literal

# A page may draw itself with its own style and nothing else: no script runs and nothing is fetched,
# whatever it holds.
_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


def text(value: object) -> str:
    """Text from outside as it stands in a page: shown, never obeyed."""
    return escape(literal(str(value)), quote=True)


def page(title: str, style: str, body: str) -> bytes:
    """A whole page; the title is text, style and body are HTML already."""
    return (
        "<!doctype html>\n"
        '<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{text(title)}</title>\n<style>\n{style}\n</style></head>\n<body>\n{body}\n</body></html>\n"
    ).encode()
