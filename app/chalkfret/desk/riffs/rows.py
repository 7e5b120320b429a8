"""The rows of the grid: for each part a lane for its name and cues, its strings, its degrees.

A folded part has a single row, in which its notes are seen but not written.
"""

from __future__ import annotations

from collections.abc import Collection
from enum import Enum
from itertools import pairwise
from typing import NamedTuple

from chalkfret.model import Part


class RowKind(Enum):
    """What a row holds."""

    LANE = "lane"
    STRING = "string"
    DEGREES = "degrees"
    FOLDED = "folded"


_FIRST = (RowKind.LANE, RowKind.FOLDED)  # of a part


class Row(NamedTuple):
    """A row; ``course`` counts from 1 and is 0 where the row is no string."""

    kind: RowKind
    part: int
    course: int


class Rows:
    """All rows, top to bottom."""

    def __init__(self, parts: tuple[Part, ...], folded: Collection[str] = ()) -> None:
        """``folded`` holds the ids of the parts that are folded."""
        self.all: list[Row] = []
        self._strings: dict[tuple[int, int], int] = {}
        for part, one in enumerate(parts):
            courses = range(1, len(one.setup.courses) + 1)
            if one.id in folded:
                self._strings.update(((part, course), len(self.all)) for course in courses)
                self.all.append(Row(RowKind.FOLDED, part, 0))
                continue
            self.all.append(Row(RowKind.LANE, part, 0))
            for course in courses:
                self._strings[part, course] = len(self.all)
                self.all.append(Row(RowKind.STRING, part, course))
            self.all.append(Row(RowKind.DEGREES, part, 0))
        starts = [index for index, row in enumerate(self.all) if row.kind in _FIRST]
        self._parts = [range(*ends) for ends in pairwise([*starts, len(self.all)])]

    def __len__(self) -> int:
        return len(self.all)

    def __getitem__(self, index: int) -> Row:
        return self.all[index]

    def of_string(self, part: int, course: int) -> int:
        """The index of a string's row; of a folded part the part's."""
        return self._strings[part, course]

    def of_part(self, part: int) -> range:
        """The rows of a part, lane and degrees included."""
        return self._parts[part]

    def strings_of(self, part: int) -> range:
        """The rows of a part's strings; none where it is folded."""
        return self.of_part(part)[1:-1]

    def is_folded(self, part: int) -> bool:
        """Whether the part has but the one row."""
        return len(self.of_part(part)) == 1

    def string_from(self, index: int, way: int) -> int | None:
        """The nearest row of a string from ``index`` on, up (-1) or down (1)."""
        while 0 <= index < len(self.all):
            if self.all[index].kind is RowKind.STRING:
                return index
            index += way
        return None
