"""Text tab read as a lesson: whatever can be read is music, the rest is said and kept as words."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from chalkfret.files.text_tab.bars import RawBar, bars_of, words_at_the_end
from chalkfret.files.text_tab.building import Building, PartRead, SectionRead
from chalkfret.files.text_tab.carried import plain_text
from chalkfret.files.text_tab.guess import lowest_on_top, said_tuning
from chalkfret.files.text_tab.heads import INDENT, TITLES, Fields, read_capo, read_setup
from chalkfret.files.text_tab.lines import Line, lines_of
from chalkfret.files.text_tab.staves import Staff, blocks_of
from chalkfret.files.text_tab.words_read import bars_of_rest, heading, own_heading, take_fields
from chalkfret.model import Capo, Fault, Lesson, Retune, fault
from chalkfret.model.limits import NAME_MAX, PARTS_MAX, SECTIONS_MAX

_FAULTS_MAX: Final = 200
_SENSE_MAX: Final = 600  # characters; a longer line of words is neither a heading nor a field


class Reading(Struct, frozen=True):
    """What was read. ``lesson`` is None where the text holds no tab at all.

    ``named`` says whether the strings' pitches are known and not only their number.
    """

    lesson: Lesson | None
    faults: tuple[Fault, ...] = ()
    named: bool = False


def read_text(text: str) -> Reading:
    """The lesson in a text. Never raises, whatever the text is."""
    sound = text.encode("utf-8", "replace").decode("utf-8")
    return _Reader().read(lines_of(sound))


class _Reader:
    """Goes through a text once, from top to bottom."""

    def __init__(self) -> None:
        self.head: dict[str, str] = {}
        self.parts: list[PartRead] = []
        self.sections = [SectionRead()]
        self.faults: list[Fault] = []
        self.part: int | None = None  # the part that words have chosen
        self.said: tuple[str, ...] | None = None
        self.capo: Capo | None = None
        self.block = ""  # of lines set in: "notes", "signs"
        self.last_words = -2

    @property
    def section(self) -> SectionRead:
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
        built = Building(self.head, self.parts, self.sections, self.said, self.capo, self.faults)
        lesson = built.lesson()
        named = any(part.setup is not None or part.is_named for part in self.parts)
        if built.guessed:
            self.faults.append(fault("tab_lengths_from_spacing", bars=built.guessed))
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
                self.parts.append(PartRead(name))
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
            self.sections.append(SectionRead(fields=Fields() if own else kept))
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
        self.parts.append(PartRead(wished, label=label.lower()))
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


def _continued(one: RawBar, two: RawBar) -> RawBar:
    """A bar with what the next line adds to it."""
    return RawBar(
        one.line, [*one.pieces, *two.pieces], one.opens, max(one.closes, two.closes), one.passes,
        one.meter, one.is_pickup, two.goes_on, one.went_on,
    )  # fmt: skip


def _one_line(text: str, most: int) -> str:
    """A text that may stand as a name: no controls, not too long."""
    return "".join(" " if plain_text(f"x{c}x") != f"x{c}x" else c for c in text[:most])
