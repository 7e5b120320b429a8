"""The figures of the note under the cursor: what its marks' keys cannot say by themselves."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

from msgspec import Struct

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.beside import Beside
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import small
from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.desk.riffs.panel.readers import (
    number_reader,
    read_tonic,
    whole_reader,
    write_optional,
)
from chalkfret.desk.riffs.words import mark_words, note_text
from chalkfret.edits import marks, notes
from chalkfret.edits.place import Spot
from chalkfret.model import (
    ArtificialHarmonic,
    Bend,
    BendPoint,
    Finger,
    FingerName,
    Lesson,
    Mark,
    NaturalHarmonic,
    Note,
    NoteNaming,
    Section,
    Tremolo,
    Trill,
)
from chalkfret.model.limits import BEND_CENTS_MAX, FRET_MAX
from chalkfret.theory.naming import shown
from chalkfret.words.text import _

_POINT = re.compile(r"([+-]?\d+)(?:@(\d+(?:/\d+)?))?")


def read_bend(text: str, length: int) -> Bend | None:
    """Cents with their places in the note: ``0 200@1/4 0@3/4``; nothing: no bend."""
    wrong = _("A bend is cents at parts of the note, as in 0 200@1/4 0@3/4; nothing: none.")
    points = []
    for word in text.split():
        match = _POINT.fullmatch(word)
        if match is None:
            raise Unreadable(wrong, unfinished=True)
        try:
            at = Fraction(match[2] or 0)
        except ZeroDivisionError:
            raise Unreadable(wrong, unfinished=True) from None
        if at > 1 or abs(int(match[1])) > BEND_CENTS_MAX:
            raise Unreadable(wrong)
        points.append(BendPoint(round(at * length), int(match[1])))
    if points != sorted(points, key=lambda point: point.tick):
        raise Unreadable(wrong, unfinished=True)
    if points and not any(point.cents for point in points):
        still = _("Nothing is bent: give cents other than 0, as in 0 200@1/4 0@3/4.")
        raise Unreadable(still, unfinished=True)
    if len(points) > 1 and points[1].tick == 0:  # the first of two would never sound
        doubled = _("Say where in the note each is reached, as in 0 200@1/4 0@3/4.")
        raise Unreadable(doubled, unfinished=True)
    return Bend(tuple(points)) if points else None


def write_bend(bend: Bend | None, length: int) -> str:
    """The bend as one types it."""
    if bend is None:
        return ""
    words = []
    for point in bend.curve:
        at = Fraction(point.tick, length)
        words.append(f"{point.cents}@{at}" if at else str(point.cents))
    return " ".join(words)


class _Shown(Struct, frozen=True):
    """The note that is shown, and where it stands."""

    spot: Spot
    note: Note


class NoteGroup(SectionGroup):
    """The note that is meant. ``note_meant`` gives its place, or None."""

    def __init__(
        self, document: Document, look: Look, note_meant: Callable[[], Spot | None]
    ) -> None:
        super().__init__(document, look, _("Note under the cursor"))
        self._meant = note_meant
        self._shown: _Shown | None = None
        self.what = small(look)
        self.spelling = self._field(
            _("Written as"),
            lambda text: read_tonic(self._naming)(text),
            lambda name: "" if name is None else shown(name, self._naming),
            self._set_spelling,
        )
        self.spelling.setPlaceholderText(_("as the key has it"))
        self.voice = Choice({0: _("first"), 1: _("second")}, _("Voice"))
        self.voice.chosen.connect(self._set_voice)
        self.finger = Choice(
            {None: _("none"), **{name: name.value for name in FingerName}}, _("Finger")
        )
        self.finger.chosen.connect(
            lambda name: self._swap(Finger, None if name is None else Finger(name))
        )
        self.bend = self._field(
            _("Bend"),
            lambda text: read_bend(text, self._length),
            lambda bend: write_bend(bend, self._length),
            lambda bend: self._swap(Bend, bend),
        )
        self.bend.setPlaceholderText(_("0 200@1/4 0@3/4"))
        self.trill = self._field(
            _("Trill with fret"),
            whole_reader(0, FRET_MAX, _("A fret from 0 to 36; nothing: no trill."), empty=None),
            lambda fret: "" if fret is None else str(fret),
            lambda fret: self._swap(Trill, None if fret is None else Trill(fret)),
        )
        self.tremolo = Choice({0: _("none"), 1: "/", 2: "//", 3: "///"}, _("Tremolo picking"))
        self.tremolo.chosen.connect(
            lambda strokes: self._swap(Tremolo, Tremolo(strokes) if strokes else None)
        )
        node = number_reader(
            0.1, FRET_MAX, _("A harmonic is touched at a fret, as in 12 or 3.2."), empty=None
        )
        self.natural = self._field(
            _("Natural harmonic at"), node, write_optional,
            lambda at: self._swap(NaturalHarmonic, None if at is None else NaturalHarmonic(at)),
        )  # fmt: skip
        self.artificial = self._field(
            _("Artificial, frets above"), node, write_optional,
            lambda at: self._swap(
                ArtificialHarmonic, None if at is None else ArtificialHarmonic(at)
            ),
        )  # fmt: skip
        for field in (self.trill, self.natural, self.artificial):
            field.setPlaceholderText(_("none"))
        self._controls = (
            self.spelling, self.voice, self.finger, self.bend, self.trill, self.tremolo,
            self.natural, self.artificial,
        )  # fmt: skip
        self.add_wide(self.what)
        self.add(_("Written as"), self.spelling)
        self.add(_("Voice, finger"), Beside(look, self.voice, self.finger))
        self.add(_("Bend, cents"), self.bend)
        self.add(_("Trill fret, tremolo"), Beside(look, self.trill, self.tremolo))
        self.add(_("Harmonic"), Beside(look, self.natural, self.artificial))
        self.natural.setToolTip(_("Natural: touched at this fret"))
        self.artificial.setToolTip(_("Artificial: touched so many frets above"))

    @property
    def _naming(self) -> NoteNaming:
        return self._document.lesson.head.note_naming

    @property
    def _length(self) -> int:
        return 1 if self._shown is None else self._shown.note.length

    def show_section(self, section: Section) -> None:
        spot = self._meant()
        note = None if spot is None else notes.note_at(self._document.lesson, spot)
        now = None if spot is None or note is None else _Shown(spot, note)
        if now is not None:  # what its neighbours are now may give it another name
            self.what.setText(self._describe(now))
        if now == self._shown and now is not None:
            return
        self._shown = now
        for control in self._controls:
            control.setEnabled(now is not None)
        if now is None:
            self.what.setText(_("None: type a fret or move onto a note."))
        self._show_note(None if now is None else now.note)

    def _describe(self, now: _Shown) -> str:
        spot = now.spot
        words = [
            _("fret {fret} of string {course}").format(fret=now.note.fret, course=now.note.course),
            note_text(self._document.lesson, spot.section, spot.bar, spot.part, now.note),
            *mark_words(now.note),
        ]
        return ", ".join(filter(None, words))

    def _show_note(self, note: Note | None) -> None:
        def figures(kind: type, name: str) -> object:
            mark = None if note is None else note.mark(kind)
            return None if mark is None else getattr(mark, name)

        self.spelling.show_value(None if note is None else note.spelling)
        self.voice.show_value(None if note is None else note.voice)
        self.finger.show_value(figures(Finger, "finger"))
        self.bend.show_value(None if note is None else note.mark(Bend))
        self.trill.show_value(figures(Trill, "fret"))
        self.tremolo.show_value(figures(Tremolo, "strokes") or 0)
        self.natural.show_value(figures(NaturalHarmonic, "node"))
        self.artificial.show_value(figures(ArtificialHarmonic, "node"))

    def _set_spelling(self, name: str | None) -> None:
        self._edit("spelling", lambda lesson, spot: notes.set_spelling(lesson, spot, name))

    def _set_voice(self, voice: int) -> None:
        self._edit("voice", lambda lesson, spot: notes.set_voice(lesson, spot, voice))

    def _swap(self, kind: type, mark: Mark | None) -> None:
        """Give the note this mark in place of the one of its kind."""

        def edit(lesson: Lesson, spot: Spot) -> Lesson:
            note = notes.note_at(lesson, spot)
            if note is None:
                return lesson
            kept = tuple(one for one in note.marks if not isinstance(one, kind))
            wanted = kept if mark is None else marks.with_mark(kept, mark)
            return marks.set_marks(lesson, spot, wanted)

        self._edit(kind.__name__, edit)

    def _edit(self, what: str, edit: Callable[[Lesson, Spot], Lesson]) -> None:
        if self._shown is None:
            return
        spot = self._shown.spot
        text = _("Change a note in section {section}, bar {bar}").format(
            section=self.section.head.letter, bar=spot.bar + 1
        )
        refused = None if self._editing is None else self._editing.refuse
        self._document.attempt(
            text, lambda lesson: edit(lesson, spot), ("note", what, spot), refused
        )
