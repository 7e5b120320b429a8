"""The palettes, computed: every text reads at 5:1 on both surfaces, whatever lies under it."""

import subprocess
import sys

import pytest
from PySide6.QtGui import QColor

from chalkfret.desk.look import HEADING, PAPER, SLATE, SMALL, mixed

TEXTS = ("ink", "soft", "ochre", "blue", "warning")
TINTS = ("home", "frame", "colour", "outside")


def luminance(colour: QColor) -> float:
    """Relative luminance (Web Content Accessibility Guidelines 2.2, 2023, definition)."""

    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = map(linear, (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: QColor, other: QColor) -> float:
    """Contrast ratio (Web Content Accessibility Guidelines 2.2, 2023, definition)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_guidelines_own_extremes():
    assert contrast(QColor("#FFFFFF"), QColor("#000000")) == pytest.approx(21.0)
    assert contrast(QColor("#777777"), QColor("#FFFFFF")) == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("colours", [SLATE, PAPER], ids=["slate", "paper"])
def test_texts_read_on_both_surfaces(colours):
    for ground in ("surface", "panel"):
        for text in TEXTS:
            assert contrast(colours.named(text), colours.named(ground)) > 5, (text, ground)


@pytest.mark.parametrize("colours", [SLATE, PAPER], ids=["slate", "paper"])
def test_frets_read_on_every_tint_and_under_cursor_and_selection(colours):
    ochre = colours.named("ochre")
    for tint in TINTS:
        ground = colours.named(tint)
        assert contrast(colours.named("ink"), ground) > 5, tint
        assert contrast(colours.named("ink"), mixed(ochre, ground, 0.22)) > 4.5, tint


@pytest.mark.parametrize("colours", [SLATE, PAPER], ids=["slate", "paper"])
def test_the_four_roles_differ_from_one_another(colours):
    tints = [colours.named(tint) for tint in TINTS]
    for index, one in enumerate(tints):
        for other in tints[index + 1 :]:
            apart = sum(
                abs(a - b) for a, b in zip(one.getRgb()[:3], other.getRgb()[:3], strict=True)
            )
            assert apart > 20


def test_sizes_follow_the_font(look, qapp):
    small, body, heading = look.font_px(SMALL), look.font_px(), look.font_px(HEADING)
    assert small < body < heading
    unit = look.unit()
    before = qapp.font()
    try:
        larger = qapp.font()
        larger.setPointSizeF(before.pointSizeF() * 2)
        qapp.setFont(larger)
        look.follow_font()
        assert look.unit() == pytest.approx(unit * 2, abs=1)
    finally:
        qapp.setFont(before)
        look.follow_font()


def test_the_palette_changes_live(look, qapp):
    told = []
    look.changed.connect(lambda: told.append(look.dark))
    look.show_dark(True)
    assert qapp.palette().window().color().name() == SLATE.panel.lower()
    look.show_dark(False)
    assert qapp.palette().window().color().name() == PAPER.panel.lower()
    assert told == [True, False]


_MISSING = """
from PySide6.QtGui import QTextLayout
from chalkfret.desk.app import application
from chalkfret.desk.look import HEADING, SMALL, Look
from chalkfret.theory.naming import SIGNS

app = application()
look = Look()
fonts = [look.font(scale, strong) for scale in (SMALL, 1.0, HEADING) for strong in (False, True)]
for font in [app.font(), *fonts]:
    for sign in [*SIGNS.values(), "\u266e"]:
        layout = QTextLayout("E" + sign + "2", font)
        layout.beginLayout()
        layout.createLine().setLineWidth(1e6)
        layout.endLayout()
        for run in layout.glyphRuns():
            if run.rawFont().pixelSize() <= 0 or 0 in run.glyphIndexes():
                print(font.toString(), hex(ord(sign)))
"""


def test_no_accidental_in_a_window_is_an_empty_box():
    """In a program of its own: what other tests loaded would hide that a font is missing."""
    found = subprocess.run(
        [sys.executable, "-c", _MISSING], capture_output=True, text=True, timeout=60, check=True
    )
    assert found.stdout == ""
