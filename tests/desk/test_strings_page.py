"""The Strings page by its keys: what is typed changes the lesson, what is said is right."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from chalkfret.desk.document import Document
from chalkfret.desk.pieces.saying import Saying
from chalkfret.desk.shelf import open_shelf
from chalkfret.desk.strings_page import StringsPage
from chalkfret.model import Retune, setup_in, tuning_names, validate
from chalkfret.strings.tension import tension
from tests.builder import lesson, section
from tests.desk.two_guitars import two_guitars


@pytest.fixture
def document(qapp):
    made = Document(two_guitars())
    yield made
    made.deleteLater()


@pytest.fixture
def page(qtbot, document, look):
    made = StringsPage(document, look)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def setup_of(document, part=0):
    return document.lesson.parts[part].setup


def write(field, text, then=Qt.Key.Key_Return):
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    if then is not None:
        QTest.keyClick(field, then)


def row(page, course, string=0):
    return next(one for one in page.table.rows if (one.course, one.string) == (course, string))


def test_a_tuning_typed_as_a_row_of_notes_is_one_undo_step(page, document):
    write(page.tuning.field, "D A D G A D")
    assert tuning_names(setup_of(document)) == ("D2", "A2", "D3", "G3", "A3", "D4")
    assert page.tuning.field.text() == "D2 A2 D3 G3 A3 D4"
    assert document.undo_stack.undoText() == "tuning of Low guitar"
    document.undo_stack.undo()
    assert tuning_names(setup_of(document))[0] == "C2"
    assert not document.undo_stack.canUndo()
    assert page.tuning.field.text() == "C2 G2 C3 F3 A3 D4"


def test_a_refused_tuning_keeps_what_was_typed_and_says_why(page, document):
    before = document.lesson
    write(page.tuning.field, "C G C F A Q")
    assert page.tuning.field.text() == "C G C F A Q"
    assert document.lesson is before
    assert "Q" in page.saying.text
    assert page.saying.is_loud
    assert page.saying.isVisible()


def test_another_number_of_notes_needs_enter(page, document):
    page.tuning.field.setFocus()
    page.tuning.field.selectAll()
    QTest.keyClicks(page.tuning.field, "A1 D2 G2 C3 F3 A3 D4")
    assert len(setup_of(document).courses) == 6
    assert "7 notes for 6 strings" in page.saying.text
    QTest.keyClick(page.tuning.field, Qt.Key.Key_Return)
    assert tuning_names(setup_of(document)) == ("A1", "D2", "G2", "C3", "F3", "A3", "D4")
    assert not validate(document.lesson)
    assert len(page.table.rows) == 7


def test_fewer_strings_while_one_that_goes_is_being_written_in(page, document):
    """The focus that leaves a row reached the next old row, for a string that is no more."""
    before = document.lesson
    page.tuning.field.setFocus()
    page.tuning.field.selectAll()
    QTest.keyClicks(page.tuning.field, "A1 D2 G2 C3 F3 A3 D4")
    QTest.keyClick(page.tuning.field, Qt.Key.Key_Return)
    page.table.go_to(7, 0)
    document.undo_stack.undo()
    assert document.lesson is before
    assert len(page.table.rows) == 6
    page.table.go_to(3, 0)
    document.undo_stack.redo()
    assert len(page.table.rows) == 7


def test_a_tuning_by_its_trade_name(page, document):
    write(page.tuning.field, "drop d")
    assert tuning_names(setup_of(document)) == ("D2", "A2", "D3", "G3", "B3", "E4")


def test_the_menu_offers_the_trades_tunings(page, document):
    page.tuning.menu.aboutToShow.emit()
    action = next(one for one in page.tuning.menu.actions() if one.text().startswith("Open G\t"))
    action.trigger()
    assert tuning_names(setup_of(document)) == ("D2", "G2", "D3", "G3", "B3", "D4")


def test_fewer_strings_than_notes_need_are_refused_with_the_place(page, document):
    before = document.lesson
    QTest.keyClick(page.tuning.strings.field, Qt.Key.Key_Down)
    assert document.lesson is before
    assert "section A, bar 1, Low guitar" in page.saying.text
    assert page.tuning.strings.field.text() == "6"


def test_gauge_frequency_and_tension_as_one_types(page, document):
    field = row(page, 6).gauge
    write(field, "60", then=None)
    string = setup_of(document).course(6).strings[0]
    assert string.gauge == 0.060
    assert row(page, 6).hertz.text() == "65.41 Hz"  # C2, CRC Handbook of Chemistry and Physics
    pull = tension(string, setup_of(document))
    assert row(page, 6).tension.text() == f"{pull.lb:.1f} lb, {pull.newton:.0f} N"
    assert "4 down" in row(page, 6).standard.text()
    assert document.undo_stack.count() == 1


def test_a_string_outside_common_sets_is_marked(page):
    write(row(page, 6).gauge, "26")
    assert row(page, 6).remark.text() == "lighter than common sets"
    assert row(page, 6).remark.isVisible()
    write(row(page, 6).gauge, "60")
    assert not row(page, 6).remark.isVisible()


def test_cautions_are_there_and_no_string_is_called_safe(page):
    assert "eye protection" in page.cautions.words.text()
    words = [page.cautions.words.text(), page.cautions.total.text(), page.cautions.source.text()]
    assert not any("safe" in text.lower() for text in words)


def test_enter_goes_to_the_same_field_of_the_next_string(page):
    row(page, 1).gauge.setFocus()
    for key in ("10", "13", "17"):
        QTest.keyClicks(page.focusWidget(), key)
        QTest.keyClick(page.focusWidget(), Qt.Key.Key_Return)
    assert page.focusWidget() is row(page, 4).gauge
    assert page.table.current == (4, 0)
    QTest.keyClick(page.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    assert page.focusWidget() is row(page, 3).gauge


def test_cents_and_own_scale_of_a_string(page, document):
    write(row(page, 5).cents, "-14", then=None)
    assert setup_of(document).course(5).strings[0].cents == -14
    assert "14 cents flat" in row(page, 5).standard.text()
    write(page.details.scale, "27.5 in")
    assert setup_of(document).course(5).strings[0].scale_mm == pytest.approx(698.5)


def test_scale_frets_capo_and_reference(page, document):
    write(page.instrument.scale, "25.5")
    write(page.instrument.frets.field, "24")
    write(page.instrument.capo.field, "2")
    write(page.instrument.over, "1-5")
    write(page.instrument.a4, "442")
    setup = setup_of(document)
    assert (setup.scale_mm, setup.fret_count, setup.a4) == (647.7, 24, 442.0)
    assert (setup.capo.fret, setup.capo.courses) == (2, (1, 2, 3, 4, 5))
    write(page.instrument.capo.field, "0")
    assert setup_of(document).capo is None


def test_a_capo_beyond_the_neck_is_refused_beside_the_field(page, document):
    write(page.instrument.frets.field, "12")
    write(page.instrument.capo.field, "13", then=None)
    assert setup_of(document).capo is None, "as before the 1 of 13 was typed"
    assert page.instrument.capo.field.text() == "13"
    assert page.instrument.findChild(Saying).is_loud
    assert not page.saying.text, "it is said at the field"


def test_a_refused_gauge_moves_no_row(page):
    row = page.table.rows[0]
    before = row.gauge.mapTo(page, QPoint())
    write(row.gauge, "x")
    QApplication.processEvents()
    assert page.table_saying.is_loud
    assert row.gauge.hasFocus(), "Enter goes on only from what is taken"
    assert row.gauge.mapTo(page, QPoint()) == before
    assert not page.saying.text


def test_a_source_is_named_once(page, document):
    document.replace(lesson(section("A", "q 6:0")), None)
    assert page.cautions.source.text().count("published table") == 1


def test_twelve_strings(page, document):
    index = page.instrument.courses.findText("pairs, octaves from string 3 on")
    page.instrument.courses.setCurrentIndex(index)
    page.instrument.courses.activated.emit(index)
    assert [one.pitch for one in setup_of(document).course(6).strings] == ["C2", "C3"]
    assert len(page.table.rows) == 12
    write(row(page, 6, 1).gauge, "29")
    assert setup_of(document).course(6).strings[1].gauge == 0.029


def test_a_section_retunes_a_part(page, document):
    section = document.lesson.sections[1].id
    page.show_section(section)
    assert "section B  Attic only" in page.saying.text
    write(page.tuning.field, "C G C F A C")
    second = document.lesson.sections[1]
    assert setup_in(second, document.lesson.parts[0]).course(1).strings[0].pitch == "C4"
    assert setup_of(document).course(1).strings[0].pitch == "D4"
    assert isinstance(second.head.retunes[0], Retune)
    assert not page.tuning.strings.isEnabled()
    assert page.parts_row.drop.isVisible()
    page.parts_row.drop.click()
    assert document.lesson.sections[1].head.retunes == ()
    assert page.tuning.field.text() == "C2 G2 C3 F3 A3 D4"


def test_the_shelf_gives_to_another_guitar_and_survives(page, document):
    page.instrument.name.setFocus()
    write(page.instrument.name, "My low C")
    page.shelf.put.click()
    page.show_part(1)
    page.shelf.list.setCurrentRow(0)
    page.shelf.take.click()
    assert tuning_names(setup_of(document, 1)) == ("C2", "G2", "C3", "F3", "A3", "D4")
    assert open_shelf().value.names == ("My low C",)
    page.shelf.list.setFocus()
    QTest.keyClick(page.shelf.list, Qt.Key.Key_Delete)
    assert open_shelf().value.names == ()
    assert page.shelf.empty.isVisible()


def test_guitars_are_added_named_and_removed(page, document):
    page.parts_row.add_part.click()
    assert [part.name for part in document.lesson.parts][2] == "Guitar 3"
    QTest.keyClicks(page.focusWidget(), "Bass")
    assert document.lesson.parts[2].name == "Bass"
    write(page.parts_row.name, "Low guitar")
    assert document.lesson.parts[2].name != "Low guitar"
    assert page.saying.is_loud
    QTest.keyClick(page.parts_row.name, Qt.Key.Key_Escape)
    page.parts_row.remove.click()
    assert len(document.lesson.parts) == 2
    assert not validate(document.lesson)


def test_tone_notes_are_one_step_and_tab_leaves_them(page, document):
    page.tone.notes.setFocus()
    QTest.keyClicks(page.tone.notes, "Neck pickup")
    assert document.lesson.parts[0].tone == "Neck pickup"
    assert document.undo_stack.count() == 1
    QTest.keyClick(page.tone.notes, Qt.Key.Key_Tab)
    assert page.focusWidget() is not page.tone.notes
    document.undo_stack.undo()
    assert page.tone.notes.toPlainText() == ""


def test_every_control_has_a_name(page):
    from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit, QPlainTextEdit

    for kind in (QLineEdit, QComboBox, QPlainTextEdit, QAbstractButton):
        for widget in page.findChildren(kind):
            if not widget.objectName().startswith("qt_"):
                assert widget.accessibleName() or getattr(widget, "text", str)(), widget


def test_a_hidden_page_does_no_work_and_is_right_when_it_is_shown(page, document):
    page.hide()
    shown = page.tuning.field.text()
    from chalkfret.edits import parts
    from chalkfret.model.start import STANDARD_SETUP

    document.apply("x", parts.set_setup(document.lesson, 0, STANDARD_SETUP))
    assert page.tuning.field.text() == shown
    page.show()
    assert page.tuning.field.text() == "E2 A2 D3 G3 B3 E4"
