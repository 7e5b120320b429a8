"""Edits of one note: write it, take it away, make it longer, move it.

Conventions
-----------
- A *sound* is a note with the tied notes that go on from it; its *attack* is where it is struck.
- A string carries one sound at a time: a new note ends what sounded there, and a longer one ends
  at the next note on its string. Over a bar line a sound goes on as a tied note.
- Each function returns a new lesson, the very same one where nothing changes, and raises
  ``CannotEdit`` where the place or the figure is impossible.
"""

from __future__ import annotations

from msgspec.structs import replace

from chalkfret.edits.draft import Draft
from chalkfret.edits.faults import refuse
from chalkfret.edits.place import Ruler, Spot, check_spot, where_of
from chalkfret.edits.sounds import lay_phrase, phrase, run
from chalkfret.edits.values import checked
from chalkfret.model import Bars, Lesson, Note, Setup, Sign, Trill, in_order, setup_in
from chalkfret.model.limits import FRET_MAX
from chalkfret.theory.sounding import fretted_pitch, open_pitch

# Looking


def note_at(lesson: Lesson, spot: Spot) -> Note | None:
    """The note that starts at the spot, or None."""
    return Draft(lesson).at(spot.section, spot.bar, spot.part, spot.onset, spot.course)


def sounding_at(lesson: Lesson, spot: Spot) -> Spot | None:
    """Where the note that sounds at the spot starts in this bar: the spot itself or before it."""
    for note in lesson.sections[spot.section].bars[spot.bar].notes[spot.part]:
        if note.course == spot.course and note.onset <= spot.onset < note.end:
            return replace(spot, onset=note.onset)
    return None


def attack_of(lesson: Lesson, spot: Spot) -> Spot | None:
    """Where what sounds at the spot was struck: before the ties, maybe bars earlier."""
    here = sounding_at(lesson, spot)
    while here is not None:
        note = note_at(lesson, here)
        if note is None or not note.has(Sign.TIE):
            break
        before = _held_by(lesson, here, note)
        if before is None:
            break
        here = before
    return here


def _held_by(lesson: Lesson, spot: Spot, tied: Note) -> Spot | None:
    """The note in this bar or the one before, in the section, that a tied note goes on from."""
    bars = lesson.sections[spot.section].bars
    bar, end = spot.bar, tied.onset
    if end == 0:
        bar -= 1
        if bar < 0:
            return None
        end = bars[bar].head.ticks
    for note in bars[bar].notes[spot.part]:
        if note.course == tied.course and note.fret == tied.fret and note.end == end:
            return replace(spot, bar=bar, onset=note.onset)
    return None


def sound_length(lesson: Lesson, spot: Spot) -> int:
    """Ticks from the note that starts at the spot to the end of its ties; 0 where none starts."""
    note = note_at(lesson, spot)
    if note is None:
        return 0
    return sum(
        piece.length for _, _, piece in run(Draft(lesson), spot.section, spot.bar, spot.part, note)
    )


# Writing


def set_fret(lesson: Lesson, spot: Spot, fret: int, length: int) -> Lesson:
    """Write a fret. A new note gets ``length`` ticks; one that starts there keeps its own.

    A new note ends what sounded on the string, and stops at the next note or goes on over the bar
    line as a tied one. Changing a note changes the tied ones that go on from it; a tied note that
    gets another fret is struck anew.
    """
    check_spot(lesson, spot)
    check_fret(lesson, spot, fret)
    check_length(lesson, spot, length)
    draft = Draft(lesson)
    section, bar, part = spot.section, spot.bar, spot.part
    note = draft.at(section, bar, part, spot.onset, spot.course)
    if note is None:
        draft.lay(section, bar, part, Note(spot.onset, length, spot.course, fret))
    elif note.fret != fret:
        for s, b, piece in draft.sound(section, bar, part, note):
            draft.swap(s, b, part, piece, replace(piece, fret=fret))
    return draft.done()


def clear(lesson: Lesson, spot: Spot) -> Lesson:
    """Silence the string from the spot on, as far as what sounds there would have gone.

    A note that starts there goes with its ties; one that started before is cut short.
    """
    check_spot(lesson, spot)
    draft = Draft(lesson)
    draft.silence(spot.section, spot.bar, spot.part, spot.onset, spot.course)
    return draft.done()


def set_length(lesson: Lesson, spot: Spot, length: int, *, across: bool = True) -> Lesson:
    """Make the sound of the note that starts at the spot so long, ties included.

    It stops at the next note on its string and at the section's end; with ``across`` it may go on
    over bar lines as tied notes, without it stops at the bar line.
    """
    check_spot(lesson, spot)
    check_length(lesson, spot, length)
    note = note_at(lesson, spot)
    if note is None:
        raise refuse("no_note_here", where_of(lesson, spot))
    draft = Draft(lesson)
    if not across:
        length = min(length, draft.ticks(spot.section, spot.bar) - spot.onset)
    part, left = spot.part, length
    pieces = run(draft, spot.section, spot.bar, part, note)
    for s, b, piece in pieces:
        if left < piece.length:
            draft.silence(s, b, part, piece.onset + left, piece.course)
            return draft.done()
        left -= piece.length
        if not left:
            for s2, b2, follower in draft.followers(s, b, part, piece):
                draft.silence(s2, b2, part, follower.onset, follower.course)
            return draft.done()
    s, b, piece = pieces[-1]
    draft.lay(s, b, part, replace(piece, length=piece.length + left))
    return draft.done()


def stretch(lesson: Lesson, spot: Spot, steps: int) -> Lesson:
    """Let what sounds at the spot end so many steps later (or earlier), wherever it was struck.

    It ends where a step begins or the section ends, on the steps of the beat that it ends in. A
    sound that would vanish stays as it is.
    """
    check_spot(lesson, spot)
    attack = attack_of(lesson, spot)
    if attack is None:
        raise refuse("no_note_here", where_of(lesson, spot))
    bars = lesson.sections[attack.section].bars
    end = attack.onset + sound_length(lesson, attack)
    for _ in range(abs(steps)):
        end = _step_line(bars, attack.bar, end, later=steps > 0)
        if end <= attack.onset:
            return lesson
    return set_length(lesson, attack, end - attack.onset)


def _step_line(bars: Bars, bar: int, ticks: int, *, later: bool) -> int:
    """The next place after (or before) one where a step begins or the section ends.

    Both are ticks from the beginning of a bar; where there is none, the place itself.
    """
    ruler = Ruler(bars, bar)
    # The step that ends at the place is the last one on the way back.
    place = ruler.place(ticks if later else ticks - 1)
    if place is None:
        return ticks
    number, tick = place
    base = ruler.tick_of(number)
    for start, length in bars[number].head.step_spans:
        if start <= tick < start + length:
            return base + start + (length if later else 0)
    return ticks


def move(lesson: Lesson, spot: Spot, to: Spot, *, keep_pitch: bool = False) -> Lesson:
    """Move the sound of the note that starts at the spot, with its ties, to another cell.

    The fret stays, or with ``keep_pitch`` the pitch: the fret is then found on the other string.
    """
    check_spot(lesson, spot)
    check_spot(lesson, to)
    note = note_at(lesson, spot)
    if note is None:
        raise refuse("no_note_here", where_of(lesson, spot))
    if spot == to:
        return lesson
    fret = same_pitch(lesson, spot, to, note.fret) if keep_pitch else note.fret
    draft = Draft(lesson)
    notes = phrase(run(draft, spot.section, spot.bar, spot.part, note))
    draft.silence(spot.section, spot.bar, spot.part, spot.onset, spot.course)
    there = Ruler(lesson.sections[to.section].bars, to.bar)
    moved = [(at, refretted(replace(piece, course=to.course), fret)) for at, piece in notes]
    lay_phrase(draft, to.section, to.part, there, to.onset, moved)
    return draft.done()


def set_voice(lesson: Lesson, spot: Spot, voice: int) -> Lesson:
    """Give the sound of the note that starts at the spot to a voice, 0 or 1."""
    return _changed(lesson, spot, voice=voice)


def set_spelling(lesson: Lesson, spot: Spot, name: str | None) -> Lesson:
    """Wish for a note name for the note that starts at the spot, its ties included."""
    return _changed(lesson, spot, spelling=name)


def _changed(lesson: Lesson, spot: Spot, **fields: int | str | None) -> Lesson:
    check_spot(lesson, spot)
    note = note_at(lesson, spot)
    if note is None:
        raise refuse("no_note_here", where_of(lesson, spot))
    draft = Draft(lesson)
    for s, b, piece in draft.sound(spot.section, spot.bar, spot.part, note):
        new = checked(replace(piece, **fields), Note, where_of(lesson, spot))
        draft.swap(s, b, spot.part, piece, new)
    return draft.done()


def refretted(note: Note, fret: int) -> Note:
    """The note on another fret; a trill keeps its distance, within the neck."""
    trill = note.mark(Trill)
    if trill is None or fret == note.fret:
        return replace(note, fret=fret)
    other = min(FRET_MAX, max(0, trill.fret + fret - note.fret))
    marks = in_order((*(mark for mark in note.marks if mark is not trill), Trill(other)))
    return replace(note, fret=fret, marks=marks)


def same_pitch(lesson: Lesson, spot: Spot, to: Spot, fret: int) -> int:
    """The lowest fret on the other string that sounds nearest to what ``fret`` sounds on this one.

    At most half a semitone off; CannotEdit where the neck has none.
    """
    setup = _setup_at(lesson, to)
    wanted = fretted_pitch(_setup_at(lesson, spot), spot.course, fret)
    for found in range(FRET_MAX + 1):
        if abs(fretted_pitch(setup, to.course, found) - wanted) <= 0.5:
            return found
    same = round(wanted - open_pitch(setup, to.course))
    raise refuse("same_pitch_fret", where_of(lesson, to), fret=same, most=FRET_MAX)


def _setup_at(lesson: Lesson, spot: Spot) -> Setup:
    return setup_in(lesson.sections[spot.section], lesson.parts[spot.part])


# Shared


def check_fret(lesson: Lesson, spot: Spot, fret: int) -> None:
    """Raise CannotEdit for a fret below 0 or above the bound."""
    if not 0 <= fret <= FRET_MAX:
        raise refuse("fret_range", where_of(lesson, spot), fret=fret, most=FRET_MAX)


def check_length(lesson: Lesson, spot: Spot, length: int) -> None:
    """Raise CannotEdit for a length below one tick."""
    if length < 1:
        raise refuse("length_range", where_of(lesson, spot), length=length)
