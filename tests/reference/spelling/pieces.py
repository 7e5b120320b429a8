"""The pieces: 200 of the installed music21 corpus, drawn by the sha1 of their names, a genre a row.

All are works of composers long dead and traditional tunes. The draw keeps anyone from choosing
those that come out well; what our weights were set by is drawn behind the 200 (``others``).
"""

from __future__ import annotations

import re
from functools import cache
from hashlib import sha1
from pathlib import Path
from typing import Final, NamedTuple


class Piece(NamedTuple):
    """A piece by its path in the corpus, with its number in a book of tunes."""

    path: str
    number: int | None = None


class Genre(NamedTuple):
    """A row of the table: how many pieces are drawn from which collections."""

    name: str
    draws: tuple[tuple[int, str], ...]  # number of pieces, folders of the corpus


_FROM_BEETHOVEN: Final = (
    "beethoven chopin schubert schumann_clara schumann_robert verdi weber joplin leadSheet"
    " liliuokalani"
)

GENRES: Final = (
    Genre(
        "dance tunes, 1782 to 1883", ((10, "airdsAirs"), (10, "oneills1850"), (20, "ryansMammoth"))
    ),
    Genre("folk songs", ((30, "essenFolksong"),)),
    Genre("chorales", ((60, "bach"),)),
    Genre("masses and madrigals, 16th to 17th c.", ((15, "palestrina"), (15, "monteverdi"))),
    Genre("18th century", ((24, "haydn mozart corelli handel cpebach"),)),
    Genre(
        "19th century to ragtime",
        ((16, _FROM_BEETHOVEN),),
    ),
)  # fmt: skip
_KINDS: Final = {".abc", ".mxl", ".xml", ".krn", ".musicxml"}
_NUMBER: Final = re.compile(r"^X:\s*(\d+)", re.MULTILINE)


def corpus_root() -> Path | None:
    """The folder of the installed corpus, where it is there."""
    try:
        from music21 import common
    except ImportError:
        return None
    root = Path(common.getCorpusFilePath())
    return root if (root / "bach").is_dir() else None


def drawn(genre: Genre) -> list[Piece]:
    """The pieces of a genre that the table counts."""
    return [piece for count, folders in genre.draws for piece in _all(folders)[:count]]


def others(genre: Genre, share: float = 0.5) -> list[Piece]:
    """Pieces drawn behind those, by which the weights may be set."""
    return [
        piece
        for count, folders in genre.draws
        for piece in _all(folders)[count : count + round(count * share)]
    ]


@cache
def _all(folders: str) -> list[Piece]:
    root = corpus_root()
    assert root is not None
    found: list[Piece] = []
    for folder in folders.split():
        for path in sorted((root / folder).rglob("*")):
            if path.suffix in _KINDS:
                name = path.relative_to(root).as_posix()
                numbers = _numbers(path) if path.suffix == ".abc" else []
                found += [Piece(name, one) for one in numbers] or [Piece(name)]
    return sorted(found, key=lambda one: sha1(f"{one.path} {one.number}".encode()).digest())


def _numbers(path: Path) -> list[int]:
    numbers = _NUMBER.findall(path.read_text(encoding="utf-8", errors="replace"))
    return [int(one) for one in numbers] if len(numbers) > 1 else []
