"""A group of named controls under its heading, for side panels."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, small, strong


class Group(QWidget):
    """A heading, and under it one control below the other, each with its name.

    A name stands beside its control where there is room, else (or always: ``names_above``) above.
    """

    def __init__(self, look: Look, title: str, *, names_above: bool = False) -> None:
        super().__init__()
        self._look = look
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
        label.setWordWrap(False)
        label.setBuddy(control.focusProxy() or control)
        self._form.addRow(label, control)

    def add_wide(self, widget: QWidget) -> None:
        """Something as wide as the group."""
        self._form.addRow(widget)

    def _dress(self) -> None:
        self._column.setSpacing(self._look.unit())
        self._form.setHorizontalSpacing(self._look.unit())
        self._form.setVerticalSpacing(self._look.unit(0.75))
