"""The line at the window's foot: news in ink, refusals in the warning colour and soon gone."""

from PySide6.QtWidgets import QToolButton

from chalkfret.desk.settings import with_recent
from chalkfret.files.lesson_file import save
from chalkfret.model.start import new_lesson
from tests.builder import lesson, section
from tests.desk.hands import press


def colour_said(window):
    label = window.foot._said
    return label.palette().color(label.foregroundRole())


def test_news_are_ink_and_refusals_a_warning(show):
    window = show(lesson(section("A", "q 6:0")))
    window.document.said.emit("Type the number of the string.")
    assert colour_said(window) == window.look.colour("ink")
    window.document.refused.emit("There is none.")
    assert colour_said(window) == window.look.colour("warning")
    window.document.said.emit("It is copied.")
    assert colour_said(window) == window.look.colour("ink")


def test_a_refusal_is_gone_with_the_next_action_and_news_stay(show):
    window = show(lesson(section("A", "q 6:0")))
    press("Ctrl+Shift+Return")
    window.document.refused.emit("There is none.")
    press("Right")
    assert window.foot.sentence == ""
    window.document.said.emit("It is copied.")
    press("Right")
    assert window.foot.sentence == "It is copied."


def test_a_window_made_in_dark_writes_its_foot_and_title_in_chalk(qtbot, look):
    from chalkfret.desk.settings import Theme, open_settings
    from chalkfret.desk.window import Window

    settings = open_settings()
    settings.change(theme=Theme.DARK)
    try:
        made = Window(look, settings)
        qtbot.addWidget(made, before_close_func=lambda one: one.document.undo_stack.setClean())
        made.resize(1280, 800)
        made.files.show_copy(lesson(section("A", "q 6:0")))
        made.show()
        qtbot.waitExposed(made)
        made.document.refused.emit("There is none.")
        for label, colour in (
            (made.foot._place, "soft"),
            (made.foot._said, "warning"),
            (made._row._title, "soft"),
        ):
            assert label.palette().color(label.foregroundRole()) == look.colour(colour)
        assert look.dark
    finally:
        settings.change(theme=Theme.SYSTEM)
        look.show_theme(Theme.SYSTEM)
        look.show_dark(False)


def test_remarks_go_with_their_lesson(show, qtbot):
    window = show(new_lesson())
    window.remarks.look_now()
    assert window.remarks.count.isVisible()
    window.document.replace(lesson(section("A", "q 6:0")), None)
    assert not window.remarks.count.isVisible(), "before the new lesson has been looked at"
    window.document.replace(new_lesson(), None)
    window.remarks.look_now()
    window.close_lesson()
    assert not window.remarks.count.isVisible()
    qtbot.wait(900)
    assert not window.remarks.count.isVisible(), "no lesson is open"


def test_lessons_open_last_are_offered_where_none_is_open(window, qtbot, tmp_path):
    paths = [tmp_path / f"{name}.chalkfret" for name in "abcdefg"]
    for path in paths:
        save(lesson(section("A", "q 6:0"), title=path.stem), path)
        window.settings.update(lambda value, path=path: with_recent(value, path))
    window.show_empty()
    empty = window.stack.currentWidget()
    offered = empty.findChildren(QToolButton)
    assert [button.text() for button in offered] == [f"{n}.chalkfret" for n in "gfedc"]
    offered[1].click()
    qtbot.waitUntil(lambda: window.document.path == paths[5])


def test_quit_is_the_last_of_its_menu(window):
    window.make_pages()
    (menu,) = (one.menu() for one in window.menuBar().actions() if one.text() == "&Lesson")
    assert menu.actions()[-1].objectName() == "quit"
    assert menu.actions()[-2].isSeparator()
