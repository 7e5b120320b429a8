"""Above the staff, lane by lane: letters, waves, accents, strokes, fermatas, spans; and the rows
of fingers and degrees below it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from chalkfret.model import Note, PauseKind, Sign
from chalkfret.sheet.barshape import degree_of
from chalkfret.sheet.canvas import Canvas, SetBar
from chalkfret.sheet.curves import wave
from chalkfret.sheet.display import Face
from chalkfret.sheet.marks import Lane, signs
from chalkfret.words.text import _

# SMuFL 1.40 code points.
_ACCENT: Final = 0xE4A0
_STACCATO: Final = 0xE4A2
_DOWN: Final = 0xE610
_UP: Final = 0xE612
_FERMATA: Final = 0xE4C0
_BREAK: Final = 0xE4D1


def draw_lanes(canvas: Canvas) -> None:
    """Everything in the lanes above and the rows below the staff."""
    above = canvas.frame.above
    for at in canvas.bars:
        for onset, notes in _columns(canvas.notes(at)):
            _column(canvas, at, onset, notes)
        if Lane.FERMATAS in above:
            _pauses(canvas, at)
    if Lane.MUTES in above:
        _spans(canvas, Sign.PALM_MUTE, "P.M.", above[Lane.MUTES])
    if Lane.RINGS in above:
        _spans(canvas, Sign.LET_RING, _("let ring"), above[Lane.RINGS])


def _columns(notes: tuple[Note, ...]) -> Iterator[tuple[int, list[Note]]]:
    """Notes that start together."""
    run: list[Note] = []
    for note in notes:
        if run and run[-1].onset != note.onset:
            yield run[0].onset, run
            run = []
        run.append(note)
    if run:
        yield run[0].onset, run


def _column(canvas: Canvas, at: SetBar, onset: int, notes: list[Note]) -> None:
    style, above, scale = canvas.scheme.style, canvas.frame.above, canvas.scale
    x = at.x(onset)
    each = [signs(note.fret, note.marks) for note in notes]
    letters = list(dict.fromkeys(word for sign in each for word in sign.letters))
    if letters:
        y = above[Lane.LETTERS] - 0.5 * scale
        width = canvas.words(x, y, " ".join(letters), style.letters, Face.ITALIC, align=0.5)
        if any(sign.trill for sign in each):
            end = at.x(max(note.end for note in notes)) - 1.5 * scale
            start = x + width / 2 + 0.6 * scale
            if end - start > 3 * scale:
                _wave(canvas, start, end, y - 0.7 * scale, wide=False)
    size = 4 * style.space
    if any(sign.accent for sign in each):
        canvas.sign(x - 0.17 * size, above[Lane.ACCENTS] - 0.3 * scale, _ACCENT, size)
    if any(sign.staccato for sign in each):
        low = above[Lane.ACCENTS] - 0.3 * scale
        raised = 1.9 * scale if any(sign.accent for sign in each) else 0.4 * scale
        canvas.sign(x - 0.042 * size, low - raised, _STACCATO, size)
    stroke = next((sign.stroke for sign in each if sign.stroke), 0)
    if stroke:
        code, half = (_DOWN, 0.156) if stroke > 0 else (_UP, 0.125)
        canvas.sign(x - half * 0.8 * size, above[Lane.STROKES] - 0.5 * scale, code, 0.8 * size)
    vibrato = [sign.vibrato for sign in each if sign.vibrato is not None]
    if vibrato:
        end = max(at.x(max(note.end for note in notes)) - 1.5 * scale, x + 4.5 * scale)
        end = min(end, canvas.right)
        y = above[Lane.WAVES] - 1.0 * scale
        _wave(canvas, x - 0.6 * scale, end, y, wide=any(mark.wide for mark in vibrato))
    _rows(canvas, x, notes)


def _wave(canvas: Canvas, x1: float, x2: float, y: float, wide: bool) -> None:
    scale = canvas.scale
    height, length = (0.75, 2.6) if wide else (0.45, 1.8)
    width = canvas.scheme.style.hair * 1.25
    canvas.items.append(wave(x1, x2, y, height * scale, length * scale, width))


def _rows(canvas: Canvas, x: float, notes: list[Note]) -> None:
    style = canvas.scheme.style
    row, cap = 2.75 * canvas.scale, 0.66 * style.small
    fingers = [signs(note.fret, note.marks).finger for note in notes]
    for index, finger in enumerate(name for name in fingers if name):
        y = canvas.frame.finger_y + cap + row * index
        canvas.words(x, y, finger, style.small, tag="finger", align=0.5)
    if canvas.scheme.degrees is None:
        return
    names = dict.fromkeys(degree_of(note, canvas.staff, canvas.scheme) for note in notes)
    for index, name in enumerate(name for name in names if name):
        y = canvas.frame.degree_y + cap + row * index
        canvas.words(x, y, name, style.small, Face.SEMIBOLD, tag="degree", align=0.5)


def _pauses(canvas: Canvas, at: SetBar) -> None:
    size = 4 * canvas.scheme.style.space * 0.8
    y = canvas.frame.above[Lane.FERMATAS] - 0.7 * canvas.scale
    for pause in at.bar.head.pauses:
        x = min(at.x(pause.tick), canvas.right - 0.3 * size)
        if pause.kind is PauseKind.FERMATA:
            canvas.sign(x - 0.304 * size, y, _FERMATA, size)
        else:
            canvas.sign(x - 0.19 * size, y, _BREAK, 0.8 * size)


def _spans(canvas: Canvas, sign: Sign, label: str, y: float) -> None:
    """Dashes from the first note with the sign to the last of an unbroken run.

    Notes that ring into each other are one run, whatever is played between.
    """
    runs: list[tuple[float, float]] = []  # x of the first note, x of the end
    going = False
    for at in canvas.bars:
        for onset, notes in _columns(canvas.notes(at)):
            if not any(note.has(sign) for note in notes):
                going = False
                continue
            x = at.x(onset)
            going = going or bool(runs and x <= runs[-1][1] + 0.01)
            end = at.x(max(note.end for note in notes)) if sign is Sign.LET_RING else x
            if going:
                runs[-1] = (runs[-1][0], max(end, runs[-1][1]))
            else:
                runs.append((x, end))
            going = True
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
