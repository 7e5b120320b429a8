"""The whole way at real pauses: the program is killed while someone types, and started again."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from chalkfret.files.lesson_file import load
from tests.desk.safety.conftest import LESSON

APP = str(Path(__file__).parents[3] / "app")

TYPE = """
import os, signal, sys
from pathlib import Path
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from chalkfret.desk import app

def type_and_die():
    window = next((one for one in QApplication.topLevelWidgets() if hasattr(one, "files")), None)
    if window is None or not window.has_lesson():
        QTimer.singleShot(50, type_and_die)
        return
    QTest.keyClick(window.page("riffs").grid, Qt.Key.Key_9)
    QTimer.singleShot(2000, lambda: os.kill(os.getpid(), signal.SIGKILL))

application = app.application()
QTimer.singleShot(0, type_and_die)
app.main(Path(sys.argv[1]))
"""

START_AGAIN = """
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from chalkfret.desk import app

def look():
    window = next((one for one in QApplication.topLevelWidgets() if hasattr(one, "files")), None)
    if window is None or not window.safety.questions.text:
        QTimer.singleShot(50, look)
        return
    print(window.safety.questions.text)
    QApplication.quit()

application = app.application()
QTimer.singleShot(0, look)
app.main(None)
"""


@pytest.mark.faults
def test_a_program_that_was_killed_offers_the_work_when_it_starts_again(path, private_home):
    def run(code, *arguments):
        return subprocess.run(
            [sys.executable, "-P", "-c", code, *arguments],
            env={**os.environ, "PYTHONPATH": APP, "QT_QPA_PLATFORM": "offscreen"},
            capture_output=True, text=True, timeout=120, check=False,
        )  # fmt: skip

    killed = run(TYPE, str(path))
    assert killed.returncode == -signal.SIGKILL, killed.stderr
    assert load(path) == LESSON
    again = run(START_AGAIN)
    assert again.returncode == 0, again.stderr
    assert "1 lesson has work that was not saved" in again.stdout
    assert "slate.chalkfret" in again.stdout
    assert "Section A: bar 1 is changed." in again.stdout
