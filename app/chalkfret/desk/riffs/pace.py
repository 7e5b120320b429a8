"""What the next fret gets without being told: its length and its voice.

- A length given to what was just typed, or a beat cut by hand, is in force for the frets that
  follow, for each voice by itself; to begin with it is a step of the beat.
- A fret takes the voice that its string had last, in its bar or the bar before; on a fresh string
  that of the fret typed before it in the same section and guitar.
"""

from __future__ import annotations

from math import gcd

from chalkfret.desk.riffs.columns import spans_of, step_at
from chalkfret.edits.place import Spot
from chalkfret.model import Bar, BarHead, Lesson, limits
from chalkfret.model.meter import usual_steps


class Pace:
    """The lengths and the voice in force."""

    def __init__(self) -> None:
        self._lengths: dict[int, int] = {}
        self.voice = 0
        self._where: tuple[int, int] | None = None  # section and part of the fret before

    def forget(self) -> None:
        """Another lesson: begin anew."""
        self._lengths.clear()
        self.voice, self._where = 0, None

    def hold(self, length: int, voice: int = 0) -> None:
        """This length is in force for a voice from now on."""
        self._lengths[voice] = length

    def typed(self, spot: Spot, voice: int) -> None:
        """A fret was typed there, or a voice given to the note there."""
        self.voice, self._where = voice, (spot.section, spot.part)

    def in_force(self, voice: int = 0) -> int | None:
        """The length in force in ticks; None: a step."""
        return self._lengths.get(voice)

    def voice_at(self, lesson: Lesson, spot: Spot) -> int:
        """The voice of a fret typed at a spot."""
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

    def length_at(self, bar: Bar, tick: int, voice: int) -> tuple[int, int | None]:
        """The length of a fret typed at a tick, and into how many steps its beat must be cut.

        A beat is cut so that the length in force fits (None: it does already); where notes stand
        in it and it was cut by hand, its own step is the length.
        """
        head = bar.head
        _start, step = spans_of(head)[step_at(head, tick)]
        wanted = self._lengths.get(voice)
        if wanted is None or wanted % step == 0:
            return wanted or step, None
        beat = beat_at(head, tick)
        length, begins = head.beats[beat], head.beat_starts[beat]
        is_begun = any(begins <= n.onset < begins + length for notes in bar.notes for n in notes)
        if is_begun and head.steps and head.steps[beat] != usual_steps(length):
            return step, None
        usual = length // usual_steps(length)
        fine = usual if wanted % usual == 0 else gcd(length, wanted)
        if length // fine > limits.STEPS_MAX or (tick - begins) % fine:
            return step, None
        return wanted, length // fine


def beat_at(head: BarHead, tick: int) -> int:
    """The beat, from 0, in which a tick of a bar lies; the bar's end belongs to the last one."""
    starts = head.beat_starts
    return max(index for index, start in enumerate(starts) if start <= tick)
