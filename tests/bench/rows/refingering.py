"""A long part is fingered anew for another tuning before the teacher has looked up."""

import time

from chalkfret.arrange.same_pitch import same_pitch
from tests.bench.lessons import long_lesson
from tests.builder import tuned

NAME = "2,000 notes fingered anew for another tuning / one second"
BUDGET = 0.2

_SETUP = tuned("E2 A2 D3 G3 B3 E4")
_lessons = []


def prepare() -> None:
    _lessons.extend(long_lesson(250, seed) for seed in range(2, 9))


def measure() -> tuple[float, float]:
    lesson = _lessons.pop()
    began = time.perf_counter()
    found = same_pitch(lesson, 0, _SETUP)
    ended = time.perf_counter()
    assert sum(len(row) for _, _, row in found.notes) == 2_000
    return ended - began, 1.0
