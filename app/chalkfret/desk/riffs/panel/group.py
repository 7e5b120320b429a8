"""What the groups of the panel have in common: they show a part of the lesson, and edit it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.fields import Field
from chalkfret.desk.pieces.form import Group
from chalkfret.edits import sections
from chalkfret.model import Lesson, Section, SectionHead
from chalkfret.words.text import _

_NAME_UNITS = 14  # all groups have their controls under one another


class SectionGroup(Group):
    """A group that shows the section in which the teacher is working."""

    def __init__(self, document: Document, look: Look, title: str) -> None:
        super().__init__(look, title, name_units=_NAME_UNITS)
        self._document = document
        self._editing: Field | None = None

    @property
    def section(self) -> Section:
        """The section that is shown."""
        return self._document.lesson.sections[self._document.section]

    def show_section(self, section: Section) -> None:
        """Show what holds for this section."""
        raise NotImplementedError

    def _field(
        self,
        name: str,
        read: Callable[[str], Any],
        write: Callable[[Any], str],
        edit: Callable[[Any], object],
        step: Callable[[Any, int], Any] | None = None,
    ) -> Field:
        """A field whose value goes into ``edit``; what it cannot read is said under it."""
        field = Field(read, write, step)
        field.setAccessibleName(name)
        field.typed.connect(partial(self._take, field, edit))
        self.hear(field)
        return field

    def _take(self, field: Field, edit: Callable[[Any], object], value: Any) -> None:
        """Let the field's value go into the lesson; where it cannot the field says so."""
        self._editing = field
        edit(value)
        self._editing = None

    def _set(self, what: str, **fields: Any) -> bool:
        """Set fields of the section's head; steps in a row of the same field become one."""
        return self._attempt(
            what, lambda lesson: sections.set_head(lesson, self._document.section, **fields),
            tuple(fields),
        )  # fmt: skip

    def _attempt(self, what: str, edit: Callable[[Lesson], Lesson], merge: object = None) -> bool:
        head: SectionHead = self.section.head
        text = _("Change {what} of section {section}").format(what=what, section=head.letter)
        key = None if merge is None else (self.section.id, merge)
        refused = None if self._editing is None else self._editing.refuse
        return self._document.attempt(text, edit, key, refused)
