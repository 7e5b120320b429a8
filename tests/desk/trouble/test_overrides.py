"""What a method that Qt calls raises does not crash the program, however it was raised."""

import gc
import inspect
import subprocess
import sys

import pytest
from PySide6.QtCore import QAbstractListModel, QModelIndex, QSize
from PySide6.QtWidgets import QApplication, QLabel

from chalkfret.desk.trouble.overrides import mended

_RUN = """
import gc, sys
import chalkfret.desk
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
app = QApplication([])
class Wrong(QWidget):
    def showEvent(self, event):
        {raises}
    def paintEvent(self, event):
        {raises}
    def event(self, event):
        super().event(event)
        {raises}
    def sizeHint(self, *_more):
        {raises}
told = []
sys.excepthook = lambda kind, error, _trace: told.append(kind.__name__)
wrong = Wrong()
for _ in range(20):
    for call in (wrong.show, wrong.adjustSize, wrong.repaint, app.processEvents, wrong.hide):
        call()
QTimer.singleShot(0, wrong.show)
QTimer.singleShot(20, app.quit)
app.exec()
gc.collect()
print(*told)
"""


@pytest.mark.parametrize(
    ("raises", "kind"),
    [
        ("int('x')", "ValueError"),
        ("()[1]", "IndexError"),
        ("1 / 0", "ZeroDivisionError"),
        ("list(zip([1], [1, 2], strict=True))", "ValueError"),
        ("raise LookupError", "LookupError"),
        ("raise LookupError('words')", "LookupError"),
    ],
)
def test_the_program_lives_on(raises, kind):
    done = subprocess.run(
        [sys.executable, "-c", _RUN.format(raises=raises)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0
    assert len(done.stdout.split()) > 60
    assert set(done.stdout.split()) == {kind}


class Wrong(QLabel):
    def sizeHint(self):
        return QSize(1, 1) if self.text() else int("x")


class Empty(QAbstractListModel):
    def rowCount(self, _parent=QModelIndex()):
        raise LookupError


def test_qt_answers_instead(qapp, monkeypatch):
    told = []
    monkeypatch.setattr(sys, "excepthook", lambda kind, *_more: told.append(kind))
    label = Wrong()
    assert label.sizeHint() == QLabel().sizeHint()
    assert told == [ValueError]
    label.setText("right")
    assert label.sizeHint() == QSize(1, 1)
    assert told == [ValueError]
    with pytest.raises(LookupError):  # there is no answer: it is raised after all
        Empty().rowCount()
    QApplication.processEvents()


class Cyclic(QLabel):
    def __init__(self):
        super().__init__()
        self.itself = self

    def event(self, event):
        return self.itself is not None and super().event(event)

    def minimumSizeHint(self):
        return self.itself and super().minimumSizeHint()


def test_what_the_collector_takes_apart_is_no_trouble(qtbot, monkeypatch):
    told = []
    monkeypatch.setattr(sys, "excepthook", lambda _kind, error, _trace: told.append(error))
    label = Cyclic()
    label.show()
    QApplication.processEvents()
    vars(label).clear()  # as the collector does
    label.repaint()
    label.updateGeometry()
    assert label.minimumSizeHint() == QLabel().minimumSizeHint()
    assert told == []
    label.deleteLater()
    gc.collect()
    for _ in range(3):
        Cyclic().show()
    gc.collect()
    assert told == []


def test_a_mended_method_looks_and_works_as_before():
    def method(self, one, two=2):
        """What it does."""
        return self, one, two

    call = mended(method, None)
    assert inspect.signature(call) == inspect.signature(method)
    assert call.__code__.co_varnames[:3] == ("self", "one", "two")
    assert call.__code__.co_argcount == 3, "PySide counts them where a signal is connected"
    assert call.__doc__ == "What it does."
    assert call(0, 1) == call(0, one=1, two=2) == (0, 1, 2)


def test_so_does_one_with_any_arguments():
    def method(self, *args, last=None):
        return self, args, last

    call = mended(method, None)
    assert call(0, 1, 2, last=3) == (0, (1, 2), 3)
