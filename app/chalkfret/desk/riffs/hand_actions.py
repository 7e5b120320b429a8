"""Actions for the writing hand: after an earlier bar, chords, hand shapes, other strings."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.meant import place_words
from chalkfret.desk.riffs.over import Over
from chalkfret.desk.riffs.typing import Typist
from chalkfret.edits import bars, shapes
from chalkfret.edits.place import Spot
from chalkfret.edits.shapes import Shape
from chalkfret.model import Lesson
from chalkfret.words.text import N_, _, ngettext

_BARS_BACK: Final = 16


class HandActions:
    """Gestures that write more than one key would."""

    def __init__(self, document: Document, grid: Grid, typist: Typist) -> None:
        self._document, self._grid, self._typist = document, grid, typist
        self._over = Over(document, grid, typist)
        self._offered: tuple[Lesson, Cursor, int] | None = None  # where, and which shape

    def all(self) -> list[Action]:
        """The actions, in the order of their menu."""
        edit, note = N_("&Edit"), N_("&Note")
        return [
            *(self._cut(count) for count in range(1, 10)),
            Action("like_bar", _("As the bar before, new frets &note by note"), ("K",), edit,
                   lambda: self._over.offer(hand=False), separated=True),
            Action("like_hand", _("As the bar before, new frets for the &hand"), ("Z",), edit,
                   lambda: self._over.offer(hand=True)),
            Action("next_bar", _("On to the next bar line"), ("Return",), edit, self._next_bar),
            Action("to_bar_line", _("Let what was typed sound to the bar &line"),
                   ("Shift+Return",), note, self._typist.hold_to_bar_line),
            Action("join", _("The next fret &together with this note"), ("C",), note,
                   self._typist.join, separated=True),
            Action("shape", _("A hand shape of before, moved to the next fret"), ("Shift+C",),
                   note, self._shape),
            Action("twenty", _("The next fret t&wenty higher"), ("Y",), note,
                   self._typist.twenty_more),
            Action("to_string", _("To the string with the number typed next"), ("Q",), note,
                   self._to_string),
            Action("voice_again", _("The bar from its beginning in the other &voice"),
                   ("Shift+W",), note, self._other_voice),
        ]  # fmt: skip

    def _cut(self, count: int) -> Action:
        text = ngettext(
            "Cut the beat into {count} step", "Cut the beat into {count} steps", count
        ).format(count=count)
        return Action(f"cut_{count}", text, (f"Alt+Shift+{count}",), N_("&Bar"),
                      lambda: self._typist.steps(count), separated=count == 1)  # fmt: skip

    # Where to

    def _next_bar(self) -> None:
        """To the beginning of the next bar; behind the last one an empty bar is added."""
        grid, lesson, here = self._grid, self._document.lesson, self._grid.here
        if moves.behind(lesson, here):
            section, bar = here.section, here.bar + 1
            letter = lesson.sections[section].head.letter
            text = _("Add a bar in section {section}").format(section=letter)
            if not self._document.attempt(text, lambda one: bars.insert(one, section, bar)):
                return
            lesson, here = self._document.lesson, replace(here, bar=bar)
        ticks = moves.head_at(lesson, here).ticks
        grid.move_to(moves.after_typing(lesson, replace(here, tick=0), ticks))

    def _to_string(self) -> None:
        self._typist.wait_for_fret(self._go_to_string)
        self._document.said.emit(_("Type the number of the string."))

    def _go_to_string(self, number: int) -> None:
        grid, here = self._grid, self._grid.here
        count = len(self._document.lesson.parts[here.part].setup.courses)
        if 1 <= number <= count:
            grid.move_to(replace(here, course=number))
            self._document.said.emit("")
        else:
            words = _("This guitar has the strings 1 to {count}.").format(count=count)
            self._document.refused.emit(words)

    def _other_voice(self) -> None:
        """To the beginning of the bar just written, or of the cursor's where that has both voices.

        What is typed there is the voice that it has not, on the string that voice began on last.
        """
        lesson, here, typist = self._document.lesson, self._grid.here, self._typist
        typed = typist.just_typed()
        place = typed[0] if typed else replace(here, tick=0).spot
        if typed and len(self._voices(place)) > 1:
            place = here.spot
            if moves.behind(lesson, here):
                place = replace(place, bar=here.bar + 1)
        written = self._voices(place)
        voice = 1 - typist.pace.voice if len(written) != 1 else 1 - min(written)
        place = replace(place, onset=0, course=string_of_voice(lesson, place, voice, here.course))
        typist.pace.write_voice(place, voice)
        if place.bar < len(lesson.sections[place.section].bars):
            start = Cursor(place.section, place.bar, 0, place.part, place.course)
            self._grid.move_to(moves.kept(lesson, start))
        else:
            self._grid.move_to(replace(here, course=place.course))
        self._document.said.emit(
            _("The first voice of the bar.") if voice == 0 else _("The second voice of the bar.")
        )

    def _voices(self, spot: Spot) -> set[int]:
        """The voices that have notes in a bar."""
        run = self._document.lesson.sections[spot.section].bars
        return {n.voice for n in run[spot.bar].notes[spot.part]} if spot.bar < len(run) else set()

    # Shapes

    def _shape(self) -> None:
        """Offer the last chord's shape, or instead of what is offered the one before it."""
        lesson, here = self._document.lesson, self._grid.here
        if moves.behind(lesson, here):
            here = replace(here, bar=here.bar + 1, tick=0)
        found = shapes.shapes_before(lesson, here.spot)
        if not found:
            self._document.refused.emit(
                _("There is no chord before this place to take a shape from.")
            )
            return
        last, number = self._offered, 0
        if last is not None and last[:2] == (lesson, here):
            number = (last[2] + 1) % len(found)
        self._offered = (lesson, here, number)
        shape = found[number]
        self._typist.wait_for_fret(lambda fret: self._write_shape(here.spot, shape, fret))
        said = _(
            "Shape {frets} from string {string} up: type the fret of string {string}. "
            "The same key again offers another shape."
        )
        frets = " ".join(str(fret) for _course, fret in shape)
        self._document.said.emit(said.format(frets=frets, string=shape[0][0]))

    def _write_shape(self, spot: Spot, shape: Shape, fret: int) -> None:
        moved = reversed(shapes.moved_to(shape, fret))  # typing goes on on the lowest string
        text = _("Write a hand shape in section {section}, bar {bar}")
        words = place_words(self._document.lesson, spot.section, spot.bar)
        frets = {replace(spot, course=course): at for course, at in moved}
        self._typist.write(text.format(**words), frets)


def string_of_voice(lesson: Lesson, spot: Spot, voice: int, otherwise: int) -> int:
    """The string on which a voice began in the bar, or in the latest of a few before it."""
    run = lesson.sections[spot.section].bars
    for bar in range(min(spot.bar, len(run) - 1), max(-1, spot.bar - _BARS_BACK), -1):
        for note in run[bar].notes[spot.part]:
            if note.voice == voice:
                return note.course
    return otherwise
