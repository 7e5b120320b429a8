"""What stands beneath the strings: bars, gauges, retune card."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from chalkfret.desk.document import Document
from chalkfret.desk.shelf import open_shelf
from chalkfret.desk.strings_page import StringsPage
from chalkfret.desk.strings_page.feel import Wish
from chalkfret.desk.strings_page.shelf_view import ShelfView
from chalkfret.model import Retune
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from chalkfret.strings.gauges import physical
from tests.builder import lesson, part, section

LOW = plain_setup(["A1", "D2", "G2", "C3", "E3", "A3"])


@pytest.fixture
def document(qapp):
    made = Document(
        lesson(
            section("A", "q 6:0 0 0 0"),
            section("B", "q 6:0 0 0 0", retunes=(Retune("low", STANDARD_SETUP),)),
            parts=(part("Low", LOW),),
        )
    )
    yield made
    made.deleteLater()


@pytest.fixture
def beneath(qtbot, document, look):
    page = StringsPage(document, look)
    qtbot.addWidget(page)
    page.resize(1280, 800)
    page.show()
    page.beneath.catch_up()
    return page.beneath


def choose(choice, value):
    choice.show_value(value)
    choice.chosen.emit(value)


def test_slack_strings_are_hatched_and_said_to_be(beneath):
    bars = [bar for _name, bar, _lb, _words in beneath.bars.rows]
    assert [bar.is_hatched for bar in bars] == [True, True, True, True, True, True]
    assert "outside common sets" in bars[0].accessibleName()


def test_strength_and_sharpness_stand_under_each_bar(beneath):
    words = [words.text() for _name, _bar, _lb, words in beneath.bars.rows]
    assert "% of breaking strength" in words[0]
    assert " at fret 12, " in words[0]
    assert "not computed" in words[5]
    assert "estimate" in words[5]
    beneath.bars.fret.field.setFocus()
    beneath.bars.fret.field.selectAll()
    QTest.keyClicks(beneath.bars.fret.field, "1")
    QTest.keyClick(beneath.bars.fret.field, Qt.Key.Key_Return)
    assert " at fret 1, " in beneath.bars.rows[0][3].text()
    assert "safe" not in " ".join(words)


def test_gauges_for_the_known_feel_are_written_in_as_one_step(beneath, document):
    assert ".010" in beneath.feel.lines.text()
    before = physical(document.lesson.parts[0].setup)
    beneath.feel.put_on.click()
    after = physical(document.lesson.parts[0].setup)
    assert all(old.gauge < new.gauge for old, new in zip(before, after, strict=True))
    assert [one.pitch for one in before] == [one.pitch for one in after]
    document.undo_stack.undo()
    assert physical(document.lesson.parts[0].setup) == before


def test_other_wishes(beneath):
    choose(beneath.feel.wish, Wish.ALIKE)
    assert "wanted 16.0" in beneath.feel.lines.text()
    assert not beneath.feel.pounds.isHidden()
    choose(beneath.feel.wish, Wish.EVEN)
    assert "tightest string pulls" in beneath.feel.lines.text()
    assert beneath.feel.pounds.isHidden()


def test_the_feel_that_was_wished_holds_on_when_the_gauges_are_written_in(beneath):
    wanted = [line.partition("wanted")[2] for line in beneath.feel.lines.text().splitlines()]
    beneath.feel.put_on.click()
    beneath.catch_up()
    lines = beneath.feel.lines.text().splitlines()
    assert [line.partition("wanted")[2] for line in lines] == wanted
    assert all("stays" in line for line in lines)


def test_a_known_set_of_the_shops_can_be_wished_for(beneath):
    choose(beneath.feel.wish, "9-42")
    # .009 in E4 at 25.5 in pulls 13.1 lb (a string maker's chart)
    assert "(wanted 13.1)" in beneath.feel.lines.text().splitlines()[0]


def test_the_card_from_standard_and_between_sections_and_from_the_shelf(beneath, document):
    card = beneath.retuning
    assert "String 6: 7 semitones down, E2 to A1" in card.card.text()
    assert "eye protection" in card.more.text()
    section_b = f"section {document.lesson.sections[1].id}"
    choose(card.start, "this")
    choose(card.target, section_b)
    assert "String 6: 7 semitones up, A1 to E2" in card.card.text()
    choose(card.target, "this")
    assert "nothing to turn" in card.more.text()
    assert card.card.isHidden()


def test_a_setup_of_the_shelf_is_offered_where_it_has_the_same_strings(qtbot, document, look):
    shelf = open_shelf()
    drop = plain_setup(["D2", "A2", "D3", "G3", "B3", "E4"])
    seven = plain_setup(["B1", "E2", "A2", "D3", "G3", "B3", "E4"], [0.02] * 7)
    shelf.update(lambda one: one.put(drop, "Dropped").put(seven, "Seven"))
    page = StringsPage(document, look)
    qtbot.addWidget(page)
    page.show()
    page.beneath.catch_up()
    card = page.beneath.retuning
    choose(card.target, "shelf Dropped")
    assert card.target.value == "shelf Dropped"
    assert "E2 to D2" in card.card.text()
    assert not any("Seven" in card.target.itemText(at) for at in range(card.target.count()))


def test_what_is_put_on_the_shelf_is_offered_at_once(beneath):
    card = beneath.retuning
    before = card.target.count()
    beneath.window().findChild(ShelfView).put.click()
    assert card.target.count() == before + 1


def test_strings_without_gauges_say_what_to_do(qtbot, look):
    bare = plain_setup(gauges=[None] * 6)
    document = Document(lesson(section("A", "q 6:0"), parts=(part("One", bare),)))
    page = StringsPage(document, look)
    qtbot.addWidget(page)
    page.show()
    page.beneath.catch_up()
    assert page.beneath.bars.isHidden()
    assert "Type the gauges" in page.beneath.feel.lines.text()
    assert not page.beneath.feel.put_on.isEnabled()
    document.deleteLater()


def test_gauges_and_card_are_reached_by_keys(beneath):
    def reached():
        return {one.id: one for one in beneath.page_actions(lambda: True)}

    beneath.activateWindow()
    reached()["strings_retune"].run()
    assert beneath.retuning.start.hasFocus()
    reached()["strings_gauges"].run()
    assert beneath.feel.wish.hasFocus()
    assert reached()["strings_gauges_in"].enabled()
    reached()["strings_gauges_in"].run()
    beneath.catch_up()
    assert not reached()["strings_gauges_in"].enabled()
