"""The names of things on the Strings page, and its sentences about a string."""

from __future__ import annotations

from chalkfret.desk.strings_page.setups import Doubling
from chalkfret.model import Drive, Section
from chalkfret.words.text import N_, _

DOUBLINGS = {
    Doubling.SINGLE: N_("single strings"),
    Doubling.TWELVE: N_("pairs, octaves from string 3 on"),
    Doubling.UNISON: N_("pairs of the same note"),
    Doubling.MIXED: N_("each as it is"),
}

DRIVES = {
    Drive.CLEAN: N_("clean"),
    Drive.CRUNCH: N_("some drive"),
    Drive.HEAVY: N_("much drive"),
}

# General MIDI 1, sound set, guitars and basses (numbers as on the wire)
PROGRAMS = {
    24: N_("nylon-string guitar"),
    25: N_("steel-string guitar"),
    26: N_("jazz guitar, clean"),
    27: N_("electric guitar, clean"),
    28: N_("electric guitar, muted"),
    29: N_("electric guitar, overdriven"),
    30: N_("electric guitar, distorted"),
    31: N_("guitar harmonics"),
    32: N_("acoustic bass"),
    33: N_("fingered bass"),
    34: N_("picked bass"),
    105: N_("banjo"),
}

# What an undo step calls a change; the part's name follows.
UNDO = {
    "pitch": N_("note"),
    "cents": N_("cents"),
    "gauge": N_("gauge"),
    "winding": N_("kind"),
    "scale_mm": N_("own scale length"),
    "first_fret": N_("first fret"),
    "unit_weight": N_("weight"),
    "name": N_("name of the setup"),
    "scale": N_("scale length"),
    "fret_count": N_("number of frets"),
    "capo": N_("capo"),
    "a4": N_("A4"),
    "courses": N_("courses"),
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
