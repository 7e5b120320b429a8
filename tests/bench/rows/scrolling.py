"""Scrolling never drops a frame: every step of it, grid, ruler and strip, is painted in one."""

from PySide6.QtWidgets import QApplication

from tests.bench.desk import FRAME, Paints, open_window, painted
from tests.bench.lessons import long_lesson

NAME = "a step of scrolling painted, 2,000 bars, p99 / one 60 Hz frame"
BUDGET = 0.96  # 16 ms
STEPS = 400

_windows = []


def prepare() -> None:
    _windows.append(open_window(long_lesson(2_000), "riffs"))
    paints = Paints(_windows[0].page("riffs").key_home())
    _scrolled(20, 61)
    assert paints.count >= 20, "the grid is not painted when it is scrolled"
    QApplication.instance().removeEventFilter(paints)


def measure() -> tuple[float, float]:
    """Slowly along, by pages, and by leaps over the whole lesson, as bar, keys and wheel do."""
    times = sorted((*_scrolled(STEPS, 61), *_scrolled(STEPS, 1_007), *_scrolled(STEPS, 400_009)))
    return times[int(len(times) * 0.99)], FRAME


def _scrolled(steps: int, by: int) -> list[float]:
    bar = _windows[0].page("riffs").grid.horizontalScrollBar()
    return [
        painted(lambda: bar.setValue((bar.value() + by) % bar.maximum())) for _step in range(steps)
    ]
