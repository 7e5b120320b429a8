"""Lessons for tests in one readable line.

A riff is a line of words, bar lines between them::

    riff("e 6:0m 0m s 6:3h 5 | q 6:0+5:2+4:2 e r 5:7~ h 5:7t")

- ``w h q e s t``: the length in force from here (whole to 32nd), dotted ``q.``, of a tuplet
  ``e3`` (three in the time of two), ``s5`` (five in the time of four), ``s7``, ``s9``.
- ``6:0`` string and fret; ``0`` alone: the same string as before; ``6:0+5:2`` together.
- ``r``: a rest.  ``|``: a bar line.
- letters after a fret are marks, see ``SUFFIXES``: ``5h`` hammered on, ``7p`` pulled off to ...
"""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from chalkfret.model import (
    QUARTER,
    ArtificialHarmonic,
    Bar,
    BarHead,
    Bars,
    Bend,
    BendPoint,
    Key,
    Lesson,
    LessonHead,
    Mark,
    Meter,
    Mode,
    NaturalHarmonic,
    Note,
    Notes,
    Part,
    Section,
    SectionHead,
    Setup,
    Sign,
    Slide,
    SlideWay,
    Tempo,
    Tremolo,
    Trill,
    Vibrato,
    in_order,
)
from chalkfret.model.start import STANDARD_SETUP, plain_setup

LENGTHS = {
    "w": 4 * QUARTER,
    "h": 2 * QUARTER,
    "q": QUARTER,
    "e": QUARTER // 2,
    "s": QUARTER // 4,
    "t": QUARTER // 8,
}
_IN_THE_TIME_OF = {3: 2, 5: 4, 6: 4, 7: 4, 9: 8}

SUFFIXES: dict[str, Mark] = {
    "t": Sign.TIE,
    "h": Sign.HAMMER_ON,
    "p": Sign.PULL_OFF,
    "T": Sign.TAP,
    "x": Sign.DEAD,
    "g": Sign.GHOST,
    "m": Sign.PALM_MUTE,
    "l": Sign.LET_RING,
    ">": Sign.ACCENT,
    "'": Sign.STACCATO,
    "d": Sign.DOWN_STROKE,
    "u": Sign.UP_STROKE,
    "/": Slide(SlideWay.FROM_NOTE),
    "^": Slide(SlideWay.IN_FROM_BELOW),
    "\\": Slide(SlideWay.OUT_DOWN),
    "~": Vibrato(),
    "b": Bend((BendPoint(0, 0), BendPoint(QUARTER // 4, 200))),
    "n": NaturalHarmonic(12.0),
    "a": ArtificialHarmonic(),
    "k": Trill(12),
    "z": Tremolo(),
}

_LENGTH = re.compile(r"([whqest])([35679])?(\.?)")
_NOTE = re.compile(r"(?:(\d+):)?(\d+)(.*)")


def ticks(word: str) -> int:
    """Ticks of a length word: ``q``, ``e.``, ``s5``."""
    match = _LENGTH.fullmatch(word)
    assert match, f"no length: {word!r}"
    letter, tuplet, dot = match.groups()
    length = Fraction(LENGTHS[letter])
    if tuplet:
        length *= Fraction(_IN_THE_TIME_OF[int(tuplet)], int(tuplet))
    if dot:
        length *= Fraction(3, 2)
    assert length.denominator == 1, f"not whole ticks: {word!r}"
    return int(length)


def riff(line: str) -> list[Notes]:
    """The notes of each bar of a riff."""
    bars: list[Notes] = []
    length, course = QUARTER, 6
    for words in line.split("|"):
        at = 0
        notes: list[Note] = []
        for word in words.split():
            if _LENGTH.fullmatch(word):
                length = ticks(word)
                continue
            if word != "r":
                for one in word.split("+"):
                    match = _NOTE.fullmatch(one)
                    assert match, f"no note: {one!r}"
                    course = int(match[1]) if match[1] else course
                    marks = in_order(tuple(SUFFIXES[letter] for letter in match[3]))
                    notes.append(Note(at, length, course, int(match[2]), marks=marks))
            at += length
        bars.append(tuple(sorted(notes, key=lambda note: (note.onset, note.course))))
    return bars


def section(
    letter: str,
    *riffs: str,
    name: str = "",
    tempo: float | Tempo = 100.0,
    meter: Meter | tuple[int, int] = Meter(4, 4),
    key: str | Key | None = None,
    heads: dict[int, BarHead] | None = None,
    **head: object,
) -> Section:
    """A section, a riff a part: ``section("A", "q 6:0 3 5 0", key="E minor")``.

    ``heads`` replaces the heads of bars by their index from 0.
    """
    parts = [riff(line) for line in riffs] or [[()]]
    count = max(len(part) for part in parts)
    rows = [part + [()] * (count - len(part)) for part in parts]
    plain = BarHead(meter=meter if isinstance(meter, Meter) else Meter(*meter))
    bars = [
        Bar((heads or {}).get(index, plain), tuple(notes))
        for index, notes in enumerate(zip(*rows, strict=True))
    ]
    return Section(
        id=f"s-{letter.lower()}",
        head=SectionHead(
            letter=letter,
            name=name,
            tempo=tempo if isinstance(tempo, Tempo) else Tempo(float(tempo)),
            key=parse_key(key) if isinstance(key, str) else key,
            **head,  # type: ignore[arg-type]
        ),
        bars=Bars.of(bars),
    )


def parse_key(text: str) -> Key:
    """``"E minor"`` as a key."""
    tonic, _, mode = text.partition(" ")
    return Key(tonic, Mode(mode.replace(" ", "_")) if mode else None)


def part(name: str, setup: Setup = STANDARD_SETUP) -> Part:
    """A part whose id is its name."""
    return Part(id=re.sub(r"[^a-z0-9]+", "-", name.lower()), name=name, setup=setup)


def tuned(names: str, **more: object) -> Setup:
    """A setup by its pitches low to high: ``tuned("C2 G2 C3 F3 A3 D4", scale_mm=685.8)``."""
    pitches = names.split()
    setup = plain_setup(pitches, [None] * len(pitches), name=names)
    return replace(setup, **more)


def lesson(*sections: Section, parts: tuple[Part, ...] = (), title: str = "A lesson") -> Lesson:
    """A lesson of these sections; parts default to guitars in standard tuning."""
    count = len(sections[0].bars[0].notes)
    parts = parts or tuple(part(f"Guitar {number}") for number in range(1, count + 1))
    return Lesson(head=LessonHead(title=title), parts=parts, sections=sections)
