"""The rows of the grid: for each part a lane for its name and cues, its strings, its degrees."""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from chalkfret.model import Part


class RowKind(Enum):
    """What a row holds."""

    LANE = "lane"
    STRING = "string"
    DEGREES = "degrees"


class Row(NamedTuple):
    """A row; ``course`` counts from 1 and is 0 where the row is no string."""

    kind: RowKind
    part: int
    course: int


class Rows:
    """All rows, top to bottom."""

    def __init__(self, parts: tuple[Part, ...]) -> None:
        self.all: list[Row] = []
        self._strings: dict[tuple[int, int], int] = {}
        for part, one in enumerate(parts):
            self.all.append(Row(RowKind.LANE, part, 0))
            for course in range(1, len(one.setup.courses) + 1):
                self._strings[part, course] = len(self.all)
                self.all.append(Row(RowKind.STRING, part, course))
            self.all.append(Row(RowKind.DEGREES, part, 0))

    def __len__(self) -> int:
        return len(self.all)

    def __getitem__(self, index: int) -> Row:
        return self.all[index]

    def of_string(self, part: int, course: int) -> int:
        """The index of a string's row."""
        return self._strings[part, course]

    def of_part(self, part: int) -> range:
        """The rows of a part, lane and degrees included."""
        rows = [index for index, row in enumerate(self.all) if row.part == part]
        return range(rows[0], rows[-1] + 1)

    def string_from(self, index: int, way: int) -> int | None:
        """The nearest row of a string from ``index`` on, up (-1) or down (1)."""
        while 0 <= index < len(self.all):
            if self.all[index].kind is RowKind.STRING:
                return index
            index += way
        return None
