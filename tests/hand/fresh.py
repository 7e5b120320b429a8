"""The keys that write a bar note by note: moves, frets, lengths, chords, voices, beats again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from math import gcd

from chalkfret.edits.place import Spot
from chalkfret.edits.shapes import moved_to, shapes_before
from chalkfret.model import BarHead, Lesson, Note, Sign, limits
from chalkfret.model.meter import bar_steps, usual_steps
from tests.hand.lengths import beat_of, length_keys, lines
from tests.hand.state import Hand, Keys, Way, Ways, best

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


def fresh(task: Task, ways: Ways) -> Ways:
    """All good ways to write the bar from its beginning; the hand is behind what it wrote last."""
    voices = sorted({note.voice for note in task.notes})
    if len(voices) < 2:
        return _line(task, ways, _groups(task.notes), ())
    one, two = (tuple(n for n in task.notes if n.voice == voice) for voice in voices)
    found = list(_merged(task, ways).items())
    for first, second in ((one, two), (two, one)):
        half = _line(task, ways, _groups(first), ())
        back = best(_back(task, half, second[0].voice))
        found += _line(task, back, _groups(second), first).items()
    return best(found)


def _groups(notes: tuple[Note, ...]) -> list[Group]:
    return [tuple(chord) for _, chord in groupby(notes, key=lambda note: note.onset)]


def _back(task: Task, ways: Ways, voice: int) -> Found:
    """To the beginning of the bar again, for the other voice or just so."""
    for hand, way in ways.items():
        is_in = task.is_last or hand.tick < task.head.ticks
        keys: Keys = ("Home",) if is_in else ("Ctrl+Left",)
        yield hand.after(keys, tick=0, chord=None, follows=False), way.then(hand, keys)
        if hand.follows:
            keys = ("Shift+W",)
            bars = task.lesson.sections[task.section].bars
            course = hand.course
            for bar in range(task.bar - 1, max(-1, task.bar - 16), -1):
                same = [n for n in bars[bar].notes[task.part] if n.voice == voice]
                if same:
                    course = same[0].course
                    break
            yield (
                hand.after(keys, tick=0, chord=None, follows=False, course=course, forced=voice),
                way.then(hand, keys),
            )


def _line(task: Task, ways: Ways, groups: list[Group], done: Group) -> Ways:
    """One voice from left to right; ``done`` is there already."""
    layers: list[list[tuple[Hand, Way]]] = [[] for _ in range(len(groups) + 1)]
    layers[0] = list(ways.items())
    for at, group in enumerate(groups):
        written = (*done, *(note for one in groups[:at] for note in one))
        here = best(layers[at])
        for hand, way in here.items():
            layers[at + 1] += _write(task, hand, way, group, written)
            if not done:
                for skipped, after, on in _again(task, hand, way, groups, at):
                    layers[at + skipped].append((after, on))
    return best(layers[-1])


def _again(
    task: Task, hand: Hand, way: Way, groups: list[Group], at: int
) -> Iterator[tuple[int, Hand, Way]]:
    """The beat before once more, where it is what comes: how many groups that writes."""
    head, tick = task.head, hand.tick
    if not hand.follows or tick not in head.beat_starts or not tick:
        return
    beat = head.beat_starts.index(tick)
    length, start = head.beats[beat], head.beat_starts[beat - 1]
    if head.beats[beat - 1] != length or hand.grid[beat] != hand.grid[beat - 1]:
        return

    def shape(begin: int) -> list[tuple[int, Note]]:
        inside = [n for group in groups for n in group if begin <= n.onset < begin + length]
        return [(n.onset - begin, replace_note(n, begin)) for n in inside]

    here, next_one = shape(start), shape(tick)
    if here == next_one and here and all(at + n.length <= length for at, n in here):
        count = len({n_at for n_at, _ in here})
        yield count, hand.after(("E",), tick=tick + length, chord=None), way.then(hand, ("E",))


def replace_note(note: Note, begin: int) -> Note:
    """The note as it stands from a beginning on."""
    from msgspec.structs import replace as other

    return other(note, onset=note.onset - begin)


# One chord or note


def _write(task: Task, hand: Hand, way: Way, group: Group, done: Group) -> Found:
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


def _with(paces: tuple[int | None, int | None], voice: int, length: int):
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


def _struck(hand: Hand, course: int, fret: int) -> Iterator[tuple[Hand, Keys]]:
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


def _begin(
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
    length, grid = _begin(task, hand, note.onset, got, done)
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
    ways = [((*keys, *tie), paces)]
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
    for there, keys in _struck(hand, note.course, note.fret):
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
                (there, (*keys, *more)) for there, more in _struck(here, note.course, note.fret)
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


# Two voices at once


def _merged(task: Task, ways: Ways) -> Ways:
    """Both voices from left to right: at each time one of them, then the other joined to it."""
    times = _groups(task.notes)
    now = ways
    for at, notes in enumerate(times):
        done = tuple(note for one in times[:at] for note in one)
        found: list[tuple[Hand, Way]] = []
        voices = [tuple(n for n in notes if n.voice == v) for v in (0, 1)]
        for hand, way in now.items():
            if not all(voices):
                found += _write(task, hand, way, notes, done)
                continue
            for first, second in (voices, voices[::-1]):
                for there, on in _write(task, hand, way, first, done):
                    found += _joined(task, there, on, first, second, done)
        now = best(found)
    return now


def _joined(task: Task, hand: Hand, way: Way, first: Group, second: Group, done: Group) -> Found:
    """The other voice's notes at the same time, each joined: they must come out right at once."""
    onset, placed = first[0].onset, list(first)
    paths: list[tuple[Hand, Keys]] = [(hand, ())]
    voice = hand.voice
    for note in sorted(second, key=lambda n: -n.course):
        got = voice_of(task, replace(hand, voice=voice), onset, note.course, (*done, *placed))
        length, _grid = _begin(task, hand, onset, got, (*done, *placed))
        if task.is_last:
            length = min(length, task.head.ticks - onset)
        clash = any(n.course == note.course and n.end > onset for n in done)
        if got != note.voice or length != note.length or clash:
            return
        above = min(n.course for n in placed) - 1 or max(n.course for n in placed) + 1
        paths = [
            (there, (*keys, "C", *more))
            for here, keys in paths
            for there, more in _struck(
                replace(here, course=above, chord=None), note.course, note.fret
            )
        ]
        placed.append(note)
        voice = note.voice
    if any(n.has(Sign.TIE) for n in second):
        return
    tick = onset + min(n.length for n in placed)
    for there, keys in paths:
        yield (
            there.after(keys, tick=tick, course=placed[-1].course, follows=True, voice=voice,
                        typed_here=True),
            way.then(hand, keys),
        )  # fmt: skip
