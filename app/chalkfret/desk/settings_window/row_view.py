"""A setting as it is seen: name and sentence, the control beside them, the way back below it."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice as ChoiceBox
from chalkfret.desk.pieces.dress import follow, small, strong
from chalkfret.desk.pieces.saying import Saying
from chalkfret.desk.pieces.stepper import Stepper
from chalkfret.desk.settings_window.rows import Choice, Number, Row, Switch
from chalkfret.words.text import _

_CONTROL_UNITS = 30  # the width of the column of controls
_SHARE = 0.55  # of a narrow row, which it takes at most


class RowView(QWidget):
    """One row; ``changed`` when its value was changed here."""

    changed = Signal()

    def __init__(self, row: Row, look: Look) -> None:
        super().__init__()
        self.row, self._look = row, look
        self.saying = Saying(look)
        self.control = self._make_control()
        self.control.setAccessibleName(row.name)
        self.control.setAccessibleDescription(row.about)
        self.reset = QToolButton()
        self.reset.setProperty("quiet", True)
        self.reset.clicked.connect(self._go_back)
        self._lay_out()
        follow(self, look, self._dress)
        self.show_value()

    def _make_control(self) -> QWidget:
        kind = self.row.kind
        if isinstance(kind, Choice):
            box = ChoiceBox(kind.words)
            box.chosen.connect(self._take)
            return box
        if isinstance(kind, Switch):
            tick = QCheckBox(_("On"))
            tick.clicked.connect(self._take)
            return tick
        stepper = Stepper(self._look, self.row.name, kind.read, kind.write, kind.step, kind.widest)
        stepper.typed.connect(self._take)
        stepper.field.told.connect(self.saying.say)
        return stepper

    def _lay_out(self) -> None:
        words, side = QVBoxLayout(), QVBoxLayout()
        self._words = words
        words.addWidget(strong(self._look, self.row.name))
        words.addWidget(small(self._look, self.row.about))
        words.addStretch(1)
        left = Qt.AlignmentFlag.AlignLeft
        if isinstance(self.row.kind, Choice):
            side.addWidget(self.control)
        else:
            side.addWidget(self.control, 0, left)
        side.addWidget(self.saying)
        side.addWidget(self.reset, 0, left)
        side.addStretch(1)
        self._side = QWidget()
        self._side.setLayout(side)
        side.setContentsMargins(0, 0, 0, 0)
        self._line = QHBoxLayout(self)
        self._line.addLayout(words, 1)
        self._line.addWidget(self._side)

    def _dress(self) -> None:
        unit = self._look.unit
        self._share()
        self._line.setContentsMargins(0, unit(), 0, unit())
        self._line.setSpacing(unit(2))
        self._words.setSpacing(unit(0.5))

    def _share(self) -> None:
        width = self._look.unit(_CONTROL_UNITS)
        self._side.setFixedWidth(min(width, max(1, round(self.width() * _SHARE))))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share()

    def minimumSizeHint(self) -> QSize:
        # The column of controls gets narrower with the row: it must not keep it wide.
        hint = super().minimumSizeHint()
        return QSize(self._look.unit(_CONTROL_UNITS), hint.height())

    # The value

    def show_value(self) -> None:
        """Show the value that holds, and the way back where it is not the default."""
        value = self.row.read()
        if isinstance(self.control, QCheckBox):
            self.control.setChecked(value)
        elif isinstance(self.control, (ChoiceBox, Stepper)):
            self.control.show_value(value)
        words = self._value_words(self.row.default)
        self.reset.setText(_("Back to: {default}").format(default=words))
        self.reset.setAccessibleName(
            _("{setting}: back to {default}").format(setting=self.row.name, default=words)
        )
        differs = value != self.row.default
        if not differs and self.reset.hasFocus():
            self.control.setFocus()
        self.reset.setVisible(differs)

    def _value_words(self, value: Any) -> str:
        kind = self.row.kind
        if isinstance(kind, Choice):
            return kind.words[value]
        if isinstance(kind, Number):
            return kind.write(value)
        return _("on") if value else _("off")

    def _take(self, value: Any) -> None:
        error = self.row.write(value)
        self.saying.say("")
        if isinstance(error, OSError):
            words = _("This holds until Chalkfret ends: it cannot be written ({reason}).")
            self.saying.say(words.format(reason=error.strerror or error), loud=True)
        self.show_value()
        self.changed.emit()

    def _go_back(self) -> None:
        self._take(self.row.default)

    # Finding

    def words(self) -> str:
        """All that it can be found by."""
        kind = self.row.kind
        values = " ".join(kind.words.values()) if isinstance(kind, Choice) else ""
        return f"{self.row.name} {self.row.about} {self.row.words} {values}"
