r"""One note as it stands on its string: ``h7``, ``(5)``, ``7b9~``; see the package's conventions.

Conventions
-----------
- A cell is what stands before the fret, and the fret with all behind it; columns are aligned at
  the fret's first digit.
- What is read is a ``Cell``: its fret, marks, and the signs that only what sounded before makes
  clear (``(7)`` and ``/7``), which ``settle`` decides once lengths are known.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from itertools import pairwise
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model import (
    ArtificialHarmonic,
    Bend,
    BendPoint,
    Mark,
    NaturalHarmonic,
    Note,
    Sign,
    Slide,
    SlideWay,
    Tremolo,
    Trill,
    Vibrato,
    in_order,
)
from chalkfret.model.limits import BEND_CENTS_MAX, FRET_MAX

FROM_NOTE: Final = Slide(SlideWay.FROM_NOTE)
_INTO: Final = {"/": Slide(SlideWay.IN_FROM_BELOW), "\\": Slide(SlideWay.IN_FROM_ABOVE)}
_OUT: Final = {"/": Slide(SlideWay.OUT_UP), "\\": Slide(SlideWay.OUT_DOWN)}
_BEFORE: Final = {"h": Sign.HAMMER_ON, "p": Sign.PULL_OFF, "t": Sign.TAP}
# Marks that stand over the strings where all notes of a column have them, with their letter.
BEHIND: Final[dict[str, Mark]] = {
    "m": Sign.PALM_MUTE, "L": Sign.LET_RING, "z3": Tremolo(3), ">": Sign.ACCENT,
    "'": Sign.STACCATO, "d": Sign.DOWN_STROKE, "u": Sign.UP_STROKE,
}  # fmt: skip

# Writing


def cell_text(note: Note, before: Note | None, above: Collection[Mark]) -> tuple[str, str]:
    """What stands before the fret, and the rest.

    ``before`` is the note of the same string that ends where this one begins; marks in ``above``
    stand over the strings.
    """
    marks = note.marks
    signs = "".join(sign for sign, mark in _BEFORE.items() if mark in marks and sign != "t")
    signs += _slide_text(note, before) + ("t" if Sign.TAP in marks else "")
    opened, closed = _brackets(note, before)
    rest = _fret_text(note) + closed + _behind(note)
    rest += "".join(sign for sign, mark in BEHIND.items() if mark in marks and mark not in above)
    rest += "".join(sign for sign, way in _OUT.items() if way in marks)
    return signs + opened, rest


def _slide_text(note: Note, before: Note | None) -> str:
    if FROM_NOTE in note.marks:
        return "s" if before is None else "\\" if before.fret > note.fret else "/"
    for sign, way in _INTO.items():
        if way in note.marks:
            return sign if before is None else sign * 2
    return ""


def _brackets(note: Note, before: Note | None) -> tuple[str, str]:
    tied, ghost = note.has(Sign.TIE), note.has(Sign.GHOST)
    if not (tied or ghost):
        return "", ""
    held = before is not None and before.fret == note.fret
    count = 1 if not ghost or (not held and not tied) else 2
    return "(" * count + ("=" if tied and (ghost or not held) else ""), ")" * count


def _fret_text(note: Note) -> str:
    touched = note.mark(NaturalHarmonic)
    if touched is not None:
        return f"<{touched.node:g}>"
    fret = "x" if note.has(Sign.DEAD) else str(note.fret)
    over = note.mark(ArtificialHarmonic)
    return fret if over is None else f"{fret}<{round(note.fret + over.node, 2):g}>"


def _behind(note: Note) -> str:
    text = ""
    bend = note.mark(Bend)
    if bend is not None:
        steps = bend_steps(bend)
        text = f"pb{note.fret + steps[0] / 100:g}" if steps[0] else ""
        for was, cents in pairwise(steps):
            text += f"{'b' if cents > was else 'r'}{note.fret + cents / 100:g}"
    vibrato, trill, tremolo = note.mark(Vibrato), note.mark(Trill), note.mark(Tremolo)
    if vibrato is not None:
        text += "V" if vibrato.wide else "~"
    if trill is not None:
        text += f"tr{trill.fret}"
    if tremolo is not None and tremolo.strokes < 3:
        text += f"z{tremolo.strokes}"
    return text


def bend_steps(bend: Bend) -> tuple[int, ...]:
    """The pitches a bend goes to in turn, in cents to the quarter-tone, never below the fret."""
    levels = [max(0, round(point.cents / 50) * 50) for point in bend.curve]
    return tuple(c for i, c in enumerate(levels) if i == 0 or c != levels[i - 1])


def bend_of(steps: tuple[int, ...], length: int) -> Bend | None:
    """The usual bend through these pitches on a note of so many ticks; None where none moves.

    A bend takes the first quarter of its note, a release the third.
    """
    quarters = [0, length // 4, length // 2, length * 3 // 4]
    match steps:
        case (0,) | ():
            return None
        case (cents,):
            points = [(0, cents)]
        case (0, cents):
            points = [(0, 0), (quarters[1], cents)]
        case (0, cents, down):
            points = [(0, 0), (quarters[1], cents), (quarters[2], cents), (quarters[3], down)]
        case (cents, down):
            points = [(0, cents), (quarters[2], cents), (quarters[3], down)]
        case _:
            points = [(length * i // len(steps), cents) for i, cents in enumerate(steps)]
    return Bend(tuple(BendPoint(tick, cents) for tick, cents in points))


# Reading


class Cell(Struct, frozen=True):
    """A note as read: ``at`` is the column of its fret, ``end`` the column behind it."""

    at: int
    end: int
    fret: int
    marks: tuple[Mark, ...] = ()
    bend: tuple[int, ...] = ()  # cents
    brackets: int = 0
    slide: str = ""  # "/" or "\" not yet decided


_NUMBER = r"\d{1,2}"
_FRET = r"[12]\d|3[0-6]|\d"  # 57 is 5 and 7
_CORE = re.compile(
    rf"(?P<open>\({{1,2}}=?)?(?:<(?P<node>{_NUMBER}(?:\.\d{{1,2}})?)>"
    rf"|\[(?P<pinched>{_NUMBER})\]"
    rf"|(?P<fret>{_FRET}|[xX])(?:<(?P<over>{_NUMBER}(?:\.\d{{1,2}})?)>)?)(?P<closed>\){{1,2}})?"
)
_FULL: Final = {"full": 200, "1/2": 100, "1/4": 50, "½": 100, "¼": 50, "1½": 300, "11/2": 300}
_AMOUNT = r"(?:\(?(full|11/2|1½|1/2|1/4|½|¼|\d{1,2}(?:\.5)?)\)?)?"
_BENT = re.compile(rf"(pb|PB|[b^]){_AMOUNT}|r{_AMOUNT}")
_TRILL = re.compile(r"tr\(?(\d{1,2})\)?")
_SLID_OUT = re.compile(r"[/\\](?=[-=|\s]|$)")
_SIGN_BEHIND = re.compile(r"z([123])|[mLdu>']|~+|[vV]+")


def core_at(text: str, at: int) -> re.Match[str] | None:
    """A fret, dead note or harmonic that begins here with its brackets."""
    match = _CORE.match(text, at)
    if match is None or (match["open"] and not match["closed"]):
        return _CORE.match(text, at + len(match["open"])) if match and match["open"] else None
    return match


def cell_at(text: str, match: re.Match[str], before: str) -> Cell:
    """The cell of a core, with the signs read before it, and what stands behind it."""
    marks: list[Mark] = []
    slide = ""
    for sign in before:
        low = sign.lower()
        if low in _BEFORE:
            marks.append(_BEFORE[low])
        elif low == "s":
            marks.append(FROM_NOTE)
        elif sign in "/\\":
            slide += sign
    if len(slide) > 1 and len(set(slide)) == 1:
        marks.append(_INTO[slide[0]])
        slide = ""
    if FROM_NOTE in marks:
        slide = ""
    at, fret = _fret_of(match, marks)
    opened = match["open"] or ""
    brackets = opened.count("(") if match["closed"] else 0
    if "=" in opened:
        marks.append(Sign.TIE)
        if brackets == 2:
            marks.append(Sign.GHOST)
        brackets = 0
    cell = Cell(at, match.end(), fret, (), (), brackets, slide[-1:])
    return _with_behind(text, cell, marks)


def _fret_of(match: re.Match[str], marks: list[Mark]) -> tuple[int, int]:
    """Where the fret stands and what it is; its harmonic goes to the marks."""
    if match["node"]:
        node = float(match["node"])
        if 0 < node <= FRET_MAX:
            marks.append(NaturalHarmonic(node))
        return match.start("node") - 1, min(FRET_MAX, int(node + 0.5))
    if match["pinched"]:
        marks.append(ArtificialHarmonic())
        return match.start("pinched") - 1, min(FRET_MAX, int(match["pinched"]))
    fret = 0
    if match["fret"] in "xX":
        marks.append(Sign.DEAD)
    else:
        fret = int(match["fret"])
    if match["over"] and 0 < (node := round(float(match["over"]) - fret, 2)) <= FRET_MAX:
        marks.append(ArtificialHarmonic(node))
    return match.start("fret"), fret


def _with_behind(text: str, cell: Cell, marks: list[Mark]) -> Cell:
    at, bend = cell.end, [0]
    while True:
        if (match := _BENT.match(text, at)) is not None:
            _bend_on(bend, match, cell.fret)
        elif (match := _TRILL.match(text, at)) is not None:
            marks.append(Trill(min(FRET_MAX, int(match[1]))))
        elif (match := _SIGN_BEHIND.match(text, at)) is not None:
            marks.append(_sign_behind(match[0]))
        elif (match := _SLID_OUT.match(text, at)) is not None:
            marks.append(_OUT[match[0]])
        else:
            break
        at = match.end()
    steps = tuple(bend) if len(bend) > 1 or bend[0] else ()
    return replace(cell, end=at, marks=in_order(tuple(marks)), bend=steps)


def _sign_behind(sign: str) -> Mark:
    if sign[0] in "~v":
        return Vibrato()
    if sign[0] == "V":
        return Vibrato(wide=True)
    return Tremolo(int(sign[1])) if sign[0] == "z" else BEHIND[sign]


def _bend_on(bend: list[int], match: re.Match[str], fret: int) -> None:
    """Carry a bend on; a target that is no higher fret is meant in whole tones."""
    how, up, down = match.groups()
    amount = up if how else down
    if amount is None:
        cents = 200 if how else 0
    elif amount in _FULL:
        cents = _FULL[amount]
    else:
        target = float(amount)
        cents = round((target - fret) * 100)
        if how and cents <= 0:
            cents = round(target * 200) if 0 < target <= 3 else 200
    cents = min(BEND_CENTS_MAX, max(0, cents))
    if how and how.lower() == "pb":
        bend[-1] = cents
    elif bend[-1] != cents:
        bend.append(cents)


def settle(cell: Cell, note: Note, before: Note | None) -> Note:
    """The note with the signs that what sounded before makes clear, and its bend's curve."""
    marks = list(cell.marks)
    if cell.brackets:
        held = before is not None and before.fret == note.fret
        marks.append(Sign.TIE if held and cell.brackets == 1 else Sign.GHOST)
    if cell.slide:
        marks.append(_INTO[cell.slide] if before is None else FROM_NOTE)
    bend = bend_of(cell.bend, note.length)
    if bend is not None:
        marks.append(bend)
    return replace(note, marks=in_order((*note.marks, *marks)))
