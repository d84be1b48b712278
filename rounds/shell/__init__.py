"""What ``rounds ...`` does at a prompt.

Loading leaves no garbage, so none is looked for until the command is there. What ``msgspec`` reads
types by is loaded without ``typing_extensions``, for which it takes ``typing`` where that is not
there: this one knows all that is asked of it, and the other loads a tenth of what a command takes.
"""

import gc
import sys

gc.disable()
if "msgspec" not in sys.modules and "typing_extensions" not in sys.modules:
    sys.modules["typing_extensions"] = None  # type: ignore[assignment]
    import msgspec as msgspec

    del sys.modules["typing_extensions"]
