"""The set as a table: a row a string, with the neck drawn through the rows where there is room.

The same widgets are set in one of four forms, by the width there is: with the neck between them,
with the neck above them, and with two or three lines a string.
"""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import QPoint, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, small
from chalkfret.desk.strings_page.facts import facts_of
from chalkfret.desk.strings_page.neck import Neck
from chalkfret.desk.strings_page.row import StringRow
from chalkfret.model import NoteNaming, Setup
from chalkfret.words.text import _


class Form(Enum):
    """How the rows are set."""

    NECK_WITHIN = 1
    NECK_ABOVE = 2
    TWO_LINES = 3
    THREE_LINES = 4


# For each form: a column (and line of the row) for each widget, the neck's among them.
_COLUMNS: dict[Form, dict[str, tuple[int, int]]] = {
    Form.NECK_WITHIN: {
        "number": (0, 0), "pitch": (1, 0), "hertz": (2, 0), "neck": (3, 0), "cents": (4, 0),
        "gauge": (5, 0), "winding": (6, 0), "pull": (7, 0), "standard": (8, 0),
    },
    Form.NECK_ABOVE: {
        "number": (0, 0), "pitch": (1, 0), "hertz": (2, 0), "cents": (3, 0), "gauge": (4, 0),
        "winding": (5, 0), "pull": (6, 0), "standard": (7, 0),
    },
    Form.TWO_LINES: {
        "number": (0, 0), "pitch": (1, 0), "cents": (2, 0), "gauge": (3, 0), "winding": (4, 0),
        "hertz": (1, 1), "pull": (2, 1), "standard": (4, 1),
    },
    Form.THREE_LINES: {
        "number": (0, 0), "pitch": (1, 0), "cents": (2, 0), "gauge": (3, 0),
        "hertz": (1, 1), "winding": (2, 1), "pull": (1, 2), "standard": (2, 2),
    },
}  # fmt: skip
# What has room over several columns.
_SPANS: dict[Form, dict[str, int]] = {
    Form.TWO_LINES: {"pull": 2},
    Form.THREE_LINES: {"winding": 2, "standard": 2},
}


class SetTable(QWidget):
    """Shows a setup's strings; what is changed in a row is sent, not done."""

    edited = Signal(int, int, str, object)  # course, string, the field's name, what changes
    current_changed = Signal(int, int)
    told = Signal(str, bool)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.rows: list[StringRow] = []
        self._shape: tuple[object, ...] = ()
        self._setup: Setup | None = None
        self._naming = NoteNaming.ENGLISH
        self.current = (1, 0)
        self._form: Form | None = None
        self._before: QWidget | None = None
        self._after: QWidget | None = None
        self._neck_above = Neck(look)
        self._neck_within = Neck(look, self._heights)
        for neck in (self._neck_above, self._neck_within):
            neck.chosen.connect(self.go_to)
        self._heads = {
            "number": small(look, _("String")),
            "pitch": small(look, _("Note")),
            "hertz": small(look, _("Frequency")),
            "cents": small(look, _("Cents")),
            "gauge": small(look, _("Gauge, in")),
            "winding": small(look, _("Kind")),
            "pull": small(look, _("Tension")),
            "standard": small(look, _("From standard")),
        }
        for head in self._heads.values():
            head.setWordWrap(False)
        self._grid_home = QWidget()
        for widget in (self._neck_within, *self._heads.values()):
            widget.setParent(self._grid_home)  # it is placed there when the page is first shown
        self._grid = QGridLayout(self._grid_home)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self._neck_above)
        self._column.addWidget(self._grid_home)
        follow(self, look, self._dress)

    # Showing

    def show_setup(self, setup: Setup, naming: NoteNaming) -> None:
        """Show this setup; rows are made anew only where there are more or fewer strings."""
        shape = (naming, *(len(course.strings) for course in setup.courses))
        self._setup, self._naming = setup, naming
        if shape != self._shape:
            self._shape = shape
            self._make_rows(setup, naming)
        self._refresh()

    def stand_between(self, before: QWidget, after: QWidget) -> None:
        """Where the rows come in the order of Tab, whenever they are made."""
        self._before, self._after = before, after

    def _refresh(self) -> None:
        if self._setup is None:
            return
        setup = self._setup
        for row, facts in zip(self.rows, facts_of(setup), strict=True):
            one = setup.course(row.course).strings[row.string]
            row.show_string(one, facts, (row.course, row.string) == self.current)
        for neck in (self._neck_above, self._neck_within):
            neck.show_setup(setup, self._naming, self.current)

    def _make_rows(self, setup: Setup, naming: NoteNaming) -> None:
        focused = self.isAncestorOf(self.window().focusWidget() or self.window())
        for row in self.rows:
            row.blockSignals(True)  # the focus that leaves one row reaches the next, which goes too
        for row in self.rows:
            for widget in row.widgets:
                widget.hide()
                widget.deleteLater()
            row.deleteLater()
        self.rows = [
            StringRow(self._look, number, index, len(course.strings), naming)
            for number, course in enumerate(setup.courses, start=1)
            for index in range(len(course.strings))
        ]
        for row in self.rows:
            row.setParent(self)
            row.edited.connect(
                lambda name, fields, row=row: self.edited.emit(row.course, row.string, name, fields)
            )
            row.reached.connect(lambda row=row: self._set_current(row.course, row.string))
            row.told.connect(self.told)
            row.down.connect(lambda name, steps, row=row: self._go_down(row, name, steps))
        if self.current not in [(row.course, row.string) for row in self.rows]:
            self._set_current(1, 0)
        self._form = None
        self._arrange()
        if focused:
            self.go_to(*self.current)

    def _set_current(self, course: int, string: int) -> None:
        if (course, string) != self.current:
            self.current = (course, string)
            self._refresh()
            self.current_changed.emit(course, string)

    def go_to(self, course: int, string: int, name: str = "pitch") -> None:
        """Bring the focus to a field of a string."""
        for row in self.rows:
            if (row.course, row.string) == (course, string):
                row.fields[name].setFocus(Qt.FocusReason.TabFocusReason)

    def _go_down(self, row: StringRow, name: str, steps: int) -> None:
        at = self.rows.index(row) + steps
        if 0 <= at < len(self.rows):
            self.go_to(self.rows[at].course, self.rows[at].string, name)

    # Arranging

    def _dress(self) -> None:
        look = self._look
        self._grid.setHorizontalSpacing(look.unit(1.5))
        self._grid.setVerticalSpacing(look.unit(0.75))
        self._column.setSpacing(look.unit())
        self._form = None
        # The rows follow the look too; their sizes are true when all have been told.
        QTimer.singleShot(0, self, self._arrange)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        if not self.rows:
            return
        form = self._fitting()
        if form is self._form:
            return
        self._form = form
        while self._grid.count():
            self._grid.takeAt(0)
        columns, spans = _COLUMNS[form], _SPANS.get(form, {})
        lines = 1 + max(line for _column, line in columns.values())
        stride = lines + (lines > 1)  # a little air between strings of several lines
        for line in range(self._grid.rowCount()):
            self._grid.setRowMinimumHeight(line, 0)
        before = self._before
        for at, row in enumerate(self.rows):
            for name, widget in self._widgets(row).items():
                column, line = columns[name]
                place = (1 + at * stride + line, column, 1, spans.get(name, 1))
                self._grid.addWidget(widget, *place)
                widget.show()
            if lines > 1:
                self._grid.setRowMinimumHeight((at + 1) * stride, self._look.unit(0.75))
            for field in row.fields.values():
                if before is not None:
                    QWidget.setTabOrder(before, field)
                before = field
        if before is not None and self._after is not None:
            QWidget.setTabOrder(before, self._after)
        self._show_heads(columns)
        self._neck_above.setVisible(form is not Form.NECK_WITHIN)
        self._neck_within.setVisible(form is Form.NECK_WITHIN)
        if form is Form.NECK_WITHIN:
            self._grid.addWidget(self._neck_within, 0, columns["neck"][0], 1 + len(self.rows), 1)
        for column in range(10):
            self._grid.setColumnStretch(column, 0)
        last = 1 + max(column for column, _line in columns.values())  # behind them all
        growing = {Form.NECK_WITHIN: columns.get("neck", (0, 0))[0], Form.THREE_LINES: last}
        self._grid.setColumnStretch(growing.get(form, last - 1), 1)
        self.updateGeometry()

    def _fitting(self) -> Form:
        """The first form with room; two lines a string may also have their lists cut."""
        for form in (Form.NECK_WITHIN, Form.NECK_ABOVE):
            if self._needed(form) <= self.width():
                return form
        narrow = self._least(Form.TWO_LINES) > self.width()
        return Form.THREE_LINES if narrow else Form.TWO_LINES

    def minimumSizeHint(self) -> QSize:
        hint = super().minimumSizeHint()
        return QSize(self._least(Form.THREE_LINES), hint.height()) if self.rows else hint

    def _least(self, form: Form) -> int:
        """The width below which the rows do not go in a form of several lines."""
        places, spans = _COLUMNS[form], _SPANS[form]
        wide: dict[str, int] = {}
        for row in self.rows:
            for name, widget in self._widgets(row).items():
                least = max(widget.minimumSizeHint().width(), widget.minimumWidth())
                wide[name] = max(wide.get(name, 0), least)
        for name, head in self._heads.items():
            if name in places and places[name][1] == 0:
                wide[name] = max(wide[name], head.sizeHint().width())
        gap = self._grid.horizontalSpacing()
        columns = [0] * (1 + max(column for column, _line in places.values()))
        for name in sorted(wide, key=lambda one: spans.get(one, 1)):
            first, span = places[name][0], spans.get(name, 1)
            there = sum(columns[first : first + span]) + gap * (span - 1)
            columns[first + span - 1] += max(0, wide[name] - there)
        return sum(columns) + gap * (len(columns) - 1)

    def _show_heads(self, columns: dict[str, tuple[int, int]]) -> None:
        for name, head in self._heads.items():
            column, line = columns[name]
            shown = line == 0
            head.setVisible(shown)
            if shown:
                self._grid.addWidget(head, 0, column)

    def _needed(self, form: Form) -> int:
        """The width that the rows need in this form."""
        widths: dict[tuple[int, int], int] = {}
        for row in self.rows:
            for name, widget in self._widgets(row).items():
                place = _COLUMNS[form][name]
                width = widget.sizeHint().width()
                widths[place] = max(widths.get(place, 0), width)
        for name, head in self._heads.items():
            place = _COLUMNS[form][name]
            if place[1] == 0:
                widths[place] = max(widths.get(place, 0), head.sizeHint().width())
        neck = self._look.unit(30) if form is Form.NECK_WITHIN else 0
        gap = self._grid.horizontalSpacing()
        of_line = [
            sum(width + gap for (_column, line), width in widths.items() if line == each)
            for each in (0, 1)
        ]
        return max(of_line) + neck

    @staticmethod
    def _widgets(row: StringRow) -> dict[str, QWidget | QLabel]:
        return {
            "number": row.number,
            **row.fields,
            "hertz": row.hertz,
            "pull": row.pull,
            "standard": row.standard,
        }

    def _heights(self) -> list[float]:
        """Where the middle of each row is, for the neck that is drawn through them."""
        return [
            row.pitch.mapTo(self._grid_home, QPoint(0, row.pitch.height() // 2)).y()
            - self._neck_within.y()
            for row in self.rows
        ]
