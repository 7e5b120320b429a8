"""Places as the foot and the undo steps of the mouse name them."""

from __future__ import annotations

from chalkfret.desk.riffs.words import beat_text
from chalkfret.edits.place import Moment, Spot
from chalkfret.model import Lesson


def moment_of(spot: Spot) -> Moment:
    """When the cell begins."""
    return Moment(spot.section, spot.bar, spot.onset)


def where_words(lesson: Lesson, moment: Moment) -> dict[str, str | int]:
    """A moment as the foot names it."""
    bars = lesson.sections[moment.section].bars
    bar, tick = moment.bar, moment.tick
    if bar + 1 < len(bars) and tick >= bars[bar].head.ticks:
        bar, tick = bar + 1, 0
    beat = beat_text(bars[bar].head, tick)
    return {"section": lesson.sections[moment.section].head.letter, "bar": bar + 1, "beat": beat}


def is_end(lesson: Lesson, moment: Moment) -> bool:
    """Whether a moment is the end of its section."""
    bars = lesson.sections[moment.section].bars
    return moment.bar + 1 == len(bars) and moment.tick >= bars[moment.bar].head.ticks
