"""The keys that write a bar note by note: line by line, two voices, beats again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from msgspec import structs

from chalkfret.model import Note, Sign
from tests.hand.state import Hand, Keys, Way, Ways, best
from tests.hand.strokes import Found, Group, Task, begin, struck, voice_of, write


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
            layers[at + 1] += write(task, hand, way, group, written)
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
        return [(n.onset - begin, structs.replace(n, onset=n.onset - begin)) for n in inside]

    here, next_one = shape(start), shape(tick)
    if here == next_one and here and all(at + n.length <= length for at, n in here):
        count = len({n_at for n_at, _ in here})
        yield count, hand.after(("E",), tick=tick + length, chord=None), way.then(hand, ("E",))


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
                found += write(task, hand, way, notes, done)
                continue
            for first, second in (voices, voices[::-1]):
                for there, on in write(task, hand, way, first, done):
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
        length, _grid = begin(task, hand, onset, got, (*done, *placed))
        if task.is_last:
            length = min(length, task.head.ticks - onset)
        clash = any(n.course == note.course and n.end > onset for n in done)
        if got != note.voice or length != note.length or clash:
            return
        above = min(n.course for n in placed) - 1 or max(n.course for n in placed) + 1
        paths = [
            (there, (*keys, "C", *more))
            for here, keys in paths
            for there, more in struck(
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
