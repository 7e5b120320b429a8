"""What one guitar does otherwise than another, in sentences: ``Guitar 2 is silent.``"""

from __future__ import annotations

from typing import Final

from chalkfret.arrange.differences import Difference, DifferentBars, Kind
from chalkfret.words.text import N_, _, ngettext

_SENTENCES: Final[dict[Kind, str]] = {
    Kind.SILENT: N_("{part} is silent while {other} plays."),
    Kind.ALONE: N_("{part} plays while {other} is silent."),
    Kind.RHYTHM: N_("{part} plays another rhythm than {other}."),
    Kind.NOTES: N_("{part} plays other notes than {other}, in the same rhythm."),
    Kind.MARKS: N_("{part} plays the notes of {other} with other marks."),
    Kind.LENGTHS: N_("{part} plays the notes of {other}, held longer or shorter."),
    Kind.PLACES: N_("{part} plays the notes of {other} on other strings or frets."),
}

_SHORT: Final[dict[Kind, str]] = {
    Kind.SILENT: N_("silent"),
    Kind.ALONE: N_("alone"),
    Kind.RHYTHM: N_("other rhythm"),
    Kind.NOTES: N_("other notes"),
    Kind.MARKS: N_("other marks"),
    Kind.LENGTHS: N_("other lengths"),
    Kind.PLACES: N_("other strings or frets"),
}

_INTERVALS: Final = (
    N_("a semitone"),
    N_("a tone"),
    N_("a minor third"),
    N_("a major third"),
    N_("a fourth"),
    N_("a tritone"),
    N_("a fifth"),
    N_("a minor sixth"),
    N_("a major sixth"),
    N_("a minor seventh"),
    N_("a major seventh"),
    N_("an octave"),
)
_OCTAVES: Final = {24: N_("two octaves"), 36: N_("three octaves"), 48: N_("four octaves")}

# In a key, where the exact size varies from note to note.
_STEPS: Final = (
    N_("a second"),
    N_("a third"),
    N_("a fourth"),
    N_("a fifth"),
    N_("a sixth"),
    N_("a seventh"),
    N_("an octave"),
)


def interval_words(what: Difference) -> str:
    """How far parallel parts lie apart, whichever is higher: ``a major third``."""
    semitones, steps = abs(what.semitones), abs(what.steps)
    if 1 <= semitones <= len(_INTERVALS):
        return _(_INTERVALS[semitones - 1])
    if semitones in _OCTAVES:
        return _(_OCTAVES[semitones])
    if semitones:
        return ngettext("{count} semitone", "{count} semitones", semitones).format(count=semitones)
    if 1 <= steps <= len(_STEPS):
        return _(_STEPS[steps - 1])
    return ngettext("{count} scale step", "{count} scale steps", steps).format(count=steps)


def difference_words(what: Difference, part: str, other: str) -> str:
    """What ``part`` does otherwise than ``other``, both by their names."""
    if what.kind is not Kind.PARALLEL:
        return _(_SENTENCES[what.kind]).format(part=part, other=other)
    higher = what.semitones > 0 or what.steps > 0
    text = _("{part} plays {interval} higher than {other}.")
    if not higher:
        text = _("{part} plays {interval} lower than {other}.")
    return text.format(part=part, other=other, interval=interval_words(what))


def short_words(what: Difference) -> str:
    """The difference in a few words, as the grid marks it: ``an octave lower``."""
    if what.kind is not Kind.PARALLEL:
        return _(_SHORT[what.kind])
    higher = what.semitones > 0 or what.steps > 0
    text = _("{interval} higher") if higher else _("{interval} lower")
    return text.format(interval=interval_words(what))


def bars_words(letter: str, found: DifferentBars) -> str:
    """The bars of a section: ``Section A, bars 5 to 8``."""
    first, last = found.first + 1, found.last + 1
    if first == last:
        return _("Section {letter}, bar {bar}").format(letter=letter, bar=first)
    return _("Section {letter}, bars {first} to {last}").format(
        letter=letter, first=first, last=last
    )
