"""A group of named controls under its heading, for side panels."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFormLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, small, strong
from chalkfret.desk.pieces.fields import Field
from chalkfret.desk.pieces.saying import Saying

SIDE_NAME_UNITS = 12  # the width of names where several groups stand in one column
ROW_GAP_UNITS = 0.75  # between a control and the one below it


class Group(QWidget):
    """A heading, and under it one control below the other, each with its name.

    A name stands beside its control where there is room, else (or always: ``names_above``) above.
    What a field tells stands right under it.
    """

    def __init__(
        self, look: Look, title: str, *, names_above: bool = False, name_units: float = 0
    ) -> None:
        super().__init__()
        self._look = look
        self._name_units = name_units  # all names so wide, for groups that stand in one column
        self._saying = Saying(look)
        self._saying.setParent(self)  # its place is under the field that tells something
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self._form = QFormLayout()
        self._form.setContentsMargins(0, 0, 0, 0)
        wrap = QFormLayout.RowWrapPolicy
        self._form.setRowWrapPolicy(wrap.WrapAllRows if names_above else wrap.WrapLongRows)
        self._form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self._form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        self.title = strong(look, title)
        column.addWidget(self.title)
        column.addLayout(self._form)
        follow(self, look, self._dress)

    def add(self, name: str, control: QWidget) -> None:
        """A control under its name; the name's Alt letter (``&``) leads to it."""
        label = small(self._look, name)
        label.setWordWrap(bool(self._name_units))
        label.setBuddy(control.focusProxy() or control)
        if self._name_units:
            follow(label, self._look, lambda: self._fit_name(label))
        self._form.addRow(label, control)

    def _fit_name(self, label: QLabel) -> None:
        """As wide as all names, or as the longest word of this one."""
        words = label.text().replace("&", "").split()
        longest = max(map(label.fontMetrics().horizontalAdvance, words), default=0)
        width = max(self._look.unit(self._name_units), longest + 2)
        label.setFixedWidth(width)
        label.setMinimumHeight(label.heightForWidth(width))  # which a form does not ask for

    def add_wide(self, widget: QWidget) -> None:
        """Something as wide as the group."""
        self._form.addRow(widget)

    def hear(self, field: Field) -> None:
        """Say what this field tells, under its row and where it can be seen."""
        field.told.connect(partial(self._say_under, field))

    def _say_under(self, field: Field, text: str, loud: bool) -> None:
        if text:
            self._place_saying(field)
        self._saying.say(text, loud)
        if text and field.hasFocus():
            QTimer.singleShot(0, self._saying, lambda: reveal(field, self._saying))

    def _place_saying(self, field: Field) -> None:
        control: QWidget | None = field
        while control is not None and control.parentWidget() is not self:
            control = control.parentWidget()
        if control is None:
            return
        row = self._row_of(control)
        placed = self._row_of(self._saying)
        if row < 0 or placed == row + 1:
            return
        if placed >= 0:
            self._form.takeRow(self._saying)
        self._form.insertRow(self._row_of(control) + 1, self._saying)

    def _row_of(self, widget: QWidget) -> int:
        """The row of the form in which a widget is; -1 where it is in none."""
        place = self._form.getWidgetPosition(widget)  # row and role, typed as an object
        return int(place[0]) if isinstance(place, tuple) else -1

    def _dress(self) -> None:
        self._column.setSpacing(self._look.unit())
        self._form.setHorizontalSpacing(self._look.unit())
        self._form.setVerticalSpacing(self._look.unit(ROW_GAP_UNITS))


def reveal(field: QWidget, saying: Saying) -> None:
    """Scroll so that the field and what is said under it are seen, once it has its size."""
    above = saying.parentWidget()
    while above is not None and not isinstance(above, QScrollArea):
        above = above.parentWidget()
    if above is None or not saying.isVisible():
        return
    inside = above.widget()
    if inside is not None and (layout := inside.layout()) is not None:
        layout.activate()
    above.ensureWidgetVisible(saying, 0, saying.height())
    above.ensureWidgetVisible(field, 0, 0)
