"""A section's banner: letter, name, tempo, meter, key with its scale, swing, times, notes."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from msgspec import Struct

from chalkfret.model import (
    Key,
    Lesson,
    NoteNaming,
    Section,
    SectionHead,
    setup_in,
)
from chalkfret.sheet.display import Block, Face, Ink
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.sheet.prose import Setting, facts, markdown, plain, set_text
from chalkfret.sheet.section_map import Counted, meters_of
from chalkfret.sheet.style import Style
from chalkfret.sheet.tempo_mark import tempo_mark, tempo_width
from chalkfret.strings.retune import standard_of
from chalkfret.theory.shape_key import shape_key
from chalkfret.words.figures import number_words
from chalkfret.words.music import (
    key_line,
    key_words,
    meter_words,
    scale_steps,
    setting_words,
    swing_words,
)
from chalkfret.words.names import shaped_words
from chalkfret.words.strings import setup_tuning_words
from chalkfret.words.text import _, ngettext

_MEASURE: Final = 128.0  # longest line of the teacher's notes, in mm at normal print


class Heading(Struct, frozen=True, cache_hash=True):
    """All that a banner depends on, so that equal banners are drawn once."""

    head: SectionHead
    meters: tuple[Counted, ...]  # in order of appearance
    key_lines: tuple[str, ...]
    retunes: tuple[str, ...]
    naming: NoteNaming
    simple: bool
    style: Style
    measurer: Measurer


def heading_of(
    lesson: Lesson, section: Section, parts: tuple[int, ...], style: Style, measurer: Measurer
) -> Heading:
    """What the banner of a section says of these parts."""
    naming = lesson.head.note_naming
    retuned = {retune.part for retune in section.head.retunes}
    return Heading(
        head=section.head,
        meters=meters_of(section),
        key_lines=_key_lines(lesson, section, parts),
        retunes=tuple(
            f"{lesson.parts[index].name}: "
            + setup_tuning_words(setup_in(section, lesson.parts[index]), naming)
            for index in parts
            if lesson.parts[index].id in retuned
        ),
        naming=naming,
        simple=lesson.head.simple_names,
        style=style,
        measurer=measurer,
    )


def _key_lines(lesson: Lesson, section: Section, parts: tuple[int, ...]) -> tuple[str, ...]:
    """The key with its root and shapes for each part; one line where all parts say the same."""
    key, naming = section.head.key, lesson.head.note_naming
    if key is None:
        return ()
    words = key_words(key, naming)
    lines = {i: _key_line(lesson, section, i) for i in parts}
    if len(set(lines.values())) == 1:
        return (lines[parts[0]],)
    roots = (f"{lesson.parts[i].name}: {lines[i].removeprefix(words + ', ')}" for i in parts)
    return (words, *roots)


def _key_line(lesson: Lesson, section: Section, index: int) -> str:
    """A part's key with its root, and what its shapes are called where habit says another."""
    part, naming = lesson.parts[index], lesson.head.note_naming
    line = key_line(section, part, index, naming)
    found = shape_key(section, part, index, standard_of(setup_in(section, part)))
    shaped = "" if found is None else shaped_words(found, naming)
    return _("{key}, {shaped}").format(key=line, shaped=shaped) if shaped else line


@lru_cache(maxsize=512)
def banner(heading: Heading) -> Block:
    """The banner as a block of the type area's width."""
    style, head = heading.style, heading.head
    width = style.text_width
    measurer = heading.measurer
    pen = Pen(measurer)
    pen.rule(0.0, 0.2, width, 0.4, Ink.INK)
    side = 1.6 * style.heading
    letter = 0.72 * side
    top = 2.2 * style.words
    pen.box(0.0, top, max(side, pen_width(pen, head.letter, letter) + 2.4), side, Ink.INK, 0.5)
    chip = max(side, pen_width(pen, head.letter, letter) + 2.4)
    base = top + side / 2 + 0.33 * letter
    pen.words(chip / 2, base, head.letter, letter, Face.SEMIBOLD, Ink.PAPER, "letter", align=0.5)
    size = style.heading * 0.82
    wide = tempo_width(measurer, head.tempo, size)
    tempo_left = width - wide
    tempo_mark(pen, head.tempo, tempo_left, top + side / 2 + 0.33 * size, size)
    title = _set_name(heading, tempo_left - chip - 8.0)
    text_x = chip + 3.2 * style.words
    y = top + (side - title.height) / 2 if title.height < side else top
    pen.text(title, text_x, y)
    y = max(top + side, y + title.height) + 1.4 * style.words
    y = _body(pen, heading, y)
    return pen.block(width, y)


def pen_width(pen: Pen, text: str, size: float) -> float:
    """Width of a section's letter."""
    return pen.measurer.width(text, Face.SEMIBOLD, size)


def _set_name(heading: Heading, room: float) -> Setting:
    style = heading.style
    name = heading.head.name or _("Section {letter}").format(letter=heading.head.letter)
    return set_text(
        plain(name, Face.SEMIBOLD), max(room, 40.0), style.heading, heading.measurer,
        tag="section", leading=1.18,
    )  # fmt: skip


def _meter(counted: Counted) -> str:
    meter, grouping = counted
    words = meter_words(meter)
    return f"{words} ({'+'.join(map(str, grouping))})" if len(grouping) > 1 else words


def _facts(heading: Heading, room: float) -> Setting:
    """Meter, key, swing and times in one quiet line, or as many as they need."""
    head, style = heading.head, heading.style
    said = [", ".join(map(_meter, heading.meters[:6]))]
    said += heading.key_lines
    if swing_words(head.swing):
        said.append(swing_words(head.swing))
    tempo = head.tempo
    if tempo.end is not None and tempo.end != tempo.start:
        faster = tempo.end > tempo.start
        said.append(_("gradually faster") if faster else _("gradually slower"))
    if head.times > 1:
        said.append(
            ngettext("play {times} time", "play {times} times", head.times).format(times=head.times)
        )
    if head.difficulty is not None:
        said.append(_("difficulty {level} of 5").format(level=head.difficulty))
    if head.pause_s:
        said.append(_("then {seconds} s of silence").format(seconds=number_words(head.pause_s)))
    said += (_("retuned, {setup}").format(setup=setup) for setup in heading.retunes)
    line = facts(said, room, style.body, heading.measurer)
    return set_text(plain(line), room, style.body, heading.measurer, Ink.SOFT, "facts")


def _body(pen: Pen, heading: Heading, y: float) -> float:
    """Facts and the teacher's notes on the left, the scale on the right; the y below both."""
    head, style = heading.head, heading.style
    room, low = style.text_width, y
    if head.key is not None and (head.key.mode is not None or head.key.degrees):
        scale_width, low = _scale(pen, head.key, heading, y)
        room -= scale_width + 8.0
    said = _facts(heading, room)
    pen.text(said, 0.0, y)
    y += said.height
    texts = []
    if head.notes.strip():
        texts.append(markdown(head.notes))
    settings = [
        f"{cue.label}: " + ", ".join(setting_words(cue.kind, one) for one in cue.settings)
        for cue in head.cues
        if cue.settings
    ]
    if settings:
        texts.append(plain("\n".join(settings), Face.ITALIC))
    for text in texts:
        setting = set_text(
            text, min(room, _MEASURE * style.words), style.body, heading.measurer, tag="notes"
        )
        pen.text(setting, 0.0, y + 1.0)
        y += setting.height + 1.0
    return max(y, low)


def _scale(pen: Pen, key: Key, heading: Heading, y: float) -> tuple[float, float]:
    """The scale as notes over degrees, right aligned; its width, and the y below it."""
    style = heading.style
    steps = scale_steps(key, heading.naming, heading.simple)
    size, small = style.body * 1.06, style.note
    widest = max(pen.measurer.width(step.note, Face.SEMIBOLD, size) for step in steps)
    cell = max(6.6 * style.words, widest + 2.2 * style.words)
    width = cell * len(steps)
    left = style.text_width - width
    pad = 1.2 * style.words
    height = pad * 2 + size + small * 1.25
    pen.box(left, y, width, height, Ink.TINT, 0.8)
    note_y = y + pad + 0.82 * size
    rows = [step.note for step in steps], [step.degree for step in steps]
    for index, name in enumerate(rows[0]):
        x = left + cell * (index + 0.5)
        pen.words(x, note_y, name, size, Face.SEMIBOLD, tag="scale", align=0.5)
    for index, name in enumerate(rows[1]):
        x = left + cell * (index + 0.5)
        pen.words(x, note_y + small * 1.35, name, small, ink=Ink.SOFT, tag="scale", align=0.5)
    return width, y + height + 0.6 * style.words
