"""What all staves of a system share: bar lines, clefs, meters, names, endings, cues."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import groupby
from typing import Final

from msgspec import Struct

from chalkfret.model import BarHead, Cue
from chalkfret.model.pitch import note_of
from chalkfret.sheet.barshape import LEAD, METER_DIGIT, REPEAT, meter_size, meter_text
from chalkfret.sheet.canvas import CUE_ROW, Canvas, SetBar
from chalkfret.sheet.display import Box, Face, Ink, Shape
from chalkfret.sheet.marks import Lane
from chalkfret.sheet.scheme import Scheme, Staff
from chalkfret.theory.naming import shown
from chalkfret.words.text import _

# SMuFL 1.40 code points.
_NAME_LINE: Final = 9  # letters of a part's name in one line
_CLEF: Final = 0xE06D
_CLEF_HEIGHT: Final = 1.512  # in ems
_DIGIT: Final = 0xE080
_DOT: Final = 0xE1E7
_SIMILE: Final = 0xE500


def name_width(scheme: Scheme, full: bool) -> float:
    """Width of the column of part names; none for a lesson of one part."""
    if len(scheme.staves) == 1:
        return 0.0
    size = scheme.style.small
    words = [word for name in names(scheme, full) for word in name]
    widest = max(scheme.measurer.width(word, Face.SEMIBOLD, size) for word in words)
    return widest + 2.9 * scheme.style.scale


@lru_cache(maxsize=256)
def string_width(scheme: Scheme) -> float:
    """Width of the column of string names."""
    size = scheme.style.small
    widest = max(
        scheme.measurer.width(name, Face.REGULAR, size)
        for staff in scheme.staves
        for name in string_names(staff, scheme)
    )
    return widest + 0.9 * scheme.style.scale


@lru_cache(maxsize=256)
def names(scheme: Scheme, full: bool) -> list[list[str]]:
    """The name before each staff in lines: in full, or initials where they tell parts apart."""
    if not full:
        short = [_initials(staff.name) for staff in scheme.staves]
        if len(set(short)) == len(short):
            return [[name] for name in short]
    return [_lines(staff.name) for staff in scheme.staves]


def _lines(name: str) -> list[str]:
    """A name in short lines; a number stays with what it counts."""
    out: list[str] = []
    for word in name.split():
        if out and (word.isdigit() or len(out[-1]) + len(word) < _NAME_LINE):
            out[-1] += " " + word
        else:
            out.append(word)
    return out or [name]


def _initials(name: str) -> str:
    words = name.replace("-", " ").split()
    return "".join(word if word.isdigit() else word[0].upper() for word in words)


@lru_cache(maxsize=1024)
def string_names(staff: Staff, scheme: Scheme) -> list[str]:
    """What each string is tuned to, course 1 first."""
    return [
        shown(note_of(course.strings[0].pitch), scheme.naming) for course in staff.setup.courses
    ]


def draw_left(canvas: Canvas, staff_left: float, full: bool) -> None:
    """Part name, string names and clef of one staff."""
    style, scale = canvas.scheme.style, canvas.scale
    size, gap = style.small, style.gap
    for course, name in enumerate(string_names(canvas.staff, canvas.scheme), start=1):
        y = canvas.line_y(course) + 0.33 * size
        canvas.words(staff_left - 0.9 * scale, y, name, size, ink=Ink.SOFT, tag="string", align=1.0)
    height = canvas.frame.bottom - canvas.frame.top
    em = min(height * 0.86, 5 * gap) / _CLEF_HEIGHT
    middle = (canvas.frame.top + canvas.frame.bottom) / 2
    canvas.sign(staff_left + 0.45 * gap, middle, _CLEF, em)
    if len(canvas.scheme.staves) > 1:
        words = names(canvas.scheme, full)[canvas.index]
        pitch = 1.15 * size
        x = staff_left - string_width(canvas.scheme) - 2.2 * scale
        y = middle + 0.33 * size - pitch * (len(words) - 1) / 2
        for index, word in enumerate(words):
            canvas.words(x, y + pitch * index, word, size, Face.SEMIBOLD, tag="part", align=1.0)


def draw_bar_lines(canvas: Canvas, closing: str) -> None:
    """Bar lines of one staff; ``closing``: what ends the section here, ``final`` or ``double``."""
    style, scale = canvas.scheme.style, canvas.scale
    top = canvas.frame.top - style.staff_line / 2
    bottom = canvas.frame.bottom + style.staff_line / 2
    for at in canvas.bars:
        head = at.bar.head
        last = at is canvas.bars[-1]
        if head.repeat_open:
            # At the head of a line the sign stands behind the meter, elsewhere it is the bar line.
            x = at.left
            if at is canvas.bars[0]:
                x += at.shape.meter + style.thick_bar / 2
            canvas.line(x, top, x, bottom, style.thick_bar)
            x += style.thick_bar / 2 + 0.6 * scale
            canvas.line(x, top, x, bottom, style.thin_bar)
            _repeat_dots(canvas, x + 0.55 * scale)
        if head.repeat_close:
            x = at.right - style.thick_bar / 2
            canvas.line(x, top, x, bottom, style.thick_bar)
            x -= style.thick_bar / 2 + 0.6 * scale
            canvas.line(x, top, x, bottom, style.thin_bar)
            _repeat_dots(canvas, x - 1.25 * scale)
        elif last and closing:
            x = at.right - (style.thick_bar if closing == "final" else style.thin_bar) / 2
            wide = style.thick_bar if closing == "final" else style.thin_bar
            canvas.line(x, top, x, bottom, wide)
            x -= wide / 2 + 0.65 * scale
            canvas.line(x, top, x, bottom, style.thin_bar)
        else:
            x = at.right - (style.thin_bar / 2 if last else 0.0)
            canvas.line(x, top, x, bottom, style.thin_bar)


def _repeat_dots(canvas: Canvas, x: float) -> None:
    gap = canvas.scheme.style.gap
    middle = (canvas.frame.top + canvas.frame.bottom) / 2
    apart = gap if canvas.staff.courses % 2 == 0 else 0.5 * gap
    for y in (middle - apart, middle + apart):
        canvas.sign(x, y, _DOT, 4 * canvas.scheme.style.space)


def draw_meter(canvas: Canvas, at: SetBar) -> None:
    """The meter sign at the head of a bar."""
    head, frame, scale = at.bar.head, canvas.frame, canvas.scale
    height = frame.bottom - frame.top
    size = meter_size(height, canvas.scheme.style.gap)
    half = min(height / 4, 0.32 * size)  # from the staff's middle to that of a digit
    middle = at.left + 0.5 * at.shape.meter - 0.3 * scale
    if head.repeat_open and at is not canvas.bars[0]:
        middle += REPEAT * scale
    if not head.repeat_open:
        middle += 0.3 * LEAD * scale
    for text, way in zip(meter_text(head), (-1, 1), strict=True):
        x = middle - len(text) * METER_DIGIT * size / 2
        y = (frame.top + frame.bottom) / 2 + way * half
        for index, letter in enumerate(text):
            canvas.sign(x + index * METER_DIGIT * size, y, _DIGIT + int(letter), size)


def draw_simile(canvas: Canvas, at: SetBar) -> None:
    """The sign for "as the bar before"."""
    size = 4 * canvas.scheme.style.gap * 0.9
    x = (at.left + at.shape.lead + at.right) / 2
    middle = (canvas.frame.top + canvas.frame.bottom) / 2
    canvas.sign(x - 0.266 * size, middle, _SIMILE, size)


def pass_words(passes: Sequence[int]) -> str:
    """Passes as an ending's bracket says them: ``1.–3., 5.``."""
    runs: list[list[int]] = []
    for number in sorted(passes):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}." if len(run) == 1 else f"{run[0]}.–{run[-1]}." for run in runs)


def draw_endings(canvas: Canvas, before: BarHead | None, after: BarHead | None) -> None:
    """Brackets over bars that sound in some passes only, and how often a repeat is played.

    ``before`` and ``after`` are the heads of the bars next to the system.
    """
    style, scale = canvas.scheme.style, canvas.scale
    low = canvas.frame.above.get(Lane.ENDINGS)
    if low is None:
        return
    top, base = low - 3.7 * scale, low - 0.9 * scale
    for passes, run in groupby(canvas.bars, key=lambda at: at.bar.head.passes):
        bars = list(run)
        left, right = bars[0].left, bars[-1].right
        if passes:
            goes_on = bars[0] is canvas.bars[0] and before is not None and before.passes == passes
            ends = bars[-1].bar.head.repeat_close > 0 or not (
                bars[-1] is canvas.bars[-1] and after is not None and after.passes == passes
            )
            canvas.line(left + 0.2 * scale, top, right - 0.4 * scale, top, style.hair)
            if not goes_on:
                canvas.line(left + 0.2 * scale, top, left + 0.2 * scale, low, style.hair)
                words = pass_words(passes)
                canvas.words(left + 1.1 * scale, base, words, style.letters, tag="ending")
            if ends:
                canvas.line(right - 0.4 * scale, top, right - 0.4 * scale, low, style.hair)
    for at in canvas.bars:
        if at.bar.head.repeat_close > 2:
            text = f"×{at.bar.head.repeat_close}"
            x = at.right - (1.4 * scale if at.bar.head.passes else 0.0)
            canvas.words(x, base, text, style.letters, Face.SEMIBOLD, tag="times", align=1.0)


class CueFlag(Struct, frozen=True):
    """A cue that begins, goes on or ends in a system: its row, from 0 upwards, and its stretch."""

    row: int
    text: str
    x: float
    end: float | None  # where its stretch stops; None: it is not shown
    begins: bool


def cue_flags(cues: Sequence[Cue], bars: Sequence[SetBar], scheme: Scheme) -> tuple[CueFlag, ...]:
    """The flags of the cues that begin or end within these bars, packed into rows."""
    first, last = bars[0].index, bars[-1].index
    flags: list[CueFlag] = []
    rows: list[float] = []  # where each row is free again
    style = scheme.style
    for cue in sorted(cues, key=lambda one: one.start):
        begins = first <= cue.start.bar <= last
        ends = cue.end is not None and first <= cue.end.bar <= last
        if not begins and not ends:
            continue
        if begins:
            x = bars[cue.start.bar - first].x(cue.start.tick)
            text = cue.label
            end = None
            if cue.end is not None:
                end = bars[-1].right
                if ends:
                    end = bars[cue.end.bar - first].x(cue.end.tick)
        else:
            assert cue.end is not None
            x, end = bars[cue.end.bar - first].x(cue.end.tick), None
            text = _("{cue} ends").format(cue=cue.label)
        width = scheme.measurer.width(text, Face.SEMIBOLD, style.small) + 2.4 * style.scale
        width = min(width, bars[-1].right - bars[0].left)
        x = min(x, bars[-1].right - width)
        taken = max(x + width, end or 0.0) + 1.5 * style.scale
        row = next((at for at, free in enumerate(rows) if free <= x), len(rows))
        if row == len(rows):
            rows.append(0.0)
        rows[row] = taken
        flags.append(CueFlag(row, text, x, end, begins))
    return tuple(flags)


def draw_cues(canvas: Canvas, flags: Sequence[CueFlag]) -> None:
    """Cue flags: a tinted flag on a pole at its beat, and a line as far as the cue lasts."""
    style, scale = canvas.scheme.style, canvas.scale
    height = 3.7 * scale
    for flag in flags:
        low = canvas.frame.cue_y - flag.row * CUE_ROW * scale - 1.2 * scale
        text, size = fitted(canvas.scheme, flag.text, canvas.right - canvas.left)
        width = canvas.scheme.measurer.width(text, Face.SEMIBOLD, size) + 2.4 * scale
        if flag.end is not None and flag.end > flag.x + width + scale:
            y = low - height / 2
            canvas.line(flag.x + width, y, flag.end, y, style.hair)
            canvas.line(flag.end, y - scale, flag.end, y + scale, style.hair)
        left = flag.x - 0.9 * scale
        canvas.items.append(Box(left, low - height, width, height, Ink.TINT))
        canvas.line(left, low - height, left, low, 0.45 * scale)
        if flag.begins:
            tip = low + 1.1 * scale
            corners = ((flag.x + 0.9 * scale, low), (flag.x - 0.9 * scale, low))
            canvas.items.append(Shape((flag.x, tip), corners))
        canvas.words(
            left + 1.3 * scale, low - height / 2 + 0.33 * size, text, size, Face.SEMIBOLD,
            tag="cue",
        )  # fmt: skip


def fitted(scheme: Scheme, text: str, room: float) -> tuple[str, float]:
    """A cue's words, cut with an ellipsis where even a whole system is too short for them."""
    size = scheme.style.small
    if scheme.measurer.width(text, Face.SEMIBOLD, size) + 2.4 * scheme.style.scale <= room:
        return text, size
    while text and scheme.measurer.width(text + "…", Face.SEMIBOLD, size) > room - 3.0:
        text = text[:-1]
    return text + "…", size
