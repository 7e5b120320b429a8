"""The keys of one note or chord: moves, frets, lengths, voices, ties, cuts of the beat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import gcd

from chalkfret.edits.place import Spot
from chalkfret.edits.shapes import moved_to, shapes_before
from chalkfret.model import BarHead, Lesson, Note, Sign, limits
from chalkfret.model.meter import bar_steps, usual_steps
from tests.hand.lengths import beat_of, length_keys, lines
from tests.hand.state import Hand, Keys, Way

Found = Iterator[tuple[Hand, Way]]


@dataclass(frozen=True)
class Task:
    """A bar to write for one guitar, where it stands, and what is there already."""

    lesson: Lesson  # as it shall be
    section: int
    bar: int
    part: int
    is_last: bool  # nothing is behind it yet

    @property
    def head(self) -> BarHead:
        return self.lesson.sections[self.section].bars[self.bar].head

    @property
    def notes(self) -> tuple[Note, ...]:
        return self.lesson.sections[self.section].bars[self.bar].notes[self.part]

    @property
    def before(self) -> tuple[Note, ...]:
        """The notes of the bar before."""
        bars = self.lesson.sections[self.section].bars
        return bars[self.bar - 1].notes[self.part] if self.bar else ()

    @property
    def others(self) -> tuple[Note, ...]:
        """The notes of guitars that are written already."""
        bar = self.lesson.sections[self.section].bars[self.bar]
        return tuple(note for notes in bar.notes[: self.part] for note in notes)

    @property
    def strings(self) -> int:
        return len(self.lesson.parts[self.part].setup.courses)


Group = tuple[Note, ...]


def write(task: Task, hand: Hand, way: Way, group: Group, done: Group) -> Found:
    for ready, on in _ready(task, hand, way, group[0].onset):
        for begun, far in _cuts(task, ready, on, group):
            if len(group) == 1:
                yield from _single(task, begun, far, group[0], done)
            elif len({(n.length, n.has(Sign.TIE)) for n in group}) == 1:
                yield from _chain(task, begun, far, group, done)
                yield from _range(task, begun, far, group, done)
                yield from _shape(task, begun, far, group, done)


def _ready(task: Task, hand: Hand, way: Way, onset: int) -> Found:
    """The hand at the right time, with nothing selected or the chord still."""
    if hand.tick != onset:
        stops = lines(task.head, hand.grid)
        low, high = sorted((hand.tick, onset))
        if onset not in stops:
            return
        count = sum(low < stop <= high for stop in stops)
        if hand.tick > onset:
            count = sum(low <= stop < high for stop in stops)
        keys: Keys = (("Right",) if hand.tick < onset else ("Left",)) * count
        way, hand = way.then(hand, keys), hand.after(keys, tick=onset, chord=None, follows=False)
    yield hand, way
    if hand.chord:
        yield hand.after(("Escape",), chord=None), way.then(hand, ("Escape",))


def _cuts(task: Task, hand: Hand, way: Way, group: Group) -> Found:
    """As it is, or with a beat cut: in steps of the note's length, or so that it can end."""
    yield hand, way
    head, note = task.head, group[0]
    if note.end < head.ticks and note.end not in lines(head, hand.grid) and not hand.chord:
        yield from _cut_for_end(task, hand, way, note)
    if note.onset not in head.beat_starts or hand.chord or note.voice != hand.voice:
        return
    beat = head.beat_starts.index(note.onset)
    count, rest = divmod(head.beats[beat], note.length)
    if rest or not 2 <= count <= 9 or hand.paces[note.voice] == note.length:
        return
    keys = (f"Alt+Shift+{count}",)
    grid = (*hand.grid[:beat], count, *hand.grid[beat + 1 :])
    cut = hand.after(keys, paces=_with(hand.paces, note.voice, note.length), grid=grid)
    yield cut, way.then(hand, keys)


def _cut_for_end(task: Task, hand: Hand, way: Way, note: Note) -> Found:
    """There, cut the beat in which the note ends, and back."""
    head, beat = task.head, beat_of(task.head, note.end)
    start, length = head.beat_starts[beat], head.beats[beat]
    stops = lines(head, hand.grid)
    away = sum(note.onset < stop <= start for stop in stops)
    for count in range(2, 10):
        size, rest = divmod(length, count)
        if rest or (note.end - start) % size or not away:
            continue
        grid = (*hand.grid[:beat], count, *hand.grid[beat + 1 :])
        keys = (*("Right",) * away, f"Alt+Shift+{count}", *("Left",) * away)
        paces = _with(hand.paces, hand.voice, size)
        yield hand.after(keys, paces=paces, grid=grid, follows=False), way.then(hand, keys)


def _with(
    paces: tuple[int | None, int | None], voice: int, length: int
) -> tuple[int | None, int | None]:
    return (length, paces[1]) if voice == 0 else (paces[0], length)


def _moved(hand: Hand, course: int) -> Iterator[tuple[Hand, Keys]]:
    """To another string: by arrows, or by its number."""
    if course == hand.course:
        if hand.chord is None:
            yield hand, ()
        return
    keys: Keys = ("Up" if course < hand.course else "Down",) * abs(course - hand.course)
    there = replace(hand, course=course, chord=None)
    yield there, keys
    if len(keys) > 2:
        yield there, ("Q", *fret_keys(course))


def struck(hand: Hand, course: int, fret: int) -> Iterator[tuple[Hand, Keys]]:
    """To another string and a fret there; from the string beside it, both are one key."""
    for there, keys in _moved(hand, course):
        yield there, (*keys, *fret_keys(fret))
    if fret < 10:
        for way, key in ((-1, f"Shift+{fret}"), (1, f"Ctrl+Shift+{fret}")):
            beside = replace(hand, chord=None)
            for there, keys in _moved(beside, course - way):
                if len(keys) < abs(course - hand.course):
                    yield replace(there, course=course), (*keys, key)


def fret_keys(fret: int) -> Keys:
    """The keys that write a fret."""
    if fret >= 20:
        return "Y", *fret_keys(fret - 20)
    return (f"Ctrl+{fret - 10}",) if fret >= 10 else (str(fret),)


def voice_of(task: Task, hand: Hand, onset: int, course: int, done: Group) -> int:
    """The voice that a fret gets there by itself."""
    if hand.forced is not None:
        return hand.forced
    for notes in ([n for n in done if n.onset <= onset], task.before):
        same = [n for n in notes if n.course == course]
        if same:
            return max(same, key=lambda n: n.onset).voice
    return hand.voice if hand.typed_here else 0


def begin(
    task: Task, hand: Hand, onset: int, voice: int, done: Group
) -> tuple[int, tuple[int, ...]]:
    """The length that a fret gets by itself, and the grid after."""
    head, grid, wanted = task.head, hand.grid, hand.paces[voice]
    step = next(
        size for start, size in bar_steps(head.beats, grid) if start <= onset < start + size
    )
    if wanted is None or wanted % step == 0:
        return wanted or step, grid
    beat = beat_of(head, onset)
    usual = head.beats[beat] // usual_steps(head.beats[beat])
    if step != usual and _stands_in(done, head, beat):
        return step, grid
    cut = _cut_for(task, grid, beat, wanted, done)
    if cut is None or (onset - head.beat_starts[beat]) % (head.beats[beat] // cut[beat]):
        return step, grid
    return wanted, cut


def _cut_for(
    task: Task, grid: tuple[int, ...], beat: int, ticks: int, done: Group
) -> tuple[int, ...] | None:
    """The grid with a beat cut so that so many ticks end on a step."""
    head, length = task.head, task.head.beats[beat]
    usual = length // usual_steps(length)
    fine = usual if ticks % usual == 0 else gcd(length, ticks)
    if _stands_in((*done, *task.others), head, beat):
        fine = gcd(fine, length // grid[beat])
    if length // fine > limits.STEPS_MAX:
        return None
    return (*grid[:beat], length // fine, *grid[beat + 1 :])


def _stands_in(notes: tuple[Note, ...], head: BarHead, beat: int) -> bool:
    start = head.beat_starts[beat]
    return any(start <= note.onset < start + head.beats[beat] for note in notes)


def _finish(
    task: Task, hand: Hand, way: Way, keys: Keys, group: Group, got: int, done: Group,
    *, course: int, chord: tuple[int, int] | None = None,
) -> Found:  # fmt: skip
    """Voice, length and tie of what was just typed, which got voice ``got`` by itself."""
    note, head = group[0], task.head
    courses = {n.course for n in group}
    length, grid = begin(task, hand, note.onset, got, done)
    if task.is_last:
        length = min(length, head.ticks - note.onset)
    for other in done:
        if other.course in courses:
            if other.onset <= note.onset < other.end or note.onset <= other.onset < note.end:
                return
            if other.onset > note.onset:
                length = min(length, other.onset - note.onset)
    end = note.onset + length
    if end < head.ticks and end not in lines(head, grid):
        beat = beat_of(head, end)
        cut = _cut_for(task, grid, beat, end - head.beat_starts[beat], (*done, *group))
        grid = cut or grid
    paces = hand.paces
    if got != note.voice:
        keys = (*keys, "W")
        hand = replace(hand, forced=None)
        paces = _with(paces, note.voice, length)
    tie = ("J",) * note.has(Sign.TIE)
    ways: list[tuple[Keys, tuple[int | None, int | None]]] = [((*keys, *tie), paces)]
    if length != note.length:
        more = length_keys(head, grid, note.onset, length, note.length)
        ways = []
        if more is not None:
            ways = [((*keys, *more, *tie), _with(paces, note.voice, note.length))]
        if note.end == head.ticks:
            ways.append(((*keys, "Shift+Return", *tie), paces))
    tick = note.onset + note.length
    if tick < head.ticks:
        tick = next(stop for stop in lines(head, grid) if stop >= tick)
    for pressed, lengths in ways:
        yield (
            hand.after(pressed, course=course, tick=tick, paces=lengths, chord=chord,
                       follows=True, voice=note.voice, typed_here=True, grid=grid),
            way.then(hand, pressed),
        )  # fmt: skip


def _single(task: Task, hand: Hand, way: Way, note: Note, done: Group) -> Found:
    got = voice_of(task, hand, note.onset, note.course, done)
    for there, keys in struck(hand, note.course, note.fret):
        yield from _finish(
            task, replace(there, held=hand.held), way, keys, (note,), got, done, course=note.course
        )


def _chain(task: Task, hand: Hand, way: Way, group: Group, done: Group) -> Found:
    """The chord note by note, each joined to those before, from the lowest string up."""
    order = sorted(group, key=lambda note: -note.course)
    got = {voice_of(task, hand, n.onset, n.course, done) for n in group}
    if len(got) > 1:
        return
    paths: list[tuple[Hand, Keys]] = [(hand, ())]
    for at, note in enumerate(order):
        longer = []
        for here, keys in paths:
            if at:
                above = order[at - 1].course - 1
                here, keys = replace(here, course=above, chord=None), (*keys, "C")
            longer += [
                (there, (*keys, *more)) for there, more in struck(here, note.course, note.fret)
            ]
        paths = longer
    for there, keys in paths:
        there = replace(there, held=hand.held)
        yield from _finish(
            task, there, way, keys, group, next(iter(got)), done, course=order[-1].course,
        )  # fmt: skip


def _range(task: Task, hand: Hand, way: Way, group: Group, done: Group) -> Found:
    """One fret on neighbouring strings, selected."""
    low, high = group[0].course, group[-1].course
    if len({n.fret for n in group}) > 1 or high - low + 1 != len(group):
        return
    got, fret = voice_of(task, hand, group[0].onset, low, done), fret_keys(group[0].fret)
    if hand.chord == (low, high):
        yield from _finish(task, hand, way, fret, group, got, done, course=high, chord=(low, high))
        return
    for first, key in ((low, "Shift+Down"), (high, "Shift+Up")):
        for there, keys in _moved(hand, first):
            keys = (*keys, *(key,) * (high - low), *fret)
            there = replace(there, held=hand.held)
            yield from _finish(
                task, there, way, keys, group, got, done, course=high, chord=(low, high)
            )


def _shape(task: Task, hand: Hand, way: Way, group: Group, done: Group) -> Found:
    """A chord's shape of before."""
    if hand.chord is not None or {n.voice for n in task.notes} != {group[0].voice}:
        return
    spot = Spot(task.section, task.bar, task.part, group[0].onset, 1)
    wanted = tuple((n.course, n.fret) for n in reversed(group))
    got = voice_of(task, hand, group[0].onset, group[0].course, done)
    for number, shape in enumerate(shapes_before(task.lesson, spot), 1):
        if moved_to(shape, wanted[0][1]) == wanted:
            keys = (*("Shift+C",) * number, *fret_keys(wanted[0][1]))
            yield from _finish(task, hand, way, keys, group, got, done, course=group[-1].course)
