"""What a new lesson begins as for this teacher: names, paper and note names of their own."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import QLocale

from chalkfret.desk.settings import Settings
from chalkfret.model import Lesson, NoteNaming, Paper
from chalkfret.model.start import new_lesson
from chalkfret.words.text import _, spoken

# Where Letter is the usual paper: Unicode CLDR, supplemental data, measurementData paperSize
# "US-Letter" (from memory).
_LETTER_COUNTRIES: Final = {
    "BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE",
}  # fmt: skip

_NAMING: Final = {"de": NoteNaming.GERMAN, "es": NoteNaming.SOLFEGE}
"""How players call notes in each language (common practice); all others as in English."""


def usual_naming() -> NoteNaming:
    """How notes are called in the language that is spoken now."""
    return _NAMING.get(spoken(), NoteNaming.ENGLISH)


def usual_paper() -> Paper:
    """The paper of the country that the system says it is in."""
    country = QLocale.system().name().partition("_")[2]
    return Paper.LETTER if country in _LETTER_COUNTRIES else Paper.A4


def begun(settings: Settings) -> Lesson:
    """A new lesson: one guitar, four empty bars."""
    lesson = new_lesson()
    (part,) = lesson.parts
    head = replace(
        lesson.head,
        sheet=replace(lesson.head.sheet, paper=settings.new_paper or usual_paper()),
        note_naming=settings.new_naming or usual_naming(),
    )
    part = replace(
        part,
        name=_("Guitar {number}").format(number=1),
        setup=replace(part.setup, name=_("Standard tuning")),
    )
    return replace(lesson, head=head, parts=(part,))
