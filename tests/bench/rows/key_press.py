"""Hands never wait: a key press is painted, grid and panel, within half a display frame."""

from PySide6.QtWidgets import QApplication

from tests.bench.desk import FRAME, Paints, open_window, p95, press_times
from tests.bench.lessons import long_lesson

NAME = "key press to painted grid and panel, 2,000 bars, p95 / one 60 Hz frame"
BUDGET = 0.5
MIDDLE = 5  # of ten sections

_windows = []


def prepare() -> None:
    _windows.append(open_window(long_lesson(2_000), "riffs"))
    paints = Paints(_windows[0].page("riffs").key_home())
    press_times(_windows[0], 100, MIDDLE)
    assert paints.count >= 50, "the grid is not painted when a key is pressed"
    QApplication.instance().removeEventFilter(paints)


def measure() -> tuple[float, float]:
    return p95(press_times(_windows[0], 300, MIDDLE)), FRAME
