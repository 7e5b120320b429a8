"""The bundled fonts as Qt sees them: shaping, measuring, and outlines of music signs.

Everything is shaped once at ``SHAPED`` pixels without hinting and scaled afterwards, so that a
text is as wide on paper as on every screen. Ligatures are off, or "riff" could not be found in a
PDF. Flat and sharp signs come from the music text font, since the text faces lack them; scripts
that no bundled font has come from whatever the system offers.

Qt's fonts belong to the thread that made them, and a PDF is written beside the window: every thread
keeps its own.
"""

from __future__ import annotations

import re
from functools import lru_cache
from threading import local
from typing import Final

from msgspec import Struct
from PySide6.QtGui import QFont, QFontDatabase, QPainterPath, QRawFont, QTextLayout, QTextOption

from chalkfret.places import RESOURCES
from chalkfret.sheet.display import Face
from chalkfret.sheet.paint_app import ensure_app

SHAPED: Final = 1000  # pixels of the em at which text is shaped
_FILES: Final = {
    Face.REGULAR: "SourceSans3-Regular.ttf",
    Face.SEMIBOLD: "SourceSans3-Semibold.ttf",
    Face.ITALIC: "SourceSans3-It.ttf",
    Face.SEMIBOLD_ITALIC: "SourceSans3-SemiboldIt.ttf",
}
_TEXT_FAMILY: Final = "Source Sans 3"
_ACCIDENTALS: Final = re.compile("([\u266d\u266e\u266f\U0001d12a\U0001d12b]+)")
_ACCIDENTAL_SIZE: Final = 0.78  # beside a capital, in ems of the text


class Run(Struct, frozen=True, eq=False):
    """Glyphs of one font: indices, and offsets in ems from the text's left end and baseline."""

    font: int  # see ``sized``
    em: float  # size of this run in ems of the text
    indices: tuple[int, ...]
    places: tuple[tuple[float, float], ...]


class Shaped(Struct, frozen=True, eq=False):
    """A text ready to be drawn at any size; ``width`` in ems."""

    width: float
    runs: tuple[Run, ...]


@lru_cache(maxsize=1)
def _families() -> tuple[str, str]:
    """Load the text faces and the music text font; their family names."""
    ensure_app()
    for name in _FILES.values():
        _load(name)
    return _TEXT_FAMILY, music_text_family()


@lru_cache(maxsize=1)
def music_text_family() -> str:
    """Load the music text font; its family name.

    From then on Qt takes from it what the system's fonts lack, such as double accidentals: a window
    loads it before any text of its own is shaped.
    """
    ensure_app()
    return QFontDatabase.applicationFontFamilies(_load("BravuraText.otf"))[0]


def _load(name: str) -> int:
    loaded = QFontDatabase.addApplicationFont(str(RESOURCES / "fonts" / name))
    if loaded == -1:
        raise FileNotFoundError(RESOURCES / "fonts" / name)
    return loaded


def _font(face: Face) -> QFont:
    made = QFont(_families()[0])
    made.setPixelSize(SHAPED)
    if face in (Face.SEMIBOLD, Face.SEMIBOLD_ITALIC):
        made.setWeight(QFont.Weight.DemiBold)
    made.setItalic(face in (Face.ITALIC, Face.SEMIBOLD_ITALIC))
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    made.setFeature(QFont.Tag("liga"), 0)
    return made


def _accidental_font() -> QFont:
    made = QFont(_families()[1])
    made.setPixelSize(SHAPED)
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return made


def _shape(text: str, face: Face) -> Shaped:
    at = 0.0
    runs: list[Run] = []
    for piece in _ACCIDENTALS.split(text):
        if not piece:
            continue
        accidental = _ACCIDENTALS.fullmatch(piece) is not None
        em = _ACCIDENTAL_SIZE if accidental else 1.0
        used = _kept.accidentals() if accidental else _kept.font(face)
        at = _shape_piece(piece, used, em, at, runs)
    return Shaped(at, tuple(runs))


def _shape_piece(text: str, used: QFont, em: float, at: float, runs: list[Run]) -> float:
    layout = QTextLayout(text, used)
    spaced = QTextOption()  # a piece may end in the space before an accidental
    spaced.setFlags(QTextOption.Flag.IncludeTrailingSpaces)
    layout.setTextOption(spaced)
    layout.beginLayout()
    line = layout.createLine()
    line.setLineWidth(1e9)
    layout.endLayout()
    base = line.ascent()
    scale = em / SHAPED
    for run in layout.glyphRuns():
        face, indices = run.rawFont(), run.glyphIndexes()
        if face.pixelSize() <= 0:
            # No font here has this script. What Qt hands out then is a box without a name (to
            # ask for one is fatal); the text face's own empty box stands in its place.
            face, indices = QRawFont.fromFont(used), [0] * len(indices)
        places = run.positions()
        runs.append(
            Run(
                font=_kept.registered(face),
                em=em,
                indices=tuple(indices),
                places=tuple((at + p.x() * scale, (p.y() - base) * scale) for p in places),
            )
        )
    return at + line.horizontalAdvance() * scale


def _music_font() -> QRawFont:
    ensure_app()
    loaded = QRawFont(
        str(RESOURCES / "fonts" / "Bravura.otf"), SHAPED, QFont.HintingPreference.PreferNoHinting
    )
    if not loaded.isValid():
        raise FileNotFoundError(RESOURCES / "fonts" / "Bravura.otf")
    return loaded


class _Kept(local):
    """What one thread keeps: its fonts, and the texts it has shaped with them."""

    def __init__(self) -> None:
        self.font = lru_cache(maxsize=8)(_font)
        self.accidentals = lru_cache(maxsize=1)(_accidental_font)
        self.music = lru_cache(maxsize=1)(_music_font)
        self.shape = lru_cache(maxsize=65536)(_shape)
        self.sized = lru_cache(maxsize=256)(self._sized)
        # Every font that shaping has met, the system's for other scripts included.
        self._fonts: list[QRawFont] = []
        self._numbers: dict[tuple[str, str], int] = {}

    def registered(self, face: QRawFont) -> int:
        number = self._numbers.setdefault((face.familyName(), face.styleName()), len(self._fonts))
        if number == len(self._fonts):
            self._fonts.append(face)
        return number

    def _sized(self, number: int, pixels: int) -> QRawFont:
        copy = QRawFont(self._fonts[number])
        copy.setPixelSize(pixels)
        return copy


_kept: Final = _Kept()


def shape(text: str, face: Face) -> Shaped:
    """The glyphs of a line of text and where they stand, for this thread alone."""
    return _kept.shape(text, face)


def sized(number: int, pixels: int) -> QRawFont:
    """A font that shaping has met in this thread, at so many pixels."""
    return _kept.sized(number, pixels)


def accidental_width(character: str) -> int:
    """Width of a sharp, flat ... in 1/1000 of its own em."""
    return round(shape(character, Face.REGULAR).width / _ACCIDENTAL_SIZE * 1000)


@lru_cache(maxsize=512)
def sign(code: int) -> QPainterPath:
    """The outline of a music sign at an em of ``SHAPED`` units, origin on its baseline."""
    music = _kept.music()
    (index,) = music.glyphIndexesForString(chr(code))
    return music.pathForGlyph(index)


class FontMeasurer:
    """Measures with the bundled fonts; all instances measure alike, use ``measurer()``."""

    def width(self, text: str, face: Face, size: float) -> float:
        """Width in mm of a line of text with an em of ``size`` mm."""
        return _kept.shape(text, face).width * size


@lru_cache(maxsize=1)
def measurer() -> FontMeasurer:
    """The one measurer of the bundled fonts."""
    return FontMeasurer()
