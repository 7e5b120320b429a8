"""The window: the pages of one lesson behind a row of words, with menus and a foot."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QByteArray, QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QSizePolicy, QVBoxLayout, QWidget

from chalkfret.desk.actions import Registry
from chalkfret.desk.document import Document
from chalkfret.desk.first_lines import first_lines, recent_lines
from chalkfret.desk.frame import Foot, PageRow
from chalkfret.desk.keys.chosen import KeyChoices
from chalkfret.desk.lesson_files import SUFFIX, LessonFiles
from chalkfret.desk.look import Look
from chalkfret.desk.naming import show_name, show_undo
from chalkfret.desk.page_stack import PageStack
from chalkfret.desk.pages import PAGES
from chalkfret.desk.pieces.on_screen import fit_screen
from chalkfret.desk.safety.at_window import Safety
from chalkfret.desk.settings import Kept, Settings, Theme
from chalkfret.desk.trouble.telling import Telling
from chalkfret.desk.window_actions import add_window_actions
from chalkfret.model.start import new_lesson
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.coach.coach import Coach
    from chalkfret.desk.find.line import FindLine
    from chalkfret.desk.notice import Notice
    from chalkfret.desk.remarks import Remarks
    from chalkfret.desk.settings_window.window import SettingsWindow
    from chalkfret.edits.place import Spot


class Window(QMainWindow):
    """One lesson, its pages, and all that can be done with it.

    With a ``document`` the window is built around a lesson that is open already: it outlives this
    window. Without one the window begins with an empty document of its own.
    """

    outdated = Signal()  # what is written in it holds no longer: build another around the document

    def __init__(
        self, look: Look, settings: Kept[Settings], document: Document | None = None
    ) -> None:
        super().__init__()
        self.look, self.settings = look, settings
        # First: what a label was dressed in before it is shown would come back to it then.
        if settings.value.theme is not Theme.SYSTEM:
            look.show_theme(settings.value.theme)
        self.document = Document(parent=self) if document is None else document
        self.files = LessonFiles(self.document, self, settings)
        self.registry = Registry(self, settings.value.keys)
        self.key_choices = KeyChoices(self.registry, settings)
        self.foot = Foot(look)
        self._notice: Notice | None = None
        self._remarks: Remarks | None = None
        self._when_painted: list[Callable[[], object]] = []
        self._settings_window: SettingsWindow | None = None
        self.keys_sheet: QWidget | None = None
        self.find_line: FindLine | None = None
        self._coach: Coach | None = None
        self._make_frame()
        self.safety = Safety(self)
        add_window_actions(self)
        self.telling = Telling(self)
        self._connect()
        self._restore()
        self.setAcceptDrops(True)
        self._name()
        self._name_undo()
        self._row.show_tips(self.registry)
        self.once_painted(self._hear_digits)

    # Frame

    def _make_frame(self) -> None:
        self._row = PageRow(self.look, [(f"page_{entry.id}", _(entry.title)) for entry in PAGES])
        self.stack = PageStack(self.document, self.look, self.registry)
        body = QWidget()
        self._body = QVBoxLayout(body)
        self._body.setContentsMargins(0, 0, 0, 0)
        self._body.setSpacing(0)
        self._body.addWidget(self._row)
        self._body.addWidget(self.stack, 1)
        self._foot_row = QHBoxLayout()
        self._foot_row.setSpacing(0)
        # What the foot says may be cut where it is narrow: it must not make the window wider.
        self.foot.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._foot_row.addWidget(self.foot, 1)
        self._body.addLayout(self._foot_row)
        self.setCentralWidget(body)

    def _connect(self) -> None:
        document, stack, undo = self.document, self.stack, self.document.undo_stack
        document.said.connect(self.foot.say)
        document.refused.connect(self.foot.refuse)
        self.registry.begins.connect(self.foot.hush_refusal)
        document.changed.connect(self.foot.hush)
        document.changed.connect(self._name)
        document.path_changed.connect(self._name)
        undo.cleanChanged.connect(self._name)
        undo.undoTextChanged.connect(self._name_undo)
        undo.redoTextChanged.connect(self._name_undo)
        self.files.opened.connect(self.show_lesson)
        self.files.refused.connect(self._show_faults)
        self._row.chosen.connect(self._choose_page)
        stack.made.connect(self._give_settings)
        stack.brought.connect(self._page_brought)
        stack.placed.connect(self.foot.show_place)
        stack.all_made.connect(self._look_for_remarks)
        self.registry.changed.connect(self._show_new_keys)

    def _give_settings(self, page: QWidget) -> None:
        if hasattr(page, "take_settings"):
            page.take_settings(self.settings)

    def _restore(self) -> None:
        kept = self.settings.value
        if kept.page in {entry.id for entry in PAGES}:
            self.stack.wished = kept.page
        if not kept.geometry or not self.restoreGeometry(
            QByteArray.fromBase64(kept.geometry.encode())
        ):
            fit_screen(self, self.look, 160, 100)

    # Pages

    def page(self, page_id: str) -> QWidget:
        """The page with this id, made now if it was not yet."""
        return self.stack.page(page_id)

    def show_page(self, page_id: str) -> None:
        """Bring a page to the front; without a lesson it is remembered for later."""
        self.stack.wished = page_id
        if self.has_lesson():
            self.stack.bring(page_id)

    def has_lesson(self) -> bool:
        """Whether a lesson is open."""
        return self.stack.has_lesson

    @property
    def is_empty(self) -> bool:
        """Whether it is said what to do first, in the place of a lesson."""
        return self.stack.is_empty

    def is_shown(self, page_id: str) -> bool:
        """Whether this page is at the front."""
        return self.stack.page_id == page_id

    def focus_page(self) -> None:
        """Give the keys to what is shown."""
        self.stack.focus_page()

    def _choose_page(self, index: int) -> None:
        self.show_page(PAGES[index].id)

    def _page_brought(self, page_id: str) -> None:
        self.foot.hush()
        self._row.show_page([entry.id for entry in PAGES].index(page_id))

    def show_lesson(self) -> None:
        """Bring the page that is wished for."""
        if self._notice is not None:
            self._notice.hide()
        self.stack.bring(self.stack.wished)
        self._name()
        QTimer.singleShot(0, self.stack, self.stack.make_next)

    def _name(self) -> None:
        show_name(self, self._row)

    def _name_undo(self) -> None:
        show_undo(self)

    def _hear_digits(self) -> None:
        from chalkfret.desk.keys.digit_row import DigitRow

        DigitRow(self)

    def _show_new_keys(self) -> None:
        self._row.show_tips(self.registry)
        if self.stack.is_empty:
            self.show_empty()

    def _look_for_remarks(self) -> None:
        if self.has_lesson():
            self.remarks.look_later()

    # The lesson comes and goes

    def show_empty(self) -> None:
        """Say what to do first."""
        self.stack.show_empty(first_lines(self), recent_lines(self))
        self._row.show_page(None)
        self.foot.show_place("")
        if self._remarks is not None:
            self._remarks.rest()
        self._name()
        if self._notice is None or not self._notice.isVisible():
            self.focus_page()

    def close_lesson(self) -> None:
        """Put the lesson away and show the empty state, after the question about unsaved work."""
        if self.files.leave(self.close_lesson):
            self.document.replace(new_lesson(), None)
            self.show_empty()

    def begin_with(self, path: Path) -> None:
        """Open the first lesson; where it cannot be opened, say so over the empty state."""
        self.files.open(path, otherwise=self.show_empty)

    # What is said above the page and at the foot

    def _show_faults(self, path: str, sentences: list[str]) -> None:
        heading = _("{name} cannot be opened").format(name=Path(path).name)
        self.notice.show_sentences(heading, sentences)

    @property
    def notice(self) -> Notice:
        """Where sentences are shown that must be read."""
        from chalkfret.desk.notice import Notice

        if self._notice is None:
            self._notice = Notice(self.look)
            self._notice.closed.connect(self.focus_page)
            self.put_above(self._notice)
        return self._notice

    def put_above(self, widget: QWidget) -> None:
        """Give a widget that asks to be read its place above the page.

        Its ``take_focus()`` puts the keys to its first button.
        """
        self._body.insertWidget(1, widget)

    def above(self) -> list[Any]:
        """What stands above the page just now, the topmost first."""
        rows = range(1, self._body.indexOf(self.stack))
        items = [self._body.itemAt(row) for row in rows]
        widgets = [None if item is None else item.widget() for item in items]
        return [widget for widget in widgets if widget is not None and widget.isVisible()]

    def put_at_foot(self, widget: QWidget) -> None:
        """Give a widget a place at the right of the foot."""
        self._foot_row.addWidget(widget)

    @property
    def remarks(self) -> Remarks:
        """What is legal in the lesson but perhaps not meant, above the foot."""
        from chalkfret.desk.remarks import Remarks

        if self._remarks is None:
            self._remarks = Remarks(self.document, self.look)
            self._remarks.closed.connect(self.focus_page)
            self._remarks.chosen.connect(self._go_to)
            self._body.insertWidget(self._body.count() - 1, self._remarks)
            self.put_at_foot(self._remarks.count)
        return self._remarks

    def _go_to(self, spot: Spot) -> None:
        from chalkfret.desk.leading import to_spot

        to_spot(self, spot)

    # What the actions do

    def turn_full_screen(self) -> None:
        """Fill the screen, or no longer."""
        if self.isFullScreen():
            self.showNormal()
        else:
            self.showFullScreen()

    def make_pages(self) -> None:
        """Make every page, for those who list all that can be done."""
        self.stack.make_all()

    @property
    def settings_window(self) -> SettingsWindow:
        """All settings, beside the work."""
        from chalkfret.desk.settings_window.window import SettingsWindow

        if self._settings_window is None:
            self._settings_window = SettingsWindow(self)
            self._settings_window.closed.connect(self.focus_page)
        return self._settings_window

    @property
    def shows_settings(self) -> bool:
        """Whether the settings are open."""
        return self._settings_window is not None and self._settings_window.isVisible()

    def show_settings(self) -> None:
        """Show the settings, where they were looked at last."""
        self.settings_window.come()

    @property
    def coach(self) -> Coach:
        """Who says what to try next in "First steps"."""
        from chalkfret.desk.coach.coach import Coach

        if self._coach is None:
            self._coach = Coach(self)
        return self._coach

    def begin_first_steps(self) -> None:
        """Open the lesson "First steps" and say what to do first."""
        self.coach.begin()

    def show_find(self) -> None:
        """Show the line that finds anything by its words."""
        from chalkfret.desk.find.line import FindLine

        if self.find_line is None:
            self.find_line = FindLine(self)
        self.find_line.come()

    def show_keys(self) -> None:
        """The list of every key; made anew, since the pages may have brought more."""
        from chalkfret.desk.keys_sheet import KeysSheet

        self.make_pages()
        if self.keys_sheet is not None:
            self.keys_sheet.close()
            self.keys_sheet.deleteLater()
        self.keys_sheet = KeysSheet(self.registry, self.look, self)
        self.keys_sheet.show()

    def once_painted(self, run: Callable[[], object]) -> None:
        """Do something right after the window has been painted for the first time."""
        self._when_painted.append(run)

    # Qt's events

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        for run in self._when_painted:
            QTimer.singleShot(0, self, run)
        self._when_painted.clear()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self.look.follow_font()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self._dropped(event) is not None:
            _accept_copy(event)

    def dropEvent(self, event: QDropEvent) -> None:
        path = self._dropped(event)
        if path is not None:
            _accept_copy(event)
            # The drag is over first: a question must not hold up the program it comes from.
            QTimer.singleShot(0, self, lambda: self.files.open(path))

    @staticmethod
    def _dropped(event: QDropEvent) -> Path | None:
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        return next((path for path in paths if path.suffix == SUFFIX), None)

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self.files.leave(self.close):
            event.ignore()
            return
        self.files.end()
        geometry = bytes(self.saveGeometry().toBase64().data()).decode()
        self.settings.change(geometry=geometry, page=self.stack.wished)
        event.accept()


def _accept_copy(event: QDropEvent) -> None:
    """The file stays where it is: a source that is told "moved" would delete it."""
    event.setDropAction(Qt.DropAction.CopyAction)
    event.accept()
