"""What can be found in a window: actions, settings, sections, parts and bars.

Bars are thousands and all called alike, so they are matched by section and number
(``matching.numbered``) and written out only where they are shown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING

from msgspec import Struct

from chalkfret.desk.actions import Action
from chalkfret.desk.find.matching import How, answer, numbered, words_of
from chalkfret.desk.keys_sheet import full_name
from chalkfret.desk.leading import do, page_of, to_bar, to_part
from chalkfret.model import Section
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.window import Window


class Entry(Struct, frozen=True):
    """One thing that can be found.

    ``id`` is kept, so that what was used lately is known again. ``kind`` says what it is, or for
    an action where it works. ``run`` does it or leads there; ``why_not`` says what is missing.
    """

    id: str
    text: str
    kind: str
    run: Callable[[], object]
    keys: str = ""
    words: str = ""
    why_not: Callable[[], str] = str
    last: bool = False  # behind others that answer as well


def section_name(section: Section) -> str:
    """A section by letter and name."""
    head = section.head
    text = _("Section {letter}: {name}") if head.name else _("Section {letter}")
    return text.replace("{letter}", head.letter).replace("{name}", head.name)


class Entries:
    """All that can be found in the window as it is now."""

    def __init__(self, window: Window) -> None:
        self._window = window
        window.make_pages()
        self._fixed = [*self._actions(), *self._settings()]
        if window.has_lesson():
            self._fixed += [*self._sections(), *self._parts()]

    def found(self, typed: str, lately: tuple[str, ...]) -> list[Entry | tuple[int, int]]:
        """What answers the typed words, the best first; a bar as its section and its number.

        Among equals what was used lately comes first. Nothing typed: what was used lately, then
        all but the bars.
        """
        wanted = words_of(typed)
        since = {entry_id: at for at, entry_id in enumerate(lately)}
        never = len(since)
        found: list[tuple[tuple[int, ...], Entry | tuple[int, int]]] = []
        for entry in self._fixed:
            how = answer(wanted, f"{entry.text} {entry.words}")
            if how is not None:
                found.append((_order(how, since.get(entry.id, never), entry.last), entry))
        if wanted and self._window.has_lesson():
            found += self._bars(wanted, never)
        found.sort(key=lambda one: one[0])
        return [thing for _how, thing in found]

    def _bars(
        self, wanted: tuple[str, ...], never: int
    ) -> Iterator[tuple[tuple[int, ...], tuple[int, int]]]:
        for index, section in enumerate(self._window.document.lesson.sections):
            common = f"{_('Bar')} {section_name(section)}"
            for number, how in numbered(wanted, common, len(section.bars)):
                yield _order(how, never), (index, number)

    def bar(self, section: int, number: int) -> Entry | None:
        """A bar, written out; None where the lesson has lost its section since it was found."""
        lesson = self._window.document.lesson
        if section >= len(lesson.sections):
            return None
        name = section_name(lesson.sections[section])
        text = _("Bar {number} · {section}").replace("{section}", name)
        return Entry(
            id=f"bar {section} {number}",
            text=text.replace("{number}", str(number)),
            kind=_("bar"),
            run=partial(to_bar, self._window, section, number - 1),
        )

    # The kinds

    def _actions(self) -> Iterator[Entry]:
        window = self._window
        for action, where in window.registry.entries():
            text = full_name(action)
            keys = action.keys_text()
            yield Entry(
                id=f"action {action.id}",
                text=text,
                kind=where or _("everywhere"),
                run=partial(do, window, action.id),
                keys=keys,
                words=f"{_(action.menu).replace('&', '')} {keys}",
                why_not=partial(self._why_not, action, where),
                last=action.run is None,
            )

    def _why_not(self, action: Action, where: str) -> str:
        if where and not self._window.has_lesson():
            return _("Open a lesson first.")
        if action.run is None:
            return _("A gesture: do it there by hand.")
        page = page_of(self._window, action.id)
        elsewhere = page is not None and not self._window.is_shown(page)
        if elsewhere or action.enabled():  # of another page it is known when it is there
            return ""
        return action.why or _("This cannot be done now.")

    def _settings(self) -> Iterator[Entry]:
        from chalkfret.desk.settings_window.all_rows import all_rows

        for row in all_rows(self._window):
            yield Entry(
                id=f"setting {row.id}",
                text=row.name,
                kind=_("setting"),
                run=partial(_show_setting, self._window, row.id),
                words=f"{_(row.group)} {row.words} {_('setting')}",
            )

    def _sections(self) -> Iterator[Entry]:
        for index, section in enumerate(self._window.document.lesson.sections):
            yield Entry(
                id=f"section {section.id}",
                text=section_name(section),
                kind=_("section"),
                run=partial(to_bar, self._window, index, 0),
            )

    def _parts(self) -> Iterator[Entry]:
        for index, part in enumerate(self._window.document.lesson.parts):
            yield Entry(
                id=f"part {part.id}",
                text=part.name,
                kind=_("part"),
                run=partial(to_part, self._window, index),
                words=_("part, guitar"),
            )


def _show_setting(window: Window, row_id: str) -> None:
    window.show_settings()
    window.settings_window.show_row(row_id)


def _order(how: How, since: int, last: bool = False) -> tuple[int, ...]:
    worst, total, first = how
    return worst, last, since, total, first
