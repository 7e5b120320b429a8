"""On the staff: strings broken by their numbers, arcs, slides and bends between them."""

from __future__ import annotations

from typing import NamedTuple

from chalkfret.model import Bar, Bend, Note
from chalkfret.sheet.barshape import BEND_STEP, SLIDE
from chalkfret.sheet.canvas import Canvas, SetBar
from chalkfret.sheet.curves import arc, arrowhead, bend_down, bend_up
from chalkfret.sheet.display import Face, Ink, Line, Text
from chalkfret.sheet.marks import Lane, bend_amount, bend_moves, number_of, prebent, signs_of

_CAP = 0.66  # height of a digit in ems of the face


class _Stood(NamedTuple):
    """The last number on a string."""

    left: float
    right: float
    fret: int


def draw_numbers(canvas: Canvas, following: Bar | None) -> None:
    """Numbers, what joins them, and the strings; ``following`` is the bar after the system."""
    numbers = _Numbers(canvas)
    last: dict[int, _Stood] = {}
    gaps: dict[int, list[tuple[float, float]]] = {}
    for at in canvas.bars:
        for note in canvas.notes(at):
            stood = numbers.draw(note, at.x(note.onset))
            gaps.setdefault(note.course, []).append((stood.left, stood.right))
            if note.marks:
                _join(canvas, note, last.get(note.course), stood)
            last[note.course] = stood
        if Lane.BENDS in canvas.frame.above:
            _bends(canvas, at)
    if following is not None:
        _join_over(canvas, following, last)
    _strings(canvas, gaps)


class _Numbers:
    """Writes numbers: tied ones quietly in brackets, all others strong."""

    def __init__(self, canvas: Canvas) -> None:
        self.canvas = canvas
        self.size = size = canvas.scheme.style.digits
        self.low = size * _CAP / 2
        self.width = canvas.scheme.measurer.width
        # Both kinds in one list, so that numbers are read and copied in their order.
        self.texts = canvas.texts[Face.SEMIBOLD, size, Ink.INK]

    def draw(self, note: Note, x: float) -> _Stood:
        text, size = number_of(note), self.size
        y = self.canvas.line_y(note.course) + self.low
        if note.marks and signs_of(note).tie:
            width = self.width(text, Face.REGULAR, size)
            left = x - width / 2
            self.texts.append(Text(left, y, text, size, width, Face.REGULAR, Ink.SOFT, "fret"))
        else:
            width = self.width(text, Face.SEMIBOLD, size)
            left = x - width / 2
            self.texts.append(Text(left, y, text, size, width, Face.SEMIBOLD, Ink.INK, "fret"))
        return _Stood(left, left + width, note.fret)


def _strings(canvas: Canvas, gaps: dict[int, list[tuple[float, float]]]) -> None:
    style, items = canvas.scheme.style, canvas.items
    air, thick = 0.45 * style.scale, style.staff_line
    start, end = canvas.left - clef_width(canvas.scheme.style.gap), canvas.right
    for course in range(1, canvas.staff.courses + 1):
        x, y = start, canvas.line_y(course)
        for left, right in gaps.get(course, ()):
            if left - air > x:
                items.append(Line(x, y, left - air, y, thick, Ink.RULE))
            x = max(x, right + air)
        if end > x:
            items.append(Line(x, y, end, y, thick, Ink.RULE))


def clef_width(gap: float) -> float:
    """Room for the clef between a system's left line and its first bar."""
    return 2.1 * gap


def _join(canvas: Canvas, note: Note, before: _Stood | None, here: _Stood) -> None:
    """Arc, slide or tie from the number before on the string; half of it where a line begins."""
    sign = signs_of(note)
    y = canvas.line_y(note.course)
    if sign.slide_in:
        _slant(canvas, here.left - SLIDE * canvas.scale, here.left, y, sign.slide_in)
    if sign.slide_out:
        _slant(canvas, here.right, here.right + SLIDE * canvas.scale, y, sign.slide_out)
    if not (sign.slur or sign.slide or sign.tie):
        return
    known = before is not None
    start = before.right if before is not None else here.left - 5.0 * canvas.scale
    if sign.slide:
        way = 1 if before is None or note.fret >= before.fret else -1
        _slant(canvas, start, here.left, y, way)
    if sign.slur or sign.tie:
        inset = 0.25 * canvas.scheme.style.digits
        _arc(canvas, start - (inset if known else 0.0), here.left + inset, note.course)


def _slant(canvas: Canvas, left: float, right: float, y: float, way: int) -> None:
    air, rise = 0.35 * canvas.scale, 0.85 * canvas.scale * way
    if right - left > 3 * air:
        width = canvas.scheme.style.hair * 1.2
        canvas.line(left + air, y + rise, right - air, y - rise, width)


def _arc(canvas: Canvas, left: float, right: float, course: int) -> None:
    style = canvas.scheme.style
    height = min(1.7, 0.55 + 0.09 * (right - left) / style.scale) * style.scale
    y = canvas.line_y(course) - style.digits * _CAP / 2 - 0.25 * style.scale
    canvas.items.append(arc(left, right, y, height, 0.3 * style.scale))


def _join_over(canvas: Canvas, following: Bar, last: dict[int, _Stood]) -> None:
    """Half an arc or slide to the right margin where the next system's first note asks for it."""
    seen: set[int] = set()
    for note in following.notes[canvas.staff.part]:
        if note.course in seen:
            continue
        seen.add(note.course)
        sign, before = signs_of(note), last.get(note.course)
        if before is None:
            continue
        if sign.slide:
            way = 1 if note.fret >= before.fret else -1
            _slant(canvas, before.right, canvas.right, canvas.line_y(note.course), way)
        if sign.slur or sign.tie:
            inset = 0.25 * canvas.scheme.style.digits
            _arc(canvas, before.right - inset, canvas.right, note.course)


def _bends(canvas: Canvas, at: SetBar) -> None:
    labels: dict[float, list[str]] = {}
    style = canvas.scheme.style
    for note in canvas.notes(at):
        bend = signs_of(note).bend
        if bend is not None:
            width = canvas.scheme.measurer.width(number_of(note), Face.SEMIBOLD, style.digits)
            x = at.x(note.onset) + width / 2 + 0.4 * style.scale
            _bend(canvas, bend, x, note.course, labels)
    for x, words in labels.items():
        y = canvas.frame.above[Lane.BENDS] - 4.0 * canvas.scale
        canvas.words(x, y, " ".join(words), style.small, Face.REGULAR, tag="bend", align=0.5)


def _bend(
    canvas: Canvas, bend: Bend, x: float, course: int, labels: dict[float, list[str]]
) -> None:
    """Each rise and fall a stroke with its arrow; the amount stands over every rise."""
    scale, width = canvas.scale, canvas.scheme.style.hair
    level = canvas.line_y(course)
    tip = canvas.frame.above[Lane.BENDS] - 3.2 * scale
    head = 1.25 * scale
    y = level
    step = (BEND_STEP - 0.9) * scale
    for at, (before, after) in enumerate(bend_moves(bend)[:6]):
        if after > before:
            if at == 0 and prebent(bend):
                x += 0.8 * scale
                canvas.line(x, level, x, tip + head * 0.8, width)
            else:
                canvas.items.append(bend_up(x, y, x + step, tip + head * 0.8, width))
                x += step
            canvas.items.append(arrowhead(x, tip, head))
            _label(labels, x, bend_amount(after))
            y = tip
        else:
            low = level - (0.9 * scale if after > 0 else 0.0)
            low += 1.0 * scale if after < 0 else 0.0
            canvas.items.append(bend_down(x, y, x + step, low - head * 0.8, width))
            x += step
            canvas.items.append(arrowhead(x, low, head, down=True))
            if after:
                _label(labels, x, ("−" if after < 0 else "") + bend_amount(after))
            y = low


def _label(labels: dict[float, list[str]], x: float, text: str) -> None:
    words = labels.setdefault(round(x, 2), [])
    if text not in words:
        words.append(text)
