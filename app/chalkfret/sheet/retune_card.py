"""The retune card: the turns from one tuning to another as a table, with cautions beneath.

It stands on pages of its own (``cards_sheet`` in ``layout``) and before the music where a section
retunes.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import Final

from chalkfret.model import Lesson, NoteNaming, Section, setup_in
from chalkfret.sheet.display import Block, Face, Ink
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.sheet.prose import Paragraph, Span, plain, set_text
from chalkfret.sheet.style import Style
from chalkfret.strings.turning import RetuneCard, Turn, may_retune, retune_card
from chalkfret.words import retuning
from chalkfret.words.strings import setup_tuning_words
from chalkfret.words.text import _

# Where each column begins, as a share of the width: order, string and turn, reference, pull.
_TURN, _EAR, _PULL = 0.035, 0.36, 0.78
_GAP: Final = 2.5  # mm between columns


def retunings(
    lesson: Lesson, sections: tuple[Section, ...], parts: tuple[int, ...]
) -> tuple[tuple[str, RetuneCard], ...]:
    """The cards between sections that follow one another and are tuned otherwise, with titles."""
    found: list[tuple[str, RetuneCard]] = []
    for index in parts:
        part = lesson.parts[index]
        for before, after in pairwise(sections):
            start, target = setup_in(before, part), setup_in(after, part)
            if start is not target and start != target and may_retune(start, target):
                card = retune_card(start, target)
                if card.turns:
                    title = _("{part}, before section {letter}").format(
                        part=part.name, letter=after.head.letter
                    )
                    found.append((title, card))
    return tuple(found)


@lru_cache(maxsize=256)
def card_block(
    title: str,
    card: RetuneCard,
    naming: NoteNaming,
    with_cautions: bool,
    style: Style,
    measurer: Measurer,
) -> Block:
    """A card as wide as the type area."""
    pen = Pen(measurer)
    width, size = style.text_width, style.note
    y = _words(pen, title, 0.0, style.body, Face.SEMIBOLD, width, tag="players")
    way = _("from {start} to {target}").format(
        start=setup_tuning_words(card.start, naming), target=setup_tuning_words(card.target, naming)
    )
    y = _words(pen, way, y, style.body, Face.REGULAR, width, tag="tuning")
    if card.turns:
        y = _words(pen, retuning.how_to(), y, size, Face.REGULAR, width, Ink.SOFT)
        y = _table(pen, card, naming, y + 1.0 * style.words, style)
    more = (retuning.left_words, retuning.total_words, retuning.other_strings_words)
    for line in filter(None, (words(card) for words in more)):
        y = _words(pen, line, y + 0.7 * style.words, size, Face.REGULAR, width, Ink.SOFT)
    if with_cautions and card.turns:
        text = tuple(
            Paragraph((Span(sentence),), level=1, bullet="•", close=True)
            for sentence in retuning.card_cautions(card)
        )
        setting = set_text(text, width, size, measurer, Ink.INK, "caution", 1.3)
        pen.text(setting, 0.0, y + 1.6 * style.words)
        y += 1.6 * style.words + setting.height
    return pen.block(width, y)


def _words(
    pen: Pen, text: str, y: float, size: float, face: Face, width: float,
    ink: Ink = Ink.INK, tag: str = "retune",
) -> float:  # fmt: skip
    setting = set_text(plain(text, face), width, size, pen.measurer, ink, tag)
    pen.text(setting, 0.0, y)
    return y + setting.height


def _table(pen: Pen, card: RetuneCard, naming: NoteNaming, y: float, style: Style) -> float:
    width = style.text_width
    pen.rule(0.0, y, width, 0.25, Ink.INK)
    for number, turn in enumerate(card.turns, start=1):
        low = y
        pad = 0.35 * style.note
        cells = (str(number), *_cells(turn, naming))
        lefts = (0.0, _TURN * width, _EAR * width, _PULL * width)
        ends = (*lefts[1:], width + _GAP)
        for text, left, end in zip(cells, lefts, ends, strict=True):
            face = Face.SEMIBOLD if left == lefts[1] else Face.REGULAR
            room = end - left - _GAP
            setting = set_text(plain(text, face), room, style.note, pen.measurer, tag="retune")
            pen.text(setting, left, y + pad)
            low = max(low, y + 2 * pad + setting.height)
        y = low
        pen.rule(0.0, y, width, 0.1)
    return y


def _cells(turn: Turn, naming: NoteNaming) -> tuple[str, str, str]:
    pulls = "\n".join(map(retuning.pull_words, turn.strings))
    return (
        retuning.course_words(turn, naming),
        retuning.reference_words(turn.reference),
        pulls,
    )
