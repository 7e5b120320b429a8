"""The focus can be seen: each widget that takes it changes enough of what is painted of it.

Measured by Web Content Accessibility Guidelines 2.2 (2023), success criterion 2.4.13 Focus
Appearance: pixels whose contrast with themselves before is at least 3:1, as many as a line two
pixels thick round the widget has. We grant a twentieth for round corners.
"""

import numpy as np
import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QLabel, QTableView, QWidget

from chalkfret.desk.pages import PAGES
from tests.desk.access.fit import said
from tests.desk.two_guitars import two_guitars

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722])


def luminance(image: QImage) -> np.ndarray:
    """Relative luminance of each pixel (the guidelines' definition)."""
    image = image.convertToFormat(QImage.Format.Format_RGBA8888)
    data = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1, 4)
    part = data[:, : image.width(), :3] / 255.0
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return linear @ _LUMINANCE


def changed(before: QImage, after: QImage) -> int:
    """How many pixels differ from themselves by 3:1 or more."""
    one, other = luminance(before), luminance(after)
    light, dark = np.maximum(one, other), np.minimum(one, other)
    return int(((light + 0.05) / (dark + 0.05) >= 3).sum())


def stops(page: QWidget) -> list[QWidget]:
    """All that Tab comes to, or an action leads to."""
    return [
        widget
        for widget in page.findChildren(QWidget)
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and widget.isVisible()
        and widget.isEnabled()
        and widget.focusProxy() is None
        and not widget.inherits("QComboBoxListView")
    ]


def picture(widget: QWidget) -> QImage:
    QApplication.processEvents()
    return widget.grab().toImage()


@pytest.mark.parametrize("dark", [False, True], ids=["paper", "slate"])
@pytest.mark.parametrize("page", [page.id for page in PAGES])
def test_the_focus_is_seen_wherever_it_is(show, look, page, dark):
    window = show(two_guitars())
    look.show_dark(dark)
    window.show_page(page)
    away, faint = window.menuBar(), []
    widgets = stops(window.centralWidget())
    assert len(widgets) > 5
    for widget in widgets:
        away.setFocus()
        before = picture(widget)
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        if not widget.hasFocus():
            continue
        after = picture(widget)
        if after.size() != before.size():
            faint.append(
                f"{said(widget)} is {before.size()} without the focus, {after.size()} with"
            )
            continue
        seen = changed(before, after)
        ring = around(widget)
        if seen < 0.95 * ring:
            faint.append(f"{said(widget)}: {seen} pixels of {ring}")
    assert not faint, "\n".join(faint)


def around(widget: QWidget) -> int:
    """How many pixels a line two pixels thick has round what is focused: in a table, its cell."""
    size = widget.size()
    if isinstance(widget, QTableView):
        size = QRect(0, 0, widget.columnWidth(0), widget.rowHeight(1)).size()
    if type(widget).__name__ == "SectionStrip":
        size = widget.rects()[0].size()
    width, height = size.width(), size.height()
    line = width * height - max(0, width - 4) * max(0, height - 4)
    if type(widget).__name__ == "SectionStrip":
        line -= 2 * width  # below, the ochre line that says where one is closes it
    return line


def test_words_that_can_be_selected_show_the_focus_too(window, tmp_path, qtbot):
    bad = tmp_path / "bad.chalkfret"
    bad.write_text("{}")
    window.show_empty()
    window.files.open(bad)
    label = next(one for one in window.notice.findChildren(QLabel) if one.property("readable"))
    window.menuBar().setFocus()
    qtbot.wait(50)  # until the words have their place
    before = picture(label)
    label.setFocus(Qt.FocusReason.TabFocusReason)
    assert changed(before, picture(label)) >= 0.95 * around(label)
