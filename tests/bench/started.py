"""Starting programs with a window, for the rows that look at them from outside."""

import os
import subprocess
import sys
import time
from pathlib import Path

HOOK = Path(__file__).parent / "hook"
ROOT = Path(__file__).parents[2]
BASE_PYTHON = getattr(sys, "_base_executable", sys.executable)

BARE = """
from PySide6.QtWidgets import QApplication, QMainWindow
app = QApplication([])
window = QMainWindow()
window.resize(1280, 800)
window.show()
app.exec()
"""


def started(command: list[str], home: Path, linger: float = 0.0) -> tuple[float, int]:
    """Seconds until the program painted its first window (and `linger` more), bytes it holds."""
    environment = {
        **os.environ,
        "CHALKFRET_BENCH": str(linger),
        "HOME": str(home),
        "PYTHONPATH": str(HOOK),
        "QT_QPA_PLATFORM": "offscreen",
        # As for a user: the second start finds compiled files.
        "PYTHONDONTWRITEBYTECODE": "",
    }
    began = time.perf_counter()
    done = subprocess.run(command, env=environment, capture_output=True, text=True)
    took = time.perf_counter() - began
    if done.returncode != 0 or "Traceback" in done.stderr:
        raise RuntimeError(f"{command} ended with {done.returncode}: {done.stderr}")
    return took, int(done.stdout)


def bare(home: Path, linger: float = 0.0) -> tuple[float, int]:
    """The same for a main window of PySide6 with nothing in it."""
    return started([sys.executable, "-c", BARE], home, linger)
