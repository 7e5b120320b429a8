"""What there is to say of a lesson, as values.

Conventions
-----------
- Notes and degrees are the model's names (ASCII, no octave); strings, bars and beats count from 1.
- Figures are rounded as they are said (pounds to a tenth, seconds to a tenth, notes a second to a
  tenth), so that a fingerprint changes when what is said changes, and not before.
- ``Fact.paths`` are the places of the lesson that a fact was computed from, written as in the
  file: ``sections[0].head.tempo``. Nothing else of the lesson, but the names of parts and the
  letters of sections, has any say in it.
"""

from __future__ import annotations

from hashlib import blake2b

import msgspec
from msgspec import Struct

from chalkfret.arrange.differences import Kind
from chalkfret.model.faults import Where
from chalkfret.model.section import CueKind, Key, Setting, Swing, Tempo

_DIGEST_BYTES = 8  # of a fingerprint: it only has to tell one state of a fact from the next


class Whole(Struct, frozen=True, tag="whole", tag_field="kind"):
    """The lesson's length."""

    sections: int
    seconds: float


class Tuned(Struct, frozen=True, tag="tuning", tag_field="kind"):
    """A part's tuning: what the trade calls it, and its notes low to high."""

    part: str
    name: str | None
    notes: tuple[str, ...]
    capo: int  # its fret, 0: none
    capo_strings: tuple[int, ...]  # () all


class StringStep(Struct, frozen=True):
    """What one string does on the way to a tuning: semitones, up positive, and cents left over."""

    string: int
    note: str  # where it goes
    semitones: int
    cents: float


class Retuning(Struct, frozen=True, tag="retuning", tag_field="kind"):
    """How a part gets to its tuning, lowest string first.

    ``start`` are the notes it comes from, low to high: standard tuning, or (``within``) the part's
    own tuning, from which a section departs.
    """

    part: str
    within: bool
    start: tuple[str, ...]
    steps: tuple[StringStep, ...]


class StringPull(Struct, frozen=True):
    """A string and its tension in pounds."""

    string: int
    lb: float


class Feel(Struct, frozen=True, tag="strings", tag_field="kind"):
    """The strings of a part: gauges, course 1 first, in thousandths of an inch; and their pull.

    ``lb`` and what follows are of the strings whose weight is known; ``change_lb`` against the
    same strings in standard tuning is None unless all are.
    """

    part: str
    gauges: tuple[tuple[float | None, ...], ...]
    lb: float | None
    change_lb: float | None
    tightest: StringPull | None
    loosest: StringPull | None
    light: tuple[StringPull, ...]  # looser than in any common set
    heavy: tuple[StringPull, ...]


class Student(Struct, frozen=True, tag="student", tag_field="kind"):
    """What a student with another guitar does with a part; ``student`` "" is standard tuning.

    ``shift``: semitones by which the same frets sound otherwise there, None where not all of them
    shift alike or ``missing`` notes cannot be played. ``apart`` are the strings that the part
    plays in its own tuning, the lowest first, each with the semitones by which the student's lies
    above it, capos included; () where the guitars have not as many strings. ``capo`` is the fret
    of a capo that makes all sound as written, 0: none does.
    """

    student: str
    part: str
    strings: int
    part_strings: int
    shift: int | None
    missing: int
    apart: tuple[tuple[int, int], ...]
    capo: int
    steps: tuple[StringStep, ...]  # from the student's tuning to the part's; () the same


class Pace(Struct, frozen=True, tag="tempo", tag_field="kind"):
    """A section's tempo, meters in order of their first bars, and length."""

    tempo: Tempo
    swing: Swing | None
    meters: tuple[tuple[int, int], ...]
    bars: int
    times: int
    seconds: float


class Changed(Struct, frozen=True, tag="change", tag_field="kind"):
    """What is otherwise than in the section before.

    Tempos as the section before ends and as this one starts; in quarters a minute as well, as the
    two may count other notes.
    """

    before: str
    ended: Tempo
    starts: Tempo
    ended_quarters: float
    starts_quarters: float
    meter_before: tuple[int, int]
    meter: tuple[int, int]


class KeyOf(Struct, frozen=True, tag="key", tag_field="kind"):
    """A section's key, and where a part has the root: 0 is the open string."""

    key: Key
    part: str
    string: int | None
    fret: int
    capo: int


class Shaped(Struct, frozen=True, tag="shapes", tag_field="kind"):
    """What a part sounds in, and what its frets suggest to who thinks in standard tuning.

    ``shaped`` is None where they suggest no one tonic. ``string`` to ``standard`` count it out on
    one string: open as tuned, the fret (above the capo), what it sounds and what habit calls it.
    ``others`` are the strings, with their frets, on which habit calls the tonic something else.
    """

    part: str
    sounds: str
    shaped: str | None
    string: int
    open: str
    capo: int
    fret: int
    standard: str
    others: tuple[tuple[int, int, str], ...]


class Named(Struct, frozen=True):
    """A note and its degree."""

    note: str
    degree: str


class NotesOf(Struct, frozen=True, tag="notes", tag_field="kind"):
    """The notes that a section plays, up from the tonic (without a key: up from C).

    ``colour`` are those played that tell the scale from plain major or minor, ``unplayed`` those
    of the scale that would; ``outside`` are not of the scale. ``third`` is the scale's: "major",
    "minor", or "" for none.
    """

    notes: tuple[Named, ...]
    colour: tuple[Named, ...]
    unplayed: tuple[Named, ...]
    outside: tuple[Named, ...]
    third: str
    keyed: bool


class Otherwise(Struct, frozen=True):
    """One difference of a second guitar, and the runs of bars (first and last) that have it."""

    what: Kind
    semitones: int
    steps: int
    bars: tuple[tuple[int, int], ...]


class Second(Struct, frozen=True, tag="second", tag_field="kind"):
    """What a part does otherwise than the first one in a section."""

    part: str
    other: str
    differences: tuple[Otherwise, ...]


class Effect(Struct, frozen=True, tag="effect", tag_field="kind"):
    """A cue: from where to where. ``part`` None: all. ``end_bar`` None: to the section's end.

    ``end_beat`` None: to the end of that bar.
    """

    label: str
    effect: CueKind
    part: str | None
    bar: int
    beat: float
    end_bar: int | None
    end_beat: float | None
    settings: tuple[Setting, ...]


class HardBar(Struct, frozen=True, tag="hard_bar", tag_field="kind"):
    """The hardest bar of a part in a section, and why.

    ``low`` and ``high`` are the frets that the hand covers within one beat, ``jump_from`` and
    ``jump_to`` the lowest frets of two beats in a row, ``speed`` notes (or chords) a second.
    """

    part: str
    bar: int
    low: int
    high: int
    jump_from: int
    jump_to: int
    speed: float


What = (
    Whole
    | Tuned
    | Retuning
    | Feel
    | Student
    | Pace
    | Changed
    | KeyOf
    | Shaped
    | NotesOf
    | Second
    | Effect
    | HardBar
)


class Fact(Struct, frozen=True):
    """One thing to say: its figures, its place, and the paths of what it was computed from.

    ``section`` is an id, None for the lesson as a whole; ``subject`` tells facts of one kind apart
    there (a part's id, a cue's).
    """

    what: What
    section: str | None
    subject: str
    where: Where
    paths: tuple[str, ...]

    @property
    def kind(self) -> str:
        """What a fact is called among those of its section: ``tuning.low``."""
        kind = str(self.what.__struct_config__.tag)
        return f"{kind}.{self.subject}" if self.subject else kind

    @property
    def fingerprint(self) -> str:
        """The same for the same figures, on every system and in every language."""
        return blake2b(msgspec.json.encode(self.what), digest_size=_DIGEST_BYTES).hexdigest()
