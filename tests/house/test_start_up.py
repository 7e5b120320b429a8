"""What is slow to import is imported when it is needed and not before."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from chalkfret.places import DEMO_LESSONS

DEMO = str(DEMO_LESSONS / "lantern_steps.chalkfret")
SLOW = {"PySide6", "music21", "numpy", "mido", "pypdf"}
COMMAND = "import chalkfret.cli; chalkfret.cli.main({arguments!r})"
WINDOW = """
from pathlib import Path
from chalkfret.desk.app import application
app = application()
from chalkfret.desk.look import Look
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
window = Window(Look(app), open_settings())
window.files.open(Path({demo!r}))
window.show()
from PySide6.QtTest import QTest
while window.files.is_busy:
    QTest.qWait(1)
assert window.has_lesson()
for _ in range(200):
    app.processEvents()
"""


def imported_by(script: str, home: Path) -> set[str]:
    """Names of all modules that a fresh Python holds after the script."""
    listing = "\nimport json, sys\nprint('\\n' + json.dumps(sorted(sys.modules)))"
    done = subprocess.run(
        [sys.executable, "-P", "-c", script + listing],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        cwd=home,
    )
    assert "Traceback" not in done.stderr, done.stderr
    return set(json.loads(done.stdout.splitlines()[-1]))


@pytest.mark.parametrize("arguments", [["--version"], ["check", DEMO], ["explain", "--json", DEMO]])
def test_reading_and_explaining_a_lesson_needs_no_window_and_no_export(arguments, private_home):
    found = imported_by(COMMAND.format(arguments=arguments), private_home)
    assert "chalkfret.cli" in found
    assert not found & SLOW


def test_the_window_opens_without_sound_import_and_export(private_home):
    found = imported_by(WINDOW.format(demo=DEMO), private_home)
    assert "PySide6.QtWidgets" in found
    assert not found & {*SLOW, "PySide6.QtMultimedia"} - {"PySide6"}


def test_no_source_is_read_for_an_import(private_home):
    """PySide would read that of every module, and keep it."""
    script = WINDOW.format(demo=DEMO) + (
        "import linecache, sys\n"
        "for name in linecache.cache:\n"
        "    sys.modules['read ' + name] = sys\n"
    )
    found = imported_by(script, private_home)
    assert "chalkfret.desk.riffs.grid" in found
    assert not [name for name in found if name.startswith("read ") and "/riffs/" in name]
