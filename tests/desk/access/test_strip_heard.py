"""The section strip for those who hear it: a slider over the sections that says which one it is."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from chalkfret.model import Tempo
from tests.builder import lesson, section
from tests.desk.access.tree import ROLE, description, interface, name


def three():
    return lesson(
        section("A", "q 6:0 | 6:0", name="Opening", key="Eb lydian"),
        section("B", "q 6:0", name="Bridge", tempo=Tempo(90.0, end=120.0), times=3),
        section("C", "q 6:0"),
    )


def test_it_says_the_section_its_number_and_what_a_glance_would_tell(show):
    window = show(three())
    strip = interface(window.page("riffs").strip)
    assert (strip.role(), name(strip)) == (ROLE.Slider, "Sections")
    assert description(strip) == (
        "A Opening, 100 quarter notes a minute, E flat Lydian, 5 seconds, 1 of 3"
    )
    figures = strip.valueInterface()
    read = figures.currentValue(), figures.minimumValue(), figures.maximumValue()
    assert read == (1, 1, 3)


def test_choosing_by_key_is_heard(show, heard):
    window = show(three())
    strip = window.page("riffs").strip
    strip.setFocus()
    heard.clear()
    QTest.keyClick(strip, Qt.Key.Key_Right)
    assert window.document.section == 1
    told = "B Bridge, 90 to 120 quarter notes a minute, getting faster, 3 times, 7 seconds, 2 of 3"
    assert heard.of("Announcement") == [told]
    assert interface(strip).valueInterface().currentValue() == 2


def test_a_section_can_be_chosen_through_the_accessibility_layer(show):
    window = show(three())
    strip = window.page("riffs").strip
    interface(strip).valueInterface().setCurrentValue(3)
    assert window.document.section == 2
    assert window.page("riffs").grid.here.section == 2


def test_moving_in_the_grid_takes_it_along_and_chooses_nothing(show):
    window = show(three())
    grid, chosen = window.page("riffs").grid, []
    window.page("riffs").strip.chosen.connect(chosen.append)
    window.registry.run("go_section_on")
    assert interface(window.page("riffs").strip).valueInterface().currentValue() == 2
    assert grid.here.section == 1
    assert chosen == []


def test_keys_and_wheel_of_a_plain_slider_do_nothing(show):
    window = show(three())
    strip = window.page("riffs").strip
    for key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
        strip.setFocus()
        QTest.keyClick(strip, key)
        assert window.document.section == 0
