"""What differs between two lessons: the earlier one ``before`` and the later one ``after``.

Conventions
-----------
- Parts and sections are the same where their ids are; a part that was renamed has its new name.
- Bars count from 1 as they stand in the later lesson. Bars of a section are matched in order, so a
  bar put in is one new bar, not a section full of changed ones.
- A note is the same where it starts at the same tick on the same string of the same part of the
  same bar. Notes of new bars are new, notes of bars taken away are taken away.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from typing import Final

from msgspec import Struct

from chalkfret.model.bars import Bar, Notes
from chalkfret.model.lesson import Lesson
from chalkfret.model.section import Section, Tempo

_MATCHED_MOST: Final = 600
"""Bars that are matched one by one, after equal ends are cut off; longer runs are compared bar for
bar from the front, since the matching takes quadratic time."""


class Change(Struct, frozen=True):
    """So many things of a kind are new, gone, and changed."""

    new: int = 0
    gone: int = 0
    changed: int = 0

    def __bool__(self) -> bool:
        return bool(self.new or self.gone or self.changed)

    def __add__(self, other: Change) -> Change:
        return Change(self.new + other.new, self.gone + other.gone, self.changed + other.changed)


class SectionChange(Struct, frozen=True):
    """What differs in a section that both lessons have.

    ``fields`` are the names of its head's fields; ``tempo`` is the earlier and the later one where
    that differs; ``first`` and ``last`` the first and the last
    changed bar (0: there is none).
    """

    letter: str
    fields: tuple[str, ...] = ()
    bars: Change = Change()
    notes: Change = Change()
    first: int = 0
    last: int = 0
    tempo: tuple[Tempo, Tempo] | None = None


class Named(Struct, frozen=True):
    """A section or part that only one of the lessons has, with the number of its bars."""

    name: str
    bars: int = 0


class Differences(Struct, frozen=True):
    """All that differs; false where nothing does."""

    title: tuple[str, str] | None = None
    fields: tuple[str, ...] = ()  # of the lesson's head, but the title
    new_parts: tuple[Named, ...] = ()
    gone_parts: tuple[Named, ...] = ()
    changed_parts: tuple[Named, ...] = ()
    new_sections: tuple[Named, ...] = ()
    gone_sections: tuple[Named, ...] = ()
    sections: tuple[SectionChange, ...] = ()
    reordered: bool = False  # what both have stands in another order

    def __bool__(self) -> bool:
        return self != Differences()


def differences(before: Lesson, after: Lesson) -> Differences:
    """What an earlier and a later lesson differ in."""
    if before == after:
        return Differences()
    old_parts = {part.id: part for part in before.parts}
    new_parts = {part.id: part for part in after.parts}
    old = {section.id: section for section in before.sections}
    new = {section.id: section for section in after.sections}
    titles = before.head.title, after.head.title
    rows = _part_rows(before, after)
    return Differences(
        title=titles if titles[0] != titles[1] else None,
        fields=tuple(name for name in _fields(before.head, after.head) if name != "title"),
        new_parts=tuple(Named(part.name) for part in after.parts if part.id not in old_parts),
        gone_parts=tuple(Named(part.name) for part in before.parts if part.id not in new_parts),
        changed_parts=tuple(
            Named(part.name)
            for part in after.parts
            if part.id in old_parts and part != old_parts[part.id]
        ),
        new_sections=tuple(_named(one) for one in after.sections if one.id not in old),
        gone_sections=tuple(_named(one) for one in before.sections if one.id not in new),
        sections=tuple(
            change
            for section in after.sections
            if section.id in old
            and (change := _section(old[section.id], section, rows)) is not None
        ),
        reordered=_reordered(list(old_parts), list(new_parts)) or _reordered(list(old), list(new)),
    )


def _named(section: Section) -> Named:
    return Named(section.head.letter, len(section.bars))


def _fields(before: Struct, after: Struct) -> Iterator[str]:
    for name in before.__struct_fields__:
        if getattr(before, name) != getattr(after, name):
            yield name


def _reordered(old: Sequence[str], new: Sequence[str]) -> bool:
    kept = set(old) & set(new)
    return [one for one in old if one in kept] != [one for one in new if one in kept]


_Rows = tuple[tuple[int | None, int | None], ...]


def _part_rows(before: Lesson, after: Lesson) -> _Rows:
    """Where each part stands in the bars of both lessons; None: it is not in that one."""
    old = {part.id: row for row, part in enumerate(before.parts)}
    new = {part.id: row for row, part in enumerate(after.parts)}
    return tuple((old.get(name), new.get(name)) for name in {**old, **new})


def _section(before: Section, after: Section, rows: _Rows) -> SectionChange | None:
    if before is after:
        return None
    fields = tuple(_fields(before.head, after.head))
    bars, notes = Change(), Change()
    first = last = 0
    plain = all(old == new for old, new in rows)
    for old, new, at in _pairs(before, after):
        if old is new or (plain and old == new):
            continue
        changed = _notes(old, new, rows)
        if old is not None and new is not None:
            if not changed and old.head == new.head:
                continue  # only the parts stand otherwise
            bars += Change(changed=1)
            first, last = first or at, at
        else:
            bars += Change(new=1) if old is None else Change(gone=1)
        notes += changed
    if not (fields or bars or notes):
        return None
    tempi = (before.head.tempo, after.head.tempo) if "tempo" in fields else None
    return SectionChange(after.head.letter, fields, bars, notes, first, last, tempi)


def _pairs(before: Section, after: Section) -> Iterator[tuple[Bar | None, Bar | None, int]]:
    """Bars that belong together and the later one's number; None: the other is new, or gone."""
    old, new = tuple(before.bars), tuple(after.bars)
    least = min(len(old), len(new))
    head = next((at for at in range(least) if old[at] != new[at]), least)
    most = least - head
    tail = next((at for at in range(most) if old[-1 - at] != new[-1 - at]), most)
    old, new = old[head : len(old) - tail], new[head : len(new) - tail]
    if max(len(old), len(new)) > _MATCHED_MOST:
        runs = [[0, len(old), 0, len(new)]]
    else:
        matcher = SequenceMatcher(None, old, new, autojunk=False)
        runs = [run for kind, *run in matcher.get_opcodes() if kind != "equal"]
    for from_, to, start, stop in runs:
        for step in range(max(to - from_, stop - start)):
            yield (
                old[from_ + step] if from_ + step < to else None,
                new[start + step] if start + step < stop else None,
                head + start + step + 1,
            )


def _notes(before: Bar | None, after: Bar | None, rows: _Rows) -> Change:
    total = Change()
    for old_row, new_row in rows:
        old: Notes = () if before is None or old_row is None else before.notes[old_row]
        new: Notes = () if after is None or new_row is None else after.notes[new_row]
        if old == new:
            continue
        olds = {(note.onset, note.course): note for note in old}
        news = {(note.onset, note.course): note for note in new}
        total += Change(
            new=len(news.keys() - olds.keys()),
            gone=len(olds.keys() - news.keys()),
            changed=sum(olds[place] != news[place] for place in olds.keys() & news.keys()),
        )
    return total
