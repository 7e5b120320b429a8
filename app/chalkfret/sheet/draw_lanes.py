"""Above the staff, lane by lane: letters, waves, accents, strokes, fermatas, spans; and the rows
of fingers and degrees below it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from chalkfret.model import Note, PauseKind
from chalkfret.sheet.canvas import ROW, Canvas, SetBar
from chalkfret.sheet.curves import wave
from chalkfret.sheet.display import Face, Ink
from chalkfret.sheet.draw_numbers import clef_width
from chalkfret.sheet.marks import Lane, Signs, signs_of
from chalkfret.words.text import _

# SMuFL 1.40 code points.
_ACCENT: Final = 0xE4A0
_STACCATO: Final = 0xE4A2
_DOWN: Final = 0xE610
_UP: Final = 0xE612
_FERMATA: Final = 0xE4C0
_BREAK: Final = 0xE4D1


class _Column(NamedTuple):
    """Notes of a staff that start together, where, and the signs of those that have any."""

    at: SetBar
    x: float
    notes: list[Note]
    each: list[Signs]
    lanes: int  # sum of the lanes of all signs


def draw_lanes(canvas: Canvas) -> None:
    """Everything in the lanes above and the rows below the staff."""
    above = canvas.frame.above
    columns = [column for at in canvas.bars for column in _columns(canvas, at)]
    for column in columns:
        if column.each:
            _signs(canvas, column)
    for at in canvas.bars:
        if at.shape.degrees:
            _degrees(canvas, at)
    if canvas.frame.end > canvas.frame.degree_y:
        size = canvas.scheme.style.small
        x = canvas.left - clef_width(canvas.scheme.style.gap) + 0.9 * canvas.scale
        y = canvas.frame.degree_y + 0.66 * size
        canvas.words(x, y, _("deg"), size, ink=Ink.SOFT, tag="row")
    if Lane.FERMATAS in above:
        for at in canvas.bars:
            _pauses(canvas, at)
    if Lane.MUTES in above:
        _spans(canvas, columns, Lane.MUTES, "P.M.")
    if Lane.RINGS in above:
        _spans(canvas, columns, Lane.RINGS, _("let ring"))


def _columns(canvas: Canvas, at: SetBar) -> Iterator[_Column]:
    run: list[Note] = []
    for note in canvas.notes(at):
        if run and run[-1].onset != note.onset:
            yield _column(at, run)
            run = []
        run.append(note)
    if run:
        yield _column(at, run)


def _column(at: SetBar, notes: list[Note]) -> _Column:
    each = [signs_of(note) for note in notes if note.marks]
    lanes = 0
    for sign in each:
        lanes |= sign.lanes
    return _Column(at, at.x(notes[0].onset), notes, each, lanes)


def _signs(canvas: Canvas, column: _Column) -> None:
    each, lanes = column.each, column.lanes
    if lanes & Lane.LETTERS:
        _letters(canvas, column)
    if lanes & Lane.ACCENTS:
        _accents(canvas, column.x, each)
    if lanes & Lane.STROKES:
        size = 0.8 * 4 * canvas.scheme.style.space
        stroke = next(sign.stroke for sign in each if sign.stroke)
        code, half = (_DOWN, 0.156) if stroke > 0 else (_UP, 0.125)
        y = canvas.frame.above[Lane.STROKES] - 0.5 * canvas.scale
        canvas.sign(column.x - half * size, y, code, size)
    if lanes & Lane.WAVES:
        _vibrato(canvas, column)
    fingers = [sign.finger for sign in each if sign.finger]
    size = canvas.scheme.style.small
    for index, finger in enumerate(fingers):
        y = canvas.frame.finger_y + 0.66 * size + ROW * canvas.scale * index
        canvas.words(column.x, y, finger, size, Face.ITALIC, tag="finger", align=0.5)


def _letters(canvas: Canvas, column: _Column) -> None:
    scale, at = canvas.scale, column.at
    letters = dict.fromkeys([word for sign in column.each for word in sign.letters])
    y = canvas.frame.above[Lane.LETTERS] - 0.5 * scale
    size = canvas.scheme.style.letters
    width = canvas.words(column.x, y, " ".join(letters), size, Face.ITALIC, align=0.5)
    if any(sign.trill for sign in column.each):
        end = at.x(max(note.end for note in column.notes)) - 1.5 * scale
        start = column.x + width / 2 + 0.6 * scale
        if end - start > 3 * scale:
            _wave(canvas, start, end, y - 0.7 * scale, wide=False)


def _accents(canvas: Canvas, x: float, each: list[Signs]) -> None:
    size = 4 * canvas.scheme.style.space
    low = canvas.frame.above[Lane.ACCENTS] - 0.3 * canvas.scale
    accent = any(sign.accent for sign in each)
    if accent:
        canvas.sign(x - 0.17 * size, low, _ACCENT, size)
    if any(sign.staccato for sign in each):
        raised = (1.9 if accent else 0.4) * canvas.scale
        canvas.sign(x - 0.042 * size, low - raised, _STACCATO, size)


def _vibrato(canvas: Canvas, column: _Column) -> None:
    scale = canvas.scale
    wide = any(sign.vibrato.wide for sign in column.each if sign.vibrato is not None)
    end = column.at.x(max(note.end for note in column.notes)) - 1.5 * scale
    end = min(max(end, column.x + 4.5 * scale), canvas.right)
    y = canvas.frame.above[Lane.WAVES] - 1.0 * scale
    _wave(canvas, column.x - 0.6 * scale, end, y, wide)


def _wave(canvas: Canvas, x1: float, x2: float, y: float, wide: bool) -> None:
    scale = canvas.scale
    height, length = (0.75, 2.6) if wide else (0.45, 1.8)
    width = canvas.scheme.style.hair * 1.25
    canvas.items.append(wave(x1, x2, y, height * scale, length * scale, width))


def _degrees(canvas: Canvas, at: SetBar) -> None:
    size = canvas.scheme.style.small
    struck: dict[int, dict[str, None]] = {}
    for note, degree in zip(canvas.notes(at), at.shape.degrees[canvas.index], strict=True):
        if degree:
            struck.setdefault(note.onset, {})[degree] = None
    for onset, names in struck.items():
        for row, name in enumerate(names):
            y = canvas.frame.degree_y + 0.66 * size + ROW * canvas.scale * row
            canvas.words(at.x(onset), y, name, size, Face.SEMIBOLD, tag="degree", align=0.5)


def _pauses(canvas: Canvas, at: SetBar) -> None:
    size = 4 * canvas.scheme.style.space * 0.8
    y = canvas.frame.above[Lane.FERMATAS] - 0.7 * canvas.scale
    for pause in at.bar.head.pauses:
        x = min(at.x(pause.tick), canvas.right - 0.3 * size)
        if pause.kind is PauseKind.FERMATA:
            canvas.sign(x - 0.304 * size, y, _FERMATA, size)
        else:
            canvas.sign(x - 0.19 * size, y, _BREAK, 0.8 * size)


def _spans(canvas: Canvas, columns: list[_Column], lane: Lane, label: str) -> None:
    """Dashes from the first note with the sign to the last of an unbroken run.

    Notes that ring into each other are one run, whatever is played between.
    """
    runs: list[tuple[float, float]] = []  # x of the first note, x of the end
    going = False
    rings_to = (-1, 0)  # bar and tick to which the last run sounds
    for column in columns:
        at, x, notes, _each, lanes = column
        if not lanes & lane:
            going = False
            continue
        end = x
        going = going or (at.index, notes[0].onset) <= rings_to
        if lane is Lane.RINGS:
            tick = max(note.end for note in notes)
            end = at.x(tick)
            ends_bar = tick >= at.bar.head.ticks
            rings_to = max(rings_to, (at.index + 1, 0) if ends_bar else (at.index, tick))
        if going:
            runs[-1] = (runs[-1][0], max(end, runs[-1][1]))
        else:
            runs.append((x, end))
        going = True
    y = canvas.frame.above[lane]
    style, scale = canvas.scheme.style, canvas.scale
    for start, end in runs:
        left = start - 0.8 * scale
        base = y - 0.6 * scale
        width = canvas.words(left, base, label, style.letters, Face.ITALIC, tag="span")
        dash, stop = left + width + 0.9 * scale, min(end + 0.9 * scale, canvas.right)
        middle = base - 0.22 * style.letters
        if stop - dash > 1.2 * scale:
            canvas.dashes(dash, stop, middle)
            canvas.line(stop, middle - 0.7 * scale, stop, middle + 0.7 * scale, style.hair)
