"""Actions on bars, sections and parts."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.meant import place_words
from chalkfret.edits import bars, parts, repeats, second_guitar, sections, selection
from chalkfret.edits.second_guitar import Rule
from chalkfret.model import Lesson
from chalkfret.words.text import N_, _

_RULES = (
    (Rule.SAME, N_("Bars as the other guitar, the &same"), "Ctrl+Shift+E"),
    (Rule.OCTAVE, N_("Bars as the other guitar, an &octave apart"), "Ctrl+Shift+O"),
    (Rule.FIFTH, N_("Bars as the other guitar, with &fifths"), "Ctrl+Shift+Q"),
)
_BAR, _SECTION, _PART = N_("&Bar"), N_("&Section"), N_("&Part")


class SectionActions:
    """What can be done to whole bars, sections and parts, at the cursor or the selection."""

    def __init__(self, document: Document, grid: Grid) -> None:
        self._document, self._grid = document, grid

    def all(self) -> list[Action]:
        """The actions, in the order of their menus."""
        return [*self._bars(), *self._sections(), *self._parts()]

    def bars_meant(self) -> tuple[int, int]:
        """The first bar that is meant in the cursor's section, and how many are."""
        cursor, anchor = self._grid.here, self._grid.anchor
        if anchor is None or anchor.section != cursor.section:
            return cursor.bar, 1
        first, last = sorted((anchor.bar, cursor.bar))
        return first, last - first + 1

    def _attempt(self, text: str, edit: Callable[[Lesson], Lesson]) -> bool:
        first, _count = self.bars_meant()
        words = place_words(self._document.lesson, self._grid.here.section, first)
        return self._document.attempt(text.format(**words), edit)

    def _go(self, section: int, bar: int, tick: int = 0) -> None:
        grid = self._grid
        grid.move_to(moves.at(self._document.lesson, grid.here, section, bar, tick))

    # Bars

    def _bars(self) -> list[Action]:
        return [
            Action("bar_after", _("Add a bar &after"), ("Ctrl+Return",), _BAR, self._bar_after),
            Action("bar_before", _("Add a bar &before"), ("Ctrl+Shift+Return",), _BAR,
                   self._bar_before),
            Action("bar_duplicate", _("D&uplicate"), ("Ctrl+D",), _BAR, self._duplicate_bars),
            Action("bar_delete", _("&Delete"), ("Ctrl+Del",), _BAR, self._delete_bars),
            Action("bar_repeat", _("&Repeat, once more each time"), ("Ctrl+R",), _BAR,
                   self._repeat, separated=True),
            Action("bar_repeat_off", _("Take the repeat away"), ("Ctrl+Shift+R",), _BAR,
                   self._repeat_off),
            Action("bar_ending", _("&Ending: next one, the same longer, none"), ("Ctrl+E",), _BAR,
                   self._ending),
        ]  # fmt: skip

    def _bar_after(self) -> None:
        section, bar = self._grid.here.section, self._grid.here.bar
        if self._attempt(
            _("Add a bar in section {section}"), lambda one: bars.insert(one, section, bar + 1)
        ):
            self._go(section, bar + 1)

    def _bar_before(self) -> None:
        section, bar = self._grid.here.section, self._grid.here.bar
        if self._attempt(
            _("Add a bar in section {section}"), lambda one: bars.insert(one, section, bar)
        ):
            self._go(section, bar)

    def _duplicate_bars(self) -> None:
        section, (first, count) = self._grid.here.section, self.bars_meant()
        if self._attempt(
            _("Duplicate bar {bar} of section {section}"),
            lambda one: bars.duplicate(one, section, first, count),
        ):
            self._go(section, first + count)

    def _delete_bars(self) -> None:
        section, (first, count) = self._grid.here.section, self.bars_meant()
        if self._attempt(
            _("Delete bar {bar} of section {section}"),
            lambda one: bars.delete(one, section, first, count),
        ):
            self._go(section, first)

    def _repeat(self) -> None:
        section, (first, count) = self._grid.here.section, self.bars_meant()
        found = self._document.lesson.sections[section].bars
        around = repeats.repeat_around(found, first)
        times = 2
        if around is not None and around.first <= first and count <= around.last - first + 1:
            first, count = around.first, around.last - around.first + 1
            times = around.times + 1
        self._attempt(
            _("Repeat bars of section {section}"),
            lambda one: repeats.set_repeat(one, section, first, count, times),
        )

    def _repeat_off(self) -> None:
        cursor = self._grid.here
        self._attempt(
            _("Take a repeat of section {section} away"),
            lambda one: repeats.clear_repeat(one, cursor.section, cursor.bar),
        )

    def _ending(self) -> None:
        section, (first, count) = self._grid.here.section, self.bars_meant()
        following = repeats.next_ending(self._document.lesson.sections[section].bars, first)
        self._attempt(
            _("Change the ending of bar {bar} in section {section}"),
            lambda one: repeats.set_passes(one, section, first, count, following),
        )

    # Sections

    def _sections(self) -> list[Action]:
        return [
            Action("section_add", _("&New section after this one"), ("Ctrl+Shift+N",), _SECTION,
                   self._add_section),
            Action("section_duplicate", _("D&uplicate"), ("Ctrl+Shift+D",), _SECTION,
                   self._duplicate_section),
            Action("section_split", _("S&plit at this bar"), ("Ctrl+Shift+K",), _SECTION,
                   self._split),
            Action("section_join", _("&Join with the next one"), ("Ctrl+Shift+J",), _SECTION,
                   self._join),
            Action("section_earlier", _("Move &earlier"), ("Ctrl+Shift+PgUp",), _SECTION,
                   lambda: self._reorder(-1), separated=True),
            Action("section_later", _("Move &later"), ("Ctrl+Shift+PgDown",), _SECTION,
                   lambda: self._reorder(1)),
            Action("section_delete", _("&Delete"), ("Ctrl+Shift+Del",), _SECTION,
                   self._delete_section, separated=True),
        ]  # fmt: skip

    def _add_section(self) -> None:
        at = self._grid.here.section + 1
        if self._attempt(_("Add a section"), lambda one: sections.add(one, at)):
            self._go(at, 0)

    def _duplicate_section(self) -> None:
        section = self._grid.here.section
        if self._attempt(
            _("Duplicate section {section}"), lambda one: sections.duplicate(one, section)
        ):
            self._go(section + 1, 0)

    def _split(self) -> None:
        cursor = self._grid.here
        if cursor.bar == 0:
            self._document.refused.emit(_("A section is split at a bar behind its first one."))
        elif self._attempt(
            _("Split section {section} at bar {bar}"),
            lambda one: sections.split(one, cursor.section, cursor.bar),
        ):
            self._go(cursor.section + 1, 0)

    def _join(self) -> None:
        cursor = self._grid.here
        if self._attempt(
            _("Join section {section} with the next one"),
            lambda one: sections.join(one, cursor.section),
        ):
            self._go(cursor.section, cursor.bar, cursor.tick)

    def _reorder(self, way: int) -> None:
        cursor = self._grid.here
        to = cursor.section + way
        if not 0 <= to < len(self._document.lesson.sections):
            return
        if self._attempt(
            _("Move section {section}"), lambda one: sections.reorder(one, cursor.section, to)
        ):
            self._go(to, cursor.bar, cursor.tick)

    def _delete_section(self) -> None:
        section = self._grid.here.section
        if self._attempt(_("Delete section {section}"), lambda one: sections.delete(one, section)):
            self._go(max(0, section - 1), 0)

    # Parts

    def _parts(self) -> list[Action]:
        several, why = self._several_parts, _("There is only one guitar.")
        return [
            Action("part_add", _("&New guitar, tuned alike"), ("Ctrl+Shift+G",), _PART,
                   self._add_part),
            Action("part_copy", _("New guitar &with these notes"), ("Ctrl+Shift+H",), _PART,
                   self._copy_part),
            *(self._follower(*rule) for rule in _RULES),
            Action("part_remove", _("&Remove this guitar"), (), _PART, self._remove_part, several,
                   why=why, separated=True),
            Action("part_up", _("Move &up"), (), _PART, lambda: self._move_part(-1), several,
                   why=why),
            Action("part_down", _("Move &down"), (), _PART, lambda: self._move_part(1), several,
                   why=why),
        ]  # fmt: skip

    def _follower(self, rule: Rule, text: str, key: str) -> Action:
        return Action(f"follow_{rule.value}", _(text), (key,), _PART,
                      lambda: self._follow(rule), self._several_parts,
                      why=_("There is only one guitar."), separated=rule is Rule.SAME)  # fmt: skip

    def _follow(self, rule: Rule) -> None:
        """Write the bars meant after the guitar above (for the first one: below), and go on."""
        lesson, cursor = self._document.lesson, self._grid.here
        source = cursor.part - 1 if cursor.part else 1
        first, count = self.bars_meant()
        span = selection.bars_span(lesson, cursor.section, first, count, (source,))
        if selection.is_empty(lesson, span):
            self._document.refused.emit(
                _("{part} has no notes in these bars.").replace("{part}", lesson.parts[source].name)
            )
            return
        text = _("Write bar {bar} of section {section} after another guitar")
        made: list[Lesson] = []

        def write(one: Lesson) -> Lesson:
            made.append(second_guitar.follow(one, span, cursor.part, rule))
            return made[0]

        if self._attempt(text, write):
            start = moves.at(self._document.lesson, cursor, cursor.section, first)
            ticks = selection.span_ticks(lesson, span)
            self._grid.move_to(moves.after_typing(self._document.lesson, start, ticks))
        elif made:
            self._document.said.emit(_("The bars have these notes already."))

    def _several_parts(self) -> bool:
        return len(self._document.lesson.parts) > 1

    def _add_part(self) -> None:
        lesson, part = self._document.lesson, self._grid.here.part
        names = {one.name for one in lesson.parts}
        number = len(lesson.parts) + 1
        while (name := _("Guitar {number}").format(number=number)) in names:
            number += 1
        setup = lesson.parts[part].setup
        if self._attempt(
            _("Add {part}").replace("{part}", name),
            lambda one: parts.add(one, name, setup, part + 1),
        ):
            self._to_part(part + 1)

    def _copy_part(self) -> None:
        part = self._grid.here.part
        name = self._document.lesson.parts[part].name
        if self._attempt(
            _("Copy {part}").replace("{part}", name), lambda one: parts.copy_from(one, part)
        ):
            self._to_part(part + 1)

    def _remove_part(self) -> None:
        part = self._grid.here.part
        name = self._document.lesson.parts[part].name
        self._attempt(
            _("Remove {part}").replace("{part}", name), lambda one: parts.remove(one, part)
        )

    def _move_part(self, way: int) -> None:
        part = self._grid.here.part
        to = part + way
        if not 0 <= to < len(self._document.lesson.parts):
            return
        name = self._document.lesson.parts[part].name
        if self._attempt(
            _("Move {part}").replace("{part}", name), lambda one: parts.reorder(one, part, to)
        ):
            self._to_part(to)

    def _to_part(self, part: int) -> None:
        grid = self._grid
        grid.move_to(moves.kept(self._document.lesson, replace(grid.here, part=part)))
