"""Text tab read as a lesson: whatever can be read is music, the rest is said and kept as words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from msgspec import Struct, field
from msgspec.structs import replace

from chalkfret.files.text_tab.bars import RawBar, bars_of, words_at_the_end
from chalkfret.files.text_tab.carried import plain_setup_of, plain_text
from chalkfret.files.text_tab.guess import lowest_on_top, said_tuning, tuning_of
from chalkfret.files.text_tab.heads import INDENT, TITLES, Fields, read_capo, read_setup
from chalkfret.files.text_tab.lines import Line, lines_of
from chalkfret.files.text_tab.notes_read import notes_of
from chalkfret.files.text_tab.staves import Staff, blocks_of
from chalkfret.files.text_tab.timing import Timed, by_lengths, by_spacing
from chalkfret.files.text_tab.words_read import bars_of_rest, heading, own_heading, take_fields
from chalkfret.model import (
    Bar,
    BarHead,
    Bars,
    Capo,
    Fault,
    Lesson,
    LessonHead,
    Note,
    Notes,
    Part,
    Retune,
    Section,
    SectionHead,
    Setup,
    fault,
)
from chalkfret.model.limits import NAME_MAX, PARTS_MAX, SECTIONS_MAX, TEXT_MAX
from chalkfret.model.repeats import too_long_played

_FAULTS_MAX: Final = 200
_SENSE_MAX: Final = 600  # characters; a longer line of words is neither a heading nor a field


class Reading(Struct, frozen=True):
    """What was read. ``lesson`` is None where the text holds no tab at all.

    ``named`` says whether the strings' pitches are known and not only their number.
    """

    lesson: Lesson | None
    faults: tuple[Fault, ...] = ()
    named: bool = False


class _Part(Struct):
    name: str
    courses: int = 0  # 0: not seen yet
    setup: Setup | None = None
    names: list[str] = field(default_factory=list)  # low to high
    label: str = ""

    @property
    def is_named(self) -> bool:
        """Whether its strings are named by their notes and not by numbers."""
        return bool(self.names) and not any(name.isdigit() for name in self.names)


class _Section(Struct):
    letter: str = ""
    name: str = ""
    fields: Fields = field(default_factory=Fields)
    words: list[str] = field(default_factory=list)
    rows: dict[int, list[RawBar]] = field(default_factory=dict)


def read_text(text: str) -> Reading:
    """The lesson in a text. Never raises, whatever the text is."""
    sound = text.encode("utf-8", "replace").decode("utf-8")
    return _Reader().read(lines_of(sound))


class _Reader:
    """Goes through a text once, from top to bottom."""

    def __init__(self) -> None:
        self.head: dict[str, str] = {}
        self.parts: list[_Part] = []
        self.sections = [_Section()]
        self.faults: list[Fault] = []
        self.part: int | None = None  # the part that words have chosen
        self.said: tuple[str, ...] | None = None
        self.capo: Capo | None = None
        self.guessed = 0
        self.block = ""  # of lines set in: "notes", "signs"
        self.last_words = -2

    @property
    def section(self) -> _Section:
        """The section being read."""
        return self.sections[-1]

    def read(self, lines: list[Line]) -> Reading:
        """The whole text."""
        blocks = blocks_of(lines)
        for block in blocks:
            if isinstance(block, Staff):
                self.block = ""
                self._staff(block)
            else:
                self._line(block, lines)
        if not any(section.rows for section in self.sections):
            return Reading(None, (fault("tab_nothing"), *self.faults[:_FAULTS_MAX]))
        lesson = self._lesson()
        named = any(part.setup is not None or part.is_named for part in self.parts)
        if self.guessed:
            self.faults.append(fault("tab_lengths_from_spacing", bars=self.guessed))
        if not (named or self.said):
            self.faults.append(fault("tab_strings_unnamed", strings=self.parts[0].courses))
        return Reading(lesson, tuple(self.faults[:_FAULTS_MAX]), named or self.said is not None)

    # Words

    def _line(self, line: Line, lines: list[Line]) -> None:
        raw = line.raw
        if self.block and (raw.startswith(INDENT) or not raw.strip()):
            if self.block == "notes":
                self.section.words.append(raw.removeprefix(INDENT).rstrip())
            return
        self.block = ""
        if not raw.strip():
            return
        if raw in ("Notes:", "Signs:"):
            self.block = raw[:-1].lower()
            return
        follows = lines[line.number].raw if line.number < len(lines) else ""
        if len(raw) > _SENSE_MAX:
            self._words(line.number, raw.strip())
            return
        if self._label(raw) or self._section_line(raw, follows) or self._setup_line(raw):
            return
        if take_fields(raw, self.section.fields):
            return
        if rests := bars_of_rest(raw):
            row = self.section.rows.setdefault(self._part_for(0, ""), [])
            row += [RawBar(line.number, []) for _ in range(rests)]
            return
        self._words(line.number, raw.strip())

    def _words(self, line: int, text: str) -> None:
        """Keep words that say nothing to us; one fault for lines that follow each other."""
        self.section.words.append(text)
        if line != self.last_words + 1:
            self.faults.append(fault("tab_words_kept", line=line, text=_one_line(text, 40)))
        self.last_words = line

    def _label(self, raw: str) -> bool:
        label, colon, text = raw.partition(": ")
        if not colon:
            return False
        if label in TITLES and TITLES[label] not in self.head:
            self.head[TITLES[label]] = _one_line(text, NAME_MAX * 4)
            return True
        if label == "Part" and text:
            name = _one_line(text, NAME_MAX)
            known = next((i for i, part in enumerate(self.parts) if part.name == name), None)
            if known is None:
                if len(self.parts) >= PARTS_MAX:
                    return False
                known = len(self.parts)
                self.parts.append(_Part(name))
            self.part = known
            return True
        if label == "Retuned":
            return self._retuned(text)
        return False

    def _retuned(self, text: str) -> bool:
        setup_text, colon, name = text.partition(": ")
        setup = read_setup(setup_text)
        part = next((i for i, part in enumerate(self.parts) if part.name == name), None)
        if not colon or setup is None or part is None:
            return False
        own = self.parts[part].setup
        ids = {retune.part for retune in self.section.fields.retunes}
        if own is None or len(own.courses) != len(setup.courses) or f"p{part + 1}" in ids:
            return False
        self.section.fields.retunes += (Retune(f"p{part + 1}", setup),)
        return True

    def _section_line(self, raw: str, follows: str) -> bool:
        letter, times = "", 1
        own = own_heading(raw, follows)
        if own is not None:
            letter, name = own
        elif (found := heading(raw)) is not None:
            name, times = found
        else:
            return False
        before = self.section
        if before.rows or before.letter or before.name:
            if len(self.sections) >= SECTIONS_MAX:
                return False
            kept = Fields(tempo=before.fields.tempo, meter=before.fields.meter,
                          grouping=before.fields.grouping, key=before.fields.key)  # fmt: skip
            self.sections.append(_Section(fields=Fields() if own else kept))
        self.section.letter, self.section.name = letter, _one_line(name, NAME_MAX * 4)
        self.section.fields.times = times
        return True

    def _setup_line(self, raw: str) -> bool:
        """A tuning or capo that a line speaks of; a long line is kept as words all the same."""
        plain = raw.strip()
        if plain.startswith("Tuning: ") and self.part is not None:
            setup = read_setup(plain.removeprefix("Tuning: "))
            part = self.parts[self.part]
            if setup is not None and part.setup is None and not part.courses:
                part.setup, part.courses = setup, len(setup.courses)
                return True
        said, capo = said_tuning(plain), read_capo(plain)
        self.said = said or self.said
        if capo is not None and not capo.courses:
            self.capo = capo
        return (said is not None or capo is not None) and len(plain) <= 48

    # Staves

    def _part_for(self, courses: int, label: str) -> int:
        """The part of a staff: the one that words name, else the first with as many strings."""
        fits = [
            index for index, part in enumerate(self.parts)
            if part.courses in (0, courses) or not courses
        ]  # fmt: skip
        if label:
            known = [index for index in fits if self.parts[index].label == label.lower()]
            free = [
                index
                for index in fits
                if not (self.parts[index].label or self.parts[index].courses)
            ]
            if known or free:
                chosen = (known or free)[0]
                self.parts[chosen].label = label.lower()
                return chosen
        elif self.part is not None and self.part in fits:
            return self.part
        elif fits:
            return fits[0]
        if len(self.parts) >= PARTS_MAX:
            return fits[0] if fits else -1
        names = {part.name for part in self.parts}
        wished = _one_line(label, NAME_MAX) or "Guitar 1"
        number = 1
        while wished in names:
            number += 1
            wished = f"{label or 'Guitar'} {number}"
        self.parts.append(_Part(wished, label=label.lower()))
        return len(self.parts) - 1

    def _staff(self, staff: Staff) -> None:
        names = [line.name for line in staff.strings]
        index = self._part_for(len(names), staff.label)
        if index < 0:
            self.faults.append(
                fault("tab_too_many_parts", line=staff.strings[0].number, most=PARTS_MAX)
            )
            return
        part = self.parts[index]
        part.courses = part.courses or len(names)
        turned = part.setup is None and all(names) and lowest_on_top(names)
        if turned:
            self.faults.append(fault("tab_lowest_on_top", line=staff.strings[0].number))
        if all(names) and not part.names:
            part.names = names if turned else names[::-1]
        known = len(self.faults)
        bars = bars_of(staff, self.faults)
        unread = {dict(one.figures)["line"] for one in self.faults[known:]
                  if one.code == "tab_sign_unread"}  # fmt: skip
        self.section.words += [s.raw.strip() for s in staff.strings if s.number in unread]
        for number, text in words_at_the_end(staff):
            self._words(number, text)
        if turned:
            for bar in bars:
                for piece in bar.pieces:
                    piece.cells.reverse()
                    piece.strings.reverse()
        row = self.section.rows.setdefault(index, [])
        for bar in bars:
            if bar.went_on and row and row[-1].goes_on:
                row[-1] = _continued(row[-1], bar)
            else:
                row.append(bar)

    # The lesson

    def _lesson(self) -> Lesson:
        sections: list[Section] = []
        waiting: list[str] = []
        letters = {section.letter for section in self.sections}
        for read in self.sections:
            if not read.rows:
                waiting += [*([read.name] if read.name else []), *read.words]
                continue
            used = {section.head.letter for section in sections}
            letter = read.letter
            if not letter or letter in used:
                letter = _free(letters | used, len(sections))
            sections.append(self._section(read, letter, waiting, f"s{len(sections) + 1}"))
            waiting = []
        if waiting:
            last = sections[-1]
            notes = self._notes([last.head.notes, *waiting])
            sections[-1] = replace(last, head=replace(last.head, notes=notes))
        parts = tuple(
            Part(f"p{number}", part.name, self._setup(part))
            for number, part in enumerate(self.parts, 1)
        )
        lesson = Lesson(replace(LessonHead(), **self.head), parts, tuple(sections))
        if next(too_long_played(lesson), None) is not None:
            self.faults.append(fault("tab_repeats_too_many"))
            lesson = replace(lesson, sections=tuple(map(_once, sections)))
        return lesson

    def _setup(self, part: _Part) -> Setup:
        if part.setup is not None:
            return part.setup
        names = part.names or [""] * (part.courses or 6)
        part.courses = len(names)
        return plain_setup_of(tuple((pitch,) for pitch in tuning_of(names, self.said)), self.capo)

    def _notes(self, words: Iterable[str]) -> str:
        text = plain_text("\n".join(words))
        if len(text) > TEXT_MAX:
            self.faults.append(fault("tab_words_cut", most=TEXT_MAX))
        return plain_text(text[:TEXT_MAX])

    def _section(self, read: _Section, letter: str, waiting: list[str], id_: str) -> Section:
        fields = read.fields
        meter, grouping = fields.meter, fields.grouping
        count = max(map(len, read.rows.values()))
        bars: list[Bar] = []
        before: dict[int, dict[int, Note]] = {}
        for number in range(count):
            raws = {part: row[number] for part, row in read.rows.items() if number < len(row)}
            for raw in raws.values():
                meter, grouping = raw.meter or (meter, grouping)
            head = BarHead(
                meter=meter,
                grouping=grouping,
                repeat_open=any(raw.opens for raw in raws.values()),
                repeat_close=max(raw.closes for raw in raws.values()),
                passes=next((raw.passes for raw in raws.values() if raw.passes), ()),
            )
            timed = {part: self._timed(raw, head, number) for part, raw in raws.items()}
            if any(raw.is_pickup for raw in raws.values()):
                ticks = max((one.ticks for one in timed.values()), default=head.ticks)
                head = replace(head, pickup=ticks if 0 < ticks < head.ticks else None)
            rows: list[Notes] = []
            for part in range(len(self.parts)):
                notes = notes_of(timed.get(part), raws.get(part), before.setdefault(part, {}))
                before[part] = {n.course: n for n in notes if n.end == head.ticks}
                rows.append(notes)
            bars.append(Bar(head, tuple(rows)))
        head_of = SectionHead(
            letter=letter,
            name=read.name,
            tempo=fields.tempo,
            swing=fields.swing,
            key=fields.key,
            times=fields.times,
            pause_s=fields.pause_s,
            difficulty=fields.difficulty,
            notes=self._notes([*waiting, *read.words]),
            retunes=fields.retunes,
        )
        return Section(id_, head_of, Bars.of(bars))

    def _timed(self, raw: RawBar, head: BarHead, number: int) -> Timed:
        if not raw.pieces:
            return Timed([], head.ticks, [], [])
        timed = by_lengths(raw, head.ticks)
        if timed is not None:
            return timed
        if any(piece.lengths for piece in raw.pieces):
            self.faults.append(fault("tab_lengths_unfit", line=raw.line, bar=number + 1))
        found = by_spacing(raw, head)
        self.guessed += bool(found.cells)
        return found


def _continued(one: RawBar, two: RawBar) -> RawBar:
    """A bar with what the next line adds to it."""
    return RawBar(
        one.line, [*one.pieces, *two.pieces], one.opens, max(one.closes, two.closes), one.passes,
        one.meter, one.is_pickup, two.goes_on, one.went_on,
    )  # fmt: skip


def _once(section: Section) -> Section:
    """The section without repeats."""
    bars = [
        replace(bar, head=replace(bar.head, repeat_open=False, repeat_close=0, passes=()))
        for bar in section.bars
    ]
    return replace(section, head=replace(section.head, times=1), bars=Bars.of(bars))


def _free(taken: set[str], number: int) -> str:
    """The letter of a section that has none: A, B ... Z, A2 ..."""
    at = number
    while True:
        letter = chr(ord("A") + at % 26) + (str(at // 26 + 1) if at >= 26 else "")
        if letter not in taken:
            return letter
        at += 1


def _one_line(text: str, most: int) -> str:
    """A text that may stand as a name: no controls, not too long."""
    return "".join(" " if plain_text(f"x{c}x") != f"x{c}x" else c for c in text[:most])
