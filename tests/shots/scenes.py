"""All there is to be seen in the window, scene by scene, each as a teacher comes to it."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

from msgspec.structs import replace
from PySide6.QtCore import QPoint
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QApplication, QWidget

from chalkfret.desk.pages import PAGES
from chalkfret.desk.settings_window.rows import GROUPS, KEYS
from chalkfret.desk.window import Window
from chalkfret.files.journal import digest
from chalkfret.files.lesson_file import dumps, save
from chalkfret.model import QUARTER
from tests.desk.hands import open_lesson, press, save_lesson, type_text
from tests.desk.riffs.mouse import hand
from tests.desk.safety.answers import asked, crashed
from tests.desk.two_guitars import two_guitars


class Scene(NamedTuple):
    """``root`` as it is shown, with ``over`` it where that is a window of its own."""

    name: str
    root: QWidget
    over: QWidget | None = None

    def picture(self) -> QPixmap:
        """What is seen."""
        settle()
        picture = self.root.grab()
        if self.over is not None:
            painter = QPainter(picture)
            at = self.root.mapFromGlobal(self.over.mapToGlobal(QPoint(0, 0)))
            painter.drawPixmap(at, self.over.grab())
            painter.end()
        return picture


def settle(seconds: float = 0.02) -> None:
    """Let everything be laid out and painted."""
    ends = time.monotonic() + seconds
    for _round in range(20):
        QApplication.processEvents()
    while time.monotonic() < ends:
        QApplication.processEvents()


def wait_for(ready: Callable[[], bool]) -> None:
    """Wait for what is found out beside the window."""
    ends = time.monotonic() + 10
    while not ready():
        assert time.monotonic() < ends, "this does not come"
        QApplication.processEvents()


def scenes(window: Window, demo: Path, folder: Path) -> Iterator[Scene]:
    """All of them; files that are needed are written in ``folder``."""
    yield from _beginnings(window, demo, folder)
    open_lesson(window, demo)
    for entry in PAGES:
        window.show_page(entry.id)
        settle(0.3 if entry.id == "sheet" else 0)
        yield Scene(entry.id, window)
    window.show_page("riffs")
    yield from _helpers(window)
    yield from _eye(window)
    yield from _mouse(window)
    yield from _earlier(window, folder)


def _beginnings(window: Window, demo: Path, folder: Path) -> Iterator[Scene]:
    """No lesson, one that cannot be read, what a crash left, a new one, the first steps."""
    window.show_empty()
    yield Scene("empty", window)
    bad = folder / "Spoilt.chalkfret"
    spoilt = demo.read_text(encoding="utf-8").replace('"E4"', '"H4"').replace("[7,8]", "[7,9]")
    bad.write_text(spoilt, encoding="utf-8")
    open_lesson(window, bad)
    yield Scene("notice", window)
    window.notice.put_away()
    lose_work(folder)
    window.safety.begin()
    wait_for(lambda: asked(window) != "")
    yield Scene("questions", window)
    window.safety.questions.take_focus()
    press("Escape")
    window.registry.run("new")
    yield Scene("new", window)
    window.registry.run("first_steps")
    yield Scene("first-steps", window)
    window.coach.leave()


def lose_work(folder: Path) -> None:
    """Leave what a killed window leaves: a saved lesson with unsaved work on it."""
    saved = two_guitars()
    path = folder / "Two lamps.chalkfret"
    save(saved, path)
    first, *others = saved.sections
    head = replace(first.head, tempo=replace(first.head.tempo, start=112.0), name="Cellar stairs")
    work = replace(saved, sections=(replace(first, head=head), *others))
    crashed(work, path, digest(dumps(saved)))


def _helpers(window: Window) -> Iterator[Scene]:
    """The line that finds anything, keys, settings."""
    window.show_find()
    type_text("tem")
    yield Scene("find", window)
    window.find_line.go()
    window.show_keys()
    yield Scene("keys", window.keys_sheet)
    window.keys_sheet.close()
    window.show_settings()
    settings = window.settings_window
    for group in GROUPS:
        settings.show_group(group)
        yield Scene(f"settings-{GROUPS.index(group) + 1}", settings)
    settings.show_group(KEYS)
    settings.keys.choose("undo")
    settings.keys.change.click()
    settings.keys.ask.capture.taken.emit("Ctrl+S")
    yield Scene("settings-key-asked", settings)
    settings.close()
    window.activateWindow()
    settle()


def _eye(window: Window) -> Iterator[Scene]:
    """Differences marked and listed, a guitar folded, notes small and large."""
    run = window.registry.run
    sight = window.page("riffs").grid.sight
    run("mark_differences")
    run("list_differences")
    yield Scene("differences", window)
    run("list_differences")
    run("mark_differences")
    run("fold")
    yield Scene("folded", window)
    run("unfold")
    for percent in (50, 300):
        sight.zoom_to(percent / 100)
        yield Scene(f"zoom-{percent}", window)
    sight.zoom_to(1.0)
    run("go_to")
    yield Scene("go-to", window)
    press("Escape")


def _mouse(window: Window) -> Iterator[Scene]:
    """The frets to choose from, a note that is being dragged, a bend that is being drawn."""
    window.files.show_copy(two_guitars())
    window.show_page("riffs")
    settle()
    grid = window.page("riffs").grid
    points = hand.InGrid(grid)
    cell = points.at(4, QUARTER)
    hand.click(points.view, cell)
    hand.click(points.view, cell)
    yield Scene("fret-chooser", window)
    press("Escape")
    here = points.at(6, QUARTER)
    there = points.at(5, 2 * QUARTER)
    hand.pull(points.view, here, there)
    yield Scene("mid-drag", window)
    press("Escape")
    hand.release(points.view, there)
    hand.hover(points.view, points.at(6, QUARTER))
    knob = points.knob(6, QUARTER)
    hand.pull(points.view, knob, knob + points.up(2))
    yield Scene("mid-bend", window)
    press("Escape")
    hand.release(points.view, knob)


def _earlier(window: Window, folder: Path) -> Iterator[Scene]:
    """What earlier saves replaced."""
    path = folder / "Two lamps.chalkfret"
    open_lesson(window, path)
    for fret in ("5", "7", "8"):
        press(fret)
        save_lesson(window)
    window.registry.run("earlier_versions")
    wait_for(lambda: "Two lamps" in asked(window))
    yield Scene("earlier", window)


def biggest(lessons: Path) -> Path:
    """The demo lesson with the most in it."""
    return max(lessons.glob("*.chalkfret"), key=lambda path: path.stat().st_size)
