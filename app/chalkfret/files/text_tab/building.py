"""The lesson built of what was read: bars in time, parts with setups, sections with letters."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct, field
from msgspec.structs import replace

from chalkfret.files.text_tab.bars import RawBar
from chalkfret.files.text_tab.carried import plain_setup_of, plain_text
from chalkfret.files.text_tab.guess import tuning_of
from chalkfret.files.text_tab.heads import Fields
from chalkfret.files.text_tab.notes_read import notes_of
from chalkfret.files.text_tab.timing import Timed, by_lengths, by_spacing
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
    Section,
    SectionHead,
    Setup,
    fault,
)
from chalkfret.model.limits import TEXT_MAX
from chalkfret.model.repeats import too_long_played


class PartRead(Struct):
    """A part as far as its words and staves are known."""

    name: str
    courses: int = 0  # 0: not seen yet
    setup: Setup | None = None
    names: list[str] = field(default_factory=list)  # low to high
    label: str = ""

    @property
    def is_named(self) -> bool:
        """Whether its strings are named by their notes and not by numbers."""
        return bool(self.names) and not any(name.isdigit() for name in self.names)


class SectionRead(Struct):
    """A section's heading, words, and for each part the bars of its staves."""

    letter: str = ""
    name: str = ""
    fields: Fields = field(default_factory=Fields)
    words: list[str] = field(default_factory=list)
    rows: dict[int, list[RawBar]] = field(default_factory=dict)


class Building:
    """Makes the lesson of what a reader found, once."""

    def __init__(
        self,
        head: dict[str, str],
        parts: list[PartRead],
        sections: list[SectionRead],
        said: tuple[str, ...] | None,
        capo: Capo | None,
        faults: list[Fault],
    ) -> None:
        self.head, self.parts, self.sections, self.said, self.capo, self.faults = (
            head, parts, sections, said, capo, faults,
        )  # fmt: skip
        self.guessed = 0  # bars whose lengths come from the spacing

    def lesson(self) -> Lesson:
        """All that was read, as one value; what could not be taken as it was joins the faults."""
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

    def _setup(self, part: PartRead) -> Setup:
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

    def _section(self, read: SectionRead, letter: str, waiting: list[str], id_: str) -> Section:
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
