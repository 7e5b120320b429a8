"""The Sheet page: what is painted is the sheet of now, and one finds one's way in it."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from chalkfret.desk.document import Document
from chalkfret.desk.sheet_page import SheetPage
from chalkfret.desk.sheet_page.view import Fit
from chalkfret.edits import notes
from chalkfret.edits.place import Spot
from chalkfret.model import Bars, NoteNaming, Paper
from tests.desk.two_guitars import two_guitars


def long_lesson(bars=240):
    """Two guitars with so many bars in each section, so that there are many pages."""
    short = two_guitars()
    sections = tuple(
        replace(one, bars=Bars.of([one.bars[index % len(one.bars)] for index in range(bars)]))
        for one in short.sections
    )
    return replace(short, sections=sections)


@pytest.fixture
def document(qapp):
    made = Document(long_lesson())
    yield made
    made.deleteLater()


@pytest.fixture
def page(qtbot, document, look):
    made = SheetPage(document, look)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    made.view.setFocus()
    return made


def ink(page):
    """How many pixels of the page that is looked at are dark."""
    picture = page.view.viewport().grab(page.view.page_rect(page.view.current)).toImage()
    return sum(
        picture.pixelColor(x, y).lightness() < 100
        for x in range(0, picture.width(), 2)
        for y in range(0, picture.height(), 2)
    )


def seen(page):
    return page.view.viewport().grab().toImage()


def test_the_first_page_has_ink_on_white_paper(page):
    assert ink(page) > 500
    rect = page.view.page_rect(0)
    corner = seen(page).pixelColor(rect.topLeft() + QPoint(3, 3))
    assert corner.name() == "#ffffff"


def test_an_edit_on_the_page_that_is_seen_is_painted(page, document):
    first = seen(page)
    page.go_to_section(document.lesson.sections[0].id)
    jumped = seen(page)
    assert jumped != first
    spot = Spot(0, 0, 0, 0, 6)
    document.apply("fret", notes.set_fret(document.lesson, spot, 17, 5040))
    assert seen(page) != jumped
    document.undo_stack.undo()
    assert seen(page) == jumped


def painted_blocks(monkeypatch):
    """Counts of the blocks that are painted from now on, a number a page."""
    from chalkfret.desk.sheet_page import pictures

    counts = []
    paint = pictures.paint

    def counting(page, *more):
        counts.append(len(page.placed))
        paint(page, *more)

    monkeypatch.setattr(pictures, "paint", counting)
    return counts


def test_pages_that_did_not_change_keep_their_pictures(page, document, monkeypatch):
    seen(page)
    counts = painted_blocks(monkeypatch)
    last = len(document.lesson.sections[1].bars) - 1
    spot = Spot(1, last, 0, 0, 6)
    document.apply("fret", notes.set_fret(document.lesson, spot, 7, 2520))
    seen(page)
    assert counts == []


def test_of_a_page_only_what_changed_is_painted_and_looks_the_same(page, document, monkeypatch):
    page.view.go_to(3)
    seen(page)
    counts = painted_blocks(monkeypatch)
    section = page._section_here()
    index = [one.id for one in document.lesson.sections].index(section)
    bars = range(len(document.lesson.sections[index].bars))
    here = [bar for bar in bars if page._sheet.page_of(section, bar) == 4]
    for step, bar in enumerate(here[:: max(1, len(here) // 5)]):
        spot = Spot(index, bar, step % 2, 0, 1 + step % 6)
        document.apply("fret", notes.set_fret(document.lesson, spot, step + 11, 2520))
        mended = seen(page)
        page.view._pictures = type(page.view._pictures)()
        page.view.viewport().update()
        assert seen(page) == mended
    blocks = len(page._sheet.page(4).placed)
    assert min(counts) < blocks / 2


def test_typing_goes_on_where_one_looks(page, document):
    page.view.go_to(3)
    place = page.view.place()
    document.apply("fret", notes.set_fret(document.lesson, Spot(1, 100, 0, 0, 6), 9, 2520))
    assert page.view.place() == pytest.approx(place, abs=1)
    assert page.view.current == 3


def test_jump_to_a_section_by_list_and_by_key(page, document):
    page.bar.sections.setCurrentIndex(1)
    page.bar.sections.activated.emit(1)
    second = page._sheet.section_pages[document.lesson.sections[1].id]
    assert page.view.current == second - 1 > 1
    assert page.bar.page.text() == f"Page {second} of {page.view.count}"
    assert page.bar.sections.currentText() == "B  Attic"
    actions = {action.id: action for action in page.page_actions()}
    actions["sheet_back_section"].run()
    assert page.bar.sections.currentText() == "A  Cellar"


def test_pages_turn_and_end(page):
    page.view.go_to(0)
    actions = {action.id: action for action in page.page_actions()}
    actions["sheet_next"].run()
    assert page.view.current == 1
    actions["sheet_back"].run()
    assert page.view.current == 0
    assert not page.bar.back.isEnabled()
    QTest.keyClick(page.view, Qt.Key.Key_End)
    assert page.view.current == page.view.count - 1
    assert not page.bar.next.isEnabled()


def test_it_opens_at_the_section_in_which_one_works(qtbot, document, look):
    document.section = 1
    page = SheetPage(document, look)
    qtbot.addWidget(page)
    page.resize(1280, 800)
    page.show()
    assert page.bar.sections.currentText() == "B  Attic"


def test_zoom_by_steps_wheel_and_fit(page):
    view = page.view
    assert view.fit is Fit.WIDTH
    across = view.page_rect(0)
    assert abs(view.viewport().width() - across.width()) < 60
    view.set_fit(Fit.PAGE)
    assert view.page_rect(0).height() <= view.viewport().height()
    view.set_zoom(1.0)
    view.step_zoom(1)
    assert view.zoom == 1.25
    turn = QWheelEvent(
        QPointF(50, 50), QPointF(50, 50), QPoint(), QPoint(0, -120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ControlModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view.viewport(), turn)
    assert view.zoom == 1.0
    assert page.bar.zoom.text() == "100 %"


def test_very_large_pages_are_painted_too(page):
    page.view.set_zoom(4.0)
    picture = seen(page)
    dark = sum(
        picture.pixelColor(x, y).lightness() < 100
        for x in range(0, picture.width(), 3)
        for y in range(0, picture.height(), 3)
    )
    assert dark > 100


def test_words_of_the_sheet_are_typed_here(page, document):
    field = page.panel.fields["supporter_line"]
    field.setFocus()
    QTest.keyClicks(field, "For my supporters")
    assert document.lesson.head.supporter_line == "For my supporters"
    assert document.undo_stack.count() == 1
    assert document.undo_stack.undoText() == "supporter line"


def test_paper_and_names_of_notes(page, document):
    a4 = page.view.page_rect(0).size()
    page.panel.landscape.click()
    assert document.lesson.head.sheet.landscape
    turned = page.view.page_rect(0).size()
    assert turned.width() > turned.height()
    assert a4.width() < a4.height()
    index = page.panel.paper.findText("Letter, 8½ × 11 in")
    page.panel.paper.activated.emit(index)
    assert document.lesson.head.sheet.paper is Paper.LETTER
    page.panel.naming.activated.emit(1)
    assert document.lesson.head.note_naming is NoteNaming.GERMAN


def test_the_panel_makes_room_in_a_narrow_window(page, qtbot):
    assert page.panel.isVisible()
    page.resize(600, 500)
    qtbot.waitUntil(lambda: not page.panel.isVisible())
    page.bar.panel.click()
    assert page.panel.isVisible()
