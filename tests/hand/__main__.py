"""`python -m tests.hand`: the table of keys a note, a row a lesson, each written in the window."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

if __name__ == "__main__":
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    sys.path[:0] = [str(Path(__file__).parents[2] / "app")]
    with tempfile.TemporaryDirectory() as home:
        for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME",
                     "XDG_CACHE_HOME"):  # fmt: skip
            os.environ[name] = home
        from tests.hand.table import print_table
        from tests.offscreen import leave_out_noise

        leave_out_noise()
        sys.exit(print_table())
