"""Names of intervals and chords, and what a part sounds in and is shaped as, with the count."""

from __future__ import annotations

from typing import Final

from chalkfret.model.lesson import NoteNaming
from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Key
from chalkfret.theory.chords import ChordKind, Missing, Named
from chalkfret.theory.degrees import colour_degrees
from chalkfret.theory.intervals import Interval
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.theory.scales import plain_name
from chalkfret.theory.shape_key import Counted, ShapeKey
from chalkfret.theory.shapes import Shape, Used
from chalkfret.theory.spelling import name_of
from chalkfret.words.text import N_, _, ngettext

# By steps of letters and semitones.
_INTERVALS: Final = {
    (0, 0): N_("unison"),
    (0, 1): N_("augmented unison"),
    (0, -1): N_("diminished octave"),
    (1, 0): N_("diminished second"),
    (1, 1): N_("minor second"),
    (1, 2): N_("major second"),
    (1, 3): N_("augmented second"),
    (2, 2): N_("diminished third"),
    (2, 3): N_("minor third"),
    (2, 4): N_("major third"),
    (2, 5): N_("augmented third"),
    (3, 4): N_("diminished fourth"),
    (3, 5): N_("fourth"),
    (3, 6): N_("augmented fourth"),
    (4, 6): N_("diminished fifth"),
    (4, 7): N_("fifth"),
    (4, 8): N_("augmented fifth"),
    (5, 7): N_("diminished sixth"),
    (5, 8): N_("minor sixth"),
    (5, 9): N_("major sixth"),
    (5, 10): N_("augmented sixth"),
    (6, 9): N_("diminished seventh"),
    (6, 10): N_("minor seventh"),
    (6, 11): N_("major seventh"),
    (6, 12): N_("augmented seventh"),
}


def interval_words(one: Interval) -> str:
    """An interval in words: ``minor third``, ``fifth and an octave``, ``octave``."""
    if (one.steps, one.semitones) == (0, 0) and one.octaves:
        return ngettext("octave", "{count} octaves", one.octaves).format(count=one.octaves)
    text = _INTERVALS.get((one.steps, one.semitones))
    if text is None:
        semitones = one.semitones + 12 * one.octaves
        return ngettext("{count} semitone", "{count} semitones", semitones).format(count=semitones)
    if one.octaves <= 0:
        return _(text)
    if one.octaves == 1:
        return _("{interval} and an octave").format(interval=_(text))
    return _("{interval} and {count} octaves").format(interval=_(text), count=one.octaves)


def shape_words(shape: Shape, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """What sounds together: ``C5, one finger``; empty for a note alone.

    Where the same fingers give another kind of chord in standard tuning, that is said too.
    """
    named = shape.chord
    if named.kind is ChordKind.SINGLE:
        return ""
    what = chord_words(named, shape, naming)
    habit = shape.by_habit
    if shape.fingers == 1:
        what = _("{chord}, one finger").format(chord=what)
    if (habit.kind, habit.quality, habit.steps) != (named.kind, named.quality, named.steps):
        usual = _habit_words(habit, naming)
        return _("{chord}; the same frets in standard tuning: {usual}").format(
            chord=what, usual=usual
        )
    return what


def chord_words(named: Named, shape: Shape, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """The name of what sounds, its notes called as they are in the shape."""
    if named.kind in (ChordKind.UNISON, ChordKind.OCTAVE) or (
        named.kind is ChordKind.INTERVAL and len(shape.sounds) == 2
    ):
        return interval_words(shape.sounds[-1].above)
    root = None if named.root is None else shape.name_of_class(named.root)
    return symbol_words(named, root, shape.name_of_class(named.bass), naming)


def _habit_words(named: Named, naming: NoteNaming) -> str:
    root = None if named.root is None else plain_name(named.root)
    return symbol_words(named, root, plain_name(named.bass), naming)


# Of two pitch classes, where no spelling decides.
_PLAIN: Final = (0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6)


def symbol_words(named: Named, root: str | None, bass: str, naming: NoteNaming) -> str:
    """The name of what sounds, its root and bass called so."""
    if named.kind is ChordKind.OCTAVE:
        return _("octaves of {note}").format(note=shown(bass, naming))
    if named.kind in (ChordKind.SINGLE, ChordKind.UNISON):
        return shown(bass, naming)
    if named.kind is ChordKind.INTERVAL:
        semitones = named.semitones
        return interval_words(Interval(_PLAIN[semitones], semitones, 0))
    if root is None:
        return _("no chord that has a name")
    symbol = "5" if named.kind is not ChordKind.CHORD else named.quality.value
    text = shown(root, naming) + symbol
    if named.inverted:
        text = f"{text}/{shown(bass, naming)}"
    if named.missing is Missing.THIRD:
        return _("{chord} without its third").format(chord=text)
    if named.missing is Missing.FIFTH:
        return _("{chord} without its fifth").format(chord=text)
    return text


def shape_key_words(found: ShapeKey, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """``sounds in B♭, shaped as C``; where strings in use have another habit, that is said."""
    if found.shaped is None or found.wished or not found.others:
        return sounds_shaped_words(found.sounds, found.shaped, naming)
    return _("sounds in {sounds}, shaped as {shaped}, but not on every string").format(
        sounds=shown(found.sounds, naming), shaped=shown(found.shaped, naming)
    )


def sounds_shaped_words(
    sounds: str, shaped: str | None, naming: NoteNaming = NoteNaming.ENGLISH
) -> str:
    """``sounds in B♭, shaped as C``, or that there is no one answer."""
    if shaped is None:
        return _("sounds in {sounds}, shaped as no one key: the strings differ").format(
            sounds=shown(sounds, naming)
        )
    return _("sounds in {sounds}, shaped as {shaped}").format(
        sounds=shown(sounds, naming), shaped=shown(shaped, naming)
    )


def shaped_words(found: ShapeKey, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """``shaped as C``, for a short line; empty where habit is right or has no one answer."""
    if found.shaped is None or found.shaped == found.sounds:
        return ""
    return _("shaped as {shaped}").format(shaped=shown(found.shaped, naming))


def proof_lines(found: ShapeKey, naming: NoteNaming = NoteNaming.ENGLISH) -> tuple[str, ...]:
    """The count string by string, a sentence each, and the strings of another habit."""
    lines = [_proof(one, naming) for one in found.proof]
    lines += [
        _("String {course} is tuned otherwise: its shapes say {tonic}.").format(
            course=course, tonic=shown(tonic, naming)
        )
        for course, tonic in found.others
    ]
    return tuple(lines)


def _proof(one: Counted, naming: NoteNaming) -> str:
    if one.fret == 0 and one.capo:
        text = _(
            "Open string {course} is {open}, the capo at fret {capo} makes it {sounds}; "
            "in standard tuning it is {standard}."
        )
    elif one.fret == 0:
        text = _("Open string {course} is {sounds}; in standard tuning it is {standard}.")
    elif one.capo:
        text = _(
            "Open string {course} is {open}, the capo at fret {capo} makes it {at_capo}; fret "
            "{fret} above it is {sounds}. In standard tuning without a capo it is {standard}."
        )
    else:
        text = _(
            "Open string {course} is {open}; fret {fret} is {sounds}. "
            "In standard tuning it is {standard}."
        )
    return text.format(
        course=one.course,
        open=shown(one.open, naming),
        capo=one.capo,
        at_capo=shown(one.at_capo, naming),
        fret=one.fret,
        sounds=shown(one.sounds, naming),
        standard=shown(one.standard, naming),
    )


def used_lines(
    used: tuple[Used, ...],
    key: Key,
    naming: NoteNaming = NoteNaming.ENGLISH,
    simple: bool = False,
) -> tuple[str, ...]:
    """The notes in use with their degrees, then those that colour the mode; nothing for none."""
    if not used:
        return ()
    tonic = pitch_class(key.tonic)
    notes = [
        f"{shown(name_of(tonic + one.semitones, one.degree, key, simple=simple), naming)}"
        f"\N{NO-BREAK SPACE}({degree_shown(one.degree)})"
        for one in used
    ]
    lines = [_("Plays {notes}.").format(notes=", ".join(notes))]
    played = {one.degree for one in used}
    colours = [degree_shown(one) for one in colour_degrees(key) if one in played]
    if colours:
        text = ngettext(
            "{degrees} gives the mode its colour.", "{degrees} give the mode its colour.",
            len(colours),
        )  # fmt: skip
        lines.append(text.format(degrees=", ".join(colours)))
    return tuple(lines)
