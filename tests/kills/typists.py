"""Processes that type, save and keep a journal until they are killed.

Each writes a log as it goes, a line for each thing that happens:

    R TIME            ready: from now on it may be killed
    E TIME DIGEST     the lesson of now has this digest (of the bytes it would be saved as)
    S TIME DIGEST     a save of that lesson begins
    D TIME            the save is done

The log is written without buffers, so what is in it survives the process; times are monotonic and
the same in all processes.
"""

import os
import time
from contextlib import suppress
from pathlib import Path
from random import Random

PAUSE_S = 0.05
"""The journal's pause, a twentieth of the real one."""

LESSON = "riff.chalkfret"
LOG = "log"


class Log:
    """Written at once, whatever becomes of the process."""

    def __init__(self, folder: Path) -> None:
        self._file = os.open(folder / LOG, os.O_WRONLY | os.O_CREAT | os.O_APPEND)

    def say(self, kind: str, digest: str = "") -> None:
        os.write(self._file, f"{kind} {time.monotonic():.6f} {digest}\n".encode())


def without_a_window(folder: Path, seed: int) -> None:
    """Edits, journal, saves and earlier versions, as the window does them but without it."""
    from chalkfret.edits import notes
    from chalkfret.edits.place import Spot
    from chalkfret.files.backups import keep_version
    from chalkfret.files.journal import Standing, digest
    from chalkfret.files.keeper import Journal
    from chalkfret.files.lesson_file import dumps
    from chalkfret.files.saving import open_at, save_over
    from chalkfret.places import state_folder

    draw, path, log = Random(seed), folder / LESSON, Log(folder)
    # Some save all the time, to be killed in a save; some seldom, to have something to lose.
    saves = 0.3 if seed % 2 else 0.01
    opened = open_at(path)
    lesson, known = opened.lesson, opened.digest
    journal = Journal(state_folder(), pause_s=PAUSE_S)
    log.say("R")
    while True:
        spot = Spot(
            0, draw.randrange(4), 0, draw.choice([0, 5040, 10080, 15120]), draw.randint(1, 6)
        )
        fret = draw.randint(0, 24)
        with suppress(ValueError):
            lesson = notes.set_fret(lesson, spot, fret, 5040)
        log.say("E", digest(dumps(lesson)))
        journal.note(Standing(lesson, path, known))
        if draw.random() < saves:
            log.say("S", digest(dumps(lesson)))
            saved = save_over(lesson, path, known)
            log.say("D")
            known = saved.digest
            journal.note(Standing(None, path, known))
            if saved.replaced is not None:
                keep_version(state_folder(), path, saved.replaced, time.time())
        time.sleep(draw.random() * 0.004)


def in_the_window(folder: Path, seed: int) -> None:
    """The real window, offscreen, by real key events."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    from chalkfret.desk.app import application
    from chalkfret.desk.document import Document
    from chalkfret.desk.look import Look
    from chalkfret.desk.safety.care import Care
    from chalkfret.desk.settings import open_settings
    from chalkfret.desk.window import Window
    from chalkfret.files.journal import digest
    from chalkfret.files.lesson_file import dumps

    draw, path, log = Random(seed), folder / LESSON, Log(folder)
    app = application()
    document = Document()
    care = Care(document, pause_s=PAUSE_S)
    care.saved.connect(lambda _saved: log.say("D"))  # before the window, which may save again
    window = Window(Look(app), open_settings(), document)
    window.show()
    window.files.open(path)
    while window.files.is_busy:
        QTest.qWait(1)
    grid = window.page("riffs").grid
    begin_save = care.begin_save

    def begin(place: Path, expected: str) -> None:
        log.say("S", digest(dumps(document.lesson)))
        begin_save(place, expected)

    care.begin_save = begin  # type: ignore[method-assign]
    document.changed.connect(lambda _old, new: log.say("E", digest(dumps(new))))
    log.say("R")
    keys = [getattr(Qt.Key, f"Key_{name}") for name in [*range(10), "Left", "Up", "Down"]]
    while True:
        chance = draw.random()
        if chance < 0.08:
            QTest.keyClick(grid, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
        elif chance < 0.2:
            QTest.keyClick(grid, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        else:
            QTest.keyClick(grid, draw.choice(keys))
        QTest.qWait(draw.randrange(4))


TYPISTS = {"plain": without_a_window, "window": in_the_window}
