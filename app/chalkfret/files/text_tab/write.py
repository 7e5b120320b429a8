"""A lesson, or some of its sections and parts, as text tab: bars put into lines of a width."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.files.text_tab.carried import carried
from chalkfret.files.text_tab.draw import LANES, Picture, pictures
from chalkfret.files.text_tab.heads import INDENT, lesson_lines, section_lines
from chalkfret.files.text_tab.legend import legend
from chalkfret.model import Bar, BarHead, Bars, Lesson, Section, Setup, setup_in, tuning_names
from chalkfret.model.pitch import note_of

WIDTH: Final = 78  # characters of a line
_NARROWEST: Final = 24  # characters that a bar gets, however narrow a line is wished for


def write_text(
    lesson: Lesson,
    sections: Sequence[str] = (),
    parts: Sequence[str] = (),
    width: int = WIDTH,
) -> str:
    """The lesson as text; ``sections`` and ``parts`` are ids, none named: all.

    Lines are at most ``width`` characters where bars allow, which end between bars wherever a
    bar fits on a line at all.
    """
    shown = carried(_only(lesson, sections, parts))
    lines = list(lesson_lines(shown))
    for section in shown.sections:
        lines += ["", *section_lines(section.head, section.bars[0].head, shown.parts, width), ""]
        lines += tab_lines(shown, section, width)
    lines += _legend_lines(shown, width)
    return "\n".join(lines).lstrip("\n") + "\n"


def bare_text(lesson: Lesson, width: int = WIDTH) -> str:
    """The tab of the lesson's sections without headings, as it goes into a mail."""
    shown = carried(lesson)
    blocks = ["\n".join(tab_lines(shown, section, width)).rstrip() for section in shown.sections]
    return "\n\n".join(blocks) + "\n"


def _only(lesson: Lesson, sections: Sequence[str], parts: Sequence[str]) -> Lesson:
    if parts:
        kept = [index for index, part in enumerate(lesson.parts) if part.id in parts]
        ids = {lesson.parts[index].id for index in kept}
        lesson = replace(
            lesson,
            parts=tuple(lesson.parts[index] for index in kept),
            sections=tuple(_section_of(section, kept, ids) for section in lesson.sections),
        )
    if sections:
        chosen = tuple(section for section in lesson.sections if section.id in sections)
        lesson = replace(lesson, sections=chosen)
    return lesson


def _section_of(section: Section, parts: list[int], ids: set[str]) -> Section:
    bars = [Bar(bar.head, tuple(bar.notes[part] for part in parts)) for bar in section.bars]
    retunes = tuple(retune for retune in section.head.retunes if retune.part in ids)
    return replace(section, head=replace(section.head, retunes=retunes), bars=Bars.of(bars))


def _legend_lines(lesson: Lesson, width: int) -> list[str]:
    signs = ", ".join(legend(lesson))
    inner = max(_NARROWEST, width - len(INDENT))
    return ["", "Signs:", *(INDENT + line for line in textwrap.wrap(signs, inner))]


class _Piece(Struct, frozen=True):
    """A bar on a line, or a piece of one."""

    picture: Picture
    head: BarHead
    begins: bool
    ends: bool


def tab_lines(lesson: Lesson, section: Section, width: int) -> Iterator[str]:
    """The systems of a section, a blank line behind each."""
    setups = [setup_in(section, part) for part in lesson.parts]
    names = [string_names(setup) for setup in setups]
    margin = max(len(name) for row in names for name in row)
    room = max(_NARROWEST, width - margin - 4)
    pieces: list[_Piece] = []
    before: Bar | None = None
    for index, bar in enumerate(section.bars):
        courses = tuple(len(setup.courses) for setup in setups)
        drawn = pictures(bar, before, courses, index == 0, room)
        for number, picture in enumerate(drawn):
            pieces.append(_Piece(picture, bar.head, number == 0, number + 1 == len(drawn)))
        before = bar
    for line in _lines_of(pieces, width - margin):
        for part, row in enumerate(names):
            if len(lesson.parts) > 1:
                yield f"Part: {lesson.parts[part].name}"
            yield from _system(line, part, row, margin)
            yield ""


def string_names(setup: Setup) -> tuple[str, ...]:
    """The names before the lines, treble side first; a low name that comes again is small."""
    names = [note_of(pitch) for pitch in reversed(tuning_names(setup))]
    if names[0] == names[-1]:
        names[0] = names[0].lower()
    return tuple(names)


def _lines_of(pieces: list[_Piece], width: int) -> Iterator[list[_Piece]]:
    """The pieces put into lines; what does not end its bar ends its line."""
    line: list[_Piece] = []
    used = 0
    for piece in pieces:
        need = piece.picture.width + 3
        if line and (used + need > width or not line[-1].ends):
            yield line
            line, used = [], 0
        line.append(piece)
        used += need
    if line:
        yield line


def _signs(line: list[_Piece]) -> list[str]:
    """The bar lines before, between and behind the pieces of a line."""
    first, last = line[0], line[-1]
    out = [("|:" if first.head.repeat_open else "|") if first.begins else "+"]
    for one, two in pairwise(line):
        out.append(f"{':' * bool(one.head.repeat_close)}|{':' * two.head.repeat_open}")
    out.append((":|" if last.head.repeat_close else "|") if last.ends else "+")
    return out


def _system(line: list[_Piece], part: int, names: tuple[str, ...], margin: int) -> Iterator[str]:
    signs = _signs(line)
    rows = [piece.picture.rows[part] for piece in line]
    for lane in LANES:
        text = " " * margin
        for sign, piece, row in zip(signs, line, rows, strict=False):
            text += " " * len(sign) + row.lanes.get(lane, "").ljust(piece.picture.width)
        if text.strip():
            yield text.rstrip()
    for course, name in enumerate(names):
        text = name.ljust(margin)
        for sign, row in zip(signs, rows, strict=False):
            text += sign + row.strings[course]
        yield text + signs[-1]
