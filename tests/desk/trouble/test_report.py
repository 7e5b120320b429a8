"""The report says where in the program it was, and nothing of who used it for what."""

import getpass
import linecache
import logging
import platform
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QTimer, qWarning
from PySide6.QtWidgets import QApplication

from chalkfret.desk.trouble.described import described, place_of
from chalkfret.desk.trouble.lately import DONE
from chalkfret.desk.trouble.masked import ELSEWHERE, cut_path, masked
from chalkfret.desk.trouble.report import qt_words, report
from chalkfret.edits import texts
from tests.desk.hands import press

TITLE = "Zwielicht Karussell 1234567"
USER = "quirinbraun"


def fail(kind, *words):
    raise kind(*words)


@pytest.mark.parametrize("kind", [ValueError, KeyError, RuntimeError, TypeError, OSError])
def test_nothing_personal_is_in_it(troubled, catcher, qtbot, monkeypatch, tmp_path, kind):
    """Title, notes, path, user and machine go into exceptions and warnings; none comes out."""
    home = tmp_path / "home" / USER
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("USER", USER)
    monkeypatch.setenv("LOGNAME", USER)
    monkeypatch.setattr(platform, "node", lambda: "brauns-laptop")
    document = troubled.document
    document.apply("title", texts.set_head(document.lesson, title=TITLE, credit="Quirin Braun"))
    path = home / f"{TITLE}.chalkfret"
    logging.disable()
    troubled.registry.run("page_strings")
    troubled.registry.run("page_riffs")
    press("5", "Ctrl+3")
    for words in (
        (f"{TITLE} in {path}",),
        (2, f"no such file: {path}", str(path)),
        (f"'{TITLE}' by Quirin Braun, telephone 0175 5550123",),
        (document.lesson,),
    ):
        QTimer.singleShot(0, troubled, lambda words=words: fail(kind, *words))
    qWarning(f'QThing::open: cannot open "{path}"')
    qWarning(f"QThing::open: for {USER} on brauns-laptop")
    qWarning(f"QOther: {path}: no such thing")
    qtbot.waitUntil(lambda: sum(one.count for one in catcher.noted.values()) >= 4)
    logging.disable(logging.NOTSET)
    text = report(catcher)
    low = text.casefold()
    for personal in ("zwielicht", "karussell", "1234567", USER, "quirin", "braun", "5550123",
                     "laptop", str(tmp_path), str(Path.home()), ".chalkfret"):  # fmt: skip
        assert personal.casefold() not in low, personal
    assert kind.__name__ in text
    assert "in fail" in text
    assert "page_strings, page_riffs" in " ".join(text.split())
    assert "QThing::open: cannot open …\n" in text
    assert "for … on …" in text


def test_no_absolute_path_is_in_it(troubled, catcher, qtbot):
    QTimer.singleShot(0, troubled, lambda: troubled.registry.run("no such action"))
    qtbot.waitUntil(lambda: bool(catcher.noted))
    text = report(catcher)
    assert "chalkfret/desk/actions.py, line " in text
    assert "/" not in text.replace("chalkfret/", "").replace("desk/actions.py", "")
    assert getpass.getuser() not in text.split("Versions")[1].split("Error 1")[1]


def test_versions_are_in_it(catcher):
    text = report(catcher)
    for version in ("Chalkfret 0", f"Python {platform.python_version()}", "PySide6 6", "Qt 6"):
        assert version in text
    assert platform.system() in text


def test_the_last_fifty_actions_are_in_it(troubled, catcher):
    for _ in range(60):
        troubled.registry.run("page_sheet")
    troubled.registry.run("page_riffs")
    assert len(DONE) == 50
    assert list(DONE)[-2:] == ["page_sheet", "page_riffs"]
    assert "page_riffs" in report(catcher)


@pytest.mark.parametrize(
    ("message", "shown"),
    [
        ("'int' object has no attribute 'alpha'", None),
        ("unsupported operand type(s) for +: 'int' and 'str'", None),
        ("list index out of range", None),
        ("two actions are called Fritz", "two actions are called …"),
        ("Fritz Müller, 12 bars of 99999", "…, 12 … of …"),
        ("/home/fritz/a b.txt", "/…"),
        ("", ""),
    ],
)  # fmt: skip
def test_words_of_the_program_are_kept(message, shown):
    def code(alpha):
        return f"two actions are called {alpha}"

    result = masked(message, [code.__code__])
    if message.startswith("/"):
        assert "fritz" not in result
        assert "home" not in result
    else:
        assert result == (message if shown is None else shown)


def test_paths_are_cut():
    import json

    import msgspec

    import chalkfret.desk.window

    assert cut_path(chalkfret.desk.window.__file__) == "chalkfret/desk/window.py"
    assert cut_path(json.__file__) == "python/json/__init__.py"
    assert cut_path(msgspec.__file__) == "msgspec/__init__.py"
    assert cut_path("<frozen importlib._bootstrap>") == "<frozen importlib._bootstrap>"
    assert cut_path("/home/somebody/secret.py") == ELSEWHERE
    assert cut_path("<string>") == ELSEWHERE


def test_what_led_to_it_is_in_it_too():
    try:
        try:
            fail(KeyError, "x")
        except KeyError as first:
            raise RuntimeError from first
    except RuntimeError as error:
        text = described(error)
    assert text.index("KeyError") < text.index("RuntimeError")


def test_a_very_deep_one_is_cut():
    def deeper():
        deeper()

    with pytest.raises(RecursionError) as caught:
        deeper()
    text = described(caught.value)
    assert len(text.splitlines()) < 100
    assert "more ..." in text


def test_an_exception_that_cannot_even_be_said():
    class Broken(Exception):
        def __str__(self):
            raise RuntimeError

    assert described(Broken()).endswith("Broken")


def test_equal_errors_are_known_by_their_place():
    def place(kind):
        try:
            fail(kind)
        except kind as error:
            return place_of(error)

    assert place(ValueError) == place(ValueError)
    assert place(ValueError) != place(KeyError)


def test_source_lines_of_the_program_are_shown(catcher):
    linecache.checkcache()
    try:
        masked(None, [])
    except TypeError as error:
        text = described(error)
    assert "chalkfret/desk/trouble/masked.py" in text
    assert "_PIECE.findall(message)" in text


def test_qt_words_keep_what_qt_says():
    said = "QFont::setPixelSize: Pixel size <= 0 (0)"
    assert qt_words(said) == said


def test_debugging_words_of_qt_are_not_kept(catcher):
    from PySide6.QtCore import qDebug

    qDebug("nothing of interest")
    assert not catcher.qt_words
    qWarning("of interest")
    assert list(catcher.qt_words) == ["of interest"]


def test_the_report_of_a_quiet_run_can_be_looked_at(troubled):
    troubled.registry.run("trouble_report")
    assert "Versions" in troubled.telling._sheet.text.toPlainText()
    troubled.telling._sheet.close()


def test_the_lesson_itself_is_never_looked_into(troubled, catcher):
    """A report of a lesson with another title is the same text."""
    one = report(catcher)
    document = troubled.document
    document.replace(
        replace(document.lesson, head=replace(document.lesson.head, title=TITLE)), None
    )
    QApplication.processEvents()
    assert report(catcher) == one
