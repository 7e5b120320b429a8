"""Memory of the window with a long lesson open, its pages made, nothing going on."""

import sys
import tempfile
from pathlib import Path

from chalkfret.files.lesson_file import save
from tests.bench.lessons import long_lesson
from tests.bench.started import bare, started

NAME = "memory with a 2,000-bar lesson open / the bare window's"
BUDGET = 2.5
UNIT = "MB"

_home = Path(tempfile.mkdtemp())
_lesson = _home / "long.chalkfret"


def prepare() -> None:
    save(long_lesson(2_000), _lesson)


def measure() -> tuple[float, float]:
    ours = started([sys.executable, "-P", "-m", "chalkfret", "open", str(_lesson)], _home, 2.0)
    return ours[1], bare(_home, 0.5)[1]
