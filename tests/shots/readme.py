"""The pictures of the README: `python -m tests.shots.readme [NAME ...]` makes them anew, or these.

All are small, light, and of the demo lessons or of a few bars written for them.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final

from tests.builder import lesson, part, section
from tests.shots.__main__ import private_home

if TYPE_CHECKING:
    from PySide6.QtGui import QImage

    from chalkfret.desk.window import Window

FOLDER: Final = Path(__file__).parents[2] / "resources" / "pictures"
MOST_BYTES: Final = 120_000
WIDTH: Final = 1200

_PARTS = (part("Low guitar"), part("High guitar"))
BEGUN: Final = lesson(
    section("A", "e 6:0 0 3 0 s 5:2 3 e 2 6:3 0 | r | r | r", name="Cellar stairs", key="E minor",
            tempo=112.0),
    title="Cellar stairs",
)  # fmt: skip
TOGETHER: Final = lesson(
    section(
        "A",
        "e 6:0 0 3 0 q 5:2 6:3 | e 6:0 0 3 0 q 5:2 5:3 | e 6:0 0 3 0 q 5:2 6:3",
        "e 6:0 0 3 0 q 5:2 6:3 | e 6:0 0 3 0 q 4:2 4:4 | e 6:0 0 3 0 q r r",
        name="Cellar stairs",
        key="E minor",
        tempo=112.0,
    ),
    parts=_PARTS,
    title="Cellar stairs",
)


def _shown(window: Window, height: int) -> QImage:
    """The window, so many pixels high."""
    from tests.shots.scenes import settle

    window.resize(WIDTH, height)
    settle(0.1)
    return window.grab().toImage()


def _demo(window: Window, page: str) -> None:
    from chalkfret.places import DEMO_LESSONS
    from tests.desk.hands import open_lesson

    open_lesson(window, DEMO_LESSONS / "lantern_steps.chalkfret")
    window.show_page(page)


def riffs(window: Window, _home: Path) -> QImage:
    """Two guitars of a demo lesson, with strip and panel."""
    from tests.desk.hands import press

    _demo(window, "riffs")
    press("Ctrl+Right", "Right", "Right", "Down", "Down", "Down", "Down", "Down")
    return _shown(window, 612)


def strings(window: Window, _home: Path) -> QImage:
    """The strings of a demo lesson."""
    _demo(window, "strings")
    return _shown(window, 530)


def writing(window: Window, _home: Path) -> QImage:
    """A bar after the one before it: two frets are typed, the others wait for theirs."""
    from tests.desk.hands import press
    from tests.shots.scenes import settle

    window.files.show_copy(BEGUN)
    window.show_page("riffs")
    settle()
    window.registry.run("show_panel")
    press("Ctrl+Right", *["Down"] * 5, "K", "0", "0", "5")
    return _shown(window, 400)


def differences(window: Window, _home: Path) -> QImage:
    """What the second guitar does otherwise, marked and listed."""
    window.files.show_copy(TOGETHER)
    window.show_page("riffs")
    window.registry.run("show_panel")
    window.registry.run("mark_differences")
    window.registry.run("list_differences")
    return _shown(window, 712)


def overview(window: Window, _home: Path) -> QImage:
    """Small notes, many bars: the strip's window says where they lie in the lesson."""
    _demo(window, "riffs")
    window.registry.run("show_panel")
    window.page("riffs").grid.sight.zoom_to(0.6)
    picture = _shown(window, 400)
    window.page("riffs").grid.sight.zoom_to(1.0)
    window.registry.run("show_panel")
    return picture


def questions(window: Window, home: Path) -> QImage:
    """What a crash left, offered at the next start."""
    from tests.desk.safety.answers import asked
    from tests.shots.scenes import lose_work, wait_for

    window.show_empty()
    lose_work(home)
    window.safety.begin()
    wait_for(lambda: asked(window) != "")
    picture = _shown(window, 400)
    window.safety.questions.hide()
    return picture


MAKERS: Final[dict[str, Callable[[Window, Path], QImage]]] = {
    make.__name__: make for make in (riffs, strings, writing, differences, overview, questions)
}


def main(names: list[str]) -> None:
    """Make them; a picture that is too large for its place is an error."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtGui import QImage

    from chalkfret.desk.app import application
    from chalkfret.desk.look import Look
    from chalkfret.desk.settings import open_settings
    from chalkfret.desk.window import Window
    from tests.offscreen import leave_out_noise
    from tests.shots.scenes import settle

    leave_out_noise()
    look = Look(application())
    look.show_dark(False)
    for name in names or MAKERS:
        with private_home() as home:
            window = Window(look, open_settings())
            window.resize(WIDTH, 640)
            window.show()
            settle()  # the window before is gone now, and the keys are free
            window.activateWindow()
            picture = MAKERS[name](window, home)
            window.document.undo_stack.setClean()
            window.close()
            window.deleteLater()
        path = FOLDER / f"{name}.png"
        # Without what is seen through, and packed as small as it goes.
        picture.convertToFormat(QImage.Format.Format_RGB888).save(str(path), "PNG", 0)
        size = path.stat().st_size
        assert size <= MOST_BYTES, f"{path.name} has {size} bytes"
        print(path.name, f"{picture.width()} x {picture.height()}, {size} bytes")


if __name__ == "__main__":
    main(sys.argv[1:])
