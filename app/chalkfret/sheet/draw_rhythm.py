"""Below the staff (and above it for the upper of two voices): stems, beams, rests, tuplets.

Half notes have half a stem, whole notes none (common practice of tab).
"""

from __future__ import annotations

from typing import Final

from chalkfret.sheet.barshape import FLAG
from chalkfret.sheet.canvas import STEM, STEM_GAP, Canvas, SetBar
from chalkfret.sheet.curves import arc
from chalkfret.sheet.display import Box, Face, Glyph
from chalkfret.sheet.marks import Lane, signs_of
from chalkfret.sheet.rhythm import Rhythm, Symbol, Tuplet
from chalkfret.sheet.values import FLAGS

# SMuFL 1.40 code points.
_RESTS: Final = {1: 0xE4E3, 2: 0xE4E4, 4: 0xE4E5, 8: 0xE4E6, 16: 0xE4E7, 32: 0xE4E8, 64: 0xE4E9}
_FLAGS_DOWN: Final = {8: 0xE241, 16: 0xE243, 32: 0xE245, 64: 0xE247}
_FLAGS_UP: Final = {8: 0xE240, 16: 0xE242, 32: 0xE244, 64: 0xE246}
_DOT: Final = 0xE1E7
_TREMOLO: Final = 0xE220  # one stroke; two and three follow
_REST_WIDTHS: Final = {1: 0.282, 2: 0.282, 4: 0.27, 8: 0.247, 16: 0.32, 32: 0.36, 64: 0.4}


def draw_rhythm(canvas: Canvas) -> None:
    """All bars' rhythm."""
    for at in canvas.bars:
        voices = canvas.rhythms(at)
        for rhythm in voices:
            up = len(voices) == 2 and rhythm.voice == 0
            _Voice(canvas, at, rhythm, up, len(voices) == 2).draw()


class _Voice:
    """One voice of one bar. ``way`` is 1 where stems run down, -1 where they run up."""

    def __init__(self, canvas: Canvas, at: SetBar, rhythm: Rhythm, up: bool, two: bool) -> None:
        self.canvas, self.at, self.rhythm = canvas, at, rhythm
        self.style, self.scale = canvas.scheme.style, canvas.scale
        self.way = -1 if up else 1
        self.two = two
        self.notes = canvas.notes(at)
        if up:
            self.root = canvas.frame.above[Lane.STEMS] - 0.6 * self.scale
        else:
            self.root = canvas.frame.bottom + STEM_GAP * self.scale
        self.tip = self.root + self.way * STEM * self.scale
        self.xs = [at.x(symbol.onset) for symbol in rhythm.symbols]

    def draw(self) -> None:
        if self.rhythm.silent:
            if not self.two:
                self._bar_rest()
            return
        beamed = {index for run in self.rhythm.beams for index in run}
        for index, symbol in enumerate(self.rhythm.symbols):
            if symbol.rest:
                self._rest(self.xs[index], symbol)
            else:
                self._stem(index, symbol, index in beamed)
        for run in self.rhythm.beams:
            self._beam(run)
        for tuplet in self.rhythm.tuplets:
            self._tuplet(tuplet)

    def _bar_rest(self) -> None:
        left = self.at.left + self.at.shape.lead
        x = (left + self.at.right) / 2
        size = 4 * self.style.space
        y = self.canvas.line_y((self.canvas.staff.courses + 1) // 2)
        self.canvas.sign(x - 0.141 * size, y, _RESTS[1], size)

    def _rest(self, x: float, symbol: Symbol) -> None:
        canvas, size = self.canvas, 4 * self.style.space
        courses = canvas.staff.courses
        middle = (canvas.frame.top + canvas.frame.bottom) / 2
        shift = self.way * 1.5 * self.style.gap if self.two else 0.0
        if symbol.value <= 2:  # whole and half rests hang from and lie on a line
            middle = canvas.line_y((courses + 1) // 2)
            shift = round(shift / self.style.gap) * self.style.gap
        half = _REST_WIDTHS[symbol.value] * size / 2
        canvas.sign(x - half, middle + shift, _RESTS[symbol.value], size)
        y = middle + shift - 0.5 * self.style.space
        for dot in range(symbol.dots):
            canvas.sign(x + half + (0.25 + 0.6 * dot) * self.style.space, y, _DOT, size)

    def _stem(self, index: int, symbol: Symbol, beamed: bool) -> None:
        canvas, x, way = self.canvas, self.xs[index], self.way
        size = 4 * self.style.space
        if symbol.value == 2:
            canvas.line(x, (self.root + self.tip) / 2, x, self.tip, self.style.stem)
        elif symbol.value > 2:
            canvas.line(x, self.root, x, self.tip, self.style.stem)
        if FLAGS[symbol.value] and not beamed:
            code = (_FLAGS_DOWN if way > 0 else _FLAGS_UP)[symbol.value]
            canvas.sign(x - self.style.stem / 2, self.tip, code, 0.74 * size)
        if symbol.dots:
            dots_y = (self.root + self.tip) / 2 + way * 0.9 * self.style.space
            if symbol.value != 2:
                dots_y = self.root + way * 0.7 * self.style.space
            # Beside the stem, or beside its flag.
            right = FLAG if FLAGS[symbol.value] and not beamed else 0.0
            for dot in range(symbol.dots):
                left = x + (right + 0.4 + 0.62 * dot) * self.style.space
                canvas.sign(left, dots_y, _DOT, size)
        if symbol.held and index:
            y = self.root + way * 0.9 * self.scale
            inset = 0.5 * self.scale
            height = way * 0.9 * self.scale
            canvas.items.append(
                arc(self.xs[index - 1] + inset, x - inset, y, height, 0.26 * self.scale)
            )
        strokes = self._tremolo(symbol)
        if strokes:
            y = (self.root + self.tip) / 2 - way * 0.6 * self.scale
            canvas.items.append(Glyph(x, y, _TREMOLO + strokes - 1, 0.85 * size))

    def _tremolo(self, symbol: Symbol) -> int:
        most = 0
        for index in symbol.notes:
            note = self.notes[index]
            if note.marks:
                most = max(most, signs_of(note).tremolo)
        return most

    def _beam(self, run: tuple[int, ...]) -> None:
        symbols = self.rhythm.symbols
        most = max(FLAGS[symbols[index].value] for index in run)
        for level in range(1, most + 1):
            part: list[int] = []
            for index in (*run, -1):
                if index >= 0 and FLAGS[symbols[index].value] >= level:
                    part.append(index)
                elif part:
                    self._beam_piece(run, part, level)
                    part = []

    def _beam_piece(self, run: tuple[int, ...], part: list[int], level: int) -> None:
        half = self.style.stem / 2
        left, right = self.xs[part[0]] - half, self.xs[part[-1]] + half
        if len(part) == 1:
            # A stub points to the neighbour with which it fills the beat.
            place = run.index(part[0])
            stub = 1.5 * self.scale
            backwards = place == len(run) - 1 or (
                place > 0 and self._weaker(part[0], run[place - 1])
            )
            left, right = (right - stub, right) if backwards else (left, left + stub)
        thick, gap = self.style.beam, 0.42 * self.scale
        inner = self.tip - self.way * (thick + (level - 1) * (thick + gap))
        y = min(inner, inner + self.way * thick)
        self.canvas.items.append(Box(left, y, right - left, thick))

    def _weaker(self, index: int, before: int) -> bool:
        """Whether a short symbol completes the longer one before it."""
        symbols = self.rhythm.symbols
        return symbols[before].length > symbols[index].length

    def _tuplet(self, tuplet: Tuplet) -> None:
        canvas, scale = self.canvas, self.scale
        span = tuple(range(tuplet.first, tuplet.last + 1))
        size = self.style.small
        edge = self.tip + self.way * 0.5 * scale
        base = edge + 0.66 * size + 0.1 * scale if self.way > 0 else edge - 0.1 * scale
        left, right = self.xs[tuplet.first], self.xs[tuplet.last]
        middle = (left + right) / 2
        text = str(tuplet.count)
        width = canvas.words(
            middle, base, text, size, Face.SEMIBOLD_ITALIC, tag="tuplet", align=0.5
        )
        if span in self.rhythm.beams:
            return
        left, right = left - 0.9 * scale, right + 0.9 * scale
        y = base - 0.33 * size
        hook = y - self.way * 1.0 * scale
        hair = self.style.hair
        if right - left < width + 3 * scale:
            return
        gap = width / 2 + 0.6 * scale
        canvas.line(left, hook, left, y, hair)
        canvas.line(left, y, middle - gap, y, hair)
        canvas.line(middle + gap, y, right, y, hair)
        canvas.line(right, y, right, hook, hair)
