"""How the window looks: two palettes, one unit of space, two text sizes and a heading.

Ochre says where you are, blue what can be pressed, warning what must be read. Only the degrees of
notes have colours beside these, and each of their four roles has its own hatch as well, so that
nothing is told by colour alone. All sizes follow the system's font.
"""

from __future__ import annotations

from typing import Final, cast

from msgspec import Struct
from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from chalkfret.desk.settings import Theme
from chalkfret.desk.style import style_sheet


class Colours(Struct, frozen=True):
    """One palette, as ``#RRGGBB``. ``home`` to ``outside`` tint notes by their degree's role.

    ``lines`` part what would be told apart without them; ``edge`` is for what has no other bounds
    (a field, a string, a bar) and stands out from both grounds by 3:1.
    """

    surface: str
    panel: str
    lines: str
    edge: str
    ink: str
    soft: str
    ochre: str
    blue: str
    warning: str
    home: str
    frame: str
    colour: str
    outside: str

    def named(self, name: str) -> QColor:
        """A colour by its name."""
        return QColor(getattr(self, name))


SLATE: Final = Colours(
    surface="#22282B",
    panel="#2B3236",
    lines="#4A555C",
    edge="#7F8B92",
    ink="#ECE9E1",
    soft="#AEB6B8",
    ochre="#E8B45A",
    blue="#8EBFE0",
    warning="#F0907A",
    home="#3A5440",
    frame="#4A4666",
    colour="#613F4E",
    outside="#43494C",
)
PAPER: Final = Colours(
    surface="#FBF9F4",
    panel="#F1EDE4",
    lines="#BDB6A6",
    edge="#857F70",
    ink="#22282B",
    soft="#5A6266",
    ochre="#8A4F00",
    blue="#1F5F93",
    warning="#A8321A",
    home="#CFE2C8",
    frame="#D9D3EC",
    colour="#F0D0D6",
    outside="#E0DED6",
)

SMALL: Final = 0.86  # of the system's text size
HEADING: Final = 1.4


def mixed(one: QColor, other: QColor, share: float) -> QColor:
    """``share`` (0 to 1) of ``one`` over the rest of ``other``."""
    return QColor.fromRgbF(
        one.redF() * share + other.redF() * (1 - share),
        one.greenF() * share + other.greenF() * (1 - share),
        one.blueF() * share + other.blueF() * (1 - share),
    )


class Look(QObject):
    """The palette in force and the sizes; ``changed`` when the system's scheme or font changes."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.dark = False
        self._theme = Theme.SYSTEM
        self._font_key = ""
        self.colours = PAPER
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._follow)
        self._follow()

    def _follow(self) -> None:
        if self._theme is Theme.SYSTEM:
            self.show_dark(QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark)

    def show_theme(self, theme: Theme) -> None:
        """Take the palette of the teacher's choice, or follow the system's."""
        self._theme = theme
        self._follow()
        if theme is not Theme.SYSTEM:
            self.show_dark(theme is Theme.DARK)

    def show_dark(self, dark: bool) -> None:
        """Take the dark or the light palette, and dress the application in it."""
        self.dark = dark
        self.colours = SLATE if dark else PAPER
        self._dress()

    def follow_font(self) -> None:
        """Take the system's font, where it is another one."""
        if QApplication.font().key() != self._font_key:
            self._dress()

    def _dress(self) -> None:
        self._font_key = QApplication.font().key()
        self._body = QApplication.font()
        self._unit = max(6, round(QFontMetricsF(self._body).height() / 2))
        QApplication.setPalette(self.palette())
        app = cast(QApplication, QApplication.instance())
        app.setStyleSheet(style_sheet(self.colours, self._unit, self.font_px(SMALL)))
        self.changed.emit()

    def unit(self, count: float = 1) -> int:
        """``count`` units of space in pixels; one is 8 px with text of 100 %."""
        return round(self._unit * count)

    def colour(self, name: str) -> QColor:
        """A colour of the palette in force: ``look.colour("ochre")``."""
        return self.colours.named(name)

    def font(self, scale: float = 1.0, strong: bool = False) -> QFont:
        """The system's font at ``scale`` (``SMALL``, 1 or ``HEADING``), digits of one width."""
        font = QFont(self._body)
        if font.pixelSize() > 0:
            font.setPixelSize(max(1, round(font.pixelSize() * scale)))
        else:
            font.setPointSizeF(font.pointSizeF() * scale)
        if strong:
            font.setWeight(QFont.Weight.DemiBold)
        font.setFeature(QFont.Tag("tnum"), 1)
        return font

    def font_px(self, scale: float = 1.0) -> int:
        """The size in pixels of the text at ``scale``."""
        metrics = QFontMetricsF(self._body)
        size = self._body.pixelSize()
        return round((size if size > 0 else metrics.height() * 0.82) * scale)

    def palette(self) -> QPalette:
        """The Qt palette of the colours in force."""
        colours = self.colours
        palette = QPalette()
        role = QPalette.ColorRole
        for which, name in (
            (role.Window, colours.panel),
            (role.WindowText, colours.ink),
            (role.Base, colours.surface),
            (role.AlternateBase, colours.panel),
            (role.Text, colours.ink),
            (role.PlaceholderText, colours.soft),
            (role.Button, colours.panel),
            (role.ButtonText, colours.ink),
            (role.BrightText, colours.warning),
            (role.ToolTipBase, colours.surface),
            (role.ToolTipText, colours.ink),
            (role.Link, colours.blue),
            (role.LinkVisited, colours.blue),
            (role.Highlight, colours.blue),
            (role.HighlightedText, colours.surface),
            (role.Accent, colours.blue),
            (role.Light, colours.surface),
            (role.Midlight, colours.panel),
            (role.Mid, colours.lines),
            (role.Dark, colours.lines),
            (role.Shadow, colours.lines),
        ):
            palette.setColor(which, QColor(name))
        for which in (role.WindowText, role.Text, role.ButtonText):
            off = QColor(colours.soft)
            palette.setColor(QPalette.ColorGroup.Disabled, which, off)
        return palette
