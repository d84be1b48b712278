"""Opening a picture of the book with the system's own viewer."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from rounds.daybook import photos


def open_photo(book: Path, name: str) -> str:
    """Open a picture; what is wrong in one line, or nothing.

    A name that leads out of the book is not opened.
    """
    path = photos.path_of(book, name)
    if path is None:
        return f"no picture called {name} lies in this book"
    if sys.platform == "win32":
        os.startfile(path)
        return ""
    viewer = shutil.which("open" if sys.platform == "darwin" else "xdg-open")
    if viewer is None:
        return f"no viewer was found; the picture is {path}"
    try:
        subprocess.Popen(
            [viewer, str(path)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as trouble:
        return f"the viewer did not start: {trouble.strerror or trouble}; the picture is {path}"
    return ""
