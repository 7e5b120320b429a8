"""Random sound lessons for property tests: every field is drawn, every rule is kept.

``lessons()`` is what most properties want. Where an edit or a file must also stand what is legal
but surely not meant (overlapping notes, ties from nothing), ``lessons(tidy=False)`` has those too.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits.marks import with_mark
from chalkfret.model import (
    QUARTER,
    ArtificialHarmonic,
    Bar,
    BarHead,
    Bars,
    BeatUnit,
    Bend,
    BendPoint,
    Capo,
    Course,
    Cue,
    CueKind,
    Drive,
    Finger,
    FingerName,
    GuitarString,
    HandShape,
    Key,
    Lesson,
    LessonHead,
    Mark,
    Meter,
    Mode,
    NaturalHarmonic,
    Note,
    NoteNaming,
    Notes,
    Paper,
    Part,
    Pause,
    PauseKind,
    Performed,
    Place,
    Retune,
    Section,
    SectionHead,
    SectionShow,
    Setting,
    Setup,
    SheetOptions,
    Sign,
    Slide,
    SlideWay,
    StudentSetup,
    Swing,
    SwingUnit,
    TalkingPoint,
    Tempo,
    TempoShape,
    Tremolo,
    Trill,
    Vibrato,
    Voice,
    Winding,
    in_order,
    validate,
)
from chalkfret.model.meter import beat_lengths

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_WORDS = ("riff", "Größe", "низкий", "低い", "slow & low", 'the "hook"', "drop <C>", "🎸", "a\\b")

words = st.sampled_from(_WORDS) | st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")),
    min_size=1,
    max_size=12,
).filter(str.strip)
lines = st.just("") | words
paragraphs = st.just("") | st.lists(words, max_size=3).map("\n".join)
note_names = st.sampled_from([n + a for n in "CDEFGAB" for a in ("", "#", "b")] + ["F##", "Bbb"])


def _or_none(strategy: st.SearchStrategy) -> st.SearchStrategy:
    return st.none() | strategy


# Time

DENSITIES = (1, 2, 3, 4, 5, 6, 7, 8)  # equal parts of a beat: tuplets where the beat allows them
meters = st.builds(
    Meter, st.sampled_from([2, 3, 4, 5, 6, 7, 9, 11, 12, 15]), st.sampled_from([2, 4, 8, 16])
) | st.just(Meter(4, 4))


@st.composite
def groupings(draw: st.DrawFn, meter: Meter) -> tuple[int, ...]:
    """Nothing, or groups that add up to the meter's count."""
    if draw(st.booleans()):
        return ()
    groups, left = [], meter.count
    while left:
        group = draw(st.integers(1, min(4, left)))
        groups.append(group)
        left -= group
    return tuple(groups)


@st.composite
def bar_heads(draw: st.DrawFn, meter: Meter | None = None, *, pickup: bool = False) -> BarHead:
    """A bar's head without repeat signs or passes."""
    meter = draw(meters) if meter is None else meter
    grouping = draw(groupings(meter))
    short = draw(st.integers(1, meter.count)) * meter.unit_ticks if pickup else None
    short = None if short == meter.ticks else short
    ticks = meter.ticks if short is None else short
    beats = beat_lengths(meter, grouping, short)
    pauses = draw(st.lists(st.builds(
        Pause,
        st.integers(0, 4).map(lambda quarter: quarter * ticks // 4),
        st.sampled_from(PauseKind),
        st.floats(0, 20),
    ), max_size=1)) if draw(st.integers(0, 4)) == 0 else []  # fmt: skip
    steps: tuple[int, ...] = ()
    if draw(st.integers(0, 3)) == 0:
        steps = tuple(
            draw(st.sampled_from([n for n in DENSITIES if beat % n == 0])) for beat in beats
        )
    return BarHead(
        meter=meter,
        grouping=grouping,
        pickup=short,
        steps=steps,
        pauses=tuple(pauses),
        simile=draw(st.integers(0, 9)) == 0,
        join_rests=draw(st.integers(0, 9)) == 0,
        break_after=draw(st.sampled_from([None] * 8 + ["system", "page"])),
    )


@st.composite
def repeated(draw: st.DrawFn, heads: list[BarHead]) -> list[BarHead]:
    """The heads with repeats that do not overlap, and endings behind or inside them."""
    at = 0
    while at < len(heads) and draw(st.booleans()):
        first = draw(st.integers(at, len(heads) - 1))
        last = draw(st.integers(first, len(heads) - 1))
        times = draw(st.integers(2, 3))
        if at or first or draw(st.booleans()):
            heads[first] = replace(heads[first], repeat_open=True)
        heads[last] = replace(heads[last], repeat_close=times)
        at = last + 1
        if last > first and at < len(heads) and draw(st.booleans()):
            heads[last] = replace(heads[last], passes=tuple(range(1, times)))
            heads[at] = replace(heads[at], passes=(times,))
            at += 1
    return heads


# Notes

bends = st.lists(
    st.tuples(st.integers(0, 8).map(lambda n: n * QUARTER // 8), st.sampled_from(
        [-100, 0, 50, 100, 150, 200, 300, 400])),
    min_size=1, max_size=4,
).map(lambda points: Bend(tuple(BendPoint(*p) for p in sorted(points))))  # fmt: skip

marks: st.SearchStrategy[Mark] = st.one_of(
    st.sampled_from([sign for sign in Sign if sign is not Sign.TIE]),
    st.builds(Slide, st.sampled_from(SlideWay)),
    bends,
    st.builds(Vibrato, st.booleans()),
    st.builds(NaturalHarmonic, st.sampled_from([12.0, 7.0, 5.0, 3.2, 2.7])),
    st.builds(ArtificialHarmonic, st.sampled_from([12.0, 7.0, 5.0])),
    st.builds(Trill, st.integers(0, 24)),
    st.builds(Tremolo, st.integers(1, 3)),
    st.builds(Finger, st.sampled_from(FingerName)),
)


@st.composite
def mark_sets(draw: st.DrawFn) -> tuple[Mark, ...]:
    """The marks of a note: mostly none, sometimes several that go together."""
    found: tuple[Mark, ...] = ()
    if draw(st.integers(0, 2)) == 0:
        for mark in draw(st.lists(marks, min_size=1, max_size=3)):
            found = with_mark(found, mark)
    return found


frets = st.integers(0, 12) | st.integers(0, 36)


@st.composite
def notes_in(
    draw: st.DrawFn, head: BarHead, courses: int, *, tidy: bool = True, most: int = 6
) -> Notes:
    """Notes of a bar: on the beats' equal parts, tidy ones not overlapping on a string."""
    slots = []
    for start, beat in zip(head.beat_starts, head.beats, strict=True):
        parts = draw(st.sampled_from([n for n in DENSITIES if beat % n == 0]))
        slots += [start + beat // parts * k for k in range(parts)]
    cells = draw(st.lists(
        st.tuples(st.integers(0, len(slots) - 1), st.integers(1, courses)), max_size=most,
        unique=True,
    ))  # fmt: skip
    edges = [*slots, head.ticks]
    notes = []
    for slot, course in sorted(cells):
        later = [s for s, c in cells if c == course and s > slot]
        stop = min(later, default=len(slots)) if tidy else len(slots)
        end = draw(st.integers(slot + 1, stop))
        spelling = draw(note_names) if draw(st.integers(0, 9)) == 0 else None
        notes.append(Note(
            edges[slot], edges[end] - edges[slot], course, draw(frets),
            voice=int(draw(st.integers(0, 4)) == 0), spelling=spelling, marks=draw(mark_sets()),
        ))  # fmt: skip
    if not tidy and notes and draw(st.booleans()):
        notes[0] = replace(notes[0], marks=in_order((Sign.TIE, *notes[0].marks)))
    return tuple(sorted(notes, key=lambda note: (note.onset, note.course)))


def tied_over(before: Bar, bar: Bar, part: int) -> Bar:
    """The bar with its first notes tied from the bar before, where those end at the bar line."""
    ending = {n.course: n for n in before.notes[part] if n.end == before.head.ticks}
    notes = tuple(
        replace(n, fret=ending[n.course].fret, marks=with_mark(n.marks, Sign.TIE))
        if n.onset == 0 and n.course in ending
        else n
        for n in bar.notes[part]
    )
    return replace(bar, notes=(*bar.notes[:part], notes, *bar.notes[part + 1 :]))


# Setups and parts


def _some_strings(count: int) -> list[GuitarString]:
    """Strings of all kinds; made once, since drawing their fields takes most of a test."""
    dice = Random(1)
    found = []
    for number in range(count):
        fancy = number % 3 == 0
        found.append(GuitarString(
            pitch=dice.choice("CDEFGAB") + dice.choice(["", "", "#", "b"]) + dice.choice("12345"),
            cents=dice.choice([-31.5, 4.0, 12.25]) if fancy else 0.0,
            gauge=dice.choice([None, 0.009, 0.0105, 0.017, 0.026, 0.042, 0.074]),
            winding=dice.choice(list(Winding)),
            core_gauge=dice.choice([None, 0.012]) if fancy else None,
            unit_weight=dice.choice([None, 0.00014, 0.0021]) if fancy else None,
            scale_mm=dice.choice([None, 628.65, 711.2]) if fancy else None,
            first_fret=dice.choice([0, 5]) if fancy else 0,
        ))  # fmt: skip
    return found


guitar_strings = st.sampled_from(_some_strings(60))


@st.composite
def setups(draw: st.DrawFn, courses: int | None = None) -> Setup:
    """A setup of 3 to 8 courses (or so many), some of them of two strings, maybe with a capo."""
    count = draw(st.sampled_from([6, 6, 7, 8, 4, 3, 5, 12])) if courses is None else courses
    double = draw(st.booleans())
    capo = None
    if draw(st.integers(0, 3)) == 0:
        covered = draw(st.lists(st.integers(1, count), unique=True, max_size=count))
        capo = Capo(draw(st.integers(1, 7)), tuple(sorted(covered)))
    return Setup(
        name=draw(lines),
        courses=tuple(
            Course(tuple(draw(guitar_strings) for _ in range(1 + (double and number > 2))))
            for number in range(1, count + 1)
        ),
        scale_mm=draw(st.sampled_from([628.65, 647.7, 673.1, 762.0])),
        fret_count=draw(st.integers(12, 27)),
        capo=capo,
        a4=draw(st.sampled_from([440.0, 432.0, 415.0, 443.5])),
        nut_height_mm=draw(_or_none(st.floats(0.1, 3))),
        saddle_height_mm=draw(_or_none(st.floats(0.1, 15))),
    )


voices = st.builds(
    Voice,
    drive=st.sampled_from(Drive),
    tone_hz=st.floats(200, 20_000),
    cabinet=st.booleans(),
    level_db=st.floats(-60, 6),
    pan=st.floats(-1, 1),
    program=st.integers(0, 127),
)


@st.composite
def part_lists(draw: st.DrawFn, most: int = 3) -> tuple[Part, ...]:
    """One part or several, with ids and names of their own."""
    names = draw(st.lists(words, min_size=1, max_size=most, unique=True))
    return tuple(
        Part(f"p{number}", name, draw(setups()), draw(paragraphs), draw(voices))
        for number, name in enumerate(names, 1)
    )


# Sections

tempos = st.builds(
    Tempo,
    start=st.floats(10, 400),
    unit=st.sampled_from(BeatUnit),
    end=_or_none(st.floats(10, 400)),
    shape=st.sampled_from(TempoShape),
)
swings = st.builds(Swing, st.sampled_from(SwingUnit), st.floats(1, 4))
_DEGREES = ("1", "b2", "2", "b3", "3", "4", "#4", "5", "b6", "6", "b7", "7")
keys = st.one_of(
    st.builds(Key, note_names),
    st.builds(Key, note_names, st.sampled_from(Mode)),
    st.builds(
        Key,
        note_names,
        degrees=st.lists(st.sampled_from(_DEGREES), unique=True, min_size=1, max_size=8).map(
            lambda found: tuple(sorted(found, key=_DEGREES.index))
        ),
    ),
)
shows = st.builds(SectionShow, *([st.booleans()] * 7))


@st.composite
def cues_in(draw: st.DrawFn, bars: Sequence[Bar], parts: tuple[Part, ...], first: int) -> list[Cue]:
    """Cues that start and end in these bars; ids count from ``first``."""
    cues = []
    for number in range(first, first + draw(st.integers(0, 2))):
        places = sorted(
            Place(bar, draw(st.integers(0, 4)) * bars[bar].head.ticks // 4)
            for bar in (draw(st.integers(0, len(bars) - 1)), draw(st.integers(0, len(bars) - 1)))
        )
        settings = draw(st.lists(st.builds(Setting, words, st.floats(-10, 10)), max_size=2))
        cues.append(Cue(
            f"c{number}", draw(words), draw(st.sampled_from(CueKind)), places[0],
            places[1] if draw(st.booleans()) else None,
            draw(_or_none(st.sampled_from([part.id for part in parts]))), tuple(settings),
        ))  # fmt: skip
    return cues


@st.composite
def sections(
    draw: st.DrawFn,
    parts: tuple[Part, ...],
    number: int = 0,
    *,
    most_bars: int = 5,
    tidy: bool = True,
) -> Section:
    """The section with this number: its letter, id and cue ids follow from it."""
    count = draw(st.integers(1, most_bars))
    meter = draw(meters)
    heads = [
        draw(bar_heads(
            meter if draw(st.integers(0, 3)) else None,
            pickup=index == 0 and draw(st.integers(0, 3)) == 0,
        ))
        for index in range(count)
    ]  # fmt: skip
    heads = draw(repeated(heads))
    bars: list[Bar] = []
    for head in heads:
        rows = [draw(notes_in(head, len(p.setup.courses), tidy=tidy)) for p in parts]
        bar = Bar(head, tuple(rows))
        if bars and draw(st.booleans()):
            bar = tied_over(bars[-1], bar, draw(st.integers(0, len(parts) - 1)))
        bars.append(bar)
    retuned = [part for part in parts if draw(st.integers(0, 7)) == 0]
    head = SectionHead(
        letter=LETTERS[number],
        name=draw(lines),
        tempo=draw(tempos),
        swing=draw(_or_none(swings)),
        key=draw(_or_none(keys)),
        shape_key=draw(_or_none(note_names)),
        times=draw(st.sampled_from([1, 1, 1, 2, 4])),
        pause_s=draw(st.sampled_from([0.0, 0.0, 1.5])),
        difficulty=draw(_or_none(st.integers(1, 5))),
        notes=draw(paragraphs),
        cues=tuple(draw(cues_in(bars, parts, 10 * number + 1))),
        retunes=tuple(Retune(p.id, draw(setups(len(p.setup.courses)))) for p in retuned),
        show=draw(shows),
    )
    return Section(f"s{number + 1}", head, Bars.of(bars))


# Lessons


@st.composite
def lesson_heads(draw: st.DrawFn, section_ids: Sequence[str]) -> LessonHead:
    """What is said of a lesson of these sections."""
    some_id = st.sampled_from(list(section_ids))
    return LessonHead(
        title=draw(lines),
        subtitle=draw(lines),
        credit=draw(lines),
        supporter_line=draw(lines),
        licence=draw(lines),
        language=draw(st.sampled_from(["en", "de", "es", "pt-BR"])),
        note_naming=draw(st.sampled_from(NoteNaming)),
        simple_names=draw(st.booleans()),
        sheet=draw(st.builds(
            SheetOptions, st.sampled_from(Paper), st.booleans(), st.booleans(), st.booleans()
        )),
        video_offset_s=draw(st.floats(0, 100)),
        order=tuple(draw(st.lists(
            st.builds(Performed, some_id, st.integers(1, 4), st.floats(0, 60)), max_size=3
        ))),
        talking_points=tuple(draw(st.lists(
            st.builds(TalkingPoint, words, st.just("en"), paragraphs, lines, _or_none(some_id)),
            max_size=2,
        ))),
        students=tuple(draw(st.lists(st.builds(StudentSetup, words, setups(6)), max_size=1))),
        hand_shapes=tuple(draw(st.lists(st.builds(
            HandShape, words, st.lists(_or_none(st.integers(0, 24)), max_size=8).map(tuple),
            st.lists(_or_none(st.sampled_from(FingerName)), max_size=8).map(tuple),
        ), max_size=1))),
    )  # fmt: skip


@st.composite
def lessons(
    draw: st.DrawFn,
    *,
    most_parts: int = 3,
    most_sections: int = 3,
    most_bars: int = 5,
    tidy: bool = True,
) -> Lesson:
    """A lesson that ``model.validate`` finds sound."""
    parts = draw(part_lists(most_parts))
    count = draw(st.integers(1, most_sections))
    found = tuple(
        draw(sections(parts, number, most_bars=most_bars, tidy=tidy)) for number in range(count)
    )
    lesson = Lesson(draw(lesson_heads([section.id for section in found])), parts, found)
    assert validate(lesson) == ()
    return lesson
