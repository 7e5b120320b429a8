"""Contrast, computed by Web Content Accessibility Guidelines 2.2 (2023): pairs of the palettes, and
what is really painted. Texts have 5:1 or more (our own bound, above the guidelines' 4.5), whatever
else must be seen 3:1 (success criterion 1.4.11)."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit

from chalkfret.desk.icons import pixmap
from chalkfret.desk.look import PAPER, SLATE
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.places import RESOURCES
from chalkfret.theory.degrees import Role
from tests.desk.access.fit import said
from tests.desk.access.test_focus import luminance
from tests.desk.access.tour import Tour
from tests.desk.test_look import contrast

PALETTES = pytest.mark.parametrize("colours", [PAPER, SLATE], ids=["paper", "slate"])
DARK = pytest.mark.parametrize("dark", [False, True], ids=["paper", "slate"])
# A thin stroke covers no pixel wholly: what is painted of small text stays below its colour.
_SMOOTHED = 0.8


@PALETTES
def test_bounds_of_fields_marks_of_focus_and_of_the_place_stand_out_from_both_grounds(colours):
    for ground in ("surface", "panel"):
        for mark in ("edge", "blue", "ochre", "warning"):
            assert contrast(colours.named(mark), colours.named(ground)) >= 3, (mark, ground)


@PALETTES
def test_words_on_what_is_pressed_or_chosen_can_be_read(colours):
    assert contrast(colours.named("surface"), colours.named("blue")) >= 5


@DARK
def test_lines_notes_and_hatches_of_the_grid_stand_out(look, dark):
    look.show_dark(dark)
    metrics = Metrics(look)
    for pen in (metrics.string_pen, metrics.bar_pen, metrics.section_pen, metrics.cursor_pen):
        assert contrast(pen.color(), metrics.surface) >= 3
    for role, hatch in metrics.hatches.items():
        tint = metrics.tints[role]
        painted = QImage(1, 1, QImage.Format.Format_RGB32)
        painted.fill(tint)
        assert contrast(metrics.edge_pens[role].color(), metrics.surface) >= 3, role
        assert contrast(metrics.ink, tint) >= 5, role
        assert hatch.style() is not None
    for role in (Role.HOME, Role.FRAME, Role.COLOUR, Role.OUTSIDE):
        assert contrast(metrics.hatch, metrics.tints[role]) >= 3, role


@PALETTES
def test_icons_stand_out(colours, look):
    """In the blue that buttons have them in, as large as they are with text of 100 %."""
    for path in sorted((RESOURCES / "icons").glob("*.svg")):
        if path.stem.startswith("tick-"):
            continue
        picture = pixmap(path.stem, colours.named("blue"), 24).toImage()
        ground = QImage(picture.size(), QImage.Format.Format_RGB32)
        ground.fill(colours.named("panel"))
        assert ratio(laid_over(picture, ground)) >= 3, path.stem


def laid_over(picture: QImage, ground: QImage) -> QImage:
    from PySide6.QtGui import QPainter

    painter = QPainter(ground)
    painter.drawImage(0, 0, picture)
    painter.end()
    return ground


def ratio(image: QImage) -> float:
    """The contrast of what stands out most in a picture with its most frequent pixel."""
    shades = luminance(image)
    values, counts = np.unique(shades.round(4), return_counts=True)
    ground = values[counts.argmax()]
    light, dark = np.maximum(values, ground), np.minimum(values, ground)
    return float(((light + 0.05) / (dark + 0.05)).max())


def words_of(widget) -> str:
    read = getattr(widget, "currentText", None) or getattr(widget, "text", None)
    return read() if callable(read) else ""


def unreadable(root) -> list[str]:
    """Texts that are painted with less contrast than they should have, where they can be seen."""
    found = []
    QApplication.processEvents()
    whole = root.grab().toImage()
    for kind in (QLabel, QAbstractButton, QLineEdit, QComboBox):
        for widget in root.findChildren(kind):
            seen = widget.visibleRegion().boundingRect() if widget.isVisible() else QRect()
            if seen != widget.rect() or not words_of(widget).strip():
                continue
            place = QRect(widget.mapTo(root, QPoint(0, 0)), widget.size())
            inside = place if isinstance(widget, QLabel) else place.adjusted(4, 4, -4, -4)
            shown = ratio(whole.copy(inside))
            if shown < 5 * _SMOOTHED:
                found.append(f"{said(widget)}: {shown:.1f}")
    return found


@DARK
def test_every_text_is_painted_so_that_it_can_be_read(
    window, look, dark, text_size, monkeypatch, tmp_path
):
    look.show_dark(dark)
    text_size(200)
    found = {}
    tour = Tour(window, lambda scene, root: found.update({scene: unreadable(root)}), monkeypatch)
    tour.pages(tmp_path / "bad.chalkfret")
    wrong = [f"{scene}: {one}" for scene, some in found.items() for one in some]
    assert not wrong, "\n".join(wrong)
