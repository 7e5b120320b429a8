"""What is legal in a lesson but surely not meant.

Each remark is a ``Fault`` with its place, for ``sentences.sentence``. Of one kind in one part of
one section only the first is made, with the number of the others as its figure ``more``: a remark
is there to be read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import combinations

from msgspec.structs import replace

from chalkfret.model.bars import Bar
from chalkfret.model.faults import Fault, Where, fault
from chalkfret.model.lesson import Lesson, NoteNaming, Part, setup_in
from chalkfret.model.marks import Bend, Sign, Trill
from chalkfret.model.pitch import pitch_class
from chalkfret.model.repeats import repeated_spans
from chalkfret.model.section import Cue, Section
from chalkfret.model.setup import Setup
from chalkfret.theory.mode_finding.section import contradicted
from chalkfret.theory.naming import shown
from chalkfret.theory.sounding import named_fretted, named_pitch
from chalkfret.timeline.unroll import heads_of, played
from chalkfret.words.music import key_words
from chalkfret.words.note_remarks import bar_remarks


def remarks(lesson: Lesson) -> tuple[Fault, ...]:
    """What a teacher would want to be asked about, in the order of the lesson."""
    naming = lesson.head.note_naming
    found = [
        *_names_alike("letters_alike", [section.head.letter for section in lesson.sections]),
        *_names_alike("part_names_alike", [part.name for part in lesson.parts]),
        *_silent_parts(lesson),
    ]
    lead: Bar | None = None  # the bar that sounds right before the section
    for section in lesson.sections:
        found.extend(section_remarks(section, lesson.parts, lead, naming))
        bars = played(section)
        lead = section.bars[bars[-1].bar] if bars and not section.head.pause_s else None
    return tuple(found)


@lru_cache(maxsize=256)
def section_remarks(
    section: Section,
    parts: tuple[Part, ...],
    lead: Bar | None = None,
    naming: NoteNaming = NoteNaming.ENGLISH,
) -> tuple[Fault, ...]:
    """The remarks on one section; ``lead`` is the bar that sounds right before it."""
    return tuple(_first_of_each(_section(section, parts, lead, naming)))


def _first_of_each(found: Iterable[Fault]) -> Iterator[Fault]:
    """The first remark of each kind and part, with the number of the others."""
    kinds: dict[tuple[str, str | None], list[Fault]] = {}
    for one in found:
        kinds.setdefault((one.code, one.where.part), []).append(one)
    for first, *others in kinds.values():
        yield replace(first, figures=(*first.figures, ("more", len(others)))) if others else first


# --- the lesson -----------------------------------------------------------------------------------


def _names_alike(code: str, names: list[str]) -> Iterator[Fault]:
    """Names that a reader, or a disk that knows no capitals, takes for the same."""
    alike: dict[str, list[str]] = {}
    for name in names:
        alike.setdefault("".join(name.split()).casefold(), []).append(name)
    for group in alike.values():
        for one, other in combinations(group, 2):
            yield fault(code, one=one, other=other)


def _silent_parts(lesson: Lesson) -> Iterator[Fault]:
    if not any(_has_notes(section) for section in lesson.sections):
        return  # each section says so itself
    for index, part in enumerate(lesson.parts):
        bars = (bar for section in lesson.sections for bar in section.bars)
        if not any(bar.notes[index] for bar in bars):
            yield fault("part_silent", Where(part=part.name))


def _has_notes(section: Section) -> bool:
    return any(any(bar.notes) for bar in section.bars)


# --- a section ------------------------------------------------------------------------------------


def _section(
    section: Section, parts: tuple[Part, ...], lead: Bar | None, naming: NoteNaming
) -> Iterator[Fault]:
    where = Where(section=section.head.letter)
    if not _has_notes(section):
        yield fault("section_empty", where)
    else:
        yield from _silent_tonic(section, parts, naming)
        yield from _contradicted_key(section, parts, naming)
    for cue in section.head.cues:
        yield from _cue(cue, section)
    yield from _repeats(section)
    before = _bars_before(section, lead)
    for index, part in enumerate(parts):
        setup = setup_in(section, part)
        for at, bar in enumerate(section.bars):
            if bar.notes[index] and at in before:
                for one in bar_remarks(bar, index, setup, before[at]):
                    place = replace(where, bar=at + 1, part=part.name, course=one.where.course)
                    yield replace(one, where=place)


def _bars_before(section: Section, lead: Bar | None) -> dict[int, tuple[Bar, ...]]:
    """For each bar that is played, the different bars that sound right before it."""
    before: dict[int, dict[int, Bar]] = {}
    last = lead
    for index, _pass in played(section):
        here = before.setdefault(index, {})
        if last is not None:
            here[id(last)] = last
        last = section.bars[index]
    return {index: tuple(bars.values()) for index, bars in before.items()}


def _silent_tonic(section: Section, parts: tuple[Part, ...], naming: NoteNaming) -> Iterator[Fault]:
    key = section.head.key
    if key is None:
        return
    tonic = pitch_class(key.tonic)
    for index, part in enumerate(parts):
        setup = setup_in(section, part)
        if any(tonic in _sounded(chunk, index, setup) for chunk in section.bars.chunks):
            return
    where = Where(section=section.head.letter)
    yield fault("tonic_silent", where, tonic=shown(key.tonic, naming))


def _contradicted_key(
    section: Section, parts: tuple[Part, ...], naming: NoteNaming
) -> Iterator[Fault]:
    key, found = section.head.key, contradicted(section, parts)
    if key is None or found is None:
        return
    yield fault(
        "key_contradicted",
        Where(section=section.head.letter, bar=found.bar + 1),
        outside=found.outside,
        notes=found.notes,
        key=key_words(key, naming),
        better=key_words(found.better, naming),
    )


@lru_cache(maxsize=256)
def _sounded(bars: tuple[Bar, ...], index: int, setup: Setup) -> frozenset[int]:
    """The pitch classes that a part sounds in these bars, those reached by bends and trills too."""
    sounded: set[int] = set()
    for bar in bars:
        for note in bar.notes[index]:
            if note.has(Sign.DEAD):
                continue
            sounded.add(named_pitch(setup, note) % 12)
            bend, trill = note.mark(Bend), note.mark(Trill)
            if bend is not None:
                fretted = named_fretted(setup, note.course, note.fret)
                sounded.update((fretted + round(p.cents / 100)) % 12 for p in bend.curve)
            if trill is not None:
                sounded.add(named_fretted(setup, note.course, trill.fret) % 12)
    return frozenset(sounded)


def _cue(cue: Cue, section: Section) -> Iterator[Fault]:
    where = Where(section=section.head.letter)
    count = len(section.bars)
    if cue.start.bar >= count:
        yield fault("cue_after_end", where, label=cue.label)
    elif cue.start.tick >= section.bars[cue.start.bar].head.ticks:
        yield fault("cue_after_end", replace(where, bar=cue.start.bar + 1), label=cue.label)
    elif cue.end is not None:
        at_end = cue.end.bar == count and cue.end.tick == 0
        inside = cue.end.bar < count and cue.end.tick <= section.bars[cue.end.bar].head.ticks
        if not at_end and not inside:
            yield fault("cue_end_after_end", where, label=cue.label)


def _repeats(section: Section) -> Iterator[Fault]:
    where = Where(section=section.head.letter)
    opened: int | None = None
    for index, head in enumerate(heads_of(section)):
        if head.repeat_open:
            if opened is not None:
                yield fault("repeat_never_closed", replace(where, bar=opened + 1))
            opened = index
        if head.repeat_close:
            opened = None
        if head.repeat_close == 1:
            yield fault("repeat_once", replace(where, bar=index + 1))
    if opened is not None:
        yield fault("repeat_never_closed", replace(where, bar=opened + 1))
    sounding = {bar.bar for bar in played(section)}
    for index, head in enumerate(heads_of(section)):
        if index not in sounding:
            passes = ", ".join(map(str, head.passes))
            yield fault("bar_never_played", replace(where, bar=index + 1), passes=passes)
    yield from _endings(section, sounding)


def _endings(section: Section, sounding: set[int]) -> Iterator[Fault]:
    """Repeats that have a later ending, but none for a pass before it."""
    heads = heads_of(section)
    for span in repeated_spans(heads):
        ends = [index for index in range(span.start, span.stop) if heads[index].passes]
        # What is never reached is remarked on as such, unless the repeat itself hangs on it.
        told = [index for index in ends if index in sounding or heads[index].repeat_close]
        there = {one for index in told for one in heads[index].passes if one <= span.times}
        missing = set(range(1, max(there, default=0))) - there
        if missing:
            yield fault(
                "ending_missing", Where(section=section.head.letter, bar=ends[0] + 1),
                ending=min(missing), later=max(there),
            )  # fmt: skip
