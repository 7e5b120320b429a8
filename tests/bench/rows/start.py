"""From `python3 app` on an installed checkout to its first painted window."""

import tempfile
from pathlib import Path

from tests.bench.started import BASE_PYTHON, ROOT, bare, started

NAME = "second start to first painted window / a bare PySide6 main window"
BUDGET = 2.0

_home = Path(tempfile.mkdtemp())
_command = [BASE_PYTHON, str(ROOT / "app")]


def prepare() -> None:
    started(_command, _home)
    bare(_home)


def measure() -> tuple[float, float]:
    return started(_command, _home)[0], bare(_home)[0]
