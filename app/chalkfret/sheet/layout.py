"""The whole sheet: a lesson laid out on pages that are drawn when they are asked for.

::

    made = sheet(lesson, SheetRequest(), measurer)
    made.page_count, made.page(1)           # pages are numbered from 1
    made.sections[0].page, made.sections[0].y
    made.page_of(section_id, bar)           # where an edit shows
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model import Lesson, LessonHead, Section, SheetOptions, setup_in
from chalkfret.sheet.banner import banner, heading_of
from chalkfret.sheet.display import Block, Page, Placed
from chalkfret.sheet.first_page import (
    heading_line,
    setup_rows,
    setups_of,
    title_block,
    tone_block,
)
from chalkfret.sheet.foot import foot_block, foot_height
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pages import Laid, Piece, fill
from chalkfret.sheet.retune_card import card_block, retunings
from chalkfret.sheet.scheme import Scheme, Staff
from chalkfret.sheet.section_map import stop_block, stops_of, strip_block
from chalkfret.sheet.signs_key import key_block, signs_used
from chalkfret.sheet.split import split
from chalkfret.sheet.style import Style, style_of
from chalkfret.sheet.system import SectionPlan, section_plan, system_block
from chalkfret.strings.turning import RetuneCard
from chalkfret.words.text import _


class SheetRequest(Struct, frozen=True, kw_only=True):
    """What of a lesson is printed, and how; empty tuples stand for all.

    ``options`` None takes the lesson's own paper and print.
    """

    sections: tuple[str, ...] = ()  # ids
    parts: tuple[str, ...] = ()  # ids
    options: SheetOptions | None = None


class SectionPlace(Struct, frozen=True):
    """Where a section's banner stands: its page from 1, and mm from the page's top.

    ``last_page`` is the page of its last system.
    """

    id: str
    letter: str
    name: str
    page: int
    y: float
    last_page: int


class _Run(Struct, frozen=True):
    """A section's systems: the index of the first one's piece, and the first bar of each."""

    first: int
    starts: tuple[int, ...]
    bars: int


class Sheet:
    """A lesson on paper. Pages are drawn on demand and kept."""

    def __init__(
        self,
        lesson: Lesson,
        style: Style,
        measurer: Measurer,
        pieces: tuple[Piece, ...],
        banners: tuple[tuple[Section, int], ...],
        runs: dict[str, _Run],
    ) -> None:
        self._head, self._style, self._measurer = lesson.head, style, measurer
        self._pieces, self._runs = pieces, runs
        self._foot = foot_height(lesson.head, style, measurer)
        self._laid: tuple[Laid, ...] = fill(pieces, room_on_page(lesson.head, style, measurer))
        self._pages: dict[int, Page] = {}
        self.page_count = self._laid[-1].page + 1
        self.sections = tuple(
            SectionPlace(
                section.id,
                section.head.letter,
                section.head.name,
                self._laid[index].page + 1,
                style.top + self._laid[index].y,
                self._laid[self._last_piece(section.id, index)].page + 1,
            )
            for section, index in banners
        )

    def _last_piece(self, section: str, banner: int) -> int:
        """The piece of a section's last system; of a section without any its banner's."""
        run = self._runs.get(section)
        return banner if run is None else run.first + len(run.starts) - 1

    @property
    def page_size(self) -> tuple[float, float]:
        """Width and height of the paper in mm."""
        return self._style.page_width, self._style.page_height

    @property
    def section_pages(self) -> dict[str, int]:
        """The page, from 1, on which each section begins, by the section's id."""
        return {place.id: place.page for place in self.sections}

    def page(self, number: int) -> Page:
        """A page by its number, 1 to ``page_count``."""
        if not 1 <= number <= self.page_count:
            raise IndexError(number)
        known = self._pages.get(number)
        if known is None:
            known = self._pages[number] = self._draw(number)
        return known

    def page_of(self, section: str, bar: int) -> int:
        """The page, from 1, with a bar (from 0) of a section; LookupError where it is not shown."""
        run = self._runs.get(section)
        if run is None or not 0 <= bar < run.bars:
            raise LookupError(section, bar)
        return self._laid[run.first + bisect_right(run.starts, bar) - 1].page + 1

    def _draw(self, number: int) -> Page:
        style = self._style
        placed = [
            Placed(style.margin, style.top + laid.y, piece.draw())
            for laid, piece in zip(self._laid, self._pieces, strict=True)
            if laid.page == number - 1
        ]
        foot = foot_block(self._head, number, self.page_count, style, self._measurer)
        foot_y = style.page_height - style.foot_margin - self._foot
        placed.append(Placed(style.margin, foot_y, foot))
        return Page(number, style.page_width, style.page_height, tuple(placed))


def sheet(lesson: Lesson, request: SheetRequest, measurer: Measurer) -> Sheet:
    """Lay a lesson out. Cheap for what was laid out before: all parts of it are cached by value."""
    style = style_of(request.options or lesson.head.sheet)
    sections = tuple(s for s in lesson.sections if not request.sections or s.id in request.sections)
    parts = tuple(
        index
        for index, part in enumerate(lesson.parts)
        if not request.parts or part.id in request.parts
    )
    if not sections or not parts:
        raise LookupError(request)
    room = room_on_page(lesson.head, style, measurer)
    pieces = _before_music(lesson, sections, parts, style, measurer, room)
    banners: list[tuple[Section, int]] = []
    runs: dict[str, _Run] = {}
    used = signs_used(sections, parts)
    key = key_block(used, style, measurer) if used else None
    key_gap = 5.0 * style.words
    for section in sections:
        heading = banner(heading_of(lesson, section, parts, style, measurer))
        banners.append((section, len(pieces)))
        gap = 6.5 * style.words
        for block in split(heading, room):
            pieces.append(
                Piece(block.height, gap, partial(_same, block), keep=True, stretches=True)
            )
            gap = 0.0
        scheme = scheme_of(lesson, section, parts, style, measurer)
        final = section is sections[-1]
        below = key.height + key_gap if key is not None and final else 0.0
        plan = _fitting_plan(section, scheme, final, room - below)
        if below and len(plan.systems) == 1:
            # Banner, system and key stay on one page where banner and system alone would.
            above = heading.height + next(_system_pieces(plan)).gap
            if room - below < above + plan.heights[0] <= room:
                plan = _fitting_plan(section, scheme, final, room - below - above)
        starts = tuple([system.start for system in plan.systems])
        runs[section.id] = _Run(len(pieces), starts, len(section.bars))
        pieces.extend(_system_pieces(plan))
    if key is not None:
        # Never alone on a page: the last section left room for it below any of its systems.
        pieces[-1] = replace(pieces[-1], keep=True)
        pieces.append(Piece(key.height, key_gap, partial(_same, key)))
    return Sheet(lesson, style, measurer, tuple(pieces), tuple(banners), runs)


def cards_sheet(
    lesson: Lesson, cards: tuple[tuple[str, RetuneCard], ...], measurer: Measurer
) -> Sheet:
    """Retune cards on pages of their own, under the lesson's title; at least one card."""
    style, head = style_of(lesson.head.sheet), lesson.head
    room = room_on_page(head, style, measurer)
    blocks = [title_block(head, style, measurer)]
    blocks += (card_block(name, card, head.note_naming, True, style, measurer)
               for name, card in cards)  # fmt: skip
    pieces = tuple(
        Piece(part.height, 6.5 * style.words if part is cut[0] else 0.0, partial(_same, part))
        for cut in (split(block, room) for block in blocks)
        for part in cut
    )
    return Sheet(lesson, style, measurer, pieces, (), {})


def room_on_page(head: LessonHead, style: Style, measurer: Measurer) -> float:
    """Height of the type area above the foot, in mm."""
    foot = foot_height(head, style, measurer)
    return style.page_height - style.top - style.foot_margin - foot - 3.0


def _fitting_plan(section: Section, scheme: Scheme, final: bool, room: float) -> SectionPlan:
    """The section's systems, in smaller print where one would be higher than a page."""
    plan = section_plan(section, scheme, final)
    tallest = max(plan.heights)
    shrink = 1.0
    while tallest > room:
        shrink *= 0.99 * room / tallest
        scheme = replace(scheme, style=style_of(scheme.style.options, shrink))
        plan = section_plan(section, scheme, final)
        tallest = max(plan.heights)
    return plan


def _system_pieces(plan: SectionPlan) -> Iterator[Piece]:
    fresh = False
    scale = plan.systems[0].scheme.style.scale
    for system, height in zip(plan.systems, plan.heights, strict=True):
        first = system.start == 0
        gap = (2.0 if first else 3.6) * scale
        draw = partial(system_block, system)
        yield Piece(height, gap, draw, fresh=fresh, stretches=not first)
        fresh = system.bars[-1].head.break_after == "page"


def scheme_of(
    lesson: Lesson, section: Section, parts: tuple[int, ...], style: Style, measurer: Measurer
) -> Scheme:
    """How a section's systems are set."""
    return Scheme(
        style=style,
        measurer=measurer,
        staves=tuple(
            Staff(index, part.id, part.name, setup_in(section, part))
            for index, part in ((index, lesson.parts[index]) for index in parts)
        ),
        naming=lesson.head.note_naming,
        degrees=section.head.key if section.head.show.degrees else None,
    )


def _same(block: Block) -> Block:
    return block


def _before_music(
    lesson: Lesson,
    sections: tuple[Section, ...],
    parts: tuple[int, ...],
    style: Style,
    measurer: Measurer,
    room: float,
) -> list[Piece]:
    """The first page: title, setups with cautions, tone notes, map of the sections."""
    head, words = lesson.head, style.words
    pieces: list[Piece] = []

    def add(block: Block, gap: float, keep: bool = False) -> None:
        for part in split(block, room):
            pieces.append(Piece(part.height, gap * words, partial(_same, part), keep=keep))
            gap = 0.0

    add(title_block(head, style, measurer), 0.0)
    whos = setups_of(lesson, sections, parts)
    add(heading_line(_("Setup"), style, measurer), 4.5, keep=True)
    for index, row in enumerate(setup_rows(whos, head, style, measurer)):
        add(row, 0.8 if index == 0 else 4.0)
    for index, (title, card) in enumerate(retunings(lesson, sections, parts)):
        if index == 0:
            add(heading_line(_("Retuning"), style, measurer), 4.5, keep=True)
        block = card_block(title, card, head.note_naming, False, style, measurer)
        add(block, 0.8 if index == 0 else 4.0)
    toned = [lesson.parts[index] for index in parts if lesson.parts[index].tone.strip()]
    if toned:
        add(heading_line(_("Tone"), style, measurer), 4.5, keep=True)
        for index, part in enumerate(toned):
            add(tone_block(part, len(lesson.parts) > 1, style, measurer), 0.8 if not index else 1.4)
    stops = stops_of(sections)
    add(heading_line(_("Sections"), style, measurer), 4.5, keep=True)
    strip = strip_block(stops, style, measurer)
    if strip is not None:
        add(strip, 0.8, keep=True)
    for index, stop in enumerate(stops):
        add(stop_block(stop, head.note_naming, style, measurer), 1.6 if index == 0 else 0.0)
    return pieces
