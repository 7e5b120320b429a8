"""A program that copied something ends like any other."""

import subprocess
import sys

from tests.checks import environment

COPIES_AND_ENDS = """
from PySide6.QtGui import QGuiApplication
from chalkfret.desk.app import application
from chalkfret.desk.riffs import clipboard
from chalkfret.edits.place import Moment, Span
from tests.builder import lesson, section

app = application()
clipboard.put(lesson(section("A", "q 6:0 3 5 7")), Span(Moment(0, 0, 0), Moment(0, 0, 20160), (0,)))
print(QGuiApplication.clipboard().text())
"""


def test_a_program_that_has_copied_notes_ends_without_a_crash():
    done = subprocess.run(
        [sys.executable, "-c", COPIES_AND_ENDS],
        capture_output=True, text=True, check=False, env=environment(),
    )  # fmt: skip
    assert "0" in done.stdout
    assert done.returncode == 0, done.stderr
