"""The digests of ``hashlib`` by which lines are known again, without OpenSSL, which that loads and
for which a short command would wait; where there is much to read it is quicker."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = ["blake2b", "sha256"]

if TYPE_CHECKING:
    from hashlib import blake2b, sha256
else:
    try:
        from _blake2 import blake2b
    except ImportError:
        from hashlib import blake2b
    try:
        from _sha2 import sha256
    except ImportError:
        try:
            from _sha256 import sha256  # before Python 3.12
        except ImportError:
            from hashlib import sha256
