"""Lines put together: staves with what stands above them, and the words between."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.files.text_tab.heads import read_setup
from chalkfret.files.text_tab.lines import Line, lane_of
from chalkfret.model.limits import COURSES_MAX, COURSES_MIN

_LABEL: Final = re.compile(
    r"\s*((?:gtr|guitar|bass|lead|rhythm|acoustic|electric|gitarre|guitarra)\b[\w .#-]{0,24}?)"
    r"\s*:?\s*",
    re.IGNORECASE,
)


class Staff(Struct, frozen=True):
    """The strings of one part over some bars, as they stand, with the lanes above (or below)."""

    strings: tuple[Line, ...]
    lanes: tuple[tuple[str, Line], ...] = ()
    label: str = ""


def blocks_of(lines: Sequence[Line]) -> list[Staff | Line]:
    """Staves and other lines in the order of the text."""
    runs = _runs(lines)
    tunings = (line.raw.removeprefix("Tuning: ") for line in lines if line.raw[:8] == "Tuning: ")
    told = {len(setup.courses) for setup in map(read_setup, tunings) if setup is not None}
    out: list[Staff | Line] = []
    at = 0
    for first, stop in runs:
        strings = _joined([line for line in lines[first:stop] if line.start >= 0])
        staves = [strings] if len(strings) in told else _split(strings)
        if not all(COURSES_MIN <= len(staff) <= COURSES_MAX for staff in staves):
            continue
        above = first
        lanes: list[tuple[str, Line]] = []
        while above > at and (kind := lane_of(lines[above - 1].text)):
            above -= 1
            lanes.insert(0, (kind, lines[above]))
        label = ""
        if above > at and (match := _LABEL.fullmatch(lines[above - 1].text)):
            above -= 1
            label = match[1].strip()
        out += lines[at:above]
        at = stop
        below: list[tuple[str, Line]] = []
        while at < len(lines) and lane_of(lines[at].text) in ("rhythm", "count"):
            below.append((lane_of(lines[at].text), lines[at]))
            at += 1
        if at < len(lines) and lines[at].text.strip() and lines[at].start >= 0:
            at -= len(below)  # they stand above the next staff
            below = []
        for index, staff in enumerate(staves):
            own = lanes if index == 0 else []
            last = below if index + 1 == len(staves) else []
            out.append(Staff(tuple(staff), (*own, *last), label if index == 0 else ""))
    out += lines[at:]
    return out


def _runs(lines: Sequence[Line]) -> list[tuple[int, int]]:
    """From where to where strings follow each other, in double-spaced texts over the gaps."""
    runs = _tight(lines)
    if len(runs) >= COURSES_MIN and all(stop - first == 1 for first, stop in runs):
        wide: list[tuple[int, int]] = []
        for first, stop in runs:
            if wide and first - wide[-1][1] == 1 and not lines[first - 1].text.strip():
                wide[-1] = (wide[-1][0], stop)
            else:
                wide.append((first, stop))
        runs = wide
    return runs


def _tight(lines: Sequence[Line]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for index, line in enumerate(lines):
        if line.start < 0:
            continue
        if runs and runs[-1][1] == index:
            runs[-1] = (runs[-1][0], index + 1)
        else:
            runs.append((index, index + 1))
    return [(first, stop) for first, stop in runs if any(one.sure for one in lines[first:stop])]


def _joined(strings: list[Line]) -> list[Line]:
    """Strings with the rest put back that a mail broke off: named and nameless in turn."""
    named = [bool(line.name) for line in strings]
    count = len(strings)
    if count % 2 or named != [True, False] * (count // 2):
        return strings
    return [
        replace(one, text=one.text + two.text.strip())
        for one, two in zip(strings[::2], strings[1::2], strict=True)
    ]


def _split(strings: list[Line]) -> list[list[Line]]:
    """One staff, or several that stand under one another without a gap."""
    names = [line.name.upper() for line in strings]
    count = len(strings)
    for size in range(COURSES_MIN, count // 2 + 1):
        if count % size == 0 and names[0] and names == names[:size] * (count // size):
            return [strings[at : at + size] for at in range(0, count, size)]
    if not any(names) and count > 8:
        for size in (6, 7, 4, 8, 5):
            if count % size == 0:
                return [strings[at : at + size] for at in range(0, count, size)]
    return [strings]
