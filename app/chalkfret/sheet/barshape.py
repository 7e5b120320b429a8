"""A bar of all parts as columns with springs between them: what spacing needs to know of it.

A *column* is a tick at which any staff writes a symbol. Between two columns (and behind the last)
stands a spring: ``ideal`` is its length by duration alone, ``least`` the shortest at which nothing
touches, measured lane by lane from the words and signs themselves.

The ideal grows with the duration to the power of 0.45, about 1.37 for a doubling. Handbooks give
1.41 to 1.62 for notes with accidentals (Gould, *Behind Bars*, 2011, "Spacing", from memory);
tab has none and its numbers are even, so long notes are set tighter here.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model import QUARTER, Bar, BarHead, Mark, Notes
from chalkfret.sheet.display import Face
from chalkfret.sheet.lanes import Claims, claims, head_claims
from chalkfret.sheet.marks import Lane, bend_moves, number, prebent, signs
from chalkfret.sheet.rhythm import Rhythm, Symbol, spell
from chalkfret.sheet.scheme import Scheme
from chalkfret.sheet.systems import BarWidth
from chalkfret.sheet.values import FLAGS

QUARTER_SPACE: Final = 8.4  # mm that a quarter takes at normal print
_POWER: Final = 0.45
_AIR: Final = 1.0  # least white space between neighbours
LEAD: Final = 2.4  # from a bar line to the first number's edge
METER_DIGIT: Final = 0.45  # width of a meter's digit in ems
_TRAIL: Final = 1.2
_EMPTY: Final = 15.0  # a bar without notes
BEND_STEP: Final = 3.4  # each rise or fall of a bend
SLIDE: Final = 2.4  # a slide in or out
_JOINED: Final = 1.0  # how much further apart numbers stand that a slur or tie joins
_SLID: Final = 2.2  # ... or a slide
REPEAT: Final = 2.8  # a sign that opens a repeat
FLAG: Final = 0.9  # width of a flag, in staff spaces
_FRAME: Final = -1  # the key of numbers among a column's lanes
_BELOW: Final = -2
_FINGERS: Final = -3
_DEGREES: Final = -4


class Below(Struct, frozen=True):
    """What a staff needs below itself: stems or not, tuplets or not, rows of words."""

    stems: bool = False
    tuplets: bool = False
    fingers: int = 0
    degrees: int = 0

    def joined(self, other: Below) -> Below:
        """What both need."""
        return Below(
            self.stems or other.stems,
            self.tuplets or other.tuplets,
            max(self.fingers, other.fingers),
            max(self.degrees, other.degrees),
        )


# For each note of a staff's bar its degree with proper signs; "" for a dead note.
Degrees = tuple[str, ...]


class BarShape(Struct, frozen=True):
    """A bar ready to be spaced. ``claims``, ``below`` and ``rhythms`` have one entry a staff."""

    lead: float  # mm from the left bar line to the first column
    meter: float  # of which the meter sign takes so much; 0 where it is not written
    columns: tuple[int, ...]
    ideal: tuple[float, ...]
    least: tuple[float, ...]
    claims: tuple[Claims, ...]
    below: tuple[Below, ...]
    rhythms: tuple[tuple[Rhythm, ...], ...]
    width: BarWidth
    simile: bool = False  # only the sign for "as the bar before" is printed
    degrees: tuple[Degrees, ...] = ()


# For each lane of a staff, how far its items reach left and right of a column.
_Reach = dict[tuple[int, int], tuple[float, float]]


@lru_cache(maxsize=32768)
def bar_shape(
    bar: Bar,
    scheme: Scheme,
    shows_meter: bool,
    simile: bool = False,
    degrees: tuple[Degrees, ...] = (),
) -> BarShape:
    """The shape of a bar; ``shows_meter``: its meter is written at its head.

    ``degrees`` has one entry a staff where the row of degrees is shown, else it is empty.
    """
    if simile:
        return _simile_shape(bar.head, scheme, shows_meter)
    rhythms = tuple(spell(bar.notes[staff.part], bar.head) for staff in scheme.staves)
    reaches: dict[int, _Reach] = {}
    below: list[Below] = []
    for index, (staff, voices) in enumerate(zip(scheme.staves, rhythms, strict=True)):
        notes = bar.notes[staff.part]
        below.append(_staff(notes, voices, index, scheme, reaches))
        if degrees:
            rows = _degree_reach(notes, degrees[index], index, scheme, reaches)
            below[-1] = replace(below[-1], degrees=rows)
    columns = tuple(sorted(reaches))
    claimed = tuple(
        claims(bar.notes[staff.part], voices, columns, bar.head, index == 0)
        for index, (staff, voices) in enumerate(zip(scheme.staves, rhythms, strict=True))
    )
    meter = meter_width(bar.head, scheme) if shows_meter else 0.0
    lead = head_width(bar.head, scheme, meter)
    scale = scheme.style.scale
    trail = _TRAIL * scale + (2.4 * scale if bar.head.repeat_close else 0.0)
    ideal: tuple[float, ...]
    least: tuple[float, ...]
    if not columns:
        room = _EMPTY * scale
        ideal, least = (room * bar.head.ticks**_POWER / (4 * QUARTER) ** _POWER,), (room * 0.6,)
        lead += trail
    else:
        lead += max([left for left, _ in reaches[columns[0]].values()], default=0.0)
        ideal = tuple(_room(two - one, scale) for one, two in pairwise((*columns, bar.head.ticks)))
        least = _least([reaches[tick] for tick in columns], trail, scale)
    natural = lead + sum(map(max, ideal, least))
    width = BarWidth(natural, lead + sum(least), bar.head.break_after is not None)
    return BarShape(
        lead, meter, columns, ideal, least, claimed, tuple(below), rhythms, width, degrees=degrees
    )


def _simile_shape(head: BarHead, scheme: Scheme, shows_meter: bool) -> BarShape:
    room = _EMPTY * scheme.style.scale
    meter = meter_width(head, scheme) if shows_meter else 0.0
    lead = head_width(head, scheme, meter)
    claimed = tuple(head_claims(head, (), index == 0) for index in range(len(scheme.staves)))
    below, rhythms = (Below(),) * len(claimed), ((),) * len(claimed)
    width = BarWidth(lead + room, lead + room * 0.7, head.break_after is not None)
    least = (room * 0.7,)
    return BarShape(lead, meter, (), (room,), least, claimed, below, rhythms, width, simile=True)


@lru_cache(maxsize=4096)
def _room(ticks: int, scale: float) -> float:
    return float(QUARTER_SPACE * scale * (ticks / QUARTER) ** _POWER)


def head_width(head: BarHead, scheme: Scheme, meter: float) -> float:
    """From the left bar line to where the first number's edge may stand."""
    scale = scheme.style.scale
    return LEAD * scale + (REPEAT * scale if head.repeat_open else 0.0) + meter


def meter_text(head: BarHead) -> tuple[str, str]:
    """The upper and lower line of a meter sign; the banner tells how its units are grouped."""
    return str(head.meter.count), str(head.meter.unit)


def meter_size(staff: float, gap: float) -> float:
    """Em of the meter's digits on a staff so high with its lines ``gap`` apart.

    A digit is half an em high (SMuFL: two staff spaces); two stand clear of each other in the
    halves of the staff.
    """
    return 0.8 * min(staff, 6 * gap)


def meter_width(head: BarHead, scheme: Scheme) -> float:
    """Width of a meter sign on the highest of the staves, with the white space beside it."""
    style = scheme.style
    size = meter_size(max(map(scheme.height, scheme.staves)), style.gap)
    return max(map(len, meter_text(head))) * METER_DIGIT * size + 1.8 * style.scale


def _least(reaches: list[_Reach], trail: float, scale: float) -> tuple[float, ...]:
    """The least springs: the nearest places at which no two items of one lane touch."""
    right_edge: dict[tuple[int, int], float] = {}
    places: list[float] = []
    for reach in reaches:
        at = places[-1] + 1.6 * scale if places else 0.0
        for lane, (left, _) in reach.items():
            edge = right_edge.get(lane)
            if edge is not None:
                at = max(at, edge + left + _AIR * scale)
        for lane, (_, right) in reach.items():
            right_edge[lane] = at + right
        places.append(at)
    end = max((*right_edge.values(), places[-1])) + trail
    return tuple(two - one for one, two in pairwise((*places, end)))


def _staff(
    notes: Notes,
    voices: tuple[Rhythm, ...],
    index: int,
    scheme: Scheme,
    reaches: dict[int, _Reach],
) -> Below:
    """Adds the staff's reaches at its columns; what it needs below itself."""
    fingers: dict[int, int] = {}
    letters: dict[int, list[str]] = {}
    for note in notes:
        reach = reaches.setdefault(note.onset, {})
        left, right = _number_reach(note.fret, note.marks, scheme)
        _add(reach, (index, _FRAME), left, right)
        if not note.marks:
            continue
        sign = signs(note.fret, note.marks)
        if sign.bend is not None:  # its amount stands in the lane of letters
            _add(reach, (index, Lane.LETTERS), 0.0, right + 1.6 * scheme.style.scale)
        if sign.letters:
            known = letters.setdefault(note.onset, [])
            known.extend(letter for letter in sign.letters if letter not in known)
        if sign.accent or sign.staccato or sign.stroke:
            _add(reach, (index, 0), 1.4 * scheme.style.scale, 1.4 * scheme.style.scale)
        if sign.finger:
            fingers[note.onset] = fingers.get(note.onset, 0) + 1
            _add(reach, (index, _FINGERS), *(_half(scheme, sign.finger, scheme.style.small),) * 2)
    for onset, words in letters.items():
        half = _half(scheme, " ".join(words), scheme.style.letters)
        _add(reaches[onset], (index, Lane.LETTERS), half, half)
    tuplets, stems = _rhythm_reach(voices, index, scheme, reaches)
    if len(voices) == 2:
        tuplets = bool(voices[1].tuplets)
    return Below(stems, tuplets, max(fingers.values(), default=0))


def _degree_reach(
    notes: Notes, degrees: Degrees, index: int, scheme: Scheme, reaches: dict[int, _Reach]
) -> int:
    """Adds the reaches of a staff's degrees; how many stand over one another at most."""
    struck: dict[int, set[str]] = {}
    for note, degree in zip(notes, degrees, strict=True):
        struck.setdefault(note.onset, set()).add(degree)
    for onset, names in struck.items():
        half = max(_half(scheme, name, scheme.style.small) for name in names)
        _add(reaches[onset], (index, _DEGREES), half, half)
    return max(map(len, struck.values()), default=0)


def _rhythm_reach(
    voices: tuple[Rhythm, ...], index: int, scheme: Scheme, reaches: dict[int, _Reach]
) -> tuple[bool, bool]:
    tuplets = stems = False
    for rhythm in voices:
        if rhythm.silent:
            continue
        stems = True
        tuplets = tuplets or bool(rhythm.tuplets)
        beamed = {at for run in rhythm.beams for at in run}
        for at, symbol in enumerate(rhythm.symbols):
            reach = reaches.setdefault(symbol.onset, {})
            # Rests stand on the staff, in the way of numbers and of what bends up from them.
            lane = (index, _FRAME if symbol.rest else _BELOW - 10 * rhythm.voice)
            _add(reach, lane, *_symbol_reach(symbol, at in beamed, scheme.style.space))
    return tuplets, stems


def _symbol_reach(symbol: Symbol, beamed: bool, space: float) -> tuple[float, float]:
    dots = 0.75 * space * symbol.dots
    if symbol.rest:
        return 0.7 * space, 0.7 * space + dots
    flag = FLAG * space if FLAGS[symbol.value] and not beamed else 0.0
    return 0.2 * space, flag + 0.3 * space + dots


def _add(reach: _Reach, lane: tuple[int, int], left: float, right: float) -> None:
    known = reach.get(lane)
    if known is not None:
        left, right = max(left, known[0]), max(right, known[1])
    reach[lane] = (left, right)


def _half(scheme: Scheme, text: str, size: float) -> float:
    return scheme.measurer.width(text, Face.REGULAR, size) / 2


@lru_cache(maxsize=32768)
def _number_reach(fret: int, marks: tuple[Mark, ...], scheme: Scheme) -> tuple[float, float]:
    style, sign = scheme.style, signs(fret, marks)
    half = scheme.measurer.width(number(fret, marks), Face.SEMIBOLD, style.digits) / 2
    left = half + (SLIDE * style.scale if sign.slide_in else 0.0)
    if sign.slide or sign.slur or sign.tie:
        left += (_SLID if sign.slide else _JOINED) * style.scale
    right = half + (SLIDE * style.scale if sign.slide_out else 0.0)
    if sign.bend is not None:
        moves = bend_width_steps(len(bend_moves(sign.bend)), prebent(sign.bend))
        right += moves * BEND_STEP * style.scale
    return left, right


def bend_width_steps(moves: int, pre: bool) -> int:
    """How many steps to the right a bend with so many moves takes; at most six are drawn."""
    return max(1, min(moves, 6) - (1 if pre and moves > 1 else 0))
