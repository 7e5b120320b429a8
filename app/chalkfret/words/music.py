"""The music of a lesson in words: keys, modes, degrees, meters, tempos, swing."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from chalkfret.model.knobs import Knob, Unit, knob_of
from chalkfret.model.lesson import NoteNaming, Part
from chalkfret.model.meter import Meter
from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import (
    BeatUnit,
    CueKind,
    Key,
    Mode,
    Section,
    Setting,
    Swing,
    SwingUnit,
    Tempo,
)
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.theory.roots import root_place
from chalkfret.theory.scales import degrees_of, is_simple, plain_name, scale_notes
from chalkfret.words.figures import number_words
from chalkfret.words.text import N_, _

_MODES: Final[dict[Mode, str]] = {
    Mode.MAJOR: N_("major"),
    Mode.DORIAN: N_("Dorian"),
    Mode.PHRYGIAN: N_("Phrygian"),
    Mode.LYDIAN: N_("Lydian"),
    Mode.MIXOLYDIAN: N_("Mixolydian"),
    Mode.MINOR: N_("minor"),
    Mode.LOCRIAN: N_("Locrian"),
    Mode.HARMONIC_MINOR: N_("harmonic minor"),
    Mode.MELODIC_MINOR: N_("melodic minor"),
    Mode.DORIAN_FLAT_2: N_("Dorian ♭2"),
    Mode.LYDIAN_AUGMENTED: N_("Lydian augmented"),
    Mode.LYDIAN_DOMINANT: N_("Lydian dominant"),
    Mode.MIXOLYDIAN_FLAT_6: N_("Mixolydian ♭6"),
    Mode.LOCRIAN_NATURAL_2: N_("Locrian ♮2"),
    Mode.ALTERED: N_("altered"),
    Mode.LOCRIAN_NATURAL_6: N_("Locrian ♮6"),
    Mode.IONIAN_AUGMENTED: N_("Ionian augmented"),
    Mode.DORIAN_SHARP_4: N_("Dorian ♯4"),
    Mode.PHRYGIAN_DOMINANT: N_("Phrygian dominant"),
    Mode.LYDIAN_SHARP_2: N_("Lydian ♯2"),
    Mode.MAJOR_PENTATONIC: N_("major pentatonic"),
    Mode.MINOR_PENTATONIC: N_("minor pentatonic"),
    Mode.BLUES: N_("blues"),
    Mode.MAJOR_BLUES: N_("major blues"),
    Mode.WHOLE_TONE: N_("whole tone"),
    Mode.DIMINISHED_WHOLE_HALF: N_("diminished, whole and half steps"),
    Mode.DIMINISHED_HALF_WHOLE: N_("diminished, half and whole steps"),
    Mode.DOUBLE_HARMONIC: N_("double harmonic"),
}

_UNITS: Final[dict[BeatUnit, str]] = {
    BeatUnit.HALF: N_("half notes"),
    BeatUnit.DOTTED_HALF: N_("dotted half notes"),
    BeatUnit.QUARTER: N_("quarter notes"),
    BeatUnit.DOTTED_QUARTER: N_("dotted quarter notes"),
    BeatUnit.EIGHTH: N_("eighth notes"),
    BeatUnit.DOTTED_EIGHTH: N_("dotted eighth notes"),
    BeatUnit.SIXTEENTH: N_("sixteenth notes"),
}


def mode_words(mode: Mode) -> str:
    """The name of a mode: ``Lydian``, ``minor``."""
    return _(_MODES[mode])


def key_words(key: Key, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """A key as one says it: ``E♭ Lydian``; a typed scale by its degrees; a tonic alone."""
    tonic = shown(key.tonic, naming)
    if key.degrees:
        return _("{tonic} with {degrees}").format(tonic=tonic, degrees=degrees_words(key))
    if key.mode is None:
        return tonic
    return _("{tonic} {mode}").format(tonic=tonic, mode=mode_words(key.mode))


def degrees_words(key: Key) -> str:
    """The degrees of a key's scale in a row: ``1 2 3 ♯4 5 6 7``."""
    return " ".join(degree_shown(degree) for degree in degrees_of(key))


class ScaleStep(Struct, frozen=True):
    """One note of a scale as the sheet prints it: its name over its degree."""

    note: str
    degree: str


def scale_steps(
    key: Key, naming: NoteNaming = NoteNaming.ENGLISH, simple: bool = False
) -> tuple[ScaleStep, ...]:
    """The notes of a key's scale with their degrees, with proper signs."""
    steps: list[ScaleStep] = []
    for note, degree in zip(scale_notes(key), degrees_of(key), strict=True):
        name = plain_name(pitch_class(note)) if simple and not is_simple(note) else note
        steps.append(ScaleStep(shown(name, naming), degree_shown(degree)))
    return tuple(steps)


def key_line(
    section: Section, part: Part, index: int, naming: NoteNaming = NoteNaming.ENGLISH
) -> str:
    """``E♭ Lydian, root at fret 3 of string 5``; empty for a section without a tonic.

    ``index`` is the part's place in the lesson.
    """
    key = section.head.key
    if key is None:
        return ""
    root = root_place(section, part, index)
    if root is None:
        return key_words(key, naming)
    if root.fret == 0:
        place = _("root on open string {course}")
    elif root.capo:
        place = _("root at fret {fret} above the capo on string {course}")
    else:
        place = _("root at fret {fret} of string {course}")
    return f"{key_words(key, naming)}, {place.format(fret=root.fret, course=root.course)}"


def meter_words(meter: Meter) -> str:
    """A meter as one writes it in a line: ``7/8``."""
    return f"{meter.count}/{meter.unit}"


def beat_unit_words(unit: BeatUnit) -> str:
    """The notes that a tempo counts, in the plural: ``dotted quarter notes``."""
    return _(_UNITS[unit])


def tempo_words(tempo: Tempo) -> str:
    """``120 quarter notes a minute``; with a change, ``90 to 120 quarter notes a minute, ...``."""
    start, units = number_words(tempo.start), beat_unit_words(tempo.unit)
    if tempo.end is None or tempo.end == tempo.start:
        return _("{start} {units} a minute").format(start=start, units=units)
    words = _("{start} to {end} {units} a minute").format(
        start=start, end=number_words(tempo.end), units=units
    )
    faster = tempo.end > tempo.start
    return f"{words}, {_('getting faster') if faster else _('getting slower')}"


def swing_words(swing: Swing | None) -> str:
    """``swung eighths, 2 to 1``; empty where nothing swings."""
    if swing is None or swing.ratio == 1:
        return ""
    text = (
        _("swung eighths, {ratio} to 1")
        if swing.unit is SwingUnit.EIGHTH
        else _("swung sixteenths, {ratio} to 1")
    )
    return text.format(ratio=number_words(swing.ratio))


_KNOBS: Final = {
    "amount": N_("amount"),
    "rate": N_("rate"),
    "depth": N_("depth"),
    "time": N_("time"),
    "feedback": N_("feedback"),
    "mix": N_("mix"),
    "length": N_("length"),
    "from": N_("from"),
    "to": N_("to"),
    "interval": N_("interval"),
}

_KNOB_UNITS: Final[dict[Unit, str]] = {
    Unit.PERCENT: N_("{value} %"),
    Unit.HERTZ: N_("{value} Hz"),
    Unit.MILLISECONDS: N_("{value} ms"),
    Unit.SECONDS: N_("{value} s"),
    Unit.SEMITONES: N_("{value} semitones"),
}


def knob_words(name: str) -> str:
    """A knob's name; one of the teacher's own stands as it is."""
    return _(_KNOBS[name]) if name in _KNOBS else name


def knob_unit(knob: Knob) -> str:
    """The unit of a knob, as it stands behind its value: "ms", "%"."""
    return _(_KNOB_UNITS[knob.unit]).format(value="").strip()


def knob_value(kind: CueKind, setting: Setting) -> str:
    """A setting's value with its unit: "340 ms", "30 %"."""
    value = number_words(setting.value)
    knob = knob_of(kind, setting.name)
    return value if knob is None else _(_KNOB_UNITS[knob.unit]).format(value=value)


def setting_words(kind: CueKind, setting: Setting) -> str:
    """One setting of an effect: "time 340 ms"."""
    return f"{knob_words(setting.name)} {knob_value(kind, setting)}"
