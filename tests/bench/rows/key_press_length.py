"""A key press costs what it touched, not what the lesson holds."""

from tests.bench.desk import open_window, p95, press_times

NAME = "key press to painted, p95, 2,000 bars / the same, 20 bars"
BUDGET = 1.2

_windows = []


def prepare() -> None:
    for bars in (2_000, 20):
        _windows.append(open_window(bars, "riffs"))
        press_times(_windows[-1], 100)


def measure() -> tuple[float, float]:
    long, short = _windows
    return p95(press_times(long, 300)), p95(press_times(short, 300))
