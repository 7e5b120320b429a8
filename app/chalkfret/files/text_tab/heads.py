"""The lines of words in a text tab: title, parts and their tunings, sections with their heads.

Conventions
-----------
- A label ends with a colon and stands at the beginning of its line: ``Title: Slow river``.
- A section begins with ``[A] Name`` and, in what we write, a line of its fields with ``; ``
  between them: ``Tempo: quarter = 96; Meter: 4/4; Key: E minor``. Notes follow under ``Notes:``,
  each line set in by four spaces.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from typing import Final

from msgspec import Struct

from chalkfret.files.text_tab.carried import pitches_of, plain_setup_of
from chalkfret.model import (
    BarHead,
    BeatUnit,
    Capo,
    Key,
    Lesson,
    Meter,
    Mode,
    Part,
    Retune,
    SectionHead,
    Setup,
    Swing,
    SwingUnit,
    Tempo,
    TempoShape,
)
from chalkfret.model.limits import (
    COURSES_MAX,
    COURSES_MIN,
    FRET_MAX,
    METER_COUNT_MAX,
    PAUSE_MAX,
    TEMPO_MAX,
    TEMPO_MIN,
    TIMES_MAX,
)
from chalkfret.model.meter import DENOMINATORS

INDENT: Final = "    "
TITLES: Final = {
    "Title": "title", "Subtitle": "subtitle", "Credit": "credit",
    "Supporters": "supporter_line", "Licence": "licence",
}  # fmt: skip
_SHAPES: Final = {TempoShape.OVER_BEATS: "over the beats", TempoShape.OVER_TIME: "over time"}

# Writing


def lesson_lines(lesson: Lesson) -> Iterator[str]:
    """What stands above the first section."""
    for label, field in TITLES.items():
        if text := getattr(lesson.head, field):
            yield f"{label}: {text}"
    for part in lesson.parts:
        yield ""
        yield f"Part: {part.name}"
        yield f"Tuning: {_setup_text(part.setup)}"


def _setup_text(setup: Setup) -> str:
    text = " ".join("/".join(course) for course in pitches_of(setup)) + " (low to high)"
    if setup.capo is not None:
        text += f", capo {setup.capo.fret}"
        if setup.capo.courses:
            text += " on strings " + " ".join(map(str, setup.capo.courses))
    return text


def section_lines(
    head: SectionHead, first: BarHead, parts: tuple[Part, ...], width: int
) -> Iterator[str]:
    """A section's heading, fields, retunings and notes; what the teacher wrote is not wrapped."""
    yield f"[{head.letter}] {head.name}" if head.name else f"[{head.letter}]"
    fields = [f"Tempo: {_tempo_text(head.tempo)}", f"Meter: {meter_text(first)}"]
    if head.key is not None:
        fields.append(f"Key: {_key_text(head.key)}")
    if head.swing is not None:
        fields.append(f"Swing: {head.swing.unit.value} {_number(head.swing.ratio)}")
    if head.times > 1:
        fields.append(f"Times: {head.times}")
    if head.pause_s:
        fields.append(f"Pause: {_number(head.pause_s)} s")
    if head.difficulty is not None:
        fields.append(f"Difficulty: {head.difficulty}")
    yield from _joined(fields, width)
    names = {part.id: part.name for part in parts}
    for retune in head.retunes:
        if retune.part in names:
            yield f"Retuned: {_setup_text(retune.setup)}: {names[retune.part]}"
    if head.notes:
        yield "Notes:"
        yield from (f"{INDENT}{line}".rstrip() for line in head.notes.split("\n"))


def _joined(fields: list[str], width: int) -> Iterator[str]:
    """Fields put into lines, ``; `` between them."""
    line = fields[0]
    for one in fields[1:]:
        if len(line) + len(one) + 2 > width:
            yield line
            line = one
        else:
            line = f"{line}; {one}"
    yield line


def _number(number: float) -> str:
    return repr(number).removesuffix(".0")


def _tempo_text(tempo: Tempo) -> str:
    text = f"{tempo.unit.value.replace('_', ' ')} = {_number(tempo.start)}"
    if tempo.end is None:
        return text if tempo.shape is TempoShape.OVER_BEATS else f"{text} {_SHAPES[tempo.shape]}"
    return f"{text} to {_number(tempo.end)} {_SHAPES[tempo.shape]}"


def meter_text(head: BarHead) -> str:
    """A meter with its grouping where one is wished for: ``7/8(2+2+3)``."""
    text = f"{head.meter.count}/{head.meter.unit}"
    return f"{text}({'+'.join(map(str, head.grouping))})" if head.grouping else text


def _key_text(key: Key) -> str:
    text = key.tonic if key.mode is None else f"{key.tonic} {key.mode.value.replace('_', ' ')}"
    return f"{text} ({' '.join(key.degrees)})" if key.degrees else text


# Reading

_METER: Final = re.compile(r"(\d{1,2})\s*/\s*(\d{1,2})(?:\s*\((\d{1,2}(?:\s*\+\s*\d{1,2})*)\))?")
_TEMPO_UNIT: Final = "|".join(
    sorted((u.value.replace("_", "[ -]") for u in BeatUnit), key=len, reverse=True)
)
_FIGURE: Final = r"(\d{1,4}(?:\.\d+)?(?:e-?\d+)?)"
_TEMPO: Final = re.compile(
    rf"(?:({_TEMPO_UNIT}|[qQ♩]|1/4)\s*=\s*)?{_FIGURE}"
    rf"(?:\s*(?:to|->|→)\s*{_FIGURE})?(?:\s*(over the beats|over time))?"
)
_SWING: Final = re.compile(rf"(eighth|sixteenth)s?(?:\s+{_FIGURE})?")
_KEY: Final = re.compile(
    r"([A-Ga-g](?:##?|bb?|♯|♭)?)(m(?![a-z]))?(?:[ -]+([a-z][a-z 0-9-]*?))?"
    r"(?:\s*\(((?:(?:bb?|##?)?[1-7] ?)+)\))?",
)
_MODES: Final = {mode.value.replace("_", " "): mode for mode in Mode} | {
    "maj": Mode.MAJOR, "min": Mode.MINOR, "ionian": Mode.MAJOR, "aeolian": Mode.MINOR,
    "natural minor": Mode.MINOR, "dur": Mode.MAJOR, "moll": Mode.MINOR,
}  # fmt: skip
_CAPO: Final = re.compile(
    r"\bcapo\b\D{0,16}?(\d{1,2})(?:\D*?strings((?: \d{1,2})+))?", re.IGNORECASE
)
_PITCH: Final = re.compile(r"[A-G](?:##?|bb?)?[0-8](?:/[A-G](?:##?|bb?)?[0-8]){0,2}")


def read_meter(text: str) -> tuple[Meter, tuple[int, ...]] | None:
    """A meter and its grouping, or None where there is none or none that can be."""
    match = _METER.fullmatch(text.strip())
    if match is None:
        return None
    count, unit = int(match[1]), int(match[2])
    if not 1 <= count <= METER_COUNT_MAX or unit not in DENOMINATORS:
        return None
    groups = tuple(map(int, match[3].split("+"))) if match[3] else ()
    if groups and (sum(groups) != count or min(groups) < 1):
        return None
    return Meter(count, unit), groups


def read_tempo(text: str) -> Tempo | None:
    """``quarter = 96 to 120 over time``, ``q=96``, ``96``."""
    match = _TEMPO.match(text.strip())
    if match is None:
        return None
    unit, start, end, shape = match.groups()
    numbers = [float(one) for one in (start, end) if one is not None]
    if not all(TEMPO_MIN <= one <= TEMPO_MAX for one in numbers):
        return None
    name = (unit or "").lower().replace(" ", "_").replace("-", "_")
    return Tempo(
        numbers[0],
        BeatUnit(name) if name in set(BeatUnit) else BeatUnit.QUARTER,
        None if end is None else numbers[1],
        TempoShape.OVER_TIME if shape == "over time" else TempoShape.OVER_BEATS,
    )


def read_key(text: str) -> Key | None:
    """``E minor``, ``Em``, ``F# phrygian dominant``, ``E (1 b2 3)``."""
    match = _KEY.fullmatch(text.strip())
    if match is None:
        return None
    tonic, small, mode, degrees = match.groups()
    tonic = tonic[0].upper() + tonic[1:].replace("♯", "#").replace("♭", "b")
    found = Mode.MINOR if small else None
    if mode is not None:
        found = _MODES.get(mode.lower().strip())
        if found is None:
            return None
    scale = tuple(degrees.split()) if degrees else ()
    return Key(tonic, found, scale) if len(scale) <= 12 else None


def read_swing(text: str) -> Swing | None:
    """``eighth 2``."""
    match = _SWING.fullmatch(text.strip())
    if match is None:
        return None
    ratio = float(match[2] or 2)
    return Swing(SwingUnit(match[1]), ratio) if 1 <= ratio <= 4 else None


def whole(text: str, least: int, most: int) -> int | None:
    """A whole number within bounds, or None."""
    plain = text.strip()
    if not re.fullmatch(r"\d{1,4}", plain, re.ASCII):
        return None
    return int(plain) if least <= int(plain) <= most else None


def read_capo(text: str) -> Capo | None:
    """``capo 2``, ``capo on the 3rd fret``, ``capo 2 on strings 1 2``."""
    match = _CAPO.search(text)
    if match is None or not 1 <= int(match[1]) <= FRET_MAX:
        return None
    courses = tuple(map(int, (match[2] or "").split()))
    return Capo(int(match[1]), courses) if all(1 <= c <= COURSES_MAX for c in courses) else None


def read_setup(text: str) -> Setup | None:
    """A setup as we write it, ``C2 G2 C3 F3 A3 D4 (low to high), capo 2``; None for another."""
    names, mark, rest = text.partition(" (low to high)")
    words = names.split(" ")
    if not (mark and COURSES_MIN <= len(words) <= COURSES_MAX):
        return None
    if not all(map(_PITCH.fullmatch, words)):
        return None
    capo = read_capo(rest)
    if capo is not None and any(course > len(words) for course in capo.courses):
        return None
    return plain_setup_of(tuple(tuple(word.split("/")) for word in words), capo)


class Fields(Struct):
    """What is known of a section while it is read."""

    tempo: Tempo = Tempo(100.0)
    meter: Meter = Meter(4, 4)
    grouping: tuple[int, ...] = ()
    key: Key | None = None
    swing: Swing | None = None
    times: int = 1
    pause_s: float = 0.0
    difficulty: int | None = None
    retunes: tuple[Retune, ...] = ()

    def take(self, label: str, text: str) -> bool:
        """Take a field by its label; False where it cannot be read."""
        taken: object = None
        match label:
            case "tempo":
                taken = read_tempo(text)
                self.tempo = taken or self.tempo
            case "meter":
                taken = read_meter(text)
                self.meter, self.grouping = taken or (self.meter, self.grouping)
            case "key":
                taken = read_key(text)
                self.key = taken or self.key
            case "swing":
                taken = read_swing(text)
                self.swing = taken or self.swing
            case "times":
                taken = whole(text, 1, TIMES_MAX)
                self.times = taken or self.times
            case "difficulty":
                taken = whole(text, 1, 5)
                self.difficulty = taken or self.difficulty
            case "pause":
                with suppress(ValueError):
                    seconds = float(text.strip().removesuffix("s"))
                    if 0 <= seconds <= PAUSE_MAX:
                        taken, self.pause_s = True, seconds
        return taken is not None
