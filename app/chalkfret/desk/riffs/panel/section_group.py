"""Letter, name, times, pause and difficulty of the section."""

from __future__ import annotations

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.beside import Beside
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.fields import set_room
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.desk.riffs.panel.readers import (
    number_reader,
    read_letter,
    read_line,
    stepped,
    whole_reader,
)
from chalkfret.model import Section, limits
from chalkfret.words.figures import number_words
from chalkfret.words.text import _


class SectionGroupNames(SectionGroup):
    """What the section is called and how often it is played."""

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__(document, look, _("Section"))
        self.letter = self._field(
            _("Letter"), read_letter, str, lambda letter: self._set(_("the letter"), letter=letter)
        )
        self.name = self._field(
            _("Name"), read_line(), str, lambda name: self._set(_("the name"), name=name)
        )
        self.name.setPlaceholderText(_("Name of the riff or passage"))
        most = limits.TIMES_MAX
        self.times = self._field(
            _("Times to play"),
            whole_reader(1, most, _("A section is played 1 to {most} times.").format(most=most)),
            str,
            lambda times: self._set(_("the times"), times=times),
            lambda times, steps: int(stepped(1, most)(times, steps)),
        )
        self.pause = self._field(
            _("Pause after it, in seconds"),
            number_reader(0, limits.PAUSE_MAX, _("A pause is seconds, from 0 to 600."), empty=0.0),
            number_words,
            lambda pause: self._set(_("the pause"), pause_s=pause),
            stepped(0, limits.PAUSE_MAX),
        )
        self.difficulty = Choice(
            {None: _("not said"), 1: _("1, easy"), 2: "2", 3: "3", 4: "4", 5: _("5, hard")},
            _("Difficulty"),
        )
        self.difficulty.chosen.connect(
            lambda level: self._set(_("the difficulty"), difficulty=level)
        )
        self.add(_("Letter, name"), Beside(look, self.letter, self.name))
        self.add(_("Times, pause (s)"), Beside(look, self.times, self.pause))
        self.add(_("Difficulty"), self.difficulty)
        follow(self, look, lambda: set_room(self.letter, "AAAA"))

    def show_section(self, section: Section) -> None:
        head = section.head
        self.letter.show_value(head.letter)
        self.name.show_value(head.name)
        self.times.show_value(head.times)
        self.pause.show_value(head.pause_s)
        self.difficulty.show_value(head.difficulty)
