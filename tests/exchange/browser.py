"""A real browser without a window, if the machine has one: what a page becomes in it, and what it asks the outside for."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FOUND = next((path for name in NAMES if (path := shutil.which(name))), None)
needs_browser = pytest.mark.skipif(
    FOUND is None, reason="no browser on this machine; .ci/run installs one where it can"
)


def run(page: Path, folder: Path, *options: str) -> str:
    """Open a page; what the browser prints comes back."""
    assert FOUND is not None
    done = subprocess.run(
        [
            FOUND, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
            "--disable-component-update", "--disable-sync", "--allow-file-access-from-files", "--virtual-time-budget=4000",
            f"--user-data-dir={folder / 'profile'}", *options, page.as_uri(),
        ],
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    return done.stdout


def asked_for(page: Path, folder: Path) -> set[str]:
    """Every address that the page made the browser ask for, its own file left out; not what the browser asks for itself."""
    log = folder / "net.json"
    run(page, folder, "--dump-dom", f"--log-net-log={log}")
    told = log.read_text(encoding="utf-8").rstrip().rstrip(",")
    events = json.loads(told if told.endswith("}") else told + "]}")["events"]
    params = [event["params"] for event in events if "url" in event.get("params", {})]
    urls = {
        one["url"] for one in params if one.get("initiator", "not an origin") != "not an origin"
    }
    return {url for url in urls if url.startswith(("http:", "https:", "ws:", "ftp:"))}


def overflow(page: Path, folder: Path, width: int) -> int:
    """By how many pixels a page is wider than a window of that width."""
    frame = folder / "frame.html"
    frame.write_text(
        f'<!doctype html><iframe id="f" src="{page.as_uri()}" style="width:{width}px;height:800px;border:0"></iframe>'
        "<script>onload = () => { const root = document.getElementById('f').contentDocument.documentElement;"
        "document.body.setAttribute('data-over', root.scrollWidth - root.clientWidth); }</script>",
        encoding="utf-8",
    )
    dom = run(frame, folder, "--dump-dom")
    return int(dom.split('data-over="')[1].split('"')[0])


def printed_heights(
    page: Path, folder: Path, selector: str, width: int = 800
) -> list[tuple[float, float]]:
    """Of each element chosen: how high it stands, and how high and wide what is in it wants it to be [CSS px]."""
    frame = folder / "frame.html"
    frame.write_text(
        f'<!doctype html><iframe id="f" src="{page.as_uri()}" style="width:{width}px;height:800px;border:0"></iframe>'
        "<script>onload = () => { const found = document.getElementById('f').contentDocument.querySelectorAll("
        f"'{selector}');"
        "const told = [...found].map(one => [one.getBoundingClientRect().height,"
        "one.scrollWidth > one.clientWidth + 1 ? 1e6 : one.scrollHeight]);"
        "document.body.setAttribute('data-heights', JSON.stringify(told)); }</script>",
        encoding="utf-8",
    )
    told = run(frame, folder, "--dump-dom").split('data-heights="')[1].split('"')[0]
    return [(one[0], one[1]) for one in json.loads(told)]
