"""What differs between an earlier and a later lesson, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from msgspec.structs import replace

from chalkfret.model.lesson_differences import Change, Differences, Named, SectionChange
from chalkfret.model.section import Tempo
from chalkfret.words.figures import number_words
from chalkfret.words.music import tempo_words
from chalkfret.words.text import N_, _, ngettext

_FIELDS: Final = {
    "letter": N_("Section {letter}: the letter is changed."),
    "name": N_("Section {letter}: the name is changed."),
    "swing": N_("Section {letter}: the swing is changed."),
    "key": N_("Section {letter}: the key is changed."),
    "times": N_("Section {letter}: how often it is played is changed."),
    "notes": N_("Section {letter}: the teacher’s notes are changed."),
    "cues": N_("Section {letter}: the cues are changed."),
    "retunes": N_("Section {letter}: the retuning is changed."),
}
_OTHER: Final = N_("Section {letter}: other settings are changed.")


def difference_sentences(found: Differences, most: int = 12) -> tuple[str, ...]:
    """A sentence for each thing that differs; beyond ``most`` of them their number is said."""
    lines = list(_lines(found))
    if not lines:
        return (_("There is no difference."),)
    if len(lines) <= most:
        return tuple(lines)
    left = len(lines) - most + 1
    more = ngettext("And {count} more difference.", "And {count} more differences.", left)
    return (*lines[: most - 1], more.format(count=left))


def _lines(found: Differences) -> Iterator[str]:
    if found.title is not None:
        old, new = found.title
        if old and new:
            yield _("The title was “{old}” and is “{new}”.").format(old=old, new=new)
        else:
            yield _("The title is changed.")
    if found.fields:
        yield _("Texts or settings of the whole lesson are changed.")
    for named in found.new_parts:
        yield _("The guitar “{name}” is new.").format(name=named.name)
    for named in found.gone_parts:
        yield _("The guitar “{name}” was taken away.").format(name=named.name)
    for named in found.changed_parts:
        yield _("The guitar “{name}” has another setup, name or sound.").format(name=named.name)
    yield from _whole_sections(found.new_sections, found.gone_sections)
    for section in found.sections:
        yield from _section(section)
    if found.reordered:
        yield _("Sections or guitars stand in another order.")


def _whole_sections(new: Iterable[Named], gone: Iterable[Named]) -> Iterator[str]:
    for named in new:
        yield ngettext(
            "Section {letter} is new, with {count} bar.",
            "Section {letter} is new, with {count} bars.",
            named.bars,
        ).format(letter=named.name, count=named.bars)
    for named in gone:
        yield ngettext(
            "Section {letter} was taken away, with {count} bar.",
            "Section {letter} was taken away, with {count} bars.",
            named.bars,
        ).format(letter=named.name, count=named.bars)


def _section(section: SectionChange) -> Iterator[str]:
    if section.tempo is not None:
        yield _tempo(section.letter, *section.tempo)
    told = [name for name in section.fields if name != "tempo"]
    for text in dict.fromkeys(_FIELDS.get(name, _OTHER) for name in told):
        yield _(text).format(letter=section.letter)
    yield from _bars(section)
    yield from _notes(section.letter, section.notes)


def _tempo(letter: str, old: Tempo, new: Tempo) -> str:
    if old.start != new.start and replace(old, start=new.start) == new:
        was, now = number_words(old.start), number_words(new.start)
        return _("Section {letter}: the tempo was {old} and is {new}.").format(
            letter=letter, old=was, new=now
        )
    return _("Section {letter}: the tempo was: {old}. It is: {new}.").format(
        letter=letter, old=tempo_words(old), new=tempo_words(new)
    )


def _bars(section: SectionChange) -> Iterator[str]:
    letter, bars = section.letter, section.bars
    if bars.new:
        yield ngettext(
            "Section {letter}: {count} bar is new.",
            "Section {letter}: {count} bars are new.",
            bars.new,
        ).format(letter=letter, count=bars.new)
    if bars.gone:
        yield ngettext(
            "Section {letter}: {count} bar was taken away.",
            "Section {letter}: {count} bars were taken away.",
            bars.gone,
        ).format(letter=letter, count=bars.gone)
    if bars.changed == 1:
        yield _("Section {letter}: bar {bar} is changed.").format(letter=letter, bar=section.first)
    elif bars.changed:
        yield _(
            "Section {letter}: {count} bars are changed, between bars {first} and {last}."
        ).format(letter=letter, count=bars.changed, first=section.first, last=section.last)


def _notes(letter: str, notes: Change) -> Iterator[str]:
    if notes.new:
        yield ngettext(
            "Section {letter}: {count} note is new.",
            "Section {letter}: {count} notes are new.",
            notes.new,
        ).format(letter=letter, count=notes.new)
    if notes.gone:
        yield ngettext(
            "Section {letter}: {count} note was taken away.",
            "Section {letter}: {count} notes were taken away.",
            notes.gone,
        ).format(letter=letter, count=notes.gone)
    if notes.changed:
        yield ngettext(
            "Section {letter}: {count} note is changed.",
            "Section {letter}: {count} notes are changed.",
            notes.changed,
        ).format(letter=letter, count=notes.changed)
