"""What there is to say of a section's music: tempo, key, notes, the second guitar, effects."""

from __future__ import annotations

from collections.abc import Iterator

from chalkfret.arrange.differences import Difference, section_differences
from chalkfret.model.bars import BarHead
from chalkfret.model.faults import Where
from chalkfret.model.lesson import Lesson, Part, setup_in
from chalkfret.model.marks import Sign
from chalkfret.model.pitch import note_of, pitch_class
from chalkfret.model.section import Cue, Key, Place, Section
from chalkfret.strings.retune import standard_of
from chalkfret.theory.degrees import colour_degrees
from chalkfret.theory.names import bar_degrees, between
from chalkfret.theory.roots import root_place
from chalkfret.theory.scales import degree_at, degree_semitones, note_of_degree, plain_name
from chalkfret.theory.shape_key import shape_key
from chalkfret.theory.sounding import named_pitch
from chalkfret.timeline.clock import section_clock
from chalkfret.timeline.tempo import quarters_a_minute, ticks_a_second
from chalkfret.words.talk.facts import (
    Changed,
    Effect,
    Fact,
    KeyOf,
    Named,
    NotesOf,
    Otherwise,
    Pace,
    Second,
    Shaped,
)


def of_tempo(lesson: Lesson, index: int) -> Iterator[Fact]:
    """A section's tempo, and what changed from the section before."""
    section = lesson.sections[index]
    head, where, path = section.head, Where(section=section.head.letter), f"sections[{index}]"
    meters = dict.fromkeys((bar.head.meter.count, bar.head.meter.unit) for bar in section.bars)
    seconds = round(section_clock(section).length_s, 1)
    pace = Pace(head.tempo, head.swing, tuple(meters), len(section.bars), head.times, seconds)
    paths = [f"{path}.{name}" for name in ("head.tempo", "head.swing", "head.times", "bars")]
    yield Fact(pace, section.id, "", where, tuple(paths))
    if index:
        before, old = lesson.sections[index - 1], f"sections[{index - 1}]"
        changed_paths = (f"{path}.head.tempo", f"{path}.bars", f"{old}.head.tempo", f"{old}.bars")
        yield Fact(_changed(before, section), section.id, "", where, changed_paths)


def _changed(before: Section, section: Section) -> Changed:
    ended, starts = before.head.tempo, section.head.tempo
    last = ended.start if ended.end is None else ended.end
    old, new = before.bars[len(before.bars) - 1].head.meter, section.bars[0].head.meter
    return Changed(
        before=before.head.letter,
        ended=ended,
        starts=starts,
        ended_quarters=round(quarters_a_minute(ticks_a_second(last, ended)), 1),
        starts_quarters=round(quarters_a_minute(ticks_a_second(starts.start, starts)), 1),
        meter_before=(old.count, old.unit),
        meter=(new.count, new.unit),
    )


def of_key(lesson: Lesson, index: int) -> Iterator[Fact]:
    """A section's key and root, and the notes it plays."""
    section, path = lesson.sections[index], f"sections[{index}]"
    where = Where(section=section.head.letter)
    setups = tuple(f"parts[{at}].setup" for at in range(len(lesson.parts)))
    paths = (f"{path}.head.key", f"{path}.bars", f"{path}.head.retunes", *setups)
    key = section.head.key
    if key is not None:
        part = lesson.parts[0]
        root = root_place(section, part, 0)
        found = (None, 0, 0) if root is None else (root.course, root.fret, root.capo)
        yield Fact(KeyOf(key, part.name, *found), section.id, "", where, paths)
        for at, part in enumerate(lesson.parts):
            shaped = _shaped(section, part, at)
            if shaped is not None:
                in_part = Where(section=section.head.letter, part=part.name)
                own = (*paths[:3], f"{path}.head.shape_key", f"parts[{at}].setup")
                yield Fact(shaped, section.id, part.id, in_part, own)
    notes = _notes(section, lesson.parts)
    if notes.notes:
        yield Fact(notes, section.id, "", where, paths)


def _shaped(section: Section, part: Part, index: int) -> Shaped | None:
    """What a part sounds in and is shaped as; None where it has nothing to play."""
    if not any(bar.notes[index] for bar in section.bars):
        return None
    found = shape_key(section, part, index, standard_of(setup_in(section, part)))
    if found is None or not found.proof:
        return None
    said = [
        one
        for one in found.proof
        if found.shaped is None or pitch_class(one.standard) == pitch_class(found.shaped)
    ]
    proof = (said or list(found.proof))[-1]  # the lowest of the strings that say so
    others = [one for one in found.proof if one not in said and one is not proof]
    if found.shaped is not None and pitch_class(found.shaped) == pitch_class(found.sounds):
        others = []  # the frets suggest what it sounds in: there is nothing to untangle
    return Shaped(
        part=part.name,
        sounds=found.sounds,
        shaped=found.shaped,
        string=proof.course,
        open=note_of(proof.open),
        capo=proof.capo,
        fret=proof.fret,
        standard=note_of(proof.standard),
        others=tuple((one.course, one.fret, note_of(one.standard)) for one in others),
    )


def _notes(section: Section, parts: tuple[Part, ...]) -> NotesOf:
    key = section.head.key
    if key is None:
        classes = sorted({pitch % 12 for pitch in _pitches(section, parts)})
        plain = tuple(Named(plain_name(one), "") for one in classes)
        return NotesOf(plain, (), (), (), "", False)
    played = {degree for degree in _degrees(section, parts, key) if degree}
    colours = colour_degrees(key)
    known = key.mode is not None or bool(key.degrees)
    scale = degree_at(key)
    of_scale = {degree_semitones(one) for one in scale if one is not None}

    def named(degrees: set[str]) -> tuple[Named, ...]:
        order = sorted(degrees, key=lambda one: (degree_semitones(one), one))
        return tuple(Named(note_of_degree(key.tonic, one), one) for one in order)

    played_semitones = {degree_semitones(one) for one in played}
    return NotesOf(
        notes=named(played),
        colour=named({one for one in played if one in colours}) if known else (),
        unplayed=named({one for one in colours if degree_semitones(one) not in played_semitones})
        if known
        else (),
        outside=named({one for one in played if degree_semitones(one) not in of_scale})
        if known
        else (),
        third="major" if scale[4] else "minor" if scale[3] else "",
        keyed=True,
    )


def _pitches(section: Section, parts: tuple[Part, ...]) -> Iterator[int]:
    setups = [setup_in(section, part) for part in parts]
    for bar in section.bars:
        for setup, notes in zip(setups, bar.notes, strict=True):
            yield from (named_pitch(setup, one) for one in notes if not one.has(Sign.DEAD))


def _degrees(section: Section, parts: tuple[Part, ...], key: Key) -> Iterator[str | None]:
    for index, part in enumerate(parts):
        setup = setup_in(section, part)
        for bar in range(len(section.bars)):
            yield from bar_degrees(between(section, bar, index), setup, key)


def of_others(lesson: Lesson, index: int) -> Iterator[Fact]:
    """What every other guitar does otherwise than the first."""
    section, one = lesson.sections[index], lesson.parts[0]
    for two, part in enumerate(lesson.parts[1:], start=1):
        runs: dict[Difference, list[tuple[int, int]]] = {}
        for found in section_differences(section, lesson.parts, 0, two):
            runs.setdefault(found.what, []).append((found.first + 1, found.last + 1))
        differences = tuple(
            Otherwise(what.kind, what.semitones, what.steps, tuple(bars))
            for what, bars in runs.items()
        )
        paths = (
            f"sections[{index}].bars",
            f"sections[{index}].head.key",
            f"sections[{index}].head.retunes",
            "parts[0].setup",
            f"parts[{two}].setup",
        )
        where = Where(section=section.head.letter, part=part.name)
        second = Second(part.name, one.name, differences)
        yield Fact(second, section.id, part.id, where, paths)


def of_effects(lesson: Lesson, index: int) -> Iterator[Fact]:
    """The cues of a section, in order of their places."""
    section = lesson.sections[index]
    names = {part.id: part.name for part in lesson.parts}
    order = sorted(enumerate(section.head.cues), key=lambda one: (one[1].start, one[0]))
    for at, cue in order:
        part = None if cue.part is None else names.get(cue.part)
        where = Where(section=section.head.letter, bar=cue.start.bar + 1, part=part)
        paths = (f"sections[{index}].head.cues[{at}]", f"sections[{index}].bars")
        yield Fact(_effect(cue, section, part), section.id, cue.id, where, paths)


def _effect(cue: Cue, section: Section, part: str | None) -> Effect:
    end_bar, end_beat = _end(cue.end, section)
    return Effect(
        label=cue.label,
        effect=cue.kind,
        part=part,
        bar=cue.start.bar + 1,
        beat=_beat(cue.start, section),
        end_bar=end_bar,
        end_beat=end_beat,
        settings=cue.settings,
    )


def _end(end: Place | None, section: Section) -> tuple[int | None, float | None]:
    """Bar and beat, from 1; no beat: to the end of the bar; no bar either: of the section."""
    if end is None or end.bar >= len(section.bars):
        return None, None
    if end.tick < _head(end, section).ticks:
        return end.bar + 1, _beat(end, section)
    return (None, None) if end.bar == len(section.bars) - 1 else (end.bar + 1, None)


def _head(place: Place, section: Section) -> BarHead:
    return section.bars[min(place.bar, len(section.bars) - 1)].head


def _beat(place: Place, section: Section) -> float:
    head = _head(place, section)
    return round(1 + (head.meter.ticks - head.ticks + place.tick) / head.meter.unit_ticks, 3)
