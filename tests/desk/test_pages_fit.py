"""Nothing is cut off or unreachable: small windows, large text, and the order of Tab."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QScrollArea,
    QWidget,
)

from chalkfret.desk.document import Document
from chalkfret.desk.handouts_page import HandoutsPage
from chalkfret.desk.sheet_page import SheetPage
from chalkfret.desk.strings_page import StringsPage
from chalkfret.desk.strings_page.setups import Doubling, doubled
from chalkfret.edits import parts
from tests.desk.access.pseudo import speak
from tests.desk.two_guitars import two_guitars

PAGES = (StringsPage, SheetPage, HandoutsPage)


@pytest.fixture
def document(qapp):
    made = Document(two_guitars())
    yield made
    made.deleteLater()


def show(qtbot, kind, document, look, width, height):
    page = kind(document, look)
    qtbot.addWidget(page)
    page.resize(width, height)
    page.show()
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    qtbot.wait(30)
    return page


def children(page, *kinds):
    return [widget for widget in page.findChildren(QWidget) if isinstance(widget, kinds)]


def cut_off(page):
    """Visible texts that have less room than they need, and widgets that overlap."""
    found = []
    for widget in children(page, QLabel, QAbstractButton, QLineEdit, QComboBox):
        if not widget.isVisibleTo(page) or isinstance(widget.parent(), QComboBox):
            continue
        metrics = QFontMetrics(widget.font())
        if widget.height() < metrics.height():
            found.append(f"{describe(widget)}: {widget.height()} px high")
        if isinstance(widget, QLabel) and widget.wordWrap():
            need = widget.heightForWidth(widget.width())
            if widget.height() < need:
                found.append(f"{describe(widget)}: {widget.height()} px high, needs {need}")
        elif isinstance(widget, QLabel | QAbstractButton):
            need = widget.sizeHint().width()
            if widget.width() < need:
                found.append(f"{describe(widget)}: {widget.width()} px wide, needs {need}")
    return found


def describe(widget):
    read = getattr(widget, "text", None) or getattr(widget, "currentText", str)
    return f"{type(widget).__name__} {read()[:30]!r} {widget.accessibleName()!r}"


@pytest.mark.parametrize("kind", PAGES)
@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize(("width", "height"), [(1024, 560), (1680, 950), (3840, 2000)])
def test_no_text_is_cut_off(qtbot, document, look, text_size, kind, percent, width, height):
    text_size(percent)
    setup = doubled(document.lesson.parts[0].setup, Doubling.TWELVE)
    document.apply("x", parts.set_setup(document.lesson, 0, setup))
    page = show(qtbot, kind, document, look, width, height)
    assert cut_off(page) == []
    for area in [page, *page.findChildren(QScrollArea)]:
        if isinstance(area, QScrollArea):
            assert area.horizontalScrollBar().maximum() == 0, "must be scrolled sideways"


@pytest.mark.parametrize("language", ["en", "de", "es"])
def test_strings_break_into_more_lines_before_they_scroll_sideways(
    qtbot, document, look, text_size, monkeypatch, language
):
    speak(language, monkeypatch)
    text_size(200)
    page = show(qtbot, StringsPage, document, look, 700, 640)
    assert page.horizontalScrollBar().maximum() == 0
    assert cut_off(page) == []
    row = page.table.rows[0]
    assert row.winding.y() > row.gauge.y()
    page.resize(1680, 640)
    qtbot.waitUntil(lambda: row.winding.y() == row.gauge.y())
    page.resize(700, 640)
    qtbot.waitUntil(lambda: page.horizontalScrollBar().maximum() == 0)


@pytest.mark.parametrize("kind", PAGES)
def test_a_page_follows_text_that_grows(qtbot, document, look, text_size, kind):
    page = show(qtbot, kind, document, look, 1280, 800)
    text_size(200)
    qtbot.wait(50)
    assert cut_off(page) == []


@pytest.mark.parametrize("kind", PAGES)
def test_tab_goes_through_every_control_and_back_to_the_first(qtbot, document, look, kind):
    page = show(qtbot, kind, document, look, 1280, 800)
    page.setFocus()
    seen = []
    for _step in range(300):
        widget = QApplication.focusWidget()
        if widget in seen:
            break
        seen.append(widget)
        QTest.keyClick(widget, Qt.Key.Key_Tab)
    wanted = [
        widget
        for widget in children(page, QLineEdit, QComboBox, QAbstractButton)
        if widget.isVisibleTo(page)
        and widget.isEnabled()
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]
    assert [describe(widget) for widget in wanted if widget not in seen] == []


def test_on_the_strings_page_tab_goes_as_one_reads(qtbot, document, look):
    page = show(qtbot, StringsPage, document, look, 1280, 800)
    first, last = page.table.rows[0], page.table.rows[-1]
    page.tuning.strings.field.setFocus()
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is first.pitch
    for name in ("cents", "gauge", "winding"):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is first.fields[name]
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is page.table.rows[1].pitch
    last.winding.setFocus()
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is page.instrument.name


def test_what_has_the_focus_is_scrolled_to(qtbot, document, look):
    page = show(qtbot, StringsPage, document, look, 900, 400)
    page.tone.program.setFocus()
    QTest.keyClick(page.tone.program, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is page.tone.drive
    top = page.tone.drive.mapTo(page.viewport(), QPoint(0, 0)).y()
    assert 0 <= top < page.viewport().height()
