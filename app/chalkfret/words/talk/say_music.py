"""The music of a section in sentences: tempo, key, notes, the second guitar, effects."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from chalkfret.arrange.differences import Difference
from chalkfret.model.lesson import NoteNaming
from chalkfret.model.section import Tempo
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.words.differences import difference_words
from chalkfret.words.figures import fixed, number_words
from chalkfret.words.music import (
    beat_unit_words,
    key_words,
    setting_words,
    swing_words,
    tempo_words,
)
from chalkfret.words.talk.facts import (
    Changed,
    Effect,
    HardBar,
    KeyOf,
    Named,
    NotesOf,
    Otherwise,
    Pace,
    Second,
    Shaped,
)
from chalkfret.words.talk.hard import JUMP, STRETCH
from chalkfret.words.talk.lists import listed
from chalkfret.words.talk.say_setups import length
from chalkfret.words.text import _, ngettext

_RUNS_SAID: Final = 6  # more runs of bars than this are counted, not listed


def pace(fact: Pace, naming: NoteNaming) -> Iterator[str]:
    """Tempo, meters, swing, length."""
    yield _("The tempo is {tempo}.").format(tempo=tempo_words(fact.tempo))
    meters = listed(f"{count}/{unit}" for count, unit in fact.meters)
    yield ngettext("The meter is {meters}.", "The meters are {meters}.", len(fact.meters)).format(
        meters=meters
    )
    swing = swing_words(fact.swing)
    if swing:
        yield _("It is played with {swing}.").format(swing=swing)
    yield ngettext(
        "The section has {count} bar.", "The section has {count} bars.", fact.bars
    ).format(count=fact.bars)
    if fact.times > 1:
        yield ngettext(
            "It is played {count} time.", "It is played {count} times.", fact.times
        ).format(count=fact.times)
    yield length(fact.seconds)


def changed(fact: Changed, naming: NoteNaming) -> Iterator[str]:
    """Faster or slower than before, and another meter."""
    yield _tempo_change(fact)
    if fact.meter != fact.meter_before:
        yield _("Section {before} ends in {old}; this one begins in {new}.").format(
            before=fact.before,
            old="{}/{}".format(*fact.meter_before),
            new="{}/{}".format(*fact.meter),
        )


def _tempo_change(fact: Changed) -> str:
    old, new = fact.ended, fact.starts
    if old.unit is new.unit:
        before, now = _last(old), new.start
        units = beat_unit_words(new.unit)
    else:
        before, now = fact.ended_quarters, fact.starts_quarters
        units = beat_unit_words(Tempo(new.start).unit)
    if before == now and old.unit is new.unit:
        return _("The tempo is where section {before} ended.").format(before=fact.before)
    figures = {
        "before": fact.before,
        "units": units,
        "old": number_words(before),
        "new": number_words(now),
    }
    if before == now:
        return _(
            "The beat is counted otherwise, but {units} go on as in section {before}, {new} a "
            "minute."
        ).format(**figures)
    if now > before:
        text = _(
            "It is faster than the end of section {before}: {old} {units} a minute there, "
            "{new} here."
        )
    else:
        text = _(
            "It is slower than the end of section {before}: {old} {units} a minute there, "
            "{new} here."
        )
    return text.format(**figures)


def _last(tempo: Tempo) -> float:
    return tempo.start if tempo.end is None else tempo.end


def key(fact: KeyOf, naming: NoteNaming) -> Iterator[str]:
    """The key, and where the root lies."""
    yield _("The section is in {key}.").format(key=key_words(fact.key, naming))
    if fact.string is None:
        return
    if not fact.fret:
        text = _("The root on {part} is open string {string}.")
    elif fact.capo:
        text = _("The root on {part} is at fret {fret} above the capo on string {string}.")
    else:
        text = _("The root on {part} is at fret {fret} of string {string}.")
    yield text.format(part=fact.part, fret=fact.fret, string=fact.string)


def shaped(fact: Shaped, naming: NoteNaming) -> Iterator[str]:
    """What it sounds in and why that is not what the frets suggest."""
    names = {
        "part": fact.part,
        "sounds": shown(fact.sounds, naming),
        "shaped": "" if fact.shaped is None else shown(fact.shaped, naming),
    }
    if fact.shaped is None:
        yield _(
            "{part} sounds in {sounds}. Its strings lie unevenly apart from standard tuning, so "
            "the frets suggest no one key."
        ).format(**names)
    elif fact.shaped == fact.sounds:
        yield _("{part} sounds in {sounds}, as its frets suggest.").format(**names)
        return
    else:
        yield _("{part} sounds in {sounds}, though its frets suggest {shaped}.").format(**names)
    yield _proof(fact, naming)
    for string, fret, standard in fact.others:
        text = _("On string {string} it is at fret {fret}, which habit calls {standard}.")
        if not fret:
            text = _("On string {string} it is the open string, which habit calls {standard}.")
        yield text.format(fret=fret, string=string, standard=shown(standard, naming))


def _proof(fact: Shaped, naming: NoteNaming) -> str:
    if not fact.fret and not fact.capo:
        text = _("Open string {string} is {sounds}; in standard tuning it would be {standard}.")
    elif not fact.fret:
        text = _(
            "String {string} is tuned to {open}, and the capo at fret {capo} makes it {sounds}, "
            "where habit says {standard}."
        )
    elif fact.capo:
        text = _(
            "String {string} is tuned to {open}, with the capo at fret {capo}: fret {fret} above "
            "it is {sounds}, where habit says {standard}."
        )
    else:
        text = _(
            "String {string} is tuned to {open}: fret {fret} is {sounds}, where habit says "
            "{standard}."
        )
    return text.format(
        string=fact.string,
        open=shown(fact.open, naming),
        capo=fact.capo,
        fret=fact.fret,
        sounds=shown(fact.sounds, naming),
        standard=shown(fact.standard, naming),
    )


def notes(fact: NotesOf, naming: NoteNaming) -> Iterator[str]:
    """The notes and degrees in use, and those that colour the mode."""
    names = listed(shown(one.note, naming) for one in fact.notes)
    yield ngettext("The only note is {notes}.", "The notes are {notes}.", len(fact.notes)).format(
        notes=names
    )
    if not fact.keyed:
        return
    degrees = listed(degree_shown(one.degree) for one in fact.notes)
    yield ngettext(
        "As a degree that is {degrees}.", "As degrees these are {degrees}.", len(fact.notes)
    ).format(degrees=degrees)
    if fact.colour:
        yield _colour(fact, naming)
    if fact.unplayed:
        yield ngettext(
            "{notes} would colour the scale, but is not played.",
            "{notes} would colour the scale, but are not played.",
            len(fact.unplayed),
        ).format(notes=_with_degrees(fact.unplayed, naming))
    if fact.outside:
        yield ngettext(
            "{notes} is not of the scale.", "{notes} are not of the scale.", len(fact.outside)
        ).format(notes=_with_degrees(fact.outside, naming))


def _colour(fact: NotesOf, naming: NoteNaming) -> str:
    count = len(fact.colour)
    if fact.third == "major":
        text = ngettext(
            "What gives it its colour is {notes}: plain major does not have it.",
            "What gives it its colour are {notes}: plain major does not have them.",
            count,
        )
    elif fact.third == "minor":
        text = ngettext(
            "What gives it its colour is {notes}: plain minor does not have it.",
            "What gives it its colour are {notes}: plain minor does not have them.",
            count,
        )
    else:
        text = ngettext(
            "What gives it its colour is {notes}: neither plain major nor plain minor has it.",
            "What gives it its colour are {notes}: neither plain major nor plain minor has them.",
            count,
        )
    return text.format(notes=_with_degrees(fact.colour, naming))


def _with_degrees(named: Sequence[Named], naming: NoteNaming) -> str:
    return listed(
        _("{note} ({degree})").format(note=shown(one.note, naming), degree=degree_shown(one.degree))
        for one in named
    )


def second(fact: Second, naming: NoteNaming) -> Iterator[str]:
    """What the second guitar does otherwise, and in which bars."""
    if not fact.differences:
        yield _("{part} plays the same as {other} from beginning to end.").format(
            part=fact.part, other=fact.other
        )
    for one in fact.differences:
        yield _difference(one, fact)


def _difference(one: Otherwise, fact: Second) -> str:
    what = Difference(one.what, one.semitones, one.steps)
    sentence = difference_words(what, fact.part, fact.other)
    count = sum(last - first + 1 for first, last in one.bars)
    if len(one.bars) > _RUNS_SAID:
        return _("In {count} bars: {sentence}").format(count=count, sentence=sentence)
    bars = listed(
        str(first) if first == last else _("{first} to {last}").format(first=first, last=last)
        for first, last in one.bars
    )
    return ngettext("In bar {bars}: {sentence}", "In bars {bars}: {sentence}", count).format(
        bars=bars, sentence=sentence
    )


def effect(fact: Effect, naming: NoteNaming) -> Iterator[str]:
    """An effect: on which guitar, from where to where, and how it is set."""
    figures = {"label": fact.label, "bar": fact.bar, "beat": number_words(fact.beat)}
    if fact.part is None:
        yield _("{label} goes on at bar {bar}, beat {beat}, on every guitar.").format(**figures)
    else:
        yield _("{label} goes on at bar {bar}, beat {beat}, on {part}.").format(
            **figures, part=fact.part
        )
    if fact.end_bar is None:
        yield _("It stays on to the end of the section.")
    elif fact.end_beat is None:
        yield _("It goes off at the end of bar {bar}.").format(bar=fact.end_bar)
    else:
        yield _("It goes off at bar {bar}, beat {beat}.").format(
            bar=fact.end_bar, beat=number_words(fact.end_beat)
        )
    if fact.settings:
        yield _("Set it to {settings}.").format(
            settings=listed(setting_words(fact.effect, one) for one in fact.settings)
        )


def hard(fact: HardBar, naming: NoteNaming) -> Iterator[str]:
    """The hard bar, with the reasons that make it so."""
    yield _("The hard bar for {part} is bar {bar}.").format(part=fact.part, bar=fact.bar)
    if fact.high - fact.low >= STRETCH:
        yield _("Within one beat the hand covers frets {low} to {high}.").format(
            low=fact.low, high=fact.high
        )
    if abs(fact.jump_to - fact.jump_from) >= JUMP:
        yield _("From one beat to the next it jumps from fret {old} to fret {new}.").format(
            old=fact.jump_from, new=fact.jump_to
        )
    yield _("It goes at up to {speed} notes a second.").format(speed=fixed(fact.speed, 1))
