"""What the next fret gets without being told: its length and its voice.

- A length given to what was just typed, or a beat cut by hand, is in force for the frets that
  follow, for each voice by itself; to begin with it is a step of the beat.
- A fret takes the voice that is being written in its bar; else the one that its string had last, in
  its bar or the bar before; on a fresh string that of the fret typed before it in the same section
  and guitar.
"""

from __future__ import annotations

from math import gcd

from chalkfret.desk.riffs.columns import spans_of, step_at
from chalkfret.edits.place import Spot
from chalkfret.model import Bar, BarHead, Lesson, Note, limits
from chalkfret.model.meter import usual_steps


class Pace:
    """The lengths and the voice in force."""

    def __init__(self) -> None:
        self._lengths: dict[int, int] = {}
        self.voice = 0
        self._where: tuple[int, int] | None = None  # section and part of the fret before
        self._bar: tuple[int, int, int] | None = None  # in this bar of a part all frets get
        self._bar_voice = 0  # this voice

    def forget(self) -> None:
        """Another lesson: begin anew."""
        self._lengths.clear()
        self.voice, self._where, self._bar = 0, None, None

    def hold(self, length: int, voice: int = 0) -> None:
        """This length is in force for a voice from now on."""
        self._lengths[voice] = length

    def typed(self, spot: Spot, voice: int) -> None:
        """A fret was typed there and got this voice."""
        self.voice, self._where = voice, (spot.section, spot.part)

    def give_voice(self, spot: Spot, voice: int, length: int) -> None:
        """A voice was given to the note just typed: it goes on, with the note's length."""
        self.typed(spot, voice)
        self.hold(length, voice)
        self._bar = None

    def write_voice(self, spot: Spot, voice: int) -> None:
        """All frets in the spot's bar are of this voice from now on."""
        self._bar, self._bar_voice = (spot.section, spot.bar, spot.part), voice

    def in_force(self, voice: int = 0) -> int | None:
        """The length in force in ticks; None: a step."""
        return self._lengths.get(voice)

    def voice_at(self, lesson: Lesson, spot: Spot) -> int:
        """The voice of a fret typed at a spot."""
        if self._bar == (spot.section, spot.bar, spot.part):
            return self._bar_voice
        run = lesson.sections[spot.section].bars
        if spot.bar < len(run):
            for note in reversed(run[spot.bar].notes[spot.part]):
                if note.course == spot.course and note.onset <= spot.onset:
                    return note.voice
        if spot.bar:
            for note in reversed(run[spot.bar - 1].notes[spot.part]):
                if note.course == spot.course:
                    return note.voice
        return self.voice if self._where == (spot.section, spot.part) else 0

    def length_at(self, bar: Bar, part: int, tick: int, voice: int) -> tuple[int, int | None]:
        """The length of a fret typed at a tick, and into how many steps its beat must be cut.

        A beat is cut so that the length in force fits (None: it does already). Where the guitar
        has notes in it and it was cut by hand, its own step is the length.
        """
        head = bar.head
        _start, step = spans_of(head)[step_at(head, tick)]
        wanted = self._lengths.get(voice)
        if wanted is None or wanted % step == 0:
            return wanted or step, None
        beat = beat_at(head, tick)
        usual = head.beats[beat] // usual_steps(head.beats[beat])
        if step != usual and _stands_in(bar.notes[part], head, beat):
            return step, None
        count = cut_for(bar, beat, wanted)
        if count is None or (tick - head.beat_starts[beat]) % (head.beats[beat] // count):
            return step, None
        return wanted, count


def cut_for(bar: Bar, beat: int, ticks: int) -> int | None:
    """Into how many steps a beat is cut so that so many ticks end on one; None: too many.

    The usual steps where they do; where notes stand in it, such that they keep their steps.
    """
    head, length = bar.head, bar.head.beats[beat]
    usual = length // usual_steps(length)
    fine = usual if ticks % usual == 0 else gcd(length, ticks)
    if any(_stands_in(notes, head, beat) for notes in bar.notes):
        fine = gcd(fine, spans_of(head)[step_at(head, head.beat_starts[beat])][1])
    return length // fine if length // fine <= limits.STEPS_MAX else None


def _stands_in(notes: tuple[Note, ...], head: BarHead, beat: int) -> bool:
    """Whether any of the notes begins in a beat."""
    start = head.beat_starts[beat]
    return any(start <= note.onset < start + head.beats[beat] for note in notes)


def beat_at(head: BarHead, tick: int) -> int:
    """The beat, from 0, in which a tick of a bar lies; the bar's end belongs to the last one."""
    starts = head.beat_starts
    return max(index for index, start in enumerate(starts) if start <= tick)
