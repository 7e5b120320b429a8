"""The sheet page that is looked at is up to date within a display frame of an edit."""

import itertools
import statistics

from msgspec.structs import replace
from PySide6.QtWidgets import QApplication

from chalkfret.model import Lesson, with_notes
from tests.bench.desk import FRAME, Paints, open_window, painted
from tests.bench.lessons import long_lesson

NAME = "visible sheet page up to date after an edit, 2,000 bars / one 60 Hz frame"
BUDGET = 1.0
SECTION = 5  # in the middle of the lesson, and the page that shows its first bars

_windows = []
_numbers = itertools.count()


def prepare() -> None:
    window = open_window(long_lesson(2_000), "sheet")
    page = window.page("sheet")
    page.go_to_section(window.document.lesson.sections[SECTION].id)
    _windows.append(window)
    paints = Paints(page.view)
    for _ in range(10):
        _edit()
    assert paints.count >= 10, "the sheet is not painted when the lesson is edited"
    QApplication.instance().removeEventFilter(paints)


def measure() -> tuple[float, float]:
    return statistics.median(_edit() for _ in range(40)), FRAME


def _edit() -> float:
    """Seconds from an edit of a fret until the page is painted."""
    document = _windows[0].document
    edited = _edited(document.lesson, next(_numbers))
    return painted(lambda: document.apply("fret", edited))


def _edited(lesson: Lesson, number: int) -> Lesson:
    """Other frets in one of the section's first bars, never twice the same."""
    section = lesson.sections[SECTION]
    index = number % 3
    bar = section.bars[index]
    frets = (number % 20, number // 20 % 20, number // 400)
    notes = [replace(note, fret=fret) for note, fret in zip(bar.notes[0], frets, strict=False)]
    changed = with_notes(bar, 0, (*notes, *bar.notes[0][len(frets) :]))
    bars = section.bars.with_bars({index: changed})
    sections = list(lesson.sections)
    sections[SECTION] = replace(section, bars=bars)
    return replace(lesson, sections=tuple(sections))
