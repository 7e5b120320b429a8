"""The names of things on the Strings page, and its sentences about a string."""

from __future__ import annotations

from chalkfret.desk.strings_page.setups import Doubling
from chalkfret.model import Drive, Section, Winding
from chalkfret.words.strings import winding_words
from chalkfret.words.text import _

WINDINGS = {winding: winding_words(winding) for winding in Winding}

DOUBLINGS = {
    Doubling.SINGLE: _("single strings"),
    Doubling.TWELVE: _("pairs, octaves from string 3 on"),
    Doubling.UNISON: _("pairs of the same note"),
    Doubling.MIXED: _("each as it is"),
}

DRIVES = {
    Drive.CLEAN: _("clean"),
    Drive.CRUNCH: _("some drive"),
    Drive.HEAVY: _("much drive"),
}

# General MIDI 1, sound set, guitars and basses (numbers as on the wire)
PROGRAMS = {
    24: _("nylon-string guitar"),
    25: _("steel-string guitar"),
    26: _("jazz guitar, clean"),
    27: _("electric guitar, clean"),
    28: _("electric guitar, muted"),
    29: _("electric guitar, overdriven"),
    30: _("electric guitar, distorted"),
    31: _("guitar harmonics"),
    32: _("acoustic bass"),
    33: _("fingered bass"),
    34: _("picked bass"),
    105: _("banjo"),
}

# What an undo step calls a change; the part's name follows.
UNDO = {
    "pitch": _("note"),
    "cents": _("cents"),
    "gauge": _("gauge"),
    "winding": _("kind"),
    "scale_mm": _("own scale length"),
    "first_fret": _("first fret"),
    "unit_weight": _("weight"),
    "name": _("name of the setup"),
    "scale": _("scale length"),
    "fret_count": _("number of frets"),
    "capo": _("capo"),
    "a4": _("A4"),
    "courses": _("courses"),
}


def section_words(section: Section) -> str:
    """A section as lists name it: its letter and name."""
    head = section.head
    return f"{head.letter}  {head.name}".rstrip()


def string_words(course: int, string: int, strings: int) -> str:
    """A string as one says it: ``string 5``, ``string 5, second``."""
    words = _("string {course}").format(course=course)
    if strings == 1:
        return words
    which = (_("first"), _("second"), _("third"))[string]
    return _("{string}, {which}").format(string=words, which=which)
