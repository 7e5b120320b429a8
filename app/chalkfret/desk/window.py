"""The window: the pages of one lesson behind a row of words, with menus and a foot."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QEvent, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QPaintEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QMainWindow,
    QMenu,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.actions import Action, Registry
from chalkfret.desk.document import Document
from chalkfret.desk.frame import Foot, PageRow
from chalkfret.desk.lesson_files import SUFFIX, LessonFiles
from chalkfret.desk.look import Look
from chalkfret.desk.pages import PAGES
from chalkfret.desk.settings import Kept, Settings, Theme
from chalkfret.desk.themes import theme_actions
from chalkfret.words.text import N_, _

if TYPE_CHECKING:
    from chalkfret.desk.notice import Notice
    from chalkfret.desk.remarks import Remarks
    from chalkfret.edits.place import Spot


class Window(QMainWindow):
    """One lesson, its pages, and all that can be done with it."""

    def __init__(self, look: Look, settings: Kept[Settings]) -> None:
        super().__init__()
        self.look = look
        self._settings = settings
        self.document = Document(parent=self)
        self.files = LessonFiles(self.document, self, settings)
        self.registry = Registry(self)
        self.foot = Foot(look)
        self._notice: Notice | None = None
        self._remarks: Remarks | None = None
        self._empty: QWidget | None = None
        self._when_painted: list[Callable[[], object]] = []
        self._pages: dict[str, QWidget] = {}
        self._page_id = ""
        self.keys_sheet: QWidget | None = None
        self._make_frame()
        self._make_actions()
        self._connect()
        self._restore()
        self.setAcceptDrops(True)
        self._name()

    # Frame

    def _make_frame(self) -> None:
        tips = [(_(entry.title), f"{_(entry.title)} ({entry.key})") for entry in PAGES]
        self._row = PageRow(self.look, tips)
        self._stack = QStackedWidget()
        self._stack.addWidget(QWidget())  # nothing yet
        body = QWidget()
        self._body = QVBoxLayout(body)
        self._body.setContentsMargins(0, 0, 0, 0)
        self._body.setSpacing(0)
        self._body.addWidget(self._row)
        self._body.addWidget(self._stack, 1)
        self._foot_row = QHBoxLayout()
        self._foot_row.setSpacing(0)
        # What the foot says may be cut where it is narrow: it must not make the window wider.
        self.foot.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._foot_row.addWidget(self.foot, 1)
        self._body.addLayout(self._foot_row)
        self.setCentralWidget(body)

    def show_empty(self) -> None:
        """Say what to do first."""
        from chalkfret.desk.empty import EmptyState

        self._empty = EmptyState(self.look)
        self._empty.show_lines(
            (
                (
                    _("New lesson"),
                    _("Begin with one guitar and four empty bars: Ctrl+N."),
                    self.files.new,
                ),
                (
                    _("Open a lesson"),
                    _("Choose a file (Ctrl+O), or drop one on this window."),
                    self.files.choose,
                ),
                (
                    _("Open a demo"),
                    _("Look round in a copy of a finished lesson; nothing can be spoilt."),
                    self._open_demo,
                ),
            )
        )
        self._stack.addWidget(self._empty)
        self._stack.setCurrentWidget(self._empty)
        self._name()
        if self._notice is None:
            self._empty.setFocus()

    def _connect(self) -> None:
        document = self.document
        document.said.connect(self.foot.say)
        document.changed.connect(self.foot.hush)
        document.changed.connect(self._name)
        document.path_changed.connect(self._name)
        document.undo_stack.cleanChanged.connect(self._name)
        self.files.opened.connect(self._show_lesson)
        self.files.refused.connect(self._show_faults)
        self._row.chosen.connect(lambda index: self.show_page(PAGES[index].id))

    def _restore(self) -> None:
        kept = self._settings.value
        if kept.theme is not Theme.SYSTEM:
            self.look.show_theme(kept.theme)
        self._wished_page = kept.page if kept.page in {entry.id for entry in PAGES} else "riffs"
        if not kept.geometry or not self.restoreGeometry(
            QByteArray.fromBase64(kept.geometry.encode())
        ):
            self.resize(self.look.unit(160), self.look.unit(100))

    # Pages

    def page(self, page_id: str) -> QWidget:
        """The page with this id, made now if it was not yet."""
        page = self._pages.get(page_id)
        if page is None:
            entry = next(entry for entry in PAGES if entry.id == page_id)
            page = self._pages[page_id] = entry.make(self.document, self.look)
            self._stack.addWidget(page)
            if hasattr(page, "page_actions"):
                home = page.key_home() if hasattr(page, "key_home") else page
                self.registry.add(home, page.page_actions(), where=_(entry.title))
            if hasattr(page, "window_actions"):
                self.registry.add(page, page.window_actions(), where=_(entry.title))
            if hasattr(page, "place_changed"):
                page.place_changed.connect(partial(self._show_place, page_id))
        return page

    def show_page(self, page_id: str) -> None:
        """Bring a page to the front; without a lesson it is remembered for later."""
        self._wished_page = page_id
        if self._has_lesson():
            self._bring(page_id)

    def _bring(self, page_id: str) -> None:
        page = self.page(page_id)
        if page_id != self._page_id:
            self.foot.show_place("")  # the page says its own when it is shown
            self.foot.hush()
        self._page_id = page_id
        self._stack.setCurrentWidget(page)
        self._row.show_page([entry.id for entry in PAGES].index(page_id))
        self._focus_page()

    def _show_place(self, page_id: str, place: str) -> None:
        """Say where the teacher is, unless it is said by a page that is not shown."""
        if page_id == self._page_id:
            self.foot.show_place(place)

    def _focus_page(self) -> None:
        page = self._pages.get(self._page_id)
        if page is not None:
            (page.key_home() if hasattr(page, "key_home") else page).setFocus()

    def _show_lesson(self) -> None:
        if self._notice is not None:
            self._notice.hide()
        self._bring(self._wished_page)
        self._name()
        QTimer.singleShot(0, self, self._make_next_page)

    def _make_next_page(self) -> None:
        """Make the other pages one by one while the teacher looks at the first."""
        for entry in PAGES:
            if entry.id not in self._pages:
                self.page(entry.id)
                QTimer.singleShot(0, self, self._make_next_page)
                return
        self.remarks.look_later()

    # Words about the lesson

    def _name(self) -> None:
        if self._empty is not None and self._stack.currentWidget() is self._empty:
            self.setWindowTitle("Chalkfret")
            return
        path, title = self.document.path, self.document.lesson.head.title
        name = path.stem if path is not None else title or _("New lesson")
        self.setWindowTitle(f"{name}[*] – Chalkfret")
        self.setWindowModified(self.document.dirty)
        self.setWindowFilePath(str(path) if path else "")
        self._row.show_title(title if title != name else "")

    def _show_faults(self, path: str, sentences: list[str]) -> None:
        heading = _("{name} cannot be opened").format(name=Path(path).name)
        self.notice.show_sentences(heading, sentences)

    @property
    def notice(self) -> Notice:
        """Where sentences are shown that must be read."""
        from chalkfret.desk.notice import Notice

        if self._notice is None:
            self._notice = Notice(self.look)
            self._notice.closed.connect(self._focus_page)
            self._body.insertWidget(1, self._notice)
        return self._notice

    @property
    def remarks(self) -> Remarks:
        """What is legal in the lesson but perhaps not meant, above the foot."""
        from chalkfret.desk.remarks import Remarks

        if self._remarks is None:
            self._remarks = Remarks(self.document, self.look)
            self._remarks.closed.connect(self._focus_page)
            self._remarks.chosen.connect(self._go_to)
            self._body.insertWidget(self._body.count() - 1, self._remarks)
            self._foot_row.addWidget(self._remarks.count)
        return self._remarks

    def _go_to(self, spot: Spot) -> None:
        """Show a cell of the grid."""
        from chalkfret.desk.riffs.cursor import Cursor, kept
        from chalkfret.desk.riffs.page import RiffsPage

        self.show_page("riffs")
        riffs = self.page("riffs")
        cursor = Cursor(spot.section, spot.bar, spot.onset, spot.part, spot.course)
        if isinstance(riffs, RiffsPage):
            riffs.grid.move_to(kept(self.document.lesson, cursor))

    # Actions

    def _make_actions(self) -> None:
        menus = self.registry.make_menus(self.menuBar())
        files, undo = self.files, self.document.undo_stack
        lesson, edit, view, help_ = N_("&Lesson"), N_("&Edit"), N_("&View"), N_("Hel&p")
        self.registry.add(
            self,
            (
                Action("new", _("&New"), ("Ctrl+N",), lesson, files.new),
                Action("open", _("&Open …"), ("Ctrl+O",), lesson, files.choose),
            ),
        )
        self._recent = QMenu(_("Open &recent"), self)
        self._recent.aboutToShow.connect(self._fill_recent)
        menus[lesson].addMenu(self._recent)
        has = self._has_lesson
        pages = tuple(
            Action(
                f"page_{entry.id}",
                _(entry.title),
                (entry.key,),
                view,
                partial(self.show_page, entry.id),
                checked=partial(self._is_shown, entry.id),
            )
            for entry in PAGES
        )
        self.registry.add(
            self,
            (
                Action("save", _("&Save"), ("Ctrl+S",), lesson, files.save, has, separated=True),
                Action("save_as", _("Save &as …"), ("Ctrl+Shift+S",), lesson, files.save_as, has),
                Action("remarks", _("&Remarks"), ("Shift+F8",), lesson,
                       lambda: self.remarks.open(), has, separated=True),
                Action("quit", _("&Quit"), ("Ctrl+Q",), lesson, self.close, separated=True),
                Action("undo", _("&Undo"), ("Ctrl+Z",), edit, undo.undo, undo.canUndo),
                Action("redo", _("&Redo"), ("Ctrl+Shift+Z", "Ctrl+Y"), edit,
                       undo.redo, undo.canRedo),
                *pages,
                *theme_actions(self.look, self._settings),
                Action("full_screen", _("&Full screen"), ("F11",), view, self._full_screen,
                       checked=self.isFullScreen, separated=True),
                Action("keys", _("&Keys"), ("F1",), help_, self.show_keys),
            ),
        )  # fmt: skip
        for name, action_id, word in (
            ("undoTextChanged", "undo", _("&Undo")),
            ("redoTextChanged", "redo", _("&Redo")),
        ):
            bound = self.registry.qaction(action_id)
            getattr(undo, name).connect(
                lambda text, bound=bound, word=word: bound.setText(f"{word} {text}".rstrip())
            )

    def _is_shown(self, page_id: str) -> bool:
        return self._page_id == page_id

    def _has_lesson(self) -> bool:
        return self._stack.currentWidget() in self._pages.values()

    def _fill_recent(self) -> None:
        self._recent.clear()
        for path in self.files.recent():
            action = self._recent.addAction(path.name, partial(self.files.open, path))
            action.setToolTip(str(path))
        if self._recent.isEmpty():
            self._recent.addAction(_("None yet")).setEnabled(False)

    def _open_demo(self) -> None:
        from chalkfret.places import DEMO_LESSONS

        demos = sorted(DEMO_LESSONS.glob(f"*{SUFFIX}"))
        if demos:
            self.files.open_copy(demos[0])
        else:
            self.document.said.emit(_("There are no demo lessons in this installation."))

    def _full_screen(self) -> None:
        if self.isFullScreen():
            self.showNormal()
        else:
            self.showFullScreen()

    def show_keys(self) -> None:
        """The list of every key; made anew, since the pages may have brought more."""
        from chalkfret.desk.keys_sheet import KeysSheet

        for entry in PAGES:
            self.page(entry.id)
        if self.keys_sheet is not None:
            self.keys_sheet.close()
            self.keys_sheet.deleteLater()
        self.keys_sheet = KeysSheet(self.registry, self.look, self)
        self.keys_sheet.show()

    def begin_with(self, path: Path) -> None:
        """Open the first lesson; where it cannot be opened, say so over the empty state."""
        if not self.files.open(path):
            self.show_empty()

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
        if not self.files.may_leave():
            event.ignore()
            return
        geometry = bytes(self.saveGeometry().toBase64().data()).decode()
        self._settings.change(geometry=geometry, page=self._wished_page)
        event.accept()


def _accept_copy(event: QDropEvent) -> None:
    """The file stays where it is: a source that is told "moved" would delete it."""
    event.setDropAction(Qt.DropAction.CopyAction)
    event.accept()
