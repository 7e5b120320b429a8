"""What to do first, written under the strings of a section that has no notes yet."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter

from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.model import Section
from chalkfret.words.text import N_, _

# Keys, as the list of keys has them, and what they do.
LINES: Final = (
    ("0 … 9", N_("Type a fret: it is written at the cursor, and the cursor moves on.")),
    ("Ctrl+2", N_("Ctrl and a digit: frets from 10 to 19.")),
    ("Shift+2", N_("Shift and a digit: on the string above; with Ctrl too, below.")),
    (". ,", N_("Make the note just typed, and those that follow, a step longer or shorter.")),
    ("Alt+Shift+3", N_("Cut the beat into three, four, five … steps.")),
    ("E", N_("Write the beat again, into the next one.")),
    ("K", N_("Write the bar before again with new frets.")),
    ("F4", N_("Say in which key the riff is; degrees and tints follow.")),
    ("Alt+2", N_("Tune the guitar, on the page Strings.")),
    ("F1", N_("Show every key.")),
)

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


def is_silent(section: Section) -> bool:
    """Whether nothing is written in the section yet."""
    return not any(notes for bar in section.bars for notes in bar.notes)


def hint_height(m: Metrics) -> int:
    """Pixels that the hint takes, with the gap above it."""
    return m.unit * 3 + _line(m) * (len(LINES) + 1)


def paint_hint(painter: QPainter, m: Metrics, place: QRect) -> None:
    """Paint it into ``place``, as many whole lines as there is room for."""
    x, y, line = place.left() + m.unit * 2, place.top() + m.unit * 3, _line(m)
    room = place.right() - x - m.unit
    seen = (place.bottom() - y) // line - 1
    if seen < 1:
        return
    painter.setFont(m.strong_font)
    painter.setPen(m.ink_pen)
    painter.drawText(QRect(x, y, room, line), _LEFT, _("No notes here yet."))
    keys = max(m.text_fm.horizontalAdvance(keys) for keys, _words in LINES) + m.unit * 3
    painter.setFont(m.text_font)
    for index, (pressed, words) in enumerate(LINES[:seen], 1):
        painter.setPen(m.ink_pen)
        painter.drawText(QRect(x, y + index * line, keys, line), _LEFT, pressed)
        painter.setPen(m.soft_pen)
        text = m.text_fm.elidedText(_(words), Qt.TextElideMode.ElideRight, room - keys)
        painter.drawText(QRect(x + keys, y + index * line, room - keys, line), _LEFT, text)


def _line(m: Metrics) -> int:
    return m.text_fm.height() + m.unit // 2
