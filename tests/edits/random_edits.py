"""Random edits: every public edit, on random places of a lesson, asked for by a ``Random``."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from random import Random

from msgspec.structs import replace

from chalkfret.arrange.same_pitch import same_pitch
from chalkfret.edits import (
    Moment,
    Span,
    Spot,
    bars,
    cues,
    drawing,
    gestures,
    marks,
    meters,
    models,
    notes,
    parts,
    repeats,
    second_guitar,
    sections,
    selection,
    shapes,
    texts,
)
from chalkfret.edits.clip import Clip
from chalkfret.model import (
    QUARTER,
    Bend,
    BendPoint,
    CueKind,
    Drive,
    Finger,
    FingerName,
    Key,
    Lesson,
    Meter,
    Mode,
    NaturalHarmonic,
    Pause,
    PauseKind,
    Performed,
    Place,
    Sign,
    Slide,
    SlideWay,
    Tempo,
    TempoShape,
    Vibrato,
    Voice,
)
from chalkfret.model.start import plain_setup

Edit = Callable[[Lesson, Random], Lesson]
NOTE_EDITS: list[Edit] = []  # change notes only: heads, parts and the number of bars stay
OTHER_EDITS: list[Edit] = []

MARKS = [
    *Sign,
    *map(Slide, SlideWay),
    Vibrato(),
    Vibrato(wide=True),
    NaturalHarmonic(7.0),
    Finger(FingerName.RING),
    Bend((BendPoint(0, 0), BendPoint(QUARTER // 2, 200))),
    Bend((BendPoint(0, 100),)),
]
METERS = [Meter(4, 4), Meter(3, 4), Meter(7, 8), Meter(5, 4), Meter(6, 8), Meter(2, 2)]
STEP = QUARTER // 4
LENGTHS = [1, STEP, QUARTER // 3, QUARTER // 2, QUARTER, 3 * QUARTER, 9 * QUARTER]
SETUPS = [plain_setup(pitches.split(), [None] * len(pitches.split()), name="x") for pitches in (
    "E2 A2 D3 G3 B3 E4", "B1 E2 A2 D3 G3 B3 E4", "G2 D3 A3 E4", "F#1 B1 E2 A2 D3 G3 B3 E4",
)]  # fmt: skip


def note_edit(function: Edit) -> Edit:
    NOTE_EDITS.append(function)
    return function


def other_edit(function: Edit) -> Edit:
    OTHER_EDITS.append(function)
    return function


# Places


def some_section(lesson: Lesson, dice: Random) -> int:
    return dice.randrange(len(lesson.sections))


def some_bar(lesson: Lesson, dice: Random) -> tuple[int, int]:
    section = some_section(lesson, dice)
    return section, dice.randrange(len(lesson.sections[section].bars))


def some_bars(lesson: Lesson, dice: Random) -> tuple[int, int, int]:
    section, start = some_bar(lesson, dice)
    return section, start, dice.randint(1, len(lesson.sections[section].bars) - start)


def some_spot(lesson: Lesson, dice: Random) -> Spot:
    section, bar = some_bar(lesson, dice)
    part = dice.randrange(len(lesson.parts))
    found = lesson.sections[section].bars[bar]
    if found.notes[part] and dice.random() < 0.6:  # mostly where a note is, or sounds
        note = dice.choice(found.notes[part])
        onset = note.onset + dice.choice([0, 0, note.length // 2, note.length - 1])
        return Spot(section, bar, part, onset, note.course)
    onset, _ = dice.choice(found.head.step_spans)
    return Spot(section, bar, part, onset, dice.randint(1, len(lesson.parts[part].setup.courses)))


def some_part(lesson: Lesson, dice: Random) -> int:
    return dice.randrange(len(lesson.parts))


def some_moment(lesson: Lesson, dice: Random) -> Moment:
    section, bar = some_bar(lesson, dice)
    head = lesson.sections[section].bars[bar].head
    return Moment(section, bar, dice.choice([0, head.ticks, *(at for at, _ in head.step_spans)]))


def some_span(lesson: Lesson, dice: Random) -> Span:
    start, end = sorted([some_moment(lesson, dice), some_moment(lesson, dice)])
    if dice.random() < 0.4:
        start = Moment(start.section, start.bar, 0)
        end = Moment(start.section, start.bar + 1, 0)
    some = sorted(dice.sample(range(len(lesson.parts)), dice.randint(1, len(lesson.parts))))
    courses = tuple(sorted(dice.sample(range(1, 7), 2))) if dice.random() < 0.3 else ()
    return Span(start, end, tuple(some), courses)


# Writing by models, shapes and rules


@other_edit
def cut_beat(lesson: Lesson, dice: Random) -> Lesson:
    section, bar = some_bar(lesson, dice)
    beats = lesson.sections[section].bars[bar].head.beats
    return gestures.cut_beat(lesson, section, bar, dice.randrange(len(beats)), dice.randint(1, 9))


@other_edit  # an empty bar is cut into its model's steps
def write_like(lesson: Lesson, dice: Random) -> Lesson:
    spot = some_spot(lesson, dice)
    found = models.models(lesson, spot)
    return models.write_like(lesson, spot, dice.choice(found)) if found else lesson


@note_edit
def refret(lesson: Lesson, dice: Random) -> Lesson:
    found = models.groups(lesson, some_spot(lesson, dice), hand=dice.random() < 0.5)
    return models.refret(lesson, dice.choice(found), dice.randint(0, 36)) if found else lesson


@note_edit
def to_string(lesson: Lesson, dice: Random) -> Lesson:
    found = models.groups(lesson, some_spot(lesson, dice), hand=dice.random() < 0.5)
    if not found:
        return lesson
    after, moved = models.to_string(lesson, dice.choice(found), dice.choice([-1, 1]))
    assert models.still_there(after, moved)
    return after


@note_edit
def write_shape(lesson: Lesson, dice: Random) -> Lesson:
    spot = some_spot(lesson, dice)
    found = shapes.shapes_before(lesson, spot)
    if not found:
        return lesson
    shape = shapes.moved_to(dice.choice(found), dice.randint(0, 24))
    return shapes.write_shape(lesson, spot, shape, dice.choice(LENGTHS))


@note_edit
def follow(lesson: Lesson, dice: Random) -> Lesson:
    section, start, count = some_bars(lesson, dice)
    source, to = some_part(lesson, dice), some_part(lesson, dice)
    span = selection.bars_span(lesson, section, start, count, (source,))
    return second_guitar.follow(lesson, span, to, dice.choice(list(second_guitar.Rule)))


# Notes


@note_edit
def set_fret(lesson: Lesson, dice: Random) -> Lesson:
    return notes.set_fret(
        lesson, some_spot(lesson, dice), dice.randint(-1, 37), dice.choice(LENGTHS)
    )


@note_edit
def clear(lesson: Lesson, dice: Random) -> Lesson:
    return notes.clear(lesson, some_spot(lesson, dice))


@note_edit
def set_length(lesson: Lesson, dice: Random) -> Lesson:
    spot, length = some_spot(lesson, dice), dice.choice(LENGTHS)
    return notes.set_length(lesson, spot, length, across=dice.random() < 0.7)


@note_edit
def stretch(lesson: Lesson, dice: Random) -> Lesson:
    return notes.stretch(lesson, some_spot(lesson, dice), dice.choice([-STEP, STEP, QUARTER]))


@note_edit
def move(lesson: Lesson, dice: Random) -> Lesson:
    spot, to = some_spot(lesson, dice), some_spot(lesson, dice)
    return notes.move(lesson, spot, to, keep_pitch=dice.random() < 0.3)


@note_edit
def set_voice(lesson: Lesson, dice: Random) -> Lesson:
    return notes.set_voice(lesson, some_spot(lesson, dice), dice.randint(0, 2))


@note_edit
def set_spelling(lesson: Lesson, dice: Random) -> Lesson:
    return notes.set_spelling(lesson, some_spot(lesson, dice), dice.choice([None, "F#", "H"]))


@note_edit
def toggle_mark(lesson: Lesson, dice: Random) -> Lesson:
    return marks.toggle_mark(lesson, some_spot(lesson, dice), dice.choice(MARKS))


@note_edit
def set_marks(lesson: Lesson, dice: Random) -> Lesson:
    some = tuple(dice.sample(MARKS, 2))
    return marks.set_marks(lesson, some_spot(lesson, dice), some)


@note_edit
def toggle_mark_in(lesson: Lesson, dice: Random) -> Lesson:
    return marks.toggle_mark_in(lesson, some_span(lesson, dice), dice.choice(MARKS))


@note_edit
def clear_marks_in(lesson: Lesson, dice: Random) -> Lesson:
    return marks.clear_marks_in(lesson, some_span(lesson, dice))


# Selections


@note_edit
def clear_span(lesson: Lesson, dice: Random) -> Lesson:
    return selection.clear_span(lesson, some_span(lesson, dice))


@other_edit  # whole beats bring their steps along, which stand in the bar's head
def copy_and_paste(lesson: Lesson, dice: Random) -> Lesson:
    return some_paste(lesson, dice, selection.copy(lesson, some_span(lesson, dice)))


@note_edit
def paste_without_beats(lesson: Lesson, dice: Random) -> Lesson:
    clip = selection.copy(lesson, some_span(lesson, dice))
    return some_paste(lesson, dice, replace(clip, beats=()))


def some_paste(lesson: Lesson, dice: Random, clip: Clip) -> Lesson:
    return selection.paste(
        lesson, some_spot(lesson, dice), clip,
        dice.randint(1, 2), dice.choice([0, 0, 5, -2]), dice.choice([0, 0, 1, -1]),
    )  # fmt: skip


@other_edit
def paste_and_grow(lesson: Lesson, dice: Random) -> Lesson:
    clip = selection.copy(lesson, some_span(lesson, dice))
    if clip.length > 40 * QUARTER:
        return lesson
    return selection.paste(lesson, some_spot(lesson, dice), clip, dice.randint(1, 2), grow=True)


@note_edit
def shift(lesson: Lesson, dice: Random) -> Lesson:
    return selection.shift(
        lesson, some_span(lesson, dice),
        dice.choice([0, 2, -1]), dice.choice([0, 1, -1]), dice.choice([0, 0, STEP, -QUARTER]),
        keep_pitch=dice.random() < 0.5,
    )  # fmt: skip


@note_edit
def draw_slide(lesson: Lesson, dice: Random) -> Lesson:
    return drawing.draw_slide(lesson, some_spot(lesson, dice), some_spot(lesson, dice))


@note_edit
def draw_bend(lesson: Lesson, dice: Random) -> Lesson:
    most = dice.choice([0, 100, 200, 300])
    last = dice.choice([0, most, most // 2])
    return drawing.draw_bend(
        lesson, some_spot(lesson, dice), most, last, before=dice.random() < 0.3
    )


@other_edit  # what it writes again brings its beats' steps along
def fill(lesson: Lesson, dice: Random) -> Lesson:
    return gestures.fill(lesson, some_span(lesson, dice))


@note_edit
def scale_lengths(lesson: Lesson, dice: Random) -> Lesson:
    factor = dice.choice([Fraction(2), Fraction(1, 2), Fraction(3, 2)])
    return gestures.scale_lengths(lesson, some_span(lesson, dice), factor)


@note_edit
def write_into(lesson: Lesson, dice: Random) -> Lesson:
    spots = (some_spot(lesson, dice), some_spot(lesson, dice))
    return gestures.write_chord(
        lesson, dict.fromkeys(spots, dice.randint(0, 12)), dice.choice(LENGTHS), dice.randint(0, 1)
    )


@other_edit
def repeat_bar(lesson: Lesson, dice: Random) -> Lesson:
    section, bar = some_bar(lesson, dice)
    return gestures.repeat_bar(lesson, section, bar, (some_part(lesson, dice),), frets=1)


@other_edit
def repeat_beat(lesson: Lesson, dice: Random) -> Lesson:
    spot = some_spot(lesson, dice)
    beat = gestures.beat_span(lesson, spot.section, spot.bar, spot.onset, (spot.part,))
    return gestures.repeat_span(lesson, beat)


# Bars


@other_edit
def insert_bars(lesson: Lesson, dice: Random) -> Lesson:
    section, bar = some_bar(lesson, dice)
    return bars.insert(lesson, section, bar + dice.randint(0, 1), dice.randint(1, 3))


@other_edit
def delete_bars(lesson: Lesson, dice: Random) -> Lesson:
    section, start, count = some_bars(lesson, dice)
    return bars.delete(lesson, section, start, min(count, 3))


@other_edit
def set_bar_count(lesson: Lesson, dice: Random) -> Lesson:
    section = some_section(lesson, dice)
    count = len(lesson.sections[section].bars) + dice.randint(-3, 2)
    return bars.set_count(lesson, section, count)


@other_edit
def duplicate_bars(lesson: Lesson, dice: Random) -> Lesson:
    section, start, count = some_bars(lesson, dice)
    if len(lesson.sections[section].bars) > 20:
        return bars.delete(lesson, section, 0, 15)
    return bars.duplicate(lesson, section, start, count, dice.randint(1, 2))


@other_edit
def set_bar_heads(lesson: Lesson, dice: Random) -> Lesson:
    section, start, count = some_bars(lesson, dice)
    fields = dice.choice([
        {"simile": True}, {"join_rests": True}, {"break_after": "page"}, {"grouping": (2, 2)},
        {"pauses": (Pause(QUARTER, PauseKind.BREAK, 1.0), Pause(0, PauseKind.FERMATA, 2.0))},
        {"steps": (3, 3, 3, 3)}, {"simile": False},
    ])  # fmt: skip
    return bars.set_head(lesson, section, start, count, **fields)


@other_edit
def set_steps(lesson: Lesson, dice: Random) -> Lesson:
    section, start, count = some_bars(lesson, dice)
    beat = dice.choice([None, 0, 1])
    return bars.set_steps(lesson, section, start, dice.choice([1, 3, 4, 5]), beat=beat, count=count)


@other_edit
def set_meter(lesson: Lesson, dice: Random) -> Lesson:
    section, start, count = some_bars(lesson, dice)
    overflow = dice.choice(["refuse", "cut", "reflow"])
    return meters.set_meter(lesson, section, start, count, dice.choice(METERS), overflow)


@other_edit
def set_pickup(lesson: Lesson, dice: Random) -> Lesson:
    section, bar = some_bar(lesson, dice)
    ticks = dice.choice([None, QUARTER, 2 * QUARTER, 3 * QUARTER])
    return meters.set_pickup(lesson, section, bar, ticks, dice.choice(["refuse", "cut"]))


@other_edit
def set_repeat(lesson: Lesson, dice: Random) -> Lesson:
    section, start, count = some_bars(lesson, dice)
    return repeats.set_repeat(lesson, section, start, count, dice.randint(1, 3))


@other_edit
def clear_repeat(lesson: Lesson, dice: Random) -> Lesson:
    return repeats.clear_repeat(lesson, *some_bar(lesson, dice))


@other_edit
def set_passes(lesson: Lesson, dice: Random) -> Lesson:
    section, bar = some_bar(lesson, dice)
    return repeats.set_passes(lesson, section, bar, 1, dice.choice([(), (1,), (2, 1), (2,)]))


# Sections


@other_edit
def add_section(lesson: Lesson, dice: Random) -> Lesson:
    if len(lesson.sections) > 5:
        return sections.delete(lesson, 0)
    return sections.add(lesson, some_section(lesson, dice), bars=dice.randint(1, 3))


@other_edit
def duplicate_section(lesson: Lesson, dice: Random) -> Lesson:
    if len(lesson.sections) > 5:
        return sections.delete(lesson, some_section(lesson, dice))
    return sections.duplicate(lesson, some_section(lesson, dice))


@other_edit
def delete_section(lesson: Lesson, dice: Random) -> Lesson:
    return sections.delete(lesson, some_section(lesson, dice))


@other_edit
def reorder_sections(lesson: Lesson, dice: Random) -> Lesson:
    return sections.reorder(lesson, some_section(lesson, dice), some_section(lesson, dice))


@other_edit
def split_section(lesson: Lesson, dice: Random) -> Lesson:
    return sections.split(lesson, *some_bar(lesson, dice))


@other_edit
def join_sections(lesson: Lesson, dice: Random) -> Lesson:
    return sections.join(lesson, some_section(lesson, dice), keep_first=dice.random() < 0.7)


@other_edit
def set_section_head(lesson: Lesson, dice: Random) -> Lesson:
    fields = dice.choice([
        {"times": 2}, {"times": 1}, {"name": "Verse"}, {"letter": dice.choice("ABCXYZ")},
        {"tempo": Tempo(80.0, end=120.0, shape=TempoShape.OVER_TIME)}, {"tempo": Tempo(5.0)},
        {"key": Key("Eb", Mode.LYDIAN)}, {"key": None}, {"pause_s": 2.0}, {"difficulty": 9},
    ])  # fmt: skip
    return sections.set_head(lesson, some_section(lesson, dice), **fields)


# Parts


@other_edit
def add_part(lesson: Lesson, dice: Random) -> Lesson:
    if len(lesson.parts) > 3:
        return parts.remove(lesson, 0)
    name = dice.choice(["Low", "High", "Third"])
    return parts.add(lesson, name, dice.choice(SETUPS), dice.randint(0, len(lesson.parts)))


@other_edit
def copy_part(lesson: Lesson, dice: Random) -> Lesson:
    if len(lesson.parts) > 3:
        return parts.remove(lesson, some_part(lesson, dice))
    setup = dice.choice([None, None, *SETUPS])
    return parts.copy_from(lesson, some_part(lesson, dice), setup=setup)


@other_edit
def arrange_part(lesson: Lesson, dice: Random) -> Lesson:
    part, setup = some_part(lesson, dice), dice.choice(SETUPS)
    notes = same_pitch(lesson, part, setup).notes
    if len(lesson.parts) > 3 or dice.random() < 0.5:
        return parts.arrange(lesson, part, setup, notes)
    return parts.add_arranged(lesson, part, setup, notes)


@other_edit
def remove_part(lesson: Lesson, dice: Random) -> Lesson:
    return parts.remove(lesson, some_part(lesson, dice))


@other_edit
def reorder_parts(lesson: Lesson, dice: Random) -> Lesson:
    return parts.reorder(lesson, some_part(lesson, dice), some_part(lesson, dice))


@other_edit
def rename_part(lesson: Lesson, dice: Random) -> Lesson:
    return parts.rename(lesson, some_part(lesson, dice), dice.choice(["Low", "High", ""]))


@other_edit
def set_part_texts(lesson: Lesson, dice: Random) -> Lesson:
    lesson = parts.set_tone(lesson, some_part(lesson, dice), dice.choice(["", "neck pickup"]))
    return parts.set_voice(lesson, some_part(lesson, dice), Voice(dice.choice(list(Drive))))


@other_edit
def set_setup(lesson: Lesson, dice: Random) -> Lesson:
    part, setup = some_part(lesson, dice), dice.choice(SETUPS)
    return parts.set_setup(lesson, part, setup, drop=dice.random() < 0.5)


@other_edit
def retune(lesson: Lesson, dice: Random) -> Lesson:
    setup = dice.choice([None, *SETUPS])
    return parts.retune(lesson, some_section(lesson, dice), some_part(lesson, dice), setup)


# Cues and texts


def some_cue(lesson: Lesson, dice: Random) -> str:
    found = [cue.id for section in lesson.sections for cue in section.head.cues]
    return dice.choice(found or ["none"])


def some_place(lesson: Lesson, dice: Random) -> tuple[int, Place]:
    moment = some_moment(lesson, dice)
    return moment.section, Place(moment.bar, moment.tick)


@other_edit
def add_cue(lesson: Lesson, dice: Random) -> Lesson:
    section, start = some_place(lesson, dice)
    end = dice.choice([None, some_place(lesson, dice)[1]])
    part = dice.choice([None, "p1"])
    return cues.add(lesson, section, "on", dice.choice(list(CueKind)), start, end, part=part)


@other_edit
def change_cue(lesson: Lesson, dice: Random) -> Lesson:
    fields = dice.choice([{"label": "off"}, {"label": ""}, {"kind": CueKind.DELAY}, {"end": None}])
    return cues.change(lesson, some_cue(lesson, dice), **fields)


@other_edit
def move_cue(lesson: Lesson, dice: Random) -> Lesson:
    section, start = some_place(lesson, dice)
    return cues.move(lesson, some_cue(lesson, dice), start, dice.choice([None, section]))


@other_edit
def remove_cue(lesson: Lesson, dice: Random) -> Lesson:
    return cues.remove(lesson, some_cue(lesson, dice))


@other_edit
def set_lesson_head(lesson: Lesson, dice: Random) -> Lesson:
    fields = dice.choice([
        {"title": "Slate"}, {"title": ""}, {"language": "german"}, {"simple_names": True},
        {"order": (Performed("s1", 2, 3.0), Performed("s2"))}, {"order": ()},
    ])  # fmt: skip
    return texts.set_head(lesson, **fields)
