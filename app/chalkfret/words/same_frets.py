"""What the same frets give in another tuning, in words: the key, the notes, the chords."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from chalkfret.arrange.same_frets import SameFrets, SectionFrets, Verdict
from chalkfret.model.lesson import Lesson, NoteNaming
from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Key
from chalkfret.theory.chords import chord
from chalkfret.theory.naming import shown
from chalkfret.theory.shape_key import simplest_tonic
from chalkfret.theory.spelling import pitch_name, spell
from chalkfret.words.music import key_words
from chalkfret.words.names import symbol_words
from chalkfret.words.text import N_, _, ngettext

_NAMED_MOST: Final = 3  # notes and chords told by name; the rest is counted

_VERDICTS: Final[dict[Verdict, str]] = {
    Verdict.SAME: N_("Section {letter}: the same frets sound just as written."),
    Verdict.IN_KEY: N_("Section {letter}: the same frets give other notes, all of the scale."),
    Verdict.BROKEN: N_("Section {letter}: the same frets do not give this riff."),
    Verdict.SILENT: N_("Section {letter}: nothing is played here."),
}


def frets_words(lesson: Lesson, found: SameFrets) -> list[str]:
    """What the same frets give, section by section."""
    return [
        line for section in found.sections for line in section_frets_words(lesson, section)
    ]  # fmt: skip


def section_frets_words(lesson: Lesson, found: SectionFrets) -> Iterator[str]:
    """What the same frets give in a section."""
    head, naming = lesson.sections[found.section].head, lesson.head.note_naming
    if found.verdict is Verdict.WHOLE:
        yield _whole(head.letter, found.shift)
    else:
        yield _(_VERDICTS[found.verdict]).format(letter=head.letter)
    after = None if head.key is None else moved(head.key, found.shift)
    if after is not None and (said := _sounds_in(found, key_words(after, naming))):
        yield said
    yield from _notes(found, after, naming)
    yield from _missing(found, head.key, naming)
    yield from _chords(found, head.key, after, naming)


def moved(key: Key, semitones: int) -> Key:
    """The key so many semitones higher, its tonic by the name that needs the fewest signs."""
    return replace(key, tonic=simplest_tonic((pitch_class(key.tonic) + semitones) % 12, key))


def _whole(letter: str, shift: int) -> str:
    count = abs(shift)
    words = ngettext(
        "Section {letter}: the same frets give the whole riff {count} semitone lower.",
        "Section {letter}: the same frets give the whole riff {count} semitones lower.",
        count,
    )
    if shift > 0:
        words = ngettext(
            "Section {letter}: the same frets give the whole riff {count} semitone higher.",
            "Section {letter}: the same frets give the whole riff {count} semitones higher.",
            count,
        )
    return words.format(letter=letter, count=count)


def _sounds_in(found: SectionFrets, key: str) -> str:
    """The key in which it then sounds; empty where nothing moves or no key can be said."""
    if found.verdict is Verdict.WHOLE:
        return _("It then sounds in {key}.").format(key=key)
    if found.verdict is Verdict.IN_KEY:
        if found.shift:
            return _("It then sounds in {key}.").format(key=key)
        return _("It still sounds in {key}.").format(key=key)
    other = sum(one.shift is not None for one in found.changed)
    if found.verdict is Verdict.BROKEN and 2 * other < found.notes:
        return _("Most of its notes then sound in {key}.").format(key=key)
    return ""


def _notes(found: SectionFrets, key: Key | None, naming: NoteNaming) -> Iterator[str]:
    """The notes that are not those of the riff moved as a whole."""
    bars: dict[tuple[int, int], int] = {}
    counted: Counter[tuple[int, int]] = Counter()
    for one in found.changed:
        if one.shift is not None and one.pitch is not None:
            pair = one.pitch + found.shift, one.pitch + one.shift
            bars.setdefault(pair, one.bar)
            counted[pair] += 1
    for wanted, now in list(bars)[:_NAMED_MOST]:
        count = counted.pop((wanted, now))
        names = spell(wanted, key), spell(now, key)
        if names[0] == names[1]:  # in another octave
            names = pitch_name(wanted, key), pitch_name(now, key)
        yield ngettext(
            "Bar {bar}: {note} sounds instead of {wanted}.",
            "From bar {bar} on, {count} times: {note} sounds instead of {wanted}.",
            count,
        ).format(
            bar=bars[wanted, now] + 1,
            count=count,
            note=shown(names[1], naming),
            wanted=shown(names[0], naming),
        )
    rest = counted.total()
    if rest:
        yield ngettext(
            "{count} more note differs.", "{count} more notes differ.", rest
        ).format(count=rest)  # fmt: skip


def _missing(found: SectionFrets, key: Key | None, naming: NoteNaming) -> Iterator[str]:
    """The notes for which there is no string or no fret."""
    missing = [one for one in found.changed if one.shift is None]
    if len(missing) > _NAMED_MOST:
        count = len(missing)
        yield ngettext(
            "{count} note cannot be played.", "{count} notes cannot be played.", count
        ).format(count=count)
        return
    for one in missing:
        note = _("a dead note")
        if one.pitch is not None:
            note = shown(spell(one.pitch, key), naming)
        yield _("Bar {bar}: {note} cannot be played.").format(bar=one.bar + 1, note=note)


def _chords(
    found: SectionFrets, before: Key | None, after: Key | None, naming: NoteNaming
) -> Iterator[str]:
    """Which chords become which."""
    counted: Counter[tuple[str, str]] = Counter()
    for shape in found.shapes:
        names = _chord(shape.before, before, naming), _chord(shape.after, after, naming)
        counted[names] += 1
    named = [pair for pair in counted if pair[0] != pair[1]][:_NAMED_MOST]
    for old, new in named:
        yield _("{chord} becomes {other}.").format(chord=old, other=new)
        del counted[old, new]
    rest = counted.total()
    if rest and named:
        yield ngettext(
            "{count} more chord becomes another one.",
            "{count} more chords become other ones.",
            rest,
        ).format(count=rest)
    elif rest:
        yield ngettext(
            "{count} chord becomes another one.", "{count} chords become other ones.", rest
        ).format(count=rest)


def _chord(midis: tuple[int, ...], key: Key | None, naming: NoteNaming) -> str:
    """The name of a chord, its root and bass called as the key has them."""
    named = chord(midis)
    if named is None:
        return ""
    called = {midi % 12: spell(midi, key) for midi in midis}
    root = None if named.root is None else called[named.root]
    return symbol_words(named, root, called[named.bass], naming)
