"""A lesson explained: everything the program computes of it, as one value."""

from __future__ import annotations

from chalkfret.files.explained import (
    Explained,
    ExplainedCandidate,
    ExplainedCue,
    ExplainedInSection,
    ExplainedNote,
    ExplainedSection,
    ExplainedSetup,
    ExplainedString,
)
from chalkfret.model import (
    Cue,
    GuitarString,
    Key,
    Lesson,
    Part,
    Place,
    Section,
    Setup,
    Sign,
    mark_name,
    setup_in,
)
from chalkfret.strings.retune import standard_of
from chalkfret.strings.strength import strength
from chalkfret.strings.tension import tension
from chalkfret.theory.mode_finding.section import found_in
from chalkfret.theory.names import note_degree
from chalkfret.theory.scales import scale_notes
from chalkfret.theory.shape_key import shape_key
from chalkfret.theory.sounding import attack_pitch, hz, named_pitch
from chalkfret.theory.spelling import name_of
from chalkfret.timeline.attacks import Attack, attacks
from chalkfret.timeline.clock import TimedSection, timeline
from chalkfret.words.reasons import reasons_words, tie_words


def explain(lesson: Lesson) -> Explained:
    """All that is computed of a lesson; see ``explained`` for the meaning of each field."""
    return Explained(
        format="chalkfret-explain",
        version=1,
        title=lesson.head.title,
        setups=tuple(_setup(part) for part in lesson.parts),
        sections=tuple(_section(timed, lesson) for timed in timeline(lesson).sections),
        notes=tuple(_note(one, lesson) for one in attacks(lesson)),
    )


def _setup(part: Part) -> ExplainedSetup:
    setup = part.setup
    return ExplainedSetup(
        part=part.name,
        scale_mm=setup.scale_mm,
        capo=setup.capo.fret if setup.capo else None,
        reference_hz=setup.a4,
        strings=tuple(
            _string(number, string, setup)
            for number, course in enumerate(setup.courses, start=1)
            for string in course.strings
        ),
    )


def _string(number: int, string: GuitarString, setup: Setup) -> ExplainedString:
    load, share = tension(string, setup), strength(string, setup)
    return ExplainedString(
        number=number,
        pitch=string.pitch,
        hz=hz(string.midi, setup.a4),
        cents=string.cents,
        gauge=string.gauge,
        winding=string.winding.value,
        scale_mm=setup.scale_of(string),
        tension_lb=load.lb if load else None,
        tension_n=load.newton if load else None,
        strength_percent=share.percent if share else None,
        uncertainty_percent=load.uncertainty_percent if load else None,
    )


def _section(timed: TimedSection, lesson: Lesson) -> ExplainedSection:
    section = timed.section
    head, key = section.head, section.head.key
    meter = section.bars[0].head.meter
    return ExplainedSection(
        id=section.id,
        letter=head.letter,
        name=head.name,
        tempo=head.tempo,
        meter=f"{meter.count}/{meter.unit}",
        times=head.times,
        start_s=timed.start_s,
        end_s=timed.end_s,
        tonic=key.tonic if key else None,
        mode=key.mode.value if key and key.mode else None,
        scale=scale_notes(key) if key else (),
        mode_candidates=_candidates(section, lesson),
        cues=tuple(_cue(cue, section, lesson) for cue in head.cues),
        parts=tuple(_in_section(section, part, at) for at, part in enumerate(lesson.parts)),
    )


def _in_section(section: Section, part: Part, index: int) -> ExplainedInSection:
    found = shape_key(section, part, index, standard_of(setup_in(section, part)))
    if found is None:
        return ExplainedInSection(part.name, None, None)
    return ExplainedInSection(part.name, found.sounds, found.shaped)


def _candidates(section: Section, lesson: Lesson) -> tuple[ExplainedCandidate, ...]:
    """The likeliest first; that some tie is a reason of each of these."""
    found, naming = found_in(section, lesson.parts), lesson.head.note_naming
    return tuple(
        ExplainedCandidate(
            tonic=candidate.key.tonic,
            mode=str(candidate.key.mode),
            reasons=(
                *reasons_words(candidate, naming),
                *((tie_words(found),) if at < found.tied else ()),
            ),
        )
        for at, candidate in enumerate(found.candidates)
    )


def _cue(cue: Cue, section: Section, lesson: Lesson) -> ExplainedCue:
    return ExplainedCue(
        id=cue.id,
        label=cue.label,
        kind=cue.kind.value,
        part=next((part.name for part in lesson.parts if part.id == cue.part), None),
        bar=cue.start.bar + 1,
        beat=_beat(cue.start, section),
        end_bar=None if cue.end is None else cue.end.bar + 1,
        end_beat=None if cue.end is None else _beat(cue.end, section),
    )


def _beat(place: Place, section: Section) -> float:
    """From 1, in units of the denominator; a place behind the last bar counts as in that one."""
    head = section.bars[min(place.bar, len(section.bars) - 1)].head
    missing = head.meter.ticks - head.ticks  # a pickup has the last beats of its bar
    return 1 + (missing + place.tick) / head.meter.unit_ticks


def _note(one: Attack, lesson: Lesson) -> ExplainedNote:
    note, head = one.note, lesson.sections[one.section].head
    midi = None if note.has(Sign.DEAD) else attack_pitch(one.setup, note)
    degree = note_degree(lesson.sections[one.section], one.bar, one.part, one.setup, note)
    return ExplainedNote(
        part=lesson.parts[one.part].name,
        section=head.letter,
        pass_=one.pass_,
        bar=one.bar + 1,
        beat=one.beat,
        start_s=one.start_s,
        end_s=one.end_s,
        string=note.course,
        fret=note.fret,
        midi=midi,
        name=None if degree is None else _name(one, degree, head.key),
        hz=None if midi is None else hz(midi, one.setup.a4),
        degree=degree or None,
        marks=tuple(mark_name(mark) for mark in note.marks),
    )


def _name(one: Attack, degree: str, key: Key | None) -> str:
    return name_of(named_pitch(one.setup, one.note), degree, key, one.note.spelling)
