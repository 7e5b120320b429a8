"""From one tuning to another with the strings that are on: what to turn, in which order.

Conventions
-----------
- The strings stay those of the first setup: all pulls are theirs, in lb. Where the second setup
  names another string, that is said and not reckoned (``other_string``).
- One turn a course, both strings of a pair in it. The order is the one with the least span of the
  total pull on the way (``ordering.least_span``), thick strings first among equals. Where a pull is
  not known, all strings are taken to pull alike, and the pull follows the square of the frequency.
- A reference by ear is a fret of one string that sounds as another one open, both already at their
  target but for the one being tuned. Frets are counted from the nut: tune without the capo.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model.faults import Fault, fault
from chalkfret.model.pitch import midi_of
from chalkfret.model.setup import Course, GuitarString, Setup
from chalkfret.strings.ordering import least_span
from chalkfret.strings.retune import octaves_up
from chalkfret.strings.tension import frequency, tension, total_tension

_SAME_CENTS = 0.5  # two strings closer than this sound the same by ear


class CannotRetune(ValueError):
    """Two setups between which no card can be made; ``fault`` says why."""

    def __init__(self, problem: Fault) -> None:
        super().__init__(problem.code)
        self.fault = problem


class Reference(Struct, frozen=True):
    """Fret ``fret`` of course ``fretted`` sounds as course ``open`` does; fret 0: both open."""

    fretted: int
    fret: int
    open: int


class StringTurn(Struct, frozen=True):
    """What one string does: positive semitones and cents are up."""

    start: str
    target: str
    target_cents: float
    semitones: int
    cents: float
    before_lb: float | None
    after_lb: float | None
    other_string: bool


class Turn(Struct, frozen=True):
    """One course to its target; ``total_lb`` is the pull of all strings behind it."""

    course: int
    strings: tuple[StringTurn, ...]
    reference: Reference | None
    total_lb: float | None


class RetuneCard(Struct, frozen=True):
    """The turns in their order, and what all strings together pull on the way.

    ``target`` is the first setup's strings at the second's pitches. The pulls are None where a
    string's is not known; ``left`` are the courses that stay as they are.
    """

    start: Setup
    target: Setup
    turns: tuple[Turn, ...]
    left: tuple[int, ...]
    before_lb: float | None
    after_lb: float | None
    least_lb: float | None
    most_lb: float | None

    @property
    def change_lb(self) -> float | None:
        """The change of the total pull."""
        if self.before_lb is None or self.after_lb is None:
            return None
        return self.after_lb - self.before_lb


def may_retune(start: Setup, target: Setup) -> bool:
    """Whether the two have the same strings to turn."""
    return [len(one.strings) for one in start.courses] == [
        len(one.strings) for one in target.courses
    ]


def retuned(start: Setup, target: Setup) -> Setup:
    """The first setup's strings at the second's pitches and reference."""
    courses = tuple(
        Course(
            tuple(
                replace(here, pitch=there.pitch, cents=there.cents)
                for here, there in zip(course.strings, wished.strings, strict=True)
            )
        )
        for course, wished in zip(start.courses, target.courses, strict=True)
    )
    return replace(start, courses=courses, a4=target.a4)


def in_tuning(setup: Setup, courses: tuple[tuple[str, ...], ...]) -> Setup:
    """The setup at these pitches without cents, courses low to high as players name a tuning.

    One pitch for a course of several strings stands for its first; the others stay octaves away.
    Raises CannotRetune where the counts do not fit.
    """
    if len(courses) != len(setup.courses):
        raise CannotRetune(fault("retune_strings", have=len(setup.courses), need=len(courses)))
    tuned = (
        _course_at(course, pitches)
        for course, pitches in zip(setup.courses, reversed(courses), strict=True)
    )
    return replace(setup, courses=tuple(tuned))


def _course_at(course: Course, pitches: tuple[str, ...]) -> Course:
    if len(pitches) == 1:
        first = midi_of(course.strings[0].pitch)
        apart = (round((midi_of(one.pitch) - first) / 12) for one in course.strings)
        pitches = tuple(octaves_up(pitches[0], octaves) for octaves in apart)
    if len(pitches) != len(course.strings):
        raise CannotRetune(fault("retune_strings", have=len(course.strings), need=len(pitches)))
    return Course(
        tuple(
            replace(string, pitch=pitch, cents=0.0)
            for string, pitch in zip(course.strings, pitches, strict=True)
        )
    )


@lru_cache(maxsize=256)
def retune_card(start: Setup, target: Setup) -> RetuneCard:
    """The card from one setup to another; raises CannotRetune where the strings are not as many."""
    if not may_retune(start, target):
        raise CannotRetune(
            fault("retune_strings", have=_count(start.courses), need=_count(target.courses))
        )
    after = retuned(start, target)
    low_first = range(len(start.courses), 0, -1)
    moving = [number for number in low_first if _moves(start, after, number)]
    pulls = {number: _pull(start, number) for number in low_first}
    known = None not in pulls.values()
    changes = [_change(start, after, number, known) for number in moving]
    order = [moving[index] for index in least_span(changes)]
    totals = [total_tension(start).lb]
    done = {number for number in low_first if number not in moving}
    left = tuple(sorted(done))
    turns = []
    for number in order:
        done.add(number)
        totals.append(totals[-1] + changes[moving.index(number)])
        turns.append(
            Turn(
                course=number,
                strings=tuple(_string_turns(start, after, target, number)),
                reference=_reference(after, number, done),
                total_lb=totals[-1] if known else None,
            )
        )
    return RetuneCard(
        start=start,
        target=after,
        turns=tuple(turns),
        left=left,
        before_lb=totals[0] if known else None,
        after_lb=totals[-1] if known else None,
        least_lb=min(totals) if known else None,
        most_lb=max(totals) if known else None,
    )


def _count(courses: Iterable[Course]) -> int:
    return sum(len(course.strings) for course in courses)


def _pairs(start: Setup, after: Setup, number: int) -> list[tuple[GuitarString, GuitarString]]:
    return list(zip(start.course(number).strings, after.course(number).strings, strict=True))


def _moves(start: Setup, after: Setup, number: int) -> bool:
    return start.a4 != after.a4 or any(
        here.midi != there.midi for here, there in _pairs(start, after, number)
    )


def _pull(setup: Setup, number: int) -> float | None:
    each = [tension(string, setup) for string in setup.course(number).strings]
    known = [pull.lb for pull in each if pull is not None]
    return sum(known) if len(known) == len(each) else None


def _change(start: Setup, after: Setup, number: int, known: bool) -> float:
    """The change of a course's pull: in lb, or as a share where not all pulls are known."""
    if known:
        return (_pull(after, number) or 0.0) - (_pull(start, number) or 0.0)
    return sum(
        (frequency(there, after.a4) / frequency(here, start.a4)) ** 2 - 1
        for here, there in _pairs(start, after, number)
    )


def _string_turns(start: Setup, after: Setup, target: Setup, number: int) -> Iterable[StringTurn]:
    wished = target.course(number).strings
    for (here, there), other in zip(_pairs(start, after, number), wished, strict=True):
        before, behind = tension(here, start), tension(there, after)
        yield StringTurn(
            start=here.pitch,
            target=there.pitch,
            target_cents=there.cents,
            semitones=midi_of(there.pitch) - midi_of(here.pitch),
            cents=there.cents - here.cents,
            before_lb=None if before is None else before.lb,
            after_lb=None if behind is None else behind.lb,
            other_string=(here.gauge, here.winding) != (other.gauge, other.winding),
        )


def _reference(after: Setup, number: int, done: set[int]) -> Reference | None:
    """The reference with the lowest fret, on the nearest string, best pressed on a tuned one."""
    here = after.course(number).strings[0]
    found = []
    for other in done - {number}:
        there = after.course(other).strings[0]
        ways = (other, there, number, here), (number, here, other, there)
        for fretted, one, open_, two in ways:
            apart = two.midi - one.midi
            fret = round(apart)
            same = abs(apart - fret) * 100 < _SAME_CENTS
            pressed = fret == 0 or not one.first_fret
            if same and pressed and 0 <= fret <= after.fret_count:
                key = (fret, abs(other - number), fretted == number)
                found.append((key, Reference(fretted, fret, open_)))
    return min(found, key=lambda entry: entry[0])[1] if found else None
