"""The key of the signs that a text uses, in a few words each."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from chalkfret.files.text_tab.marks import FROM_NOTE
from chalkfret.model import (
    ArtificialHarmonic,
    Bend,
    Lesson,
    NaturalHarmonic,
    Note,
    Sign,
    Slide,
    SlideWay,
    Tremolo,
    Trill,
    Vibrato,
)

_SIGNS: Final[tuple[tuple[str, Callable[[Note], bool]], ...]] = (
    ("h hammer-on", lambda n: n.has(Sign.HAMMER_ON)),
    ("p pull-off", lambda n: n.has(Sign.PULL_OFF)),
    ("/ \\ s slide from the note before", lambda n: FROM_NOTE in n.marks),
    ("/7 \\7 with no note before (or // \\\\) slide in",
     lambda n: any(Slide(w) in n.marks for w in (SlideWay.IN_FROM_BELOW, SlideWay.IN_FROM_ABOVE))),
    ("7/ 7\\ slide out",
     lambda n: any(Slide(way) in n.marks for way in (SlideWay.OUT_UP, SlideWay.OUT_DOWN))),
    ("t tap", lambda n: n.has(Sign.TAP)),
    ("x dead note", lambda n: n.has(Sign.DEAD)),
    ("(7) tied to the same fret before, (=7) tied", lambda n: n.has(Sign.TIE)),
    ("(7) with no such note before, ((7)) ghost note", lambda n: n.has(Sign.GHOST)),
    ("<12> natural harmonic", lambda n: n.mark(NaturalHarmonic) is not None),
    ("5<17> artificial harmonic", lambda n: n.mark(ArtificialHarmonic) is not None),
    ("7b9 bend to the pitch of fret 9, r release, pb bent before it is struck",
     lambda n: n.mark(Bend) is not None),
    ("~ vibrato, V wide", lambda n: n.mark(Vibrato) is not None),
    ("7tr9 trill", lambda n: n.mark(Trill) is not None),
    ("TP or z tremolo picking", lambda n: n.mark(Tremolo) is not None),
    ("PM or m palm mute", lambda n: n.has(Sign.PALM_MUTE)),
    ("let ring, LR or L let ring", lambda n: n.has(Sign.LET_RING)),
    ("> accent", lambda n: n.has(Sign.ACCENT)),
    (". or ' staccato", lambda n: n.has(Sign.STACCATO)),
    ("d down-stroke, u up-stroke",
     lambda n: n.has(Sign.DOWN_STROKE) or n.has(Sign.UP_STROKE)),
)  # fmt: skip


def legend(lesson: Lesson) -> Iterator[str]:
    """How lengths are written, and each sign that the lesson uses."""
    yield "w h q e s t y whole note to 64th"
    yield ". dotted"
    yield "e3 triplet"
    yield "= goes on"
    notes = {
        note
        for section in lesson.sections
        for bar in section.bars
        for row in bar.notes
        for note in row
        if note.marks
    }
    for text, uses in _SIGNS:
        if any(map(uses, notes)):
            yield text
