"""What stands before the music: title, setups, tone notes, and the map of the sections."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model import Lesson, LessonHead, Part, Section, setup_in
from chalkfret.model.setup import Setup
from chalkfret.sheet.display import Block, Face, Ink
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.sheet.prose import LEADING, Paragraph, Setting, Span, markdown, plain, set_text
from chalkfret.sheet.setup_box import setup_box
from chalkfret.sheet.style import Style
from chalkfret.strings.cautions import CautionCode, cautions
from chalkfret.words.strings import caution_words
from chalkfret.words.text import _


class Who(Struct, frozen=True, cache_hash=True):
    """A setup, and who plays on it: part names, with the sections' letters where not all."""

    setup: Setup
    players: tuple[str, ...]


def setups_of(
    lesson: Lesson, sections: tuple[Section, ...], parts: tuple[int, ...]
) -> tuple[Who, ...]:
    """Each distinct setup of the parts, in order of appearance."""
    found: dict[Setup, dict[str, list[str]]] = {}
    for index in parts:
        part = lesson.parts[index]
        for section in sections:
            setup = setup_in(section, part)
            letters = found.setdefault(setup, {}).setdefault(part.name, [])
            letters.append(section.head.letter)
    out: list[Who] = []
    for setup, players in found.items():
        names = tuple(
            name if len(letters) == len(sections)
            else _("{part} in {sections}").format(part=name, sections=", ".join(letters))
            for name, letters in players.items()
        )  # fmt: skip
        out.append(Who(setup, names))
    return tuple(out)


@lru_cache(maxsize=64)
def title_block(head: LessonHead, style: Style, measurer: Measurer) -> Block:
    """Title, subtitle and credit."""
    pen = Pen(measurer)
    width = style.text_width
    title = head.title or _("Untitled lesson")
    y = 0.0
    lines = [
        (title, style.title, Face.SEMIBOLD, Ink.INK, "title", 1.12),
        (head.subtitle, style.heading * 0.92, Face.REGULAR, Ink.SOFT, "subtitle", 1.25),
        (head.credit, style.body * 1.08, Face.ITALIC, Ink.INK, "credit", LEADING),
    ]
    for text, size, face, ink, tag, leading in lines:
        if text.strip():
            setting = set_text(plain(text, face), width, size, measurer, ink, tag, leading)
            pen.text(setting, 0.0, y)
            y += setting.height + (1.0 if tag == "title" else 0.6) * style.words
    y += 1.0 * style.words
    pen.rule(0.0, y, width, 0.7, Ink.INK)
    return pen.block(width, y + 0.4)


@lru_cache(maxsize=64)
def heading_line(text: str, style: Style, measurer: Measurer) -> Block:
    """The small heading of a part of the first page."""
    pen = Pen(measurer)
    size = style.note
    pen.words(0.0, size, text, size, Face.SEMIBOLD, Ink.SOFT, "heading")
    return pen.block(style.text_width, 1.5 * size)


@lru_cache(maxsize=256)
def setup_rows(
    whos: tuple[Who, ...], head: LessonHead, style: Style, measurer: Measurer
) -> tuple[Block, ...]:
    """The setup boxes, two beside each other where the page is wide enough, then the cautions.

    The cautions take the place beside a last box that stands alone.
    """
    gutter = 8.0
    columns = 2 if style.text_width >= 165.0 * style.words else 1
    width = (style.text_width - gutter * (columns - 1)) / columns
    boxes = [
        setup_box(who.setup, who.players, head.note_naming, width, style, measurer) for who in whos
    ]
    beside = len(boxes) % columns > 0
    setups = tuple(who.setup for who in whos)
    boxes.append(cautions_box(setups, width if beside else style.text_width, style, measurer))
    rows: list[Block] = []
    while boxes:
        count = columns if len(boxes) > 1 else 1
        row, boxes = boxes[:count], boxes[count:]
        pen = Pen(measurer)
        for index, box in enumerate(row):
            pen.take(box, index * (width + gutter), 0.0)
        rows.append(pen.block(style.text_width, max(box.height for box in row)))
    return tuple(rows)


def cautions_box(
    setups: tuple[Setup, ...], width: float, style: Style, measurer: Measurer
) -> Block:
    """The cautions of all setups, each sentence once.

    How far a guitar's tension changes as a whole is said under its own table.
    """
    found: dict[str, None] = {}
    for setup in setups:
        for one in cautions(setup):
            whole = one.code is CautionCode.NECK_AND_BRIDGE
            found[caution_words(replace(one, lb=None) if whole else one)] = None
    pen = Pen(measurer)
    size = style.note
    pen.take(heading_line(_("Before you tune"), style, measurer), 0.0, 0.0)
    top = 1.75 * size
    text = tuple(
        Paragraph((Span(sentence),), level=1, bullet="•", close=index > 0)
        for index, sentence in enumerate(found)
    )
    setting = set_text(text, width, size, measurer, Ink.SOFT, "caution", 1.25)
    pen.text(setting, 0.0, top)
    return pen.block(width, top + setting.height)


@lru_cache(maxsize=256)
def tone_block(part: Part, named: bool, style: Style, measurer: Measurer) -> Block:
    """The tone notes of one part beside its name."""
    pen = Pen(measurer)
    size = style.body
    left = 0.0
    if named:
        left = 34.0 * style.words
        name = set_text(plain(part.name, Face.SEMIBOLD), left - 4.0, size, measurer)
        pen.text(name, 0.0, 0.0)
        low = name.height
    else:
        low = 0.0
    measure = min(style.text_width - left, 128.0 * style.words)
    text: Setting = set_text(markdown(part.tone), measure, size, measurer, tag="tone")
    pen.text(text, left, 0.0)
    return pen.block(style.text_width, max(low, text.height))
