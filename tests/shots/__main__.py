"""Pictures of all there is to see in the window and of every sheet page of every demo lesson.

Written as DIR/window/SCENE-light|dark-100|200-wide|narrow.png and DIR/sheet/LESSON-PAGE.png.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from chalkfret.desk.window import Window

DOTS_A_MM = 144 / 25.4
SIZES = {"wide": (1680, 1050), "narrow": (1024, 640)}


def scenes(window: Window, demo: Path) -> Iterator[tuple[str, QWidget]]:
    """All there is to be seen, one after the other: what it is called and the widget to look at."""
    from chalkfret.desk.pages import PAGES
    from tests.desk.hands import open_lesson

    yield "empty", window
    with tempfile.TemporaryDirectory() as folder:
        bad = Path(folder) / "Spoilt.chalkfret"
        spoilt = demo.read_text(encoding="utf-8").replace('"E4"', '"H4"').replace("[7,8]", "[7,9]")
        bad.write_text(spoilt, encoding="utf-8")
        open_lesson(window, bad)
    yield "faults", window
    window.notice.put_away()
    window.registry.run("new")
    yield "new", window
    open_lesson(window, demo)
    for entry in PAGES:
        window.show_page(entry.id)
        yield entry.id, window
    window.show_keys()
    yield "keys", window.keys_sheet


def window_shots(folder: Path) -> int:
    """Every scene in both palettes, two text sizes and two window sizes."""
    from PySide6.QtGui import QFont

    from chalkfret.desk.app import application
    from chalkfret.desk.look import Look
    from chalkfret.desk.settings import open_settings
    from chalkfret.desk.window import Window
    from chalkfret.places import DEMO_LESSONS
    from tests.offscreen import leave_out_noise

    leave_out_noise()
    app = application()
    look = Look(app)
    plain = app.font()
    demo = max(DEMO_LESSONS.glob("*.chalkfret"), key=lambda path: path.stat().st_size)
    count = 0
    for percent in (100, 200):
        font = QFont(plain)
        font.setPointSizeF(plain.pointSizeF() * percent / 100)
        app.setFont(font)
        for palette in ("light", "dark"):
            look.show_dark(palette == "dark")
            for size, (width, height) in SIZES.items():
                window = Window(look, open_settings())
                window.resize(width, height)
                window.show_empty()
                window.show()
                for name, shown in scenes(window, demo):
                    for _ in range(20):
                        app.processEvents()
                    name = f"{name}-{palette}-{percent}-{size}.png"
                    count += shown.grab().save(str(folder / name))
                window.document.undo_stack.setClean()
                window.close()
                window.deleteLater()
                app.processEvents()
    return count


def sheet_shots(folder: Path) -> int:
    """Every page of every demo's sheet, as large as it is read on a desk."""
    from PySide6.QtGui import QImage, QPainter

    from chalkfret.files.lesson_file import load
    from chalkfret.places import DEMO_LESSONS
    from chalkfret.sheet.layout import SheetRequest, sheet
    from chalkfret.sheet.look import PRINT
    from chalkfret.sheet.paint_fonts import measurer
    from chalkfret.sheet.painter import paint

    count = 0
    for demo in sorted(DEMO_LESSONS.glob("*.chalkfret")):
        made = sheet(load(demo), SheetRequest(), measurer())
        width, height = (round(side * DOTS_A_MM) for side in made.page_size)
        for number in range(1, made.page_count + 1):
            picture = QImage(width, height, QImage.Format.Format_RGB32)
            picture.fill(PRINT.paper)
            painter = QPainter(picture)
            paint(made.page(number), painter, PRINT, DOTS_A_MM)
            painter.end()
            count += picture.save(str(folder / f"{demo.stem}-{number}.png"))
    return count


def main(target: str) -> int:
    folder = Path(target)
    for kind in ("window", "sheet"):
        (folder / kind).mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as home:
        for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
            os.environ[name] = home
        windows = window_shots(folder / "window")
        sheets = sheet_shots(folder / "sheet")
    print(f"{windows} pictures of the window and {sheets} of sheet pages in {folder}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
