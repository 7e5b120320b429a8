"""The cuts of beats that come along with copied music, so that it lands on steps and is bracketed.

Conventions are those of ``edits.clip``: a clip tells the steps of each whole beat that it holds.
"""

from __future__ import annotations

from msgspec.structs import replace

from chalkfret.edits.clip import Clip, ClipBeat
from chalkfret.edits.place import Ruler, Span, Spot, stretches
from chalkfret.edits.replacing import with_section
from chalkfret.edits.values import obey_bar
from chalkfret.model import Bar, BarHead, Lesson
from chalkfret.model.meter import bar_steps, usual_steps


def beats_of(lesson: Lesson, span: Span) -> tuple[ClipBeat, ...]:
    """The whole beats of a span and their steps; ``check_span`` must have passed."""
    found: list[ClipBeat] = []
    for stretch in stretches(lesson, span):
        head = lesson.sections[stretch.section].bars[stretch.bar].head
        for start, length, steps in zip(head.beat_starts, head.beats, _steps(head), strict=True):
            if stretch.start <= start and start + length <= stretch.stop:
                found.append(ClipBeat(stretch.base + start, length, steps))
    return tuple(found)


def with_cuts(lesson: Lesson, spot: Spot, clip: Clip, times: int) -> Lesson:
    """The lesson, into which a clip was pasted, with the clip's cuts of the beats it fell on.

    A beat of another length keeps its steps, and so does one where a note stands on a step that it
    would lose: another part's, or that of a string which the clip does not cover.
    """
    section = lesson.sections[spot.section]
    ruler = Ruler(section.bars, spot.bar)
    wished: dict[int, dict[int, ClipBeat]] = {}
    for time in range(times):
        for beat in clip.beats:
            place = ruler.place(spot.onset + time * clip.length + beat.at)
            if place is not None and beat.at + beat.length <= clip.length:
                wished.setdefault(place[0], {})[place[1]] = beat
    changed = {}
    for index, beats in wished.items():
        bar = section.bars[index]
        head = _cut(bar, beats)
        if head != bar.head:
            changed[index] = replace(bar, head=obey_bar(lesson, spot.section, index, head))
    if not changed:
        return lesson
    return with_section(
        lesson, spot.section, replace(section, bars=section.bars.with_bars(changed))
    )


def _steps(head: BarHead) -> tuple[int, ...]:
    return head.steps or tuple(map(usual_steps, head.beats))


def _cut(bar: Bar, wished: dict[int, ClipBeat]) -> BarHead:
    """The bar's head with the wished steps, by where the beats begin, as far as they fit."""
    head = bar.head
    steps = list(_steps(head))
    for index, (start, length) in enumerate(zip(head.beat_starts, head.beats, strict=True)):
        beat = wished.get(start)
        if beat is None or beat.length != length or beat.steps == steps[index]:
            continue
        old, new = (
            {start + onset for onset, _ in bar_steps((length,), (count,))}
            for count in (steps[index], beat.steps)
        )
        if not any(note.onset in old - new for notes in bar.notes for note in notes):
            steps[index] = beat.steps
    if tuple(steps) == _steps(head):
        return head  # also where it names the usual steps
    usual = tuple(map(usual_steps, head.beats))
    return replace(head, steps=() if tuple(steps) == usual else tuple(steps))
