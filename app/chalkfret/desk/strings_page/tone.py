"""How a part sounds: the teacher's tone notes, and the voice of its previews."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import Signal

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.form import SIDE_NAME_UNITS, Group
from chalkfret.desk.pieces.prose import Prose
from chalkfret.desk.strings_page.words import DRIVES, PROGRAMS
from chalkfret.model import Part, Voice, limits
from chalkfret.words.text import _, said


class Tone(Group):
    """Sends the tone notes or the voice changed."""

    written = Signal(str)
    voiced = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__(look, _("Tone"), name_units=SIDE_NAME_UNITS)
        self.notes = Prose(
            look,
            _("Tone notes"),
            _("What students should dial in, in your own words: pickup, gain, effects."),
            most=limits.TEXT_MAX,
        )
        self.program = Choice(said(PROGRAMS), _("Instrument of the MIDI preview"))
        self.drive = Choice(said(DRIVES), _("Drive of the preview"))
        self._voice = Voice()
        self.add_wide(self.notes)
        self.add(_("MIDI sound"), self.program)
        self.add(_("Drive"), self.drive)
        self.notes.typed.connect(self.written)
        self.program.chosen.connect(lambda number: self._send(program=number))
        self.drive.chosen.connect(lambda drive: self._send(drive=drive))

    def show_part(self, part: Part) -> None:
        """Show what this part sounds like."""
        self._voice = part.voice
        number = part.voice.program
        other = {number: _("program {number}").format(number=number + 1)}
        self.program.set_choices(said(PROGRAMS) | ({} if number in PROGRAMS else other))
        self.notes.show_text(part.tone)
        self.program.show_value(number)
        self.drive.show_value(part.voice.drive)

    def _send(self, **fields: object) -> None:
        self.voiced.emit(replace(self._voice, **fields))
