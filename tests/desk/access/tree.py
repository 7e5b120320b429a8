"""The window as the system's accessibility layer gets it: walked from its root, child by child."""

from collections.abc import Iterator

from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QWidget

ROLE = QAccessible.Role
CONTROLS = {
    ROLE.Button, ROLE.ButtonMenu, ROLE.CheckBox, ROLE.RadioButton, ROLE.ComboBox,
    ROLE.EditableText, ROLE.List, ROLE.Tree, ROLE.Table, ROLE.Slider, ROLE.SpinBox,
    ROLE.ListItem, ROLE.TreeItem, ROLE.Cell, ROLE.MenuItem, ROLE.PageTab,
}  # fmt: skip
_SEEN_MOST = 60  # of the children of a table or list


def interface(widget: QWidget) -> QAccessibleInterface:
    """What the accessibility layer knows of a widget."""
    return QAccessible.queryAccessibleInterface(widget)


def name(one: QAccessibleInterface) -> str:
    return one.text(QAccessible.Text.Name)


def description(one: QAccessibleInterface) -> str:
    return one.text(QAccessible.Text.Description)


def value(one: QAccessibleInterface) -> str:
    return one.text(QAccessible.Text.Value)


def walk(one: QAccessibleInterface) -> Iterator[QAccessibleInterface]:
    """It and all below it that can be seen; of long tables and lists the beginning."""
    yield one
    for index in range(min(one.childCount(), _SEEN_MOST)):
        child = one.child(index)
        if child is not None and child.isValid() and not child.state().invisible:
            yield from walk(child)


def named(root: QWidget, wanted: str) -> QAccessibleInterface:
    """The one thing with this name; fails where there is none."""
    return next(one for one in walk(interface(root)) if name(one) == wanted)


def label_of(one: QAccessibleInterface) -> str:
    """The text of the label that stands for a control."""
    flag = QAccessible.RelationFlag.Label
    return " ".join(name(other) for other, which in one.relations(flag) if which & flag)
