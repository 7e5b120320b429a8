"""Edits of a selection: copy, cut, paste, clear and shift.

Conventions
-----------
- A span takes the sounds that are *struck* in it, whole, with the ties that go on beyond its end.
- Clearing a span silences it: what was struck before and sounds into it ends where it begins.
- A paste lands on the strings that the clip was taken from, moved by ``courses``, and replaces
  what is there on the strings that the clip covers. Nothing is applied by halves: what does not
  fit is refused with its place.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Sequence

from msgspec.structs import replace

from chalkfret.edits.bars import append_empty
from chalkfret.edits.beat_cuts import beats_of, with_cuts
from chalkfret.edits.clip import Clip, ClipNote, ClipPart, is_sound
from chalkfret.edits.draft import Draft
from chalkfret.edits.faults import refuse
from chalkfret.edits.notes import check_fret, refretted, same_pitch
from chalkfret.edits.place import (
    Moment,
    Ruler,
    Span,
    Spot,
    Stretch,
    check_span,
    check_spot,
    stretches,
    where_of,
)
from chalkfret.edits.sounds import Phrase, lay_phrase, phrase, run
from chalkfret.edits.whole_bars import begins_tied, easy_bars
from chalkfret.model import Lesson, Note, Notes, Sign, Where


def bars_span(
    lesson: Lesson, section: int, bar: int, count: int = 1, parts: tuple[int, ...] = ()
) -> Span:
    """The span of whole bars, of all parts where none are named."""
    parts = parts or tuple(range(len(lesson.parts)))
    return Span(Moment(section, bar, 0), Moment(section, bar + count, 0), parts)


def is_empty(lesson: Lesson, span: Span) -> bool:
    """Whether no note starts in the span."""
    check_span(lesson, span)
    return next(struck(lesson, span), None) is None


def span_ticks(lesson: Lesson, span: Span) -> int:
    """How long a span is in written time."""
    check_span(lesson, span)
    return sum(stretch.stop - stretch.start for stretch in stretches(lesson, span))


def change_notes(lesson: Lesson, span: Span, change: Callable[[Note], Note]) -> Lesson:
    """Every note that starts in a span replaced by one of the same onset and course."""
    check_span(lesson, span)
    draft = Draft(lesson)
    for stretch in stretches(lesson, span):
        for part in span.parts:
            notes = draft.notes(stretch.section, stretch.bar, part)
            draft.put(stretch.section, stretch.bar, part, tuple(
                change(n) if stretch.start <= n.onset < stretch.stop and span.takes(n.course) else n
                for n in notes
            ))  # fmt: skip
    return draft.done()


# Clipboard


def copy(lesson: Lesson, span: Span) -> Clip:
    """The selected music as a clip."""
    length = span_ticks(lesson, span)
    notes: dict[int, list[ClipNote]] = {part: [] for part in span.parts}
    for part, stretch, sound in sounds(lesson, span):
        attack = stretch.base + sound[0][1].onset
        notes[part] += [ClipNote(attack + at, replace(note, onset=0)) for at, note in sound]
    for taken in notes.values():
        taken.sort(key=lambda placed: (placed.at, placed.note.course))
    parts = tuple(ClipPart(span.courses, tuple(notes[part])) for part in span.parts)
    return Clip(length, parts, beats_of(lesson, span))


def clear_span(lesson: Lesson, span: Span) -> Lesson:
    """Silence a span."""
    check_span(lesson, span)
    draft = Draft(lesson)
    _clear(draft, span)
    return draft.done()


def cut(lesson: Lesson, span: Span) -> tuple[Lesson, Clip]:
    """The lesson with the span silent, and the clip of what was there."""
    return clear_span(lesson, span), copy(lesson, span)


def paste(
    lesson: Lesson,
    spot: Spot,
    clip: Clip,
    times: int = 1,
    frets: int = 0,
    courses: int = 0,
    *,
    grow: bool = False,
) -> Lesson:
    """Write a clip at the spot's section, bar, part and onset, so many times one after another.

    The clip's first part lands on the spot's part, the next on the next. ``frets`` and ``courses``
    shift it. Whole beats are cut as they were where they come from. Where it runs over the
    section's end it is refused, or with ``grow`` the section gets the bars it needs.
    """
    check_spot(lesson, replace(spot, course=1))
    if times < 1 or not is_sound(clip):
        raise refuse("clip_unsound")
    if spot.part + len(clip.parts) > len(lesson.parts):
        raise refuse("clip_parts", have=len(lesson.parts) - spot.part, need=len(clip.parts))
    length = times * clip.length
    ruler = Ruler(lesson.sections[spot.section].bars, spot.bar)
    missing = ruler.missing(spot.onset + length)
    if missing and not grow:
        raise refuse("beyond_section", _end_of(lesson, spot.section), ticks=missing)
    if missing:
        lesson = append_empty(lesson, spot.section, missing)
        ruler = Ruler(lesson.sections[spot.section].bars, spot.bar)
    draft = Draft(lesson)
    for part, taken in enumerate(clip.parts, spot.part):
        notes = [_shifted(lesson, replace(spot, part=part), ruler, n, frets, courses)
                 for n in taken.notes]  # fmt: skip
        covered = tuple(course + courses for course in taken.courses)
        landing = _landing(lesson, replace(spot, part=part), ruler, length, covered)
        easy: dict[int, Notes] = {}
        rest: Sequence[ClipNote] = notes
        if times == 1 and not covered:
            easy, rest = easy_bars(lesson, landing, notes)
        _clear(draft, landing, () if begins_tied(lesson, part) else easy)
        for bar, inside in easy.items():
            draft.put(spot.section, bar, part, inside)
        for time in range(times):
            start = spot.onset + time * clip.length
            for at, sound in _grouped(rest):
                lay_phrase(draft, spot.section, part, ruler, start + at, sound)
    return with_cuts(draft.done(), spot, clip, times)


def _shifted(
    lesson: Lesson, spot: Spot, ruler: Ruler, placed: ClipNote, frets: int, courses: int
) -> ClipNote:
    """A clip's note on the frets and courses where it lands, or CannotEdit with the place."""
    if not frets and not courses and placed.note.course <= len(
        lesson.parts[spot.part].setup.courses
    ):  # fmt: skip
        return placed
    place = ruler.place(spot.onset + placed.at)
    bar, tick = place or (spot.bar, spot.onset)
    note = placed.note
    course, fret = note.course + courses, note.fret + frets
    check_landing(lesson, Spot(spot.section, bar, spot.part, tick, course), fret)
    return ClipNote(placed.at, replace(note, course=course, fret=fret))


def check_landing(lesson: Lesson, spot: Spot, fret: int) -> None:
    """Raise CannotEdit where a shifted note would leave the strings or the neck."""
    most = len(lesson.parts[spot.part].setup.courses)
    if not 1 <= spot.course <= most:
        where = where_of(lesson, spot)
        raise refuse("course_beyond_setup", where, course=spot.course, courses=most)
    check_fret(lesson, spot, fret)


def _landing(
    lesson: Lesson, spot: Spot, ruler: Ruler, length: int, courses: tuple[int, ...]
) -> Span:
    """The span over which a paste of so many ticks falls, on one part."""
    end = ruler.place(spot.onset + length) or (len(lesson.sections[spot.section].bars), 0)
    start = Moment(spot.section, spot.bar, spot.onset)
    return Span(start, Moment(spot.section, *end), (spot.part,), courses)


def _grouped(notes: Sequence[ClipNote]) -> list[tuple[int, Phrase]]:
    """The sounds of a clip: where each is struck, and its notes by their offset from there."""
    found: list[tuple[int, Phrase]] = []
    last: dict[int, tuple[int, int]] = {}  # course -> its last sound's index and end
    for placed in notes:
        at, note = placed.at, placed.note
        index, end = last.get(note.course, (-1, -1))
        if end == at and note.has(Sign.TIE) and found[index][1][-1][1].fret == note.fret:
            found[index][1].append((at - found[index][0], note))
        else:
            index = len(found)
            found.append((at, [(0, note)]))
        last[note.course] = index, at + note.length
    return found


# Moving what is there


def shift(
    lesson: Lesson,
    span: Span,
    frets: int = 0,
    courses: int = 0,
    ticks: int = 0,
    *,
    keep_pitch: bool = False,
) -> Lesson:
    """Move the sounds struck in a span along the neck, across the strings or in time.

    With ``keep_pitch`` each finds the fret of its pitch on the other string, plus ``frets``. Moved
    notes write over what they meet: what sounded there ends, and they end at the next note.
    """
    check_span(lesson, span)
    if not (courses or ticks):
        return _shift_frets(lesson, span, frets) if frets else lesson
    rulers: dict[int, Ruler] = {}
    moved: list[tuple[int, int, int, Phrase]] = []  # section, part, tick in it, notes
    draft = Draft(lesson)
    for part, stretch, sound in sounds(lesson, span):
        section, bar, note = stretch.section, stretch.bar, sound[0][1]
        ruler = rulers.setdefault(section, Ruler(lesson.sections[section].bars, 0))
        at = ruler.tick_of(bar) + note.onset + ticks
        where = Where(lesson.sections[section].head.letter, bar + 1, lesson.parts[part].name)
        if at < 0:
            raise refuse("before_section", where, ticks=-at)
        place = ruler.place(at)
        if place is None:
            raise refuse("beyond_section", where, ticks=ruler.missing(at + 1))
        spot = Spot(section, place[0], part, place[1], note.course + courses)
        check_landing(lesson, spot, note.fret)
        fret = note.fret + frets
        if keep_pitch:
            here = Spot(section, bar, part, note.onset, note.course)
            fret = same_pitch(lesson, here, spot, note.fret) + frets
        check_landing(lesson, spot, fret)
        moved.append((section, part, at, [
            (offset, refretted(replace(n, course=n.course + courses), n.fret + fret - note.fret))
            for offset, n in sound
        ]))  # fmt: skip
        draft.silence(section, bar, part, note.onset, note.course)
    for section, part, at, notes in moved:
        lay_phrase(draft, section, part, rulers[section], at, notes)
    return draft.done()


def _shift_frets(lesson: Lesson, span: Span, frets: int) -> Lesson:
    draft = Draft(lesson)
    done: set[tuple[int, int, int, int, int]] = set()
    for part, stretch, note in struck(lesson, span):
        spot = Spot(stretch.section, stretch.bar, part, note.onset, note.course)
        check_landing(lesson, spot, note.fret + frets)
        for s, b, piece in draft.sound(stretch.section, stretch.bar, part, note):
            key = (part, s, b, piece.onset, piece.course)
            if key not in done:
                done.add(key)
                draft.swap(s, b, part, piece, refretted(piece, piece.fret + frets))
    return draft.done()


# What a span holds


def struck(lesson: Lesson, span: Span) -> Iterator[tuple[int, Stretch, Note]]:
    """Part, bar and note of all notes that start in a span; by part, then in order of time."""
    for part in span.parts:
        for stretch in stretches(lesson, span):
            for note in lesson.sections[stretch.section].bars[stretch.bar].notes[part]:
                if stretch.start <= note.onset < stretch.stop and span.takes(note.course):
                    yield part, stretch, note


def sounds(lesson: Lesson, span: Span) -> Iterator[tuple[int, Stretch, Phrase]]:
    """Part, bar and phrase of all sounds struck in a span."""
    draft = Draft(lesson)
    taken: set[tuple[int, int, int, int, int]] = set()
    for part, stretch, note in struck(lesson, span):
        section, bar = stretch.section, stretch.bar
        if (part, section, bar, note.onset, note.course) in taken:
            continue
        pieces = run(draft, section, bar, part, note)
        taken |= {(part, s, b, piece.onset, piece.course) for s, b, piece in pieces}
        yield part, stretch, phrase(pieces)


def _clear(draft: Draft, span: Span, easy: Container[int] = ()) -> None:
    """Silence a span, but for the bars that will be written as a whole."""
    for stretch in stretches(draft.lesson, span):
        section, bar = stretch.section, stretch.bar
        if bar in easy:
            continue
        for part in span.parts:
            for note in draft.notes(section, bar, part):
                if note.onset >= stretch.stop:
                    break
                if note.end > stretch.start and span.takes(note.course):
                    from_here = max(note.onset, stretch.start)
                    draft.silence(section, bar, part, from_here, note.course)


def _end_of(lesson: Lesson, section: int) -> Where:
    found = lesson.sections[section]
    return Where(found.head.letter, len(found.bars))
