"""What ``explain`` prints for a reader: setups, sections, and the notes bar by bar."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from chalkfret.files.explained import (
    Explained,
    ExplainedCandidate,
    ExplainedCue,
    ExplainedNote,
    ExplainedSection,
    ExplainedSetup,
)
from chalkfret.model import Mode, NoteNaming, Winding
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.words.music import mode_words, tempo_words
from chalkfret.words.names import sounds_shaped_words
from chalkfret.words.strings import winding_words
from chalkfret.words.text import _, ngettext


def lines(explained: Explained, naming: NoteNaming) -> Iterator[str]:
    """The lines of a lesson explained, its note names as the lesson wishes."""
    yield explained.title or _("A lesson without a title")
    for setup in explained.setups:
        yield ""
        yield from _setup(setup, naming)
    parts = {setup.part: index for index, setup in enumerate(explained.setups)}
    notes: dict[str, list[ExplainedNote]] = {}
    for note in explained.notes:
        notes.setdefault(note.section, []).append(note)
    for section in explained.sections:
        yield ""
        yield from _section(section, naming)
        yield from _notes(notes.get(section.letter, []), parts, naming)


def _notes(notes: list[ExplainedNote], parts: dict[str, int], naming: NoteNaming) -> Iterator[str]:
    """Bar by bar as they sound, part after part; those of one bar stay in their order of time.

    ``parts`` has the place of each part in the lesson.
    """

    def place(note: ExplainedNote) -> tuple[int, int, int]:
        return parts[note.part], note.pass_, note.bar

    names = list(parts)
    for (part, pass_, bar), run in groupby(sorted(notes, key=place), key=place):
        where = _("{part}, bar {bar}, time {pass_}").format(part=names[part], bar=bar, pass_=pass_)
        yield f"  {where}: " + "  ".join(_note(note, naming) for note in run)


def _setup(setup: ExplainedSetup, naming: NoteNaming) -> Iterator[str]:
    capo = "" if setup.capo is None else _(", capo at fret {fret}").format(fret=setup.capo)
    yield _("{part}: scale {scale:g} mm, A4 at {hz:g} Hz{capo}").format(
        part=setup.part, scale=setup.scale_mm, hz=setup.reference_hz, capo=capo
    )
    for string in setup.strings:
        cents = f" {string.cents:+g}c" if string.cents else ""
        gauge = f"{string.gauge:.4g}" if string.gauge else "-"
        pull = "-" if string.tension_lb is None else f"{string.tension_lb:.1f} lb"
        if string.strength_percent is not None:
            share = _("{percent} % of breaking strength").format(
                percent=f"{string.strength_percent:.0f}"
            )
            pull = f"{pull:<8} {share}"
        yield (
            f"  {string.number:>2}  {shown(string.pitch, naming):<5}{string.hz:9.2f} Hz{cents}"
            f"  {gauge:>6}  {winding_words(Winding(string.winding)):<24} {pull}"
        )


def _section(section: ExplainedSection, naming: NoteNaming) -> Iterator[str]:
    span = f"{_clock(section.start_s)} - {_clock(section.end_s)}"
    times = ngettext("{count} time", "{count} times", section.times).format(count=section.times)
    title = f"{section.letter}  {section.name}".rstrip()
    yield f"{title}: {tempo_words(section.tempo)}, {section.meter}, {times}, {span}"
    if section.tonic:
        mode = f" {mode_words(Mode(section.mode))}" if section.mode else ""
        scale = " ".join(shown(name, naming) for name in section.scale)
        yield f"  {shown(section.tonic, naming)}{mode}: {scale}"
        for part in section.parts:
            words = sounds_shaped_words(section.tonic, part.shaped_as, naming)
            yield "  " + _("{part}: {words}").format(part=part.part, words=words)
    for candidate in section.mode_candidates:
        yield "  " + _candidate(candidate, naming)
    for cue in section.cues:
        yield "  " + _cue(cue)


def _candidate(candidate: ExplainedCandidate, naming: NoteNaming) -> str:
    return _("the notes may be in {tonic} {mode}: {reasons}").format(
        tonic=shown(candidate.tonic, naming),
        mode=mode_words(Mode(candidate.mode)),
        reasons="; ".join(candidate.reasons),
    )


def _cue(cue: ExplainedCue) -> str:
    start = _("{label}: from bar {bar}, beat {beat:g}").format(
        label=cue.label, bar=cue.bar, beat=cue.beat
    )
    if cue.end_bar is None or cue.end_beat is None:
        return start
    return start + _(" to bar {bar}, beat {beat:g}").format(bar=cue.end_bar, beat=cue.end_beat)


def _note(note: ExplainedNote, naming: NoteNaming) -> str:
    name = "x" if note.name is None else shown(note.name, naming)
    degree = f"({degree_shown(note.degree)})" if note.degree else ""
    marks = "".join(f" {mark.replace('_', ' ')}" for mark in note.marks if mark != "dead")
    return f"{note.beat:g} {note.string}:{note.fret} {name}{degree}{marks}"


def _clock(seconds: float) -> str:
    minutes, rest = divmod(seconds, 60)
    return f"{int(minutes)}:{rest:05.2f}"
