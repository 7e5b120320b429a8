"""A key press costs what it touched, not what the lesson holds.

One window shows both lessons in turn, since a second one beside it would slow either down.
"""

from chalkfret.model import Lesson
from tests.bench.desk import open_window, p95, press_times, show_lesson
from tests.bench.lessons import long_lesson

NAME = "key press to painted, p95, 2,000 bars / the same, 20 bars"
BUDGET = 1.2

_lessons = [long_lesson(2_000), long_lesson(20)]
_windows = []


def prepare() -> None:
    _windows.append(open_window(_lessons[0], "riffs"))


def measure() -> tuple[float, float]:
    return _pressed(_lessons[0]), _pressed(_lessons[1])


def _pressed(lesson: Lesson) -> float:
    show_lesson(_windows[0], lesson)
    press_times(_windows[0], 100)
    return p95(press_times(_windows[0], 300))
