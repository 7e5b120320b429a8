"""What can be done in the whole window, on whichever page."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from chalkfret.desk.actions import Action
from chalkfret.desk.first_lines import open_demo
from chalkfret.desk.pages import PAGES
from chalkfret.desk.text_files import TextFiles
from chalkfret.desk.themes import theme_actions
from chalkfret.words.text import N_, _

if TYPE_CHECKING:
    from chalkfret.desk.window import Window

_LESSON, _EDIT, _VIEW, _HELP = N_("&Lesson"), N_("&Edit"), N_("&View"), N_("Hel&p")


def add_window_actions(window: Window) -> None:
    """Fill the menu bar, in the order of the menus."""
    registry = window.registry
    menus = registry.make_menus(window.menuBar())
    registry.add(window, _opening(window))
    menus[_LESSON].addMenu(_recent_menu(window))
    registry.add(window, [*_keeping(window), *_undoing(window), *_viewing(window)])


def _opening(window: Window) -> list[Action]:
    files = window.files
    return [
        Action("new", _("&New"), ("Ctrl+N",), _LESSON, files.new),
        Action("open", _("&Open …"), ("Ctrl+O",), _LESSON, files.choose),
        Action("demo", _("Open a &demo to look round"), (), _LESSON, partial(open_demo, window)),
        Action("read_text", _("Read a text &tab …"), (), _LESSON, TextFiles(window).choose),
    ]


def _recent_menu(window: Window) -> QMenu:
    menu = QMenu(_("Open &recent"), window)

    def fill() -> None:
        menu.clear()
        for path in window.files.recent():
            action = menu.addAction(path.name, partial(window.files.open, path))
            action.setToolTip(str(path))
        if menu.isEmpty():
            menu.addAction(_("None yet")).setEnabled(False)

    menu.aboutToShow.connect(fill)
    return menu


def _keeping(window: Window) -> list[Action]:
    files, has = window.files, window.has_lesson
    why = _("Open a lesson first.")
    return [
        Action("save", _("&Save"), ("Ctrl+S",), _LESSON, files.save, has, why=why,
               separated=True),
        Action("save_as", _("Save &as …"), ("Ctrl+Shift+S",), _LESSON, files.save_as, has,
               why=why),
        *window.safety.actions(),
        Action("close", _("&Close the lesson"), ("Ctrl+W",), _LESSON, window.close_lesson, has,
               why=why),
        Action("remarks", _("&Remarks"), ("Shift+F8",), _LESSON,
               lambda: window.remarks.open(), has, why=why, separated=True),
        Action("settings", _("Settin&gs …"), ("Ctrl+,",), _LESSON, window.show_settings,
               separated=True),
        Action("quit", _("&Quit"), ("Ctrl+Q",), _LESSON, window.close, separated=True,
               last=True),
    ]  # fmt: skip


def _undoing(window: Window) -> list[Action]:
    undo = window.document.undo_stack
    return [
        Action("undo", _("&Undo"), ("Ctrl+Z",), _EDIT, undo.undo, undo.canUndo,
               why=_("There is nothing to undo.")),
        Action("redo", _("&Redo"), ("Ctrl+Shift+Z", "Ctrl+Y"), _EDIT, undo.redo, undo.canRedo,
               why=_("There is nothing to do again.")),
    ]  # fmt: skip


def _viewing(window: Window) -> list[Action]:
    pages = [
        Action(
            f"page_{entry.id}",
            _(entry.title),
            (entry.key,),
            _VIEW,
            partial(window.show_page, entry.id),
            checked=partial(window.is_shown, entry.id),
        )
        for entry in PAGES
    ]
    return [
        *pages,
        *theme_actions(window.look, window.settings),
        Action("go_to_question", _("Go to what stands &above the page"), ("Shift+F9",), _VIEW,
               partial(_to_above, window), separated=True),
        Action("full_screen", _("&Full screen"), ("F11",), _VIEW, window.turn_full_screen,
               checked=window.isFullScreen, separated=True),
        Action("find", _("&Find anything"), ("Ctrl+F",), _HELP, window.show_find),
        Action("keys", _("&Keys"), ("F1",), _HELP, window.show_keys),
        Action("first_steps", _("First &steps in the grid"), (), _HELP, window.begin_first_steps),
    ]  # fmt: skip


def _to_above(window: Window) -> None:
    """Put the keys into what stands above the page; from there, into the next below it."""
    above, focus = window.above(), window.focusWidget()
    if not above:
        window.document.refused.emit(_("Nothing stands above the page just now."))
        return
    inside = [focus is not None and one.isAncestorOf(focus) for one in above]
    following = inside.index(True) + 1 if True in inside else 0
    above[following % len(above)].take_focus()
