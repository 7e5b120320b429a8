"""Opening a long lesson costs no more than reading its JSON."""

import json
import time

from chalkfret.files.lesson_file import dumps, loads
from tests.bench.lessons import long_lesson

NAME = "load a 32,000-note lesson / json.loads of the same bytes"
BUDGET = 1.0

_data = b""


def prepare() -> None:
    global _data
    _data = dumps(long_lesson(2_000))
    loads(_data)


def measure() -> tuple[float, float]:
    began = time.perf_counter()
    lesson = loads(_data)
    between = time.perf_counter()
    json.loads(_data)
    ended = time.perf_counter()
    notes = sum(len(part) for each in lesson.sections for bar in each.bars for part in bar.notes)
    assert notes == 32_000
    return between - began, ended - between
