"""Pictures of all there is to see in the window and of every sheet page of every demo lesson.

Written as DIR/window/SCENE-light|dark-100|200-SIZE[-LANGUAGE].png, DIR/sheet/LESSON-PAGE.png and
DIR/keys/PAGE.png. Settings and unsaved work lie in private folders meanwhile.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

DOTS_A_MM = 144 / 25.4
SIZES = ((1024, 640), (1280, 800), (1920, 1080))


@contextmanager
def private_home() -> Iterator[Path]:
    """A home in which nothing was kept yet, and which goes with all that was kept in it."""
    names = ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME")
    before = {name: os.environ.get(name) for name in names}
    with tempfile.TemporaryDirectory() as folder:
        os.environ.update(dict.fromkeys(names, folder))
        yield Path(folder)
    for name, value in before.items():
        if value is None:
            del os.environ[name]
        else:
            os.environ[name] = value


def window_shots(folder: Path) -> int:
    """Every scene in both palettes, sizes of text and of the window; in each language once."""
    from PySide6.QtGui import QFont

    from chalkfret.desk.app import application
    from chalkfret.desk.languages import Languages
    from chalkfret.desk.look import Look
    from chalkfret.words.text import available
    from tests.offscreen import leave_out_noise

    leave_out_noise()
    app = application()
    look, languages, plain = Look(app), Languages(app), app.font()
    ways = [
        ("en", percent, dark, size) for percent in (100, 200) for dark in (0, 1) for size in SIZES
    ]
    ways += [(language, 100, 0, SIZES[1]) for language in sorted(available()) if language != "en"]
    count = 0
    for language, percent, dark, size in ways:
        font = QFont(plain)
        font.setPointSizeF(plain.pointSizeF() * percent / 100)
        app.setFont(font)
        look.follow_font()
        look.show_dark(bool(dark))
        languages.speak(language)
        name = f"{'dark' if dark else 'light'}-{percent}-{size[0]}"
        if language != "en":
            name += f"-{language}"
        count += _in_a_window(look, size, lambda scene, name=name: folder / f"{scene}-{name}.png")
    languages.speak("en")
    return count


def _in_a_window(look, size, place) -> int:
    """Every scene of one window, written where ``place`` says for its name."""
    from PySide6.QtWidgets import QApplication

    from chalkfret.desk.settings import open_settings
    from chalkfret.desk.window import Window
    from chalkfret.places import DEMO_LESSONS
    from tests.shots.scenes import biggest, scenes

    count = 0
    with private_home() as home:
        window = Window(look, open_settings())
        window.resize(*size)
        window.show()
        window.activateWindow()
        for scene in scenes(window, biggest(DEMO_LESSONS), home):
            count += scene.picture().save(str(place(scene.name)))
        window.document.undo_stack.setClean()
        window.close()
        window.deleteLater()
        QApplication.processEvents()
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


def key_shots(folder: Path) -> int:
    """The printed list of all keys, page by page."""
    from PySide6.QtCore import QBuffer, QByteArray
    from PySide6.QtGui import QPageSize
    from PySide6.QtPdf import QPdfDocument

    from chalkfret.desk.app import application
    from chalkfret.desk.keys.printing import keys_pdf
    from chalkfret.desk.look import Look
    from chalkfret.desk.settings import open_settings
    from chalkfret.desk.window import Window

    with private_home():
        window = Window(Look(application()), open_settings())
        window.make_pages()
        data = QByteArray(keys_pdf(window.registry, QPageSize(QPageSize.PageSizeId.A4)))
        window.deleteLater()
    buffer, document = QBuffer(data), QPdfDocument()
    buffer.open(QBuffer.OpenModeFlag.ReadOnly)
    document.load(buffer)
    count = 0
    for number in range(document.pageCount()):
        size = (document.pagePointSize(number) * 2).toSize()
        count += document.render(number, size).save(str(folder / f"{number + 1}.png"))
    document.close()
    return count


def main(target: str) -> int:
    folders = [Path(target) / kind for kind in ("window", "sheet", "keys")]
    for folder in folders:
        folder.mkdir(parents=True, exist_ok=True)
    windows, sheets, keys = (
        make(folder)
        for make, folder in zip((window_shots, sheet_shots, key_shots), folders, strict=True)
    )
    print(f"{windows} pictures of the window, {sheets} of sheets, {keys} of keys in {target}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
