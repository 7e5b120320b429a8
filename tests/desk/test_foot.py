"""The line at the window's foot: news in ink, refusals in the warning colour and soon gone."""

from tests.desk.hands import press
from tests.builder import lesson, section


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
