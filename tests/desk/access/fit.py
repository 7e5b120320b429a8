"""What does not fit: texts with too little room, widgets over or outside one another."""

from itertools import combinations

from PySide6.QtCore import QRect
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QMenuBar,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QStyle,
    QStyleOptionComboBox,
    QStyleOptionFrame,
    QWidget,
)

from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.elided import Elided

SMALLEST = (1024, 640)
# Their children are Qt's own, or lie over one another on purpose.
_STACKS = (QStackedWidget, QSplitter, QAbstractScrollArea, QComboBox, QAbstractSpinBox, QMenuBar)


def misfits(root: QWidget) -> list[str]:
    """All that is cut off, overlaps, or stands outside; [] where everything fits."""
    found = []
    least = root.minimumSizeHint()
    if least.width() > SMALLEST[0] or least.height() > SMALLEST[1]:
        found.append(f"{said(root)} cannot be smaller than {least.width()} x {least.height()}")
    for widget in (root, *root.findChildren(QWidget)):
        if widget.isVisibleTo(root) and not _hides(widget):
            found += _cut(widget)
            found += _astray(widget)
    return found


def _hides(widget: QWidget) -> bool:
    """Whether it is Qt's own inside of another widget."""
    parent = widget.parentWidget()
    return isinstance(parent, QComboBox | QAbstractSpinBox | QMenuBar | QLineEdit)


def said(widget: QWidget) -> str:
    """The widget as one finds it again: its class, its words, and where it is."""
    read = getattr(widget, "text", None) or getattr(widget, "currentText", None)
    words = read() if callable(read) else ""
    chain, parent = [], widget.parentWidget()
    while parent is not None and len(chain) < 3:
        if type(parent).__module__.startswith("chalkfret"):
            chain.append(type(parent).__name__)
        parent = parent.parentWidget()
    name = widget.accessibleName() or words
    return f"{type(widget).__name__} {name[:40]!r} in {' < '.join(chain)}"


def _cut(widget: QWidget) -> list[str]:
    if isinstance(widget, QComboBox):
        return _cut_choice(widget)
    if isinstance(widget, QLineEdit):
        return _cut_field(widget)
    if isinstance(widget, QHeaderView):
        return _cut_header(widget)
    need = _need(widget)
    room = widget.width(), widget.height()
    if need[0] > room[0] or need[1] > room[1]:
        return [f"{said(widget)}: {room[0]} x {room[1]} px, needs {need[0]} x {need[1]}"]
    return []


def _cut_choice(box: QComboBox) -> list[str]:
    """Long words end in dots, with the whole as the tip and in the list; short ones never."""
    option = QStyleOptionComboBox()
    box.initStyleOption(option)
    kind, part = QStyle.ComplexControl.CC_ComboBox, QStyle.SubControl.SC_ComboBoxEditField
    room = box.style().subControlRect(kind, option, part, box).width()
    words = box.fontMetrics().horizontalAdvance(box.currentText())
    may_be_cut = isinstance(box, Choice) and len(box.currentText()) > 16
    if words > room and not may_be_cut:
        return [f"{said(box)}: {words} px of {box.currentText()!r} in {room}"]
    return []


def _need(widget: QWidget) -> tuple[int, int]:
    """The least width and height in which its words are whole."""
    if isinstance(widget, Elided):  # says that it is cut, and has the whole as its tip
        return 0, widget.fontMetrics().height()
    if isinstance(widget, QLabel) and widget.wordWrap():
        return 0, max(0, widget.heightForWidth(widget.width()))
    if isinstance(widget, QLabel | QAbstractButton):
        return widget.sizeHint().width(), widget.sizeHint().height()
    return 0, 0


def _cut_field(field: QLineEdit) -> list[str]:
    """A field scrolls what is long; what is short, or shown instead of it, must be seen whole."""
    option = QStyleOptionFrame()
    field.initStyleOption(option)
    element = QStyle.SubElement.SE_LineEditContents
    room = field.style().subElementRect(element, option, field)
    metrics = field.fontMetrics()
    if room.height() < metrics.height():
        return [f"{said(field)}: {room.height()} px high for text of {metrics.height()}"]
    shown = field.text() or field.placeholderText()
    may_be_long = field.maximumWidth() > 10_000 and (field.text() or field.toolTip())
    need = metrics.horizontalAdvance(shown) + 4
    if need > room.width() and not (may_be_long and len(shown) > 8):
        return [f"{said(field)}: {need} px of {shown!r} in {room.width()}"]
    return []


def _cut_header(header: QHeaderView) -> list[str]:
    model = header.model()
    if model is None or type(header).__module__.startswith("chalkfret"):
        return []  # the grid's own headers elide by themselves
    return [
        f"{said(header)}: column {at}"
        for at in range(header.count())
        if not header.isSectionHidden(at) and header.sectionSizeHint(at) > header.sectionSize(at)
    ]


def _astray(widget: QWidget) -> list[str]:
    """Children over one another or outside their parent; a page to be scrolled sideways."""
    if isinstance(widget, QScrollArea) and widget.horizontalScrollBar().maximum() > 0:
        return [f"{said(widget)} must be scrolled sideways"]
    if isinstance(widget, _STACKS) or _is_viewport(widget):
        return []
    seen = [
        child
        for child in widget.children()
        if isinstance(child, QWidget) and child.isVisible() and not child.isWindow()
    ]
    inside = QRect(0, 0, widget.width(), widget.height())
    found = [
        f"{said(child)}: {child.geometry()} outside {inside}"
        for child in seen
        if not inside.contains(child.geometry())
    ]
    found += [
        f"{said(one)} and {said(other)} overlap"
        for one, other in combinations(seen, 2)
        if one.geometry().intersects(other.geometry())
    ]
    return found


def _is_viewport(widget: QWidget) -> bool:
    parent = widget.parentWidget()
    return isinstance(parent, QAbstractScrollArea) and parent.viewport() is widget
