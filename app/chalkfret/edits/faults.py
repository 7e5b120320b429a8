"""What an edit cannot do, and why.

An impossible request raises ``CannotEdit`` with a ``Fault``; ``words`` makes its sentence. Codes of
``model.validate`` are used again where an edit would break the very rule they name.
"""

from __future__ import annotations

from typing import Final

from chalkfret.model import Fault, Where, fault

# The codes that edits add to those of model.validate, each with the names of its figures.
CODES: Final[dict[str, tuple[str, ...]]] = {
    # places
    "no_such_place": (),  # a section, bar, tick, part or string that the lesson does not have
    "no_note_here": (),
    "fret_range": ("fret", "most"),
    "length_range": ("length",),  # a note of no length
    "tie_from_nothing": (),  # no note of this fret ends on this string where the tie begins
    "same_pitch_fret": ("fret", "most"),  # the pitch lies beyond the neck of the other string
    # selections
    "beyond_section": ("ticks",),  # so many ticks run over the end of the section
    "before_section": ("ticks",),  # so many ticks lie before the beginning of the section
    "clip_parts": ("have", "need"),
    "clip_unsound": (),
    "span_empty": (),
    # bars
    "last_bars": (),  # a section keeps one bar
    "notes_do_not_fit": ("ticks",),  # the first bar and part whose notes run over so many ticks
    "reflow_repeat": (),  # a repeat sign or ending would come to lie inside a bar
    "repeats_cross": ("first", "last"),  # the bars of the repeat that is there
    "no_repeat_here": (),
    # sections
    "last_section": (),
    "sections_max": ("most",),
    "split_in_repeat": ("first", "last"),  # the bars of the repeat
    "join_differs": ("what",),  # tempo, swing, times, pause, key, shape_key or retunes
    "no_section_after": (),
    # parts, cues, texts
    "last_part": (),
    "parts_max": ("most",),
    "cue_beyond_section": ("bars",),
    "no_such_cue": ("id",),
    "value_refused": ("field", "value"),  # not of the field's kind or outside its bounds
}


class CannotEdit(Exception):  # noqa: N818 -- it is said to the teacher, it is no error of ours
    """The edit asked for is impossible; the lesson stays as it is. ``fault`` says why and where."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault)
        self.fault = fault


def refuse(code: str, where: Where | None = None, **figures: str | int | float) -> CannotEdit:
    """The refusal to raise: ``raise refuse("fret_range", where, fret=40, most=36)``."""
    return CannotEdit(fault(code, where, **figures))
