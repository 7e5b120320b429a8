"""PySide6 must not take a reference to None away with every call that returns nothing.

Measured: 6.12.0 on Python 3.11 does so on `setPen`, `drawLine` and their like, and after some
thousand calls the interpreter aborts (`none_dealloc`). That is why pyproject.toml asks for an
older one; this counts, in the environment that is really installed.
"""

import sys

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage, QPainter, QPen

SPARE: list[None] = []
"""References to None that may get lost, so that a bad release fails the test and aborts nothing."""


@pytest.mark.skipif(
    sys.version_info >= (3, 12), reason="None is immortal there and is not counted (PEP 683)"
)
def test_drawing_leaves_the_references_to_none_as_they_were(qapp):
    calls = 4_000
    SPARE.extend([None] * calls * 4)
    image = QImage(16, 16, QImage.Format.Format_ARGB32)
    pen, here, there = QPen(), QPointF(1, 1), QPointF(9, 9)
    painter = QPainter(image)
    before = sys.getrefcount(None)
    for _ in range(calls):
        painter.setPen(pen)
        painter.drawLine(here, there)
    lost = before - sys.getrefcount(None)
    painter.end()
    assert abs(lost) < calls / 10
    SPARE.clear()
