"""The files that will be made, or were made, a row each with what became of it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QRect, QSize, Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices, QResizeEvent
from PySide6.QtWidgets import (
    QHeaderView,
    QStyle,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.icons import icon
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.tools import tool
from chalkfret.files.export import Click, Kind, Output, Result
from chalkfret.model import Lesson
from chalkfret.words.sentences import sentence
from chalkfret.words.text import _

_STATE = 1  # its column


class FilesList(QWidget):
    """The rows, and under them what can be done with the one that is chosen."""

    told = Signal(str, bool)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.tree = QTreeWidget()
        self.tree.setHeaderLabels([_("File"), _("State"), _("What it is")])
        self.tree.setAccessibleName(_("Files"))
        self.tree.setRootIsDecorated(False)
        self.tree.setWordWrap(True)
        self.tree.setIndentation(0)
        self.tree.setExpandsOnDoubleClick(False)
        self.tree.setItemsExpandable(False)
        header = self.tree.header()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(False)
        self.tree.itemActivated.connect(lambda _item: self._open())
        self.tree.itemSelectionChanged.connect(self._enable)
        self.open_file = tool(look, "open", _("Open the chosen file"), _("Open"))
        self.open_folder = tool(look, "folder", _("Show the folder of the files"), _("Show folder"))
        self.open_file.clicked.connect(self._open)
        self.open_folder.clicked.connect(self._show_folder)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self.tree, 1)
        self._column.addWidget(FlowRow(self.open_file, self.open_folder))
        self._column.addStretch()
        self._items: dict[Path, QTreeWidgetItem] = {}
        self._made: set[Path] = set()
        self._enable()
        follow(self, look, self._dress)

    def show_outputs(self, lesson: Lesson, outputs: Sequence[Output]) -> None:
        """Show what will be made."""
        self.tree.clear()
        self._items, self._made = {}, set()
        for output in outputs:
            there = output.path.exists()
            state = _("replaces a file") if there else ""
            item = QTreeWidgetItem([output.path.name, state, what_words(lesson, output)])
            item.setData(0, Qt.ItemDataRole.UserRole, str(output.path))
            item.setToolTip(0, str(output.path))
            self._items[output.path] = item
            self.tree.addTopLevelItem(item)
        self._fit()
        self._enable()

    def show_at_work(self, path: Path) -> None:
        """This file is being made."""
        item = self._items.get(path)
        if item is not None:
            item.setText(_STATE, _("being made …"))
            self.tree.scrollToItem(item)

    def show_results(self, results: Sequence[Result]) -> None:
        """Show what became of the files; those without a result were not begun."""
        results_of = {result.output.path: result for result in results}
        for path, item in self._items.items():
            result = results_of.get(path)
            if result is None:
                item.setText(_STATE, _("not made"))
            elif result.faults:
                self._mark(item, _("could not be made"), "read", "warning")
                self._explain(item, [sentence(each) for each in result.faults])
            else:
                self._made.add(path)
                self._mark(
                    item, _("made, {size}").format(size=size_words(result.size)), "done", "blue"
                )
                self._explain(item, [sentence(each) for each in result.remarks])
        self._fit()
        self._enable()

    def _mark(self, item: QTreeWidgetItem, words: str, shape: str, colour: str) -> None:
        item.setText(_STATE, words)
        item.setIcon(_STATE, icon(shape, self._look.unit(2), self._look.colour(colour)))

    def _explain(self, item: QTreeWidgetItem, sentences: Sequence[str]) -> None:
        """Sentences under a row, as wide as the list."""
        for words in sentences:
            child = QTreeWidgetItem([words])
            child.setFlags(Qt.ItemFlag.ItemIsEnabled)
            child.setForeground(0, self._look.colour("warning"))
            item.addChild(child)
            child.setFirstColumnSpanned(True)
            child.setToolTip(0, words)
        item.setExpanded(bool(sentences))

    def _fit(self) -> None:
        """As high as the rows are, each explanation with all its lines; scrolled beyond that."""
        metrics, unit = self.tree.fontMetrics(), self._look.unit()
        width = self.tree.viewport().width() - 2 * unit
        height = self.tree.header().sizeHint().height() + unit
        for item in self._items.values():
            height += max(self.tree.visualItemRect(item).height(), metrics.height())
            for at in range(item.childCount()):
                if (child := item.child(at)) is None:
                    continue
                room = QRect(0, 0, width, 10_000)
                words = metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, child.text(0))
                child.setSizeHint(0, QSize(unit, words.height() + unit // 2))
                height += words.height() + unit // 2
        self.tree.setMinimumHeight(min(height, self._look.unit(24)))
        self.tree.setMaximumHeight(height)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _enable(self) -> None:
        self.open_file.setEnabled(self._chosen() in self._made)
        self.open_folder.setEnabled(bool(self._made))

    def _chosen(self) -> Path | None:
        item = self.tree.currentItem()
        path = None if item is None else item.data(0, Qt.ItemDataRole.UserRole)
        return None if path is None else Path(path)

    def _open(self) -> None:
        path = self._chosen()
        if path is None or path not in self._made:
            return
        if not path.exists():
            self.told.emit(_("{file} is not there any more.").format(file=path.name), True)
        elif not QDesktopServices.openUrl(QUrl.fromLocalFile(str(path))):
            words = _("No program on this system opens {ending} files: it lies in {folder}.")
            self.told.emit(words.format(ending=path.suffix, folder=path.parent), True)

    def _show_folder(self) -> None:
        chosen = self._chosen()
        path = chosen if chosen in self._made else next(iter(self._made), None)
        if path is not None and not QDesktopServices.openUrl(QUrl.fromLocalFile(str(path.parent))):
            words = _("No program on this system shows folders: the files lie in {folder}.")
            self.told.emit(words.format(folder=path.parent), True)

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setSpacing(unit())
        self.tree.setIconSize(QSize(unit(2), unit(2)))
        metrics = self.tree.fontMetrics()
        states = (_("replaces a file"), _("could not be made"), _("made, {size}"))
        room = max(metrics.horizontalAdvance(words) for words in states) + unit(5)
        self.tree.headerItem().setSizeHint(_STATE, QSize(room, metrics.height() + unit()))
        # A cell's words stand a focus frame in from the cell's edge, a heading's do not.
        frame = self.tree.style().pixelMetric(QStyle.PixelMetric.PM_FocusFrameHMargin) + 1
        self.tree.header().setStyleSheet(
            f"QHeaderView::section {{ padding-left: {unit(0.5) + frame}px; }}"
        )
        self._fit()


def what_words(lesson: Lesson, output: Output) -> str:
    """What a file is, and of which section and part."""
    request = output.request
    if output.kind is Kind.PDF:
        words = [_("sheet")]
    elif output.kind is Kind.TEXT:
        words = [_("tab as plain text")]
    elif output.kind is Kind.TALK:
        words = [_("talking points")]
    elif output.kind is Kind.POST:
        words = [_("text under the video")]
    else:
        words = [
            {
                Click.WITH: _("preview with click"),
                Click.WITHOUT: _("preview"),
                Click.ONLY: _("click"),
            }[request.click]
        ]
        if request.speed != 1:
            words.append(_("{percent} %").format(percent=round(request.speed * 100)))
    letter = next((one.head.letter for one in lesson.sections if one.id == output.section), None)
    part = next((one.name for one in lesson.parts if one.id == output.part), None)
    if letter is not None:
        words.append(_("section {letter}").format(letter=letter))
    if part is not None:
        words.append(part)
    return ", ".join(words)


def size_words(size: int) -> str:
    """A size in bytes as one says it."""
    if size < 1000:
        return _("{count} bytes").format(count=size)
    if size < 1_000_000:
        return _("{count} kB").format(count=round(size / 1000))
    return _("{count} MB").format(count=f"{size / 1_000_000:.1f}")
