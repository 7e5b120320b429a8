"""Edits: pure functions from a lesson to a lesson.

Each returns a new lesson that shares every object it did not touch, and the very same lesson where
nothing changes; each result is sound (``model.validate``). What is impossible raises
``CannotEdit``, whose ``fault`` says why and where; nothing is ever applied by halves.

Places (``edits.place``): ``Spot(section, bar, part, onset, course)``, ``Moment(section, bar,
tick)``, ``Span(start, end, parts, courses=())``. Indices from 0, courses from 1, ends exclusive.

notes
    ``note_at(lesson, spot)``, ``sounding_at(lesson, spot)``, ``attack_of(lesson, spot)``,
    ``sound_length(lesson, spot)`` look; ``set_fret(lesson, spot, fret, length)``,
    ``clear(lesson, spot)``,
    ``set_length(lesson, spot, length, across=True)``, ``stretch(lesson, spot, steps)``,
    ``move(lesson, spot, to, keep_pitch=False)``, ``set_voice(lesson, spot, voice)``,
    ``set_spelling(lesson, spot, name)``
marks
    ``toggle_mark(lesson, spot, mark)``, ``set_marks(lesson, spot, marks)``,
    ``toggle_mark_in(lesson, span, mark)``, ``is_marked(lesson, span, mark)``,
    ``clear_marks_in(lesson, span)``,
    ``with_mark(marks, mark)``, ``without_mark(marks, mark)``
selection
    ``bars_span(lesson, section, bar, count=1, parts=())``, ``is_empty(lesson, span)``,
    ``span_ticks(lesson, span)``, ``struck(lesson, span)`` look;
    ``change_notes(lesson, span, change)``; ``copy(lesson, span) -> Clip``,
    ``cut(lesson, span) -> (lesson, Clip)``, ``clear_span(lesson, span)``,
    ``paste(lesson, spot, clip, times=1, frets=0, courses=0, grow=False)``,
    ``shift(lesson, span, frets=0, courses=0, ticks=0, keep_pitch=False)``
drawing
    ``draw_slide(lesson, one, other)``, ``draw_bend(lesson, spot, most, last, before=False)``,
    ``bend_curve(length, most, last, before=False)``
gestures
    ``write_chord(lesson, frets, length, voice=0)``,
    ``cut_beat(lesson, section, bar, beat, count)``,
    ``on_new_steps(before, after, onsets)`` looks; ``repeat_span(lesson, span, times=1, frets=0)``,
    ``repeat_bar(lesson, section, bar, parts, count=1, frets=0)``,
    ``beat_span(lesson, section, bar, tick, parts)``, ``fill(lesson, span)``,
    ``scale_lengths(lesson, span, factor)``
models
    ``models(lesson, spot, first=None)``, ``groups(lesson, spot, hand)``,
    ``still_there(lesson, group)`` look; ``write_like(lesson, spot, model)``,
    ``refret(lesson, group, fret)``, ``to_string(lesson, group, way) -> (lesson, group)``
shapes
    ``shapes_before(lesson, spot)``, ``moved_to(shape, fret)`` look;
    ``write_shape(lesson, spot, shape, length)``
second_guitar
    ``follow(lesson, span, to, rule)``
bars
    ``insert(lesson, section, at, count=1)``, ``delete(lesson, section, start, count=1)``,
    ``set_count(lesson, section, count)``,
    ``duplicate(lesson, section, start, count=1, times=1)``,
    ``set_head(lesson, section, start, count=1, **fields)`` (grouping, steps, pauses, simile,
    join_rests, break_after), ``set_steps(lesson, section, bar, steps, beat=None, count=1)``
meters
    ``set_meter(lesson, section, start, count, meter, overflow="refuse", grouping=())``
    (overflow: refuse, cut, reflow), ``set_pickup(lesson, section, bar, ticks, overflow="refuse")``
repeats
    ``set_repeat(lesson, section, start, count, times=2)``, ``clear_repeat(lesson, section, bar)``,
    ``set_passes(lesson, section, start, count, passes)``, ``repeats_of(bars)``,
    ``repeat_around(bars, bar)``
sections
    ``add(lesson, at=None, head=None, bars=4)``, ``duplicate(lesson, section)``,
    ``delete(lesson, section)``, ``reorder(lesson, section, to)``,
    ``set_head(lesson, section, **fields)``, ``split(lesson, section, bar)``,
    ``join(lesson, section, keep_first=False)``
parts
    ``add(lesson, name, setup, at=None)``, ``copy_from(lesson, source, name=None, setup=None)``,
    ``remove(lesson, part)``, ``reorder(lesson, part, to)``, ``rename(lesson, part, name)``,
    ``set_tone(lesson, part, tone)``, ``set_voice(lesson, part, voice)``,
    ``set_setup(lesson, part, setup, drop=False)``, ``retune(lesson, section, part, setup)``
cues
    ``add(lesson, section, label, kind, start, end=None, part=None, settings=())``,
    ``change(lesson, cue_id, **fields)``, ``move(lesson, cue_id, start, section=None)``,
    ``remove(lesson, cue_id)``, ``cue_of(lesson, cue_id)``
texts
    ``set_head(lesson, **fields)``: the lesson's head
names
    ``letter(lesson)``, ``part_name(lesson, wished)`` and the next free ids
"""

from chalkfret.edits.clip import Clip, ClipNote, ClipPart
from chalkfret.edits.faults import CannotEdit
from chalkfret.edits.place import Moment, Span, Spot

__all__ = ["CannotEdit", "Clip", "ClipNote", "ClipPart", "Moment", "Span", "Spot"]
