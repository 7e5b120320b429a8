"""Actions on notes: marks by the letters of the trade, lengths, the clipboard, moving about."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from msgspec.structs import replace

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.mark_cycles import FINGERS, SLIDES, TREMOLOS, bends, next_of
from chalkfret.desk.riffs.meant import note_under, place_words
from chalkfret.desk.riffs.typing import Typist
from chalkfret.desk.riffs.words import MARKS, WIDE_VIBRATO
from chalkfret.edits import bars, marks, notes, selection
from chalkfret.edits.place import Ruler, Spot
from chalkfret.model import (
    ArtificialHarmonic,
    Lesson,
    Mark,
    NaturalHarmonic,
    Note,
    Sign,
    Slide,
    SlideWay,
    Trill,
    Vibrato,
    mark_name,
)
from chalkfret.model.limits import FRET_MAX
from chalkfret.words.text import N_, _

_NOTE = N_("&Note")
_EDIT = N_("&Edit")
_MOVE, _MARK, _KINDS = N_("&Move"), N_("Ma&rks"), N_("&Bends, slides, trills")

_TOGGLES: tuple[tuple[str, Mark, str], ...] = (
    ("H", Sign.HAMMER_ON, ""),
    ("P", Sign.PULL_OFF, ""),
    ("S", Slide(SlideWay.FROM_NOTE), ""),
    ("V", Vibrato(), ""),
    ("Shift+V", Vibrato(wide=True), WIDE_VIBRATO),
    ("X", Sign.DEAD, ""),
    ("G", Sign.GHOST, ""),
    ("M", Sign.PALM_MUTE, ""),
    ("L", Sign.LET_RING, ""),
    ("T", Sign.TAP, ""),
    ("A", Sign.ACCENT, ""),
    ("Shift+A", Sign.STACCATO, ""),
    ("D", Sign.DOWN_STROKE, ""),
    ("U", Sign.UP_STROKE, ""),
    ("J", Sign.TIE, N_("tied to the note before")),
    ("Shift+N", ArtificialHarmonic(), ""),
)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


class NoteActions:
    """What can be done to notes and selections."""

    def __init__(self, document: Document, grid: Grid, typist: Typist) -> None:
        self._document, self._grid, self._typist = document, grid, typist

    def all(self) -> list[Action]:
        """The actions, in the order of their menus."""
        return [*self._gestures(), *self._lengths(), *self._marks(), *self._clipboard()]

    def _gestures(self) -> list[Action]:
        return [
            Action("fret", _("Write a fret"), shown="0 … 9"),
            Action("fret_ten", _("Write a fret from 10 to 19"), shown="Ctrl+0 … Ctrl+9"),
            Action("fret_above", _("Write a fret on the string above"), shown="Shift+0 … Shift+9"),
            Action("fret_below", _("Write a fret on the string below"),
                   shown="Ctrl+Shift+0 … Ctrl+Shift+9"),
            Action("fret_all", _("Write a fret on every string, or in every guitar, selected"),
                   shown="Shift+Down, 0 … 9"),
        ]  # fmt: skip

    def _lengths(self) -> list[Action]:
        typist = self._typist
        return [
            Action("longer", _("&Longer by a step"), (".",), _NOTE, lambda: typist.stretch(1)),
            Action("shorter", _("&Shorter by a step"), (",",), _NOTE, lambda: typist.stretch(-1)),
            Action("double", _("&Twice as long"), ("Alt+.",), _NOTE,
                   lambda: typist.scale(Fraction(2))),
            Action("halve", _("H&alf as long"), ("Alt+,",), _NOTE,
                   lambda: typist.scale(Fraction(1, 2))),
            Action("raise", _("A fret &higher"), ("Alt+Up",), _NOTE,
                   lambda: self._shift(frets=1), under=_MOVE),
            Action("lower", _("A fret lo&wer"), ("Alt+Down",), _NOTE,
                   lambda: self._shift(frets=-1), under=_MOVE),
            Action("string_up", _("To the string above, same pitch"), ("Alt+Shift+Up",), _NOTE,
                   lambda: self._other_string(-1), under=_MOVE),
            Action("string_down", _("To the string below, same pitch"), ("Alt+Shift+Down",), _NOTE,
                   lambda: self._other_string(1), under=_MOVE),
            Action("string_up_fret", _("To the string above, same fret"), ("Alt+PgUp",), _NOTE,
                   lambda: self._other_string(-1, keep_pitch=False), under=_MOVE),
            Action("string_down_fret", _("To the string below, same fret"), ("Alt+PgDown",), _NOTE,
                   lambda: self._other_string(1, keep_pitch=False), under=_MOVE),
            Action("earlier", _("A step earlier"), ("Alt+Shift+Left",), _NOTE,
                   lambda: self._later(-1), under=_MOVE),
            Action("later", _("A step later"), ("Alt+Shift+Right",), _NOTE,
                   lambda: self._later(1), under=_MOVE),
        ]  # fmt: skip

    # Marks

    def _marks(self) -> list[Action]:
        made: list[Action] = []
        for key, mark, words in _TOGGLES:
            name = _(words or MARKS[mark_name(mark)])
            action_id = f"mark_{mark_name(mark)}{'_wide' if mark == Vibrato(wide=True) else ''}"
            made.append(
                Action(action_id, _capital(name), (key,), _NOTE, self._toggler(mark, name),
                       under=_MARK)
            )  # fmt: skip
        return [*made, *self._cycled()]

    def _cycled(self) -> list[Action]:
        change = self._change_mark
        return [
            Action("mark_bend", _("Bend: next kind"), ("B",), _NOTE,
                   lambda: change(_("bend"), lambda note: next_of(note, bends(note))),
                   under=_KINDS),
            Action("mark_slide_edge", _("Slide in or out: next kind"), ("Shift+S",), _NOTE,
                   lambda: change(_("slide"), lambda note: next_of(note, SLIDES)), under=_KINDS),
            Action("mark_natural_harmonic", _("Natural harmonic"), ("N",), _NOTE,
                   lambda: change(_("natural harmonic"), _harmonic), under=_KINDS),
            Action("mark_trill", _("Trill: off, a semitone, a tone …"), ("R",), _NOTE,
                   lambda: change(_("trill"), _trill), under=_KINDS),
            Action("mark_tremolo", _("Tremolo picking: next kind"), ("Shift+T",), _NOTE,
                   lambda: change(_("tremolo picking"), lambda note: next_of(note, TREMOLOS)),
                   under=_KINDS),
            Action("mark_finger", _("Fretting finger: next"), ("F",), _NOTE,
                   lambda: change(_("finger"), lambda note: next_of(note, FINGERS)), under=_KINDS),
            Action("marks_off", _("Take all marks off"), ("O",), _NOTE, self._marks_off,
                   under=_MARK, separated=True),
            Action("voice", _("Other voice"), ("W",), _NOTE, self._other_voice, separated=True),
        ]  # fmt: skip

    def _toggler(self, mark: Mark, name: str) -> Callable[[], None]:
        def toggle() -> None:
            text = _("Mark {mark} in section {section}, bar {bar}")
            on = self._is_on(mark)
            if on:
                text = _("Take away {mark} in section {section}, bar {bar}")
            text = text.replace("{mark}", name)

            def edit(lesson: Lesson, spot: Spot) -> Lesson:
                note = notes.note_at(lesson, spot)
                is_wanted = note is not None and (mark in note.marks) == on
                return marks.toggle_mark(lesson, spot, mark) if is_wanted else lesson

            if self._typist.selected_span() is not None:
                self._typist.change_span(
                    text, lambda lesson, span: marks.toggle_mark_in(lesson, span, mark)
                )
            else:
                self._typist.change_meant(text, edit)

        return toggle

    def _is_on(self, mark: Mark) -> bool:
        """Whether toggling takes the mark away."""
        lesson, selected = self._document.lesson, self._typist.selected_span()
        if selected is not None:
            return marks.is_marked(lesson, selected, mark)
        meant = [notes.note_at(lesson, spot) for spot in self._typist.meant_notes()]
        return all(note is not None and mark in note.marks for note in meant)

    def _change_mark(
        self, name: str, change: Callable[[Note], tuple[Mark | None, Mark | None]]
    ) -> None:
        """Let ``change`` say which mark of the note goes and which one comes."""

        def edit(lesson: Lesson, spot: Spot) -> Lesson:
            note = notes.note_at(lesson, spot)
            if note is None:
                return lesson
            gone, come = change(note)
            kept = tuple(mark for mark in note.marks if mark != gone)
            wanted = kept if come is None else marks.with_mark(kept, come)
            return marks.set_marks(lesson, spot, wanted)

        text = _("Change {mark} in section {section}, bar {bar}").replace("{mark}", name)
        self._typist.change_meant(text, edit, merge=f"mark {name}")

    def _marks_off(self) -> None:
        self._typist.change_span(
            _("Take all marks off in section {section}, bar {bar}"), marks.clear_marks_in
        )

    def _other_voice(self) -> None:
        def edit(lesson: Lesson, spot: Spot) -> Lesson:
            note = notes.note_at(lesson, spot)
            return lesson if note is None else notes.set_voice(lesson, spot, 1 - note.voice)

        typed = self._typist.just_typed()
        text = _("Change the voice in section {section}, bar {bar}")
        if self._typist.change_meant(text, edit) and typed:
            note = notes.note_at(self._document.lesson, typed[0])
            if note is not None:
                length = notes.sound_length(self._document.lesson, typed[0])
                self._typist.pace.give_voice(typed[0], note.voice, length)

    # Moving notes

    def _shift(self, frets: int) -> None:
        text = _("Move a fret in section {section}, bar {bar}")
        self._typist.change_span(
            text, lambda lesson, span: selection.shift(lesson, span, frets=frets), merge="frets"
        )

    def _other_string(self, way: int, *, keep_pitch: bool = True) -> None:
        typist, grid = self._typist, self._grid
        typed, here = typist.just_typed(), grid.here
        text = _("Move notes to another string in section {section}, bar {bar}")
        if typist.change_span(
            text,
            lambda lesson, span: selection.shift(lesson, span, courses=way, keep_pitch=keep_pitch),
        ):
            course = max(1, here.course + way)  # below the last string the nearest is kept
            cursor = moves.kept(self._document.lesson, replace(here, course=course))
            if typed:
                typist.wrote([replace(spot, course=spot.course + way) for spot in typed], cursor)
                grid.move_to(cursor)
            elif grid.anchor is None:
                grid.move_to(cursor)

    def _later(self, way: int) -> None:
        grid, lesson = self._grid, self._document.lesson
        ticks = way * moves.step_length(lesson, grid.here)
        span = grid.span
        words = place_words(lesson, span.start.section, span.start.bar)
        text = _("Move notes in time in section {section}, bar {bar}").format(**words)
        if self._document.attempt(text, lambda before: selection.shift(before, span, ticks=ticks)):
            go = moves.step_on if way > 0 else moves.step_back
            anchor = grid.anchor
            target = go(self._document.lesson, grid.here)
            if anchor is None:
                grid.move_to(target)
            else:
                grid.move_to(go(self._document.lesson, anchor))
                grid.move_to(target, select=True)

    # Clearing and the clipboard

    def _clipboard(self) -> list[Action]:
        return [
            Action("cut", _("Cu&t"), ("Ctrl+X",), _EDIT, self._cut, separated=True),
            Action("copy", _("&Copy"), ("Ctrl+C",), _EDIT, self._copy),
            Action("paste", _("&Paste"), ("Ctrl+V",), _EDIT, self._paste),
            Action("clear", _("C&lear"), ("Del",), _EDIT, self._clear),
            Action("clear_back", _("Clear the note before"), ("Backspace",), _EDIT,
                   self._clear_back),
        ]  # fmt: skip

    def _clear(self) -> None:
        if self._typist.steer("clear"):
            return
        grid, lesson = self._grid, self._document.lesson
        span = grid.span
        words = place_words(lesson, span.start.section, span.start.bar)
        if grid.anchor is None:
            under = note_under(lesson, grid.here)
            if under is None:
                return
            text = _("Clear a note in section {section}, bar {bar}")
            self._document.attempt(text.format(**words), lambda one: notes.clear(one, under))
        else:
            text = _("Clear notes in section {section}, bar {bar}")
            self._document.attempt(
                text.format(**words), lambda one: selection.clear_span(one, span)
            )

    def _clear_back(self) -> None:
        """Clear the notes just typed and write there again; else step back and clear."""
        if self._typist.steer("back"):
            return
        grid, typed = self._grid, self._typist.just_typed()
        if typed:
            self._typist.go_back_to(typed)
        elif grid.anchor is None:
            grid.move_to(moves.step_back(self._document.lesson, grid.here))
        self._clear()

    def _copy(self) -> None:
        from chalkfret.desk.riffs.clipboard import put

        put(self._document.lesson, self._grid.span)

    def _cut(self) -> None:
        from chalkfret.desk.riffs.clipboard import put

        lesson, span = self._document.lesson, self._grid.span
        after = selection.clear_span(lesson, span)
        put(lesson, span)
        words = place_words(lesson, span.start.section, span.start.bar)
        text = _("Cut notes in section {section}, bar {bar}").format(**words)
        self._document.apply(text, after)

    def _paste(self) -> None:
        from chalkfret.desk.riffs.clipboard import paste_text, take

        clip = take()
        if clip is None:
            paste_text(self._document, self._grid)
            return
        grid, lesson = self._grid, self._document.lesson
        start = min(grid.anchor or grid.here, grid.here, key=lambda one: one.time)
        run = lesson.sections[start.section].bars
        behind = moves.behind(lesson, start)
        if behind:
            start = replace(start, bar=start.bar + 1, tick=0)
        spot = start.spot
        text = _("Paste notes in section {section}, bar {bar}")
        if behind or Ruler(run, spot.bar).missing(spot.onset + clip.length):
            text = _("Paste notes and add bars in section {section}, bar {bar}")

        def edit(before: Lesson) -> Lesson:
            roomy = bars.insert(before, spot.section, spot.bar) if behind else before
            return selection.paste(roomy, spot, clip, grow=True)

        words = place_words(lesson, spot.section, spot.bar)
        if self._document.attempt(text.format(**words), edit):
            grid.move_to(moves.after_typing(self._document.lesson, start, clip.length))


def _harmonic(note: Note) -> tuple[Mark | None, Mark | None]:
    old = note.mark(NaturalHarmonic)
    return old, None if old is not None else NaturalHarmonic(float(note.fret or 12))


def _trill(note: Note) -> tuple[Mark | None, Mark | None]:
    old = note.mark(Trill)
    above = 1 if old is None else old.fret - note.fret + 1
    fret = note.fret + above
    return old, None if above > 4 or above < 1 or fret > FRET_MAX else Trill(fret)
